"""Mean and peak to peak over the last so many samples, without going through them each time."""

from __future__ import annotations

from collections import deque


class Recent:
    """Samples at a steady rate; the window may grow and shrink as the sway period does."""

    def __init__(self) -> None:
        self._values: deque[float] = deque()
        self._sum = 0.0
        self._count = 0
        self._highs: deque[tuple[int, float]] = deque()
        self._lows: deque[tuple[int, float]] = deque()

    def add(self, value: float, window: int) -> None:
        """Take a sample; keep the last `window` of them."""
        self._values.append(value)
        self._sum += value
        self._count += 1
        highs, lows = self._highs, self._lows
        while highs and highs[-1][1] <= value:
            highs.pop()
        highs.append((self._count, value))
        while lows and lows[-1][1] >= value:
            lows.pop()
        lows.append((self._count, value))
        while len(self._values) > window:
            self._sum -= self._values.popleft()
        oldest = self._count - len(self._values)
        while highs[0][0] <= oldest:
            highs.popleft()
        while lows[0][0] <= oldest:
            lows.popleft()

    @property
    def mean(self) -> float:
        """Mean of the samples in the window; 0 before the first."""
        return self._sum / len(self._values) if self._values else 0.0

    @property
    def half_peak_to_peak(self) -> float:
        """Half of highest less lowest in the window."""
        return (self._highs[0][1] - self._lows[0][1]) / 2.0 if self._highs else 0.0

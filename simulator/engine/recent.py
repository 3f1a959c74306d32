"""Mean and peak to peak over the last so many samples, without going through them each time."""

from __future__ import annotations

from typing import Final

SPARE: Final = 4096
"""So many samples that have left the window are kept before room is made."""


class Recent:
    """Samples at a steady rate; the window may grow and shrink as the sway period does."""

    __slots__ = ("_first", "_high", "_high_at", "_high_first", "_low", "_low_at", "_low_first", "_sum", "_values")

    def __init__(self) -> None:
        """Nothing seen yet."""
        self._values: list[float] = []
        self._first: int = 0
        """Place of the window's first sample."""
        self._sum: float = 0.0
        self._high: list[float] = []
        self._high_at: list[int] = []
        """Samples that are higher than all after them, and their places; the same of lower."""
        self._high_first: int = 0
        self._low: list[float] = []
        self._low_at: list[int] = []
        self._low_first: int = 0

    def add(self, value: float, window: int) -> None:
        """Take a sample; keep the last `window` of them."""
        values, first = self._values, self._first
        place = len(values)
        values.append(value)
        total = self._sum + value
        _drop_below(self._high, self._high_at, self._high_first, value, 1.0)
        self._high.append(value)
        self._high_at.append(place)
        _drop_below(self._low, self._low_at, self._low_first, value, -1.0)
        self._low.append(value)
        self._low_at.append(place)
        while place + 1 - first > window:
            total -= values[first]
            first += 1
        self._sum, self._first = total, first
        while self._high_at[self._high_first] < first:
            self._high_first += 1
        while self._low_at[self._low_first] < first:
            self._low_first += 1
        if first > SPARE:
            self._make_room()

    def _make_room(self) -> None:
        """Forget what has left the window."""
        gone = self._first
        self._values, self._first = self._values[gone:], 0
        self._high, self._low = self._high[self._high_first :], self._low[self._low_first :]
        self._high_at = [place - gone for place in self._high_at[self._high_first :]]
        self._low_at = [place - gone for place in self._low_at[self._low_first :]]
        self._high_first = self._low_first = 0

    @property
    def mean(self) -> float:
        """Mean of the samples in the window; 0 before the first."""
        count = len(self._values) - self._first
        return self._sum / count if count else 0.0

    @property
    def half_peak_to_peak(self) -> float:
        """Half of highest less lowest in the window."""
        if not self._values:
            return 0.0
        return (self._high[self._high_first] - self._low[self._low_first]) / 2.0


class Recents:
    """What is averaged along and across."""

    __slots__ = ("across", "along")

    def __init__(self) -> None:
        """Nothing seen yet."""
        self.along: Recent = Recent()
        self.across: Recent = Recent()

    def add(self, along: float, across: float, window: int) -> None:
        """Take a sample of both."""
        self.along.add(along, window)
        self.across.add(across, window)

    @property
    def means(self) -> tuple[float, float]:
        """Of both."""
        return self.along.mean, self.across.mean


class Leans:
    """How a pull has leaned, along and across, over the last so many samples: each counts by its pull, so that a line
    that hung slack, or bore next to nothing, says little of the load that it has taken since."""

    __slots__ = ("_across", "_along", "_first", "_pull", "_samples")

    def __init__(self) -> None:
        """Nothing seen yet."""
        self._samples: list[tuple[float, float, float]] = []
        """Pull, and its products with the angles along and across."""
        self._first: int = 0
        self._pull: float = 0.0
        self._along: float = 0.0
        self._across: float = 0.0
        """Sums over the window."""

    def add(self, pull_N: float, along: float, across: float, window: int) -> None:
        """Take a sample; keep the last `window` of them."""
        samples, first = self._samples, self._first
        by_along, by_across = pull_N * along, pull_N * across
        samples.append((pull_N, by_along, by_across))
        pull, sum_along, sum_across = self._pull + pull_N, self._along + by_along, self._across + by_across
        while len(samples) - first > window:
            gone_N, gone_along, gone_across = samples[first]
            pull, sum_along, sum_across = pull - gone_N, sum_along - gone_along, sum_across - gone_across
            first += 1
        if first > SPARE:
            self._samples, first = samples[first:], 0
            pull = sum_along = sum_across = 0.0
            for one_N, one_along, one_across in self._samples:  # anew, rounding with it
                pull, sum_along, sum_across = pull + one_N, sum_along + one_along, sum_across + one_across
        self._first, self._pull, self._along, self._across = first, pull, sum_along, sum_across

    @property
    def means(self) -> tuple[float, float]:
        """Along and across; 0 before the first."""
        if self._pull <= 0.0:
            return 0.0, 0.0
        return self._along / self._pull, self._across / self._pull


def _drop_below(extremes: list[float], places: list[int], first: int, value: float, way: float) -> None:
    """Forget, from the end, what the value outdoes: higher with `way` 1, lower with -1."""
    while len(extremes) > first and way * extremes[-1] <= way * value:
        extremes.pop()
        places.pop()

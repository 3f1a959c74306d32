"""Readings averaged over a sway period, as a coach reads them: sway goes out, and what stays is to be put right."""

from __future__ import annotations

from collections import deque

from simulator.readings import Readings


class Averages:
    """Means of hooks' places, hook loads and pitch over the last sway period."""

    def __init__(self) -> None:
        self._rows: deque[tuple[float, ...]] = deque()
        self._sums = [0.0] * 7
        self._last_s: float | None = None

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        nose, tail = now.units
        row = (nose.hook_x_m, nose.hook_y_m, nose.hook_load_N, tail.hook_x_m, tail.hook_y_m, tail.hook_load_N,
               now.load.pitch_rad)  # fmt: skip
        dt = 0.0 if self._last_s is None else now.time_s - self._last_s
        self._last_s = now.time_s
        self._rows.append(row)
        self._sums = [total + value for total, value in zip(self._sums, row, strict=True)]
        most = round(now.load.sway_period_s / dt) if dt > 0.0 else 1
        while len(self._rows) > max(1, most):
            gone = self._rows.popleft()
            self._sums = [total - value for total, value in zip(self._sums, gone, strict=True)]

    def clear(self) -> None:
        """Forget."""
        self._rows.clear()
        self._sums, self._last_s = [0.0] * 7, None

    @property
    def loads(self) -> tuple[float, float, float]:
        """Nose and tail hook load, and pitch."""
        count = max(1, len(self._rows))
        return self._sums[2] / count, self._sums[5] / count, self._sums[6] / count

    def of(self, now: Readings) -> Readings:
        """This moment with hooks at their mean places. Tips stay where they are: a moved tip has moved."""
        count = len(self._rows)
        if not count:
            return now
        nx, ny, _, tx, ty, _, _ = (total / count for total in self._sums)
        nose = now.nose._replace(hook_x_m=nx, hook_y_m=ny)
        return now.with_unit(0, nose).with_unit(1, now.tail._replace(hook_x_m=tx, hook_y_m=ty))

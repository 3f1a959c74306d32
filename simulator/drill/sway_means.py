"""Readings averaged over a sway period, as a coach reads them: sway goes out, and what stays is to be put right."""

from __future__ import annotations

from collections import deque

from simulator.readings import LineReadings, Readings, UnitReadings

ROW = 2
"""Numbers kept of each unit and of each line: its hook's place along and across."""


class Averages:
    """Means of hooks' places over the last sway period."""

    _rows: deque[tuple[float, ...]]
    _sums: list[float]
    _last_s: float | None

    def __init__(self) -> None:
        self._rows, self._sums, self._last_s = deque(), [], None

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        hung: list[UnitReadings | LineReadings] = [*now.units, *now.lines]
        row = tuple(number for one in hung for number in (one.hook_x_m, one.hook_y_m))
        dt = 0.0 if self._last_s is None else now.time_s - self._last_s
        self._last_s = now.time_s
        self._rows.append(row)
        self._sums = [total + value for total, value in zip(self._sums or [0.0] * len(row), row, strict=True)]
        most = round(now.load.sway_period_s / dt) if dt > 0.0 else 1
        while len(self._rows) > max(1, most):
            gone = self._rows.popleft()
            self._sums = [total - value for total, value in zip(self._sums, gone, strict=True)]

    def clear(self) -> None:
        """Forget."""
        self._rows.clear()
        self._sums, self._last_s = [], None

    @property
    def _means(self) -> list[float]:
        return [total / len(self._rows) for total in self._sums]

    def of(self, now: Readings) -> Readings:
        """This moment with hooks at their mean places. Tips stay where they are: a moved tip has moved."""
        if not self._rows:
            return now
        means, count = self._means, len(now.units)
        places = [(means[at], means[at + 1]) for at in range(0, len(means), ROW)]
        units = (one._replace(hook_x_m=x, hook_y_m=y) for one, (x, y) in zip(now.units, places[:count], strict=True))
        lines = (one._replace(hook_x_m=x, hook_y_m=y) for one, (x, y) in zip(now.lines, places[count:], strict=True))
        return now._replace(units=tuple(units), lines=tuple(lines))

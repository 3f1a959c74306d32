"""Which readings passed a stop limit, told while a lift goes on: the debrief's spells without a recording."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf

from simulator.report.lift.judged import BACK_SHARE, MERGE_S, SHORTEST_S
from simulator.scenario.judged_limits import Judged

ROUNDING_S = 1e-6


@dataclass
class _Run:
    """A time past the caution, with short breaks in it."""

    since_s: float
    last_s: float
    is_back: bool = False
    """It has been back since it was last past the caution."""
    is_stop: bool = False
    """The stop was passed in it."""


class StopsPassed:
    """Looks at what counts of each sample, by the rules of `judged.spells`."""

    def __init__(self, rows: tuple[Judged, ...]) -> None:
        self._rows = rows
        self._runs: dict[str, _Run] = {}
        self._passed: dict[str, Judged] = {}

    def __call__(self, time_s: float, counted: Mapping[str, float]) -> None:
        """Take in a sample: the readings that count in it, by their channels."""
        for row in self._rows:
            value = counted.get(row.key)
            if value is None or not self._is_past(row, value, row.caution):
                self._rest(row, value)
            else:
                self._look(row, value, time_s)

    def __iter__(self) -> Iterator[Judged]:
        """Those that passed their stop, in the order of the one list."""
        return (row for row in self._rows if row.key in self._passed)

    def _rest(self, row: Judged, value: float | None) -> None:
        run = self._runs.get(row.key)
        if run is not None:
            back = row.caution * (1.0 + (-BACK_SHARE if row.rising else BACK_SHARE))
            run.is_back = run.is_back or value is None or not self._is_past(row, value, back)

    def _look(self, row: Judged, value: float, time_s: float) -> None:
        run = self._runs.get(row.key)
        if run is None or (run.is_back and time_s - run.last_s > MERGE_S):
            run = self._runs[row.key] = _Run(time_s, time_s)
        run.last_s, run.is_back = time_s, False
        run.is_stop = run.is_stop or (row.stop < inf and self._is_past(row, value, row.stop))
        if run.is_stop and time_s - run.since_s >= SHORTEST_S - ROUNDING_S:
            self._passed[row.key] = row

    @staticmethod
    def _is_past(row: Judged, value: float, limit: float) -> bool:
        return value >= limit if row.rising else value < limit

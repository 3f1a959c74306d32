"""Readings for text: smoothed over 0.15 s and let out ten times a second, so that figures can be read."""

from __future__ import annotations

from math import exp, isfinite
from typing import NamedTuple, TypeVar

from simulator.readings import Gaps, LineReadings, LoadReadings, Readings, UnitReadings

SMOOTHING_S = 0.15
REFRESH_S = 0.1
FOLLOW_S = 0.03
"""Wall time from one look at the live readings to the next: a lag of 0.15 s needs no more."""
Row = TypeVar("Row", LineReadings, UnitReadings, LoadReadings)


def eased(before: float, now: float, share: float) -> float:
    """`before` moved toward `now` by `share`; `now` itself where one of them is no number."""
    return before + share * (now - before) if isfinite(before) and isfinite(now) else now


def _eased_row(before: Row, now: Row, share: float) -> Row:
    values = [a + share * (b - a) if type(b) is float else b for a, b in zip(before, now, strict=True)]
    # What is no number, then or now, is no number here: x - x is 0 for all the others.
    kept = (value if value - value == 0.0 else b for value, b in zip(values, now, strict=True))
    return type(now)._make(kept)


def _eased_gaps(before: Gaps, now: Gaps, share: float) -> Gaps:
    known = {row.part: row for row in before}
    return tuple(
        row._replace(gap_m=eased(known[row.part].gap_m, row.gap_m, share)) if row.part in known else row for row in now
    )


def smoothed(before: Readings, now: Readings, elapsed_s: float) -> Readings:
    """Readings that follow `now` with a lag of `SMOOTHING_S`."""
    share = 1.0 - exp(-max(0.0, elapsed_s) / SMOOTHING_S)
    return Readings(
        now.step,
        now.time_s,
        tuple(_eased_row(was, unit, share) for was, unit in zip(before.units, now.units, strict=True)),
        tuple(_eased_row(was, line, share) for was, line in zip(before.lines, now.lines, strict=True)),
        _eased_row(before.load, now.load, share),
        _eased_gaps(before.gaps, now.gaps, share),
    )


class SteadyLook(NamedTuple):
    """What `Steady` answers: the readings for text, and whether they are new."""

    readings: Readings
    is_new: bool


class Steady:
    """Follows the live readings frame by frame; lets out a smoothed copy ten times a second."""

    def __init__(self, readings: Readings) -> None:
        self._following = readings
        self._out = readings
        self._waited_s = REFRESH_S
        self._unseen_s = 0.0

    def follow(self, readings: Readings, elapsed_s: float, *, is_over: bool = False) -> SteadyLook:
        """Take the live readings of a frame that lasted `elapsed_s` on the wall; as they are if the lift is over."""
        if is_over:
            is_new = self._out is not readings
            self._following = self._out = readings
            return SteadyLook(readings, is_new)
        self._waited_s += elapsed_s
        self._unseen_s += elapsed_s
        is_new = self._waited_s >= REFRESH_S
        if is_new or self._unseen_s >= FOLLOW_S:
            self._following = smoothed(self._following, readings, self._unseen_s)
            self._unseen_s = 0.0
        if is_new:
            self._waited_s %= REFRESH_S
            self._out = self._following
        return SteadyLook(self._out, is_new)

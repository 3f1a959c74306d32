"""Levels with hysteresis: good, caution, stop, and the bands that keep marks from flickering."""

from __future__ import annotations

from enum import IntEnum
from math import isnan, radians
from typing import NamedTuple

from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import judged_rows
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.window.kit.measures_shown import Shown


class Level(IntEnum):
    """How much a readout wants to be looked at."""

    GOOD = 0
    CAUTION = 1
    STOP = 2


class Marked(NamedTuple):
    """A value with its level."""

    value: Shown
    level: Level = Level.GOOD


SHARE_BAND = 0.05
"""Part of a threshold by which a value must come back before its mark goes."""
LENGTH_BAND_M = 0.02
ANGLE_BAND_RAD = radians(0.1)
LOAD_BAND_N = 100.0 * STANDARD_GRAVITY_MPS2


class Threshold(NamedTuple):
    """Caution and stop of one readout. `rising`: more is worse."""

    caution: float
    stop: float
    rising: bool
    least_band: float

    def level(self, value: float, before: Level = Level.GOOD) -> Level:
        """The level of `value`, given the level it had `before`; no value is good."""
        if isnan(value):
            return Level.GOOD
        if self._past(self.stop, value, before >= Level.STOP):
            return Level.STOP
        return Level.CAUTION if self._past(self.caution, value, before >= Level.CAUTION) else Level.GOOD

    def _past(self, limit: float, value: float, was_past: bool) -> bool:
        band = max(SHARE_BAND * abs(limit), self.least_band) if was_past else 0.0
        return value >= limit - band if self.rising else value < limit + band


RAISE_SHORT = Threshold(0.01, float("inf"), True, LENGTH_BAND_M)
"""Height that is missing and that head room does not leave, m."""


BANDS = {"rad": ANGLE_BAND_RAD, "share": 0.0, "m": LENGTH_BAND_M}
"""Least band of each kind of reading."""


def _judged(limits: Limits, label: str) -> Threshold:
    """Of the one list of readings that are judged, by what drill and debrief call it."""
    row = next(row for row in judged_rows(limits) if row.label == label)
    return Threshold(row.caution, row.stop, row.rising, BANDS[row.kind])


def off_plumb(limits: Limits) -> Threshold:
    """Angle off plumb, rad."""
    return _judged(limits, "off plumb")


def capacity(limits: Limits) -> Threshold:
    """Capacity used, a share."""
    return _judged(limits, "capacity used")


def tandem(limits: Limits) -> Threshold:
    """Capacity used over the share for two units."""
    return _judged(limits, "share for two units used")


def ground(limits: Limits) -> Threshold:
    """Ground bearing used, a share."""
    return _judged(limits, "ground bearing used")


def head_room(limits: Limits) -> Threshold:
    """Head room, m."""
    return _judged(limits, "head room")


def rope_left(limits: Limits) -> Threshold:
    """Rope left, m."""
    return _judged(limits, "rope left")


def float_share(limits: Limits) -> Threshold:
    """A float's share of its resting load."""
    return _judged(limits, "lightest float")


def pitch(limits: Limits) -> Threshold:
    """Size of the pitch, rad."""
    return _judged(limits, "pitch of the load")


def yaw(limits: Limits) -> Threshold:
    """Size of the yaw, rad."""
    return _judged(limits, "yaw of the load")


def sway(limits: Limits) -> Threshold:
    """Sway each way, m."""
    return _judged(limits, "sway")


def lane(limits: Limits) -> Threshold:
    """Room to the live lane, m."""
    return _judged(limits, "room to the live lane")


def gap(limits: Limits) -> Threshold:
    """Clearance of a part, m."""
    return Threshold(limits.gap_close_m, 0.0, False, LENGTH_BAND_M)


TOUCHING_M = 0.05
"""A face of rough ground is met from here on. Our own choice, no source."""


def slope(limits: Limits) -> Threshold:
    """Level room of a hanging load to the slope's face, m."""
    return Threshold(limits.gap_close_m, min(TOUCHING_M, limits.gap_close_m), False, LENGTH_BAND_M)


def slack(limits: Limits) -> Threshold:
    """Hook load under which a line is slack, N; it never stops a lift."""
    return Threshold(limits.slack_N, float("-inf"), False, LOAD_BAND_N)

"""The one list of readings that are judged, with caution and stop: drill, debrief and window ask here.

Which limits a lift has stands in the scenario's [limits]; what is not given there is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from math import inf, radians
from operator import and_, or_
from typing import Literal, NamedTuple, TypeVar

import numpy as np

from simulator.readings import UnitReadings
from simulator.scenario.description import Limits
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import PAIR
from simulator.scenario.unit import Unit

Kind = Literal["rad", "share", "m"]
Truth = TypeVar("Truth", bool, np.ndarray[tuple[int], np.dtype[np.bool_]])
GROUND_CAUTION, GROUND_STOP = 0.85, 1.0
"""Float pressure over the soil's allowable bearing, in a plan as in a lift. Common practice, no source."""
TANDEM = ".tandem_used"
TANDEM_CAUTION = 1.0
"""Capacity used over the share that is allowed in a lift by two units; over capacity it stops."""
YAW_CAUTION_RAD, YAW_STOP_RAD = radians(5.0), radians(12.0)
"""Of a load that hangs: one tip is ahead of the other. Our choice, no source."""


AHEAD_M = 0.2
"""One end that has come so much further than the other does not keep its pace: twice what halts an able hand. Our
choice, no source."""


def most_telescoped_N(unit: Unit, limits: Limits) -> float:
    """Most hook load with which a unit's boom may be telescoped by its own rule; infinite where it has none."""
    most_kg = unit.boom.telescope_load_kg
    return inf if most_kg is None else max(most_kg * STANDARD_GRAVITY_MPS2, limits.slack_N)


TELESCOPES_MPS = 0.002
"""A boom that goes out or in faster is telescoped: a hundredth of the usual top speed (our own choice, no source)."""


def telescopes_against_rule(now: UnitReadings, most_N: float) -> bool:
    """A boom is telescoped with more on its hook than its rule allows."""
    return abs(now.telescope_speed_mps) > TELESCOPES_MPS and now.hook_load_N > most_N


TAKING_UP_N = 8000.0
"""Two lines of a unit come to bear one a moment before the other, and the first leans by itself: up to this sum of
their hook loads the unit has no angle until both bear (our choice, no source: 0.8 t, which at 10 degrees is a side pull
of 0.14 t)."""


def takes_up(slacks: Sequence[Truth], is_light: Truth) -> Truth:
    """A unit that has no angle: none of its lines bears, or not each of them and next to nothing altogether.

    Args:
        slacks: of each line; of one moment, or of many as arrays of shape (moments,).
        is_light: its hook load is under `TAKING_UP_N`; the same.
    """
    return reduce(and_, slacks) | (reduce(or_, slacks) & is_light)


class Judged(NamedTuple):
    """One reading with its limits."""

    key: str
    """Channel."""
    label: str
    end: int | None
    """Index of the unit; none for the load."""
    kind: Kind
    caution: float
    stop: float
    rising: bool = True
    """More is worse."""
    counts: Literal["always", "loaded", "hanging"] = "always"
    """A slack line has no angle, nor has a unit that still takes up its lines; on the bed the trailer lies as the bed
    lies, so pitch, yaw and sway count once it hangs."""


def judged_rows(limits: Limits, units: tuple[str, ...] = PAIR) -> tuple[Judged, ...]:
    """All readings that are judged, by the limits of the scenario; `units`: what the lift's units are called.

    The share for two units is looked at only where there are two.
    """
    of_units = (row for end, name in enumerate(units) for row in _unit_rows(end, name, limits))
    return (*(row for row in of_units if len(units) > 1 or not row.key.endswith(TANDEM)), *_load_rows(limits))


def _unit_rows(end: int, name: str, limits: Limits) -> tuple[Judged, ...]:
    light = limits.light_float_share
    floats = light * limits.float_caution_factor, light * limits.float_stop_factor
    head, rope = limits.head_room_caution_m, limits.rope_left_caution_m

    def row(field: str, label: str, kind: Kind, caution: float, stop: float, *, rising: bool = True) -> Judged:
        counts: Literal["always", "loaded"] = "loaded" if kind == "rad" else "always"
        return Judged(f"{name}.{field}", label, end, kind, caution, stop, rising, counts)

    return (
        row("mean_off_plumb_rad", "off plumb", "rad", limits.off_plumb_caution_rad, limits.off_plumb_stop_rad),
        row("capacity_used", "capacity used", "share", limits.capacity_caution, limits.capacity_stop),
        row("tandem_used", "share for two units used", "share", TANDEM_CAUTION, inf),
        row("least_float_share", "lightest float", "share", *floats, rising=False),
        row("head_room_m", "head room", "m", head, limits.head_room_stop_m, rising=False),
        row("rope_left_m", "rope left", "m", rope, limits.rope_left_stop_m, rising=False),
        row("ground_used", "ground bearing used", "share", GROUND_CAUTION, GROUND_STOP),
    )


def _load_rows(limits: Limits) -> tuple[Judged, ...]:
    pitch, yaw = (limits.pitch_caution_rad, limits.pitch_stop_rad), (YAW_CAUTION_RAD, YAW_STOP_RAD)
    lane = limits.lane_caution_m, limits.lane_stop_m
    return (
        Judged("load.pitch_rad", "pitch of the load", None, "rad", *pitch, counts="hanging"),
        Judged("load.yaw_rad", "yaw of the load", None, "rad", *yaw, counts="hanging"),
        Judged("load.sway_m", "sway", None, "m", limits.sway_caution_m, limits.sway_stop_m, counts="hanging"),
        Judged("load.lane_room_m", "room to the live lane", None, "m", *lane, rising=False),
    )

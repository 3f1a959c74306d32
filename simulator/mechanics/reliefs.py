"""What stalls a boom's functions: relief of raising and extending, torque that holds its slew; as stated, or by usual
practice from what the unit is rated for."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, cos, pi, sin
from typing import NamedTuple

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.drum import lead_line_share
from simulator.mechanics.footing import own_load
from simulator.mechanics.matrix import Vector
from simulator.mechanics.rating import TIPPING_SHARE, tipping_load_N
from simulator.mechanics.unit_loads import Stand, on_functions
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.unit import Unit

RAISE_OVER_RATED, TELESCOPE_OVER_RATED, SLEW_OVER_RATED = 1.2, 0.75, 0.08
"""Of the most that the rating asks: a boom raises what it is rated for, is telescoped with part of it, and takes little
from the side. Common practice, no source."""
PLACES = 8
"""Elevations at which a unit without a rating table is looked at, at its shortest and its longest."""

TIPS_NEVER = 3.0
"""A unit that only so many times its own weight would tip is not limited by that."""
NO_LIMIT = 1e12
"""Of a unit that is limited by nothing."""


class Rated(NamedTuple):
    """A load that a unit may lift."""

    length_m: float
    level_m: float
    """Foot pin to load."""
    load_N: float


def rated(unit: Unit, on: Stand) -> Iterator[Rated]:
    """Every cell of its rating table, or with none its share of what tips it square to the side."""
    back = unit.boom.foot_pin_back_m
    if unit.rating is not None:
        for radius, row in zip(unit.rating.radii_m, unit.rating.rated_kg, strict=True):
            for length, mass in zip(unit.rating.boom_lengths_m, row, strict=True):
                yield Rated(length, min(radius + back, length), mass * STANDARD_GRAVITY_MPS2)
        return
    low, high = unit.boom.lowest_rad, unit.boom.highest_rad
    for length in (unit.boom.shortest_m, unit.boom.longest_m):
        for i in range(PLACES):
            pose = BoomPose(length, low + (high - low) * i / (PLACES - 1), pi / 2.0)
            level = length * cos(pose.elevation_rad)
            tip = 0.0, level - back, unit.boom.foot_pin_height_m + length * sin(pose.elevation_rad)
            tips = tipping_load_N(on, own_load(on, pose), tip)
            if level > back and tips < TIPS_NEVER * on.weight_N:
                yield Rated(length, level, TIPPING_SHARE * tips)


def reliefs(unit: Unit, on: Stand) -> Vector:
    """Moment about the foot pin that stalls raising, push along the boom that stalls extending, torque that stalls and
    drags slewing."""
    boom, hoist = unit.boom, unit.hoist
    lead = lead_line_share(hoist.parts, hoist.sheave_loss)
    most = [0.0, 0.0, 0.0]
    for length, level, load in rated(unit, on):
        elevation = acos(min(1.0, level / length))
        way = length, cos(elevation), sin(elevation)
        at = level - on.foot_pin_back_m, 0.0, on.foot_pin_height_m + length * way[2]
        lowers, draws_in, _ = on_functions(on, way, (1.0, 0.0), at, (0.0, 0.0, -load), load * lead)
        turns = load * abs(level - on.foot_pin_back_m)
        most = [max(was, now) for was, now in zip(most, (lowers, draws_in, turns), strict=True)]
    return (
        boom.raise_relief_Nm or RAISE_OVER_RATED * most[0] or NO_LIMIT,
        boom.telescope_relief_N or TELESCOPE_OVER_RATED * most[1] or NO_LIMIT,
        boom.slew_hold_Nm or SLEW_OVER_RATED * most[2] or NO_LIMIT,
    )

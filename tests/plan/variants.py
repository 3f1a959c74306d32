"""The shipped tank lift with one thing changed. Its data is invented."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load

SANDY_GRAVEL_PA = 143.6e3
"""IBC 2012 Table 1806.2, as reproduced in a textbook."""
TYPE_C_RAD = 0.588002604
"""1-1/2:1, 33.690068 deg: 29 CFR 1926 Subpart P App. B, Table B-1, read in a secondary copy."""


@cache
def shipped(name: str = "tank_on_side") -> Description:
    return load(find_scenario(name))


def units(lift: Description, **changes: Any) -> Description:
    """Both units with these fields changed."""
    nose, tail = (replace(unit, **changes) for unit in lift.units)
    return replace(lift, nose_unit=nose, tail_unit=tail)


def boom(lift: Description, **changes: Any) -> Description:
    return units(lift, boom=replace(lift.nose_unit.boom, **changes))


def hoist(lift: Description, **changes: Any) -> Description:
    return units(lift, hoist=replace(lift.nose_unit.hoist, **changes))


def floats(lift: Description, **changes: Any) -> Description:
    return units(lift, floats=replace(lift.nose_unit.floats, **changes))


def site(lift: Description, **changes: Any) -> Description:
    return replace(lift, site=replace(lift.site, **changes))


def soil(lift: Description, **changes: Any) -> Description:
    return site(lift, soil=replace(lift.site.soil, **changes))


def path(lift: Description, **changes: Any) -> Description:
    return replace(lift, path=replace(lift.path, **changes))


def trailer(lift: Description, **changes: Any) -> Description:
    return replace(lift, trailer=replace(lift.trailer, **changes))


def level_bed(lift: Description) -> Description:
    """The bed level and the trailer level on it, as the demo set has it."""
    return replace(site(lift, bed_m=((-60.0, 0.0), (60.0, 0.0))), start=replace(lift.start, trailer=_level(lift)))


def _level(lift: Description) -> Any:
    return replace(lift.trailer.start, pitch_rad=0.0)


def on_wheels(lift: Description) -> Description:
    """The tank standing up in the same set-up: 4.0 m high, picks on its top."""
    was = lift.trailer
    nose, tail = (replace(pick, at_m=(pick.at_m[0], 0.0, 4.0)) for pick in (was.nose_pick, was.tail_pick))
    cargo = replace(was.cargo, cg_m=(was.cargo.cg_m[0], 0.0, was.cargo.cg_m[2]))
    return trailer(lift, attitude="on_wheels", nose_pick=nose, tail_pick=tail, cargo=cargo)


def on_soil(lift: Description) -> Description:
    """Sandy gravel under the pads in place of the rock shoulder."""
    return soil(lift, name="sandy gravel", allowable_bearing_Pa=SANDY_GRAVEL_PA, steepest_angle_rad=TYPE_C_RAD)

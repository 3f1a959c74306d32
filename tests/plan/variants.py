"""The shipped tank lift with one thing changed. Its data is invented."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.demo import with_boom as boom
from tests.demo import with_floats as floats
from tests.demo import with_hoist as hoist
from tests.demo import with_lie
from tests.demo import with_trailer as trailer
from tests.demo import with_units as units

__all__ = ["boom", "floats", "hoist", "trailer", "units"]
SANDY_GRAVEL_PA = 143.6e3
"""IBC 2012 Table 1806.2, as reproduced in a textbook."""
TYPE_C_RAD = 0.588002604
"""1-1/2:1, 33.690068 deg: 29 CFR 1926 Subpart P App. B, Table B-1, read in a secondary copy."""


@cache
def shipped(name: str = "tank_on_side") -> Description:
    return load(find_scenario(name))


def site(lift: Description, **changes: Any) -> Description:
    return replace(lift, site=replace(lift.site, **changes))


def soil(lift: Description, **changes: Any) -> Description:
    return site(lift, soil=replace(lift.site.soil, **changes))


def path(lift: Description, **changes: Any) -> Description:
    return replace(lift, path=replace(lift.path, **changes))


def picks(lift: Description, **changes: Any) -> Description:
    """Every pick with these fields changed."""
    return trailer(lift, picks=tuple(replace(pick, **changes) for pick in lift.trailer.picks))


def first_pick(lift: Description, **changes: Any) -> Description:
    """Its first pick with these fields changed."""
    first, *others = lift.trailer.picks
    return trailer(lift, picks=(replace(first, **changes), *others))


def level_bed(lift: Description) -> Description:
    """The bed level and the trailer level on it, as the demo set has it."""
    return with_lie(site(lift, bed_m=((-60.0, 0.0), (60.0, 0.0))), pitch_rad=0.0)


def on_wheels(lift: Description) -> Description:
    """The tank standing up in the same set-up, picks on its top."""
    was = lift.trailer
    top_m = max(z for part in was.parts for _, z in part.outline_m)
    picks = tuple(replace(pick, at_m=(pick.at_m[0], 0.0, top_m)) for pick in was.picks)
    cargo = replace(was.cargo, cg_m=(was.cargo.cg_m[0], 0.0, was.cargo.cg_m[2]))
    return trailer(lift, attitude="on_wheels", picks=picks, cargo=cargo)


def on_soil(lift: Description) -> Description:
    """Sandy gravel under the pads in place of the rock shoulder."""
    return soil(lift, name="sandy gravel", allowable_bearing_Pa=SANDY_GRAVEL_PA, steepest_angle_rad=TYPE_C_RAD)

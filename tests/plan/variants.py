"""The shipped tank lift with one thing changed. Its data is invented."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from simulator.mechanics.trailer import stated_cg_m
from simulator.places import find_scenario
from simulator.plan.spacing import THREE_QUARTERS, with_gap
from simulator.scenario.description import Description, Landing
from simulator.scenario.reader import load
from simulator.scenario.trailer import Trailer
from tests.demo import with_boom as boom
from tests.demo import with_floats as floats
from tests.demo import with_hoist as hoist
from tests.demo import with_lie
from tests.demo import with_trailer as trailer
from tests.demo import with_units as units
from tests.mechanics.demo_set import PICKS_X_M, TIP_HEIGHT_M

__all__ = ["boom", "floats", "hoist", "trailer", "units"]
SANDY_GRAVEL_PA = 143.6e3
"""IBC 2012 Table 1806.2, as reproduced in a textbook."""
TYPE_C_RAD = 0.588002604
"""1-1/2:1, 33.690068 deg: 29 CFR 1926 Subpart P App. B, Table B-1, read in a secondary copy."""


@cache
def shipped(name: str = "tank_on_side") -> Description:
    return load(find_scenario(name))


@cache
def textbook() -> Description:
    """The tank lift with the numbers of the trade's textbook case, which the demo set was worked through with.

    14.6 m (48 ft) long and 12 m (40 ft) down, three quarters of its length between the tailboards: common practice, no
    source. 26 t, CG 0.2 m toward the nose and in the plane of the picks, 4.0 m across and 2.6 m high as it lies.
    """
    lift = with_gap(shipped(), THREE_QUARTERS * 14.6)
    lift = site(lift, section_m=((30.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-13.0, -12.0), (-22.0, -9.0)))
    lift = replace(lift, path=replace(lift.path, belly_over_road_m=1.8, tip_height_m=TIP_HEIGHT_M), landing=Landing(6.6))
    shell, *others = lift.trailer.parts
    shell = replace(shell, outline_m=((-7.3, 1.4), (7.3, 1.4), (7.3, 4.0), (-7.3, 4.0)), width_m=2.6)
    picks = tuple(
        replace(pick, at_m=(x, 1.3, 2.0), height_m=2.3) for pick, x in zip(lift.trailer.picks, PICKS_X_M, strict=True)
    )
    made = replace(lift.trailer, parts=(shell, *others), picks=picks, start=replace(lift.trailer.start, x_m=-0.2, y_m=-8.0))
    return replace(lift, trailer=_weighing(made, 26e3, (-0.2, -0.26, 2.0)))


def _weighing(of: Trailer, mass_kg: float, cg_m: tuple[float, float, float]) -> Trailer:
    """So heavy, its stated centre of gravity there: the cargo makes up for the rest."""
    cargo_kg = mass_kg - sum(part.mass_kg for part in of.parts)
    without = stated_cg_m(replace(of, cargo=replace(of.cargo, mass_kg=cargo_kg, cg_m=(0.0, 0.0, 0.0))))
    x, y, z = (mass_kg * (wanted - found) / cargo_kg for wanted, found in zip(cg_m, without, strict=True))
    return replace(of, cargo=replace(of.cargo, mass_kg=cargo_kg, cg_m=(x, y, z)))


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

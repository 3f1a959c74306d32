"""Pick points compared side by side, and what overhang costs in boom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import acos, cos, hypot, sqrt
from typing import NamedTuple

from simulator.plan.compare import Row, row
from simulator.plan.hanging import as_stated, hang, load_of
from simulator.plan.setup_check import check_setup
from simulator.plan.stations import Station, crosses, stations
from simulator.scenario.description import Description
from simulator.scenario.standing import straight
from simulator.scenario.trailer import PickCandidate, Trailer
from simulator.scenario.unit import Unit

FARTHER_IN_M = 2.0
BOOM_PER_REACH = 1.5
"""Boom for reach, at a held elevation (common practice, no source)."""
USUAL_ELEVATION_RAD = acos(1.0 / BOOM_PER_REACH)
"""The only elevation at which that holds: 48.19 deg."""
AS_IT_IS = "as described"


class Compared(NamedTuple):
    """One candidate."""

    name: str
    end: str
    x_m: float
    """Along the trailer, in its own axes."""
    overhang_m: float
    """Trailer beyond it."""
    row: Row | None
    """None: it cannot be hung there."""
    why_not: str


class OverhangCost(NamedTuple):
    """Boom it costs to pick farther in by some overhang, at one place of the path."""

    end: str
    place: str
    more_reach_m: float
    at_usual_elevation_m: float
    """More boom with elevation held at the usual one, and held exactly: the tip rises."""
    at_constant_height_m: float
    """More boom with the tip kept at its height: elevation goes down."""


def candidates(
    description: Description,
    *,
    inboard_m: tuple[float, ...] = (FARTHER_IN_M,),
    say: Callable[[float], str] = "{:.2f} m".format,
) -> list[PickCandidate]:
    """The scenario's own candidates; with none, each pick moved in by each of `inboard_m`, named by `say`."""
    trailer = description.trailer
    if trailer.pick_candidates:
        return list(trailer.pick_candidates)
    found = []
    for inward in inboard_m:
        name = f"{say(inward)} farther in"
        for pick, way in zip(trailer.picks, (1.0, -1.0), strict=True):
            x, y, z = pick.at_m
            found.append(PickCandidate(name, pick.name, (x + way * inward, y, z), pick.pivot, pick.height_m))
    return found


def with_pick(description: Description, candidate: PickCandidate) -> Description:
    """The lift with one pick at a candidate's place; the tips follow it."""
    trailer = description.trailer
    at, pivot, height = candidate.at_m, candidate.pivot, candidate.height_m
    picks = tuple(
        replace(pick, at_m=at, pivot=pivot, height_m=height) if pick.name == candidate.pick else pick
        for pick in trailer.picks
    )
    return replace(description, trailer=replace(trailer, picks=picks))


def compare_picks(
    description: Description, several: list[PickCandidate], *, step_m: float = 1.0
) -> tuple[Compared, ...]:
    """The picks as described, then each candidate on its own, all by the stated numbers."""
    stated = as_stated(description)
    trailer = stated.trailer
    first = Compared(AS_IT_IS, "both", 0.0, 0.0, row(AS_IT_IS, check_setup(stated, step_m=step_m)), "")
    return (first, *(_compared(stated, trailer, candidate, step_m) for candidate in several))


def _compared(stated: Description, trailer: Trailer, candidate: PickCandidate, step_m: float) -> Compared:
    lift = with_pick(stated, candidate)
    why = _why_not(lift)
    found = None if why else row(candidate.name, check_setup(lift, step_m=step_m))
    x = candidate.at_m[0]
    return Compared(candidate.name, candidate.pick, x, _overhang_m(trailer, candidate.pick, x), found, why)


def _why_not(lift: Description) -> str:
    """Why a load cannot be hung so: picks the wrong way round, its weight beyond them or above them."""
    xs = [lift.trailer.pick(line.pick).at_m[0] for unit in lift.units for line in unit.lines]
    if any(x >= beyond - 1e-6 for x, beyond in pairwise(xs)):
        return "the picks would change places"
    load = load_of(lift)
    shares = hang(load, 0.0, 0.0).shares
    if not 0.0 < shares[0] < 1.0:
        return "the center of gravity would not be between the picks"
    picks = zip(lift.trailer.picks, load.body.picks_m, strict=True)
    hooks = min(at[2] + (pick.height_m if pick.pivot == "bridle_across" else 0.0) for pick, at in picks)
    return "" if hooks > load.body.cg_m[2] else "the center of gravity would be above the hook line: it would turn over"


def _overhang_m(trailer: Trailer, end: str, x_m: float) -> float:
    xs = [x for part in trailer.parts for x, _ in part.outline_m]
    return x_m - min(xs) if end == "nose" else max(xs) - x_m


def overhang_costs(description: Description, inboard_m: float) -> tuple[OverhangCost, ...]:
    """What picking farther in costs each boom, over its tailboard and on the bed."""
    stated = as_stated(description)
    load = load_of(stated)
    path = stations(stated, load, step_m=1.0)
    places = [(path[1], "raised over the bed")]
    if crosses(stated):
        places.insert(0, (min(path[1:-1], key=lambda one: abs(one.y_m)), "over the tailboard"))
    return tuple(
        _cost(unit, end, station, place, inboard_m)
        for end, unit in enumerate(stated.units)
        for station, place in places
    )


def _cost(unit: Unit, end: int, station: Station, place: str, inboard_m: float) -> OverhangCost:
    """Along the road the tip goes away from its unit by as much as the pick goes in."""
    x, y, z = straight(unit, station.tips_m[end])
    along = unit.facing * (x - unit.slew_axis_x_m)
    before, after = hypot(along, y), hypot(along + inboard_m, y)
    rise, back = z - unit.boom.foot_pin_height_m, unit.boom.foot_pin_back_m
    height = sqrt((after + back) ** 2 + rise**2) - sqrt((before + back) ** 2 + rise**2)
    more = after - before
    return OverhangCost(unit.name, place, more, more / cos(USUAL_ELEVATION_RAD), height)

"""What a verdict needs and does not have, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from simulator.mechanics.allowances import DYNAMIC_MARGIN, HANDS_LEAN_RAD, HANDS_TAKE_M, SLACK_M
from simulator.plan.findings import NotJudged
from simulator.plan.flat_rules import flat_not_judged, of_the_flat
from simulator.plan.line_pulls import UNBALANCED
from simulator.plan.rigging_list import EndRigging
from simulator.plan.site_rules import ravine_pads
from simulator.plan.stations import Station, crosses
from simulator.plan.turn_rules import sling_gets_under, turn_not_judged
from simulator.scenario.description import Description
from simulator.scenario.standing import is_short_jacked
from simulator.scenario.unit import Unit


def not_judged(
    description: Description, rigging: tuple[EndRigging, ...], path: tuple[Station, ...]
) -> tuple[NotJudged, ...]:
    """All of it, in the order of the units."""
    found = [
        NotJudged(
            "capacity",
            who,
            "no rating table" + _configured(unit) + ": capacity is looked at by tipping alone, not by strength",
            "the maker's table" + _configured(unit),
        )
        for who, unit in ((f"{one.name} unit", one) for one in description.units)
        if unit.rating is None
    ]
    found += _short_jacked(description)
    worst = max(path, key=lambda one: one.pulls.unbalanced)
    if worst.pulls.unbalanced > UNBALANCED:
        missing = f"its lines do not hold it level ({worst.name}: {100.0 * worst.pulls.unbalanced:.0f} % left over)"
        needs = "picks and line lengths that balance it, tried in a drive"
        found.append(NotJudged("balance", "trailer", missing, needs))
    slings = turn_not_judged(description, path)
    waits = flat_not_judged(description) if crosses(description) else ()
    return (*found, *(one for end in rigging for one in end.missing), *slings, *_faces(description), *waits)


def _short_jacked(description: Description) -> Iterator[NotJudged]:
    """A table of beams all the way out is no table of a unit with its floats farther in."""
    for unit in description.units:
        if unit.rating is not None and unit.configuration is None and is_short_jacked(unit):
            sides = (("road", unit.floats.road_m), ("ravine", unit.floats.ravine_m))
            short = " and ".join(f"{name} side" for name, side_m in sides if side_m < unit.floats.across_m)
            missing = f"short-jacked on its {short}: its table is of beams all the way out"
            needs = "the maker's table of this set-up, named as configuration in its table of units"
            yield NotJudged("capacity", f"{unit.name} unit", missing, needs)


def _configured(unit: Unit) -> str:
    return "" if unit.configuration is None else f" for {unit.configuration}"


def _faces(description: Description) -> Iterator[NotJudged]:
    """Where no table decides whether the slope carries the pads, until somebody qualified has."""
    if description.site.soil.face_judged_by is not None:
        return
    needs = "an engineer's word on it, named as face_judged_by in [site.soil]"
    seen = dict.fromkeys((pad.end, pad.beyond_table) for pad in ravine_pads(description) if pad.beyond_table)
    yield from (
        NotJudged("slope", f"{description.units[end].name} unit", f"an engineer decides: {why}", needs)
        for end, why in seen
    )


def assumptions(description: Description) -> tuple[str, ...]:
    """What is taken as given."""
    return (
        *_of_the_path(description),
        *_of_the_units(description),
        *_of_the_picks(description),
        *sling_gets_under(description),
        *_of_the_site(description),
        *of_the_flat(description),
    )


def _of_the_path(description: Description) -> Iterator[str]:
    if not crosses(description):
        yield "the drill ends before the load crosses: only so far is judged"
    yield (
        "statics along the agreed path, with these allowances and no others: gusts taken twice (machine-design texts); "
        f"every pull {100.0 * (DYNAMIC_MARGIN - 1.0):.0f} % harder for dynamics, {HANDS_TAKE_M:.2f} m of every gap, of "
        f"head room and of the room to land, {degrees(HANDS_LEAN_RAD):.3g} deg off plumb for hands that steer, "
        f"{SLACK_M:.2f} m of slack in each part of line (all measured by this simulator with able operators: people "
        "and machines may do worse)"
    )


def _of_the_units(description: Description) -> Iterator[str]:
    for unit in description.units:
        name = f"{unit.name} unit"
        if unit.rating is not None and unit.rating.invented:
            yield f"{name}: the rating table is invented"
        elif unit.rating is not None and unit.rating.entered is not None:
            yield f"{name}: the rating table{_configured(unit)} is {unit.rating.entered}"
        if unit.wind_stop_mps is None:
            yield f"{name}: no maker's wind limit is given, a usual one is taken (common practice)"
        if any(line.hoist.sheave_diameter_m is None for line in unit.lines):
            yield f"{name}: its sheaves are not stated and taken as large enough for the rope"


def _of_the_picks(description: Description) -> Iterator[str]:
    for pick in description.trailer.picks:
        if pick.may_carry_N is None:
            yield f"{pick.name} pick: what the load bears there is not stated and taken as enough"


def _of_the_site(description: Description) -> Iterator[str]:
    site = description.site
    if site.soil.face_judged_by is not None:
        yield f"the slope under the pads is taken as judged by {site.soil.face_judged_by}"
    if site.wind.speed_mps > 0.0:
        yield (
            f"wind is a mean, measured {site.wind.measured_height_m:g} m over the ground, with gusts of "
            f"{100.0 * site.wind.gust_share:.0f} % on top"
        )
    if site.overhead_line is not None:
        yield (
            "distances to the overhead line are those of 29 CFR 1926.1408, taken as good practice: the rule itself "
            "leaves out wreckers at a wreck (1926.1400(c), from memory)"
        )

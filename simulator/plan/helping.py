"""What would help a lift that is laid out: changes tried one by one by the check, each with what it gains."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import inf
from typing import NamedTuple

from simulator.plan.compare import limit_used
from simulator.plan.findings import ORDER, Amount, Change, Finding
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.plan.spacing import set_back_m, with_set_back
from simulator.plan.starts import settled
from simulator.scenario.checks import faults_of
from simulator.scenario.description import Description

STEP_M = 2.0
"""Stations of a trial while the load crosses."""
STEPS_M = (0.25, 0.5, 1.0)
LEAST_GAIN = 0.02
"""Of the used part of the worst limit: less is no help."""


class Trial(NamedTuple):
    """A change that was tried."""

    change: Change
    lift: Description
    before: Finding
    """What governs without it."""
    after: Finding
    """The same limit with it."""
    used_before: float
    used_after: float
    """Of the worst limit, whichever it is then."""
    stops_after: int
    """How many limits are passed with it."""


def governing_of(check: SetupCheck) -> Finding:
    """The finding whose limit is used most, those past it first."""
    return max(
        (one for one in check.findings if one.reading.stop != inf),
        key=lambda one: (ORDER[one.level], limit_used(one.reading)),
    )


def trials(description: Description, check: SetupCheck, steps_m: tuple[float, ...] = STEPS_M) -> Iterator[Trial | None]:
    """Every change in turn: what it came to, or None where it does not help; ask for one after another.

    A change helps that uses less of the limit which governs, and brings none into its caution or past it that was not.
    """
    worst = governing_of(check)
    for change, lift in _candidates(description, steps_m):
        yield _tried(change, lift, worst, check)


def _tried(change: Change, lift: Description, worst: Finding, before: SetupCheck) -> Trial | None:
    try:
        lift = settled(lift)
        if faults_of(lift):
            return None
        found = check_setup(lift, step_m=STEP_M)
    except (ValueError, ArithmeticError, LookupError):
        return None
    stops = _keys(found, "stop")
    is_worse = not stops <= _keys(before, "stop") or not _keys(found, "caution") <= _keys(before, "caution", "stop")
    same = [one for one in found.findings if (one.reading.code, one.reading.who) == _key(worst)]
    used_before, used_after = most_used(before), most_used(found)
    if is_worse or not same or limit_used(same[0].reading) > limit_used(worst.reading) - LEAST_GAIN:
        return None
    return Trial(change, lift, worst, same[0], used_before, used_after, len(stops))


def most_used(check: SetupCheck) -> float:
    """Of the limit that is used most."""
    return max(limit_used(one.reading) for one in check.findings if one.reading.stop != inf)


def _keys(check: SetupCheck, *levels: str) -> set[tuple[str, str]]:
    return {_key(one) for one in check.findings if one.level in levels}


def _key(one: Finding) -> tuple[str, str]:
    return one.reading.code, one.reading.who


def best(found: list[Trial], most: int = 3) -> tuple[Trial, ...]:
    """The best of each kind of change: fewest limits passed, then least used."""
    ordered = sorted(
        found, key=lambda one: (one.stops_after, round(limit_used(one.after.reading), 2), one.change.amounts[:1])
    )
    kept: dict[str, Trial] = {}
    for one in ordered:
        kept.setdefault(one.change.words, one)
    return tuple(kept.values())[:most]


def _candidates(description: Description, steps_m: tuple[float, ...]) -> Iterator[tuple[Change, Description]]:
    for by_m in steps_m:
        yield from _path(description, by_m)
        yield from _units(description, by_m)
        yield from _place(description, by_m)


def _amounts(by_m: float) -> tuple[Amount, ...]:
    return (Amount(by_m, "m"),)


def _path(description: Description, by_m: float) -> Iterator[tuple[Change, Description]]:
    path = description.path
    for words, sign in (("hold the tips {} higher", 1.0), ("hold the tips {} lower", -1.0)):
        if path.tip_height_m + sign * by_m > path.belly_over_road_m:
            moved = replace(path, tip_height_m=path.tip_height_m + sign * by_m)
            yield Change(words, _amounts(by_m)), replace(description, path=moved)
    for words, sign in (("carry the trailer {} higher", 1.0), ("carry the trailer {} lower", -1.0)):
        if 0.0 <= path.belly_over_road_m + sign * by_m < path.tip_height_m:
            moved = replace(path, belly_over_road_m=path.belly_over_road_m + sign * by_m)
            yield Change(words, _amounts(by_m)), replace(description, path=moved)


def _units(description: Description, by_m: float) -> Iterator[tuple[Change, Description]]:
    for words, sign in (("stand every unit {} farther off", -1.0), ("stand every unit {} nearer", 1.0)):
        if description.gap_m - 2.0 * sign * by_m > 0.0:
            units = tuple(
                replace(unit, slew_axis_x_m=unit.slew_axis_x_m + sign * unit.facing * by_m)
                for unit in description.units
            )
            yield Change(words, _amounts(by_m)), replace(description, units=units)
    for number, unit in enumerate(description.units):
        for words, sign in (
            (f"stand the {unit.name} unit {{}} farther off", -1.0),
            (f"stand the {unit.name} unit {{}} nearer", 1.0),
        ):
            units = tuple(
                replace(one, slew_axis_x_m=one.slew_axis_x_m + sign * one.facing * by_m) if n == number else one
                for n, one in enumerate(description.units)
            )
            yield Change(words, _amounts(by_m)), replace(description, units=units)


def _place(description: Description, by_m: float) -> Iterator[tuple[Change, Description]]:
    """The units nearer to the edge or farther; the load's picks."""
    now = set_back_m(description)
    for words, sign in (
        ("stand the units {} farther from the edge", 1.0),
        ("stand the units {} nearer to the edge", -1.0),
    ):
        if now + sign * by_m > 0.0:
            yield Change(words, _amounts(by_m)), with_set_back(description, now + sign * by_m)
    trailer = description.trailer
    middle = sum(pick.at_m[0] for pick in trailer.picks) / len(trailer.picks)
    for number, pick in enumerate(trailer.picks):
        outward = -1.0 if pick.at_m[0] < middle else 1.0
        low = min(x for part in trailer.parts for x, _ in part.outline_m)
        high = max(x for part in trailer.parts for x, _ in part.outline_m)
        for words, sign in (
            (f"{pick.name} pick {{}} nearer to its end", outward),
            (f"{pick.name} pick {{}} farther from its end", -outward),
        ):
            x, y, z = pick.at_m
            if low <= x + sign * by_m <= high:
                picks = list(trailer.picks)
                picks[number] = replace(pick, at_m=(x + sign * by_m, y, z))
                yield Change(words, _amounts(by_m)), replace(description, trailer=replace(trailer, picks=tuple(picks)))

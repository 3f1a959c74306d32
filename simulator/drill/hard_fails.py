"""What fails a drill whatever its points: a trainer that passes it would praise what parts ropes and turns units over.

That each of these stops a lift is common practice; where a rule says so it stands beside it. Sizes that are our own
choice say so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from simulator.drill.own_lines import own_lines
from simulator.drill.taking_weight import Happening
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Limits
from simulator.scenario.drill import EVERYBODY, Seat
from simulator.scenario.judged_limits import telescopes_against_rule
from simulator.scenario.rig import Rig

AT_END_M = 0.002
"""This near to an end of travel is at it."""
ALL_OF_IT = 1.0
SNATCH_SHARE = 0.25
"""Shock over a line's share of the load: about the dynamic margin of a working load. Our choice, no source."""
OFF_PAPERS_SHARE = 0.10
"""Common practice, no source: a weight more than a tenth off the papers is explained before anyone lifts on."""
DRAGGED_TIMES, DRAGGED_SHARE = 2.0, 0.25
"""Lines that bear this part of their even share, leaning so many times their stop now and in the mean of a sway, drag
their load, which 29 CFR 1926.1417 (its letter (q) from memory) forbids a boom. Our choice of the sizes, no source."""


class Fail(NamedTuple):
    """One thing that fails the drill, at one moment."""

    who: Seat
    rule: str
    reading: str
    value: float
    low_is_worse: bool = False


def failing(
    now: Readings,
    limits: Limits,
    happened: Iterable[Happening],
    rig: Rig,
    telescoped_N: tuple[float, ...] = (),
) -> Iterator[Fail]:
    """All that fails a drill at this moment.

    Args:
        now: readings.
        limits: of the scenario.
        happened: what has just happened as lines took the load.
        rig: of the lift.
        telescoped_N: most hook load with which each unit's boom may be telescoped; none of them has a rule if left out.
    """
    names = rig.unit_names
    for name, unit in zip(names, now.units, strict=True):
        yield from _of_unit(name, unit, limits)
    yield from _dragged(now, limits, rig)
    for name, unit, most_N in zip(names, now.units, telescoped_N, strict=False):
        if telescopes_against_rule(unit, most_N):
            yield Fail(name, "telescoped under load", f"{name}.hook_load_N", unit.hook_load_N)
    for one in happened:
        yield from _of_taking(one, limits, names)


def _of_unit(name: Seat, unit: UnitReadings, limits: Limits) -> Iterator[Fail]:
    if not unit.slack and unit.capacity_used > limits.capacity_stop:
        yield Fail(name, "over capacity", f"{name}.capacity_used", unit.capacity_used)
    if unit.least_float_share < limits.light_float_share * limits.float_stop_factor:
        yield Fail(name, "float about to lift", f"{name}.least_float_share", unit.least_float_share, low_is_worse=True)
    if unit.ground_used > ALL_OF_IT:
        yield Fail(name, "ground over its bearing", f"{name}.ground_used", unit.ground_used)
    # 29 CFR 1926.1416(d)(3), from memory: equipment has to keep the block from the sheave, or warn of it.
    if unit.head_room_m <= AT_END_M:
        yield Fail(name, "two-blocked", f"{name}.head_room_m", unit.head_room_m, low_is_worse=True)
    # 29 CFR 1926.1417(t): two full wraps stay on the drum; usable rope is less these.
    if unit.rope_left_m <= AT_END_M:
        yield Fail(name, "rope past its end", f"{name}.rope_left_m", unit.rope_left_m, low_is_worse=True)


def _dragged(now: Readings, limits: Limits, rig: Rig) -> Iterator[Fail]:
    """Of several lines each bears: one that bears alone leans by itself."""
    even_N = (sum(unit.hook_load_N for unit in now.units) + now.load.ground_N) / len(now.lines)
    for of, unit in zip(rig.units, now.units, strict=True):
        bears = all(line.hook_load_N > DRAGGED_SHARE * even_N for line in own_lines(now, of))
        leans_rad = min(unit.off_plumb_rad, unit.mean_off_plumb_rad)
        if bears and not unit.slack and leans_rad > DRAGGED_TIMES * limits.off_plumb_stop_rad:
            yield Fail(of.name, "dragged far out of plumb", f"{of.name}.mean_off_plumb_rad", unit.mean_off_plumb_rad)


def _of_taking(one: Happening, limits: Limits, names: tuple[str, ...]) -> Iterator[Fail]:
    name, who = ("load", EVERYBODY) if one.end is None else (names[one.end], names[one.end])
    if one.kind == "snatch" and one.value > SNATCH_SHARE:
        yield Fail(who, "snatched from slack", f"{name}.shock_share", one.value)
    if one.kind == "left leaning" and one.value > limits.off_plumb_stop_rad:
        yield Fail(who, "left the ground out of plumb", f"{name}.off_plumb_rad", one.value)
    if one.kind == "lifted on" and abs(one.value) > OFF_PAPERS_SHARE:
        yield Fail(EVERYBODY, "lifted on past a weight that is not the papers'", "load.off_papers_share", one.value)

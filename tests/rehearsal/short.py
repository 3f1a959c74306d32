"""A drill that is rehearsed in a blink, and rows that are made up."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import nan

from simulator.places import find_scenario
from simulator.rehearsal.driven import DrawRow, Job
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.lots import Draw, Lots, drawn
from simulator.rehearsal.many import Where, rehearse
from simulator.scenario.description import Description
from simulator.scenario.reader import load

SEED = 7
DRAWS = 3


@cache
def short_drill() -> Description:
    """Tips plumbed over a load on the bed, a quarter of a minute, at the coarsest step that its contacts allow.

    126 a second as stated, 133 with the load drawn a tenth lighter; the next that twenty readings a second go into.
    """
    lift = load(find_scenario("plumb_tips"))
    engine = replace(lift.engine, steps_per_s=140, readings_per_s=20, footing_every_steps=7)
    return replace(lift, engine=engine)


def lots() -> Lots:
    """Everything drawn."""
    ways = ("able", "a little clumsy")
    return Lots(SEED, (ways, ways), (0.9, 1.1), (-0.3, 0.3), (-0.1, 0.1), (0.0, 6.0))


def job() -> Job:
    """The drill with everything drawn."""
    return Job(short_drill(), lots())


@cache
def alone() -> tuple[DrawRow, ...]:
    """The first draws, on one core."""
    return rehearse(job(), DRAWS, Where(jobs=1))


def made_up(description: Description, number: int, *, ended: str = "landed", **worst: float) -> DrawRow:
    """A row in which nothing counted but what is said, by the keys of limits with their dots written `__`."""
    draw: Draw = drawn(description, lots(), number)
    values = tuple(worst.get(limit.key.replace(".", "__"), nan) for limit in limits_of(description))
    return DrawRow(draw, ended, 100.0 + number, values)  # type: ignore[arg-type]

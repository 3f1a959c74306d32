"""A weighing of one lift: which picks, rigging and blocks go with what is read; only the papers are looked at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Literal

from simulator.mechanics.trailer_body import Vector, body, stated_mass_kg
from simulator.mechanics.weighing import LineReading, Reading, Weighed
from simulator.mechanics.weighing_doubts import Papers
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import RigLine, rig_of

PLUMB = (0.0, 0.0)
APART_M = 0.5
"""Picks this far apart across carry a load that leans to one of them visibly unevenly. Our choice, no source."""
MOST_OVER_PAPERS = 1.5
"""Times the papers: a load heavier than that is not looked for. Our choice, no source."""


def reading_of(
    description: Description,
    loads_N: Mapping[str, float] | Sequence[float],
    *,
    leans_rad: Mapping[str, tuple[float, float]] | None = None,
    pitch_rad: float = 0.0,
    yaw_rad: float = 0.0,
    roll_rad: float = 0.0,
    at_winch: bool = False,
    moved: int = 0,
) -> Reading:
    """What is read of a lift at one moment.

    Args:
        description: the lift; its hidden numbers are not looked at.
        loads_N: line loads as displays show them, block and rigging in them; by the line's name, or in the rig's order.
        leans_rad: off plumb along and across, by the line's name; plumb where none is given.
        pitch_rad: nose up.
        yaw_rad: tail toward the road.
        roll_rad: road side up.
        at_winch: the gauges measure the winch's pull, so the sheaves' friction is in it; else they hang at the hook.
        moved: which way the lines ran last, 1 up, -1 down, 0 unknown.

    Raises:
        ValueError: a line that the lift has not, one that is missing, a load that is no number.
    """
    lines, picks = rig_of(description).lines, body(description.trailer).picks_m
    names = [line.name for line in lines]
    by_name = loads_N if isinstance(loads_N, Mapping) else dict(zip(names, loads_N, strict=True))
    leans = leans_rad or {}
    _refuse_others(names, by_name, leans)
    found = tuple(
        _line(description, line, picks[line.pick], by_name[line.name], leans.get(line.name, PLUMB), at_winch, moved)
        for line in lines
    )
    return Reading(found, pitch_rad, yaw_rad, roll_rad)


def _refuse_others(names: list[str], loads_N: Mapping[str, float], leans: Mapping[str, tuple[float, float]]) -> None:
    if set(loads_N) != set(names) or not set(leans) <= set(names):
        given = ", ".join([*loads_N, *(name for name in leans if name not in loads_N)]) or "no line"
        raise ValueError(f"a weighing: given {given}, allowed: every line of the lift once ({', '.join(names)})")
    for name, load_N in loads_N.items():
        if not isfinite(load_N):
            raise ValueError(f"a weighing: given {load_N} for the {name} line, allowed: a load in N, such as 120e3")


def _line(
    description: Description,
    line: RigLine,
    pick_m: Vector,
    load_N: float,
    lean_rad: tuple[float, float],
    at_winch: bool,
    moved: int,
) -> LineReading:
    unit, pick = description.units[line.unit], description.trailer.picks[line.pick]
    hoist = unit.lines[line.number - 1].hoist
    below = (hoist.block_kg + pick.hung_kg) * STANDARD_GRAVITY_MPS2
    return LineReading(
        line.name, load_N, below, pick_m, pick.height_m, pick.pivot == "bridle_across", *lean_rad,
        parts=hoist.parts if at_winch else 0, moved=moved,
    )  # fmt: skip


def ends_of(description: Description) -> tuple[Vector, Vector]:
    """Least and greatest x, y, z of the load, lying axes from its reference point."""
    found = body(description.trailer)
    return found.low_m, found.high_m


def papers_of(description: Description) -> Papers:
    """Weight on paper; the reference point is the CG on paper."""
    return Papers(stated_mass_kg(description.trailer) * STANDARD_GRAVITY_MPS2)


def _picks_x_m(description: Description) -> list[float]:
    picks = body(description.trailer).picks_m
    return [picks[line.pick][0] for line in rig_of(description).lines]


def nose_most_m(description: Description) -> float:
    """The pick farthest to the nose end, along, from the reference point."""
    return min(_picks_x_m(description))


def tail_most_m(description: Description) -> float:
    """The pick farthest to the tail end."""
    return max(_picks_x_m(description))


HeavyEnd = Literal["nose", "tail", "even"]
HeavySide = Literal["road", "ravine", "even"]


def most_N(description: Description) -> float:
    """The most that a load may weigh while it still lies and nobody knows."""
    return MOST_OVER_PAPERS * papers_of(description).weight_N


def middle_m(description: Description) -> float:
    """Middle between the picks of the two ends, along, from the reference point."""
    picks = body(description.trailer).picks_m
    xs = [picks[line.pick][0] for line in rig_of(description).lines]
    return (min(xs) + max(xs)) / 2.0


def heavy_end(description: Description, found: Weighed) -> HeavyEnd:
    """The end whose lines carry more; `even` where the spread does not say which."""
    off_m = found.cg_m[0] - (nose_most_m(description) + tail_most_m(description)) / 2.0
    return "even" if abs(off_m) <= found.spread_m[0] else "nose" if off_m < 0.0 else "tail"


def tells_across(description: Description) -> bool:
    """A unit has two lines to picks that lie apart across: what they carry tells which side of the load is heavy."""
    picks = body(description.trailer).picks_m
    own = [[picks[line.pick][1] for line in unit.lines] for unit in rig_of(description).units]
    return any(max(ys) - min(ys) >= APART_M for ys in own)


def heavy_side(description: Description, found: Weighed) -> HeavySide:
    """The side of the middle between all picks on which its weight is; `even` where the spread does not say which."""
    picks = body(description.trailer).picks_m
    ys = [picks[line.pick][1] for line in rig_of(description).lines]
    off_m = found.cg_m[1] - (min(ys) + max(ys)) / 2.0
    return "even" if abs(off_m) <= found.spread_m[1] else "road" if off_m > 0.0 else "ravine"

"""What each line of a lift carries at one place: sheaves beside the boom tips, lines plumb or splayed, by statics."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

import numpy as np

from simulator.mechanics.boom import boom_pose
from simulator.mechanics.one_way import line_columns, solve
from simulator.mechanics.trailer_body import Vector
from simulator.scenario.description import Description
from simulator.scenario.rig import Rig, rig_of
from simulator.scenario.standing import askew_way, straight
from simulator.scenario.unit import Unit

UNBALANCED = 0.02
"""Part of the weight, in forces or moments over the load's size, that lines may leave unbalanced by their splay."""


class Pulls(NamedTuple):
    """Lines at one place, in the order of the rig."""

    sheaves_m: tuple[Vector, ...]
    shares: tuple[float, ...]
    """Upward parts, of the weight."""
    splay: tuple[tuple[float, float], ...]
    """Level parts of the pull on the load, of the weight, along and across; nothing on plumb lines."""
    unbalanced: float
    """What no pulls of these lines balance, of the weight."""


def tips_over(description: Description, hooks_m: Sequence[Vector], cg_m: Vector) -> tuple[Vector, ...]:
    """Where the boom tips have to be: each over the middle of its own hooks; a lone one over the center of gravity."""
    rig, tip_z = rig_of(description), description.path.tip_height_m
    if len(rig.units) == 1:
        return ((cg_m[0], cg_m[1], tip_z),)
    found = []
    for unit in rig.units:
        own = [hooks_m[line.pick] for line in unit.lines]
        found.append((sum(x for x, _, _ in own) / len(own), sum(y for _, y, _ in own) / len(own), tip_z))
    return tuple(found)


def is_plumb(rig: Rig) -> bool:
    """Several units with one line each hold it by plumb lines; two lines of one unit come from one tip and splay."""
    return len(rig.units) > 1 and all(len(unit.lines) == 1 for unit in rig.units)


def line_pulls(
    description: Description,
    tips_m: Sequence[Vector],
    hooks_m: Sequence[Vector],
    plumb: Sequence[float],
    cg_m: Vector,
) -> Pulls:
    """What each line carries.

    Args:
        description: the lift.
        tips_m: of every unit.
        hooks_m: over every pick.
        plumb: parts of the weight that plumb lines at the picks would carry.
        cg_m: the center of gravity.
    """
    rig = rig_of(description)
    if is_plumb(rig):
        picks = [line.pick for line in rig.lines]
        return Pulls(tuple(tips_m), tuple(plumb[pick] for pick in picks), tuple((0.0, 0.0) for _ in picks), 0.0)
    sheaves = tuple(sheave_m(description.units[line.unit], tips_m[line.unit], line.number - 1) for line in rig.lines)
    hooks = [hooks_m[line.pick] for line in rig.lines]
    size = max(1.0, *(hypot(x - cg_m[0], y - cg_m[1]) for x, y, _ in hooks))
    ways = [_way(hook, sheave) for hook, sheave in zip(hooks, sheaves, strict=True)]
    arms = [((x - cg_m[0]) / size, (y - cg_m[1]) / size, (z - cg_m[2]) / size) for x, y, z in hooks]
    # No couple about the plumb axis: hung from sheaves that stand askew, the load turns until there is none. Ropes are
    # as stiff as they are short. What would have to push is slack, and the others carry.
    columns = line_columns(ways, arms, 1.0)[:5]
    alike = [
        1.0 / hypot(*(b - a for a, b in zip(hook, at, strict=True))) for hook, at in zip(hooks, sheaves, strict=True)
    ]
    held = solve(columns, alike, (0.0, 0.0, 1.0, 0.0, 0.0))
    pulls = [(s * x, s * y, s * z) for s, (x, y, z) in zip(held.forces_N, ways, strict=True)]
    left = max(map(abs, held.left_over))
    return Pulls(sheaves, tuple(z for _, _, z in pulls), tuple((x, y) for x, y, _ in pulls), left)


def sheave_m(unit: Unit, tip_m: Vector, number: int) -> Vector:
    """A line's sheave beside the boom tip: square to the boom and level."""
    across, slew = unit.lines[number].across_m, boom_pose(unit, straight(unit, tip_m)).slew_rad
    x, y, _ = askew_way(unit, (-across * unit.facing * float(np.sin(slew)), across * float(np.cos(slew)), 0.0))
    return tip_m[0] + x, tip_m[1] + y, tip_m[2]


def _way(hook: Vector, sheave: Vector) -> Vector:
    x, y, z = (b - a for a, b in zip(hook, sheave, strict=True))
    length = hypot(x, y, z) or 1.0
    return x / length, y / length, z / length

"""How far each end of a load is turned over by its own two lines, told from the pose and the lines' lengths.

The load is stiff, so both ends are turned alike as bodies. What differs is how far each end's lines have been paid out
and in: the way that this end would still turn if it hung on them alone. Near the pose it is, a line's distance grows by
-m with each radian of roll, m being the arm of its pull about the length of the load; the end hangs where both of its
lines are stretched alike. First order, so good to a tenth of a degree while ends differ by a few (own calculation).
"""

from __future__ import annotations

from math import ceil, nan, radians

from simulator.mechanics.sling import Sling, trailer_sling
from simulator.mechanics.trailer import Vector, rotation, stated_cg_m, turned_back
from simulator.scenario.rig import RigLine
from simulator.scenario.trailer import Trailer

CORNER_RAD = radians(90.0)
"""From one resting side of a trailer to the next."""
SLOW_FROM_RAD = radians(5.0)
"""Before a corner: there the turn stops, settles, and goes on slowly."""
LEAST_ARM_M = 0.05
"""Two lines whose arms differ by less turn nothing."""


def line_slings(trailer: Trailer, lines: tuple[RigLine, ...]) -> tuple[Sling, ...]:
    """The sling of each line, in lying axes from the stated center of gravity."""
    picks, from_m = trailer.picks, stated_cg_m(trailer)
    return tuple(
        trailer_sling(
            trailer,
            picks[line.pick].at_m,
            from_m=from_m,
            lies_on=getattr(picks[line.pick], "lies_on", None),
            sling_m=picks[line.pick].height_m,
        )
        for line in lines
    )


def in_load_axes(at_m: Vector, reference_m: Vector, angles_rad: Vector) -> Vector:
    """A place of the world in the load's axes.

    Args:
        at_m: the place.
        reference_m: the load's reference point, in the world.
        angles_rad: pitch, yaw, roll.
    """
    x, y, z = (at - origin for at, origin in zip(at_m, reference_m, strict=True))
    return turned_back(rotation(*angles_rad), (x, y, z))


def arm_m(sling: Sling, sheave_m: Vector) -> float:
    """Of a unit pull about the load's length through its reference point: positive lifts the road side.

    Args:
        sling: from `line_slings`.
        sheave_m: in the load's axes.
    """
    run = sling.run(sheave_m)
    return run.leaves_m[1] * run.toward[2] - run.leaves_m[2] * run.toward[1]


def way(slings: tuple[Sling, ...]) -> float:
    """Which way the load rolls when line 1 goes out and line 2 in: -1 when its road side goes down, 0 for one line."""
    if len(slings) < 2:
        return 0.0
    high: Vector = (slings[0].x_m, 0.0, 8.0)
    arms = [arm_m(sling, high) for sling in slings]
    return -1.0 if arms[0] > arms[-1] else 1.0


def end_roll_rad(roll_rad: float, arms_m: tuple[float, ...], stretches_m: tuple[float, ...]) -> float:
    """The roll at which an end would hang on its own two lines; the load's own where it has one line.

    Args:
        roll_rad: of the load.
        arms_m: of its lines, as `arm_m` tells them.
        stretches_m: of its lines, sheave to hook less its unloaded length; below zero: slack by so much.
    """
    if len(arms_m) < 2:
        return roll_rad
    apart = arms_m[0] - arms_m[-1]
    if abs(apart) < LEAST_ARM_M:
        return nan
    return roll_rad + (stretches_m[0] - stretches_m[-1]) / apart


def next_corner_rad(turned_rad: float) -> float:
    """The quarter turn that comes next; within half a degree of one, the one after it."""
    return CORNER_RAD * ceil((turned_rad + radians(0.5)) / CORNER_RAD + 1e-12)

"""How far each end of a load is turned over by its own two lines, told from the pose and the lines' lengths.

The load is stiff, so both ends are turned alike as bodies. What differs is how far each end's lines have been paid out
and in: the way that this end would still turn if it hung on them alone. Near the pose it is, a line's distance grows by
-m with each radian of roll, m being the arm of its pull about the length of the load; the end hangs where both of its
lines are stretched alike. First order, so good to a tenth of a degree while ends differ by a few (own calculation).
"""

from __future__ import annotations

from math import ceil, hypot, nan, radians
from typing import NamedTuple

from simulator.mechanics.sling import Sling, trailer_sling
from simulator.mechanics.trailer_body import Vector, lying, rotation, stated_cg_m, turned_back
from simulator.scenario.rig import RigLine
from simulator.scenario.trailer import Pick, Trailer

CORNER_RAD = radians(90.0)
"""From one resting side of a trailer to the next."""
SLOW_FROM_RAD = radians(5.0)
"""Before a corner: there the turn stops, settles, and goes on slowly."""
HIGH_M = 8.0
"""Over the load, where a sheave is taken for which way a line turns it."""
LEAST_ARM_M = 0.05
"""Two lines whose arms differ by less turn nothing."""


class LineWay(NamedTuple):
    """How a line meets the load, in lying axes from the stated center of gravity."""

    pick_m: Vector
    sling: Sling | None
    """None: it goes straight, and is not looked at for bearing on the load."""

    def points(self, sheave_m: Vector) -> list[tuple[float, float]]:
        """(y, z) of where it lies on the load, from the pick to where it leaves; the pick alone where it is straight.

        Args:
            sheave_m: in the load's axes.
        """
        if self.sling is None:
            return [(self.pick_m[1], self.pick_m[2])]
        return self.sling.points((sheave_m[1], sheave_m[2]))

    def arm_m(self, sheave_m: Vector) -> float:
        """Of a unit pull about the load's length through its reference point: positive lifts the road side.

        Args:
            sheave_m: in the load's axes.
        """
        if self.sling is not None:
            run = self.sling.run(sheave_m)
            return run.leaves_m[1] * run.toward[2] - run.leaves_m[2] * run.toward[1]
        to = [at - own for at, own in zip(sheave_m, self.pick_m, strict=True)]
        return (self.pick_m[1] * to[2] - self.pick_m[2] * to[1]) / hypot(*to)


def line_ways(trailer: Trailer, lines: tuple[RigLine, ...]) -> tuple[LineWay, ...]:
    """How each line meets the load."""
    return tuple(_line_way(trailer, trailer.picks[line.pick]) for line in lines)


def _line_way(trailer: Trailer, pick: Pick) -> LineWay:
    from_m = stated_cg_m(trailer)
    x, y, z = (at - origin for at, origin in zip(pick.at_m, from_m, strict=True))
    at_m = lying(trailer.attitude, (x, y, z))
    if pick.sling_length_m is None and pick.lies_on is None:
        return LineWay(at_m, None)
    length = pick.height_m if pick.sling_length_m is None else pick.sling_length_m
    return LineWay(at_m, trailer_sling(trailer, pick.at_m, from_m=from_m, lies_on=pick.lies_on, sling_m=length))


def in_load_axes(at_m: Vector, reference_m: Vector, angles_rad: Vector) -> Vector:
    """A place of the world in the load's axes.

    Args:
        at_m: the place.
        reference_m: the load's reference point, in the world.
        angles_rad: pitch, yaw, roll.
    """
    x, y, z = (at - origin for at, origin in zip(at_m, reference_m, strict=True))
    return turned_back(rotation(*angles_rad), (x, y, z))


def way(ways: tuple[LineWay, ...]) -> float:
    """Which way the load rolls when line 1 goes out and line 2 in: -1 when its road side goes down, 0 for one line."""
    if len(ways) < 2:
        return 0.0
    arms = [one.arm_m((one.pick_m[0], 0.0, HIGH_M)) for one in ways]
    return -1.0 if arms[0] > arms[-1] else 1.0


def end_roll_rad(roll_rad: float, arms_m: tuple[float, ...], stretches_m: tuple[float, ...]) -> float:
    """The roll at which an end would hang on its own two lines; the load's own where it has one line.

    Args:
        roll_rad: of the load.
        arms_m: of its lines, as `LineWay.arm_m` tells them.
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

"""Where a boom has to stand for its tip to lean onto a place: by hand, on four equal floats under a level unit."""

from __future__ import annotations

from math import atan2, cos, hypot, sin

from simulator.mechanics.boom_section import tip_give_m_per_N
from simulator.mechanics.trailer_body import Vector
from simulator.plan.unit_stand import Pull
from simulator.scenario.unit import Unit

ROUNDS = 20
"""Each takes a tenth or less of the error of the one before."""


def stands_for(unit: Unit, tip_m: Vector, pull: Pull) -> Vector:
    """Length, elevation and slew of the boom that all its lines pull onto a tip (x, y, z).

    Statics: a unit that is pulled by F at its tip (u, v, z from the middle of its floats, those a and b off it) leans
    by (Fz u - Fu z) / (4 k a^2) and (Fz v - Fv z) / (4 k b^2) and sinks by -Fz / (4 k); its boom bends by its give for
    each newton that is square to it.
    """
    floats, facing = unit.floats, unit.facing
    force = facing * pull.level_N[0], pull.level_N[1], -pull.down_N
    u, v, z = facing * (tip_m[0] - unit.slew_axis_x_m), tip_m[1], tip_m[2]
    half, springs = (floats.toward_tailboard_m + floats.toward_cab_m) / 2.0, 4.0 * floats.stiffness_N_per_m
    from_middle = u - (floats.toward_tailboard_m - floats.toward_cab_m) / 2.0
    lean_u = (force[2] * from_middle - force[0] * z) / (springs * half**2)
    lean_v = (force[2] * v - force[1] * z) / (springs * floats.across_m**2)
    frame = (-z * lean_u, -z * lean_v, force[2] / springs + from_middle * lean_u + v * lean_v)
    bent = (0.0, 0.0, 0.0)
    for _ in range(ROUNDS):
        pose = length, elevation, slew = _straight_to(unit, _less(_less((u, v, z), frame), bent))
        way = cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation)
        bent = _square(force, way, tip_give_m_per_N(unit.boom, unit.boom_kg, length))
    return pose


def _straight_to(unit: Unit, tip_m: Vector) -> Vector:
    level = hypot(tip_m[0], tip_m[1]) + unit.boom.foot_pin_back_m
    rise = tip_m[2] - unit.boom.foot_pin_height_m
    return hypot(level, rise), atan2(rise, level), atan2(tip_m[1], tip_m[0])


def _less(first: Vector, second: Vector) -> Vector:
    return first[0] - second[0], first[1] - second[1], first[2] - second[2]


def _square(force_N: Vector, way: Vector, give_m_per_N: float) -> Vector:
    along = sum(one * part for one, part in zip(force_N, way, strict=True))
    u, v, z = _less(force_N, (along * way[0], along * way[1], along * way[2]))
    return give_m_per_N * u, give_m_per_N * v, give_m_per_N * z

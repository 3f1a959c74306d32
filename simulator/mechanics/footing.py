"""From a unit's weights and its line's pull to the load on its four floats.

Everything is in the unit's own axes: u from the slew axis toward the tailboard, v toward the road, z up from the
ground. A unit that does not stand level is reckoned in its own axes with all forces turned by the level error instead.
"""

from __future__ import annotations

from math import cos, sin
from typing import Generic, NamedTuple, TypeVar

import numpy as np

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.boom_section import moving_share
from simulator.mechanics.four_floats import Frame, point_moved
from simulator.mechanics.going_over import Masses
from simulator.mechanics.lean import Bend, boom_compliance, displacement_m
from simulator.mechanics.matrix import Vector
from simulator.mechanics.outriggers import FloatArray, Footing, Four, frame, solve
from simulator.mechanics.unit_loads import Stand as Stand
from simulator.mechanics.unit_loads import least_float as least_float
from simulator.mechanics.unit_loads import weights
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.unit import Floats, Unit

CARRIER_CG_HEIGHT_M = 1.1
"""Common practice, no source."""
SUPERSTRUCTURE_CG_HEIGHT_M = 2.2
"""Common practice, no source."""

Number = TypeVar("Number", float, FloatArray)


class Load(NamedTuple, Generic[Number]):
    """What acts on the frame: vertical load, and moments toward u and v about the slew axis at the ground."""

    vertical_N: Number
    moment_u_Nm: Number
    moment_v_Nm: Number


def frame_of(floats: Floats) -> Frame:
    """The frame of a unit's floats, soft ground included."""
    front, back, road, ravine = floats.toward_tailboard_m, -floats.toward_cab_m, floats.road_m, -floats.ravine_m
    places = ((front, road), (front, ravine), (back, road), (back, ravine))
    return frame(places, [floats.stiffness_N_per_m * share for share in floats.soft_float_share])


def stand(
    unit: Unit,
    *,
    cross_fall_rad: float = 0.0,
    carrier_cg_height_m: float = CARRIER_CG_HEIGHT_M,
    superstructure_cg_height_m: float = SUPERSTRUCTURE_CG_HEIGHT_M,
) -> Stand:
    """A unit's numbers.

    Args:
        unit: its description.
        cross_fall_rad: what the jacks have not taken out of the road's cross-fall; added to the unit's level error.
        carrier_cg_height_m: above the ground.
        superstructure_cg_height_m: above the ground.
    """
    g = STANDARD_GRAVITY_MPS2
    carrier, superstructure, boom = unit.carrier_kg * g, unit.superstructure_kg * g, unit.boom_kg * g
    slope_u, slope_v = sin(unit.level_along_rad), -sin(unit.level_across_rad + cross_fall_rad)
    heights = carrier * carrier_cg_height_m + superstructure * superstructure_cg_height_m
    made = Stand(
        frame_of(unit.floats),
        unit.boom.foot_pin_height_m,
        carrier + superstructure + boom,
        sum(line.hoist.block_kg for line in unit.lines) * g,
        carrier * unit.carrier_cg_m,
        superstructure * unit.superstructure_cg_m + boom * unit.boom.foot_pin_back_m,
        boom * unit.boom_cg_share,
        heights + boom * unit.boom.foot_pin_height_m,
        (slope_u, slope_v),
    )
    made.foot_pin_back_m, made.moving_N = unit.boom.foot_pin_back_m, boom * moving_share(unit.boom)
    return made


def masses(unit: Unit) -> Masses:
    """A unit's masses and how they are spread: a carrier from its cab's front to its tailboard, as wide as it is and
    twice as high as its CG; a superstructure as a block as wide as its body; a boom as a rod from foot pin to tip. Each
    is taken as evenly filled (common practice, no source: makers state no inertia)."""
    made = Masses(unit.carrier_kg, unit.superstructure_kg, unit.boom_kg)
    long, wide, high = unit.cab_front_m + unit.tailboard_m, unit.carrier_width_m, 2.0 * CARRIER_CG_HEIGHT_M
    made.carrier = -unit.carrier_cg_m, 0.0, CARRIER_CG_HEIGHT_M
    made.spread = long * long / 12.0, wide * wide / 12.0, high * high / 12.0
    made.upper_m = unit.superstructure_cg_m, SUPERSTRUCTURE_CG_HEIGHT_M
    made.upper = unit.superstructure_radius_m * unit.superstructure_radius_m / 3.0
    made.boom_share = unit.boom_cg_share
    made.behind_m = unit.boom.foot_pin_back_m, unit.boom.foot_pin_height_m
    return made


def own_load(on: Stand, pose: BoomPose) -> Load[float]:
    """Load of carrier, superstructure and boom, block and line left out."""
    length, elevation, slew = pose
    return own_load_of(on, length * cos(elevation), length * sin(elevation), cos(slew), sin(slew))


def own_load_of(on: Stand, out_m: float, rise_m: float, cos_slew: float, sin_slew: float) -> Load[float]:
    """`own_load` of a boom whose tip is `out_m` from its foot pin on the level, and `rise_m` over it."""
    return Load(*weights(on, out_m, rise_m, cos_slew, sin_slew))


def own_load_many(on: Stand, length_m: FloatArray, elevation_rad: FloatArray, slew_rad: FloatArray) -> Load[FloatArray]:
    """`own_load` for arrays of boom length, elevation and slew."""
    out, rise = length_m * np.cos(elevation_rad), length_m * np.sin(elevation_rad)
    radial, height = (on.boom_N * out - on.behind_Nm) * on.upright, on.raised_Nm + on.boom_N * rise
    u = radial * np.cos(slew_rad) - on.carrier_Nm * on.upright + on.slope_u * height
    return Load(np.full_like(u, on.weight_N * on.upright), u, radial * np.sin(slew_rad) + on.slope_v * height)


def pull_load(on: Stand, tip_m: tuple[Number, Number, Number], force_N: tuple[Number, Number, Number]) -> Load[Number]:
    """`unit_loads.pulled_at` for numbers or arrays.

    Args:
        on: the unit.
        tip_m: (u, v, z) of the tip, as a unit that stands level would hold it.
        force_N: (Fu, Fv, Fz) on the tip; a hanging load is negative along z.
    """
    (u, v, z), (fu, fv, fz) = tip_m, force_N
    along = fu * on.upright - on.slope_u * fz
    across = fv * on.upright - on.slope_v * fz
    down = -fz * on.upright - on.slope_u * fu - on.slope_v * fv
    return Load(down, down * u + along * z, down * v + across * z)


def together(first: Load[Number], second: Load[Number]) -> Load[Number]:
    """Both loads at once. Numbers or arrays."""
    return Load(
        first.vertical_N + second.vertical_N,
        first.moment_u_Nm + second.moment_u_Nm,
        first.moment_v_Nm + second.moment_v_Nm,
    )


def footing(
    on: Stand,
    pose: BoomPose,
    tip_m: tuple[float, float, float],
    force_N: tuple[float, float, float],
    *,
    settled_m: Four | None = None,
) -> Footing:
    """How the unit stands with its boom at `pose` and its line pulling on the tip (unit's own axes)."""
    return solve(on.frame, *together(own_load(on, pose), pull_load(on, tip_m, force_N)), settled_m=settled_m)


def gives_way_m(
    on: Stand, bend: Bend, pose: BoomPose, tip_m: tuple[float, float, float], force_N: tuple[float, float, float]
) -> Vector:
    """How far a pull moves the tip: the boom bends, the frame sinks and leans on its floats. Unit's own axes.

    Args:
        on: the unit.
        bend: of its boom.
        pose: of the boom, were it stiff.
        tip_m: (u, v, z) of the tip as it stands under the pull.
        force_N: (Fu, Fv, Fz) on the tip.
    """
    own = own_load(on, pose)
    with_it, without = solve(on.frame, *together(own, pull_load(on, tip_m, force_N))), solve(on.frame, *own)
    u, v, z = displacement_m(boom_compliance(bend, pose), force_N)
    if with_it.tips or without.tips:
        return u, v, z
    fu, fv, fz = point_moved(tip_m, with_it[-3:], without[-3:])
    return u + fu, v + fv, z + fz


def resting_loads(on: Stand, unit: Unit, boom_length_m: float, elevation_rad: float) -> Four:
    """Float reactions with the hook empty (block hanging) and the boom over the tailboard."""
    out = boom_length_m * cos(elevation_rad) - unit.boom.foot_pin_back_m
    tip = (out, 0.0, unit.boom.foot_pin_height_m + boom_length_m * sin(elevation_rad))
    return footing(on, BoomPose(boom_length_m, elevation_rad, 0.0), tip, (0.0, 0.0, -on.block_N)).reactions_N


def own_axes(facing: float, vector: tuple[float, float, float]) -> tuple[float, float, float]:
    """A force along x, y, z in the unit's own u, v, z, and back. `facing` as `boom.facing`."""
    return facing * vector[0], vector[1], vector[2]

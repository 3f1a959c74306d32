"""How a unit stands under its line's pull: floats, capacity, and what the tip gives along the line and square to it."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from simulator.engine.drives import Drives
from simulator.engine.lines import Hang
from simulator.engine.model import Side
from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.boom import BoomPose, facing, tip_m
from simulator.mechanics.footing import Load, least_float, own_axes, own_load, pull_load, together
from simulator.mechanics.hoist_line import rope_left_m
from simulator.mechanics.lean import along_m_per_N, boom_compliance, displacement_m, tip_compliance, world_axes
from simulator.mechanics.outriggers import Footing, Four, solve
from simulator.mechanics.rating import capacity_used, tipping_load_N
from simulator.mechanics.trailer import Vector

LEVEL_GROUND: Four = (0.0, 0.0, 0.0, 0.0)
ALMOST_SLACK_N = 2000.0
"""Under this line load the give along the line is taken from the springs alone, not from the displacement."""


class Stance(NamedTuple):
    """One unit's footing at a moment."""

    lean_to_m: Vector
    """Where the tip's lean is going: square to the line, and wherever settled floats take it."""
    give_m_per_N: float
    """Structure's give along the line."""
    floats_N: Four
    least_float: int
    least_float_share: float
    ground_used: float
    capacity_used: float
    tipping: bool
    stalled: bool
    sunk_m: Four
    """How far each float has settled into ground it overloads."""


UNLOADED = Stance((0.0, 0.0, 0.0), 0.0, LEVEL_GROUND, 0, 1.0, 0.0, 0.0, False, False, LEVEL_GROUND)


def stance(side: Side, drives: Drives, line: Hang, line_load_N: float, before: Stance, dt: float) -> Stance:
    """The unit's answer to its line load.

    Args:
        side: the unit and its end of the load.
        drives: where its functions stand.
        line: the line's direction (unit vector, hook to sheave).
        line_load_N: pull in the line.
        before: its stance `dt` seconds ago.
        dt: s.
    """
    unit, stand = side.unit, side.stand
    pose = BoomPose(drives.length_m, drives.elevation_rad, drives.slew_rad)
    x, y, z = tip_m(unit, side.end, pose)
    tip = own_axes(facing(side.end), (x - unit.slew_axis_x_m, y, z))
    force = (-line.ux * line_load_N, -line.uy * line_load_N, -line.uz * line_load_N)
    own = own_load(stand, pose)
    load = together(own, pull_load(stand, tip, own_axes(facing(side.end), force)))
    footing = solve(stand.frame, *load, settled_m=before.sunk_m)
    lean, give = _gives(side, pose, tip, line, line_load_N, own, footing, before.sunk_m)
    index, share = least_float(footing.reactions_N, side.resting_N)
    radius = hypot(line.hook[0] - unit.slew_axis_x_m, line.hook[1])
    tipping_N = tipping_load_N(stand, own, tip)
    used = [bearing_used(reaction, unit.floats.pad_side_m, side.bearing_Pa) for reaction in footing.reactions_N]
    return Stance(
        lean_to_m=lean,
        give_m_per_N=give,
        floats_N=footing.reactions_N,
        least_float=index,
        least_float_share=share,
        ground_used=max(used),
        capacity_used=capacity_used(line_load_N, unit, drives.length_m, radius, tipping_N),
        tipping=footing.tips,
        stalled=line_load_N >= _stall_N(side, rope_left_m(unit.hoist, drives.rope_out_m)),
        sunk_m=_settled(side, used, before.sunk_m, dt),
    )


def _gives(
    side: Side, pose: BoomPose, tip: Vector, line: Hang, line_load_N: float, own: Load[float], now: Footing, sunk: Four
) -> tuple[Vector, float]:
    """The tip's lean square to the line, and the structure's give along it.

    The tip's displacement is the boom's bending and the frame's sink and tilts with the line less those without it.
    Its part along the line is in the line's spring and is taken out here, so that it counts once.
    """
    stand, boom, way = side.stand, side.unit.boom, facing(side.end)
    direction = (line.ux, line.uy, line.uz)
    if line_load_N < ALMOST_SLACK_N:
        springs = world_axes(way, tip_compliance(stand.frame, boom, pose, tip))
        return _settlement(side, tip, own, sunk), along_m_per_N(springs, direction)
    bx, by, bz = displacement_m(world_axes(way, boom_compliance(boom, pose)), direction)
    fu, fv, fz = _moved(tip, now, solve(stand.frame, *own, settled_m=sunk))
    x, y, z = way * fu - line_load_N * bx, fv - line_load_N * by, fz - line_load_N * bz
    along = x * line.ux + y * line.uy + z * line.uz
    sx, sy, sz = _settlement(side, tip, own, sunk)
    return (x - along * line.ux + sx, y - along * line.uy + sy, z - along * line.uz + sz), -along / line_load_N


def _stall_N(side: Side, rope_left: float) -> float:
    """Line load at which the winch stalls on the layer in play."""
    for up_to, load in side.stall:
        if rope_left <= up_to:
            return load
    return side.stall[-1][1]


def _moved(tip: Vector, now: Footing, before: Footing) -> Vector:
    """Displacement of the tip (unit's own axes) between two footings of its frame."""
    u, v, z = tip
    sink = now.sink_m - before.sink_m
    lean_u, lean_v = now.lean_u_rad - before.lean_u_rad, now.lean_v_rad - before.lean_v_rad
    return z * lean_u, z * lean_v, -(sink + u * lean_u + v * lean_v)


def _settlement(side: Side, tip: Vector, own: Load[float], sunk: Four) -> Vector:
    """Where settled floats have taken the tip."""
    if sunk == LEVEL_GROUND:
        return 0.0, 0.0, 0.0
    frame = side.stand.frame
    return own_axes(facing(side.end), _moved(tip, solve(frame, *own, settled_m=sunk), solve(frame, *own)))


def _settled(side: Side, used: list[float], sunk: Four, dt: float) -> Four:
    """Floats whose ground is exceeded go on sinking."""
    if max(used) <= 1.0:
        return sunk
    rate = side.settle_mps
    a, b, c, d = (down + rate * max(0.0, share - 1.0) * dt for down, share in zip(sunk, used, strict=True))
    return a, b, c, d

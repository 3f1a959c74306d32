"""How a unit stands under its line's pull: floats, capacity, and what the tip gives along the line and square to it."""

from __future__ import annotations

from math import cos, hypot, sin
from typing import NamedTuple

from simulator.engine.drives import Drives
from simulator.engine.lines import Hang
from simulator.engine.made import made
from simulator.engine.model import Side
from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.boom import tip_beyond
from simulator.mechanics.footing import Load, least_float, own_load_of, pull_load, together
from simulator.mechanics.hoist_line import rope_left_m
from simulator.mechanics.lean import along_m_per_N, bending, both, displacement_m, frame_compliance
from simulator.mechanics.outriggers import Footing, Four, solve
from simulator.mechanics.rating import capacity_used, tipping_load_N
from simulator.mechanics.trailer import Matrix, Vector

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
    unit, stand, sunk = side.unit, side.stand, before.sunk_m
    rope, length, elevation, slew, _, _, _, _ = drives
    level, steep, cos_slew, sin_slew = cos(elevation), sin(elevation), cos(slew), sin(slew)
    out, rise = length * level, length * steep
    axis_x, way, _, _ = side.foot
    hook, _, ux, uy, uz = line
    x, y, z = tip_beyond(side.foot, out, rise, cos_slew, sin_slew)
    tip, direction = (way * (x - axis_x), y, z), (way * ux, uy, uz)
    own = own_load_of(stand, out, rise, cos_slew, sin_slew)
    pulled = -way * ux * line_load_N, -uy * line_load_N, -uz * line_load_N
    footing = solve(stand.frame, *together(own, pull_load(stand, tip, pulled)), settled_m=_if_any(sunk))
    bent = bending(unit.boom, length, (level * cos_slew, level * sin_slew, steep))
    lean, give = _gives(side, bent, tip, direction, line_load_N, own, footing, sunk)
    floats = footing.reactions_N
    index, share = least_float(floats, side.resting_N)
    ground_used = bearing_used(max(floats), unit.floats.pad_side_m, side.bearing_Pa)
    radius = hypot(hook[0] - axis_x, hook[1])
    capacity = capacity_used(line_load_N, unit, length, radius, tipping_load_N(stand, own, tip))
    stalled = line_load_N >= _stall_N(side, rope_left_m(unit.hoist, rope))
    if ground_used > 1.0:
        sunk = _settled(side, floats, sunk, dt)
    return made(Stance, (lean, give, floats, index, share, ground_used, capacity, footing.tips, stalled, sunk))


def _gives(
    side: Side, bent: Matrix, tip: Vector, line: Vector, line_load_N: float, own: Load[float], now: Footing, sunk: Four
) -> tuple[Vector, float]:
    """The tip's lean (world) square to the line, and the structure's give along it; all else in the unit's own axes.

    The tip's displacement is the boom's bending and the frame's sink and tilts with the line less those without it.
    Its part along the line is in the line's spring and is taken out here, so that it counts once.
    """
    frame, way = side.stand.frame, side.foot.facing
    settled_x, settled_y, settled_z = _settlement(side, tip, own, sunk)
    if line_load_N < ALMOST_SLACK_N:
        return (settled_x, settled_y, settled_z), along_m_per_N(both(frame_compliance(frame, tip), bent), line)
    bu, bv, bz = displacement_m(bent, line)
    fu, fv, fz = _moved(tip, now, solve(frame, *own, settled_m=_if_any(sunk)))
    u, v, z = fu - line_load_N * bu, fv - line_load_N * bv, fz - line_load_N * bz
    du, dv, dz = line
    along = u * du + v * dv + z * dz
    square = way * (u - along * du) + settled_x, v - along * dv + settled_y, z - along * dz + settled_z
    return square, -along / line_load_N


def _if_any(sunk: Four) -> Four | None:
    """How far floats have settled, if any has."""
    return None if sunk == LEVEL_GROUND else sunk


def _stall_N(side: Side, rope_left: float) -> float:
    """Line load at which the winch stalls on the layer in play."""
    for up_to, load in side.stall:
        if rope_left <= up_to:
            return load
    return side.stall[-1][1]


def _moved(tip: Vector, now: Footing, before: Footing) -> Vector:
    """Displacement of the tip (unit's own axes) between two footings of its frame."""
    u, v, z = tip
    _, _, sink, lean_u, lean_v = now
    _, _, old_sink, old_u, old_v = before
    sink, lean_u, lean_v = sink - old_sink, lean_u - old_u, lean_v - old_v
    return z * lean_u, z * lean_v, -(sink + u * lean_u + v * lean_v)


def _settlement(side: Side, tip: Vector, own: Load[float], sunk: Four) -> Vector:
    """Where settled floats have taken the tip."""
    if sunk == LEVEL_GROUND:
        return 0.0, 0.0, 0.0
    frame = side.stand.frame
    u, v, z = _moved(tip, solve(frame, *own, settled_m=sunk), solve(frame, *own))
    return side.foot.facing * u, v, z


def _settled(side: Side, reactions_N: Four, sunk: Four, dt: float) -> Four:
    """Floats whose ground is exceeded go on sinking."""
    used = [bearing_used(reaction, side.unit.floats.pad_side_m, side.bearing_Pa) for reaction in reactions_N]
    rate = side.settle_mps
    a, b, c, d = (down + rate * max(0.0, share - 1.0) * dt for down, share in zip(sunk, used, strict=True))
    return a, b, c, d

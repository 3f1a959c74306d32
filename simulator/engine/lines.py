"""The pull of one hoist line on the trailer: tension only, elastic, along the true direction from sheave to hook."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from simulator.engine.made import made
from simulator.engine.motion import Motion
from simulator.mechanics.trailer import Matrix, Vector


class Hang(NamedTuple):
    """Where a line hangs: upper end, hook, distance, direction."""

    hook: Vector
    distance_m: float
    ux: float
    uy: float
    uz: float
    """Unit vector, hook to sheave."""


class Pull(NamedTuple):
    """Force on the trailer at the hook, and its moment about the CG."""

    size_N: float
    fx: float
    fy: float
    fz: float
    mx: float
    my: float
    mz: float


SLACK = Pull(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def hang(tip: Vector, pick: Vector, matrix: Matrix, height_m: float, *, across_rigid: bool) -> Hang:
    """The weightless rigging between hook and trailer finds its own lean.

    Single point: rigging lies in line with the rope. Bridle or basket across: it is rigid to the trailer for roll and
    free about the pick line for pitch, so it lines up with the rope in the plane square to the trailer's cross axis.

    Args:
        tip: line's upper end, m.
        pick: pick point in the world, m.
        matrix: lying axes to world.
        height_m: pick line to hook.
        across_rigid: bridle or basket across.
    """
    tx, ty, tz = tip
    px, py, pz = pick
    lx, ly, lz = tx - px, ty - py, tz - pz
    if across_rigid:
        ex, ey, ez = matrix[1], matrix[4], matrix[7]
        off = lx * ex + ly * ey + lz * ez
        lx, ly, lz = lx - off * ex, ly - off * ey, lz - off * ez
    stretch = height_m / sqrt(lx * lx + ly * ly + lz * lz)
    hook = hx, hy, hz = px + stretch * lx, py + stretch * ly, pz + stretch * lz
    dx, dy, dz = tx - hx, ty - hy, tz - hz
    distance = sqrt(dx * dx + dy * dy + dz * dz)
    return made(Hang, (hook, distance, dx / distance, dy / distance, dz / distance))


def pull(
    line: Hang,
    tip_velocity: Vector,
    motion: Motion,
    length_m: float,
    pay_out_mps: float,
    stiffness: float,
    damper: float,
) -> Pull:
    """T = max(0, k (d - l) + c (d' - l')), none when d <= l.

    Args:
        line: where it hangs.
        tip_velocity: of the upper end, m/s.
        motion: trailer (pose at which the force is taken, with its velocities).
        length_m: unloaded sheave to hook.
        pay_out_mps: its rate.
        stiffness: N/m.
        damper: N s/m.
    """
    (hx, hy, hz), distance, ux, uy, uz = line
    stretch = distance - length_m
    if stretch <= 0.0:
        return SLACK
    x, y, z, _, _, _, mvx, mvy, mvz, _, _, _, ox, oy, oz, _, _, _ = motion
    tip_vx, tip_vy, tip_vz = tip_velocity
    rx, ry, rz = hx - x, hy - y, hz - z
    vx = tip_vx - mvx - (oy * rz - oz * ry)
    vy = tip_vy - mvy - (oz * rx - ox * rz)
    vz = tip_vz - mvz - (ox * ry - oy * rx)
    size = stiffness * stretch + damper * (vx * ux + vy * uy + vz * uz - pay_out_mps)
    if size <= 0.0:
        return SLACK
    fx, fy, fz = size * ux, size * uy, size * uz
    return made(Pull, (size, fx, fy, fz, ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx))

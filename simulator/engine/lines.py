"""Hoist lines: where each hangs, and what the lines of a unit bear. Tension only, elastic, along the true direction.

The structure's give is shared by all lines of a unit: it gives g along the sum of their pulls, for each newton of that
sum. With p the cosine between a line and that sum, r the rope's own give and s the stretch from sheave to hook,

    s_i = r_i T_i + g p_i (p_1 T_1 + p_2 T_2 + ...)

for all lines that bear. Solved for the pulls: T_i = k_i (s_i + g sum_j p_j / r_j (p_j s_i - p_i s_j)), with
k_i = 1 / (r_i + g (p_i^2 + r_i sum_j p_j^2 / r_j)), j the other lines that bear: a line alone has k = 1 / (r + g).
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.engine.moving import Body, Line, Unit, Wrench, nothing
from simulator.engine.round_load import lay
from simulator.mechanics.hoist_line import damper_N_s_per_m, rope_give_m_per_N, unloaded_m

LEAST_GIVE_M_PER_N: Final = 1e-15
"""Of a rope that is all but wound in."""


def hang(line: Line, body: Body) -> None:
    """The weightless rigging between hook and trailer finds its own lean.

    Single point: rigging lies in line with the rope. Bridle or basket across: it is rigid to the trailer for roll and
    free about the pick line for pitch, so it lines up with the rope in the plane square to the trailer's cross axis. A
    sling that may lie on the load runs round it.
    """
    numbers = line.numbers
    if numbers.round is not None:
        lay(line, numbers.round, body)
        return
    a, b, c, d, e, f, g, h, i = body.matrix
    x, y, z = numbers.pick_m
    px, py, pz = body.x + (a * x + b * y + c * z), body.y + (d * x + e * y + f * z), body.z + (g * x + h * y + i * z)
    line.arm_m = px - body.x, py - body.y, pz - body.z
    tx, ty, tz = line.sheave_x, line.sheave_y, line.sheave_z
    lx, ly, lz = tx - px, ty - py, tz - pz
    if numbers.across_rigid:
        off = lx * b + ly * e + lz * h
        lx, ly, lz = lx - off * b, ly - off * e, lz - off * h
    stretch = numbers.rigging_m / sqrt(lx * lx + ly * ly + lz * lz)
    hx, hy, hz = px + stretch * lx, py + stretch * ly, pz + stretch * lz
    dx, dy, dz = tx - hx, ty - hy, tz - hz
    distance = sqrt(dx * dx + dy * dy + dz * dz)
    line.hook_x, line.hook_y, line.hook_z, line.distance_m = hx, hy, hz, distance
    line.ux, line.uy, line.uz = dx / distance, dy / distance, dz / distance


def pay_out(line: Line, boom_length_m: float) -> None:
    """The unloaded line, and what its rope gives, with the rope that is out now: anew when either has changed."""
    numbers, rope = line.numbers, -line.hoist.at
    if rope == line.rope_out_m and boom_length_m == line.boom_length_m:
        return
    line.rope_out_m, line.boom_length_m = rope, boom_length_m
    line.length_m = unloaded_m(rope, boom_length_m, numbers.to_boom_foot_m, numbers.parts)
    give = rope_give_m_per_N(rope, numbers.rope_EA_N, numbers.parts)
    line.rope_give = give if give > LEAST_GIVE_M_PER_N else LEAST_GIVE_M_PER_N


def stretch(unit: Unit) -> None:
    """How far each line is stretched, and so what it would bear at rest; its stiffness and damper beside the others."""
    for line in unit.lines:
        line.stretch_m = stretch = line.distance_m - line.length_m
        line.is_taut = stretch > 0.0 and not line.is_parted
    for line in unit.lines:
        _bear(unit, line)
        if line.is_taut and line.pull_N <= 0.0:  # the others pull its sheave down so far that it is slack
            line.is_taut = False
            for other in unit.lines:
                _bear(unit, other)


def _bear(unit: Unit, line: Line) -> None:
    """One line's stiffness, damper and elastic pull beside the other lines that bear."""
    p, r, s, more, beside = line.part, line.rope_give, line.stretch_m, 0.0, 0.0
    for other in unit.lines:
        if other is not line and other.is_taut:
            q = other.part / other.rope_give
            more += q * other.part
            beside += q * (other.part * s - p * other.stretch_m)
    give = unit.give_m_per_N
    k = 1.0 / (r + give * (p * p + r * more))
    line.stiffness = k
    line.damper = damper_N_s_per_m(line.numbers.damping_ratio, k, line.numbers.share_kg)
    line.pull_N = k * (s + give * beside) if line.is_taut else 0.0


def pull(line: Line, body: Body) -> Wrench:
    """A line's pull on the trailer: T = max(0, elastic pull + c (d' - l')), none where it is slack."""
    if not line.is_taut:
        return nothing()
    hx, hy, hz = line.hook_x, line.hook_y, line.hook_z
    ux, uy, uz, ox, oy, oz = line.ux, line.uy, line.uz, body.ox, body.oy, body.oz
    rx, ry, rz = hx - body.x, hy - body.y, hz - body.z
    vx = line.sheave_vx - body.vx - (oy * rz - oz * ry)
    vy = line.sheave_vy - body.vy - (oz * rx - ox * rz)
    vz = line.sheave_vz - body.vz - (ox * ry - oy * rx)
    size = line.pull_N + line.damper * (vx * ux + vy * uy + vz * uz - line.pay_out_mps)
    if size <= 0.0:
        line.pull_N = 0.0
        return nothing()
    line.pull_N = size
    fx, fy, fz = size * ux, size * uy, size * uz
    mx, my, mz = ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx
    sway_per_N = line.numbers.sway_per_N
    if sway_per_N == 0.0:
        return fx, fy, fz, mx, my, mz
    dx, dy, dz, dp, dq, dr = _settle(line, body, sway_per_N * size)
    return fx + dx, fy + dy, fz + dz, mx + dp, my + dq, mz + dr


def _settle(line: Line, body: Body, damper: float) -> Wrench:
    """What a line takes out of its sway: a damper on its pick's velocity from under the sheave, square to the line.

    c = 2 z T / sqrt(g l), l sheave to where it leaves the load: on parallel lines that is z of the critical damping
    of the pendulum.

    Args:
        line: taut.
        body: it hangs on it.
        damper: c times the square root of l.
    """
    ux, uy, uz = line.ux, line.uy, line.uz
    rx, ry, rz = line.arm_m
    vx = line.sheave_vx - body.vx - (body.oy * rz - body.oz * ry)
    vy = line.sheave_vy - body.vy - (body.oz * rx - body.ox * rz)
    vz = line.sheave_vz - body.vz - (body.ox * ry - body.oy * rx)
    along, c = vx * ux + vy * uy + vz * uz, damper / sqrt(line.distance_m + line.numbers.rigging_m - line.laid_m)
    fx, fy, fz = c * (vx - along * ux), c * (vy - along * uy), c * (vz - along * uz)
    return fx, fy, fz, ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx

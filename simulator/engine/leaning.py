"""A unit that no floats balance goes over, at its own inertia's pace, and may come back: see `mechanics.going_over`.

`begin` is where statics has found no balance (`stance`); the pose goes on with the rates of before (`lean`), the rates
change with the pulls at that pose (`fall`). The boom's give and the floats' are those of a unit that stands on its
outline; what its functions have to hold is worked out as if it stood.
"""

from __future__ import annotations

from math import cos, hypot, sin
from typing import Final

from simulator.engine.moving import Unit
from simulator.engine.over import Over
from simulator.mechanics.four_floats import Four
from simulator.mechanics.going_over import MOST_LEAN_RAD, about, held, inertia, leaned_by, lowest, spread
from simulator.mechanics.matrix import Vector, inverse, turned

STILL_RADPS: Final = 1e-6
DOWN_RAD: Final = 1e-8
"""Slower and leaning by less, a unit stands again."""
SURE_RAD: Final = 1e-4
"""Leaning by less, it is not asked which way its own weight takes it: floats are up by less than a millimeter."""


def begin(unit: Unit) -> None:
    """It starts to go over, from rest, about its heaviest float and whichever else stays down."""
    over, floats = unit.over, unit.floats_N
    over.stands()
    over.is_up = True
    for i in range(4):
        if floats[i] > floats[over.pivot]:
            over.pivot = i


def stands_again(over: Over) -> bool:
    """It is back on all four floats, and still."""
    return (
        abs(over.lean_u) + abs(over.lean_v) < DOWN_RAD
        and abs(over.rate_u) + abs(over.rate_v) < STILL_RADPS
        and abs(over.sink_mps) < STILL_RADPS
    )


def lean(over: Over, dt: float) -> None:
    """The pose a step later, with the rates of before."""
    if over.is_gone:
        return
    over.lean_u += over.rate_u * dt
    over.lean_v += over.rate_v * dt
    over.turn = leaned_by(over.lean_u, over.lean_v)


def leaned(unit: Unit, x: float, y: float, z: float) -> Vector:
    """Where a point of the unit is while it leans; given where it would be if the unit stood, world axes."""
    foot, over = unit.numbers.foot, unit.over
    pu, pv = unit.numbers.stand.frame.positions_m[over.pivot]
    u, v, w = turned(over.turn, (foot.facing * (x - foot.slew_axis_x_m) - pu, y - pv, z))
    return foot.slew_axis_x_m + foot.facing * (u + pu), v + pv, w


def fall(unit: Unit, dt: float) -> None:
    """The rates a step later, under the unit's weight and its lines' pulls where they now are."""
    over, on, frame = unit.over, unit.numbers.stand, unit.numbers.stand.frame
    if over.is_gone:
        return
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    spread_of = spread(unit.numbers.masses, length * cos(elevation), length * sin(elevation), cos(slew), sin(slew))
    was, positions = over.pivot, frame.positions_m
    pivot = lowest(positions, over.lean_u, over.lean_v) if over.lean_u != 0.0 or over.lean_v != 0.0 else was
    (pu, pv), (wu, wv) = positions[pivot], positions[was]
    du, dv, _ = turned(over.turn, (pu - wu, pv - wv, 0.0))
    sink = over.sink_mps + over.rate_u * du + over.rate_v * dv
    over.pivot = pivot
    own = about(spread_of, (pu, pv), over.turn)
    g = on.weight_N / own.mass_kg
    su, sv, sz = own.first
    own_u, own_v = g * (on.upright * su + on.slope_u * sz), g * (on.upright * sv + on.slope_v * sz)
    size = hypot(over.lean_u, over.lean_v)
    falls = size > SURE_RAD and own_u * over.lean_u + own_v * over.lean_v > 0.0
    over.is_gone = falls or size > MOST_LEAN_RAD
    down, to_u, to_v = _pulls(unit)
    down, to_u, to_v = down + on.weight_N * on.upright, to_u + own_u, to_v + own_v
    mass = inertia(own)
    fs, fa, fb = turned(inverse(mass), (down, to_u, to_v))
    places: list[Vector] = []
    for u, v in positions:
        a, b, c = turned(over.turn, (u - pu, v - pv, 0.0))
        places.append((a, b, c if c > 0.0 else 0.0))
    free = sink + fs * dt, over.rate_u + fa * dt, over.rate_v + fb * dt
    (over.sink_mps, over.rate_u, over.rate_v), pushes = held(mass, free, places, dt)
    p0, p1, p2, p3 = over.pushed_Ns
    over.pushed_Ns = p0 + pushes[0], p1 + pushes[1], p2 + pushes[2], p3 + pushes[3]


def _pulls(unit: Unit) -> Vector:
    """What the lines load the leaning unit with, about its pivot: down, toward u, toward v."""
    on, foot = unit.numbers.stand, unit.numbers.foot
    pu, pv = on.frame.positions_m[unit.over.pivot]
    down = to_u = to_v = 0.0
    for line in unit.lines:
        load = line.pull_N + line.numbers.below_sheave_N
        fu, fv, fz = -foot.facing * line.ux * load, -line.uy * load, -line.uz * load
        u, v = foot.facing * (line.sheave_x - foot.slew_axis_x_m) - pu, line.sheave_y - pv
        along, across = fu * on.upright - on.slope_u * fz, fv * on.upright - on.slope_v * fz
        under = -fz * on.upright - on.slope_u * fu - on.slope_v * fv
        down, to_u, to_v = (
            down + under,
            to_u + under * u + along * line.sheave_z,
            to_v + under * v + across * line.sheave_z,
        )
    return down, to_u, to_v


def read_floats(over: Over, over_s: float) -> Four:
    """What each float has pushed since this was last asked, a time ago."""
    a, b, c, d = over.pushed_Ns
    over.pushed_Ns = (0.0, 0.0, 0.0, 0.0)
    return a / over_s, b / over_s, c / over_s, d / over_s

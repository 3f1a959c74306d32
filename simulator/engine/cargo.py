"""A cargo that moves in its tank: a liquid that sloshes, a bulk load that slumps. It weighs where it lies, and pushes
back against what moves it.

The cargo lies under a flat surface; `mechanics.tank` has its center. A liquid's surface follows what it feels as down
like a pendulum of its sloshing frequency, along and across; a bulk surface turns only when it is steeper than the
cargo's angle of repose.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.engine.moving import Body, Cargo, Moving, Wrench, nothing
from simulator.engine.numbers import BULK, LIQUID, SOLID, CargoNumbers
from simulator.mechanics.matrix import Vector, turned, turned_back
from simulator.mechanics.tank import center_m, sloshing_radps, slumped

AGREED: Final = 4
"""Times that the push back of a liquid and what it feels are brought nearer to each other in one step."""
FELT: Final = 0.2
"""Below this part of free fall the surface hardly knows a way down: it is taken to feel that of the world."""


def come_to_rest(numbers: CargoNumbers, cargo: Cargo, body: Body) -> None:
    """Its surface as it lies when the load has lain still for long: level, or as steep as a bulk load stands."""
    cargo.moves = numbers.kind != SOLID
    if not cargo.moves:
        return
    level = turned_back(body.matrix, (0.0, 0.0, 1.0))
    cargo.up = level if numbers.kind == LIQUID else slumped(numbers.upright, level, numbers.repose_rad, 4.0)
    cargo.turning = cargo.speed_mps = cargo.back_N = (0.0, 0.0, 0.0)
    cargo.at_m = center_m(numbers.size_m, numbers.fill, cargo.up)


def shift(numbers: CargoNumbers, moving: Moving, rest_N: Vector, dt: float) -> Wrench:
    """One step of the cargo; what it does to the load beyond a cargo that stays at home.

    Args:
        numbers: of the cargo.
        moving: its cargo is changed in place.
        rest_N: all else that pushes the load in this step, without its weight; world axes.
        dt: step, s.

    Returns:
        Force, and moment about the load's center of gravity, world axes.
    """
    if numbers.kind == SOLID:
        return nothing()
    cargo, body = moving.cargo, moving.body
    if numbers.kind == BULK:
        level = turned_back(body.matrix, (0.0, 0.0, 1.0))
        _go_on(numbers, moving, slumped(cargo.up, level, numbers.repose_rad, numbers.slump_radps * dt), dt)
        return _wrench(numbers, body, cargo.at_m, cargo.back_N)
    up, turning, at_m, speed_mps = cargo.up, cargo.turning, cargo.at_m, cargo.speed_mps
    for _ in range(AGREED):
        cargo.up, cargo.turning, cargo.at_m, cargo.speed_mps = up, turning, at_m, speed_mps
        _slosh(numbers, moving, felt_up(numbers, moving, rest_N), dt)
    return _wrench(numbers, body, at_m, cargo.back_N)


def _go_on(numbers: CargoNumbers, moving: Moving, up: Vector, dt: float) -> None:
    """The surface as it will be a step later; what the cargo pushes back with to get there."""
    cargo = moving.cargo
    (x, y, z), (ox, oy, oz), (wx, wy, wz) = center_m(numbers.size_m, numbers.fill, up), cargo.at_m, cargo.speed_mps
    vx, vy, vz = (x - ox) / dt, (y - oy) / dt, (z - oz) / dt
    push = -numbers.mass_kg / dt
    cargo.back_N = turned(moving.body.matrix, (push * (vx - wx), push * (vy - wy), push * (vz - wz)))
    cargo.up, cargo.at_m, cargo.speed_mps = up, (x, y, z), (vx, vy, vz)


def _wrench(numbers: CargoNumbers, body: Body, at_m: Vector, back_N: Vector) -> Wrench:
    """Its weight where it lies instead of at home, and its push back at its center."""
    (x, y, z), (tx, ty, tz), (hx, hy, hz), (fx, fy, fz) = at_m, numbers.tank_m, numbers.home_m, back_N
    sx, sy, _ = turned(body.matrix, (x - hx, y - hy, z - hz))
    rx, ry, rz = turned(body.matrix, (tx + x, ty + y, tz + z))
    weight = numbers.mass_kg * numbers.gravity_mps2
    return fx, fy, fz, ry * fz - rz * fy - sy * weight, rz * fx - rx * fz + sx * weight, rx * fy - ry * fx


def felt_up(numbers: CargoNumbers, moving: Moving, rest_N: Vector) -> Vector:
    """What a liquid feels as up, lying axes: what pushes the load, itself included, less what gravity does."""
    body = moving.body
    (fx, fy, fz), (bx, by, bz) = rest_N, moving.cargo.back_N
    up: Vector = (fx + bx, fy + by, fz + bz)
    size = length(up)
    if size < FELT * body.numbers.weight_N:
        up, size = (0.0, 0.0, 1.0), 1.0
    x, y, z = turned_back(body.matrix, up)
    return x / size, y / size, z / size


def _slosh(numbers: CargoNumbers, moving: Moving, felt: Vector, dt: float) -> None:
    """The surface swings toward level, along the tank and across it each at its own frequency."""
    cargo = moving.cargo
    along, across = frequencies_radps(numbers, cargo.up)
    (ux, uy, uz), (wx, wy, wz), (fx, fy, fz) = cargo.up, cargo.turning, felt
    a2, b2 = along * along, across * across
    a1, b1 = 2.0 * numbers.damping_ratio * along, 2.0 * numbers.damping_ratio * across
    wx = wx + (a2 * (fx - ux) - a1 * wx) * dt
    wy = wy + (b2 * (fy - uy) - b1 * wy) * dt
    wz = wz + (b2 * (fz - uz) - b1 * wz) * dt
    out = wx * ux + wy * uy + wz * uz
    wx, wy, wz = wx - out * ux, wy - out * uy, wz - out * uz
    x, y, z = ux + wx * dt, uy + wy * dt, uz + wz * dt
    size = sqrt(x * x + y * y + z * z)
    cargo.turning = (wx, wy, wz)
    _go_on(numbers, moving, (x / size, y / size, z / size), dt)


def frequencies_radps(numbers: CargoNumbers, up: Vector) -> tuple[float, float]:
    """Of the free surface along the tank and across it, the tank turned as it is."""
    _, uy, uz = up
    long, wide, high = numbers.size_m
    aside = uy * uy + uz * uz
    y, z = (uy * uy / aside, uz * uz / aside) if aside > 0.0 else (0.0, 1.0)
    surface, depth = z * wide + y * high, numbers.fill * (z * high + y * wide)
    gravity = numbers.gravity_mps2
    return sloshing_radps(long, depth, gravity), sloshing_radps(surface, depth, gravity)


def length(vector: Vector) -> float:
    """Of a vector."""
    x, y, z = vector
    return sqrt(x * x + y * y + z * z)

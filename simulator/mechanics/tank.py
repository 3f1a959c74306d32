"""Where a liquid or a bulk cargo lies in its tank: a box, and the part of it that a plane cuts off.

In parts of the box's sides the part under a plane is the tetrahedron at the lowest corner, less those beyond each side
that the plane passes, and so on (inclusion and exclusion; a tetrahedron's volume is a sixth of the product of its
sides, its center a quarter of the way along each: any geometry text; the sum as in Scardovelli and Zaleski, Journal of
Computational Physics 164, 2000, from memory).
"""

from __future__ import annotations

from math import acos, cos, pi, sin, sqrt, tanh
from typing import Final

from simulator.mechanics.matrix import Vector

LEAST: Final = 0.005
"""Sides that rise by less of the whole rise are taken to rise by this much, and what comes out of it in proportion."""
TURNS: Final = 80
CLOSE: Final = 1e-14


def center_m(size_m: Vector, fill: float, up: Vector) -> Vector:
    """Center of what fills a share of a tank under a flat surface.

    Args:
        size_m: of the tank's inside, along its own axes.
        fill: share of the tank that is filled, more than 0, at most 1.
        up: unit vector square to the surface, in the tank's axes.

    Returns:
        From the tank's middle, in its axes, m.
    """
    (lx, ly, lz), (ux, uy, uz) = size_m, up
    rx, ry, rz = abs(ux) * lx, abs(uy) * ly, abs(uz) * lz
    whole = rx + ry + rz
    a, b, c = max(rx / whole, LEAST), max(ry / whole, LEAST), max(rz / whole, LEAST)
    whole = whole * (a + b + c)
    a, b, c = a / (a + b + c), b / (a + b + c), c / (a + b + c)
    level = _level(fill, a, b, c)
    x, y, z = _middle(level, a, b, c)
    return (
        _side(x, lx, ux, rx / (a * whole)),
        _side(y, ly, uy, ry / (b * whole)),
        _side(z, lz, uz, rz / (c * whole)),
    )


def _side(at: float, long: float, up: float, part: float) -> float:
    """A place along a side, 0 at its low end, from the middle; only a part of it where the side hardly rises."""
    from_middle = (at - 0.5) * long * min(1.0, part)
    return from_middle if up >= 0.0 else -from_middle


def _filled(level: float, a: float, b: float, c: float) -> float:
    """Share of a unit box under the plane a x + b y + c z = level, a + b + c = 1."""
    return _sum(level, a, b, c, 3) / (6.0 * a * b * c)


def _sum(level: float, a: float, b: float, c: float, power: int) -> float:
    """Powers of what the plane stands over each corner, with the signs of inclusion and exclusion."""
    return (
        _over(level, power)
        - _over(level - a, power)
        - _over(level - b, power)
        - _over(level - c, power)
        + _over(level - a - b, power)
        + _over(level - b - c, power)
        + _over(level - c - a, power)
        - _over(level - 1.0, power)
    )


def _over(height: float, power: int) -> float:
    if height <= 0.0:
        return 0.0
    square = height * height
    return square if power == 2 else square * height if power == 3 else square * square


def _level(fill: float, a: float, b: float, c: float) -> float:
    """Where the plane stands that has this share of the box under it: Newton's steps, halving where one leads out."""
    low, high, level = 0.0, 1.0, fill
    for _ in range(TURNS):
        miss = _filled(level, a, b, c) - fill
        if abs(miss) < CLOSE:
            break
        if miss > 0.0:
            high = level
        else:
            low = level
        rise = _sum(level, a, b, c, 2) / (2.0 * a * b * c)
        level = level - miss / rise if rise > 0.0 else low
        if not low < level < high:
            level = (low + high) / 2.0
    return level


def _middle(level: float, a: float, b: float, c: float) -> Vector:
    """Center of the part under the plane, in parts of the sides."""
    volume = 6.0 * a * b * c * _filled(level, a, b, c)
    all_over = _sum(level, a, b, c, 4)
    return (
        (all_over / (4.0 * a) + _beyond(level, a, b, c)) / volume,
        (all_over / (4.0 * b) + _beyond(level, b, c, a)) / volume,
        (all_over / (4.0 * c) + _beyond(level, c, a, b)) / volume,
    )


def _beyond(level: float, a: float, b: float, c: float) -> float:
    """The tetrahedra that begin at the far end of the side of rise a: a whole side farther along it."""
    return -_over(level - a, 3) + _over(level - a - b, 3) + _over(level - c - a, 3) - _over(level - 1.0, 3)


def sloshing_radps(long_m: float, deep_m: float, gravity_mps2: float) -> float:
    """First natural frequency of a free surface in a box tank: sqrt(g k tanh(k h)), k = pi / l (linear wave theory; in
    a shallow tank its period is 2 l / sqrt(g h)).

    Args:
        long_m: side of the surface along which it runs.
        deep_m: depth of the liquid.
        gravity_mps2: of free fall.
    """
    k = pi / long_m
    return sqrt(gravity_mps2 * k * tanh(k * deep_m))


def slumped(up: Vector, level: Vector, repose_rad: float, most_rad: float) -> Vector:
    """A bulk surface after it has slumped: no more than it must, and no faster than it can.

    Args:
        up: unit vector square to the surface.
        level: the same of a level surface.
        repose_rad: steepest slope at which the cargo stands.
        most_rad: most that it turns.
    """
    (ux, uy, uz), (lx, ly, lz) = up, level
    dot = ux * lx + uy * ly + uz * lz
    steep = acos(min(1.0, max(-1.0, dot)))
    turn = min(steep - repose_rad, most_rad)
    if turn <= 0.0:
        return up
    x, y, z = lx - dot * ux, ly - dot * uy, lz - dot * uz
    size = sqrt(x * x + y * y + z * z)
    if size < 1e-9:
        return up
    s, c = sin(turn) / size, cos(turn)
    return c * ux + s * x, c * uy + s * y, c * uz + s * z

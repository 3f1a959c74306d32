"""How wind holds a hanging load: off its tips, and turned about the plumb axis (yaw), by statics of small angles.

Each line is a pendulum: a level pull of T / l for each meter that its hook goes aside, T its upward pull and l its
height. Wind acts at the middle of the load's outline, so it turns a load whose center of gravity is elsewhere, and what
turns it back is the distance between the lines: for two plumb lines the bifilar pendulum's yaw,
F e l / (W a b), with e from the center of gravity to the wind, a and b to the lines (textbook statics).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, inf, sin
from typing import NamedTuple

from simulator.mechanics.trailer_body import Vector

LEAST_HEIGHT_M = 0.1
TURNS_FREELY = 1e-6
"""Stiffness in yaw, of weight times length, under which nothing turns it back."""


class Blown(NamedTuple):
    """A load in a steady wind."""

    off_m: tuple[float, float]
    """How far its center of gravity goes, along and across."""
    yaw_rad: float
    """How far it turns, tail toward the road; infinite where nothing turns it back."""
    parts_N: tuple[tuple[float, float], ...]
    """Level pull that wind adds to each line, along and across."""


def blown(
    sheaves_m: Sequence[Vector],
    hooks_m: Sequence[Vector],
    pulls_N: Sequence[float],
    cg_m: Vector,
    wind: tuple[tuple[float, float], tuple[float, float]],
) -> Blown:
    """Where wind holds it.

    Args:
        sheaves_m: of every line.
        hooks_m: of every line, with no wind.
        pulls_N: upward, of every line.
        cg_m: the center of gravity, with no wind.
        wind: force along and across, N; and from the center of gravity to where it acts, m.
    """
    (along_N, across_N), (lever_x, lever_y) = wind
    if not (along_N or across_N) or not any(pull > 0.0 for pull in pulls_N):
        return Blown((0.0, 0.0), 0.0, tuple((0.0, 0.0) for _ in pulls_N))
    stiff = [_stiff(*row) for row in zip(sheaves_m, hooks_m, pulls_N, strict=True)]
    arms = [(x - cg_m[0], y - cg_m[1]) for x, y, _ in hooks_m]
    over = [(x - cg_m[0], y - cg_m[1]) for x, y, _ in sheaves_m]
    total = sum(stiff)
    to_x = sum(k * x for k, (x, _) in zip(stiff, arms, strict=True)) / total
    to_y = sum(k * y for k, (_, y) in zip(stiff, arms, strict=True)) / total
    back = sum(k * (x * u + y * v) for k, (x, y), (u, v) in zip(stiff, arms, over, strict=True))
    back -= total * (to_x * to_x + to_y * to_y)
    turns = (lever_x - to_x) * across_N - (lever_y - to_y) * along_N
    least = TURNS_FREELY * sum(pulls_N)
    yaw = turns / back if back > least else inf if abs(turns) > least else 0.0
    held = yaw if abs(yaw) < inf else 0.0
    off = along_N / total + held * to_y, across_N / total - held * to_x
    parts = tuple((k * (off[0] - held * y), k * (off[1] + held * x)) for k, (x, y) in zip(stiff, arms, strict=True))
    return Blown(off, yaw, parts)


def _stiff(sheave_m: Vector, hook_m: Vector, pull_N: float) -> float:
    return max(0.0, pull_N) / max(LEAST_HEIGHT_M, sheave_m[2] - hook_m[2])


def turned_about(at_m: Vector, cg_m: Vector, found: Blown) -> Vector:
    """Where a point of the load goes, as far as it was level from the center of gravity."""
    yaw = found.yaw_rad if abs(found.yaw_rad) < inf else 0.0
    c, s = cos(yaw), sin(yaw)
    x, y = at_m[0] - cg_m[0], at_m[1] - cg_m[1]
    return cg_m[0] + found.off_m[0] + c * x - s * y, cg_m[1] + found.off_m[1] + s * x + c * y, at_m[2]

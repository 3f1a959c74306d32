"""Marks of soil, rock and stones on the slope and in the bed: laid once in the world, the same in every view."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from simulator.window.scene.solids import Array

WIDE_M, DEEP_M = 46.0, 44.0
"""Half the width, and the depth under the road, that carry marks."""
STROKE_CELL_M = (1.05, 0.8)
STRATA_CELL_M = (2.9, 1.25)
STRATA_DIP = 0.13
STONE_CELL_M = (1.5, 0.7)
STONE_SHAPE = ((-1.0, 0.1), (-0.55, -0.42), (0.25, -0.52), (0.9, -0.12), (1.0, 0.22), (-0.2, 0.38))


class Marks(NamedTuple):
    """Marks in world meters."""

    strokes: Array
    """x, z, x, z of short strokes."""
    strata: Array
    """x, z of three points each: layer lines of a rock face."""
    stones: Array
    """x, z, half the width, tone (0 or 1)."""


def chance(i: int, j: int, salt: int = 0) -> float:
    """A number from 0 to 1 that belongs to a cell for ever."""
    n = (i * 374761393 + j * 668265263 + salt * 2147483647) & 0xFFFFFFFF
    n = ((n ^ (n >> 13)) * 1274126177) & 0xFFFFFFFF
    return ((n ^ (n >> 16)) & 0xFFFF) / 65535.0


def _cells(cell: tuple[float, float], share: float, salt: int) -> list[tuple[int, int]]:
    """The cells that carry a mark."""
    columns = range(int(-WIDE_M / cell[0]), int(WIDE_M / cell[0]) + 1)
    rows = range(int(-DEEP_M / cell[1]), 0)
    return [(i, j) for i in columns for j in rows if chance(i, j, salt) < share]


def _stroke(i: int, j: int) -> tuple[float, ...]:
    x = (i + chance(i, j, 1)) * STROKE_CELL_M[0]
    z = (j + chance(i, j, 2)) * STROKE_CELL_M[1] - 0.45
    size = 0.35 + 0.55 * chance(i, j, 3)
    return x, z, x + 0.07, z - size


def _layer_line(i: int, j: int) -> tuple[float, ...]:
    wide, high = STRATA_CELL_M
    start = (i + 0.3 * chance(i, j, 21)) * wide
    long = wide * (0.3 + 0.7 * chance(i, j, 23))
    z = (j + 0.5 * chance(i // 2, j, 22)) * high - 0.3
    kink = long * (0.3 + 0.4 * chance(i, j, 25))
    bend = (start + kink, z - STRATA_DIP * kink + 0.2 * (chance(i, j, 24) - 0.5))
    return start, z, *bend, start + long, z - STRATA_DIP * long


def _stone(i: int, j: int) -> tuple[float, ...]:
    x, z = (i + chance(i, j, 8)) * STONE_CELL_M[0], (j + chance(i, j, 9)) * STONE_CELL_M[1]
    return x, z, 0.1 + 0.2 * chance(i, j, 10), float(chance(i, j, 11) < 0.6)


@lru_cache
def _laid(is_rock: bool) -> tuple[Array, Array, Array]:
    """Strokes, strata and stones of all the world, whatever its bed."""
    strokes = np.array([_stroke(*cell) for cell in _cells(STROKE_CELL_M, 0.14 if is_rock else 0.34, 0)])
    strata = np.array([_layer_line(*cell) for cell in _cells(STRATA_CELL_M, 0.42 if is_rock else 0.0, 20)])
    stones = np.array([_stone(*cell) for cell in _cells(STONE_CELL_M, 0.22, 7)])
    return strokes.reshape(-1, 4), strata.reshape(-1, 6), stones


def marks(is_rock: bool, bed: Sequence[tuple[float, float]]) -> Marks:
    """All marks of a face of rock or of soil, strokes above the bed's line (x, z) and stones below it."""
    strokes, strata, stones = _laid(is_rock)
    xs, zs = zip(*bed, strict=True)

    def over(rows: Array, by_m: float) -> Array:
        """Height over the bed, of rows of x, z."""
        height: Array = rows[:, 1] - np.interp(rows[:, 0], xs, zs) - by_m
        return height

    return Marks(strokes[over(strokes, 0.3) > 0.0], strata[over(strata, 0.2) > 0.0], stones[over(stones, -0.4) < 0.0])

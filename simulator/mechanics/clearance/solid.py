"""Convex solids as corners, face normals and edge directions: all that the gap formulas ask of a shape."""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, cos, pi, sin, sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Row = tuple[float, float, float]

ROUND_SIDES = 32
"""Sides of the prism drawn round a vertical cylinder: 0.5 % outside it at most."""


class Solids(NamedTuple):
    """Convex solids, any number of leading axes; short ones repeat their last row. Parallel directions come once."""

    corners: Array
    """(..., corner, 3), m."""
    faces: Array
    """(..., face, 3) unit normals."""
    edges: Array
    """(..., edge, 3) unit directions."""


def _distinct(directions: Sequence[Array]) -> Array:
    """Unit directions, parallel and zero ones left out."""
    kept: list[Array] = []
    for direction in directions:
        size = float(np.linalg.norm(direction))
        if size < 1e-9:
            continue
        unit = direction / size
        if all(abs(float(unit @ other)) < 1.0 - 1e-12 for other in kept):
            kept.append(unit)
    return np.array(kept)


def prism(outline_m: Array, drawn_out_m: Array) -> Solids:
    """The solid between a plane convex outline (corner, 3) and the same outline moved by `drawn_out_m` (3)."""
    sides = _distinct(list(np.roll(outline_m, -1, axis=0) - outline_m))
    ends = np.cross(sides[0], sides[1])
    faces = _distinct([ends, *(np.cross(side, drawn_out_m) for side in sides)])
    corners = np.concatenate([outline_m, outline_m + drawn_out_m])
    return Solids(corners, faces, _distinct([*sides, drawn_out_m]))


def upright(plan_m: Array, low_m: float, high_m: float) -> Solids:
    """A vertical prism over a convex plan outline (corner, 2)."""
    foot = np.column_stack([plan_m, np.full(len(plan_m), low_m)])
    return prism(foot, np.array([0.0, 0.0, high_m - low_m]))


def round_plan(radius_m: float, *, sides: int = ROUND_SIDES) -> Array:
    """Regular outline drawn round a circle about (0, 0)."""
    turns = (np.arange(sides) + 0.5) * 2.0 * pi / sides
    return radius_m / cos(pi / sides) * np.column_stack([np.cos(turns), np.sin(turns)])


def tail_plan(radius_m: float, half_width_m: float, *, sides: int = 6) -> Array:
    """What sweeps round behind a slew axis at (0, 0), boom toward +x: a strip that ends in an arc (drawn round it)."""
    half = min(half_width_m, 0.9 * radius_m)
    back = sqrt(radius_m * radius_m - half * half)
    opening = pi - acos(-back / radius_m)
    turns = pi + opening * ((2.0 * np.arange(sides) + 1.0) / sides - 1.0)
    arc = radius_m / cos(opening / sides) * np.column_stack([np.cos(turns), np.sin(turns)])
    return np.array([[0.0, -half], [0.0, half], [-back, half], *arc, [-back, -half]])


def stacked(solids: Sequence[Solids]) -> Solids:
    """Several solids as one value with one more leading axis."""

    def padded(rows: list[Array]) -> Array:
        longest = max(len(row) for row in rows)
        return np.stack([np.concatenate([row, np.repeat(row[-1:], longest - len(row), axis=0)]) for row in rows])

    return Solids(*(padded([solid[field] for solid in solids]) for field in range(3)))


def edge_pairs(outlines: Sequence[int]) -> NDArray[np.intp]:
    """Corner numbers of the edges of prisms with so many outline corners each, padded (solid, edge, 2)."""
    rows = []
    for n in outlines:
        i = np.arange(n)
        ring = np.column_stack([i, (i + 1) % n])
        pairs = np.concatenate([ring, ring + n, np.column_stack([i, i + n])])
        rows.append(np.concatenate([pairs, np.repeat(pairs[-1:], 3 * max(outlines) - len(pairs), axis=0)]))
    return np.stack(rows)


def turned(solids: Solids, back: Array, offset_m: Array) -> Solids:
    """Solids turned and moved: `back` (..., 3, 3) is the transpose of the turning matrix, offset (..., 3)."""
    return Solids(solids.corners @ back + offset_m[..., None, :], solids.faces @ back, solids.edges @ back)


def chosen(solids: Solids, index: NDArray[np.intp]) -> Solids:
    """Some of the solids, by their leading axis."""
    return Solids(solids.corners[index], solids.faces[index], solids.edges[index])


def turn_back(pitch_rad: float, yaw_rad: float, roll_rad: float) -> tuple[Row, Row, Row]:
    """Rows of the transpose of Rz(yaw) Ry(pitch) Rx(roll)."""
    cp, sp, cw, sw = cos(pitch_rad), sin(pitch_rad), cos(yaw_rad), sin(yaw_rad)
    cq, sq = cos(roll_rad), sin(roll_rad)
    return (
        (cw * cp, sw * cp, -sp),
        (cw * sp * sq - sw * cq, sw * sp * sq + cw * cq, cp * sq),
        (cw * sp * cq + sw * sq, sw * sp * cq - cw * sq, cp * cq),
    )

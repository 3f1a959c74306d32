"""Gaps between convex solids, exact, for one pair or arrays of them.

The least vertical gap from a solid B up to a solid A over the overlap of their plan outlines is a linear programme.
Its dual says: over all planes z = c - u x - v y, the largest of (how far A can sink on the plane less how far B sticks
out of it). The best plane lies on a face of A or of B, or along one edge of each, so a short list of planes holds the
answer. Sweeping A along y adds one edge direction and min(0, v * sweep). The same list with unit normals is the
separating-axis test.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance_solid import Array, Solids

STEEPEST = 1.0e3
"""Planes steeper than this are left out: at worst a gap is called smaller within a millimetre or so of an outline."""

_ACROSS = np.array([0.0, 1.0, 0.0])
_PLAN_AXES = np.array([[1.0, 0.0], [0.0, 1.0]])


class Boxes(NamedTuple):
    """Level boxes along x and y, one row or column a box."""

    centre_m: Array
    """In plan (box, 2)."""
    half_m: Array
    """In plan (box, 2)."""
    high_m: Array
    rise: Array
    """What a plane's terms (1, u, v, |u|, |v|, 1) are multiplied by (6, box)."""


def level_boxes(centre_m: Array, half_m: Array, high_m: Array) -> Boxes:
    """Boxes by their middles and half sizes in plan (box, 2) and their upper faces, m."""
    rise = np.stack([np.ones_like(high_m), *-centre_m.T, *-half_m.T, -high_m])
    return Boxes(centre_m, half_m, high_m, rise)


def _ratio(over: Array, under: Array) -> Array:
    """over / under, 0 where steeper than the steepest."""
    kept = np.abs(under) * STEEPEST > np.abs(over)
    return np.asarray(np.divide(over, under, out=np.zeros(kept.shape), where=kept))


def _along(corners: Array, axes: Array) -> Array:
    """How far corners lie along axes (..., corner, axis); in this order reducing over corners runs in long rows."""
    return np.asarray(corners @ np.swapaxes(axes, -1, -2))


def box_gaps(parts: Solids, boxes: Boxes, sweep_m: Array | float) -> Array:
    """Least vertical gap from each box's upper face to each part (..., part, box), m.

    Only meaningful where the part's outline in plan, swept `sweep_m` (...) along y, meets the box's: see `box_sides`.
    """
    faces, edges = parts.faces, parts.edges
    first, second = 1 + faces.shape[-2], 1 + faces.shape[-2] + edges.shape[-2]
    terms = np.zeros((*faces.shape[:-2], second + edges.shape[-2], 6))
    terms[..., 5] = 1.0
    terms[..., 1:first, 1:3] = _ratio(faces[..., :2], faces[..., 2:])
    slopes = _ratio(edges[..., 2:], edges[..., :2])
    terms[..., first:second, 1] = -slopes[..., 0]
    terms[..., second:, 2] = -slopes[..., 1]
    planes = terms[..., (1, 2, 5)]
    sink = _along(parts.corners, planes).min(axis=-2)
    terms[..., 0] = sink + np.minimum(0.0, terms[..., 2] * np.asarray(sweep_m)[..., None, None])
    terms[..., 3:5] = np.abs(terms[..., 1:3])
    return np.asarray((terms @ boxes.rise).max(axis=-2))


def _plan_axes(edges: Array) -> Array:
    """Unit axes (..., 2) square to edges in plan; x for upright edges."""
    x, y = edges[..., 0], edges[..., 1]
    size = np.hypot(x, y)
    flat = size > 1e-9
    size = np.where(flat, size, 1.0)
    return np.stack([np.where(flat, -y / size, 1.0), np.where(flat, x / size, 0.0)], axis=-1)


def box_sides(parts: Solids, boxes: Boxes, sweep_m: Array | float) -> Array:
    """How far swept outlines of parts stand off boxes in plan along the best axis (..., part, box); < 0 overlaps."""
    own = _plan_axes(parts.edges)
    axes = np.concatenate([np.zeros_like(own[..., :2, :]) + _PLAN_AXES, own], axis=-2)
    along = _along(parts.corners[..., :2], axes)
    move = axes[..., 1] * np.asarray(sweep_m)[..., None, None]
    low, high = along.min(axis=-2) + np.minimum(0.0, move), along.max(axis=-2) + np.maximum(0.0, move)
    middle, half = (low + high) / 2.0, (high - low) / 2.0
    apart = np.abs(middle[..., None] - axes @ boxes.centre_m.T) - half[..., None] - np.abs(axes) @ boxes.half_m.T
    return np.asarray(apart.max(axis=-2))


def _cross(first: Array, second: Array) -> Array:
    """Cross products along the last axis; plain products, since numpy's own spends its time on axes."""
    x, y, z = first[..., 0], first[..., 1], first[..., 2]
    a, b, c = second[..., 0], second[..., 1], second[..., 2]
    return np.stack([y * c - z * b, z * a - x * c, x * b - y * a], axis=-1)


def _crossed(first: Array, second: Array) -> Array:
    """Cross products of every edge of one with every edge of the other (..., edge * edge, 3)."""
    both = _cross(first[..., :, None, :], second[..., None, :, :])
    return both.reshape(*both.shape[:-3], -1, 3)


def _with_across(edges: Array) -> Array:
    """Edges and the direction of the sweep."""
    return np.concatenate([edges, np.zeros_like(edges[..., :1, :]) + _ACROSS], axis=-2)


def pair_gaps(upper: Solids, lower: Solids, *, sweep_m: Array | None = None) -> Array:
    """Least vertical gap of pairs of solids (pair), m, the upper one swept along y. As `box_gaps`, for any shapes."""
    edges, others = upper.edges, lower.edges
    if sweep_m is not None:
        edges, others = _with_across(edges), _with_across(others)
    leaning = np.concatenate([upper.faces, lower.faces, _crossed(edges, others)], axis=-2)
    planes = np.zeros((leaning.shape[0], leaning.shape[1] + 1, 3))
    planes[..., 2] = 1.0
    planes[:, 1:, :2] = _ratio(leaning[..., :2], leaning[..., 2:])
    sink = _along(upper.corners, planes).min(axis=-2)
    if sweep_m is not None:
        sink += np.minimum(0.0, planes[..., 1] * sweep_m[..., None])
    rise = _along(lower.corners, planes).max(axis=-2)
    return np.asarray((sink - rise).max(axis=-1))


def pair_sides(first: Solids, second: Solids, sweep_m: Array | float) -> Array:
    """How far pairs of outlines stand apart in plan along the best axis (...), the first swept along y."""
    own = _plan_axes(np.concatenate([first.edges, second.edges], axis=-2))
    axes = np.concatenate([np.zeros_like(own[..., :2, :]) + _PLAN_AXES, own], axis=-2)
    one = _along(first.corners[..., :2], axes)
    other = _along(second.corners[..., :2], axes)
    move = axes[..., 1] * np.asarray(sweep_m)[..., None]
    low, high = one.min(axis=-2) + np.minimum(0.0, move), one.max(axis=-2) + np.maximum(0.0, move)
    return np.asarray(np.maximum(low - other.max(axis=-2), other.min(axis=-2) - high).max(axis=-1))


def pair_apart(first: Solids, second: Solids) -> Array:
    """How far pairs of solids stand apart along the best of all face normals and edge crosses (...); < 0 overlaps."""
    crosses = _crossed(first.edges, second.edges)
    size = np.linalg.norm(crosses, axis=-1, keepdims=True)
    parallel = size < 1e-6
    crosses = np.where(parallel, first.faces[..., :1, :], crosses / np.where(parallel, 1.0, size))
    axes = np.concatenate([first.faces, second.faces, crosses], axis=-2)
    one = _along(first.corners, axes)
    other = _along(second.corners, axes)
    gaps = np.maximum(one.min(axis=-2) - other.max(axis=-2), other.min(axis=-2) - one.max(axis=-2))
    return np.asarray(gaps.max(axis=-1))

"""How far convex solids stand apart, by trying the normals of all faces and the crosses of all edges."""

from __future__ import annotations

import numpy as np

from simulator.mechanics.clearance.solid import Array, Solids


def _along(corners: Array, axes: Array) -> Array:
    """How far corners lie along axes (..., corner, axis); in this order reducing over corners runs in long rows."""
    return np.asarray(corners @ axes.swapaxes(-1, -2))


def _cross(first: Array, second: Array) -> Array:
    """Cross products along the last axis; plain products, since numpy's own spends its time on axes."""
    x, y, z = first[..., 0], first[..., 1], first[..., 2]
    a, b, c = second[..., 0], second[..., 1], second[..., 2]
    return np.stack([y * c - z * b, z * a - x * c, x * b - y * a], axis=-1)


def _crossed(first: Array, second: Array) -> Array:
    """Cross products of every edge of one with every edge of the other (..., edge * edge, 3)."""
    both = _cross(first[..., :, None, :], second[..., None, :, :])
    return both.reshape(*both.shape[:-3], -1, 3)


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

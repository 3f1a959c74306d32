"""Straight distance between the trailer's parts and the booms: a boom is a capsule, a part its edges.

Under a boom that stands at 60 degrees a vertical gap is twice the true distance, so both are given.
"""

from __future__ import annotations

import numpy as np

from simulator.mechanics.clearance_scene import Placed, Scene
from simulator.mechanics.clearance_solid import Array

FAR_M = 3.0
"""A trailer that lies farther than this below both booms need not be measured."""


def boom_distances(scene: Scene, placed: Placed) -> Array:
    """Least distance from each boom's capsule to each part's edges (..., part, unit), m; < 0 inside the capsule.

    A boom's end over the middle of a face is not seen here: take the smaller of this and the vertical gap.
    """
    deep = scene.numbers.half_deep_m
    ends = placed.booms.corners.reshape(*placed.booms.corners.shape[:-2], 2, 4, 3).mean(axis=-2)
    reach = placed.booms.edges[..., 0, :] * deep[:, None]
    foot, tip = ends[..., 0, :] + reach, ends[..., 1, :] - reach
    rows = np.arange(len(scene.load.pairs))[:, None, None]
    edges = _parts_first(placed.parts.corners[..., rows, scene.load.pairs, :])
    square = segment_squares(
        _parts_first(foot)[..., :, None, None],
        _parts_first(tip)[..., :, None, None],
        edges[..., None, :, :, 0],
        edges[..., None, :, :, 1],
    )
    return np.asarray(np.sqrt(np.swapaxes(square.min(axis=-1), -1, -2)) - deep)


def _parts_first(points: Array) -> Array:
    """x, y and z as whole arrays: (3, ...), so that each runs in long rows."""
    return np.ascontiguousarray(np.moveaxis(points, -1, 0))


def heights_below(scene: Scene, placed: Placed) -> Array:
    """Height from each part up to the lowest point of each boom (..., part, unit), m: no more than their distance."""
    return np.asarray(placed.booms.corners[..., 2].min(axis=-1)[..., None, :] - placed.high_m[..., 2, None])


def _dot(one: Array, other: Array) -> Array:
    return np.asarray(one[0] * other[0] + one[1] * other[1] + one[2] * other[2])


def segment_squares(p0: Array, p1: Array, q0: Array, q1: Array) -> Array:
    """Squared least distance of segments p0-p1 and q0-q1 (3, ...), m2.

    The nearest points of the two lines, brought back to the ends of one segment and then matched on the other.
    """
    along, other, apart = p1 - p0, q1 - q0, p0 - q0
    a, e, b = _dot(along, along), _dot(other, other), _dot(along, other)
    c, f = _dot(along, apart), _dot(other, apart)
    sine = a * e - b * b
    skew = sine > 1e-12 * a * e
    s = np.clip(np.divide(b * f - c * e, sine, out=np.zeros(sine.shape), where=skew), 0.0, 1.0)
    t = np.clip((b * s + f) / np.maximum(e, 1e-12), 0.0, 1.0)
    s = np.clip((b * t - c) / a, 0.0, 1.0)
    gap = apart + s * along - t * other
    return _dot(gap, gap)

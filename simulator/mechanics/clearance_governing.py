"""Which obstacle decides for a part: the least gap, but before it anything near in plan that the part is below."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.clearance_scene import Placed, Scene
from simulator.mechanics.clearance_solid import Array, Flags

TO_RAISE_M = 1.5
"""A part more than this below what it must pass over is still to raise, not a fault."""
NEAR_M = 0.5
"""A part that is farther than this in plan has not come near yet: a lift straight up from the bed is no fault."""


def box_distance(low_m: Array, high_m: Array, other_low_m: Array, other_high_m: Array) -> Array:
    """Level distance of bounding boxes in plan (..., 2): no more than that of the outlines."""
    beside = np.maximum(np.maximum(other_low_m - high_m, low_m - other_high_m), 0.0)
    return np.asarray(np.hypot(beside[..., 0], beside[..., 1]))


def levels_off(scene: Scene, placed: Placed) -> Array:
    """Level distance of each part, where it is now, from each obstacle (..., part, obstacle), bounding boxes, m."""
    tails, lead = placed.tails.corners[..., :2], placed.low_m.shape[:-2]
    still = [np.broadcast_to(ends[:, :2], (*lead, len(ends), 2)) for ends in (scene.lows_m, scene.highs_m)]
    low = np.concatenate([still[0], tails.min(axis=-2)], axis=-2)[..., None, :, :]
    high = np.concatenate([still[1], tails.max(axis=-2)], axis=-2)[..., None, :, :]
    return box_distance(placed.low_m[..., :, None, :2], placed.high_m[..., :, None, :2], low, high)


def governing(scene: Scene, placed: Placed, table: Array) -> tuple[NDArray[np.intp], Flags]:
    """The obstacle that decides for each part (..., part), and whether the part is not clear of it.

    Args:
        scene: from `prepare_scene`.
        placed: the scene with poses put in.
        table: vertical gaps (..., part, obstacle), m.
    """
    below = (table < 0.0) & (table >= -TO_RAISE_M)
    if not below.any():
        return table.argmin(axis=-1), np.zeros(table.shape[:-1], dtype=bool)
    below &= levels_off(scene, placed) <= NEAR_M
    not_clear: Flags = np.asarray(below.any(axis=-1))
    asked = below | ~not_clear[..., None]
    return np.where(asked, table, np.inf).argmin(axis=-1), not_clear

"""Which part of the trailer touches which solid now, and where."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance_gap import pair_apart
from simulator.mechanics.clearance_scene import Placed, Pose, Scene, place
from simulator.mechanics.clearance_solid import Array, Flags, Solids, chosen
from simulator.mechanics.clearance_units import END_UNITS

TOUCH_M = 1.0e-3
"""Solids nearer than this touch."""


class Contact(NamedTuple):
    """A part and a solid that touch."""

    part: str
    meets: str
    deep_m: float
    """Least way out along one axis; a little below 0 when they only just touch."""
    x_m: float
    y_m: float
    z_m: float


def obstacle_solids(scene: Scene, placed: Placed) -> tuple[tuple[Solids, tuple[str, ...]], ...]:
    """All solids that a part may touch, with their names, in groups of one shape; the ground is not among them."""
    boxes = len(scene.kinds)
    names = scene.names
    return (
        (scene.box_solids, names[:boxes]),
        (scene.rounds, names[boxes : boxes + 2]),
        (placed.tails, names[boxes + 2 :]),
        (placed.booms, tuple(f"{unit} boom" for unit in END_UNITS)),
    )


def near(placed: Placed, solids: Solids) -> Flags:
    """Parts and solids whose bounding boxes touch (..., part, solid)."""
    low, high = solids.corners.min(axis=-2), solids.corners.max(axis=-2)
    above = placed.high_m[..., :, None, :] >= low[..., None, :, :] - TOUCH_M
    below = placed.low_m[..., :, None, :] <= high[..., None, :, :] + TOUCH_M
    return np.asarray((above & below).all(axis=-1))


def contacts(scene: Scene, pose: Pose, booms: tuple[BoomPose, BoomPose]) -> tuple[Contact, ...]:
    """Pairs that touch now, to 1 mm (the separating-axis distance is never more than the true one).

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad of nose and tail unit.
    """
    placed = place(scene, np.array(pose), np.array(booms))
    found: list[Contact] = []
    for solids, names in obstacle_solids(scene, placed):
        close = near(placed, solids)
        if not close.any():
            continue
        part, other = np.nonzero(close)
        first, second = chosen(placed.parts, part), chosen(solids, other)
        apart = pair_apart(first, second)
        for k in np.flatnonzero(apart <= TOUCH_M):
            if names[other[k]] != "slope's edge":
                place_m = _place(first.corners[k], second.corners[k])
                found.append(Contact(scene.part_names[part[k]], names[other[k]], -float(apart[k]), *place_m))
    return tuple(found)


def _place(first: Array, second: Array) -> tuple[float, float, float]:
    """A point between two solids that touch: middle of the outlines' overlap in plan, middle of the heights' overlap."""
    one, other = (shapely.MultiPoint(corners[:, :2]).convex_hull for corners in (first, second))
    shared = shapely.intersection(one, other)
    middle = (shapely.shortest_line(one, other) if shared.is_empty else shared).centroid
    low, high = max(first[:, 2].min(), second[:, 2].min()), min(first[:, 2].max(), second[:, 2].max())
    return float(middle.x), float(middle.y), float(low + high) / 2.0

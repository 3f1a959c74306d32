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


def touch_groups(scene: Scene, placed: Placed) -> tuple[Solids, ...]:
    """All solids that a part may touch, one shape a group: boxes, superstructures, tail swings, booms."""
    return scene.box_solids, scene.rounds, placed.tails, placed.booms


def touch_names(scene: Scene) -> tuple[str, ...]:
    """Their names, in the same order."""
    return (*scene.names, *(f"{unit} boom" for unit in END_UNITS))


def near(scene: Scene, placed: Placed) -> Flags:
    """Parts and solids of all groups whose bounding boxes touch (..., part, solid); the slope's edge is left out."""
    lead = placed.low_m.shape[:-2]
    moving = placed.tails.corners, placed.booms.corners
    still = [np.broadcast_to(ends, (*lead, *ends.shape)) for ends in (scene.lows_m, scene.highs_m)]
    low = np.concatenate([still[0], *(corners.min(axis=-2) for corners in moving)], axis=-2) - TOUCH_M
    high = np.concatenate([still[1], *(corners.max(axis=-2) for corners in moving)], axis=-2) + TOUCH_M
    found = np.ones((*placed.low_m.shape[:-1], low.shape[-2]), dtype=bool)
    for axis in range(3):
        found &= placed.high_m[..., :, None, axis] >= low[..., None, :, axis]
        found &= placed.low_m[..., :, None, axis] <= high[..., None, :, axis]
    found[..., scene.kinds.index("edge")] = False
    return found


def contacts(scene: Scene, pose: Pose, booms: tuple[BoomPose, BoomPose]) -> tuple[Contact, ...]:
    """Pairs that touch now, to 1 mm (the separating-axis distance is never more than the true one).

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad of nose and tail unit.
    """
    placed = place(scene, np.array(pose), np.array(booms))
    close = near(scene, placed)
    if not close.any():
        return ()
    found: list[Contact] = []
    first, names = 0, touch_names(scene)
    for solids in touch_groups(scene, placed):
        last = first + len(solids.corners)
        part, other = np.nonzero(close[:, first:last])
        if not len(part):
            first = last
            continue
        apart = pair_apart(chosen(placed.parts, part), chosen(solids, other))
        for k in np.flatnonzero(apart <= TOUCH_M):
            where = _place(placed.parts.corners[part[k]], solids.corners[other[k]])
            found.append(Contact(scene.load.names[part[k]], names[first + other[k]], -float(apart[k]), *where))
        first = last
    return tuple(found)


def _place(first: Array, second: Array) -> tuple[float, float, float]:
    """A point between two solids that touch: middle of their overlap in plan, middle of the heights they share."""
    one, other = (shapely.MultiPoint(corners[:, :2]).convex_hull for corners in (first, second))
    shared = shapely.intersection(one, other)
    middle = (shapely.shortest_line(one, other) if shared.is_empty else shared).centroid
    low, high = max(first[:, 2].min(), second[:, 2].min()), min(first[:, 2].max(), second[:, 2].max())
    return float(middle.x), float(middle.y), float(low + high) / 2.0

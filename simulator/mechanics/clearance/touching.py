"""Which part of the trailer touches which solid now, and where. What lies on a waiting deck is set down there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely

from simulator.mechanics.clearance.apart import pair_apart
from simulator.mechanics.clearance.over import over_deck_m
from simulator.mechanics.clearance.place import Placed, place
from simulator.mechanics.clearance.scene import Pose, Scene
from simulator.mechanics.clearance.slew import Booms
from simulator.mechanics.clearance.solid import Array, Flags, Solids, chosen
from simulator.mechanics.clearance.units import called
from simulator.mechanics.flat_deck import RESTS_M

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


def contacts(scene: Scene, pose: Pose, booms: Booms) -> tuple[Contact, ...]:
    """Pairs that touch now, to 1 mm (the separating-axis distance is never more than the true one).

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad, a unit each.
    """
    return touching(scene, place(scene, pose, booms))


def touching(scene: Scene, placed: Placed) -> tuple[Contact, ...]:
    """The same of a trailer that is put in already."""
    found: list[Contact] = []
    for solids, names, close in _groups(scene, placed):
        if not close.any():
            continue
        part, other = np.nonzero(close)
        apart = pair_apart(chosen(placed.parts, part), chosen(solids, other))
        for k in np.flatnonzero(apart <= TOUCH_M):
            where = _place(placed.corners[part[k]], solids.corners[other[k]])
            found.append(Contact(scene.load.names[part[k]], names[other[k]], -float(apart[k]), *where))
    return tuple(found)


def _groups(scene: Scene, placed: Placed) -> Iterator[tuple[Solids, tuple[str, ...], Flags]]:
    """Solids of one shape each, their names, and which parts are near them: boxes, superstructures, tails, booms."""
    close: Flags = np.asarray((placed.off_m <= TOUCH_M).all(axis=0))
    close[:, scene.kinds.index("edge")] = False
    if scene.deck is not None:
        at = scene.kinds.index("flat")
        for part in np.flatnonzero(close[:, at]).tolist():
            close[part, at] = not _lies(placed, part, at)
    boxes, tails = len(scene.kinds), len(scene.names) - len(scene.slewing.feet)
    yield scene.box_solids, scene.names, close[:, :boxes]
    yield scene.rounds, scene.names[boxes:], close[:, boxes:tails]
    if close[:, tails:].any():
        yield placed.slewed.tails, scene.names[tails:], close[:, tails:]
    near = _near_booms(placed)
    if near.any():
        yield placed.slewed.booms, tuple(f"{called(unit)} boom" for unit in scene.description.units), near


def _lies(placed: Placed, part: int, deck: int) -> bool:
    """It has come onto a waiting deck from above: out of it is nearer upward than sideways, and near."""
    deep_m = -over_deck_m(placed, part)
    return bool(deep_m <= min(RESTS_M, -float(placed.off_m[:2, part, deck].max())))


def _near_booms(placed: Placed) -> Flags:
    """Parts whose boxes along a boom's own axes touch it (part, unit)."""
    return np.asarray(_off_booms_m(placed) <= TOUCH_M)


def _off_booms_m(placed: Placed) -> Array:
    """How far bounding boxes along a boom's own axes are apart (part, unit)."""
    moving, (low, high) = placed.slewed, placed.ends_m
    deep = moving.numbers.half_deep_m[:, None]
    ends = np.concatenate([moving.length_m + deep, deep, deep], axis=1)
    low, high = (end[:, 3:].reshape(len(end), -1, 3) for end in (low, high))
    return np.asarray(np.maximum(low - ends, -deep - high).max(axis=-1))


def apart_m(scene: Scene, placed: Placed) -> float:
    """How far part and solid can come nearer to each other before `touching` can find a contact; 0 or less: at once.

    By bounding boxes, as there: along the road, across it and up, of booms along the booms' own axes.
    """
    solids = np.maximum.reduce(placed.off_m)
    solids[:, scene.kinds.index("edge")] = np.inf
    return float(min(solids.min(), _off_booms_m(placed).min())) - TOUCH_M


def _place(first: Array, second: Array) -> tuple[float, float, float]:
    """A point between two solids that touch: middle of their overlap in plan, middle of the heights they share."""
    one, other = (shapely.MultiPoint(corners[:, :2]).convex_hull for corners in (first, second))
    shared = shapely.intersection(one, other)
    middle = (shapely.shortest_line(one, other) if shared.is_empty else shared).centroid
    low, high = max(first[:, 2].min(), second[:, 2].min()), min(first[:, 2].max(), second[:, 2].max())
    return float(middle.x), float(middle.y), float(low + high) / 2.0

"""Gap of the trailer to the ground: straight below (slope, bed and road), and across to the slope's face."""

from __future__ import annotations

from math import tan
from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance.clip import lowest, rectangle
from simulator.mechanics.clearance.over import over_deck_m
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.scene import Load, Scene, Surface
from simulator.mechanics.clearance.solid import Array
from simulator.mechanics.ground import Deck
from simulator.scenario.flat import FLAT

STEEP_RAD = 0.3
"""Ground steeper than this across is called slope, else bed or road."""
SPOT_M = 1.0e-9
"""Half the side of a spot; a face cut down to no size at all would be rounded away."""
FLAT_M = 1.0e-9
"""A piece of ground that rises less than this faces nothing sideways."""


class GroundGap(NamedTuple):
    """Where the trailer is nearest to the ground straight below it, and how near its parts are to faces beside them."""

    part: str
    gap_m: float
    meets: str
    """slope, bed, road or flat trailer"""
    x_m: float
    y_m: float
    sides_m: tuple[float, ...]
    """Of each part the level distance across the road to a face of the ground, such as the slope's, at its height."""


def ground_heights(surface: Surface, x_m: Array, y_m: Array) -> Array:
    """Height of the ground at places, m."""
    height = np.interp(y_m, surface.y_m, surface.z_m)
    if not surface.breaks_x_m:
        return np.asarray(height)
    share = np.interp(y_m, surface.y_m, surface.share)
    return np.asarray(height + share * np.interp(x_m, surface.x_m, surface.rise_m))


def _least_gap(scene: Scene, placed: Placed) -> tuple[int, float, float, float]:
    """The part with the least vertical gap to the ground, the gap, and its x and y, m.

    The gap is a convex function less a plane within each facet of the ground, so its least value lies at a corner,
    where an edge crosses a ridge or break of the ground, or at a corner of the ground. Exact where the bed's height is
    carried in full or not at all.
    """
    surface, corners = scene.surface, placed.corners
    low, high = placed.whole_m
    gaps = corners[..., 2] - ground_heights(surface, corners[..., 0], corners[..., 1])
    best = _at_least(gaps, corners)
    breaks_x = [x for x in surface.breaks_x_m if low[0] < x < high[0]]
    breaks_y = [one.y_m for one in surface.ridges if low[1] < one.y_m < high[1] and low[2] - one.high_m < best[1]]
    for axis, value in (*((0, x) for x in breaks_x), *((1, y) for y in breaks_y)):
        where = _crossings(scene, placed, axis, value)
        crossed = where[..., 2] - ground_heights(surface, where[..., 0], where[..., 1])
        best = min(best, _at_least(crossed, where), key=lambda one: one[1])
    for x, y in ((x, y) for x in breaks_x for y in breaks_y):
        height = float(ground_heights(surface, np.array([x]), np.array([y]))[0])
        spot = rectangle((x - SPOT_M, x + SPOT_M), (y - SPOT_M, y + SPOT_M))
        for part, (least, most) in enumerate(zip(placed.lowest_m, placed.highest_m, strict=True)):
            if least[2] - height >= best[1] or not (least[0] <= x <= most[0] and least[1] <= y <= most[1]):
                continue
            gap = lowest(placed.underside(part), spot) - height
            best = min(best, (part, gap, x, y), key=lambda one: one[1])
    return best


def _at_least(gaps: Array, where: Array) -> tuple[int, float, float, float]:
    part, k = divmod(int(gaps.argmin()), gaps.shape[1])
    return part, float(gaps[part, k]), float(where[part, k, 0]), float(where[part, k, 1])


def _crossings(scene: Scene, placed: Placed, axis: int, value: float) -> Array:
    """Where a part's edges cross x or y = value (part, edge, 3); a corner where they do not."""
    corners = placed.seen.reshape(-1, placed.seen.shape[-1])[:, :3]
    start = corners[scene.load.starts]
    step = corners[scene.load.ends] - start
    along = step[:, axis]
    share = np.divide(value - start[:, axis], along, out=np.zeros_like(along), where=np.abs(along) > 1e-12)
    share[(share < 0.0) | (share > 1.0)] = 0.0
    return np.asarray(start + share[:, None] * step).reshape(len(scene.load.names), -1, 3)


def sides_m(scene: Scene, placed: Placed) -> Array:
    """Level distance across the road from each part to a face of the ground (part), m; infinite with none beside it.

    Between a convex part and a straight face it is least at a corner of the part or at a ridge of the ground.
    """
    surface, bottom, top = scene.surface, placed.whole_m[0][2], placed.whole_m[1][2]
    found = np.full(len(scene.load.names), np.inf)
    if not surface.faces or bottom > surface.top_m:
        return found
    x, y, z = placed.seen[..., 0], placed.seen[..., 1], placed.seen[..., 2]
    rise = np.interp(x, surface.x_m, surface.rise_m)
    for face in surface.faces:
        if bottom > face.high_m + FLAT_M or top < face.low_m - FLAT_M:
            continue
        first, last = (height + share * rise for height, share in zip(face.z_m, face.share, strict=True))
        step = last - first
        share = np.divide(z - first, step, out=np.full(step.shape, np.inf), where=np.abs(step) > FLAT_M)
        off = np.abs(face.y_m[0] + share * (face.y_m[1] - face.y_m[0]) - y)
        beside = np.where((share >= 0.0) & (share <= 1.0), off, np.inf)
        found = np.minimum(found, np.minimum.reduce(beside))
    for ridge in surface.ridges:
        if bottom <= ridge.high_m and top >= ridge.low_m:
            over = z - ridge.share * rise - ridge.z_m
            found = np.minimum(found, _ridge_beside(scene.load, ridge.y_m - y.ravel(), over.ravel()))
    return found


def _ridge_beside(load: Load, off_m: Array, over_m: Array) -> Array:
    """Level distance of a ridge from the parts at the ridge's height (part), infinite for parts that are not as high.

    Args:
        load: the trailer.
        off_m: how far across the ridge is from each corner.
        over_m: how far each corner is over the ridge.
    """
    start, end = over_m[load.starts], over_m[load.ends]
    crossed = (start <= 0.0) != (end <= 0.0)
    share = np.divide(start, start - end, out=np.zeros(len(start)), where=crossed)
    first = off_m[load.starts]
    off = (first + share * (off_m[load.ends] - first)).reshape(len(load.names), -1)
    held = crossed.reshape(off.shape)
    least = np.minimum.reduce(np.where(held, off, np.inf), axis=1)
    most = np.maximum.reduce(np.where(held, off, -np.inf), axis=1)
    return np.asarray(np.maximum(np.maximum(least, -most), 0.0))


def ground_gap(scene: Scene, placed: Placed) -> GroundGap:
    """The part nearest to the ground, or to a deck that waits on it, straight below it, and how far each is from the
    slope's face beside it."""
    part, gap, x, y = _least_gap(scene, placed)
    sides = tuple(sides_m(scene, placed).tolist())
    over, deck = _over_deck(placed, gap)
    if deck is not None:
        x, y = (deck.low_x_m + deck.high_x_m) / 2.0, (deck.low_y_m + deck.high_y_m) / 2.0
        return GroundGap(scene.load.names[over[1]], over[0], FLAT, x, y, sides)
    return GroundGap(scene.load.names[part], gap, _ground_word(scene, x, y), x, y, sides)


def _over_deck(placed: Placed, below_m: float) -> tuple[tuple[float, int], Deck | None]:
    """The least gap of a part over a waiting deck and which part it is of, with the deck where it is less."""
    best, deck = (below_m, 0), placed.scene.deck
    if deck is None:
        return best, None
    for part in range(len(placed.lowest_m)):
        best = min(best, (over_deck_m(placed, part, below_m=best[0]), part))
    return best, deck if best[0] < below_m else None


def _ground_word(scene: Scene, x_m: float, y_m: float) -> str:
    if y_m >= scene.description.site.edge_y_m:
        return "road"
    before, after = ground_heights(scene.surface, np.array([x_m]), np.array([y_m - 0.05, y_m + 0.05])).tolist()
    return "slope" if abs(after - before) > 0.1 * tan(STEEP_RAD) else "bed"

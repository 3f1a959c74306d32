"""Gap of the trailer to the ground: straight below (slope, bed and road), and across to the slope's face."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance_clip import lowest, rectangle
from simulator.mechanics.clearance_place import Placed
from simulator.mechanics.clearance_scene import Scene, Surface
from simulator.mechanics.clearance_solid import Array

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
    """slope, bed or road"""
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
    low, high = placed.low_m.min(axis=0).tolist(), placed.high_m.max(axis=0).tolist()
    gaps = corners[..., 2] - ground_heights(surface, corners[..., 0], corners[..., 1])
    best = _at_least(gaps, corners)
    breaks_x = [x for x in surface.breaks_x_m if low[0] < x < high[0]]
    breaks_y = [y for y, _, top in surface.ridges_m if low[1] < y < high[1] and low[2] - top < best[1]]
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
    corners = placed.corners.reshape(-1, 3)
    start = corners[scene.load.starts]
    step = corners[scene.load.ends] - start
    along = step[:, axis]
    share = np.divide(value - start[:, axis], along, out=np.zeros_like(along), where=np.abs(along) > 1e-12)
    share[(share < 0.0) | (share > 1.0)] = 0.0
    return np.asarray(start + share[:, None] * step).reshape(len(placed.corners), -1, 3)


def sides_m(scene: Scene, placed: Placed) -> Array:
    """Level distance across the road from each part to a face of the ground (part), m; infinite with none beside it.

    Between a convex part and a straight face it is least at a corner of the part or at a ridge of the ground.
    """
    surface, corners = scene.surface, placed.corners
    found = np.full(len(corners), np.inf)
    if not len(surface.faces) or float(placed.low_m[:, 2].min()) > surface.top_m:
        return found
    rise = np.interp(corners[..., 0], surface.x_m, surface.rise_m)[..., None]
    ground_z = surface.z_m + surface.share * rise
    first, last = surface.faces, surface.faces + 1
    start, step = ground_z[..., first], ground_z[..., last] - ground_z[..., first]
    share = np.divide(corners[..., 2:] - start, step, out=np.full(step.shape, np.nan), where=np.abs(step) > FLAT_M)
    off = surface.y_m[first] + share * (surface.y_m[last] - surface.y_m[first]) - corners[..., 1:2]
    beside = np.where((share >= 0.0) & (share <= 1.0), np.abs(off), np.inf)
    return np.asarray(np.minimum(beside.min(axis=(1, 2)), _ridges_beside(scene, placed, rise[..., 0])))


def _ridges_beside(scene: Scene, placed: Placed, rise_m: Array) -> Array:
    """Level distance of ridges from the parts at a ridge's height (part), infinite for parts that are not as high."""
    surface, load = scene.surface, scene.load
    corners = placed.corners.reshape(-1, 3)
    least = np.full(len(placed.corners), np.inf)
    low, high = float(placed.low_m[:, 2].min()), float(placed.high_m[:, 2].max())
    for y, bottom, top in surface.ridges_m:
        if low > top or high < bottom:
            continue
        height = float(np.interp(y, surface.y_m, surface.z_m))
        over = corners[:, 2] - float(np.interp(y, surface.y_m, surface.share)) * rise_m.ravel() - height
        start, end = over[load.starts], over[load.ends]
        crossed = (start <= 0.0) != (end <= 0.0)
        if not crossed.any():
            continue
        share = np.divide(start, start - end, out=np.zeros(len(start)), where=crossed)
        at = corners[load.starts, 1] + share * (corners[load.ends, 1] - corners[load.starts, 1])
        off = (y - at).reshape(len(least), -1)
        held = crossed.reshape(off.shape)
        least_off, most_off = np.where(held, off, np.inf).min(axis=1), np.where(held, off, -np.inf).max(axis=1)
        beside = np.maximum(np.maximum(least_off, -most_off), 0.0)
        least = np.where(held.any(axis=1), np.minimum(least, beside), least)
    return least


def ground_gap(scene: Scene, placed: Placed) -> GroundGap:
    """The part nearest to the ground straight below it, and how far each is from the slope's face beside it."""
    part, gap, x, y = _least_gap(scene, placed)
    sides = tuple(sides_m(scene, placed).tolist())
    return GroundGap(scene.load.names[part], gap, _ground_word(scene, x, y), x, y, sides)


def _ground_word(scene: Scene, x_m: float, y_m: float) -> str:
    if y_m >= scene.description.site.edge_y_m:
        return "road"
    near = ground_heights(scene.surface, np.array([x_m, x_m]), np.array([y_m - 0.05, y_m + 0.05]))
    return "slope" if abs(float(near[1] - near[0])) > 0.1 * np.tan(STEEP_RAD) else "bed"

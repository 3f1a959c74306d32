"""Gap of the trailer's parts to the ground straight below: slope, bed and road."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance_gap import box_gaps, box_sides, level_boxes
from simulator.mechanics.clearance_scene import Placed, Scene, Surface
from simulator.mechanics.clearance_solid import Array

STEEP_RAD = 0.3
"""Ground steeper than this across is called slope, else bed or road."""


class GroundGap(NamedTuple):
    """Where the trailer is nearest to the ground straight below it."""

    part: str
    gap_m: float
    meets: str
    """slope, bed or road"""
    x_m: float
    y_m: float


def ground_heights(surface: Surface, x_m: Array, y_m: Array) -> Array:
    """Height of the ground at places, m."""
    share = np.interp(y_m, surface.y_m, surface.share)
    return np.asarray(np.interp(y_m, surface.y_m, surface.z_m) + share * np.interp(x_m, surface.x_m, surface.rise_m))


def part_ground_gaps(scene: Scene, placed: Placed) -> tuple[Array, Array]:
    """Least vertical gap of each part to the ground (part), and where (part, 2), for one pose, m.

    The gap is a convex function less a plane within each facet of the ground, so its least value lies at a corner,
    where an edge crosses a ridge or break of the ground, or at a corner of the ground. Exact where the bed's height is
    carried in full or not at all.
    """
    low, high = placed.low_m.min(axis=0), placed.high_m.max(axis=0)
    points = [placed.parts.corners]
    breaks_x = [x for x in scene.surface.x_m.tolist() if low[0] < x < high[0]]
    breaks_y = [y for y in scene.surface.ridges_y_m if low[1] < y < high[1]]
    points += [_crossings(scene, placed, 0, x) for x in breaks_x] + [_crossings(scene, placed, 1, y) for y in breaks_y]
    where = np.concatenate(points, axis=1)
    gaps = where[..., 2] - ground_heights(scene.surface, where[..., 0], where[..., 1])
    if breaks_x and breaks_y:
        corners = np.array([(x, y) for x in breaks_x for y in breaks_y])
        where = np.concatenate([where[..., :2], np.broadcast_to(corners, (len(where), *corners.shape))], axis=1)
        gaps = np.concatenate([gaps, _over_points(scene, placed, corners)], axis=1)
    best = gaps.argmin(axis=1)
    rows = np.arange(len(best))
    return gaps[rows, best], where[rows, best, :2]


def _crossings(scene: Scene, placed: Placed, axis: int, value: float) -> Array:
    """Where a part's edges cross x or y = value (part, edge, 3); a corner where they do not."""
    rows = np.arange(len(scene.load.pairs))[:, None]
    start = placed.parts.corners[rows, scene.load.pairs[..., 0]]
    step = placed.parts.corners[rows, scene.load.pairs[..., 1]] - start
    along = step[..., axis]
    share = np.divide(value - start[..., axis], along, out=np.zeros_like(along), where=np.abs(along) > 1e-12)
    share[(share < 0.0) | (share > 1.0)] = 0.0
    return np.asarray(start + share[..., None] * step)


def _over_points(scene: Scene, placed: Placed, corners: Array) -> Array:
    """Gaps over single points of the ground (part, point), infinite where a part is not over one."""
    height = ground_heights(scene.surface, corners[:, 0], corners[:, 1])
    points = level_boxes(corners, np.zeros_like(corners), height)
    off = box_sides(placed.parts, points, 0.0) > 0.0
    return np.where(off, np.inf, box_gaps(placed.parts, points, 0.0))


def ground_gap(scene: Scene, placed: Placed) -> GroundGap:
    """The part nearest to the ground straight below it."""
    gaps, where = part_ground_gaps(scene, placed)
    part = int(gaps.argmin())
    x, y = float(where[part, 0]), float(where[part, 1])
    return GroundGap(scene.load.names[part], float(gaps[part]), _ground_word(scene, x, y), x, y)


def _ground_word(scene: Scene, x_m: float, y_m: float) -> str:
    if y_m >= scene.description.site.edge_y_m:
        return "road"
    near = ground_heights(scene.surface, np.array([x_m, x_m]), np.array([y_m - 0.05, y_m + 0.05]))
    return "slope" if abs(float(near[1] - near[0])) > 0.1 * np.tan(STEEP_RAD) else "bed"

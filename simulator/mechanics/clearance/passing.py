"""Sideways room: superstructures and tail swings, jacks and pads, and the live lane's edge, all in plan."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance.governing import TO_RAISE_M
from simulator.mechanics.clearance.outline import Outlined
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.scene import Scene
from simulator.mechanics.clearance.solid import Array
from simulator.scenario.description import Limits


class Passing(NamedTuple):
    """A part beside something of a unit."""

    part: str
    meets: str
    distance_m: float
    """Level distance of the outlines in plan, 0 where they overlap; where it or `over_m` is more than `Scene.far_m` it
    may be that of bounding boxes, which is no more than the true one."""
    over_m: float
    """Lowest point of the part over the highest of the other."""
    state: str


class LaneRoom(NamedTuple):
    """Room to the live lane's edge in plan; < 0 is in the lane."""

    trailer_m: float
    part: str
    tail_swings_m: tuple[float, ...]
    """A unit each."""
    state: str


def gap_state(gap_m: float, limits: Limits) -> str:
    """to raise, not clear, close or clears, for the vertical gap to something near in plan."""
    if gap_m < -TO_RAISE_M:
        return "to raise"
    if gap_m < 0.0:
        return "not clear"
    return "close" if gap_m < limits.gap_close_m else "clears"


def passing(scene: Scene, placed: Placed) -> tuple[Passing, ...]:
    """Per unit the tightest place beside superstructure, tail swing, jacks and pads; of all, beside tailboards.

    Superstructures and tail swings (where they are now) are measured to the outlines swept to the landing, the others
    to the outlines of now. Of those the tightest has the least of the larger of level and vertical room.
    What is farther than `Scene.far_m` beside a part or below it is at least so far: distances of bounding boxes.
    """
    boxes, outlines = len(scene.kinds), Outlined(placed)
    found = []
    for i in range(2 * len(scene.slewing.feet)):
        part, level = outlines.nearest_swept(boxes + i)
        found.append(_passing(placed, part, boxes + i, level))
    return (*found, *_beside_low_things(scene, placed, outlines))


def _beside_low_things(scene: Scene, placed: Placed, outlines: Outlined) -> list[Passing]:
    """Jacks, pads and tailboards, four at a time."""
    things = scene.low_things
    x, y, up = placed.off_m.take(things, axis=2)
    off = np.hypot(np.maximum(x, 0.0), np.maximum(y, 0.0))
    bounds = _by_four(np.maximum(off, up))
    least = np.minimum.reduce(_by_four(np.maximum(off, placed.over_m.take(things, axis=1))), axis=1).tolist()
    found = []
    for four, at in enumerate(bounds.argmin(axis=1).tolist()):
        row, best = bounds[four], (inf, 0, 0, 0.0)
        while (bound := float(row[at])) < best[0]:
            part, k = at // 4, 4 * four + at % 4
            thing, level = int(things[k]), float(off[part, k])
            if least[four] <= scene.far_m:
                level = outlines.level_m(part, thing, level)
            best = min(best, (max(level, bound), part, thing, level))
            if best[0] > bound:
                row[at] = inf
                at = int(row.argmin())
        found.append(_passing(placed, *best[1:]))
    return found


def _by_four(bounds_m: Array) -> Array:
    """Numbers (part, thing) with a row for every four things."""
    return bounds_m.reshape(len(bounds_m), -1, 4).swapaxes(0, 1).reshape(bounds_m.shape[1] // 4, -1)


def _passing(placed: Placed, part: int, obstacle: int, level_m: float) -> Passing:
    scene, limits = placed.scene, placed.scene.description.limits
    over_m = placed.lowest_m[part][2] - placed.tops_m[obstacle]
    if level_m <= 0.0:
        state = gap_state(over_m, limits)
    else:
        state = "close" if level_m < limits.gap_close_m and over_m < limits.gap_close_m else "clears"
    return Passing(scene.load.names[part], scene.names[obstacle], level_m, over_m, state)


def lane_room(scene: Scene, placed: Placed) -> LaneRoom:
    """Trailer and tail swings against the live lane, at any height."""
    lane, limits = scene.description.site.live_lane_y_m, scene.description.limits
    reach = [high[1] for high in placed.highest_m]
    farthest = max(reach)
    trailer, part = lane - farthest, reach.index(farthest)
    tails = tuple(lane - y for y in placed.slewed.tail_ends_m[1, 1].tolist())
    least = min(trailer, *tails)
    state = "not clear" if least < limits.lane_stop_m else "close" if trailer < limits.lane_caution_m else "clears"
    return LaneRoom(trailer, scene.load.names[part], tails, state)

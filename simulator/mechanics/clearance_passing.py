"""Sideways room: superstructures and tail swings, jacks and pads, and the live lane's edge, all in plan."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from simulator.mechanics.clearance_governing import TO_RAISE_M, box_distance
from simulator.mechanics.clearance_over import Plan
from simulator.mechanics.clearance_scene import Outlines, Placed, Scene
from simulator.mechanics.clearance_solid import Array
from simulator.scenario.description import Limits

FAR_M = 3.0
"""Farther than this from all jacks and pads, outlines are not measured."""


class Passing(NamedTuple):
    """A part beside something of a unit."""

    part: str
    meets: str
    distance_m: float
    """Level distance of the outlines in plan; 0 where they overlap."""
    over_m: float
    """Lowest point of the part over the highest of the other."""
    state: str


class LaneRoom(NamedTuple):
    """Room to the live lane's edge in plan; < 0 is in the lane."""

    trailer_m: float
    part: str
    tail_swings_m: tuple[float, float]
    """Nose unit's, tail unit's."""
    state: str


def gap_state(gap_m: float, limits: Limits) -> str:
    """to raise, not clear, close or clears, for the vertical gap to something near in plan."""
    if gap_m < -TO_RAISE_M:
        return "to raise"
    if gap_m < 0.0:
        return "not clear"
    return "close" if gap_m < limits.gap_close_m else "clears"


def passing(scene: Scene, placed: Placed, plan: Plan) -> tuple[Passing, ...]:
    """Per unit the tightest place beside superstructure, tail swing, jacks and pads.

    Superstructures and tail swings (where they are now) are measured to the outlines swept to the landing, jacks and
    pads to the outlines of now. The tightest has the least of the larger of level and vertical room; of jacks and pads
    more than 3 m away the distances are those of bounding boxes, which is no more than the true ones.
    """
    boxes, low = len(scene.kinds), placed.low_m[:, 2]
    found = []
    axes = np.maximum(0.0, shapely.distance(plan.swept[:, None], scene.axes) - scene.radius_m)
    for end, part in enumerate(axes.argmin(axis=0).tolist()):
        over = float(low[part] - scene.highs_m[boxes + end, 2])
        found.append(_passing(scene, part, boxes + end, float(axes[part, end]), over))
    tails = shapely.distance(plan.swept[:, None], plan.tails)
    for end, part in enumerate(tails.argmin(axis=0).tolist()):
        over = float(low[part] - scene.highs_m[boxes + end, 2])
        found.append(_passing(scene, part, boxes + 2 + end, float(tails[part, end]), over))
    return (*found, *_beside_low_things(scene, placed, plan))


def _beside_low_things(scene: Scene, placed: Placed, plan: Plan) -> list[Passing]:
    """Jacks and pads, four at a time."""
    things = scene.low_things
    low, high = scene.lows_m[things], scene.highs_m[things]
    off = box_distance(placed.low_m[:, None, :2], placed.high_m[:, None, :2], low[:, :2], high[:, :2])
    over = placed.low_m[:, 2, None] - high[:, 2]
    under = low[:, 2] - placed.high_m[:, 2, None]
    room = np.maximum(np.maximum(off, over), under)
    far = bool(room.min() > FAR_M)
    found = []
    for i in range(0, len(things), 4):
        part, k, level = _nearest(
            plan.now, scene.outlines, room[:, i : i + 4], off[:, i : i + 4], things[i : i + 4], far
        )
        found.append(_passing(scene, part, int(things[i + k]), level, float(over[part, i + k])))
    return found


def _nearest(
    parts: Outlines, others: Outlines, room: Array, off: Array, things: NDArray[np.intp], far: bool
) -> tuple[int, int, float]:
    """Part, column and level distance of the tightest of a table; outlines are measured only where it may matter."""
    best, least = (0, 0, 0.0), np.inf
    flat = room.ravel()
    for at in flat.argsort().tolist():
        if flat[at] >= least:
            break
        part, k = divmod(at, len(things))
        if far:
            return part, k, float(off[part, k])
        level = float(shapely.distance(parts[part], others[things[k]]))
        if (true := max(level, float(flat[at]))) < least:
            best, least = (part, k, level), true
    return best


def _passing(scene: Scene, part: int, obstacle: int, level_m: float, over_m: float) -> Passing:
    state = _passing_state(level_m, over_m, scene.description.limits)
    return Passing(scene.load.names[part], scene.names[obstacle], level_m, over_m, state)


def _passing_state(distance_m: float, over_m: float, limits: Limits) -> str:
    if distance_m <= 0.0:
        return gap_state(over_m, limits)
    return "close" if max(distance_m, over_m) < limits.gap_close_m else "clears"


def lane_room(scene: Scene, placed: Placed) -> LaneRoom:
    """Trailer and tail swings against the live lane, at any height."""
    lane, limits = scene.description.site.live_lane_y_m, scene.description.limits
    reach = placed.high_m[:, 1]
    part = int(reach.argmax())
    trailer = lane - float(reach[part])
    nose, tail = (lane - float(y) for y in placed.tails.corners[..., 1].max(axis=-1))
    least = min(trailer, nose, tail)
    state = "not clear" if least < 0.0 else "close" if trailer < limits.lane_caution_m else "clears"
    return LaneRoom(trailer, scene.load.names[part], (nose, tail), state)

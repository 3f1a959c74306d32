"""Sideways room: superstructures and tail swings, jacks and pads, and the live lane's edge, all in plan."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely

from simulator.mechanics.clearance_scene import Outlines, Placed, Scene, hulls
from simulator.mechanics.clearance_solid import Array
from simulator.mechanics.clearance_units import END_UNITS
from simulator.scenario.description import Limits

FAR_M = 3.0
"""Jacks and pads farther than this in plan are not looked at."""
TO_RAISE_M = 1.5
"""A part more than this below what it must pass over is still to raise, not a fault."""


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
    """to raise, not clear, close or clears, for a vertical gap."""
    if gap_m < -TO_RAISE_M:
        return "to raise"
    if gap_m < 0.0:
        return "not clear"
    return "close" if gap_m < limits.gap_close_m else "clears"


def passing(scene: Scene, placed: Placed, now: Outlines, swept: Outlines) -> tuple[Passing, ...]:
    """Per unit the tightest place beside superstructure, tail swing, jacks and pads.

    Superstructures and tail swings (where they are now) are measured to the outlines swept to the landing, jacks and
    pads to the outlines of now; the tightest is the one with the least of the larger of level and vertical room.
    """
    boxes, units = len(scene.kinds), scene.description.units
    radius = np.array([unit.superstructure_radius_m for unit in units])
    axes = np.maximum(0.0, shapely.distance(swept[:, None], shapely.points(scene.stand_m[:, :2])) - radius)
    tails = shapely.distance(swept[:, None], hulls(placed.tails))
    top = scene.rounds.corners[..., 2].max(axis=-1)
    low = placed.low_m[:, 2, None]
    found = [
        _tightest(scene, table[:, end : end + 1], low - top[end], [boxes + 2 * i + end])
        for i, table in enumerate((axes, tails))
        for end in (0, 1)
    ]
    for kind in ("jack", "pad"):
        for end in END_UNITS:
            index = [i for i in range(boxes) if scene.kinds[i] == kind and scene.names[i].startswith(end)]
            off = shapely.distance(now[:, None], scene.outlines[index])
            found.append(_tightest(scene, off, low - scene.boxes.high_m[index], index))
    return tuple(found)


def _tightest(scene: Scene, distance: Array, over: Array, index: list[int]) -> Passing:
    """The tightest of a table (part, obstacle)."""
    part, k = divmod(int(np.maximum(distance, over).argmin()), distance.shape[1])
    level, height = float(distance[part, k]), float(over[part, k])
    state = _passing_state(level, height, scene.description.limits)
    return Passing(scene.part_names[part], scene.names[index[k]], level, height, state)


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
    return LaneRoom(trailer, scene.part_names[part], (nose, tail), state)

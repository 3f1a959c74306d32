"""What clears what: each part of the trailer over decks and all else, booms, ground, live lane, overhead line.

Vertical gaps are exact for pitched, rolled and yawed parts. Units are taken level on their floats.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance_boom import FAR_M, boom_distances, heights_below
from simulator.mechanics.clearance_governing import governing
from simulator.mechanics.clearance_ground import GroundGap, ground_gap
from simulator.mechanics.clearance_over import Plan, boom_table, gap_table, plan_outlines
from simulator.mechanics.clearance_overhead import OverheadGap, overhead_gaps
from simulator.mechanics.clearance_passing import LaneRoom, Passing, lane_room, passing
from simulator.mechanics.clearance_scene import Placed, Pose, Scene, place
from simulator.mechanics.clearance_solid import Array
from simulator.mechanics.clearance_units import END_UNITS
from simulator.scenario.description import Limits

Booms = tuple[BoomPose, BoomPose]
"""Nose unit's, tail unit's."""


class PartClearance(NamedTuple):
    """One part of the trailer and what it would meet."""

    part: str
    gap_m: float
    """Least vertical gap; infinite where nothing is met. Of a part that is not clear, to what it is not clear of."""
    meets: str
    """Empty where nothing is met."""
    state: str
    """to raise: more than 1.5 m below, or below what is not near in plan yet; not clear; close; clears"""
    to_raise_m: float
    """Height still missing to a gap that is nowhere close."""


class BoomClearance(NamedTuple):
    """The trailer under one boom; more than 3 m below its lowest point both figures are the height up to there."""

    part: str
    """The part nearest to it."""
    distance_m: float
    """Straight distance; the state goes by this."""
    gap_m: float
    """Least vertical gap up to its underside; infinite where it is over no part."""
    meets: str
    state: str
    """not clear, close, clears"""


class Clearances(NamedTuple):
    """All gaps at one pose."""

    parts: tuple[PartClearance, ...]
    """Each part over what it is, or will be on its way to the landing, over."""
    booms: tuple[BoomClearance, BoomClearance]
    """Nose unit's, tail unit's."""
    passing: tuple[Passing, ...]
    ground: GroundGap
    lane: LaneRoom
    overhead: tuple[OverheadGap, ...]

    @property
    def governing(self) -> PartClearance:
        """The part with most still to raise, else with the least gap."""
        return min(self.parts, key=lambda one: (-one.to_raise_m, one.gap_m))


class HeadRoom(NamedTuple):
    """Whether there is line left to raise by what is missing, boom tips where they are."""

    missing_m: float
    """Height the governing part still has to go up."""
    left_m: float
    """How far both hooks can still go up before head room is at its stop limit."""
    short_m: float
    """Height that is not there; 0 when it is enough."""
    unit: str
    """The unit whose head room decides."""
    part: str
    meets: str
    enough: bool


def clearances(scene: Scene, pose: Pose, booms: Booms) -> Clearances:
    """All gaps of a trailer at a pose, with both booms where they are.

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad of nose and tail unit.
    """
    placed = place(scene, np.array(pose), np.array(booms))
    plan = plan_outlines(placed)
    table = gap_table(scene, placed, plan)
    return Clearances(
        parts=_parts(scene, placed, table),
        booms=_booms(scene, placed, plan),
        passing=passing(scene, placed, plan),
        ground=ground_gap(scene, placed),
        lane=lane_room(scene, placed),
        overhead=overhead_gaps(scene, placed, pose, booms),
    )


def _parts(scene: Scene, placed: Placed, table: Array) -> tuple[PartClearance, ...]:
    meets, not_clear = governing(scene, placed, table)
    close = scene.description.limits.gap_close_m
    found: list[PartClearance] = []
    for i, part in enumerate(scene.load.names):
        gap, least = float(table[i, meets[i]]), float(table[i].min())
        if gap == np.inf:
            found.append(PartClearance(part, gap, "", "clears", 0.0))
            continue
        state = "not clear" if not_clear[i] else "to raise" if gap < 0.0 else "close" if gap < close else "clears"
        found.append(PartClearance(part, gap, scene.names[meets[i]], state, max(0.0, close - least)))
    return tuple(found)


def _booms(scene: Scene, placed: Placed, plan: Plan) -> tuple[BoomClearance, BoomClearance]:
    gaps = distances = heights_below(scene, placed)
    if gaps.min() <= FAR_M:
        gaps = boom_table(placed, plan)
        distances = np.minimum(boom_distances(scene, placed), gaps)
    limits = scene.description.limits
    found = []
    for end, part in enumerate(distances.argmin(axis=0).tolist()):
        distance, gap = float(distances[part, end]), float(gaps[:, end].min())
        state = "not clear" if distance < 0.0 else "close" if distance < limits.gap_close_m else "clears"
        found.append(BoomClearance(scene.load.names[part], distance, gap, f"{END_UNITS[end]} boom", state))
    return found[0], found[1]


def head_room_to_raise(found: Clearances, head_room_m: tuple[float, float], limits: Limits) -> HeadRoom:
    """Whether both hooks can go up by what the governing part is missing, with the head-room stop limit left.

    Args:
        found: gaps at the present pose.
        head_room_m: head room of nose and tail unit there (sheave to hook less block and stop).
        limits: of the scenario; the head-room stop limit must remain.
    """
    governing = found.governing
    unit = 0 if head_room_m[0] <= head_room_m[1] else 1
    left = head_room_m[unit] - limits.head_room_stop_m
    missing = governing.to_raise_m
    short = max(0.0, missing - left)
    enough = short <= 0.0
    return HeadRoom(missing, left, short, END_UNITS[unit], governing.part, governing.meets, enough)

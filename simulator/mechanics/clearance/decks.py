"""What clears what: each part of the trailer over decks and all else, booms, ground, live lane, overhead line.

Vertical gaps are exact for pitched, rolled and yawed parts. Units are taken level on their floats.
"""

from __future__ import annotations

from typing import NamedTuple

from simulator.mechanics.clearance.boom_gaps import nearest_to_boom
from simulator.mechanics.clearance.governing import below_what
from simulator.mechanics.clearance.ground_gaps import GroundGap, ground_gap
from simulator.mechanics.clearance.over import NOTHING_M, least_gaps
from simulator.mechanics.clearance.overhead import OverheadGap, overhead_gaps
from simulator.mechanics.clearance.passing import LaneRoom, Passing, lane_room, passing
from simulator.mechanics.clearance.place import Placed, place
from simulator.mechanics.clearance.scene import Pose, Scene
from simulator.mechanics.clearance.slew import Booms
from simulator.mechanics.clearance.units import END_UNITS, called
from simulator.scenario.description import Limits


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
    """The trailer under one boom."""

    part: str
    """The part nearest to it."""
    distance_m: float
    """Measured up to `Scene.far_m` (1.5 m more than what counts as close); more than that says at least so far."""
    meets: str
    state: str
    """not clear, close, clears"""
    at_least: bool
    """It is farther than is measured: `distance_m` is a lower bound."""


class Clearances(NamedTuple):
    """All gaps at one pose."""

    parts: tuple[PartClearance, ...]
    """Each part over what it is, or will be on its way to the landing, over."""
    booms: tuple[BoomClearance, ...]
    """A unit each."""
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
    """How far all hooks can still go up before head room is at its stop limit."""
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
        booms: boom length in m, elevation and slew in rad, a unit each.
    """
    return measured(scene, place(scene, pose, booms))


def measured(scene: Scene, placed: Placed) -> Clearances:
    """The same of a trailer that is put in already, so that its contacts can be asked too."""
    return Clearances(
        parts=part_clearances(scene, placed),
        booms=_booms(scene, placed),
        passing=passing(scene, placed),
        ground=ground_gap(scene, placed),
        lane=lane_room(scene, placed),
        overhead=overhead_gaps(scene, placed),
    )


def part_clearances(scene: Scene, placed: Placed) -> tuple[PartClearance, ...]:
    """Each part over what it is, or will be on its way to the landing, over."""
    least = least_gaps(placed)
    not_clear = below_what(placed, min(least)[0])
    close = scene.description.limits.gap_close_m
    found: list[PartClearance] = []
    for i, (part, (deepest, _)) in enumerate(zip(scene.load.names, least, strict=True)):
        if deepest == NOTHING_M:
            found.append(PartClearance(part, deepest, "", "clears", 0.0))
            continue
        gap, obstacle = not_clear.get(i, least[i])
        state = "not clear" if i in not_clear else "to raise" if gap < 0.0 else "close" if gap < close else "clears"
        found.append(PartClearance(part, gap, scene.names[obstacle], state, max(0.0, close - deepest)))
    return tuple(found)


def _booms(scene: Scene, placed: Placed) -> tuple[BoomClearance, ...]:
    close, found = scene.description.limits.gap_close_m, []
    for end, unit in enumerate(scene.description.units):
        distance, part = nearest_to_boom(placed, end)
        state = "not clear" if distance < 0.0 else "close" if distance < close else "clears"
        found.append(
            BoomClearance(scene.load.names[part], distance, f"{called(unit)} boom", state, distance > scene.far_m)
        )
    return tuple(found)


def height_left_m(head_room_m: tuple[float, ...], limits: Limits) -> tuple[float, int]:
    """How far all hooks can still go up before head room is at its stop limit, boom tips where they are, m; and the
    unit that decides. Rope is no limit: it comes in."""
    unit = head_room_m.index(min(head_room_m))
    return head_room_m[unit] - limits.head_room_stop_m, unit


def head_room_to_raise(
    found: Clearances, head_room_m: tuple[float, ...], limits: Limits, units: tuple[str, ...] = END_UNITS
) -> HeadRoom:
    """Whether all hooks can go up by what the governing part is missing, with the head-room stop limit left.

    Args:
        found: gaps at the present pose.
        head_room_m: head room of each unit there (sheave to hook less block and stop).
        limits: of the scenario; the head-room stop limit must remain.
        units: what the units are called.
    """
    governing = found.governing
    left, unit = height_left_m(head_room_m, limits)
    missing = governing.to_raise_m
    short = max(0.0, missing - left)
    enough = short <= 0.0
    return HeadRoom(missing, left, short, units[unit], governing.part, governing.meets, enough)

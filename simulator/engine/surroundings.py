"""What stands around the load: gaps of its parts ten times a second, and what it touches."""

from __future__ import annotations

from math import inf

from simulator.engine.incidents import Incident, met
from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance import Clearances, PartClearance, height_left_m, measured
from simulator.mechanics.clearance_contact import touching
from simulator.mechanics.clearance_governing import TO_RAISE_M
from simulator.mechanics.clearance_ground import ground_gap, sides_m
from simulator.mechanics.clearance_overhead import action_distance_m
from simulator.mechanics.clearance_place import Placed, place
from simulator.mechanics.clearance_scene import Pose, prepare_scene
from simulator.readings import PartGap, Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.unit import Unit

LOOKS_PER_S = 10
FAR_M = 3.0
"""With all gaps this much on either side of zero the load is far from everything."""
FAR_LOOKS = 10
"""At most so many looks in a row the gaps of a far load only go up and down with it."""
LEVER = 1.5
"""How much faster than a boom's tip a far end of the load, or a load that sways after it, may come nearer."""


class Surroundings:
    """Looks at readings; remembers the last gaps and how the load last moved."""

    def __init__(self, description: Description) -> None:
        self._scene = prepare_scene(description)
        self._description = description
        self._found: Clearances | None = None
        self._measured_z = self._measured_s = 0.0
        self._looks_left = 0
        self._closing_mps = closing_mps(description)
        self._last: Readings | None = None

    def look(self, now: Readings) -> tuple[tuple[PartGap, ...], list[Incident]]:
        """Gaps at this moment, and what the load has met since the look before. Gaps that come with something met are
        measured at this very moment."""
        placed = place(self._scene, pose_of(now), tuple(boom_of(unit) for unit in now.units))
        hits: list[Incident] = []
        self._looks_left -= 1
        found = self._found if self._looks_left >= 0 else None
        if found is None:
            found = self._measure(now, placed)
            hits = self._strays(now, found)
        hits += self._landings(now, placed)
        for contact in touching(self._scene, placed):
            at = contact.x_m, contact.y_m, contact.z_m
            hits.append(met(now.time_s, contact.part, contact.meets, self._speed(now), at))
        if hits:
            found = self._measure(now, placed)
        self._last = now
        return self._gaps(now, found, placed), hits

    def _measure(self, now: Readings, placed: Placed) -> Clearances:
        found = self._found = measured(self._scene, placed)
        self._measured_z, self._measured_s = now.load.z_m, now.time_s
        self._looks_left = looks_to_skip(found, self._description, self._closing_mps)
        return found

    def _gaps(self, now: Readings, found: Clearances, placed: Placed) -> tuple[PartGap, ...]:
        """Gaps that have gone up and down with the load since they were measured; the slope may be near a far load."""
        limits = self._description.limits
        left, _ = height_left_m(tuple(unit.head_room_m for unit in now.units), limits)
        rise = now.load.z_m - self._measured_z
        sides = found.ground.sides_m if self._measured_s == now.time_s else sides_m(self._scene, placed).tolist()
        return tuple(_gap(part, rise, left, beside) for part, beside in zip(found.parts, sides, strict=True))

    def _strays(self, now: Readings, found: Clearances) -> list[Incident]:
        """The live lane entered, the overhead line come too near."""
        at = (now.load.x_m, now.load.y_m, now.load.z_m)
        hits = []
        if found.lane.trailer_m < 0.0:
            hits.append(met(now.time_s, found.lane.part, "live lane", now.load.speed_mps, at))
        for room, unit in zip(found.lane.tail_swings_m, self._description.units, strict=True):
            if room < 0.0:
                hits.append(met(now.time_s, f"{unit.name} unit tail swing", "live lane", 0.0, at))
        for gap in found.overhead:
            if gap.state == "not clear":
                hits.append(met(now.time_s, gap.what, "overhead line", now.load.speed_mps, at))
        return hits

    def _landings(self, now: Readings, placed: Placed) -> list[Incident]:
        """Bed, slope or road met faster than a light contact."""
        before = self._last
        if before is None or before.load.ground_N > 0.0 or now.load.ground_N <= 0.0:
            return []
        if self._speed(now) <= self._description.site.light_contact_mps:
            return []
        ground = ground_gap(self._scene, placed)
        at = (ground.x_m, ground.y_m, now.load.height_over_road_m)
        return [met(now.time_s, ground.part, ground.meets, self._speed(now), at)]

    def _speed(self, now: Readings) -> float:
        """The load's speed before it met anything: the larger of now and the look before."""
        return max(now.load.speed_mps, self._last.load.speed_mps if self._last else 0.0)


def _gap(part: PartClearance, rise_m: float, left_m: float, beside_m: float) -> PartGap:
    """A part's row, the load `rise_m` higher than when it was measured and `left_m` of height left to it."""
    missing = max(0.0, part.to_raise_m - rise_m) if part.to_raise_m > 0.0 else 0.0
    short = max(0.0, missing - left_m) if missing > 0.0 else 0.0
    state = "cannot raise" if part.state == "to raise" and short > 0.0 else part.state
    return PartGap(part.part, part.gap_m + rise_m, part.meets, state, missing, short, beside_m)


def closing_mps(description: Description) -> float:
    """The fastest that anything can come nearer to anything with every function of a unit at its top speed."""
    return LEVER * max(_tip_and_hook_mps(unit) for unit in description.units)


def _tip_and_hook_mps(unit: Unit) -> float:
    boom = unit.boom
    tip = boom.telescope_speed_mps + boom.longest_m * (boom.elevation_speed_radps + boom.slew_speed_radps)
    hoists = (line.hoist for line in unit.lines)
    return tip + max((hoist.speed_mps + boom.telescope_speed_mps) / hoist.parts for hoist in hoists)


def looks_to_skip(found: Clearances, description: Description, closing: float) -> int:
    """How many looks can pass before anything that is far now could be near.

    Args:
        found: gaps just measured.
        description: the lift.
        closing: from `closing_mps`.
    """
    spare = spare_m(found, description)
    return min(FAR_LOOKS, int(spare * LOOKS_PER_S / closing)) if closing > 0.0 else FAR_LOOKS


def spare_m(found: Clearances, description: Description) -> float:
    """How far anything can move before a state can change or anything be met; 0 unless the load is far from it all."""
    limits, line = description.limits, description.site.overhead_line
    over = [abs(part.gap_m) for part in found.parts if part.gap_m < inf]
    booms = [boom.distance_m for boom in found.booms]
    if any(gap <= FAR_M for gap in (*over, *booms)):
        return 0.0
    if any(one.required_m is None for one in found.overhead):
        return 0.0
    spare = [found.lane.trailer_m, *found.lane.tail_swings_m, *(distance - limits.gap_close_m for distance in booms)]
    spare += [gap - TO_RAISE_M for gap in over]
    if len(over) < len(found.parts):
        spare += [max(one.distance_m, one.over_m) for one in found.passing]
    if line is not None:
        spare += [one.distance_m - action_distance_m(line.kilovolt) for one in found.overhead]
    return max(0.0, min(spare))


def pose_of(now: Readings) -> Pose:
    """The trailer's reference point and angles."""
    load = now.load
    return Pose(load.x_m, load.y_m, load.z_m, load.pitch_rad, load.yaw_rad, load.roll_rad)


def boom_of(unit: UnitReadings) -> BoomPose:
    """The boom as read."""
    return BoomPose(unit.boom_length_m, unit.elevation_rad, unit.slew_rad)

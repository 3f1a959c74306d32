"""What stands around the load: gaps of its parts ten times a second, and what it touches."""

from __future__ import annotations

from simulator.engine.incidents import Incident, met
from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance import Clearances, clearances
from simulator.mechanics.clearance_contact import contacts
from simulator.mechanics.clearance_scene import Pose, prepare_scene
from simulator.readings import PartGap, Readings, UnitReadings
from simulator.scenario.description import Description

LOOKS_PER_S = 10
FAR_M = 3.0
"""With all gaps this much on either side of zero the load is far from everything."""
FAR_LOOKS = 10
"""Every so many looks the gaps of a far load are measured anew; between, they go up and down with it."""


class Surroundings:
    """Looks at readings; remembers the last gaps and how the load last moved."""

    def __init__(self, description: Description) -> None:
        self._scene = prepare_scene(description)
        self._site = description.site
        self._gaps: tuple[PartGap, ...] = ()
        self._measured_z = 0.0
        self._looks_left = 0
        self._last: Readings | None = None

    def look(self, now: Readings) -> tuple[tuple[PartGap, ...], list[Incident]]:
        """Gaps at this moment, and what the load has met since the look before."""
        pose, booms = pose_of(now), (boom_of(now.nose), boom_of(now.tail))
        hits: list[Incident] = []
        if self._looks_left > 0:
            self._looks_left -= 1
            rise = now.load.z_m - self._measured_z
            gaps = tuple(gap._replace(gap_m=gap.gap_m + rise) for gap in self._gaps)
        else:
            found = clearances(self._scene, pose, booms)
            gaps = self._gaps = tuple(PartGap(p.part, p.gap_m, p.meets, p.state) for p in found.parts)
            self._measured_z = now.load.z_m
            self._looks_left = FAR_LOOKS if is_far(found) else 0
            hits = self._strays(now, found)
        hits += self._landings(now, pose, booms)
        for contact in contacts(self._scene, pose, booms):
            at = contact.x_m, contact.y_m, contact.z_m
            hits.append(met(now.time_s, contact.part, contact.meets, self._speed(now), at))
        self._last = now
        return gaps, hits

    def _strays(self, now: Readings, found: Clearances) -> list[Incident]:
        """The live lane entered, the overhead line come too near."""
        at = (now.load.x_m, now.load.y_m, now.load.z_m)
        hits = []
        if found.lane.trailer_m < 0.0:
            hits.append(met(now.time_s, found.lane.part, "live lane", now.load.speed_mps, at))
        for room, name in zip(found.lane.tail_swings_m, ("nose", "tail"), strict=True):
            if room < 0.0:
                hits.append(met(now.time_s, f"{name} unit tail swing", "live lane", 0.0, at))
        for gap in found.overhead:
            if gap.state == "not clear":
                hits.append(met(now.time_s, gap.what, "overhead line", now.load.speed_mps, at))
        return hits

    def _landings(self, now: Readings, pose: Pose, booms: tuple[BoomPose, BoomPose]) -> list[Incident]:
        """Bed, slope or road met faster than a light contact."""
        before = self._last
        if before is None or before.load.ground_N > 0.0 or now.load.ground_N <= 0.0:
            return []
        if self._speed(now) <= self._site.light_contact_mps:
            return []
        ground = clearances(self._scene, pose, booms).ground
        at = (ground.x_m, ground.y_m, now.load.height_over_road_m)
        return [met(now.time_s, ground.part, ground.meets, self._speed(now), at)]

    def _speed(self, now: Readings) -> float:
        """The load's speed before it met anything: the larger of now and the look before."""
        return max(now.load.speed_mps, self._last.load.speed_mps if self._last else 0.0)


def is_far(found: Clearances) -> bool:
    """The load is far from units and live lane, and nothing is near an overhead line."""
    return (
        all(abs(part.gap_m) > FAR_M for part in found.parts)
        and all(boom.distance_m > FAR_M for boom in found.booms)
        and min(found.lane.trailer_m, *found.lane.tail_swings_m) > 0.0
        and all(gap.state == "clears" for gap in found.overhead)
    )


def pose_of(now: Readings) -> Pose:
    """The trailer's reference point and angles."""
    load = now.load
    return Pose(load.x_m, load.y_m, load.z_m, load.pitch_rad, load.yaw_rad, load.roll_rad)


def boom_of(unit: UnitReadings) -> BoomPose:
    """The boom as read."""
    return BoomPose(unit.boom_length_m, unit.elevation_rad, unit.slew_rad)

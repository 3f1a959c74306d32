"""What stands around the load: what it touches, looked for ten times a second, and gaps of its parts when asked for.

A look is left out only while nothing can have come near enough to be met: no point of trailer, booms and tail swings
has moved as far since the last look as anything then had to come nearer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import dist, inf
from typing import overload

import numpy as np

from simulator.engine.incidents import Incident, met
from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance.decks import PartClearance, height_left_m, part_clearances
from simulator.mechanics.clearance.ground_gaps import ground_gap, sides_m
from simulator.mechanics.clearance.overhead import OverheadGap, overhead_gaps
from simulator.mechanics.clearance.passing import LaneRoom, lane_room
from simulator.mechanics.clearance.place import Placed, place
from simulator.mechanics.clearance.scene import Pose, prepare_scene
from simulator.mechanics.clearance.touching import apart_m, touching
from simulator.readings import PartGap, Readings, UnitReadings
from simulator.scenario.description import Description

LOOKS_PER_S = 10
ROUNDING_M = 1.0e-6
"""What sums of distances may be out by; looked at again that much earlier."""


class Measured(Sequence[PartGap]):
    """Rows that are measured when somebody first asks for one."""

    def __init__(self, measure: Callable[[], tuple[PartGap, ...]]) -> None:
        """`measure` gives the same rows whenever it is called."""
        self._measure: Callable[[], tuple[PartGap, ...]] | None = measure
        self._rows: tuple[PartGap, ...] = ()

    @property
    def rows(self) -> tuple[PartGap, ...]:
        """All of them."""
        if self._measure is not None:
            self._rows, self._measure = self._measure(), None
        return self._rows

    @overload
    def __getitem__(self, index: int) -> PartGap: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[PartGap]: ...
    def __getitem__(self, index: int | slice) -> PartGap | Sequence[PartGap]:
        return self.rows[index]

    def __len__(self) -> int:
        return len(self.rows)

    def __eq__(self, other: object) -> bool:
        return self.rows == (other.rows if isinstance(other, Measured) else other)

    def __hash__(self) -> int:
        return hash(self.rows)

    def __repr__(self) -> str:
        return repr(self.rows)

    def __reduce__(self) -> tuple[type[tuple[PartGap, ...]], tuple[tuple[PartGap, ...]]]:
        """A copy, or what goes to another process, is the rows alone."""
        return tuple, (self.rows,)


class Surroundings:
    """Looks at readings; remembers how near anything was when it last looked closely, and how the load then moved."""

    def __init__(self, description: Description) -> None:
        self._scene = prepare_scene(description)
        self._description = description
        load, slewing = self._scene.load, self._scene.slewing
        corners = np.concatenate([load.corners_m[:, :3], load.picks_m])
        self._radius_m = float(np.linalg.norm(corners, axis=1).max())
        """No point of the trailer is farther from its reference point."""
        self._backs_m = [abs(foot.pin_back_m) for foot in slewing.feet]
        self._booms_m = [
            max(
                unit.boom.longest_m + 3.0 * foot.half_deep_m + abs(foot.pin_back_m),
                *(dist((0.0, 0.0), corner) for corner in tail),
            )
            for unit, foot, tail in zip(description.units, slewing.feet, slewing.tail_plans_m, strict=True)
        ]
        """No point of a boom or tail swing is farther from where it turns about."""
        self._spare_m = -inf
        """How much nearer anything may come before it can be met."""
        self._then: Readings | None = None
        """When that was measured."""
        self._arms_m = self._booms_m
        self._last: Readings | None = None

    def gaps(self, now: Readings) -> Measured:
        """Gaps at this moment, measured when somebody asks."""
        return Measured(lambda: self._gaps(now))

    def look(self, now: Readings) -> list[Incident]:
        """What the load has met since the look before."""
        hits: list[Incident] = []
        if self._lands(now) or self._moved_m(now) >= self._spare_m:
            hits = self._look_closely(now)
        self._last = now
        return hits

    def _look_closely(self, now: Readings) -> list[Incident]:
        placed = self._placed(now)
        lane, overhead = lane_room(self._scene, placed), overhead_gaps(self._scene, placed)
        hits = [*self._strays(now, lane, overhead), *self._landings(now, placed)]
        for contact in touching(self._scene, placed):
            at = contact.x_m, contact.y_m, contact.z_m
            hits.append(met(now.time_s, contact.part, contact.meets, self._speed(now), at))
        over = (-inf if one.required_m is None else one.distance_m - one.required_m for one in overhead)
        spare = min(apart_m(self._scene, placed), lane.trailer_m, *lane.tail_swings_m, *over)
        self._spare_m, self._then = spare - ROUNDING_M, now
        at = now.load.x_m, now.load.y_m, now.load.z_m
        self._arms_m = [
            max(arm, dist(at, unit.pin_m) + self._radius_m + back)
            for arm, unit, back in zip(self._booms_m, placed.slewed.units, self._backs_m, strict=True)
        ]
        return hits

    def _moved_m(self, now: Readings) -> float:
        """No point of the trailer has come nearer since then by more, to anything that stands, or to a boom or tail
        swing, along the road, across it or up, or along the axes of a boom."""
        if self._then is None:
            return inf
        one, other = self._then.load, now.load
        turned = (
            abs(one.pitch_rad - other.pitch_rad) + abs(one.yaw_rad - other.yaw_rad) + abs(one.roll_rad - other.roll_rad)
        )
        went = dist((one.x_m, one.y_m, one.z_m), (other.x_m, other.y_m, other.z_m))
        booms = (
            abs(a.boom_length_m - b.boom_length_m)
            + arm * (abs(a.elevation_rad - b.elevation_rad) + abs(a.slew_rad - b.slew_rad))
            for a, b, arm in zip(self._then.units, now.units, self._arms_m, strict=True)
        )
        return went + self._radius_m * turned + max(booms)

    def _placed(self, now: Readings) -> Placed:
        return place(self._scene, pose_of(now), tuple(boom_of(unit) for unit in now.units))

    def _gaps(self, now: Readings) -> tuple[PartGap, ...]:
        placed = self._placed(now)
        left, _ = height_left_m(tuple(unit.head_room_m for unit in now.units), self._description.limits)
        sides, parts = sides_m(self._scene, placed).tolist(), part_clearances(self._scene, placed)
        return tuple(_gap(part, left, beside) for part, beside in zip(parts, sides, strict=True))

    def _strays(self, now: Readings, lane: LaneRoom, overhead: tuple[OverheadGap, ...]) -> Iterator[Incident]:
        """The live lane entered, the overhead line come too near."""
        at = (now.load.x_m, now.load.y_m, now.load.z_m)
        if lane.trailer_m < 0.0:
            yield met(now.time_s, lane.part, "live lane", now.load.speed_mps, at)
        for room, unit in zip(lane.tail_swings_m, self._description.units, strict=True):
            if room < 0.0:
                yield met(now.time_s, f"{unit.name} unit tail swing", "live lane", 0.0, at)
        for gap in overhead:
            if gap.state == "not clear":
                yield met(now.time_s, gap.what, "overhead line", now.load.speed_mps, at)

    def _lands(self, now: Readings) -> bool:
        """It has come down on bed, slope or road since the last look."""
        return self._last is not None and self._last.load.ground_N <= 0.0 < now.load.ground_N

    def _landings(self, now: Readings, placed: Placed) -> Iterator[Incident]:
        """Bed, slope or road met faster than a light contact."""
        if self._lands(now) and self._speed(now) > self._description.site.light_contact_mps:
            ground = ground_gap(self._scene, placed)
            at = (ground.x_m, ground.y_m, now.load.height_over_road_m)
            yield met(now.time_s, ground.part, ground.meets, self._speed(now), at)

    def _speed(self, now: Readings) -> float:
        """The load's speed before it met anything: the larger of now and the look before."""
        return max(now.load.speed_mps, self._last.load.speed_mps if self._last else 0.0)


def _gap(part: PartClearance, left_m: float, beside_m: float) -> PartGap:
    """A part's row, with `left_m` of height left to it."""
    short = max(0.0, part.to_raise_m - left_m) if part.to_raise_m > 0.0 else 0.0
    state = "cannot raise" if part.state == "to raise" and short > 0.0 else part.state
    return PartGap(part.part, part.gap_m, part.meets, state, part.to_raise_m, short, beside_m)


def pose_of(now: Readings) -> Pose:
    """The trailer's reference point and angles."""
    load = now.load
    return Pose(load.x_m, load.y_m, load.z_m, load.pitch_rad, load.yaw_rad, load.roll_rad)


def boom_of(unit: UnitReadings) -> BoomPose:
    """The boom as read."""
    return BoomPose(unit.boom_length_m, unit.elevation_rad, unit.slew_rad)

"""Which booms put a tip where it has to be, which of them is kept, and how it stands to its travel ends."""

from __future__ import annotations

from math import atan2, hypot, sqrt
from typing import Literal, NamedTuple

from simulator.mechanics.boom import BoomPose, boom_pose
from simulator.scenario.standing import straight
from simulator.scenario.unit import Boom, Unit

What = Literal["boom too short", "boom too long", "elevation too low", "elevation too high", "slew"]
ROUNDING = 1e-9


class TravelEnd(NamedTuple):
    """What a boom needs of one function, against one of its travel ends."""

    what: What
    needed: float
    """m or rad."""
    end: float
    """The travel end, same unit."""
    rising: bool
    """True at the upper end."""

    @property
    def past(self) -> bool:
        """The function would have to go past it."""
        return self.needed > self.end + ROUNDING if self.rising else self.needed < self.end - ROUNDING


class Solution(NamedTuple):
    """One boom that would put the tip there."""

    pose: BoomPose
    over_backward: bool
    """Slewed half round, reaching back across the slew axis."""
    ends: tuple[TravelEnd, ...]

    @property
    def within(self) -> bool:
        """Within travel."""
        return not any(one.past for one in self.ends)


class Choice(NamedTuple):
    """The solutions that exist, and the one kept."""

    solutions: tuple[Solution, Solution]
    kept: int
    why: str

    @property
    def pose(self) -> BoomPose:
        """Of the one kept."""
        return self.solutions[self.kept].pose

    @property
    def ends(self) -> tuple[TravelEnd, ...]:
        """Of the one kept."""
        return self.solutions[self.kept].ends

    @property
    def within(self) -> bool:
        """The one kept is within travel."""
        return self.solutions[self.kept].within


def solutions(unit: Unit, tip_m: tuple[float, float, float]) -> Choice:
    """Both booms that reach a tip, travel looked at.

    A tip fixes reach, so slew and then length with elevation; the boom may point at it, or stand slewed half round and
    reach back over its own slew axis, which takes a boom near upright.

    Args:
        unit: the unit.
        tip_m: where the tip has to be.
    """
    tip_m = straight(unit, tip_m)
    first = boom_pose(unit, tip_m)
    second = _over_backward(unit, tip_m)
    found = (
        Solution(first, False, travel_ends(unit.boom, first)),
        Solution(second, True, travel_ends(unit.boom, second)),
    )
    if found[1].within and not found[0].within:
        return Choice(found, 1, "only the boom slewed half round is within its travel")
    if not found[1].within:
        return Choice(found, 0, "the other, slewed half round and reaching back, is past its travel")
    return Choice(found, 0, "the other, slewed half round and reaching back, is not asked of anyone")


def _over_backward(unit: Unit, tip_m: tuple[float, float, float]) -> BoomPose:
    along = unit.facing * (tip_m[0] - unit.slew_axis_x_m)
    level = unit.boom.foot_pin_back_m - hypot(along, tip_m[1])
    rise = tip_m[2] - unit.boom.foot_pin_height_m
    return BoomPose(sqrt(level * level + rise * rise), atan2(rise, level), atan2(-tip_m[1], -along))


def travel_ends(boom: Boom, pose: BoomPose) -> tuple[TravelEnd, ...]:
    """A boom against all its travel ends."""
    length, elevation, slew = pose
    return (
        TravelEnd("boom too short", length, boom.longest_m, True),
        TravelEnd("boom too long", length, boom.shortest_m, False),
        TravelEnd("elevation too high", elevation, boom.highest_rad, True),
        TravelEnd("elevation too low", elevation, boom.lowest_rad, False),
        TravelEnd("slew", slew, boom.slew_road_rad, True),
        TravelEnd("slew", slew, boom.slew_ravine_rad, False),
    )

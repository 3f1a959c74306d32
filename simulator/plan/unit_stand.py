"""One unit at one station: boom, line load, capacity, floats, ground, head room, rope, stall. All static."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, hypot, inf
from typing import NamedTuple

from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.boom import BoomPose
from simulator.mechanics.drum import line_load_at_stall_N
from simulator.mechanics.footing import (
    Stand,
    least_float,
    own_axes,
    own_load,
    pull_load,
    resting_loads,
    stand,
    together,
)
from simulator.mechanics.hoist_line import head_room_m, rope_for_m, rope_left_m, weight_below_sheave_N
from simulator.mechanics.outriggers import Four, solve
from simulator.mechanics.rating import TIPPING_SHARE, rated_load_N, tipping_load_N
from simulator.mechanics.trailer import Vector
from simulator.plan.hanging import Load, wind_force_N
from simulator.plan.solutions import Choice, solutions
from simulator.plan.stations import Station
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.unit import Unit


@dataclass(frozen=True, slots=True)
class Side:
    """A unit's numbers that no station changes. Build it with `side_of`."""

    unit: Unit
    end: int
    stand: Stand
    resting_N: Four
    """Hook empty, boom over the tailboard, start length and elevation."""
    below_sheave_N: float
    """Block and rigging."""
    bearing_Pa: float
    weight_N: float
    """The whole trailer's."""
    wind_N: tuple[float, float]
    """On the whole trailer, along and across."""


class Line(NamedTuple):
    """The hoist line."""

    load_N: float
    down_N: float
    """Its vertical part."""
    level_N: tuple[float, float]
    """Wind's part along and across."""
    length_m: float
    """Sheave to hook."""
    head_room_m: float
    rope_out_m: float
    rope_left_m: float
    stall_used: float
    """Line load over what stalls the winch on this layer."""

    @property
    def off_plumb_rad(self) -> float:
        """By wind; nothing else takes it out of plumb here."""
        return atan2(hypot(*self.level_N), self.down_N)


class Capacity(NamedTuple):
    """What the unit may lift here."""

    load_radius_m: float
    rated_N: float | None
    """By the rating table; None with no table, or with a boom past its travel."""
    by_tipping_N: float
    """Allowed share of the tipping load."""
    used: float
    of_tipping: float
    """Line load over `by_tipping_N`."""


class Floats(NamedTuple):
    """The four floats."""

    reactions_N: Four
    lightest: int
    lightest_share: float
    """Of its resting load."""
    tips: bool
    bearing_used: float
    heaviest: int


class UnitStand(NamedTuple):
    """How one unit stands at one station."""

    choice: Choice
    reach_m: float
    share: float
    """Of the trailer's weight."""
    line: Line
    capacity: Capacity
    floats: Floats

    @property
    def pose(self) -> BoomPose:
        """The boom."""
        return self.choice.pose


def side_of(description: Description, load: Load, end: int) -> Side:
    """The numbers of one unit."""
    unit = description.units[end]
    start = unit.start
    pick = description.trailer.picks[end]
    standing = stand(unit, cross_fall_rad=description.site.cross_fall_rad)
    return Side(
        unit=unit,
        end=end,
        stand=standing,
        resting_N=resting_loads(standing, unit, start.boom_length_m, start.elevation_rad),
        below_sheave_N=weight_below_sheave_N(unit, pick.rigging_kg, STANDARD_GRAVITY_MPS2),
        bearing_Pa=description.site.soil.allowable_bearing_Pa,
        weight_N=load.weight_N,
        wind_N=wind_force_N(description, load),
    )


def stand_at(side: Side, station: Station) -> UnitStand:
    """One unit at one station."""
    tip = station.tips_m[side.end]
    choice = solutions(side.unit, side.end, tip)
    line = _line(side, station, choice.pose)
    own_tip = own_axes(side.unit.facing, (tip[0] - side.unit.slew_axis_x_m, tip[1], tip[2]))
    return UnitStand(
        choice=choice,
        reach_m=hypot(own_tip[0], own_tip[1]),
        share=station.shares[side.end],
        line=line,
        capacity=_capacity(side, choice, line, own_tip),
        floats=_floats(side, choice.pose, line, own_tip),
    )


def _line(side: Side, station: Station, pose: BoomPose) -> Line:
    share, hoist = station.shares[side.end], side.unit.hoist
    down = share * side.weight_N + side.below_sheave_N + station.hold_N[side.end]
    along, across = share * side.wind_N[0], share * side.wind_N[1]
    load_N = max(0.0, hypot(down, along, across) if down > 0.0 else down)
    length = station.tips_m[side.end][2] - station.hooks_m[side.end][2]
    rope = rope_for_m(hoist, length, pose.length_m)
    left = rope_left_m(hoist, rope)
    stall = _over(load_N, line_load_at_stall_N(hoist, left))
    return Line(load_N, down, (along, across), length, head_room_m(hoist, length), rope, left, stall)


def _over(load_N: float, allowed_N: float) -> float:
    if load_N <= 0.0:
        return 0.0
    return load_N / allowed_N if allowed_N > 0.0 else inf


def _capacity(side: Side, choice: Choice, line: Line, own_tip: Vector) -> Capacity:
    """A load blown off plumb stands off its tip; a boom past its travel is in no table."""
    rating = side.unit.rating
    off = max(0.0, line.length_m) / line.down_N if line.down_N > 0.0 else 0.0
    along, across = off * side.unit.facing * line.level_N[0], off * line.level_N[1]
    radius = hypot(own_tip[0] + along, own_tip[1] + across)
    share = TIPPING_SHARE if rating is None else rating.tipping_share
    tipping = tipping_load_N(side.stand, own_load(side.stand, choice.pose), own_tip)
    tipping = share * tipping if share > 0.0 else 0.0
    rated = None if rating is None or not choice.within else rated_load_N(rating, choice.pose.length_m, radius)
    allowed = tipping if rated is None else min(rated, tipping)
    return Capacity(radius, rated, tipping, _over(line.load_N, allowed), _over(line.load_N, tipping))


def _floats(side: Side, pose: BoomPose, line: Line, own_tip: Vector) -> Floats:
    unit = side.unit
    force = own_axes(side.unit.facing, (*line.level_N, -line.down_N))
    load = together(own_load(side.stand, pose), pull_load(side.stand, own_tip, force))
    footing = solve(side.stand.frame, *load)
    lightest, share = least_float(footing.reactions_N, side.resting_N)
    used = [bearing_used(reaction, unit.floats.pad_side_m, side.bearing_Pa) for reaction in footing.reactions_N]
    return Floats(footing.reactions_N, lightest, share, footing.tips, max(used), used.index(max(used)))

"""One unit at one station: boom, line load, capacity, floats, ground, head room, rope, stall.

Loads, reactions and how far the tip gives way are those of a load that hangs still. What is held against a limit has
every line pull `DYNAMIC_MARGIN` harder: that is put on in one place, `_harder`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, dist, hypot, inf, sin
from typing import NamedTuple

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.boom import BoomPose
from simulator.mechanics.boom_section import bend_of
from simulator.mechanics.drum import lead_line_pull_N, line_load_at_stall_N
from simulator.mechanics.footing import (
    Stand,
    gives_way_m,
    least_float,
    own_axes,
    own_load,
    pull_load,
    resting_loads,
    stand,
    together,
)
from simulator.mechanics.hoist_line import head_room_m, rope_for_m, rope_left_m
from simulator.mechanics.lean import Bend
from simulator.mechanics.outriggers import Footing, Four, solve
from simulator.mechanics.rating import TIPPING_SHARE, rated_load_N, tipping_load_N
from simulator.mechanics.reliefs import reliefs
from simulator.mechanics.trailer_body import Vector
from simulator.mechanics.unit_loads import on_functions
from simulator.plan.hanging import Load, wind_force_N
from simulator.plan.solutions import Choice, solutions
from simulator.plan.stations import Station
from simulator.plan.windy import blown_at
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of
from simulator.scenario.standing import askew_way, straight, straight_way
from simulator.scenario.unit import Hoist, Unit

SHORT_ROUNDS = 3
"""A tip that gives 0.2 m turns the boom by a degree: the third round moves it by a fraction of a millimeter."""


class SideLine(NamedTuple):
    """A line's numbers that no station changes."""

    name: str
    """As the rig has it."""
    place: int
    """Among all lines of the lift."""
    hoist: Hoist
    below_sheave_N: float
    """Block and rigging."""


@dataclass(frozen=True, slots=True)
class Side:
    """A unit's numbers that no station changes. Build it with `side_of`."""

    unit: Unit
    end: int
    """Its place among the units."""
    lines: tuple[SideLine, ...]
    stand: Stand
    bend: Bend
    reliefs: Vector
    """What stalls raising, extending and slewing."""
    resting_N: Four
    """Hook empty, boom over the tailboard, start length and elevation."""
    bearing_Pa: float
    weight_N: float
    """The whole trailer's."""
    load: Load
    wind_N: tuple[float, float]
    """On the whole trailer, along and across, with what a gust adds."""

    @property
    def who(self) -> str:
        """`nose unit`"""
        return f"{self.unit.name} unit"


class Line(NamedTuple):
    """A hoist line."""

    name: str
    load_N: float
    down_N: float
    """Its vertical part."""
    level_N: tuple[float, float]
    """Level part of its pull on the tip, along and across: wind's, and that of its splay."""
    length_m: float
    """Sheave to hook."""
    head_room_m: float
    rope_out_m: float
    rope_left_m: float
    stall_used: float
    """Line load over what stalls the winch on this layer, dynamics counted."""

    @property
    def off_plumb_rad(self) -> float:
        """By wind, or by its splay."""
        return atan2(hypot(*self.level_N), self.down_N)


class Capacity(NamedTuple):
    """What the unit may lift here."""

    load_radius_m: float
    rated_N: float | None
    """By the rating table; None with no table, or with a boom past its travel."""
    by_tipping_N: float
    """Allowed share of the tipping load."""
    used: float
    """Line load over the less of the two, dynamics counted."""
    of_tipping: float
    """Line load that hangs still over `by_tipping_N`."""


class Floats(NamedTuple):
    """The four floats."""

    reactions_N: Four
    """Of a load that hangs still."""
    lightest: int
    lightest_share: float
    """Of its resting load, dynamics counted; so are the rest."""
    tips: bool
    bearing_used: float
    heaviest: int
    heaviest_N: float


class Given(NamedTuple):
    """What one line carries, whatever boom bears it."""

    down_N: float
    level_N: tuple[float, float]
    """Along and across."""
    length_m: float
    """Sheave to hook."""


class Pull(NamedTuple):
    """What all lines of a unit pull on its tip."""

    down_N: float
    level_N: tuple[float, float]
    """Along and across."""
    longest_m: float
    """Sheave to hook, of its longest line."""

    @property
    def load_N(self) -> float:
        """The size of the sum."""
        return hypot(self.down_N, *self.level_N) if self.down_N > 0.0 else 0.0

    @property
    def off_plumb_rad(self) -> float:
        """Of the sum."""
        return atan2(hypot(*self.level_N), self.down_N)


class UnitStand(NamedTuple):
    """How one unit stands at one station."""

    choice: Choice
    reach_m: float
    share: float
    """Of the trailer's weight, on all its lines."""
    lines: tuple[Line, ...]
    pull: Pull
    """All its lines together."""
    capacity: Capacity
    floats: Floats
    side_pull_rad: float
    """Off plumb of all its lines together, square to the boom."""
    points: BoomPose
    """From foot pin straight to the leaning tip: what the bent boom weighs and reaches as."""
    lean_m: float
    """How far boom, frame and ground let the tip give way: the boom stands so much short of where the tip has to be."""
    used: Vector
    """What raising, extending and slewing have to hold, over what stalls them, dynamics counted."""

    @property
    def pose(self) -> BoomPose:
        """The boom, as its indicators read."""
        return self.choice.pose

    @property
    def line(self) -> Line:
        """Its only line, or the one that pulls hardest."""
        return max(self.lines, key=lambda one: one.load_N)


class _AskedFor(NamedTuple):
    """What a side is made from: unit and load by which they are, the rest by what it is."""

    unit: Unit
    load: Load
    rest: tuple[object, ...]
    side: Side


_SIDES: dict[int, _AskedFor] = {}
"""The last one at each end: while a lift is laid out, most changes leave a unit as it was."""


def side_of(description: Description, load: Load, end: int) -> Side:
    """The numbers of one unit."""
    site, unit, kept = description.site, description.units[end], _SIDES.get(end)
    rest = site.cross_fall_rad, site.soil.allowable_bearing_Pa, wind_force_N(description, load), rig_of(description)
    if kept is None or kept.unit is not unit or kept.load is not load or kept.rest != rest:
        kept = _SIDES[end] = _AskedFor(unit, load, rest, _side_of(description, load, end))
    return kept.side


def _side_of(description: Description, load: Load, end: int) -> Side:
    unit, rig_unit = description.units[end], rig_of(description).units[end]
    standing = stand(unit, cross_fall_rad=description.site.cross_fall_rad)
    picks = description.trailer.picks
    lines = tuple(
        SideLine(
            name=line.name,
            place=line.place,
            hoist=own.hoist,
            below_sheave_N=(own.hoist.block_kg + picks[line.pick].hung_kg) * STANDARD_GRAVITY_MPS2,
        )
        for line, own in zip(rig_unit.lines, unit.lines, strict=True)
    )
    return Side(
        unit=unit,
        end=end,
        lines=lines,
        stand=standing,
        bend=bend_of(unit),
        reliefs=reliefs(unit, standing),
        resting_N=resting_loads(standing, unit, unit.start.boom_length_m, unit.start.elevation_rad),
        bearing_Pa=description.site.soil.allowable_bearing_Pa,
        weight_N=load.weight_N,
        load=load,
        wind_N=wind_force_N(description, load),
    )


def stand_at(side: Side, station: Station) -> UnitStand:
    """One unit at one station."""
    tip = station.tips_m[side.end]
    wind = blown_at(side.load, side.wind_N, station).parts_N
    given = [_given(side, one, station, wind[one.place]) for one in side.lines]
    level = sum(one.level_N[0] for one in given), sum(one.level_N[1] for one in given)
    pull = Pull(sum(one.down_N for one in given), level, max(one.length_m for one in given))
    points = solutions(side.unit, tip).pose
    choice, lean = _short_of(side, tip, pull)
    lines = tuple(_line(own, one, points) for own, one in zip(side.lines, given, strict=True))
    own_tip = _own_place(side, tip)
    return UnitStand(
        choice=choice,
        reach_m=hypot(own_tip[0], own_tip[1]),
        share=sum(station.shares[one.place] for one in side.lines),
        lines=lines,
        pull=pull,
        capacity=_capacity(side, points, pull, own_tip, within=choice.within),
        floats=_floats(side, points, lines, station),
        side_pull_rad=_side_pull_rad(side, points, pull),
        points=points,
        lean_m=lean,
        used=_functions_used(side, points, tuple(map(_harder, lines)), station),
    )


def _harder(line: Line) -> Line:
    """A line with what is counted for dynamics on its pull."""
    more = DYNAMIC_MARGIN
    level = line.level_N[0] * more, line.level_N[1] * more
    return line._replace(load_N=line.load_N * more, down_N=line.down_N * more, level_N=level)


def _functions_used(side: Side, pose: BoomPose, lines: tuple[Line, ...], station: Station) -> Vector:
    """As the engine has it: the sum of the lines' pulls at the sheaves by their loads."""
    whole, unit = sum(line.load_N for line in lines) or 1.0, side.unit
    at, force, lead = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0], 0.0
    for own, line in zip(side.lines, lines, strict=True):
        sheave = _own_place(side, station.pulls.sheaves_m[own.place])
        pull = _own_force(unit, (*line.level_N, -line.down_N))
        at = [was + line.load_N / whole * one for was, one in zip(at, sheave, strict=True)]
        force = [was + one for was, one in zip(force, pull, strict=True)]
        lead += lead_line_pull_N(line.load_N, own.hoist.parts, own.hoist.sheave_loss)
    length, elevation, slew = pose
    way, turned = (length, cos(elevation), sin(elevation)), (cos(slew), sin(slew))
    held = on_functions(side.stand, way, turned, (at[0], at[1], at[2]), (force[0], force[1], force[2]), lead)
    lowers, draws_in, turns = (load / relief for load, relief in zip(held, side.reliefs, strict=True))
    return lowers, draws_in, abs(turns)


def _short_of(side: Side, tip: Vector, pull: Pull) -> tuple[Choice, float]:
    """The boom whose tip is there once it has given way to its lines, and how far it gives."""
    force = _own_force(side.unit, (*pull.level_N, -max(0.0, pull.down_N)))
    choice, lean = solutions(side.unit, tip), 0.0
    for _ in range(SHORT_ROUNDS):
        gives = gives_way_m(side.stand, side.bend, choice.pose, _own_place(side, tip), force)
        x, y, z = askew_way(side.unit, own_axes(side.unit.facing, gives))
        choice, lean = solutions(side.unit, (tip[0] - x, tip[1] - y, tip[2] - z)), hypot(x, y, z)
    return choice, lean


def _own_place(side: Side, place: Vector) -> Vector:
    x, y, z = straight(side.unit, place)
    return own_axes(side.unit.facing, (x - side.unit.slew_axis_x_m, y, z))


def _own_force(unit: Unit, force: Vector) -> Vector:
    return own_axes(unit.facing, straight_way(unit, force))


def _side_pull_rad(side: Side, pose: BoomPose, pull: Pull) -> float:
    """Off plumb square to the boom: what pulls it sideways."""
    along, across, _ = _own_force(side.unit, (*pull.level_N, 0.0))
    return atan2(abs(across * cos(pose.slew_rad) - along * sin(pose.slew_rad)), pull.down_N)


def _given(side: Side, own: SideLine, station: Station, wind_N: tuple[float, float]) -> Given:
    """Its pull on the tip: the load pulls back against the splay of its line, and pulls it downwind."""
    i = own.place
    share, splay = station.shares[i], station.pulls.splay[i]
    down = share * side.weight_N + own.below_sheave_N + station.hold_N[i]
    along, across = (blows_N - part * side.weight_N for blows_N, part in zip(wind_N, splay, strict=True))
    length = dist(station.pulls.sheaves_m[i], station.hooks_m[i])
    length = length if any(splay) else station.pulls.sheaves_m[i][2] - station.hooks_m[i][2]
    return Given(down, (along, across), length)


def _line(own: SideLine, given: Given, pose: BoomPose) -> Line:
    """The line that carries it."""
    hoist, (down, level, length) = own.hoist, given
    load_N = max(0.0, hypot(down, *level) if down > 0.0 else down)
    rope = rope_for_m(hoist, length, pose.length_m)
    left = rope_left_m(hoist, rope)
    stall = _over(DYNAMIC_MARGIN * load_N, line_load_at_stall_N(hoist, left))
    return Line(own.name, load_N, down, level, length, head_room_m(hoist, length), rope, left, stall)


def _over(load_N: float, allowed_N: float) -> float:
    if load_N <= 0.0:
        return 0.0
    return load_N / allowed_N if allowed_N > 0.0 else inf


def _capacity(side: Side, pose: BoomPose, pull: Pull, own_tip: Vector, *, within: bool) -> Capacity:
    """A load blown off plumb stands off its tip; a boom past its travel is in no table."""
    rating = side.unit.rating
    off = max(0.0, pull.longest_m) / pull.down_N if pull.down_N > 0.0 else 0.0
    own_along, own_across, _ = _own_force(side.unit, (*pull.level_N, 0.0))
    along, across = off * own_along, off * own_across
    radius = hypot(own_tip[0] + along, own_tip[1] + across)
    share = TIPPING_SHARE if rating is None else rating.tipping_share
    tipping = tipping_load_N(side.stand, own_load(side.stand, pose), own_tip)
    tipping = share * tipping if share > 0.0 else 0.0
    rated = None if rating is None or not within else rated_load_N(rating, pose.length_m, radius)
    allowed = tipping if rated is None else min(rated, tipping)
    return Capacity(radius, rated, tipping, _over(DYNAMIC_MARGIN * pull.load_N, allowed), _over(pull.load_N, tipping))


def _floats(side: Side, pose: BoomPose, lines: tuple[Line, ...], station: Station) -> Floats:
    """Each line pulls at its own sheave."""
    still = _footing(side, pose, lines, station)
    footing = _footing(side, pose, tuple(map(_harder, lines)), station)
    lightest, share = least_float(footing.reactions_N, side.resting_N)
    heaviest_N = max(footing.reactions_N)
    used = bearing_used(heaviest_N, side.unit.floats.pad_side_m, side.bearing_Pa)
    heaviest = footing.reactions_N.index(heaviest_N)
    return Floats(still.reactions_N, lightest, share, footing.tips, used, heaviest, heaviest_N)


def _footing(side: Side, pose: BoomPose, lines: tuple[Line, ...], station: Station) -> Footing:
    load = own_load(side.stand, pose)
    for own, line in zip(side.lines, lines, strict=True):
        force = _own_force(side.unit, (*line.level_N, -line.down_N))
        load = together(load, pull_load(side.stand, _own_place(side, station.pulls.sheaves_m[own.place]), force))
    return solve(side.stand.frame, *load)

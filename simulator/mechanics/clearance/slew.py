"""What slews of the units, booms and counterweights: put in place once for each place of the booms and remembered."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import cos, sin
from typing import Any, NamedTuple

import numpy as np
import shapely

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance.clip import Side, rectangle, sides
from simulator.mechanics.clearance.solid import Array, Row, Solids, stacked, turned
from simulator.mechanics.clearance.units import tail_piece
from simulator.scenario.kept_by_identity import kept_by_identity
from simulator.scenario.unit import Unit

Outlines = Any
"""A shapely polygon or an array of them; shapely ships no types."""
Booms = tuple[BoomPose, ...]
"""A unit each, in the rig's order."""
Tip = tuple[float, float]
"""x, y; or two numbers of another kind"""
LEVEL_SINE = 1.0e-9
"""A boom nearer to level than this shows no end face from below."""


class Foot(NamedTuple):
    """Where one unit's boom turns."""

    facing: float
    """+1 where the tailboard looks along +x."""
    stand_x_m: float
    """Slew axis."""
    pin_height_m: float
    pin_back_m: float
    """Foot pin behind the slew axis."""
    half_deep_m: float
    """Half the boom's depth."""
    stand_y_m: float = 0.0
    """Slew axis, across the road."""
    yaw_rad: float = 0.0
    """How far askew the unit stands."""


@dataclass(frozen=True, slots=True, eq=False)
class Slewing:
    """What slews, in numbers. Told apart by identity, so that places of booms can be remembered."""

    feet: tuple[Foot, ...]
    half_deep_m: Array
    """(unit)"""
    tails: Solids
    """The tail swings, slew axis at zero, boom toward +x."""
    tail_plans_m: tuple[list[Tip], ...]
    """Their corners in plan, in order."""
    tail_heights_m: tuple[tuple[float, ...], tuple[float, ...]]
    """Their lowest points, their highest."""
    stand_m: Array
    """Slew axes on the road (unit, 3)."""


@kept_by_identity
def slewing(units: tuple[Unit, ...]) -> Slewing:
    """The numbers of a lift's units."""
    feet = tuple(
        Foot(
            unit.facing,
            unit.slew_axis_x_m,
            unit.boom.foot_pin_height_m,
            unit.boom.foot_pin_back_m,
            unit.boom.depth_m / 2.0,
            unit.slew_axis_y_m,
            unit.yaw_rad,
        )
        for unit in units
    )
    pieces = [tail_piece(unit) for unit in units]
    plans = [piece.corners[: len(piece.corners) // 2, :2].tolist() for piece in pieces]
    low, high = (tuple(reduce(piece.corners[:, 2]).tolist() for piece in pieces) for reduce in (np.min, np.max))
    return Slewing(
        feet=feet,
        half_deep_m=np.array([foot.half_deep_m for foot in feet]),
        tails=stacked(pieces),
        tail_plans_m=tuple(plans),
        tail_heights_m=(tuple(low), tuple(high)),
        stand_m=np.array([[unit.slew_axis_x_m, unit.slew_axis_y_m, 0.0] for unit in units]),
    )


class Underside(NamedTuple):
    """One face of a boom seen from below.

    Seen in its own axes, ahead and to the left from its middle and down from its plane, it is a level rectangle at
    height zero, and what hangs under it stands over it.
    """

    turn: tuple[Row, Row, Row]
    """What points are multiplied by (3, 3)."""
    shift_m: Row
    """What they are then moved by (3)."""
    sides: tuple[Side, ...]
    """Of the rectangle."""
    from_m: float
    """Its ends ahead of the foot pin."""
    to_m: float


Faces = tuple[Underside, Underside]


class Heading(NamedTuple):
    """One unit's boom: which way it looks, how it stands and what slews behind it."""

    ahead: Tip
    """Unit vector along the boom in plan."""
    level: Tip
    """Cosine and sine of its elevation."""
    axes: tuple[Row, Row, Row]
    """Unit vectors along the boom, to its left, square to both."""
    pin_m: Row
    """Foot pin."""
    tail_m: list[Tip]
    """Corners of the tail swing in plan, in order."""


@dataclass(frozen=True, eq=False)
class Slewed:
    """What slews of the units, where it is."""

    numbers: Slewing
    booms_at: Booms
    units: tuple[Heading, ...]
    views: Array
    """What points are multiplied by to be seen along x, y, z and along each boom's axes (3, 3 + 3 unit)."""
    views_from_m: Array
    """What they are then moved by: booms are seen from their foot pins (3 + 3 unit)."""
    tail_ends_m: Array
    """Least and greatest x, y, z of the tail swings (2, 3, unit)."""

    def lowest_m(self, end: int) -> float:
        """Lowest point of a boom."""
        (c, s), pin = self.units[end].level, self.units[end].pin_m
        foot = pin[2] - self.numbers.feet[end].half_deep_m * (abs(s) + c)
        return min(foot, foot + self.booms_at[end].length_m * s)

    @cached_property
    def undersides(self) -> tuple[Faces, ...]:
        """Of each boom the lower face, and the end face that also looks down."""
        return tuple(
            _undersides(foot.half_deep_m, boom.length_m, unit)
            for foot, boom, unit in zip(self.numbers.feet, self.booms_at, self.units, strict=True)
        )

    @cached_property
    def axes(self) -> Array:
        """Rows along each boom, to its left, square to both (unit, 3, 3)."""
        return np.array([unit.axes for unit in self.units])

    @cached_property
    def foot_m(self) -> Array:
        """Foot pins (unit, 3)."""
        return np.array([unit.pin_m for unit in self.units])

    @cached_property
    def length_m(self) -> Array:
        """Of the booms (unit, 1)."""
        return np.array([[boom.length_m] for boom in self.booms_at])

    @cached_property
    def booms(self) -> Solids:
        """Boxes of square section round the lines from foot pin to tip, half a depth beyond each: they hold capsules
        of that depth, and have the same underside straight below the booms' middle lines."""
        deep = self.numbers.half_deep_m[:, None]
        half = np.concatenate([self.length_m / 2.0 + deep, deep, deep], axis=1)
        middle = self.foot_m + self.length_m / 2.0 * self.axes[:, 0]
        return Solids((_SIGNS * half[:, None]) @ self.axes + middle[:, None], self.axes, self.axes)

    @cached_property
    def tails(self) -> Solids:
        """The tail swings."""
        frames = [((x, y, 0.0), (-y, x, 0.0), (0.0, 0.0, 1.0)) for x, y in (unit.ahead for unit in self.units)]
        return turned(self.numbers.tails, np.array(frames), self.numbers.stand_m)

    @cached_property
    def tail_tips(self) -> tuple[Tip, ...]:
        """Of each tail swing where it comes farthest toward the load."""
        return tuple(
            max(unit.tail_m) if foot.facing > 0.0 else min(unit.tail_m)
            for foot, unit in zip(self.numbers.feet, self.units, strict=True)
        )

    @cached_property
    def tail_sides(self) -> tuple[tuple[Side, ...], ...]:
        """Of the tail swings in plan."""
        return tuple(sides(unit.tail_m) for unit in self.units)


@lru_cache(maxsize=8)
def slewed(numbers: Slewing, booms: Booms) -> Slewed:
    """What slews, put where the booms are."""
    units = tuple(_heading(numbers, place, boom) for place, boom in enumerate(booms))
    moves = [-(a * x + b * y + c * z) for _, _, axes, (x, y, z), _ in units for a, b, c in axes]
    return Slewed(
        numbers=numbers,
        booms_at=booms,
        units=units,
        views=np.array((*_XYZ, *(axis for unit in units for axis in unit.axes))).T,
        views_from_m=np.array((0.0, 0.0, 0.0, *moves)),
        tail_ends_m=_tail_ends([unit.tail_m for unit in units], numbers.tail_heights_m),
    )


def _heading(numbers: Slewing, place: int, boom: BoomPose) -> Heading:
    foot = numbers.feet[place]
    stand, stand_y, toward = foot.stand_x_m, foot.stand_y_m, boom.slew_rad + foot.yaw_rad
    x, y = foot.facing * cos(toward), sin(toward)
    c, s = cos(boom.elevation_rad), sin(boom.elevation_rad)
    return Heading(
        ahead=(x, y),
        level=(c, s),
        axes=((x * c, y * c, s), (-y, x, 0.0), (-x * s, -y * s, c)),
        pin_m=(stand - foot.pin_back_m * x, stand_y - foot.pin_back_m * y, foot.pin_height_m),
        tail_m=[(stand + u * x - v * y, stand_y + u * y + v * x) for u, v in numbers.tail_plans_m[place]],
    )


def _tail_ends(tails_m: list[list[Tip]], heights_m: tuple[tuple[float, ...], tuple[float, ...]]) -> Array:
    """Least and greatest x, y, z of tail swings by their corners in plan, lowest and highest points."""
    xs, ys = ([[corner[axis] for corner in tail] for tail in tails_m] for axis in (0, 1))
    least = [min(x) for x in xs], [min(y) for y in ys], heights_m[0]
    return np.array((least, ([max(x) for x in xs], [max(y) for y in ys], heights_m[1])))


def _undersides(deep: float, length: float, unit: Heading) -> Faces:
    """Of a boom by half its depth, its length and how it stands."""
    (x, y), (c, s), pin = unit.ahead, unit.level, unit.pin_m
    foot_t, tip_t = (s - c) * deep, length * c + (c + s) * deep
    lower = _underside(x, y, pin, (foot_t, tip_t), (-deep / c, s / c), deep)
    if abs(s) < LEVEL_SINE:
        return lower, _underside(x, y, pin, (foot_t, foot_t), (-deep / c, s / c), deep)
    if s > 0.0:
        return lower, _underside(x, y, pin, (foot_t - 2.0 * s * deep, foot_t), (-deep / s, -c / s), deep)
    return lower, _underside(x, y, pin, (tip_t, tip_t - 2.0 * s * deep), ((length + deep) / s, -c / s), deep)


def _underside(
    x: float,
    y: float,
    pin: tuple[float, float, float],
    span_m: tuple[float, float],
    plane: tuple[float, float],
    deep_m: float,
) -> Underside:
    """An underside by heading, foot pin, ends ahead of it, plane's height over it and rise, half a depth."""
    height, rise = plane
    ahead, left = pin[0] * x + pin[1] * y, pin[1] * x - pin[0] * y
    turn = (x, -y, x * rise), (y, x, y * rise), (0.0, 0.0, -1.0)
    shift = -ahead - (span_m[0] + span_m[1]) / 2.0, -left, height - rise * ahead + pin[2]
    half = (span_m[1] - span_m[0]) / 2.0
    return Underside(turn, shift, rectangle((-half, half), (-deep_m, deep_m)), *span_m)


def hull(corners: Array) -> Outlines:
    """Convex outline of corners (corner, 2 or more) in their first two axes: a shapely polygon."""
    return shapely.linestrings(corners[:, :2]).convex_hull


_XYZ = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
_SIGNS = np.array([[i, j, k] for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)])

"""What slews of both units, booms and counterweights: put in place once for each place of the booms and remembered."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import cos, sin
from typing import Any, NamedTuple

import numpy as np
import shapely

from simulator.mechanics.boom import BoomPose, facing
from simulator.mechanics.clearance_clip import Point, Side, rectangle, sides
from simulator.mechanics.clearance_solid import Array, Solids, stacked, turned
from simulator.mechanics.clearance_units import tail_piece
from simulator.scenario.unit import Unit

Outlines = Any
"""A shapely polygon or an array of them; shapely ships no types."""
Booms = tuple[BoomPose, BoomPose]
"""Nose unit's, tail unit's."""
Tip = tuple[float, float]
"""x, y"""
Row = tuple[float, float, float]
LEVEL_SINE = 1.0e-9
"""A boom nearer to level than this shows no end face from below."""


class Foot(NamedTuple):
    """Where one unit's boom turns."""

    end: int
    stand_x_m: float
    """Slew axis."""
    pin_height_m: float
    pin_back_m: float
    """Foot pin behind the slew axis."""
    half_deep_m: float
    """Half the boom's depth."""


@dataclass(frozen=True, slots=True, eq=False)
class Slewing:
    """What slews, in numbers. Told apart by identity, so that places of booms can be remembered."""

    feet: tuple[Foot, Foot]
    half_deep_m: Array
    """(2)"""
    tails: Solids
    """The two tail swings, slew axis at zero, boom toward +x."""
    stand_m: Array
    """Slew axes on the road (2, 3)."""


def slewing(units: tuple[Unit, Unit]) -> Slewing:
    """The numbers of two units."""
    nose, tail = (
        Foot(end, unit.slew_axis_x_m, unit.boom.foot_pin_height_m, unit.boom.foot_pin_back_m, unit.boom.depth_m / 2.0)
        for end, unit in enumerate(units)
    )
    return Slewing(
        feet=(nose, tail),
        half_deep_m=np.array([nose.half_deep_m, tail.half_deep_m]),
        tails=stacked([tail_piece(unit) for unit in units]),
        stand_m=np.array([[unit.slew_axis_x_m, 0.0, 0.0] for unit in units]),
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


@dataclass(frozen=True, eq=False)
class Slewed:
    """What slews of both units, where it is."""

    numbers: Slewing
    booms_at: Booms
    frames: Array
    """Rows ahead under each boom, to its left, up (2, 3, 3)."""
    axes: Array
    """Rows along each boom, to its left, square to both (2, 3, 3)."""
    views: Array
    """What points are multiplied by to be seen along x, y, z and along both `axes` (3, 9)."""
    views_from_m: Array
    """What they are then moved by: both booms are seen from their foot pins (9)."""
    foot_m: Array
    """Foot pins (2, 3)."""
    length_m: Array
    """(2, 1)"""
    lowest_m: tuple[float, float]
    """Lowest points of the booms."""
    level: tuple[tuple[float, float], tuple[float, float]]
    """Cosine and sine of the booms' elevations."""
    undersides: tuple[tuple[Underside, Underside], tuple[Underside, Underside]]
    """Of each boom the lower face, and the end face that also looks down."""

    @cached_property
    def booms(self) -> Solids:
        """Boxes of square section round the lines from foot pin to tip, half a depth beyond each: they hold capsules
        of that depth, and have the same underside straight below the booms' middle lines."""
        deep = self.numbers.half_deep_m[:, None]
        half = np.concatenate([self.length_m / 2.0 + deep, deep, deep], axis=1)
        middle = self.foot_m + self.length_m / 2.0 * self.axes[:, 0]
        return Solids((_SIGNS * half[:, None]) @ self.axes + middle[:, None], self.axes, self.axes)

    @cached_property
    def tail_corners(self) -> Array:
        """(2, corner, 3)"""
        return np.asarray(self.numbers.tails.corners @ self.frames + self.numbers.stand_m[:, None])

    @cached_property
    def tail_ends(self) -> tuple[Array, Array]:
        """Least and greatest x, y, z of the tail swings (2, 3)."""
        return self.tail_corners.min(axis=1), self.tail_corners.max(axis=1)

    @cached_property
    def tails(self) -> Solids:
        """The tail swings."""
        return turned(self.numbers.tails, self.frames, self.numbers.stand_m)

    @cached_property
    def tail_points(self) -> list[list[Point]]:
        """Corners of the tail swings in plan, in order."""
        found: list[list[Point]] = self.tail_corners[:, : self.tail_corners.shape[1] // 2].tolist()
        return found

    @cached_property
    def tail_tips(self) -> tuple[Tip, Tip]:
        """Of each tail swing where it comes farthest toward the other unit."""
        nose, tail = self.tail_points
        return max((p[0], p[1]) for p in nose), min((p[0], p[1]) for p in tail)

    @cached_property
    def tail_sides(self) -> tuple[tuple[Side, ...], tuple[Side, ...]]:
        """Of the tail swings in plan."""
        return sides(self.tail_points[0]), sides(self.tail_points[1])

    @cached_property
    def tail_outlines(self) -> Outlines:
        """In plan."""
        return hull(self.tail_corners)


@lru_cache(maxsize=8)
def slewed(numbers: Slewing, booms: Booms) -> Slewed:
    """What slews, put where the booms are."""
    nose, tail = (_one(foot, boom) for foot, boom in zip(numbers.feet, booms, strict=True))
    frames, axes, feet = (np.array(both) for both in zip(nose[:3], tail[:3], strict=True))
    length = np.array(((booms[0].length_m,), (booms[1].length_m,)))
    return Slewed(
        numbers=numbers,
        booms_at=booms,
        frames=frames,
        axes=axes,
        views=np.concatenate([_XYZ, axes.reshape(6, 3)]).T,
        views_from_m=np.concatenate([_NOWHERE, -(axes @ feet[:, :, None]).ravel()]),
        foot_m=feet,
        length_m=length,
        lowest_m=(nose[3], tail[3]),
        level=(nose[4], tail[4]),
        undersides=(nose[5], tail[5]),
    )


Faces = tuple[Underside, Underside]


def _one(foot: Foot, boom: BoomPose) -> tuple[Any, Any, Any, float, tuple[float, float], Faces]:
    """One unit's frame, axes, foot pin, lowest point, cosine and sine of elevation, and two undersides."""
    away, deep = facing(foot.end), foot.half_deep_m
    x, y = away * cos(boom.slew_rad), sin(boom.slew_rad)
    c, s = cos(boom.elevation_rad), sin(boom.elevation_rad)
    pin = foot.stand_x_m - foot.pin_back_m * x, -foot.pin_back_m * y, foot.pin_height_m
    foot_low = pin[2] - deep * (abs(s) + c)
    lowest = min(foot_low, foot_low + boom.length_m * s)
    frame = (x, y, 0.0), (-y, x, 0.0), (0.0, 0.0, 1.0)
    axes = (x * c, y * c, s), (-y, x, 0.0), (-x * s, -y * s, c)
    foot_t, tip_t = (s - c) * deep, boom.length_m * c + (c + s) * deep
    lower = _underside(x, y, pin, (foot_t, tip_t), (-deep / c, s / c), deep)
    if abs(s) < LEVEL_SINE:
        end = _underside(x, y, pin, (foot_t, foot_t), (-deep / c, s / c), deep)
    elif s > 0.0:
        end = _underside(x, y, pin, (foot_t - 2.0 * s * deep, foot_t), (-deep / s, -c / s), deep)
    else:
        end = _underside(x, y, pin, (tip_t, tip_t - 2.0 * s * deep), ((boom.length_m + deep) / s, -c / s), deep)
    return frame, axes, pin, lowest, (c, s), (lower, end)


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
    """Convex outlines of corners (..., corner, 2 or more) in their first two axes: shapely polygons."""
    return shapely.convex_hull(shapely.linestrings(corners[..., :2]))


_XYZ, _NOWHERE = np.eye(3), np.zeros(3)
_SIGNS = np.array([[i, j, k] for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)])

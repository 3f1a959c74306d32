"""Rigging between hook and trailer: leg angles and tensions, what a piece may carry as it is used, what holds."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, inf, radians, sin, tan
from typing import NamedTuple

from simulator.scenario.hardware import Mark, Piece, Table

LOWEST_LEG_RAD = radians(30.0)
"""Lower legs, from horizontal, are not used unless maker or qualified person approves (ASME B30.9, secondary copy)."""
WIDEST_BOW_RAD = radians(120.0)
"""Two legs in one bow: full rating up to this included angle, loaded evenly (several reprints)."""
SIDE_LOAD_BANDS: tuple[tuple[float, float], ...] = ((5.0, 1.0), (45.0, 0.7), (90.0, 0.5))
"""Shackle: up to so many degrees from in-line, so much of its rating (bands: WAC 296-155-33905; figures: memory)."""
ROPE_FACTOR = 3.5
"""Design factor of a running hoist rope (ASME B30.5, from memory)."""
ROTATION_RESISTANT_FACTOR = 5.0
"""The same of a rope that is made not to spin: 29 CFR 1926.1414(e)(2)."""


GRADE_SHARE: dict[Mark, float] = {"S": 1.0, "T": 1.0, "R": 0.95, "M": 0.90, "P": 0.80}
"""How much of a rated load is counted on, by how far the figure is confirmed (common practice, no source)."""
SAME_SIZE = 0.015
"""A rope this share thinner than a size of the table is that size by another measure: 19 mm is 3/4 in, 18 mm is not."""


class Leg(NamedTuple):
    """One of two legs that meet at the hook."""

    angle_rad: float
    """From horizontal."""
    length_m: float
    tension_N: float
    level_N: float
    """Its horizontal part: what presses the trailer's sides together."""


def bridle_leg(load_N: float, width_m: float, height_m: float) -> Leg:
    """A leg of a two-leg bridle or basket (statics): half the load over the sine of its angle.

    Args:
        load_N: what both legs carry, vertical.
        width_m: between the two legs' lower ends; 0 hangs both straight.
        height_m: lower ends to hook.
    """
    angle = atan2(height_m, width_m / 2.0)
    tension = load_N / 2.0 / sin(angle) if angle > 0.0 else inf
    return Leg(angle, hypot(height_m, width_m / 2.0), tension, tension * cos(angle) if angle > 0.0 else inf)


def height_for_angle_m(width_m: float, angle_rad: float) -> float:
    """Rigging height at which the legs stand at an angle from horizontal."""
    return width_m / 2.0 * tan(angle_rad)


def side_load_share(angle_rad: float) -> float:
    """What is left of a shackle's rating with the pull this far from in-line; 0 past a right angle."""
    return _band(degrees(angle_rad), SIDE_LOAD_BANDS)


def basket_share(angle_rad: float) -> float:
    """Basket over vertical, legs at an angle from horizontal (200 % times the sine: statics)."""
    return 2.0 * sin(angle_rad)


def _band(angle_deg: float, bands: tuple[tuple[float, float], ...]) -> float:
    return next((share for upto, share in bands if angle_deg <= upto + 1e-9), 0.0)


class Held(NamedTuple):
    """A piece against what it has to carry."""

    piece: Piece
    needed_N: float
    allowed_N: float
    """As it is used: side load, hitch, angle, design factor; and by its grade where that was asked for."""
    next_size: Piece | None
    """The smallest size that holds, when this one does not; None when no size in the table does."""

    @property
    def used(self) -> float:
        """Share of what is allowed."""
        return self.needed_N / self.allowed_N if self.allowed_N > 0.0 else inf

    @property
    def holds(self) -> bool:
        """At most 100 %."""
        return self.used <= 1.0 + 1e-9

    @property
    def mark(self) -> Mark:
        """How far its rating is confirmed."""
        return self.piece.mark


def judge(table: Table, piece: Piece, needed_N: float, *, share: float = 1.0, by_grade: bool = False) -> Held:
    """A given size: refused over 100 %, with the next size that holds.

    Args:
        table: its table.
        piece: the size.
        needed_N: what it has to carry.
        share: what is left of its rating as it is used.
        by_grade: count on less of a rating that is less well confirmed.
    """

    def against(one: Piece) -> Held:
        return Held(one, needed_N, one.rated_N * share * (GRADE_SHARE[one.mark] if by_grade else 1.0), None)

    held = against(piece)
    if held.holds:
        return held
    return held._replace(next_size=next((one for one in table.pieces if against(one).holds), None))


def choose(table: Table, needed_N: float, *, share: float = 1.0, by_grade: bool = False) -> Held:
    """The smallest size that holds; the largest, refused, when none does. Arguments as `judge`."""
    found = [judge(table, one, needed_N, share=share, by_grade=by_grade) for one in table.pieces]
    return next((one for one in found if one.holds), found[-1])


def size_at_most(table: Table, diameter_m: float) -> Piece | None:
    """The largest size that is no thicker: a rope between two sizes counts as the smaller. None: thinner than all."""
    fits = [one for one in table.pieces if (one.diameter_m or inf) * (1.0 - SAME_SIZE) <= diameter_m]
    return max(fits, key=lambda one: one.diameter_m or 0.0, default=None)

"""The deck of a flat trailer that waits for the load: where it is, and how the load lies on it once it is set down."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf
from typing import NamedTuple

from simulator.mechanics.ground import Deck, Ground, ground
from simulator.mechanics.trailer_body import Vector, lying, part_corners, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.trailer import Part

Span = tuple[float, float]
RESTS_M = 0.10
"""What is no deeper than this in the deck lies on it: planks bend, and springs give, by as much under a heavy load."""
LOWEST_M = 0.05
"""What of the load is no higher than this over its lowest point bears too."""


class SetDown(NamedTuple):
    """The load as it is meant to be set down, level and square to the road, by the stated numbers."""

    x_m: Span
    """Its outline."""
    y_m: Span
    high_m: float
    """From its lowest point to its highest."""
    bears_x_m: Span
    """What of it bears: the outline of all that is lowest."""
    bears_y_m: Span
    from_m: tuple[float, float]
    """Where its stated center of gravity is, along and across."""
    attitude: str
    """How it lies then."""


def set_down(description: Description) -> SetDown:
    """Of a load that is turned over in the air: once it is."""
    trailer, landing = description.trailer, description.landing
    attitude = "on_wheels" if landing.on_wheels else trailer.attitude
    origin = stated_cg_m(trailer)

    def corners(parts: Iterable[Part]) -> list[Vector]:
        own = (corner for part in parts for corner in part_corners(part))
        return [lying(attitude, (x - origin[0], y - origin[1], z - origin[2])) for x, y, z in own]

    every = corners(trailer.parts)
    low_z, high_z = _span(every, 2)
    bears = [at for at in corners(part for part in trailer.parts if part.touches_ground) if at[2] < low_z + LOWEST_M]
    low_y, high_y = _span(every, 1)
    x, y = trailer.start.x_m, landing.y_m - (low_y + high_y) / 2.0
    return SetDown(
        _moved(_span(every, 0), x),
        _moved((low_y, high_y), y),
        high_z - low_z,
        _moved(_span(bears or every, 0), x),
        _moved(_span(bears or every, 1), y),
        (x, y),
        attitude,
    )


def _span(points: list[Vector], axis: int) -> Span:
    return min(at[axis] for at in points), max(at[axis] for at in points)


def _moved(span: Span, by_m: float) -> Span:
    return span[0] + by_m, span[1] + by_m


def deck_of(description: Description) -> Deck | None:
    """The waiting deck; none where the load comes down on the road."""
    flat = description.landing.flat
    if flat is None:
        return None
    x = sum(set_down(description).x_m) / 2.0 if flat.x_m is None else flat.x_m
    long = flat.length_m / 2.0
    return Deck((x - long, x + long), description.landing.deck_y_m(flat), flat.deck_height_m)


def surface_of(description: Description) -> Ground:
    """All that the load can be set down on: the site's ground and a deck that waits there."""
    return ground(description.site, deck_of(description))


def overhangs_m(deck: Deck, x_m: Span, y_m: Span) -> tuple[float, float]:
    """How far an outline stands out over the deck's ends and over its sides, whichever is more; negative inside."""
    ends = max(deck.low_x_m - x_m[0], x_m[1] - deck.high_x_m)
    return ends, max(deck.low_y_m - y_m[0], y_m[1] - deck.high_y_m)


def is_over(description: Description, deck: Deck, x_m: Span, y_m: Span) -> bool:
    """An outline stands out over the deck by no more than is allowed: all of it is over its place."""
    flat = description.landing.flat
    if flat is None:
        return False
    ends, sides = overhangs_m(deck, x_m, y_m)
    return ends <= flat.end_overhang_m and sides <= flat.side_overhang_m


def cg_inside_m(deck: Deck, bears_x_m: Span, bears_y_m: Span, cg_m: tuple[float, float]) -> float:
    """How far the center of gravity is inside what of the deck bears the load; negative: it tips over an edge there.

    Args:
        deck: the deck.
        bears_x_m: ends of the load's own footprint.
        bears_y_m: its sides.
        cg_m: x and y.
    """
    found = inf
    for at, own, (low, high) in (
        (cg_m[0], bears_x_m, (deck.low_x_m, deck.high_x_m)),
        (cg_m[1], bears_y_m, (deck.low_y_m, deck.high_y_m)),
    ):
        found = min(found, at - max(own[0], low), min(own[1], high) - at)
    return found

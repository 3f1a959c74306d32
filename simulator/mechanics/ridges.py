"""Where the ground bends outward: the lines that can press into a body between its corners.

A ridge is a straight piece of such a line with the two faces that meet there: the road's edge, a ledge, a crest, along
the road; a hump of the bed, across it; the four edges of a deck on the road.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.mechanics.ground import Deck, Ground, bed_at
from simulator.mechanics.matrix import Vector

FAR_M: Final = 1000.0
"""So far a ridge runs on beyond the bed's last point."""
SHARP: Final = 0.01
"""Sine of the least angle between two faces that counts as a bend."""

STEP_M: Final = 1e-6


class Ridge:
    """A piece of a ridge, from one end to the other, and the normals of its two faces, out of the ground."""

    __slots__ = ("end", "first", "high", "low", "second", "start", "y_m")

    def __init__(self, start: Vector, end: Vector, first: Vector, second: Vector) -> None:
        """`first` is the normal toward the road, or toward the nose unit of one that runs across."""
        self.start: Vector = start
        self.end: Vector = end
        self.first: Vector = first
        self.second: Vector = second
        (ax, ay, az), (bx, by, bz) = start, end
        self.low: Vector = min([ax, bx]), min([ay, by]), min([az, bz])
        self.high: Vector = max([ax, bx]), max([ay, by]), max([az, bz])
        self.y_m: float = (ay + by) / 2.0


def ridges(surface: Ground) -> list[Ridge]:
    """All ridges of a surface: along the road at its section's points, then across it at its bed's; last those of a
    deck on it."""
    found = _along(surface) + _across(surface)
    return found if surface.deck is None else found + _of_deck(surface.deck)


def _of_deck(deck: Deck) -> list[Ridge]:
    """Its edges along the road, toward the road first, then those across, toward the nose unit first."""
    up = 0.0, 0.0, 1.0
    x0, x1, y0, y1, top = deck.low_x_m, deck.high_x_m, deck.low_y_m, deck.high_y_m, deck.top_m
    return [
        Ridge((x0, y1, top), (x1, y1, top), (0.0, 1.0, 0.0), up),
        Ridge((x0, y0, top), (x1, y0, top), up, (0.0, -1.0, 0.0)),
        Ridge((x0, y1, top), (x0, y0, top), (-1.0, 0.0, 0.0), up),
        Ridge((x1, y1, top), (x1, y0, top), up, (1.0, 0.0, 0.0)),
    ]


def _along(surface: Ground) -> list[Ridge]:
    found: list[Ridge] = []
    for i in range(1, len(surface.section) - 1):
        y, z = surface.section[i]
        carries = surface.carries_bed[i]
        xs = [-FAR_M, FAR_M]
        if carries or surface.carries_bed[i - 1] or surface.carries_bed[i + 1]:
            xs = [-FAR_M, *[x for x, _ in surface.bed if _bends(surface, x)], FAR_M]
        for k in range(len(xs) - 1):
            start, end = xs[k], xs[k + 1]
            first = _normal(surface, i - 1, (start + end) / 2.0, carries)
            second = _normal(surface, i, (start + end) / 2.0, carries)
            if first[1] * second[2] - first[2] * second[1] > SHARP:
                low, high = (z + carries * bed_at(surface, x)[0] for x in (start, end))
                found.append(Ridge((start, y, low), (end, y, high), first, second))
    return found


def _bends(surface: Ground, x_m: float) -> bool:
    """Whether the bed's slope changes there."""
    return bed_at(surface, x_m - STEP_M)[1] != bed_at(surface, x_m + STEP_M)[1]


def _across(surface: Ground) -> list[Ridge]:
    found: list[Ridge] = []
    for x, rise in surface.bed:
        for i in range(len(surface.faces)):
            face = surface.faces[i]
            share = (face.carries_a + face.carries_b) / 2.0
            first = _normal(surface, i, x - STEP_M, share)
            second = _normal(surface, i, x + STEP_M, share)
            if first[2] * second[0] - first[0] * second[2] > SHARP:
                start = x, face.ya, face.za + face.carries_a * rise
                found.append(Ridge(start, (x, face.yb, face.zb + face.carries_b * rise), first, second))
    return found


def _normal(surface: Ground, i: int, x_m: float, share: float) -> Vector:
    """Of face `i` of the section, where it carries so much of the bed's slope."""
    rise, slope = bed_at(surface, x_m)
    face = surface.faces[i]
    dy, dz = face.yb - face.ya, face.zb + face.carries_b * rise - face.za - face.carries_a * rise
    length = sqrt(dy * dy + dz * dz)
    ny, nz = dz / length, -dy / length
    tilt = share * slope * nz
    scale = 1.0 / sqrt(1.0 + tilt * tilt)
    return -tilt * scale, ny * scale, nz * scale

"""The trailer cut across at one place: the convex outline that a sling lies on.

An outline is a ring of bends with straight edges between them: a corner is a bend of no radius, a tank's round shell
one of its own. Points are (y, z) in the plane of the cut; going round is counterclockwise with y to the right and z up,
and a bend turns through the outward directions from `from_rad` to `to_rad`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import acos, atan2, cos, hypot, pi, sin
from typing import NamedTuple

from simulator.mechanics.trailer_body import Vector, lying
from simulator.scenario.trailer import Part, Trailer

Point = tuple[float, float]

OVAL_CORNERS = 180
"""A tank that is not as high as it is wide is drawn as so many corners (0.3 mm off an oval of 3 m)."""
ROUND = 1e-6
"""Height and width that differ by less make a circle, m."""
SAME_M = 1e-9
"""Points nearer than this are one."""


class Disc(NamedTuple):
    """What an outline is drawn round: a corner, or a round shell."""

    y_m: float
    z_m: float
    radius_m: float = 0.0
    shell_radius_m: float = 0.0
    """Of the shell that is pressed there; 0: a sharp corner. An oval's corners have no radius, but its shell has."""


class Bend(NamedTuple):
    """A corner or an arc of an outline."""

    y_m: float
    z_m: float
    radius_m: float
    shell_radius_m: float
    from_rad: float
    to_rad: float

    def at(self, outward_rad: float) -> Point:
        """Its point that looks this way."""
        return self.y_m + self.radius_m * cos(outward_rad), self.z_m + self.radius_m * sin(outward_rad)


Outline = tuple[Bend, ...]


def box(width_m: float, height_m: float) -> tuple[Disc, ...]:
    """The corners of a box about its middle."""
    y, z = width_m / 2.0, height_m / 2.0
    return Disc(-y, -z), Disc(y, -z), Disc(y, z), Disc(-y, z)


def outline(discs: Iterable[Disc]) -> Outline:
    """The convex outline round corners and shells.

    Raises:
        ValueError: fewer than two different places and no shell: nothing to lie on.
    """
    every = list(dict.fromkeys(discs))
    first = max(every, key=lambda one: (one.radius_m - one.z_m, one.y_m))
    ring: list[tuple[Disc, float]] = [(first, -pi / 2.0)]
    while (step := _next(every, *ring[-1])) is not None and step[1] < 1.5 * pi - 1e-9:
        ring.append(step)
    if len(ring) == 1 and not first.radius_m:
        raise ValueError(f"an outline round {every}: at least two places, such as the corners of a box")
    bends = [Bend(*disc, start, end) for (disc, start), (_, end) in pairwise([*ring, (first, 1.5 * pi)])]
    if len(bends) > 1 and bends[-1][:3] == bends[0][:3]:  # all the way round: back on the arc it began with
        last = bends.pop()
        bends[0] = bends[0]._replace(from_rad=last.from_rad - 2.0 * pi)
    return tuple(bends)


def _next(every: Sequence[Disc], disc: Disc, outward: float) -> tuple[Disc, float] | None:
    """The disc that a string round all of them meets next, going round, and the way it looks there."""
    best: tuple[float, float, Disc] | None = None
    for other in every:
        y, z = other.y_m - disc.y_m, other.z_m - disc.z_m
        distance = hypot(y, z)
        if distance < SAME_M or distance <= abs(disc.radius_m - other.radius_m):
            continue
        turn = (atan2(z, y) - acos((disc.radius_m - other.radius_m) / distance) - outward + 1e-9) % (2.0 * pi) - 1e-9
        if best is None or turn < best[0] - 1e-9 or (turn < best[0] + 1e-9 and distance > best[1]):
            best = turn, distance, other
    return None if best is None else (best[2], outward + max(best[0], 0.0))


def _heights_m(part: Part, x_m: float) -> tuple[float, float] | None:
    """Lowest and highest z of a part's outline at x; none if it does not reach there."""
    found = []
    for (xa, za), (xb, zb) in zip(part.outline_m, (*part.outline_m[1:], part.outline_m[0]), strict=True):
        if min(xa, xb) <= x_m <= max(xa, xb):
            found += [za, zb] if xa == xb else [za + (zb - za) * (x_m - xa) / (xb - xa)]
    return (min(found), max(found)) if found else None


def _discs_of(part: Part, low_m: float, high_m: float) -> list[Disc]:
    across, up, middle = part.width_m / 2.0, (high_m - low_m) / 2.0, (high_m + low_m) / 2.0
    if part.drawn_as != "tank" or up < SAME_M:
        return [Disc(part.y_m + side * across, z) for side in (-1.0, 1.0) for z in (low_m, high_m)]
    if abs(across - up) < ROUND:
        return [Disc(part.y_m, middle, across, across)]
    found = []
    for i in range(OVAL_CORNERS):
        angle = 2.0 * pi * i / OVAL_CORNERS
        shell = ((across * sin(angle)) ** 2 + (up * cos(angle)) ** 2) ** 1.5 / (across * up)
        found.append(Disc(part.y_m + across * cos(angle), middle + up * sin(angle), 0.0, shell))
    return found


def trailer_discs(trailer: Trailer, x_m: float) -> tuple[Disc, ...]:
    """Corners and shells of all parts that reach to x, in the trailer's own axes (y to its left, z up on its wheels).

    A part drawn as a tank is round: as high and as wide as it is there.
    """
    reaching = ((part, _heights_m(part, x_m)) for part in trailer.parts)
    return tuple(disc for part, heights in reaching if heights is not None for disc in _discs_of(part, *heights))


def laid_down(discs: Iterable[Disc], attitude: str, origin_m: Vector) -> tuple[Disc, ...]:
    """Discs of the trailer's own axes in lying axes from an origin (of its own axes)."""
    found = []
    for disc in discs:
        _, y, z = lying(attitude, (0.0, disc.y_m - origin_m[1], disc.z_m - origin_m[2]))
        found.append(disc._replace(y_m=y, z_m=z))
    return tuple(found)

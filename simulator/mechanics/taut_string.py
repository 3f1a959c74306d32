"""A taut string round a convex outline, in the plane of the cut: from a pick one way round, then free to a sheave."""

from __future__ import annotations

from collections.abc import Iterable
from math import acos, atan2, ceil, cos, hypot, pi, sin
from typing import NamedTuple

from simulator.mechanics.section import SAME_M, Bend, Disc, Outline, Point, outline

ON_M = 1e-6
"""A pick nearer to a place of the outline than this lies there."""
FULL = 2.0 * pi


class SheaveInside(ValueError):  # noqa: N818 - it says what it is
    """No sling can lie: its sheave is inside the load."""


class Turn(NamedTuple):
    """Where a sling bends round the load, in the plane of the cut."""

    at_m: Point
    """Of a corner; of an arc the middle of what is covered."""
    turn_rad: float
    shell_radius_m: float
    """0: a sharp corner."""


class Laid(NamedTuple):
    """The string in the plane of the cut."""

    laid_m: float
    leaves_m: Point
    free_m: float
    toward: Point
    """Unit vector, where it leaves to the sheave."""
    turns: tuple[Turn, ...]


class Way(NamedTuple):
    """One way round an outline from a pick; going round the other way is the same in a mirror."""

    bends: Outline
    mirrored: bool
    pick_m: Point
    first: int
    """The bend that the string meets first."""
    begins_rad: float
    """Where on it the string begins."""
    lead_m: float
    """Straight on the outline from the pick to that bend."""

    def _seen(self, point: Point) -> Point:
        return (-point[0], point[1]) if self.mirrored else point

    def bears(self, sheave_m: Point) -> bool:
        """Whether the sheave lies behind the side that the string would start along."""
        y, z = self._seen(sheave_m)
        return cos(self.begins_rad) * (y - self.pick_m[0]) + sin(self.begins_rad) * (z - self.pick_m[1]) < 0.0

    def laid(self, sheave_m: Point) -> Laid:
        """The taut string to a sheave.

        Raises:
            SheaveInside: the sheave is inside the load.
        """
        (y, z), laid, begins = self._seen(sheave_m), self.lead_m, self.begins_rad
        turns: list[Turn] = []
        for count in range(len(self.bends) + 1):
            i = (self.first + count) % len(self.bends)
            bend, after = self.bends[i], self.bends[(i + 1) % len(self.bends)]
            ends = begins + (ahead_rad(begins, bend.to_rad) if len(self.bends) > 1 else FULL)
            away = hypot(y - bend.y_m, z - bend.z_m)
            if away > bend.radius_m:
                leaves = atan2(z - bend.z_m, y - bend.y_m) - acos(bend.radius_m / away)
                leaves = begins + ahead_rad(begins, leaves)
                if leaves <= ends:
                    turns.append(Turn(bend.at((begins + leaves) / 2.0), leaves - begins, bend.shell_radius_m))
                    laid += bend.radius_m * (leaves - begins)
                    return self._told(laid, bend.at(leaves), (y, z), turns)
            turns.append(Turn(bend.at((begins + ends) / 2.0), ends - begins, bend.shell_radius_m))
            laid += bend.radius_m * (ends - begins) + edge_m(bend, after)
            begins = ends
        raise SheaveInside(
            f"sheave at y = {sheave_m[0]:.3f}, z = {sheave_m[1]:.3f} m of the section is inside the load"
        )

    def _told(self, laid_m: float, leaves: Point, sheave: Point, turns: list[Turn]) -> Laid:
        seen = self._seen
        free = hypot(sheave[0] - leaves[0], sheave[1] - leaves[1])
        toward = seen(((sheave[0] - leaves[0]) / free, (sheave[1] - leaves[1]) / free))
        bent = tuple(turn._replace(at_m=seen(turn.at_m)) for turn in turns if turn.turn_rad > SAME_M)
        return Laid(laid_m, seen(leaves), free, toward, bent)


def ahead_rad(begins: float, angle: float) -> float:
    """From one direction round to another; a hair behind counts as none."""
    return max(0.0, (angle - begins + 1e-9) % FULL - 1e-9)


def ways_round(discs: Iterable[Disc], pick_m: Point) -> tuple[Way, Way]:
    """Both ways round, counterclockwise first. A pick inside the outline counts from the nearest place of the outline.

    Args:
        discs: corners and shells of the section.
        pick_m: (y, z); it is a corner itself where it stands out.
    """
    y, z = pick_m
    every = [*discs, Disc(y, z)]
    mirror = [disc._replace(y_m=-disc.y_m) for disc in every]
    return _way(outline(every), (y, z), mirrored=False), _way(outline(mirror), (-y, z), mirrored=True)


def _way(bends: Outline, pick: Point, *, mirrored: bool) -> Way:
    """Where on the outline the pick is: at a corner, on an arc or on an edge, whichever is nearest."""
    places: list[tuple[float, Way]] = []
    for i, bend in enumerate(bends):
        outward = _nearest_rad(bend, pick)
        on = bend.at(outward)
        places.append((hypot(pick[0] - on[0], pick[1] - on[1]), Way(bends, mirrored, on, i, outward, 0.0)))
        following = (i + 1) % len(bends)
        after = bends[following]
        (ya, za), (yb, zb) = bend.at(bend.to_rad), after.at(after.from_rad)
        length = hypot(yb - ya, zb - za)
        along = ((pick[0] - ya) * (yb - ya) + (pick[1] - za) * (zb - za)) / max(length, SAME_M)
        if ON_M < along < length - ON_M:
            on = ya + along / length * (yb - ya), za + along / length * (zb - za)
            way = Way(bends, mirrored, on, following, after.from_rad, length - along)
            places.append((hypot(pick[0] - on[0], pick[1] - on[1]), way))
    return min(places, key=lambda place: place[0])[1]


def _nearest_rad(bend: Bend, pick: Point) -> float:
    """Which way a bend's nearest place to a pick looks; a corner's string starts along its next edge."""
    if not bend.radius_m:
        return bend.to_rad
    past, all_of_it = (
        (atan2(pick[1] - bend.z_m, pick[0] - bend.y_m) - bend.from_rad) % FULL,
        bend.to_rad - bend.from_rad,
    )
    if past <= all_of_it:
        return bend.from_rad + past
    return bend.to_rad if past - all_of_it < FULL - past else bend.from_rad


def lies_toward(discs: Iterable[Disc], pick_m: Point, side: Point) -> Way:
    """The way round that goes along a side first: from the pick toward the middle of that side, the shorter way.

    Args:
        discs: of the section.
        pick_m: (y, z).
        side: as that side looks, such as (0, -1) for down; same axes.

    Raises:
        ValueError: the pick is in the middle of that side, so that both ways begin on it.
    """
    onward, back = ways_round(discs, pick_m)
    starts, total = _starts_m(onward.bends)
    pick = starts[onward.first] - onward.lead_m
    if onward.lead_m == 0.0:
        bend = onward.bends[onward.first]
        pick += bend.radius_m * (onward.begins_rad - bend.from_rad)
    ahead = (_middle_m(onward.bends, starts, atan2(side[1], side[0])) - pick) % total
    if min(ahead, abs(ahead - total / 2.0), total - ahead) < ON_M:
        raise ValueError(
            f"a sling from a pick at y = {pick_m[0]:.3f}, z = {pick_m[1]:.3f} m may start either way along the side "
            f"that looks toward {side}: name the side that it runs on to, such as left or right"
        )
    return onward if ahead < total / 2.0 else back


def _starts_m(bends: Outline) -> tuple[list[float], float]:
    """Way along the outline to where each bend begins, and all the way round."""
    starts, total = [], 0.0
    for i, bend in enumerate(bends):
        starts.append(total)
        total += bend.radius_m * (bend.to_rad - bend.from_rad) + edge_m(bend, bends[(i + 1) % len(bends)])
    return starts, total


def _middle_m(bends: Outline, starts: list[float], looks_rad: float) -> float:
    """Way along the outline to the middle of what looks this way: an edge's, or the one point of a bend."""
    for i, bend in enumerate(bends):
        if abs((bend.to_rad - looks_rad + pi) % FULL - pi) < 1e-9:
            past = bend.radius_m * (bend.to_rad - bend.from_rad)
            return starts[i] + past + edge_m(bend, bends[(i + 1) % len(bends)]) / 2.0
    for i, bend in enumerate(bends):
        past = (looks_rad - bend.from_rad) % FULL
        if past <= bend.to_rad - bend.from_rad:
            return starts[i] + bend.radius_m * past
    raise ArithmeticError("an outline that does not look every way")


def edge_m(bend: Bend, after: Bend) -> float:
    """Straight from one bend to the next."""
    (ya, za), (yb, zb) = bend.at(bend.to_rad), after.at(after.from_rad)
    return hypot(yb - ya, zb - za)


DRAWN_STEP_RAD = pi / 18.0
"""From one point of an arc to the next, for drawing."""


def points_round(way: Way, sheave_m: Point) -> list[Point]:
    """Points of the string on the outline, for drawing: from the pick to where it leaves; an arc in short chords.

    Args:
        way: the way that it lies.
        sheave_m: (y, z).
    """
    (y, z), begins, seen = way._seen(sheave_m), way.begins_rad, way._seen
    found = [seen(way.pick_m)]
    for count in range(len(way.bends) + 1):
        bend = way.bends[(way.first + count) % len(way.bends)]
        ends = begins + (ahead_rad(begins, bend.to_rad) if len(way.bends) > 1 else FULL)
        away = hypot(y - bend.y_m, z - bend.z_m)
        is_last = False
        if away > bend.radius_m:
            leaves = atan2(z - bend.z_m, y - bend.y_m) - acos(bend.radius_m / away)
            leaves = begins + ahead_rad(begins, leaves)
            is_last = leaves <= ends
            ends = leaves if is_last else ends
        chords = max(1, ceil((ends - begins) / DRAWN_STEP_RAD)) if bend.radius_m else 1
        found += [seen(bend.at(begins + (ends - begins) * n / chords)) for n in range(chords + 1)]
        if is_last:
            break
        begins = ends
    return [b for n, b in enumerate(found) if not n or hypot(b[0] - found[n - 1][0], b[1] - found[n - 1][1]) > SAME_M]

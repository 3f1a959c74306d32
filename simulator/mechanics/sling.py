"""A line that runs round the load: a sling laid on the convex outline at its pick, then free to its sheave.

The string lies in the surface of a prism (the outline drawn out along the load). Unfolded it is straight, so its length
is hypot(way round + free way in the plane of the cut, way along), and the place where it leaves the load slides along
its edge as the sheave moves. With smooth corners the pushes of the laid part and the pull at the pick add up to the
pull toward the sheave at the place where it leaves; so the load feels that alone.
"""

from __future__ import annotations

from math import asin, atan2, cos, exp, hypot, pi, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.line_path import Reach
from simulator.mechanics.section import Point, laid_down, trailer_discs
from simulator.mechanics.taut_string import Laid, Turn, Way, lies_toward, points_round, ways_round
from simulator.mechanics.trailer_body import Vector, lying
from simulator.scenario.trailer import Pick, Trailer

Array = NDArray[np.float64]

SIDES: dict[str, Vector] = {
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "roof": (0.0, 0.0, 1.0),
    "floor": (0.0, 0.0, -1.0),
}
"""A trailer's sides as they look, in its own axes (y to its left, z up on its wheels)."""
LEAST_OFF_M = 0.5
"""Of a sling beyond what is laid: its upper eye or hook must hang clear of the load (common practice, no source)."""


class Squeeze(NamedTuple):
    """How hard a sling presses where it bends."""

    at_m: Point
    push_N: float
    """2 T sin(turn / 2), inward: a corner's, or an arc's in all."""
    pressure_Pa: float | None
    """T / (radius x width) on a shell; none at a sharp corner."""


class Sling(NamedTuple):
    """A line over a sling that lies, or may come to lie, on the load; in the load's axes from its center of gravity."""

    x_m: float
    """Of the pick."""
    ways: tuple[Way, ...]
    """One: it lies that way round. Two: straight from the pick; it comes to bear the shorter way."""
    sling_m: float = 0.0
    """All of it from the pick, rigging included: the hook is its upper end."""

    def laid(self, sheave_m: Point) -> Laid:
        """The string in the plane of the cut, to a sheave at (y, z)."""
        if not all(way.bears(sheave_m) for way in self.ways):
            y, z = self.ways[0].pick_m
            y = -y if self.ways[0].mirrored else y
            free = hypot(sheave_m[0] - y, sheave_m[1] - z)
            return Laid(0.0, (y, z), free, ((sheave_m[0] - y) / free, (sheave_m[1] - z) / free), ())
        return min((way.laid(sheave_m) for way in self.ways), key=_length_m)

    def points(self, sheave_m: Point) -> list[Point]:
        """Where it runs on the load in the plane of the cut, from the pick to where it leaves: for drawing."""
        if not all(way.bears(sheave_m) for way in self.ways):
            y, z = self.ways[0].pick_m
            return [(-y if self.ways[0].mirrored else y, z)]
        return points_round(min(self.ways, key=lambda way: _length_m(way.laid(sheave_m))), sheave_m)

    def kept(self, sheave_m: Point) -> Sling:
        """As it goes on from here: a straight line that bears keeps its way round, were the other even shorter."""
        if not all(way.bears(sheave_m) for way in self.ways):
            return self
        return self._replace(ways=(min(self.ways, key=lambda way: _length_m(way.laid(sheave_m))),))

    def run(self, sheave_m: Array | Vector) -> Run:
        """The string in three dimensions."""
        x, y, z = (float(value) for value in sheave_m)
        laid = self.laid((y, z))
        along, round_m = x - self.x_m, laid.laid_m + laid.free_m
        length = hypot(along, round_m)
        part = laid.laid_m / round_m
        slope = round_m / length
        return Run(
            laid_m=part * length,
            free_m=(1.0 - part) * length,
            leaves_m=(self.x_m + along * part, *laid.leaves_m),
            toward=(along / length, slope * laid.toward[0], slope * laid.toward[1]),
            turns=laid.turns,
            off_rad=atan2(along, round_m),
            hook_off_m=self.sling_m - part * length,
        )

    def reach(self, sheave_m: Array) -> Reach:
        """The line to a sheave at this place in the load's axes; straight from the pick it is a straight line's."""
        laid = self.laid((float(sheave_m[1]), float(sheave_m[2])))
        along, round_m = float(sheave_m[0]) - self.x_m, laid.laid_m + laid.free_m
        length = hypot(along, round_m)
        (v, w), part = laid.toward, round_m / laid.free_m
        toward = np.array([along, round_m * v, round_m * w]) / length
        mixed = (1.0 - part) * v * w
        bend = np.array([[1.0, 0.0, 0.0], [0.0, v * v + part * w * w, mixed], [0.0, mixed, w * w + part * v * v]])
        bend -= toward[:, None] * toward
        return Reach(length - self.sling_m, toward, bend / length)


def _length_m(laid: Laid) -> float:
    return laid.laid_m + laid.free_m


class Run(NamedTuple):
    """A sling as it runs, in the load's axes."""

    laid_m: float
    free_m: float
    """Where it leaves the load to the sheave."""
    leaves_m: Vector
    toward: Vector
    """Unit vector of the pull on the load, acting at `leaves_m`."""
    turns: tuple[Turn, ...]
    off_rad: float
    """Of the string out of the plane of the cut, toward the tail."""
    hook_off_m: float
    """Sling beyond what is laid; less than `LEAST_OFF_M` is a stop."""

    @property
    def hook_is_off(self) -> bool:
        """The hook hangs clear of the load."""
        return self.hook_off_m >= LEAST_OFF_M

    @property
    def turned_rad(self) -> float:
        """All its turns as the string makes them, one after the other."""
        return sum(self._made_rad(turn) for turn in self.turns)

    def _made_rad(self, turn: Turn) -> float:
        part = cos(self.off_rad)
        return turn.turn_rad * part if turn.shell_radius_m else 2.0 * asin(part * sin(turn.turn_rad / 2.0))

    def squeeze(self, pull_N: float, width_m: float) -> tuple[Squeeze, ...]:
        """How it presses at each turn.

        Args:
            pull_N: in the sling, alike all along (smooth corners).
            width_m: of the sling as it lies.
        """
        part = cos(self.off_rad)
        return tuple(
            Squeeze(
                turn.at_m,
                2.0 * pull_N * part * sin(min(turn.turn_rad, pi) / 2.0),
                pull_N * part**2 / (turn.shell_radius_m * width_m) if turn.shell_radius_m else None,
            )
            for turn in self.turns
        )


def pull_range_N(pull_N: float, friction: float, turned_rad: float) -> tuple[float, float]:
    """Least and most that the far side of a sling may carry with so much on this side: pull x exp(-+ mu x angle).

    The rope round a drum (Euler and Eytelwein, any textbook of mechanics).
    """
    held = exp(friction * turned_rad)
    return pull_N / held, pull_N * held


def trailer_sling(
    trailer: Trailer, at_m: Vector, *, from_m: Vector, lies_on: str | None = None, sling_m: float = 0.0
) -> Sling:
    """The sling of a pick, in lying axes.

    Args:
        trailer: whose section at the pick's x it lies on: all parts that reach there.
        at_m: the pick, in the trailer's own axes.
        from_m: where the lying axes begin, in the trailer's own axes: its center of gravity for a rest pose.
        lies_on: left, right, roof or floor: the side that it lies on first; none: straight from the pick.
        sling_m: rigging from the pick to the hook.

    Raises:
        ValueError: the pick is in the middle of the side it lies on; or no such side.
    """
    if lies_on is not None and lies_on not in SIDES:
        raise ValueError(f"lies_on {lies_on!r}: allowed are {', '.join(SIDES)}")
    discs = laid_down(trailer_discs(trailer, at_m[0]), trailer.attitude, from_m)
    x, y, z = (at - origin for at, origin in zip(at_m, from_m, strict=True))
    _, *pick = lying(trailer.attitude, (x, y, z))
    if lies_on is None:
        return Sling(x, ways_round(discs, (pick[0], pick[1])), sling_m)
    _, *side = lying(trailer.attitude, SIDES[lies_on])
    return Sling(x, (lies_toward(discs, (pick[0], pick[1]), (side[0], side[1])),), sling_m)


def shell_bears_Pa(trailer: Trailer, pick: Pick) -> float | None:
    """The least that shells at a pick's place are stated to bear; none: nobody knows."""
    x = pick.at_m[0]
    reach = [
        part
        for part in trailer.parts
        if part.drawn_as == "tank" and min(at for at, _ in part.outline_m) <= x <= max(at for at, _ in part.outline_m)
    ]
    known = [part.may_bear_Pa for part in reach]
    stated = [value for value in known if value is not None]
    return min(stated) if stated and len(stated) == len(known) else None

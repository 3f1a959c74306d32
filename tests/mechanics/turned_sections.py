"""Sections that are turned over, by scipy alone: strings from convex hulls, rests by constrained minimum."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize, nnls
from scipy.spatial import ConvexHull

Array = NDArray[np.float64]


def string_m(corners: Array, pick: Array, sheave: Array, way: int) -> float:
    """Taut string from a pick that is a corner of the section, one way round (1 counterclockwise, -1 clockwise).

    With the sheave added to the section, what is left of the hull between pick and sheave is the string; a pick that
    the hull has swallowed sees the sheave.
    """
    points = np.vstack([corners[np.linalg.norm(corners - pick, axis=1) > 1e-9], pick, sheave])
    ring = ConvexHull(points).vertices[::way].tolist()  # counterclockwise, as scipy has it in two dimensions
    last = len(points) - 1
    if last not in ring:
        raise ValueError("sheave inside the section")
    if last - 1 not in ring:
        return float(np.linalg.norm(sheave - pick))
    at = ring.index(last - 1)
    around = ring[at:] + ring[:at]
    path = points[around[: around.index(last) + 1]]
    return float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())


def in_order(corners: Array, pick: Array, way: int) -> Array:
    """Corners of the outline from the pick on, one way round; a clockwise way in a mirror, so that it is the other."""
    points = np.vstack([pick, corners[np.linalg.norm(corners - pick, axis=1) > 1e-9]]) * (way, 1)
    ring = ConvexHull(points).vertices.tolist()
    at = ring.index(0)
    return np.asarray(points[ring[at:] + ring[:at]])


class Along(NamedTuple):
    """A string's length, and how it grows as the sheave moves: along its last, free part."""

    length_m: float
    grows: tuple[float, float]


class Ring:
    """Corners in order from a pick on, one way round; what is the same wherever the sheave is, is worked out once."""

    def __init__(self, corners: Array, way: int) -> None:
        edges = np.diff(corners, axis=0, append=corners[:1])
        laid = np.linalg.norm(edges, axis=1).cumsum()
        self._way, self._corners, self._laid_m = way, corners.tolist(), [0.0, *laid.tolist()]
        self._y, self._z = np.ascontiguousarray(edges.T)
        self._moment = edges[:, 0] * corners[:, 1] - edges[:, 1] * corners[:, 0]

    def along(self, sheave_y_m: float, sheave_z_m: float) -> Along:
        """As `string_m`: to the first corner whose next edge has the sheave on its outer side."""
        y = sheave_y_m * self._way
        first = int((self._y * sheave_z_m - self._z * y <= self._moment).argmax())
        at_y, at_z = self._corners[first]
        out, up = y - at_y, sheave_z_m - at_z
        free_m = hypot(out, up)
        return Along(self._laid_m[first] + free_m, (out / free_m * self._way, up / free_m))


def _turn(roll_rad: float) -> Array:
    """From the section's own axes to the world's; rows times it go back."""
    return np.array([[np.cos(roll_rad), -np.sin(roll_rad)], [np.sin(roll_rad), np.cos(roll_rad)]])


class Turned(NamedTuple):
    """A section on two lines."""

    corners: Array
    cg: Array
    picks: Array
    ways: tuple[tuple[int, ...], tuple[int, ...]]
    """As in `string_m`."""
    sheaves: Array

    def rings(self) -> list[list[Ring]]:
        """For each line and way."""
        return [
            [Ring(in_order(self.corners, pick, way), way) for way in ways]
            for pick, ways in zip(self.picks, self.ways, strict=True)
        ]

    def sheaves_from(self, q: Array) -> Array:
        """Sheaves in the section's own axes, its CG at y, z and turned by roll."""
        return np.asarray((self.sheaves - q[:2]) @ _turn(q[2]) + self.cg)

    def sheaves_move(self, q: Array) -> Array:
        """How each of them (by row) moves as y, z and roll grow (by column)."""
        by_roll = (self.sheaves - q[:2]) @ _turn(q[2] + 0.5 * np.pi)
        return np.stack([np.concatenate([-_turn(q[2]), one[None]]).T for one in by_roll])

    def by_hulls_m(self, q: Array) -> Array:
        """Both lines' lengths."""
        each = zip(self.picks, self.ways, self.sheaves_from(q), strict=True)
        return np.array([min(string_m(self.corners, pick, at, way) for way in ways) for pick, ways, at in each])


FARTHEST = np.array([1.5, 1.5, 1.2])
"""That it moves and turns in one step."""
OFF = np.vstack([np.zeros(3), np.random.default_rng(3).uniform(-0.1, 0.1, (60, 3))])
"""Starts, one after the other."""


class Lowest(NamedTuple):
    """Where it hangs lowest."""

    q: Array
    """y, z, roll."""
    shares: Array


def lowest(section: Turned, rings: list[list[Ring]], lengths_m: Array, near: Array) -> Lowest:
    """Lowest CG with no line longer than it is, from nearby; the lines' shares from Newton's balance there.

    Raises:
        ArithmeticError: scipy found no place where the lines balance the weight.
    """
    up = np.array([0.0, 1.0, 0.0])

    def strings(q: Array) -> list[Along]:
        each = zip(rings, section.sheaves_from(q).tolist(), strict=True)
        return [min((ring.along(*at) for ring in ways), key=lambda one: one.length_m) for ways, at in each]

    def over_m(q: Array) -> Array:
        return np.array([one.length_m for one in strings(q)]) - lengths_m

    def jacobian(q: Array) -> Array:
        each = zip(strings(q), section.sheaves_move(q), strict=True)
        return np.array([np.array(one.grows) @ moves for one, moves in each])

    bound = {"type": "ineq", "fun": lambda q: -over_m(q), "jac": lambda q: -jacobian(q)}
    nearby = list(zip(near - FARTHEST, near + FARTHEST, strict=True))
    for off in OFF:  # it may give up at a corner of the outline, or call rest what is none: then from a little beside
        found = minimize(
            lambda q: q[1],
            near + off,
            jac=lambda q: up,
            method="SLSQP",
            bounds=nearby,
            constraints=bound,
            options={"ftol": 1e-15},
        )
        over = over_m(found.x)
        shares, left = nnls(-jacobian(found.x).T * (over > -1e-6), up)
        if (over < 1e-7).all() and left < 1e-4:
            return Lowest(np.asarray(found.x), shares)
    raise ArithmeticError("scipy found no lowest place")

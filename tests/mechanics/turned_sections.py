"""Sections that are turned over, by scipy alone: strings from convex hulls, rests by constrained minimum."""

from __future__ import annotations

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


def along_m(ring: Array, way: int, sheave: Array) -> float:
    """As `string_m`, from corners in order: to the first whose next edge has the sheave on its outer side."""
    edges, ahead = np.diff(ring, axis=0, append=ring[:1]), sheave * (way, 1) - ring
    first = int(np.argmax(edges[:, 0] * ahead[:, 1] - edges[:, 1] * ahead[:, 0] <= 0.0))
    return float(np.linalg.norm(edges[:first], axis=1).sum() + np.linalg.norm(ahead[first]))


class Turned(NamedTuple):
    """A section on two lines."""

    corners: Array
    cg: Array
    picks: Array
    ways: tuple[tuple[int, ...], tuple[int, ...]]
    """As in `string_m`."""
    sheaves: Array

    def rings(self) -> list[list[tuple[Array, int]]]:
        """For each line and way: corners in order."""
        return [
            [(in_order(self.corners, pick, way), way) for way in ways]
            for pick, ways in zip(self.picks, self.ways, strict=True)
        ]

    def sheaves_from(self, q: Array) -> Array:
        """Sheaves in the section's own axes, its CG at y, z and turned by roll."""
        y, z, roll = q
        back = np.array([[np.cos(roll), np.sin(roll)], [-np.sin(roll), np.cos(roll)]])
        return np.asarray((self.sheaves - (y, z)) @ back.T + self.cg)

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


def lowest(section: Turned, rings: list[list[tuple[Array, int]]], lengths_m: Array, near: Array) -> Lowest:
    """Lowest CG with no line longer than it is, from nearby; the lines' shares from Newton's balance there.

    Raises:
        ArithmeticError: scipy found no place where the lines balance the weight.
    """
    up, nudges = np.array([0.0, 1.0, 0.0]), 1e-6 * np.eye(3)

    def strings(q: Array) -> Array:
        each = zip(rings, section.sheaves_from(q), strict=True)
        return np.array([min(along_m(ring, way, at) for ring, way in ways) for ways, at in each])

    def jacobian(q: Array) -> Array:
        return np.array([(strings(q + n) - strings(q - n)) / 2e-6 for n in nudges]).T

    bound = {"type": "ineq", "fun": lambda q: lengths_m - strings(q), "jac": lambda q: -jacobian(q)}
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
        over = strings(found.x) - lengths_m
        shares, left = nnls(-jacobian(found.x).T * (over > -1e-6), up)
        if (over < 1e-7).all() and left < 1e-4:
            return Lowest(np.asarray(found.x), shares)
    raise ArithmeticError("scipy found no lowest place")

"""Solids with flat faces, seen from afar (orthographic): which faces show, in which tone, nearest last.

A solid is built once in its own axes; each frame it is turned, placed and drawn with a few calls.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, Color

Array = NDArray[np.float64]
Vector = tuple[float, float, float]
Spot = tuple[float, float]
SIDE_VIEW = np.array(((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)))
"""Rows: right, up and away on the screen, in world axes; seen from the ravine."""
SECTION_VIEW = np.array(((0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))
"""Seen along the road from the nose unit: road on the left, ravine on the right."""
PLAN_VIEW = np.array(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)))
"""Seen from above: road at the top."""


class Paint(NamedTuple):
    """The tones of one solid."""

    front: Color
    top: Color
    under: Color
    end: Color
    edge: Color = INK
    edge_width: float = 1.5
    line: Color = INK


class FlatFace(NamedTuple):
    """One flat face, with lines drawn on it."""

    corners: tuple[int, ...]
    normal: int
    lines: tuple[tuple[int, int], ...] = ()


class Group(NamedTuple):
    """One convex solid: its faces never hide one another."""

    faces: tuple[FlatFace, ...]
    center: int
    paint: Paint


class ConvexSolids(NamedTuple):
    """Convex solids in one set of axes."""

    points: Array
    normals: Array
    groups: tuple[Group, ...]


class Builder:
    """Gathers convex solids; `build` gives them as one value."""

    def __init__(self) -> None:
        self._points: list[Vector] = []
        self._normals: list[Vector] = []
        self._groups: list[Group] = []

    def _point(self, point: Vector) -> int:
        self._points.append(point)
        return len(self._points) - 1

    def _normal(self, normal: Vector) -> int:
        self._normals.append(normal)
        return len(self._normals) - 1

    def prism(
        self,
        outline: Sequence[Spot],
        low: float,
        high: float,
        paint: Paint,
        *,
        axis: int = 1,
        ribs: Sequence[float] = (),
    ) -> None:
        """Adds a convex outline drawn out from `low` to `high` along an axis.

        Args:
            outline: corners in the two other axes, in order of axis number.
            low, high: ends along the axis.
            paint: its tones.
            axis: 0, 1 or 2.
            ribs: places along the outline's first axis where a line is drawn on both flat faces.
        """
        placed = [tuple(self._point(_inserted(spot, axis, level)) for spot in outline) for level in (low, high)]
        faces = [
            FlatFace(
                corners, self._normal(_inserted((0.0, 0.0), axis, way)), tuple(self._ribs(outline, ribs, axis, level))
            )
            for corners, way, level in zip(placed, (-1.0, 1.0), (low, high), strict=True)
        ]
        for n, normal in enumerate(_edge_normals(outline)):
            m = (n + 1) % len(outline)
            corners = (placed[0][n], placed[0][m], placed[1][m], placed[1][n])
            faces.append(FlatFace(corners, self._normal(_inserted(normal, axis, 0.0))))
        middle = tuple(sum(spot[k] for spot in outline) / len(outline) for k in range(2))
        center = self._point(_inserted((middle[0], middle[1]), axis, (low + high) / 2.0))
        self._groups.append(Group(tuple(faces), center, paint))

    def box(self, low: Vector, high: Vector, paint: Paint, *, ribs: Sequence[float] = ()) -> None:
        """Adds a box between two corners."""
        (x0, y0, z0), (x1, y1, z1) = low, high
        self.prism(((x0, z0), (x1, z0), (x1, z1), (x0, z1)), y0, y1, paint, ribs=ribs)

    def _ribs(
        self, outline: Sequence[Spot], ribs: Sequence[float], axis: int, level: float
    ) -> Iterator[tuple[int, int]]:
        for place in ribs:
            low, high = span_at(outline, place)
            yield (
                self._point(_inserted((place, low), axis, level)),
                self._point(_inserted((place, high), axis, level)),
            )

    def build(self) -> ConvexSolids:
        """Everything added so far."""
        empty = np.zeros((0, 3))
        return ConvexSolids(
            np.array(self._points) if self._points else empty,
            np.array(self._normals) if self._normals else empty,
            tuple(self._groups),
        )


def _inserted(pair: Spot, axis: int, value: float) -> Vector:
    """A vector with `value` along `axis` and the pair along the other two."""
    parts = list(pair)
    parts.insert(axis, value)
    return parts[0], parts[1], parts[2]


def _edge_normals(outline: Sequence[Spot]) -> list[Spot]:
    """Outward normals of a convex outline's edges, whichever way round it goes."""
    ends = [*outline[1:], outline[0]]
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, ends, strict=True))
    sign = 1.0 if area >= 0 else -1.0
    normals = []
    for (x0, y0), (x1, y1) in zip(outline, ends, strict=True):
        length = hypot(x1 - x0, y1 - y0) or 1.0
        normals.append((sign * (y1 - y0) / length, sign * (x0 - x1) / length))
    return normals


def span_at(outline: Sequence[Spot], place: float) -> Spot:
    """Lowest and highest second coordinate of a convex outline at a first coordinate."""
    found = []
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if min(x0, x1) <= place <= max(x0, x1):
            found += [y0, y1] if x0 == x1 else [y0 + (y1 - y0) * (place - x0) / (x1 - x0)]
    return (min(found), max(found)) if found else (0.0, 0.0)


class PlacedSolid(NamedTuple):
    """How a solid lies on the screen: pixels = turn * point + shift; `turn` rows are right, down and away."""

    turn: Array
    shift: Array

    def spots(self, points: Array) -> list[list[float]]:
        """Points as (x px, y px, away px)."""
        placed: list[list[float]] = (points @ self.turn.T + self.shift).tolist()
        return placed


def placed(canvas: Canvas, view: Array, matrix: Array, at: Spot, scale: float) -> PlacedSolid:
    """Where a solid lies whose own origin is at the design point `at`.

    Args:
        canvas: where it is drawn.
        view: right, up and away, in world axes.
        matrix: own axes to world axes.
        at: its origin on the screen, in design units.
        scale: design units per meter.
    """
    turn = view @ matrix * (scale * canvas.f)
    turn[1] = -turn[1]
    px, py = canvas.to_px(*at)
    return PlacedSolid(turn, np.array((px - 0.5, py - 0.5, 0.0)))


def draw_solids(canvas: Canvas, solids: ConvexSolids, place: PlacedSolid) -> None:
    """Draws the faces that look toward the viewer, the nearest solid last."""
    spots = place.spots(solids.points)
    size = float(np.linalg.norm(place.turn[2])) or 1.0
    normals = (solids.normals @ place.turn.T / size).tolist()
    for group in sorted(solids.groups, key=lambda g: -spots[g.center][2]):
        draw_group(canvas, group, spots, normals)


def draw_group(canvas: Canvas, group: Group, spots: list[list[float]], normals: list[list[float]]) -> None:
    """Draws one convex solid."""
    paint, surface = group.paint, canvas.surface
    edge_px = max(1.0, paint.edge_width * canvas.f)
    for face in group.faces:
        _, down, away = normals[face.normal]
        if away > -0.02:
            continue
        tone = paint.front
        if away > -0.8:
            tone = paint.top if down < -0.5 else paint.under if down > 0.5 else paint.end
        corners = [(spots[n][0], spots[n][1]) for n in face.corners]
        shapes.edged_polygon(surface, corners, tone, paint.edge, edge_px)
        for a, b in face.lines:
            shapes.thick_line(surface, (spots[a][0], spots[a][1]), (spots[b][0], spots[b][1]), paint.line, edge_px)

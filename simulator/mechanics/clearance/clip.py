"""The lowest point of a convex solid straight over a convex outline: its lower faces, cut to the outline.

Plain numbers: a face has four to eight corners, and a cut of those is quicker in plain Python than in any array.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import inf

Point = Sequence[float]
"""x, y, height."""
Side = tuple[float, float, float]
"""(a, b, c): inside is a x + b y <= c."""
Span = tuple[float, float]


def rectangle(x_m: Span, y_m: Span) -> tuple[Side, ...]:
    """The sides of a rectangle along x and y."""
    return (-1.0, 0.0, -x_m[0]), (1.0, 0.0, x_m[1]), (0.0, -1.0, -y_m[0]), (0.0, 1.0, y_m[1])


def sides(outline_m: Sequence[Point]) -> tuple[Side, ...]:
    """The sides of a convex outline by its corners in order, either way round."""
    middle = [sum(corner[axis] for corner in outline_m) / len(outline_m) for axis in (0, 1)]
    found = []
    for p, q in zip(outline_m, [*outline_m[1:], outline_m[0]], strict=True):
        a, b = q[1] - p[1], p[0] - q[0]
        c = a * p[0] + b * p[1]
        found.append((a, b, c) if a * middle[0] + b * middle[1] <= c else (-a, -b, -c))
    return tuple(found)


def drawn_out(outline: Iterable[Side], x_m: Span, move_m: float) -> tuple[Side, ...]:
    """An outline drawn out along y by `move_m`: all from where something that moves so comes over it.

    Args:
        outline: its sides.
        x_m: its ends along x.
        move_m: how far along y, < 0 the other way.
    """
    moved = tuple((a, b, c + max(0.0, b * move_m)) for a, b, c in outline)
    return (*moved, (-1.0, 0.0, -x_m[0]), (1.0, 0.0, x_m[1]))


def cutting(outline: Iterable[Side], low_m: Point, high_m: Point) -> list[Side]:
    """Those sides of an outline that do not have all of a bounding box inside."""
    (x_low, y_low), (x_high, y_high) = low_m[:2], high_m[:2]
    return [
        (a, b, c) for a, b, c in outline if a * (x_high if a > 0.0 else x_low) + b * (y_high if b > 0.0 else y_low) > c
    ]


def lowest(faces: Iterable[Sequence[Point]], outline: Sequence[Side], below_m: float = inf) -> float:
    """Least height of some faces over an outline; infinite where none is over it or none is below `below_m`.

    Args:
        faces: convex, corners in order.
        outline: the sides of a convex outline in plan.
        below_m: higher than this nobody asks.
    """
    found = inf
    for face in faces:
        kept = face if min([point[2] for point in face]) < below_m else ()
        for a, b, c in outline:
            if not kept:
                break
            kept = _cut(kept, a, b, c)
        if kept and (height := min([point[2] for point in kept])) < below_m:
            found = below_m = height
    return found


def _cut(face: Sequence[Point], a: float, b: float, c: float) -> Sequence[Point]:
    """What of a face lies inside a side."""
    off = [a * x + b * y - c for x, y, _ in face]
    if max(off) <= 0.0:
        return face
    if min(off) > 0.0:
        return ()
    kept: list[Point] = []
    (x, y, z), before = face[-1], off[-1]
    for (u, v, w), out in zip(face, off, strict=True):
        if (out > 0.0) is not (before > 0.0):
            share = before / (before - out)
            kept.append((x + share * (u - x), y + share * (v - y), z + share * (w - z)))
        if out <= 0.0:
            kept.append((u, v, w))
        x, y, z, before = u, v, w, out
    return kept


def looking(points: Sequence[Point], faces: Iterable[Sequence[int]], *, up: bool) -> list[Sequence[Point]]:
    """Those of a solid's faces that look up, or down.

    Args:
        points: its corners.
        faces: corners by number, anticlockwise seen from outside.
        up: else down.
    """
    found: list[Sequence[Point]] = []
    for face in faces:
        p, q, r, s = points[face[0]], points[face[1]], points[face[2]], points[face[-1]]
        area = (r[0] - p[0]) * (s[1] - q[1]) - (r[1] - p[1]) * (s[0] - q[0])
        if area > 0.0 if up else area < 0.0:
            found.append([points[i] for i in face])
    return found

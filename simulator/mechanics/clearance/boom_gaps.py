"""Distance between the trailer's parts and the booms: a boom is a capsule, a part its edges.

Under a boom that stands at 60 degrees a vertical gap is twice the true distance, so straight distances are measured.
"""

from __future__ import annotations

from math import hypot, inf, sqrt

from simulator.mechanics.clearance.clip import Point
from simulator.mechanics.clearance.over import boom_gap
from simulator.mechanics.clearance.place import Placed

TINY = 1.0e-18


def nearest_to_boom(placed: Placed, end: int) -> tuple[float, int]:
    """Least distance of the trailer from a boom, m, < 0 inside it; and which part is nearest.

    It is the straight distance of an edge from the boom's capsule, or the vertical gap up to the underside of its box
    where that is less, as with the boom's end over the middle of a face. Of a boom that is farther than `Scene.far_m`
    no more is said than that it is at least so far: the height up to its lowest point, or the distance of boxes.

    Args:
        placed: the scene with a pose put in.
        end: place of its unit.
    """
    far, lowest = placed.scene.far_m, placed.slewed.lowest_m(end)
    if lowest - placed.whole_m[1][2] > far:
        return min((lowest - high[2], part) for part, high in enumerate(placed.highest_m))
    bounds = _boxes_apart(placed, end)
    if bounds[0][0] > far:
        return bounds[0]
    nearest = _edge_distance(placed, end, bounds)
    return min(nearest, boom_gap(placed, end, below_m=nearest[0]))


def _boxes_apart(placed: Placed, end: int) -> list[tuple[float, int]]:
    """How far each part's box along a boom's axes is from the boom's, m, and the part; nearest first."""
    deep, length = placed.slewed.numbers.feet[end].half_deep_m, placed.slewed.booms_at[end].length_m
    tip, found, at = length + deep, [], 3 + 3 * end
    for part, (low, high) in enumerate(zip(placed.lowest_m, placed.highest_m, strict=True)):
        (u, v, w), (x, y, z) = low[at : at + 3], high[at : at + 3]
        ahead, left, up = max(u - tip, -deep - x, 0.0), max(v - deep, -deep - y, 0.0), max(w - deep, -deep - z, 0.0)
        found.append((hypot(ahead, left, up), part))
    found.sort()
    return found


def _edge_distance(placed: Placed, end: int, bounds_m: list[tuple[float, int]]) -> tuple[float, int]:
    """Of a boom's capsule the least distance to an edge of a part, m, and which part."""
    deep, length = placed.slewed.numbers.feet[end].half_deep_m, placed.slewed.booms_at[end].length_m
    best = inf, 0
    for bound, part in bounds_m:
        if best[0] < inf and bound >= sqrt(best[0]) - deep:
            break
        best = min(best, (_part_square(placed, end, part, length, best[0]), part))
    return sqrt(best[0]) - deep, best[1]


def _part_square(placed: Placed, end: int, part: int, length: float, below: float) -> float:
    """Squared distance of a part's edges from a boom's middle line, m2; infinite if it is not less than `below`."""
    points = placed.seen[:, part, 3 + 3 * end : 6 + 3 * end].tolist()
    rows = []
    for i, j in placed.scene.load.edges[part]:
        start, finish = points[i], points[j]
        low, high = (start[2], finish[2]) if start[2] < finish[2] else (finish[2], start[2])
        w = low if low > 0.0 else -high if high < 0.0 else 0.0
        rows.append((w * w, start, finish))
    rows.sort()
    found = inf
    for bound, start, finish in rows:
        if bound >= below:
            break
        if (square := axis_square(start, finish, length)) < below:
            found = below = square
    return found


def axis_square(start: Point, end: Point, length: float) -> float:
    """Squared least distance of a segment from the first axis between 0 and a length, m2.

    The place nearest to the whole axis is right if it lies beside the segment; else it is the place nearest to that end
    of the axis, or where the segment crosses the end's plane.

    Args:
        start: along the axis and square to it, m.
        end: the segment's other end.
        length: of the axis.
    """
    u, v, w = start
    along, dv, dw = end[0] - u, end[1] - v, end[2] - w
    across, toward = dv * dv + dw * dw, v * dv + w * dw
    share = min(1.0, max(0.0, -toward / across)) if across > TINY else 0.0
    place = u + share * along
    if 0.0 <= place <= length:
        v, w = v + share * dv, w + share * dw
        return v * v + w * w
    nearer = 0.0 if place < 0.0 else length
    past, square = u - nearer, across + along * along
    share = min(1.0, max(0.0, -(toward + past * along) / square)) if square > TINY else 0.0
    if (past + share * along) * (place - nearer) < 0.0:
        share = -past / along
    u, v, w = past + share * along, v + share * dv, w + share * dw
    return u * u + v * v + w * w

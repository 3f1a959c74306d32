"""Where the ground's ridges press into the load between its corners: found for each part that touches the ground.

A ridge in a part is met at the two places where it enters and leaves. There it is as deep as the load would have to
move, straight off one of the two faces that meet in the ridge, for the part's face to be clear of it: s = d / c, d the
way to a face of the part, c the cosine between that face's normal and the ground's. A corner in the ground that slides
over the ridge is as deep as the ridge then is under the face behind it, so nothing jumps when one takes over from the
other. The push is square to the part's face, by the potential k s^2 / 2: k / c^2 on d.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.engine.moving import Body, Edge
from simulator.mechanics.matrix import Vector, turned, turned_back
from simulator.mechanics.ridges import Ridge

LEAST_COSINE: Final = 0.6
"""A face that leans farther off both faces of the ground counts as one that leans so much."""
WHOLE_M: Final = 0.5
"""A ridge that is in a part for less than this bears at its two places as one corner would, for more as two."""
ONE_PLACE_M: Final = 0.05
"""A corner this near to a place of a ridge is one contact with it; from twice as far on they are two."""
FACES_AWAY: Final = 0.2
"""Corner and face, or face and face, push each other where the cosine of the one looking into the other is more."""


class Side:
    """A face of a part: its normal out of it, and how far out it lies, in lying axes from the CG."""

    __slots__ = ("at", "cosine", "counts", "inside", "inside_rate", "off", "out_m", "rate", "x", "y", "z")

    def __init__(self, way: Vector, out_m: float) -> None:
        """See the names."""
        self.x: float = way[0]
        self.y: float = way[1]
        self.z: float = way[2]
        self.out_m: float = out_m
        self.counts: bool = False
        """What follows is of the ridge that is looked at: whether this side can be what it bears on."""
        self.cosine: float = 1.0
        self.off: Vector = (0.0, 0.0, 1.0)
        """The way off the ground, times what turns the distance into that along it."""
        self.inside: float = 0.0
        self.inside_rate: float = 0.0
        """Where the ridge starts and for all its way: square to the side."""
        self.at: float = 0.0
        self.rate: float = 0.0
        """The same off the ground."""


class Outline:
    """What of the load is met by ridges, and the ridges. The sides are also worked on."""

    __slots__ = ("looks", "parts", "ridges")

    def __init__(self, ridges: list[Ridge], parts: list[list[Side]], looks: list[Vector]) -> None:
        """`parts`: the sides of each; `looks`: of each contact point the unit vector out of the load."""
        self.ridges: list[Ridge] = ridges
        self.parts: list[list[Side]] = parts
        self.looks: list[Vector] = looks


def places(outline: Outline) -> list[Edge]:
    """Two for every ridge and part."""
    return [Edge(ridge) for ridge in range(len(outline.ridges)) for _ in outline.parts for _ in range(2)]


def is_near(ridge: Ridge, low: Vector, high: Vector) -> bool:
    """Whether it comes into a level box."""
    ax, ay, az = ridge.low
    bx, by, bz = ridge.high
    x0, y0, z0 = low
    x1, y1, z1 = high
    return ay <= y1 and by >= y0 and bz >= z0 and az <= z1 and ax <= x1 and bx >= x0


def meet(outline: Outline, body: Body, edges: list[Edge], low: Vector, high: Vector) -> bool:
    """Finds every place where a ridge is in a part.

    Args:
        outline: ridges and parts.
        body: the load.
        edges: from `places`; changed in place.
        low: least x, y, z of a level box round the load.
        high: greatest.

    Returns:
        Whether there is any.
    """
    found, count = False, 2 * len(outline.parts)
    for index in range(len(outline.ridges)):
        ridge = outline.ridges[index]
        if not is_near(ridge, low, high):
            continue
        cx, cy, cz = body.x, body.y, body.z
        sx, sy, sz = ridge.start
        ex, ey, ez = ridge.end
        start = turned_back(body.matrix, (sx - cx, sy - cy, sz - cz))
        way = turned_back(body.matrix, (ex - sx, ey - sy, ez - sz))
        first, second = turned_back(body.matrix, ridge.first), turned_back(body.matrix, ridge.second)
        at = index * count
        for sides in outline.parts:
            if _through(sides, body, start, way, first, second, edges[at], edges[at + 1]):
                found = True
            at += 2
    return found


def _through(
    sides: list[Side], body: Body, start: Vector, way: Vector, first: Vector, second: Vector, enters: Edge, leaves: Edge
) -> bool:
    """Where a line, in lying axes, is in a part; there, the face of the part that it is nearest to be clear of, from
    where to where it is the nearest, and how deep the line is under it at both."""
    t0, t1 = 0.0, 1.0
    ends: list[Side | None] = [None, None]
    for side in sides:
        _lies(side, start, way, first, second)
        if abs(side.inside_rate) < 1e-9:
            if side.inside < 0.0:
                return False
        elif side.inside_rate > 0.0:
            if -side.inside / side.inside_rate > t0:
                t0, ends[0] = -side.inside / side.inside_rate, side
        elif -side.inside / side.inside_rate < t1:
            t1, ends[1] = -side.inside / side.inside_rate, side
        if t0 >= t1:
            return False
    bears = _bears(sides, t0, t1)
    if bears is None:
        return False
    for side in sides:
        if not side.counts:
            continue
        gap, rate = side.at - bears.at, side.rate - bears.rate
        if rate > 0.0 and gap + rate * t0 < 0.0:
            t0, ends[0] = -gap / rate, side
        elif rate < 0.0 and gap + rate * t1 < 0.0:
            t1, ends[1] = -gap / rate, side
    wx, wy, wz = way
    long_m = (t1 - t0) * sqrt(wx * wx + wy * wy + wz * wz)
    whole = 0.5 + 0.5 * (long_m / WHOLE_M if long_m < WHOLE_M else 1.0)
    sx, sy, sz = start
    one = _press(bears, ends[0], body, (sx + t0 * wx, sy + t0 * wy, sz + t0 * wz), t0, whole, enters)
    other = _press(bears, ends[1], body, (sx + t1 * wx, sy + t1 * wy, sz + t1 * wz), t1, whole, leaves)
    return one or other


def _lies(side: Side, start: Vector, way: Vector, first: Vector, second: Vector) -> None:
    """How far a line is from being clear of a side, where it starts and for all its way; which way it gets clear."""
    one = -(side.x * first[0] + side.y * first[1] + side.z * first[2])
    other = -(side.x * second[0] + side.y * second[1] + side.z * second[2])
    c, off = (one, first) if one > other else (other, second)
    side.counts = c > FACES_AWAY
    if c < LEAST_COSINE:
        c, off = LEAST_COSINE, (-side.x / LEAST_COSINE, -side.y / LEAST_COSINE, -side.z / LEAST_COSINE)
    side.cosine, side.off = c, off
    side.inside = side.out_m - side.x * start[0] - side.y * start[1] - side.z * start[2]
    side.inside_rate = -(side.x * way[0] + side.y * way[1] + side.z * way[2])
    side.at, side.rate = side.inside / c, side.inside_rate / c


def _bears(sides: list[Side], t0: float, t1: float) -> Side | None:
    """The side that a line in a part is nearest to be clear of, where it is farthest from being clear of any."""
    t, best = t0, _least(sides, t0)
    if best is None:
        return None
    for _ in range(len(sides)):
        if best.rate <= 0.0:
            return best
        after, then = t1, best
        for side in sides:
            if side.counts and side.rate < best.rate:
                crosses = (side.at - best.at) / (best.rate - side.rate)
                if crosses < after:
                    after, then = (crosses if crosses > t else t), side
        if then is best or (then.rate < 0.0 and -then.rate > best.rate):
            return best
        t, best = after, then
    return best


def _least(sides: list[Side], t: float) -> Side | None:
    least, best = 1e18, 0.0
    found: Side | None = None
    for side in sides:
        if side.counts:
            at = side.at + side.rate * t
            if at < least - 1e-12 or (at < least + 1e-12 and side.rate < best):
                least, best, found = at, side.rate, side
    return found


def _press(bears: Side, ends: Side | None, body: Body, at: Vector, t: float, whole: float, edge: Edge) -> bool:
    """A place of a ridge under a side, and the side at which it ends: the load's edge between them is pushed square to
    itself and the ridge, the way in which s gets less."""
    off_m = bears.at + bears.rate * t
    if off_m <= 0.0:
        return False
    own, of_end = 1.0 / bears.cosine, 0.0
    if ends is not None and ends is not bears:
        if ends.counts and ends.at + ends.rate * t > 0.5 * off_m:
            part = _at_most_one(bears.rate / (bears.rate - ends.rate))
            own, of_end = own * (1.0 - part), part / ends.cosine
        elif abs(ends.inside_rate) > 1e-9:
            of_end = _at_most_one(-bears.rate / ends.inside_rate)
    nx, ny, nz = -own * bears.x, -own * bears.y, -own * bears.z
    if ends is not None:
        nx, ny, nz = nx - of_end * ends.x, ny - of_end * ends.y, nz - of_end * ends.z
    size = sqrt(nx * nx + ny * ny + nz * nz)
    x, y, z = at
    ox, oy, oz = bears.off
    edge.is_on, edge.is_beaten = True, False
    edge.square_m2 = whole * off_m * off_m
    edge.times, edge.depth_m = whole * size * size, off_m / size
    edge.normal = turned(body.matrix, (nx / size, ny / size, nz / size))
    edge.arm_m = turned(body.matrix, (x - ox * off_m, y - oy * off_m, z - oz * off_m))
    edge.at_m = turned(body.matrix, at)
    return True


def _at_most_one(part: float) -> float:
    return max(-1.0, min(1.0, part))


def share_left(edges: list[Edge], arm: Vector, depth_m: float) -> float:
    """What a corner in the ground still pushes beside places of ridges that are one contact with it: the deeper of
    two acts."""
    x, y, z = arm
    share = 1.0
    for edge in edges:
        if not edge.is_on:
            continue
        ex, ey, ez = edge.at_m
        apart = sqrt((ex - x) * (ex - x) + (ey - y) * (ey - y) + (ez - z) * (ez - z))
        weight = 2.0 - apart / ONE_PLACE_M
        if weight <= 0.0:
            continue
        if weight > 1.0:
            weight = 1.0
        if edge.square_m2 > weight * depth_m * depth_m:
            share = share * (1.0 - weight)
        else:
            edge.is_beaten = True
    return share


def faced(outline: Outline, body: Body, index: int, arm: Vector) -> int:
    """For a corner by a ridge: which ridge and face it pushes against instead of the nearest.

    Returns:
        -1: the nearest; else twice the ridge's number, and one more for its second face.
    """
    lx, ly, lz = turned(body.matrix, outline.looks[index])
    x, y, z = arm
    for number in range(len(outline.ridges)):
        ridge = outline.ridges[number]
        sx, sy, sz = ridge.start
        dx, dy, dz = body.x + x - sx, body.y + y - sy, body.z + z - sz
        fx, fy, fz = ridge.first
        gx, gy, gz = ridge.second
        one, other = -(dx * fx + dy * fy + dz * fz), -(dx * gx + dy * gy + dz * gz)
        if not is_near(
            ridge,
            (sx + dx - ONE_PLACE_M, sy + dy - ONE_PLACE_M, sz + dz - ONE_PLACE_M),
            (sx + dx + ONE_PLACE_M, sy + dy + ONE_PLACE_M, sz + dz + ONE_PLACE_M),
        ):
            continue
        if one <= 0.0 or other <= 0.0 or one > 2.0 * ONE_PLACE_M or other > 2.0 * ONE_PLACE_M:
            continue
        looks_one, looks_other = -(lx * fx + ly * fy + lz * fz), -(lx * gx + ly * gy + lz * gz)
        if one <= other and looks_one < FACES_AWAY and looks_other > looks_one:
            return 2 * number + 1
        if other < one and looks_other < FACES_AWAY and looks_one > looks_other:
            return 2 * number
    return -1

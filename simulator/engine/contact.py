"""The ground's push on the trailer: one three-dimensional law at a written list of points, and where ridges of the
ground are in a part (`edges`).

Normal N = k d - c v_n, never negative, the damper grown in over a small depth; friction a spring of the same stiffness
(and damper) that slips at friction times N.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.engine.edges import ONE_PLACE_M, Outline, faced, is_near, meet, share_left
from simulator.engine.moving import Body, Moving, Spring, nothing
from simulator.mechanics.ground import OUTSIDE_M, Ground, Spot, highest_m, under_ground
from simulator.mechanics.matrix import Vector

SKIN_M: Final = 1e-6
"""Rounding allowed before a point counts as above all ground."""
ABOVE_ALL: Final = 1e18
FROM_BELOW: Final = 0.5
"""Upward part of a push that comes from below."""


class ContactNumbers:
    """What the ground is like to lie on."""

    __slots__ = ("damper", "damper_depth_m", "friction", "stiffness")

    def __init__(self, stiffness: float, friction: float, damper: float, damper_depth_m: float) -> None:
        """N/m, share of the normal force, N s/m, depth at which the damper is whole."""
        self.stiffness: float = stiffness
        self.friction: float = friction
        self.damper: float = damper
        self.damper_depth_m: float = damper_depth_m


class Bed:
    """Ground, points and contact numbers, ready for stepping. Nothing changes it."""

    __slots__ = ("farthest_m", "half", "middle", "outline", "points", "road", "slope", "surface")

    def __init__(
        self,
        surface: Ground,
        points: tuple[Vector, ...],
        slope: ContactNumbers,
        road: ContactNumbers,
        outline: Outline,
    ) -> None:
        """The surface, contact points from the CG in lying axes, numbers of slope and bed, and of the road; what
        ridges meet."""
        self.surface: Ground = surface
        self.outline: Outline = outline
        self.points: list[Vector] = list(points)
        self.slope: ContactNumbers = slope
        self.road: ContactNumbers = road
        xs, ys, zs = [p[0] for p in points], [p[1] for p in points], [p[2] for p in points]
        lows, highs = (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))
        self.middle: Vector = (lows[0] + highs[0]) / 2.0, (lows[1] + highs[1]) / 2.0, (lows[2] + highs[2]) / 2.0
        self.half: Vector = (highs[0] - lows[0]) / 2.0, (highs[1] - lows[1]) / 2.0, (highs[2] - lows[2]) / 2.0
        """Middle and half size of the box round all points."""
        self.farthest_m: float = max([sqrt(x * x + y * y + z * z) for x, y, z in points]) + SKIN_M
        """From the CG to any point, at most."""


def push(bed: Bed, moving: Moving, dt: float) -> None:
    """Sum over the points that are in the ground, and the ridges that are in the load."""
    body = moving.body
    top = ABOVE_ALL if body.z - bed.farthest_m > bed.surface.top_m else _top_m(bed, body)
    if top == ABOVE_ALL:
        _let_go(moving)
        return
    by_ridge = _meets(bed, moving)
    a, b, c, d, e, f, g, h, i = body.matrix
    x, y, z, ox, oy, oz = body.x, body.y, body.z, body.ox, body.oy, body.oz
    sum_x = sum_y = sum_z = turn_x = turn_y = turn_z = on_road_N = 0.0
    moving.is_touching = moving.is_on_edge
    for index in range(len(bed.points)):
        px, py, pz = bed.points[index]
        spring = moving.springs[index]
        rz = g * px + h * py + i * pz
        if z + rz > top:
            spring.touches = False
            continue
        rx, ry = a * px + b * py + c * pz, d * px + e * py + f * pz
        spot = under_ground(bed.surface, x + rx, y + ry, z + rz)
        if spot[0] == OUTSIDE_M:
            spring.touches = False
            continue
        velocity = (body.vx + oy * rz - oz * ry, body.vy + oz * rx - ox * rz, body.vz + ox * ry - oy * rx)
        share = 1.0
        if by_ridge:
            spot, share = _beside_ridge(bed, moving, index, (rx, ry, rz), spot)
        on_road = spot[4] >= bed.surface.edge_y_m
        fx, fy, fz = _at_point(bed.road if on_road else bed.slope, spot, velocity, spring, dt)
        fx, fy, fz = share * fx, share * fy, share * fz
        moving.is_touching = True
        sum_x, sum_y, sum_z = sum_x + fx, sum_y + fy, sum_z + fz
        turn_x = turn_x + ry * fz - rz * fy
        turn_y = turn_y + rz * fx - rx * fz
        turn_z = turn_z + rx * fy - ry * fx
        on_road_N += fz if on_road else 0.0
    moving.ground, moving.road_N = (sum_x, sum_y, sum_z, turn_x, turn_y, turn_z), on_road_N
    if moving.is_on_edge:
        _push_at_edges(bed, moving, dt)


def _meets(bed: Bed, moving: Moving) -> bool:
    """Finds places of ridges in the load; whether any ridge is near it."""
    if moving.is_on_edge:
        for edge in moving.edges:
            edge.is_on = False
    low, high = _box(bed, moving.body, 2.0 * ONE_PLACE_M)
    for ridge in bed.outline.ridges:
        if is_near(ridge, low, high):
            break
    else:
        if moving.is_on_edge:
            _off_edges(moving)
        return False
    was, moving.is_on_edge = moving.is_on_edge, meet(bed.outline, moving.body, moving.edges, low, high)
    if was or moving.is_on_edge:
        for edge in moving.edges:
            if not edge.is_on:
                edge.spring.touches = False
    return True


def rises_m(bed: Bed, moving: Moving) -> float:
    """How far up the load is to be moved until no ridge presses it from below; from one of them at a time."""
    if not _meets(bed, moving):
        return 0.0
    most = 0.0
    for edge in moving.edges:
        up = edge.normal[2]
        if edge.is_on and up > FROM_BELOW and edge.depth_m / up > most:
            most = edge.depth_m / up
    _off_edges(moving)
    return most


def _off_edges(moving: Moving) -> None:
    for edge in moving.edges:
        edge.is_on = edge.spring.touches = False
    moving.is_on_edge = False


def _beside_ridge(bed: Bed, moving: Moving, index: int, arm: Vector, spot: Spot) -> tuple[Spot, float]:
    """Where a corner beside a ridge pushes: against the face that it looks into; and which share of it is its own."""
    body, found = moving.body, faced(bed.outline, moving.body, index, arm)
    if found >= 0:
        ridge = bed.outline.ridges[found // 2]
        x, y, z = arm
        sx, sy, sz = ridge.start
        nx, ny, nz = ridge.first if found % 2 == 0 else ridge.second
        depth = (sx - body.x - x) * nx + (sy - body.y - y) * ny + (sz - body.z - z) * nz
        spot = depth, nx, ny, nz, ridge.y_m if found % 2 == 0 else ridge.y_m - SKIN_M
    return spot, share_left(moving.edges, arm, spot[0]) if moving.is_on_edge else 1.0


def _push_at_edges(bed: Bed, moving: Moving, dt: float) -> None:
    """Adds what ridges push."""
    body = moving.body
    sum_x, sum_y, sum_z, turn_x, turn_y, turn_z = moving.ground
    on_road_N, ox, oy, oz = moving.road_N, body.ox, body.oy, body.oz
    for edge in moving.edges:
        if not edge.is_on:
            continue
        if edge.is_beaten:
            edge.spring.touches = False
            continue
        rx, ry, rz = edge.arm_m
        nx, ny, nz = edge.normal
        velocity = (body.vx + oy * rz - oz * ry, body.vy + oz * rx - ox * rz, body.vz + ox * ry - oy * rx)
        y_m = bed.outline.ridges[edge.ridge].y_m
        on_road = y_m >= bed.surface.edge_y_m
        spot = (edge.depth_m, nx, ny, nz, y_m)
        fx, fy, fz = _at_point(bed.road if on_road else bed.slope, spot, velocity, edge.spring, dt)
        fx, fy, fz = edge.times * fx, edge.times * fy, edge.times * fz
        sum_x, sum_y, sum_z = sum_x + fx, sum_y + fy, sum_z + fz
        turn_x = turn_x + ry * fz - rz * fy
        turn_y = turn_y + rz * fx - rx * fz
        turn_z = turn_z + rx * fy - ry * fx
        if on_road:
            on_road_N += fz
    moving.ground = (sum_x, sum_y, sum_z, turn_x, turn_y, turn_z)
    moving.road_N = on_road_N


def _let_go(moving: Moving) -> None:
    """No point is anywhere near the ground."""
    if moving.is_touching:
        for spring in moving.springs:
            spring.touches = False
        moving.is_touching = False
    if moving.is_on_edge:
        _off_edges(moving)
    moving.ground = nothing()
    moving.road_N = 0.0


def _at_point(contact: ContactNumbers, spot: Spot, velocity: Vector, spring: Spring, dt: float) -> Vector:
    """Force on the trailer at one point; its friction spring goes on with the point."""
    depth, nx, ny, nz, _ = spot
    vx, vy, vz = velocity
    if not spring.touches:
        spring.touches, spring.x, spring.y, spring.z = True, 0.0, 0.0, 0.0
    k = contact.stiffness
    vn = vx * nx + vy * ny + vz * nz
    grown = contact.damper
    if depth < contact.damper_depth_m:
        grown = grown * (depth / contact.damper_depth_m)
    normal = k * depth - grown * vn
    if normal <= 0.0:
        spring.x, spring.y, spring.z = 0.0, 0.0, 0.0
        return 0.0, 0.0, 0.0
    tx, ty, tz = vx - vn * nx, vy - vn * ny, vz - vn * nz
    sx, sy, sz = spring.x + tx * dt, spring.y + ty * dt, spring.z + tz * dt
    out = sx * nx + sy * ny + sz * nz
    sx, sy, sz = sx - out * nx, sy - out * ny, sz - out * nz
    most = contact.friction * normal
    pull = k * sqrt(sx * sx + sy * sy + sz * sz)
    if pull > most:
        share = most / pull
        sx, sy, sz = sx * share, sy * share, sz * share
    fx, fy, fz = -k * sx - grown * tx, -k * sy - grown * ty, -k * sz - grown * tz
    size = sqrt(fx * fx + fy * fy + fz * fz)
    if size > most:
        share = most / size
        fx, fy, fz = fx * share, fy * share, fz * share
    spring.x, spring.y, spring.z = sx, sy, sz
    return fx + normal * nx, fy + normal * ny, fz + normal * nz


def _box(bed: Bed, body: Body, more_m: float) -> tuple[Vector, Vector]:
    """Least and greatest x, y, z of a level box round all points, with so much room."""
    a, b, c, d, e, f, g, h, i = body.matrix
    cx, cy, cz = bed.middle
    sx, sy, sz = bed.half
    x, along = body.x + a * cx + b * cy + c * cz, abs(a) * sx + abs(b) * sy + abs(c) * sz + more_m
    y, across = body.y + d * cx + e * cy + f * cz, abs(d) * sx + abs(e) * sy + abs(f) * sz + more_m
    z, up = body.z + g * cx + h * cy + i * cz, abs(g) * sx + abs(h) * sy + abs(i) * sz + more_m
    return (x - along, y - across, z - up), (x + along, y + across, z + up)


def _top_m(bed: Bed, body: Body) -> float:
    """No ground under the box round all points is higher; `ABOVE_ALL` when the box is above all of it."""
    a, b, c, d, e, f, g, h, i = body.matrix
    cx, cy, cz = bed.middle
    sx, sy, sz = bed.half
    bottom = body.z + g * cx + h * cy + i * cz - abs(g) * sx - abs(h) * sy - abs(i) * sz
    x, along = body.x + a * cx + b * cy + c * cz, abs(a) * sx + abs(b) * sy + abs(c) * sz
    y, across = body.y + d * cx + e * cy + f * cz, abs(d) * sx + abs(e) * sy + abs(f) * sz
    top = highest_m(bed.surface, x - along, x + along, y - across, y + across)
    return ABOVE_ALL if bottom > top else top + SKIN_M

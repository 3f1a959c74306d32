"""The ground's push on the trailer: one three-dimensional law at a written list of points.

Normal N = k d - c v_n, never negative, the damper grown in over a small depth; friction a spring of the same stiffness
(and damper) that slips at friction times N.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from simulator.engine.moving import Body, Moving, Spring, nothing
from simulator.mechanics.ground import OUTSIDE_M, Ground, Spot, highest_m, under_ground
from simulator.mechanics.matrix import Vector

SKIN_M: Final = 1e-6
"""Rounding allowed before a point counts as above all ground."""
ABOVE_ALL: Final = 1e18


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

    __slots__ = ("farthest_m", "half", "middle", "points", "road", "slope", "surface")

    def __init__(
        self, surface: Ground, points: tuple[Vector, ...], slope: ContactNumbers, road: ContactNumbers
    ) -> None:
        """The surface, contact points from the CG in lying axes, numbers of slope and bed, and of the road."""
        self.surface: Ground = surface
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
    """Sum over the points that are in the ground."""
    body = moving.body
    top = ABOVE_ALL if body.z - bed.farthest_m > bed.surface.top_m else _top_m(bed, body)
    if top == ABOVE_ALL:
        _let_go(moving)
        return
    a, b, c, d, e, f, g, h, i = body.matrix
    x, y, z, ox, oy, oz = body.x, body.y, body.z, body.ox, body.oy, body.oz
    sum_x = sum_y = sum_z = turn_x = turn_y = turn_z = on_road_N = 0.0
    moving.is_touching = False
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
        on_road = spot[4] >= bed.surface.edge_y_m
        fx, fy, fz = _at_point(bed.road if on_road else bed.slope, spot, velocity, spring, dt)
        moving.is_touching = True
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

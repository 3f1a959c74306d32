"""The ground's push on the trailer: one three-dimensional law at a written list of points."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from simulator.engine.made import made
from simulator.engine.motion import Motion
from simulator.mechanics.ground import Ground, Nearest, highest_m, nearest_over
from simulator.mechanics.trailer import Matrix, Vector
from simulator.scenario.site import Contact

Stretches = tuple[tuple[int, float, float, float], ...]
"""(point, stretch x, y, z) of the friction spring at each point that touches."""


class GroundPush(NamedTuple):
    """Force and moment about the CG; the upward part that the road gives; the friction springs afterwards."""

    fx: float
    fy: float
    fz: float
    mx: float
    my: float
    mz: float
    road_N: float
    stretches: Stretches


CLEAR = GroundPush(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, ())
NO_STRETCH = (0.0, 0.0, 0.0)
SKIN_M = 1e-6
"""Rounding allowed before a point counts as above all ground."""


class Bed(NamedTuple):
    """Ground, points and contact numbers, ready for stepping."""

    surface: Ground
    points: tuple[Vector, ...]
    middle: Vector
    half: Vector
    """Middle and half size of the box round all points."""
    farthest_m: float
    """From the CG to any point, at most."""
    slope: Contact
    road: Contact
    slope_damper: float
    road_damper: float


def bed(surface: Ground, points: tuple[Vector, ...], slope: Contact, road: Contact, mass_kg: float) -> Bed:
    """Dampers: a share of critical for the trailer's mass on all its points."""
    bounds = [(min(p[axis] for p in points), max(p[axis] for p in points)) for axis in range(3)]
    middle = tuple((low + high) / 2.0 for low, high in bounds)
    half = tuple((high - low) / 2.0 for low, high in bounds)

    def damper(contact: Contact) -> float:
        return 2.0 * contact.damping_ratio * sqrt(contact.stiffness_N_per_m * mass_kg / len(points))

    farthest = max(sqrt(x * x + y * y + z * z) for x, y, z in points) + SKIN_M
    return Bed(surface, points, middle, half, farthest, slope, road, damper(slope), damper(road))  # type: ignore[arg-type]


def push(ground: Bed, motion: Motion, matrix: Matrix, before: Stretches, dt: float) -> GroundPush:
    """Sum over the points that are in the ground.

    Normal N = k d - c v_n, never negative, the damper grown in over a small depth; friction a spring of the same
    stiffness (and damper) that slips at friction times N.
    """
    if motion.z - ground.farthest_m > ground.surface.top_m:
        return CLEAR
    top = _top_m(ground, motion, matrix)
    if top is None:
        return CLEAR
    a, b, c, d, e, f, g, h, i = matrix
    x, y, z, _, _, _, vx, vy, vz, _, _, _, ox, oy, oz, _, _, _ = motion
    surface, edge_y = ground.surface, ground.surface.edge_y_m
    old = {point: (sx, sy, sz) for point, sx, sy, sz in before}
    sum_x = sum_y = sum_z = turn_x = turn_y = turn_z = road = 0.0
    springs = []
    for index, (px, py, pz) in enumerate(ground.points):
        rz = g * px + h * py + i * pz
        if z + rz > top:
            continue
        rx, ry = a * px + b * py + c * pz, d * px + e * py + f * pz
        spot = nearest_over(surface, x + rx, y + ry, z + rz)
        if spot is None:
            continue
        velocity = vx + oy * rz - oz * ry, vy + oz * rx - ox * rz, vz + ox * ry - oy * rx
        on_road = spot.y_m >= edge_y
        contact, damper = (ground.road, ground.road_damper) if on_road else (ground.slope, ground.slope_damper)
        (fx, fy, fz), stretch = _at_point(contact, damper, spot, velocity, old.get(index, NO_STRETCH), dt)
        sum_x, sum_y, sum_z = sum_x + fx, sum_y + fy, sum_z + fz
        turn_x = turn_x + ry * fz - rz * fy
        turn_y = turn_y + rz * fx - rx * fz
        turn_z = turn_z + rx * fy - ry * fx
        if on_road:
            road += fz
        springs.append((index, *stretch))
    return made(GroundPush, (sum_x, sum_y, sum_z, turn_x, turn_y, turn_z, road, tuple(springs)))


def _at_point(
    contact: Contact, damper: float, spot: Nearest, v: Vector, stretch: Vector, dt: float
) -> tuple[Vector, Vector]:
    """Force on the trailer at one point, and its friction spring's stretch afterwards."""
    depth, nx, ny, nz, _ = spot
    vx, vy, vz = v
    k = contact.stiffness_N_per_m
    vn = vx * nx + vy * ny + vz * nz
    grown = damper if depth >= contact.damper_depth_m else damper * (depth / contact.damper_depth_m)
    normal = k * depth - grown * vn
    if normal <= 0.0:
        return NO_STRETCH, NO_STRETCH
    tx, ty, tz = vx - vn * nx, vy - vn * ny, vz - vn * nz
    sx, sy, sz = stretch[0] + tx * dt, stretch[1] + ty * dt, stretch[2] + tz * dt
    out = sx * nx + sy * ny + sz * nz
    sx, sy, sz = sx - out * nx, sy - out * ny, sz - out * nz
    most = contact.friction * normal
    spring = k * sqrt(sx * sx + sy * sy + sz * sz)
    if spring > most:
        share = most / spring
        sx, sy, sz = sx * share, sy * share, sz * share
    fx, fy, fz = -k * sx - grown * tx, -k * sy - grown * ty, -k * sz - grown * tz
    size = sqrt(fx * fx + fy * fy + fz * fz)
    if size > most:
        share = most / size
        fx, fy, fz = fx * share, fy * share, fz * share
    return (fx + normal * nx, fy + normal * ny, fz + normal * nz), (sx, sy, sz)


def _top_m(ground: Bed, motion: Motion, matrix: Matrix) -> float | None:
    """No ground under the box round all points is higher; None when the box is above all of it."""
    a, b, c, d, e, f, g, h, i = matrix
    (cx, cy, cz), (sx, sy, sz) = ground.middle, ground.half
    bottom = motion.z + g * cx + h * cy + i * cz - abs(g) * sx - abs(h) * sy - abs(i) * sz
    x, along = motion.x + a * cx + b * cy + c * cz, abs(a) * sx + abs(b) * sy + abs(c) * sz
    y, across = motion.y + d * cx + e * cy + f * cz, abs(d) * sx + abs(e) * sy + abs(f) * sz
    top = highest_m(ground.surface, x - along, x + along, y - across, y + across)
    return None if bottom > top else top + SKIN_M

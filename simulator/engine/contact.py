"""The ground's push on the trailer: one three-dimensional law at a written list of points."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from simulator.engine.motion import Motion
from simulator.mechanics.ground import Ground, height_m, highest_m, nearest
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


class Bed(NamedTuple):
    """Ground, points and contact numbers, ready for stepping."""

    surface: Ground
    points: tuple[Vector, ...]
    middle: Vector
    half: Vector
    """Middle and half size of the box round all points."""
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

    return Bed(surface, points, middle, half, slope, road, damper(slope), damper(road))  # type: ignore[arg-type]


def push(ground: Bed, motion: Motion, matrix: Matrix, before: Stretches, dt: float) -> GroundPush:
    """Sum over the points that are in the ground.

    Normal N = k d - c v_n, never negative, the damper grown in over a small depth; friction a spring of the same
    stiffness (and damper) that slips at friction times N.
    """
    if _out_of_reach(ground, motion, matrix):
        return CLEAR
    a, b, c, d, e, f, g, h, i = matrix
    old = {point: (sx, sy, sz) for point, sx, sy, sz in before}
    totals = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    springs = []
    for index, (px, py, pz) in enumerate(ground.points):
        rz = g * px + h * py + i * pz
        rx, ry = a * px + b * py + c * pz, d * px + e * py + f * pz
        if motion.z + rz > height_m(ground.surface, motion.x + rx, motion.y + ry):
            continue
        spot = nearest(ground.surface, motion.x + rx, motion.y + ry, motion.z + rz)
        velocity = (
            motion.vx + motion.oy * rz - motion.oz * ry,
            motion.vy + motion.oz * rx - motion.ox * rz,
            motion.vz + motion.ox * ry - motion.oy * rx,
        )
        on_road = spot.y_m >= ground.surface.edge_y_m
        contact, damper = (ground.road, ground.road_damper) if on_road else (ground.slope, ground.slope_damper)
        normal = (spot.nx, spot.ny, spot.nz)
        force, stretch = _at_point(contact, damper, spot.depth_m, normal, velocity, old.get(index, (0.0, 0.0, 0.0)), dt)
        fx, fy, fz = force
        t = totals
        totals = (t[0] + fx, t[1] + fy, t[2] + fz, t[3] + ry * fz - rz * fy, t[4] + rz * fx - rx * fz,
                  t[5] + rx * fy - ry * fx, t[6] + fz if on_road else t[6])  # fmt: skip
        springs.append((index, *stretch))
    return GroundPush(*totals, tuple(springs))


def _at_point(
    contact: Contact, damper: float, depth: float, n: Vector, v: Vector, stretch: Vector, dt: float
) -> tuple[Vector, Vector]:
    """Force on the trailer at one point, and its friction spring's stretch afterwards."""
    nx, ny, nz = n
    vn = v[0] * nx + v[1] * ny + v[2] * nz
    grown = damper * min(1.0, depth / contact.damper_depth_m)
    normal = contact.stiffness_N_per_m * depth - grown * vn
    if normal <= 0.0:
        return (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
    tx, ty, tz = v[0] - vn * nx, v[1] - vn * ny, v[2] - vn * nz
    sx, sy, sz = stretch[0] + tx * dt, stretch[1] + ty * dt, stretch[2] + tz * dt
    out = sx * nx + sy * ny + sz * nz
    sx, sy, sz = sx - out * nx, sy - out * ny, sz - out * nz
    k, most = contact.stiffness_N_per_m, contact.friction * normal
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


def _out_of_reach(ground: Bed, motion: Motion, matrix: Matrix) -> bool:
    """True when the box round all points is above all ground beneath it."""
    a, b, c, d, e, f, g, h, i = matrix
    (cx, cy, cz), (sx, sy, sz) = ground.middle, ground.half
    bottom = motion.z + g * cx + h * cy + i * cz - abs(g) * sx - abs(h) * sy - abs(i) * sz
    if bottom > ground.surface.top_m:
        return True
    x, along = motion.x + a * cx + b * cy + c * cz, abs(a) * sx + abs(b) * sy + abs(c) * sz
    y, across = motion.y + d * cx + e * cy + f * cz, abs(d) * sx + abs(e) * sy + abs(f) * sz
    return bottom > highest_m(ground.surface, x - along, x + along, y - across, y + across)

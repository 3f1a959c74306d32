"""The trailer as a rigid body: lying axes, mass, center of gravity, moments of inertia, contact points.

Lying axes are the trailer's own axes turned so that they point along x, y and z as it lies with no pitch, yaw or roll.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, hypot

from simulator.mechanics.matrix import Matrix as Matrix
from simulator.mechanics.matrix import Vector as Vector
from simulator.mechanics.matrix import rotation as rotation
from simulator.mechanics.matrix import times, transposed
from simulator.mechanics.matrix import turned as turned
from simulator.mechanics.matrix import turned_back as turned_back
from simulator.scenario.kept_by_identity import kept_by_identity
from simulator.scenario.trailer import Part, Trailer


@dataclass(frozen=True, slots=True)
class Body:
    """The trailer's numbers, in lying axes about its reference point (the stated CG)."""

    mass_kg: float
    cg_m: Vector
    """True CG from the reference point."""
    inertia_kg_m2: Matrix
    """About the CG, row by row."""
    picks_m: tuple[Vector, ...]
    """In the order of the trailer's picks."""
    points_m: tuple[Vector, ...]
    """Contact points."""
    low_m: Vector
    """Least x, y, z of the outline."""
    high_m: Vector


def lying(attitude: str, point: Vector) -> Vector:
    """A point of the trailer's own axes in lying axes."""
    x, y, z = point
    if attitude == "top_to_ravine":
        return x, -z, y
    if attitude == "top_to_road":
        return x, z, -y
    return x, y, z


def part_corners(part: Part) -> tuple[Vector, ...]:
    """A part's corners in the trailer's own axes."""
    half = part.width_m / 2.0
    return tuple((x, part.y_m + side * half, z) for side in (-1.0, 1.0) for x, z in part.outline_m)


def part_sides(part: Part) -> tuple[tuple[Vector, float], ...]:
    """Each face of a part in the trailer's own axes: the way out of it, and how far out it lies."""
    half, corners = part.width_m / 2.0, part.outline_m
    found: list[tuple[Vector, float]] = [((0.0, 1.0, 0.0), part.y_m + half), ((0.0, -1.0, 0.0), half - part.y_m)]
    ring = [(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True) if a != b]
    way = 1.0 if sum(x0 * z1 - x1 * z0 for (x0, z0), (x1, z1) in ring) > 0.0 else -1.0
    for (x0, z0), (x1, z1) in ring:
        long = way * hypot(x1 - x0, z1 - z0)
        out = (z1 - z0) / long, 0.0, (x0 - x1) / long
        found.append((out, out[0] * x0 + out[2] * z0))
    return tuple(found)


def _box(part: Part) -> tuple[Vector, Vector]:
    """Center and size of the part's bounding box."""
    xs, zs = [p[0] for p in part.outline_m], [p[1] for p in part.outline_m]
    center = ((max(xs) + min(xs)) / 2.0, part.y_m, (max(zs) + min(zs)) / 2.0)
    return center, (max(xs) - min(xs), part.width_m, max(zs) - min(zs))


def _pieces(trailer: Trailer) -> list[tuple[float, Vector, Vector]]:
    """Mass, center and box size of each part and the cargo."""
    parts = [(part.mass_kg, *_box(part)) for part in trailer.parts]
    cargo = trailer.cargo
    return [*parts, (cargo.mass_kg, cargo.cg_m, (cargo.size_m[0], cargo.size_m[1], cargo.high_m))]


def stated_mass_kg(trailer: Trailer) -> float:
    """Mass as the papers have it."""
    return sum(mass for mass, _, _ in _pieces(trailer))


@kept_by_identity
def stated_cg_m(trailer: Trailer) -> Vector:
    """CG as the papers have it, in the trailer's own axes; the reference point of pose readings."""
    pieces = _pieces(trailer)
    total = sum(mass for mass, _, _ in pieces)
    x, y, z = (sum(mass * center[axis] for mass, center, _ in pieces) / total for axis in range(3))
    return x, y, z


def _inertia(trailer: Trailer) -> Matrix:
    """Inertia tensor about the stated CG in the trailer's own axes, every piece a solid box."""
    cg_x, cg_y, cg_z = stated_cg_m(trailer)
    xx = yy = zz = xy = xz = yz = 0.0
    for mass, (px, py, pz), (long, wide, high) in _pieces(trailer):
        x, y, z = px - cg_x, py - cg_y, pz - cg_z
        xx += mass / 12.0 * (wide * wide + high * high) + mass * (y * y + z * z)
        yy += mass / 12.0 * (long * long + high * high) + mass * (x * x + z * z)
        zz += mass / 12.0 * (long * long + wide * wide) + mass * (x * x + y * y)
        xy, xz, yz = xy - mass * (x * y), xz - mass * (x * z), yz - mass * (y * z)
    return xx, xy, xz, xy, yy, yz, xz, yz, zz


def _lying_turn(attitude: str) -> Matrix:
    """The turn from the trailer's own axes to lying axes."""
    x, y, z = (lying(attitude, axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    return transposed((*x, *y, *z))


def body(trailer: Trailer) -> Body:
    """The rigid body: parts and cargo, with the hidden offset and mass factor applied."""
    turn = _lying_turn(trailer.attitude)
    reference = stated_cg_m(trailer)

    def placed(point: Vector) -> Vector:
        x, y, z = lying(trailer.attitude, (point[0] - reference[0], point[1] - reference[1], point[2] - reference[2]))
        return x, y, z

    factor = trailer.hidden_mass_factor
    inertia = times(times(turn, _inertia(trailer)), transposed(turn))
    corners = [placed(corner) for part in trailer.parts for corner in part_corners(part)]
    touching = [placed(corner) for part in trailer.parts if part.touches_ground for corner in part_corners(part)]
    return Body(
        mass_kg=stated_mass_kg(trailer) * factor,
        cg_m=lying(trailer.attitude, trailer.hidden_cg_m),
        inertia_kg_m2=tuple(factor * value for value in inertia),  # type: ignore[arg-type]
        picks_m=tuple(placed(pick.at_m) for pick in trailer.picks),
        points_m=tuple(dict.fromkeys(touching)),
        low_m=(min(c[0] for c in corners), min(c[1] for c in corners), min(c[2] for c in corners)),
        high_m=(max(c[0] for c in corners), max(c[1] for c in corners), max(c[2] for c in corners)),
    )


def hung_roll_rad(across_m: float, hook_line_over_cg_m: float) -> float:
    """Roll of a body hung from picks beside its CG: atan(offset across / height of the hook line over the CG)."""
    return atan2(across_m, hook_line_over_cg_m)

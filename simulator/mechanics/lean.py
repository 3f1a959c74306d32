"""How far a pull moves the boom tip: frame on its floats, and boom bending square to itself.

Matrices are 3x3, row by row, meters of tip along (u, v, z) per newton along (u, v, z); all floats down.
"""

from __future__ import annotations

from math import cos, sin

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.four_floats import Frame
from simulator.mechanics.matrix import Matrix, Vector


class Bend:
    """A boom tip's give square to it for each newton, at lengths evenly apart. `boom_section.bend_of` makes it."""

    __slots__ = ("gives", "shortest_m", "step_m")

    def __init__(self, shortest_m: float, step_m: float, gives: list[float]) -> None:
        """See the names; at least two."""
        self.shortest_m: float = shortest_m
        self.step_m: float = step_m
        self.gives: list[float] = gives
        """m/N"""


def tip_give_m_per_N(bend: Bend, length_m: float) -> float:
    """At a boom length, straight from one of its lengths to the next; a boom past its travel goes on so."""
    at, last = (length_m - bend.shortest_m) / bend.step_m, len(bend.gives) - 2
    if at <= 0.0:
        return bend.gives[0]
    i = int(at)
    i = i if i < last else last
    low = bend.gives[i]
    return low + (bend.gives[i + 1] - low) * (at - i)


def frame_compliance(frame: Frame, tip_m: Vector) -> Matrix:
    """Tip displacement per tip force from the floats' springs.

    A force loads the frame by (-Fz, Fu z - Fz u, Fv z - Fz v); the frame's sink and leans move the tip by the same
    numbers turned over, so the matrix is J' f J with f the frame's own flexibility.
    """
    u, v, z = tip_m
    f00, f01, f02, _, f11, f12, _, _, f22 = frame.flexibility
    sink = -(f00 + f01 * u + f02 * v)
    lean_u = -(f01 + f11 * u + f12 * v)
    lean_v = -(f02 + f12 * u + f22 * v)
    zz = -(sink + lean_u * u + lean_v * v)
    uu, uv, vv = z * z * f11, z * z * f12, z * z * f22
    uz, vz = z * lean_u, z * lean_v
    return uu, uv, uz, uv, vv, vz, uz, vz, zz


def boom_compliance(bend: Bend, pose: BoomPose) -> Matrix:
    """Boom bending square to itself, alike up and aside: its sections are square."""
    level = cos(pose.elevation_rad)
    way = level * cos(pose.slew_rad), level * sin(pose.slew_rad), sin(pose.elevation_rad)
    return bending(tip_give_m_per_N(bend, pose.length_m), way)


def bending(give_m_per_N: float, way: Vector) -> Matrix:
    """Displacement square to a unit vector from foot pin to tip, so much for each newton."""
    bu, bv, bz = way
    give = give_m_per_N
    uv, uz, vz = -bu * bv * give, -bu * bz * give, -bv * bz * give
    return (1.0 - bu * bu) * give, uv, uz, uv, (1.0 - bv * bv) * give, vz, uz, vz, (1.0 - bz * bz) * give


def tip_compliance(frame: Frame, bend: Bend, pose: BoomPose, tip_m: Vector) -> Matrix:
    """Frame and boom together, in the unit's own axes."""
    return both(frame_compliance(frame, tip_m), boom_compliance(bend, pose))


def both(first: Matrix, second: Matrix) -> Matrix:
    """The sum of two."""
    a, b, c, d, e, f, g, h, i = first
    j, k, m, n, o, p, q, r, s = second
    return a + j, b + k, c + m, d + n, e + o, f + p, g + q, h + r, i + s


def world_axes(facing: float, compliance: Matrix) -> Matrix:
    """The same matrix along x, y, z. `facing` as `boom.facing`."""
    a, b, c, d, e, f, g, h, i = compliance
    return a, facing * b, facing * c, facing * d, e, f, facing * g, h, i


def displacement_m(compliance: Matrix, force_N: Vector) -> Vector:
    """Where a force moves the tip."""
    a, b, c, d, e, f, g, h, i = compliance
    x, y, z = force_N
    return a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z


def along_m_per_N(compliance: Matrix, direction: Vector) -> float:
    """Give of the tip along a unit direction: what stands in series with the line."""
    x, y, z = displacement_m(compliance, direction)
    return x * direction[0] + y * direction[1] + z * direction[2]

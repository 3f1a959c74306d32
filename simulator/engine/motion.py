"""The trailer's free motion in three dimensions, between the pose at which forces are taken and the next.

Its angular momentum is carried whole in world axes: advanced by the moment about the CG (exact whatever the yaw and
roll), turned into rates of pitch, yaw and roll at the new pose. x, z and pitch are the side view: pymunk's body
integrates them (`load`), or `fly` does, with the same operations in the same order and so to the same bits.
"""

from __future__ import annotations

from math import cos, sin

from simulator.engine.moving import Body
from simulator.mechanics.matrix import rotation, turned, turned_back


def ahead(body: Body, dt: float) -> None:
    """The pose after the coming move, with the velocities of now: where the forces of this step are taken."""
    body.x, body.y, body.z = body.x + body.vx * dt, body.y + body.vy * dt, body.z + body.vz * dt
    body.pitch, body.yaw = body.pitch + body.pitch_rate * dt, body.yaw + body.yaw_rate * dt
    body.roll = body.roll + body.roll_rate * dt
    body.matrix = rotation(body.pitch, body.yaw, body.roll)


def turn(body: Body, mx: float, my: float, mz: float, dt: float) -> None:
    """The moment about the CG acts for one step; what the pitch rate is to become goes into the torque."""
    numbers, matrix = body.numbers, body.matrix
    lx, ly, lz = body.lx + mx * dt, body.ly + my * dt, body.lz + mz * dt
    ox, oy, oz = turned(matrix, turned(numbers.inverse, turned_back(matrix, (lx, ly, lz))))
    sw, cw = sin(body.yaw), cos(body.yaw)
    pitch_rate = cw * oy - sw * ox
    body.roll_rate = (cw * ox + sw * oy) / cos(body.pitch)
    body.yaw_rate = oz + body.roll_rate * sin(body.pitch)
    body.torque = numbers.pitch_inertia_kg_m2 * (body.pitch_rate - pitch_rate) / dt
    body.lx, body.ly, body.lz, body.ox, body.oy, body.oz = lx, ly, lz, ox, oy, oz


def aside(body: Body, dt: float) -> None:
    """Speed across the road, which is square to the side view."""
    body.vy = body.vy + body.fy / body.numbers.mass_kg * dt


def fly(body: Body, dt: float) -> None:
    """What pymunk's body does with force and torque: velocities of the side view; the pose has been moved `ahead`.

    Its gravity of 0.0 is added too, and 0.0 to a turning: a zero then has the same sign.
    """
    per_kg = 1.0 / body.numbers.mass_kg
    body.vx, body.vz = body.vx + (0.0 + body.fx * per_kg) * dt, body.vz + (0.0 + body.fz * per_kg) * dt
    body.pitch_rate = body.pitch_rate - body.torque * (1.0 / body.numbers.pitch_inertia_kg_m2) * dt + 0.0

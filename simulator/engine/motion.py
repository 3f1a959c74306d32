"""The trailer's six coordinates and their speeds, as a value."""

from __future__ import annotations

from typing import NamedTuple

from simulator.engine.made import made


class Motion(NamedTuple):
    """Pose of the true CG, its velocity, rates of the three angles, turning velocity and angular momentum (world)."""

    x: float
    y: float
    z: float
    pitch: float
    yaw: float
    roll: float
    vx: float = 0.0
    vy: float = 0.0
    vz: float = 0.0
    pitch_rate: float = 0.0
    yaw_rate: float = 0.0
    roll_rate: float = 0.0
    ox: float = 0.0
    oy: float = 0.0
    oz: float = 0.0
    lx: float = 0.0
    ly: float = 0.0
    lz: float = 0.0


def ahead(motion: Motion, dt: float) -> Motion:
    """The pose after the coming move, with the velocities of now: where the forces of this step are taken."""
    x, y, z, pitch, yaw, roll, vx, vy, vz, pitch_rate, yaw_rate, roll_rate, ox, oy, oz, lx, ly, lz = motion
    x, y, z = x + vx * dt, y + vy * dt, z + vz * dt
    pitch, yaw, roll = pitch + pitch_rate * dt, yaw + yaw_rate * dt, roll + roll_rate * dt
    rates = pitch_rate, yaw_rate, roll_rate
    return made(Motion, (x, y, z, pitch, yaw, roll, vx, vy, vz, *rates, ox, oy, oz, lx, ly, lz))

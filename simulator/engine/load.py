"""The trailer as pymunk's body in the side view, with y, yaw and roll beside it.

pymunk integrates x, z and pitch. Its torque is chosen so that its pitch rate follows the body's angular momentum in
three dimensions: momentum is advanced by the moment about the CG (exact whatever the yaw and roll), turned into rates
of pitch, yaw and roll at the new pose, and the change of pitch rate is what pymunk is given.
"""

from __future__ import annotations

from math import cos, sin

import numpy as np
import pymunk

from simulator.engine.made import made
from simulator.engine.motion import Motion
from simulator.mechanics.trailer import Body, Matrix


class Load:
    """Owns the pymunk space; moves only when told to."""

    def __init__(self, body: Body) -> None:
        self.mass_kg = body.mass_kg
        inverse = np.linalg.inv(np.array(body.inertia_kg_m2).reshape(3, 3))
        self._inverse = tuple(float(value) for value in inverse.ravel())
        self._moment = body.inertia_kg_m2[4]
        self._space = pymunk.Space()
        self._space.iterations = 1
        self._space.damping = 1.0
        self._space.collision_slop = 0.001
        self._body = pymunk.Body(self.mass_kg, self._moment)
        self._space.add(self._body)

    def place(self, motion: Motion) -> None:
        """Put pymunk's body where `motion` says, with its velocities."""
        self._body.position = motion.x, motion.z
        self._body.angle = -motion.pitch
        self._body.velocity = motion.vx, motion.vz
        self._body.angular_velocity = -motion.pitch_rate

    def advance(
        self,
        to: Motion,
        matrix: Matrix,
        force: tuple[float, float, float],
        moment: tuple[float, float, float],
        dt: float,
    ) -> Motion:
        """One step under the forces taken at the pose `to`.

        That is where pymunk's own move of x and z ends too, to the last bit: it is not asked for them.

        Args:
            to: the motion before the step `ahead` by dt.
            matrix: rotation of `to`.
            force: whole force, gravity included, N.
            moment: about the CG, world axes, N m.
            dt: step, s.
        """
        x, y, z, pitch, yaw, roll, _, vy, _, was_pitch_rate, _, _, _, _, _, lx, ly, lz = to
        fx, fy, fz = force
        mx, my, mz = moment
        lx, ly, lz = lx + mx * dt, ly + my * dt, lz + mz * dt
        ox, oy, oz = self._turning(matrix, lx, ly, lz)
        sw, cw = sin(yaw), cos(yaw)
        pitch_rate = cw * oy - sw * ox
        roll_rate = (cw * ox + sw * oy) / cos(pitch)
        yaw_rate = oz + roll_rate * sin(pitch)
        body = self._body
        body.force = fx, fz
        body.torque = self._moment * (was_pitch_rate - pitch_rate) / dt
        self._space.step(dt)
        vx, vz = body.velocity
        vy += fy / self.mass_kg * dt
        rates = -body.angular_velocity, yaw_rate, roll_rate
        return made(Motion, (x, y, z, -body.angle, yaw, roll, vx, vy, vz, *rates, ox, oy, oz, lx, ly, lz))

    def _turning(self, matrix: Matrix, lx: float, ly: float, lz: float) -> tuple[float, float, float]:
        """Turning velocity R I^-1 R^T L."""
        a, b, c, d, e, f, g, h, i = matrix
        px, py, pz = a * lx + d * ly + g * lz, b * lx + e * ly + h * lz, c * lx + f * ly + i * lz
        j, k, m, n, o, p, q, r, s = self._inverse
        qx, qy, qz = j * px + k * py + m * pz, n * px + o * py + p * pz, q * px + r * py + s * pz
        return a * qx + b * qy + c * qz, d * qx + e * qy + f * qz, g * qx + h * qy + i * qz

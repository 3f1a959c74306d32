"""The trailer as pymunk's body in the side view, with y, yaw and roll beside it.

pymunk integrates x, z and pitch. Its torque is chosen so that its pitch rate follows the body's angular momentum in
three dimensions: momentum is advanced by the moment about the CG (exact whatever the yaw and roll), turned into rates
of pitch, yaw and roll at the new pose, and the change of pitch rate is what pymunk is given.
"""

from __future__ import annotations

from math import cos, sin

import numpy as np
import pymunk

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
        now: Motion,
        to: Motion,
        matrix: Matrix,
        force: tuple[float, float, float],
        moment: tuple[float, float, float],
        dt: float,
    ) -> Motion:
        """One step under the forces taken at the pose `to`, which is where pymunk's move ends too.

        Args:
            now: motion before the step.
            to: `ahead(now, dt)`.
            matrix: rotation of `to`.
            force: whole force, gravity included, N.
            moment: about the CG, world axes, N m.
            dt: step, s.
        """
        lx, ly, lz = to.lx + moment[0] * dt, to.ly + moment[1] * dt, to.lz + moment[2] * dt
        ox, oy, oz = self._turning(matrix, lx, ly, lz)
        sw, cw = sin(to.yaw), cos(to.yaw)
        pitch_rate = cw * oy - sw * ox
        roll_rate = (cw * ox + sw * oy) / cos(to.pitch)
        yaw_rate = oz + roll_rate * sin(to.pitch)
        body = self._body
        body.force = force[0], force[2]
        body.torque = self._moment * (now.pitch_rate - pitch_rate) / dt
        self._space.step(dt)
        x, z = body.position
        vx, vz = body.velocity
        vy = now.vy + force[1] / self.mass_kg * dt
        return Motion(
            *(x, to.y, z, -body.angle, to.yaw, to.roll),
            *(vx, vy, vz, -body.angular_velocity, yaw_rate, roll_rate),
            *(ox, oy, oz, lx, ly, lz),
        )

    def _turning(self, matrix: Matrix, lx: float, ly: float, lz: float) -> tuple[float, float, float]:
        """Turning velocity R I^-1 R^T L."""
        a, b, c, d, e, f, g, h, i = matrix
        px, py, pz = a * lx + d * ly + g * lz, b * lx + e * ly + h * lz, c * lx + f * ly + i * lz
        j = self._inverse
        qx = j[0] * px + j[1] * py + j[2] * pz
        qy = j[3] * px + j[4] * py + j[5] * pz
        qz = j[6] * px + j[7] * py + j[8] * pz
        return a * qx + b * qy + c * qz, d * qx + e * qy + f * qz, g * qx + h * qy + i * qz

"""The trailer as pymunk's body in the side view; y, yaw and roll go beside it in `motion`.

pymunk integrates x, z and pitch. Its torque is chosen so that its pitch rate follows the body's angular momentum in
three dimensions.
"""

from __future__ import annotations

import atexit
from weakref import WeakSet

import pymunk

from simulator.engine.moving import Body


class Load:
    """Owns the pymunk space; moves only when told to."""

    def __init__(self, body: Body) -> None:
        numbers = body.numbers
        self._space = pymunk.Space()
        self._space.iterations = 1
        self._space.damping = 1.0
        self._space.collision_slop = 0.001
        self._body = pymunk.Body(numbers.mass_kg, numbers.pitch_inertia_kg_m2)
        self._space.add(self._body)
        _alive.add(self)
        self.place(body)

    def place(self, body: Body) -> None:
        """Put pymunk's body where the trailer is, with its velocities."""
        self._body.position = body.x, body.z
        self._body.angle = -body.pitch
        self._body.velocity = body.vx, body.vz
        self._body.angular_velocity = -body.pitch_rate

    def advance(self, body: Body, dt: float) -> None:
        """One step under force and torque taken at the pose ahead.

        That is where pymunk's own move of x and z ends too, to the last bit: it is not asked for them.
        """
        own = self._body
        own.force = body.fx, body.fz
        own.torque = body.torque
        self._space.step(dt)
        body.vx, body.vz = own.velocity
        body.pitch, body.pitch_rate = -own.angle + 0.0, -own.angular_velocity + 0.0  # no zero is negative


_alive: WeakSet[Load] = WeakSet()


@atexit.register
def _let_go() -> None:
    """pymunk frees a space by names of its module, which may be gone before a space that lives to the very end."""
    for load in tuple(_alive):
        del load._space, load._body

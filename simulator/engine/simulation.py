"""The only clock: a description becomes a world, and `step` moves it."""

from __future__ import annotations

from simulator.engine.commands import STILL, Commands
from simulator.engine.contact import push
from simulator.engine.incidents import Incident, tipped
from simulator.engine.load import Load
from simulator.engine.made import made
from simulator.engine.model import Model, build
from simulator.engine.motion import Motion, ahead
from simulator.engine.others import other_forces
from simulator.engine.start import resting
from simulator.engine.state import State, state_hash
from simulator.engine.unit_step import advance_unit, rehung
from simulator.mechanics.trailer import Vector, rotation, turned
from simulator.scenario.description import Description


class Simulation:
    """One lift: reset, step, state. Same description and commands, same states, bit for bit."""

    def __init__(self, description: Description) -> None:
        self.model: Model = build(description)
        self._first = self.model
        self._load = Load(self.model.body)
        self.incidents: list[Incident] = []
        self._start = self._settled()
        self.state: State = self._start
        self.restore(self._start)

    @property
    def description(self) -> Description:
        """What the world was built from."""
        return self.model.description

    @property
    def time_s(self) -> float:
        """Simulated time since time zero."""
        return self.state.step * self.model.dt

    @property
    def state_hash(self) -> str:
        """SHA-256 of the state."""
        return state_hash(self.state)

    def reset(self) -> None:
        """Back to time zero."""
        self.incidents.clear()
        self.change(self._first, self._start)

    def restore(self, state: State) -> None:
        """Go on from a state of this same lift."""
        self.state = state
        self._load.place(state.motion)

    def place(self, motion: Motion) -> None:
        """Put the trailer's true CG somewhere, moving as `motion` says."""
        nose, tail = (rehung(side, unit, motion) for side, unit in zip(self.model.sides, self.state.units, strict=True))
        self.restore(self.state._replace(units=(nose, tail), motion=motion))

    def change(self, model: Model, state: State) -> None:
        """Go on from a state of another model of this same lift."""
        self.model = model
        self._load = Load(model.body)
        self.restore(state)

    def step(self, commands: Commands) -> State:
        """One step of the fixed length under the two operators' commands."""
        self._move(commands, lines=True)
        if not self.incidents and (self.state.units[0].stance.tipping or self.state.units[1].stance.tipping):
            self.incidents.append(tipped(self.model, self.state))
        return self.state

    def _settled(self) -> State:
        """Time zero: booms as described, lines slack, the trailer come to rest on the ground."""
        self.restore(resting(self.model))
        for _ in range(round(self.description.site.settle_s / self.model.dt)):
            self._move(STILL, lines=False)
        still = self.state.motion
        self.place(Motion(still.x, still.y, still.z, still.pitch, still.yaw, still.roll))
        return self.state._replace(step=0, hold_at=self._held())

    def _held(self) -> Vector | None:
        """Where the bed holds the trailer at time zero."""
        point, motion = self.model.hold_point_m, self.state.motion
        if point is None:
            return None
        x, y, z = turned(rotation(motion.pitch, motion.yaw, motion.roll), point)
        return motion.x + x, motion.y + y, motion.z + z

    def _move(self, commands: Commands, *, lines: bool) -> None:
        model, before = self.model, self.state
        dt = model.dt
        to = ahead(before.motion, dt)
        matrix = rotation(to.pitch, to.yaw, to.roll)
        nose, nose_pull = advance_unit(model, 0, before, commands[0], to, matrix, lines=lines)
        tail, tail_pull = advance_unit(model, 1, before, commands[1], to, matrix, lines=lines)
        ground = push(model.bed, to, matrix, before.ground.stretches, dt)
        other, hold_at = other_forces(model, to, matrix, (before.step + 1) * dt, before.hold_at)
        _, ax, ay, az, ap, aq, ar = nose_pull
        _, bx, by, bz, bp, bq, br = tail_pull
        cx, cy, cz, cp, cq, cr, _, _ = ground
        dx, dy, dz, dp, dq, dr = other
        force = ax + bx + cx + dx, ay + by + cy + dy, az + bz + cz + dz - model.weight_N
        moment = ap + bp + cp + dp, aq + bq + cq + dq, ar + br + cr + dr
        motion = self._load.advance(to, matrix, force, moment, dt)
        self.state = made(State, (before.step + 1, (nose, tail), motion, ground, other, hold_at))

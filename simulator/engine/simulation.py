"""The only clock: a description becomes a world, and `step` moves it."""

from __future__ import annotations

from typing import NamedTuple

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.contact import push
from simulator.engine.drives import advance
from simulator.engine.lines import SLACK, Hang, Pull, hang, pull
from simulator.engine.load import Load
from simulator.engine.model import Model, Side, build
from simulator.engine.motion import Motion, ahead
from simulator.engine.others import other_forces
from simulator.engine.start import resting
from simulator.engine.stance import stance
from simulator.engine.state import State, UnitState, state_hash
from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.hoist_line import damper_N_s_per_m, line_length_m, stiffness_N_per_m
from simulator.mechanics.trailer import Matrix, Vector, rotation, turned
from simulator.scenario.description import Description


class Incident(NamedTuple):
    """Something that ends a lift."""

    time_s: float
    what: str
    where: str
    why: str


class Simulation:
    """One lift: reset, step, state. Same description and commands, same states, bit for bit."""

    def __init__(self, description: Description) -> None:
        self.model: Model = build(description)
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
        self.restore(self._start)

    def restore(self, state: State) -> None:
        """Go on from a state of this same lift."""
        self.state = state
        self._load.place(state.motion)

    def place(self, motion: Motion) -> None:
        """Put the trailer's true CG somewhere, moving as `motion` says."""
        matrix = rotation(motion.pitch, motion.yaw, motion.roll)
        units = tuple(
            unit._replace(hang=self._hang(side, unit.tip, motion, matrix))
            for side, unit in zip(self.model.sides, self.state.units, strict=True)
        )
        self.restore(self.state._replace(units=units, motion=motion))

    def step(self, commands: Commands) -> State:
        """One step of the fixed length under the two operators' commands."""
        self._move(commands, lines=True)
        for side, unit in zip(self.model.sides, self.state.units, strict=True):
            if unit.stance.tipping and not self.incidents:
                name = ("nose unit", "tail unit")[side.end]
                self.incidents.append(Incident(self.time_s, "unit tips", name, "no set of pushing floats balances it"))
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
        count = before.step + 1
        nose, nose_pull = self._unit(0, before.units[0], commands.nose, to, matrix, count, lines)
        tail, tail_pull = self._unit(1, before.units[1], commands.tail, to, matrix, count, lines)
        ground = push(model.bed, to, matrix, before.ground.stretches, dt)
        other, hold_at = other_forces(model, to, matrix, count * dt, before.hold_at)
        fx, fy, fz, mx, my, mz = (
            a + b + c + d for a, b, c, d in zip(nose_pull[1:], tail_pull[1:], ground[:6], other, strict=True)
        )
        force = (fx, fy, fz - model.weight_N)
        motion = self._load.advance(before.motion, to, matrix, force, (mx, my, mz), dt)
        self.state = State(count, (nose, tail), motion, ground, other, hold_at)

    def _unit(
        self, end: int, was: UnitState, asked: UnitCommands, to: Motion, matrix: Matrix, count: int, lines: bool
    ) -> tuple[UnitState, Pull]:
        """One unit and its line after the step."""
        model, side = self.model, self.model.sides[end]
        unit, dt = side.unit, model.dt
        drives = advance(unit, was.drives, asked, dt, stalled=was.stance.stalled)
        share, lean, goal = side.lean_share, was.lean, was.stance.lean_to_m
        lean = tuple(here + (there - here) * share for here, there in zip(lean, goal, strict=True))  # type: ignore[assignment]
        x, y, z = tip_m(unit, end, BoomPose(drives.length_m, drives.elevation_rad, drives.slew_rad))
        tip = x + lean[0], y + lean[1], z + lean[2]
        old = was.tip
        speed = (tip[0] - old[0]) / dt, (tip[1] - old[1]) / dt, (tip[2] - old[2]) / dt
        line_m = line_length_m(unit.hoist, drives.rope_out_m, drives.length_m)
        k = stiffness_N_per_m(unit.hoist, drives.rope_out_m, was.stance.give_m_per_N)
        c = damper_N_s_per_m(unit.hoist, k, model.body.mass_kg)
        line = self._hang(side, tip, to, matrix)
        force = pull(line, speed, to, line_m, (line_m - was.line_m) / dt, k, c) if lines else SLACK
        footing = was.stance
        if count % model.footing_every == 0:
            load = force.size_N + side.below_sheave_N
            footing = stance(side, drives, line, load, footing, dt * model.footing_every)
        return UnitState(drives, lean, tip, speed, line, line_m, k, c, force.size_N, footing), force

    def _hang(self, side: Side, tip: Vector, motion: Motion, matrix: Matrix) -> Hang:
        px, py, pz = turned(matrix, side.pick_m)
        pick = motion.x + px, motion.y + py, motion.z + pz
        return hang(tip, pick, matrix, side.pick.height_m, across_rigid=side.across_rigid)

"""A load on lines that run round it, as a rigid body in MuJoCo; its strings are those of convex hulls.

MuJoCo's own tendons run round one cylinder between two sites, so not round several corners. Each line is a taut string
on a section's corners here (`tests/mechanics/turned_sections.py`, held against scipy's hulls), unfolded along the load.
What it does to the load is told by its length alone: pull times the way the length grows as the sheave is moved in the
load's axes, a force along the string's last part through its sheave. No law of a line, a sling or of motion is the
engine's.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import contextmanager
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

import mujoco
import numpy as np
from scipy.spatial.transform import Rotation

from simulator.mechanics.trailer_body import body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import Rig
from simulator.scenario.trailer import Trailer
from tests.mechanics.turned_sections import along, in_order
from tests.outside.mujoco_load import Replay, shared_N
from tests.outside.telemetry import Array, Telemetry, turns

if TYPE_CHECKING:
    from collections.abc import Iterator


class String(NamedTuple):
    """One line over its sling, in lying axes from the true center of gravity."""

    x_m: float
    """Of its pick."""
    rings: tuple[tuple[Array, int], ...]
    """Corners from the pick on and the way round (1 counterclockwise); two: whichever is shorter."""
    sling_m: float

    def runs(self, sheave: Array) -> tuple[float, Array]:
        """Pick to sheave, less the sling; and how that grows as the sheave moves."""
        flat = [along(ring, way, sheave[1:]) for ring, way in self.rings]
        shortest = min(flat, key=lambda one: one.length_m)
        out = sheave[0] - self.x_m
        length = hypot(out, shortest.length_m)
        grows = np.array([out, *(shortest.length_m * shortest.grows)]) / length
        return length - self.sling_m, grows


def string(
    corners: Sequence[tuple[float, float]], pick: tuple[float, float, float], sling_m: float, *ways: int
) -> String:
    """A line's string on a section.

    Args:
        corners: (y, z) of the section, lying axes from the true center of gravity, and so is the pick.
        pick: one of its corners, with its x.
        sling_m: all of the sling.
        ways: as in `String`.
    """
    every, at = np.array(corners), np.array(pick[1:])
    return String(pick[0], tuple((in_order(every, at, way), way) for way in ways), sling_m)


def model(trailer: Trailer, step_s: float) -> mujoco.MjModel:
    """The load as a free body: origin in the true CG, lying axes."""
    found = body(trailer)
    i = np.array(found.inertia_kg_m2).reshape(3, 3)
    inertia = " ".join(repr(float(v)) for v in (i[0, 0], i[1, 1], i[2, 2], i[0, 1], i[0, 2], i[1, 2]))
    return mujoco.MjModel.from_xml_string(f"""
    <mujoco>
      <option timestep="{step_s!r}" integrator="RK4" gravity="0 0 {-STANDARD_GRAVITY_MPS2!r}"/>
      <worldbody>
        <body name="load">
          <freejoint/>
          <inertial pos="0 0 0" mass="{found.mass_kg!r}" fullinertia="{inertia}"/>
        </body>
      </worldbody>
    </mujoco>""")


class _Strings:
    """Pulls on the load at every stage of MuJoCo's own step."""

    def __init__(
        self, mj: mujoco.MjModel, data: mujoco.MjData, telemetry: Telemetry, rig: Rig, strings: Sequence[String]
    ) -> None:
        self._mj, self._data, self._strings, self._step_s = mj, data, strings, mj.opt.timestep
        self._units = [[line.place for line in unit.lines] for unit in rig.units]
        self._load, t = mj.body("load").id, telemetry
        self._gives = t.rope_give_m_per_N, t.part, t.give_m_per_N
        self._path = np.concatenate([t.tips_m, t.lines_m[:, :, None]], axis=2)
        self._rates = np.diff(self._path, axis=0) / self._step_s
        self._damper = t.damper_N_s_per_m
        self.others = t.ground + t.other
        self.at = 0
        self.first_N: Array | None = None

    def __call__(self, *_: object) -> None:
        """Called by MuJoCo with position and velocity worked out, before acceleration."""
        pulls, wrench = self.pulls(self.at, self._data.time - self.at * self._step_s)
        if self.first_N is None:
            self.first_N = pulls
        self._data.xfrc_applied[self._load] = wrench + self.others[self.at + 1]

    def pulls(self, at: int, late: float) -> tuple[Array, Array]:
        """Of every line, `late` seconds after row `at`; and what they do to the load, force and moment about its CG."""
        place, turn = self._data.qpos[:3], self._data.xmat[self._load].reshape(3, 3)
        speed, spin = self._data.qvel[:3], turn @ self._data.qvel[3:6]
        pulls, wrench = np.zeros(len(self._strings)), np.zeros(6)
        for lines in self._units:
            runs = [self._runs(line, at, late, place, turn, speed, spin) for line in lines]
            gives, parts, give = (column[at + 1][lines].tolist() for column in self._gives)
            elastic = shared_N([one[0] for one in runs], gives, parts, give[0])
            for line, pull, (_, rate, toward, arm) in zip(lines, elastic, runs, strict=True):
                size = max(0.0, pull + self._damper[at + 1][line] * rate) if pull > 0.0 else 0.0
                pulls[line] = size
                wrench[:3] += size * toward
                wrench[3:] += size * np.cross(arm, toward)
        return pulls, wrench

    def _runs(
        self, line: int, at: int, late: float, place: Array, turn: Array, speed: Array, spin: Array
    ) -> tuple[float, float, Array, Array]:
        """A line's stretch, its rate, its direction at the sheave, and the sheave from the load's CG."""
        *sheave, length = self._path[at][line] + self._rates[at][line] * late
        *moves, paying = self._rates[at][line]
        arm = np.array(sheave) - place
        way, grows = self._strings[line].runs(arm @ turn)
        toward = turn @ grows
        parting = float(toward @ (np.array(moves) - speed - np.cross(spin, arm)))
        return way - length, parting - paying, toward, arm


@contextmanager
def _called(strings: _Strings) -> Iterator[None]:
    mujoco.set_mjcb_control(strings)
    try:
        yield
    finally:
        mujoco.set_mjcb_control(None)


def replay_slung(trailer: Trailer, telemetry: Telemetry, step_s: float, rig: Rig, strings: Sequence[String]) -> Replay:
    """Hang the load in MuJoCo and let it go from the first row on.

    Args:
        trailer: mass, CG, inertia.
        telemetry: tips, lines and pushes, a row a step.
        step_s: between rows.
        rig: whose lines they are.
        strings: of each line, in its order.
    """
    mj = model(trailer, step_s)
    data = mujoco.MjData(mj)
    _put(trailer, data, telemetry)
    found, count = _Strings(mj, data, telemetry, rig, strings), len(telemetry)
    places, pulls = np.empty((count, 7)), np.empty((count, len(strings)))
    places[0] = data.qpos
    with _called(found):
        for found.at in range(count - 1):
            data.time, found.first_N = found.at * step_s, None
            mujoco.mj_step(mj, data)
            places[found.at + 1], pulls[found.at] = data.qpos, found.first_N
    mujoco.mj_kinematics(mj, data)
    pulls[-1], _ = found.pulls(count - 2, step_s)
    turn = Rotation.from_quat(places[:, 3:7], scalar_first=True)
    yaw, pitch, roll = turn.as_euler("ZYX").T
    return Replay(np.column_stack([places[:, :3] - turn.apply(body(trailer).cg_m), pitch, yaw, roll]), pulls)


def _put(trailer: Trailer, data: mujoco.MjData, telemetry: Telemetry) -> None:
    """The load as the first row has it."""
    pose, speed = telemetry.pose[0], telemetry.speed[0]
    turn, (pitch, yaw) = turns(pose), pose[3:5]
    turning = speed[4] * np.array([0.0, 0.0, 1.0]) + speed[3] * np.array([-np.sin(yaw), np.cos(yaw), 0.0])
    turning += speed[5] * np.array([np.cos(pitch) * np.cos(yaw), np.cos(pitch) * np.sin(yaw), -np.sin(pitch)])
    arm = turn.apply(body(trailer).cg_m)
    data.qpos[:3], data.qpos[3:7] = pose[:3] + arm, turn.as_quat(scalar_first=True)
    data.qvel[:3], data.qvel[3:6] = speed[:3] + np.cross(turning, arm), turn.inv().apply(turning)

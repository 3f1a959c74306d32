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
from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple

import mujoco
import numpy as np
from scipy.spatial.transform import Rotation

from simulator.mechanics.trailer_body import body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import Rig
from simulator.scenario.trailer import Trailer
from tests.mechanics.turned_sections import Ring, in_order
from tests.outside.mujoco_load import Replay, shared_N
from tests.outside.telemetry import Array, Telemetry, turns

if TYPE_CHECKING:
    from collections.abc import Iterator

Vector = tuple[float, float, float]


class String(NamedTuple):
    """One line over its sling, in lying axes from the true center of gravity."""

    x_m: float
    """Of its pick."""
    rings: tuple[Ring, ...]
    """From the pick on, one way round; two: whichever is shorter."""
    sling_m: float

    def runs(self, x: float, y: float, z: float) -> tuple[float, Vector]:
        """Pick to a sheave, less the sling; and how that grows as the sheave moves."""
        flat_m, (across, up) = min((ring.along(y, z) for ring in self.rings), key=_length)
        out = x - self.x_m
        length = hypot(out, flat_m)
        share = flat_m / length
        return length - self.sling_m, (out / length, share * across, share * up)


_length = attrgetter("length_m")


def string(
    corners: Sequence[tuple[float, float]], pick: tuple[float, float, float], sling_m: float, *ways: int
) -> String:
    """A line's string on a section.

    Args:
        corners: (y, z) of the section, lying axes from the true center of gravity, and so is the pick.
        pick: one of its corners, with its x.
        sling_m: all of the sling.
        ways: round it, 1 counterclockwise, -1 clockwise.
    """
    every, at = np.array(corners), np.array(pick[1:])
    return String(pick[0], tuple(Ring(in_order(every, at, way), way) for way in ways), sling_m)


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


class Placed(NamedTuple):
    """Where the load is and how it moves, in the world's axes."""

    at: Sequence[float]
    axes: Sequence[float]
    """From lying axes to the world's, row by row."""
    speed: Sequence[float]
    spin: Vector


def turned(m: Sequence[float], x: float, y: float, z: float) -> Vector:
    """A matrix, row by row, times a vector."""
    return m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z


def turned_back(m: Sequence[float], x: float, y: float, z: float) -> Vector:
    """Its transpose times a vector."""
    return m[0] * x + m[3] * y + m[6] * z, m[1] * x + m[4] * y + m[7] * z, m[2] * x + m[5] * y + m[8] * z


def cross(a: Vector, b: Vector) -> Vector:
    """a x b."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def added(to: Vector, size: float, one: Vector) -> Vector:
    """A vector and so much of another."""
    return to[0] + size * one[0], to[1] + size * one[1], to[2] + size * one[2]


class _Strings:
    """Pulls on the load at every stage of MuJoCo's own step."""

    def __init__(
        self, mj: mujoco.MjModel, data: mujoco.MjData, telemetry: Telemetry, rig: Rig, strings: Sequence[String]
    ) -> None:
        self._mj, self._data, self._strings, self._step_s = mj, data, strings, mj.opt.timestep
        self._units = [[line.place for line in unit.lines] for unit in rig.units]
        self._load, t = mj.body("load").id, telemetry
        self._gives = [column.tolist() for column in (t.rope_give_m_per_N, t.part, t.give_m_per_N)]
        path = np.concatenate([t.tips_m, t.lines_m[:, :, None]], axis=2)
        self._path, self._rates = path.tolist(), (np.diff(path, axis=0) / self._step_s).tolist()
        self._damper = t.damper_N_s_per_m.tolist()
        self.others = t.ground + t.other
        self.at = 0
        self.first_N: list[float] | None = None

    def __call__(self, *_: object) -> None:
        """Called by MuJoCo with position and velocity worked out, before acceleration."""
        pulls, wrench = self.pulls(self.at, self._data.time - self.at * self._step_s)
        if self.first_N is None:
            self.first_N = pulls
        self._data.xfrc_applied[self._load] = wrench + self.others[self.at + 1]

    def pulls(self, at: int, late: float) -> tuple[list[float], Array]:
        """Of every line, `late` seconds after row `at`; and what they do to the load, force and moment about its CG."""
        axes = self._data.xmat[self._load].tolist()
        spin = turned(axes, *self._data.qvel[3:6].tolist())
        body = Placed(self._data.qpos[:3].tolist(), axes, self._data.qvel[:3].tolist(), spin)
        pulls, force, moment = [0.0] * len(self._strings), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
        for lines in self._units:
            runs = [self._runs(line, at, late, body) for line in lines]
            gives, parts, give = ([column[at + 1][line] for line in lines] for column in self._gives)
            elastic = shared_N([one[0] for one in runs], gives, parts, give[0])
            for line, pull, (_, rate, toward, arm) in zip(lines, elastic, runs, strict=True):
                size = max(0.0, pull + self._damper[at + 1][line] * rate) if pull > 0.0 else 0.0
                pulls[line] = size
                force, moment = added(force, size, toward), added(moment, size, cross(arm, toward))
        return pulls, np.array((*force, *moment))

    def _runs(self, line: int, at: int, late: float, body: Placed) -> tuple[float, float, Vector, Vector]:
        """A line's stretch, its rate, its direction at the sheave, and the sheave from the load's CG."""
        (x, y, z, length), (vx, vy, vz, paying) = self._path[at][line], self._rates[at][line]
        (cg_x, cg_y, cg_z), (load_vx, load_vy, load_vz) = body.at, body.speed
        arm = x + vx * late - cg_x, y + vy * late - cg_y, z + vz * late - cg_z
        way, grows = self._strings[line].runs(*turned_back(body.axes, *arm))
        toward = turned(body.axes, *grows)
        by_x, by_y, by_z = cross(body.spin, arm)
        parting = toward[0] * (vx - load_vx - by_x) + toward[1] * (vy - load_vy - by_y)
        parting += toward[2] * (vz - load_vz - by_z)
        return way - length - paying * late, parting - paying, toward, arm


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

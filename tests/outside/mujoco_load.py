"""The trailer once more, as a rigid body in MuJoCo, hung from recorded tips on recorded lines.

Mass, CG, moments of inertia, picks and pivots are the scenario's; no law of motion or of lines here is the engine's.
The rigging is a thing of its own: a light rod on the trailer, hinged about the trailer's cross axis (bridle or basket
across) or on a ball (single point), with the hook at its end. MuJoCo finds its lean, which the engine works out as
geometry.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from math import sqrt
from typing import NamedTuple

import mujoco
import numpy as np
from scipy.spatial.transform import Rotation

from simulator.mechanics.trailer_body import body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import TWO_BY_ONE, Rig
from simulator.scenario.trailer import Pick, Trailer
from tests.outside.telemetry import Array, Telemetry, turns

BODY = mujoco.mjtObj.mjOBJ_BODY
LIGHT = 1e-4
"""A rod's inertia over that of the trailer's mass at the hook: next to nothing, yet slow enough for the step."""
SETTLES_PER_S = 2.0
"""A rod's motion on the trailer dies at this rate. Nothing else holds the rod of a slack line: it drifts off, and far
off, where its line's spring bears on it alone, it is too light for the step. What it turns the trailer with, some
10 N m, is a ten-thousandth of what a line does."""
LIGHTER = 1e-7
"""A hinged rod's mass over the trailer's: as its inertia is about the hinge alone, it takes no part in roll."""


class Replay(NamedTuple):
    """What MuJoCo makes of it, a row for each row of telemetry."""

    pose: Array
    hook_N: Array


def _rod(pick: Pick, end: int, trailer_kg: float, at: list[float]) -> str:
    height = pick.height_m
    damper = SETTLES_PER_S * LIGHT * trailer_kg * height**2
    if pick.pivot == "bridle_across":
        mass_kg, joint = (
            LIGHTER * trailer_kg,
            f'type="hinge" axis="0 1 0" armature="{LIGHT * trailer_kg * height**2!r}"',
        )
    else:
        mass_kg, joint = LIGHT * trailer_kg, 'type="ball"'
    spin = repr(mass_kg * 0.1)
    return f"""
      <body name="rod{end}" pos="{at[0]!r} {at[1]!r} {at[2]!r}" gravcomp="1">
        <joint name="pivot{end}" damping="{damper!r}" {joint}/>
        <inertial pos="0 0 {height!r}" mass="{mass_kg!r}" diaginertia="{spin} {spin} {spin}"/>
      </body>"""


class Lies(NamedTuple):
    """Ground that MuJoCo's own contacts hold the trailer off, and the shapes that touch it."""

    assets: str
    ground: str
    shapes: str


NOWHERE = Lies("", "", "")


def model(trailer: Trailer, step_s: float, rig: Rig = TWO_BY_ONE, on: Lies = NOWHERE) -> mujoco.MjModel:
    """Trailer and a rod a line: origin in the true CG, lying axes."""
    b = body(trailer)
    i = np.array(b.inertia_kg_m2).reshape(3, 3)
    inertia = " ".join(repr(float(v)) for v in (i[0, 0], i[1, 1], i[2, 2], i[0, 1], i[0, 2], i[1, 2]))
    arms = [[float(v) for v in np.subtract(pick, b.cg_m)] for pick in b.picks_m]
    rods = "".join(_rod(trailer.picks[line.pick], line.place, b.mass_kg, arms[line.pick]) for line in rig.lines)
    return mujoco.MjModel.from_xml_string(f"""
    <mujoco>
      <option timestep="{step_s!r}" integrator="RK4" gravity="0 0 {-STANDARD_GRAVITY_MPS2!r}"
        cone="elliptic" impratio="100"/>
      <asset>{on.assets}</asset>
      <worldbody>
        {on.ground}
        <body name="trailer">
          <freejoint/>{on.shapes}
          <inertial pos="0 0 0" mass="{b.mass_kg!r}" fullinertia="{inertia}"/>{rods}
        </body>
      </worldbody>
    </mujoco>""")


def tension_N(stretch_m: float, stretch_mps: float, stiffness: float, damper: float) -> float:
    """T = max(0, k (d - l) + c (d' - l')), no force when d <= l."""
    return max(0.0, stiffness * stretch_m + damper * stretch_mps) if stretch_m > 0.0 else 0.0


def shared_N(stretches_m: list[float], rope_gives: list[float], parts: list[float], give: float) -> list[float]:
    """Elastic pulls of two lines that share a structure: s = r T + g p (p . T) for those that bear, none pushing."""
    bears = [stretch > 0.0 for stretch in stretches_m]
    own = [rope_give + give * part * part for rope_give, part in zip(rope_gives, parts, strict=True)]
    if all(bears):
        (first, second), (a, c), b = stretches_m, own, give * parts[0] * parts[1]
        pulls = [(c * first - b * second) / (a * c - b * b), (a * second - b * first) / (a * c - b * b)]
        if min(pulls) >= 0.0:
            return pulls
        bears = [pull > 0.0 for pull in pulls]
    return [stretch / of if one else 0.0 for stretch, of, one in zip(stretches_m, own, bears, strict=True)]


class _Lines:
    """Pulls the hooks toward the tips at every stage of MuJoCo's own step."""

    def __init__(self, mj: mujoco.MjModel, data: mujoco.MjData, telemetry: Telemetry, rig: Rig) -> None:
        self._mj, self._data, self._step_s = mj, data, mj.opt.timestep
        self._units = [[line.place for line in unit.lines] for unit in rig.units]
        t = telemetry
        self._gives = [column.tolist() for column in (t.rope_give_m_per_N, t.part, t.give_m_per_N)]
        self._rods = [mj.body(f"rod{line.place}").id for line in rig.lines]
        self._places, self._pushes = ([of[rod] for rod in self._rods] for of in (data.xipos, data.xfrc_applied))
        self._speed = np.zeros(6)
        path = np.concatenate([telemetry.tips_m, telemetry.lines_m[:, :, None]], axis=2)
        self._path = path.tolist()
        self._rates = (np.diff(path, axis=0) / self._step_s).tolist()
        self._law = np.stack([telemetry.stiffness_N_per_m, telemetry.damper_N_s_per_m], axis=2).tolist()
        self.at = 0
        self.first_N: list[float] | None = None

    def __call__(self, *_: object) -> None:
        """Called by MuJoCo with position and velocity worked out, before acceleration."""
        late = self._data.time - self.at * self._step_s
        if self.first_N is None:
            self.first_N = self.now_N()
        for lines in self._units:
            for line, (_, *force) in zip(lines, self._pulls(lines, self.at, late), strict=True):
                self._pushes[line][:3] = force

    def now_N(self) -> list[float]:
        """Pulls at a row's own moment, with the speeds of tips and lines up to it."""
        before = max(self.at - 1, 0)
        late = (self.at - before) * self._step_s
        return [pull[0] for lines in self._units for pull in self._pulls(lines, before, late)]

    def _pulls(self, lines: list[int], at: int, late: float) -> list[tuple[float, float, float, float]]:
        """Of a unit's lines size and force on the hook, `late` seconds after row `at`."""
        if len(lines) == 1:
            stretch, rate, x, y, z = self._hung(lines[0], at, late)
            size = tension_N(stretch, rate, *self._law[at + 1][lines[0]])
            return [(size, size * x, size * y, size * z)]
        hung = [self._hung(line, at, late) for line in lines]
        rope_gives, parts, gives = ([column[at + 1][line] for line in lines] for column in self._gives)
        elastic = shared_N([one[0] for one in hung], rope_gives, parts, gives[0])
        sizes = [
            max(0.0, pull + self._law[at + 1][line][1] * one[1]) if pull > 0.0 else 0.0
            for pull, line, one in zip(elastic, lines, hung, strict=True)
        ]
        return [(size, size * x, size * y, size * z) for size, (_, _, x, y, z) in zip(sizes, hung, strict=True)]

    def _hung(self, end: int, at: int, late: float) -> tuple[float, float, float, float, float]:
        """A line's stretch, its rate, and its direction, `late` seconds after row `at`."""
        x, y, z, length = self._path[at][end]
        vx, vy, vz, paying = self._rates[at][end]
        hx, hy, hz = self._places[end].tolist()
        mujoco.mj_objectVelocity(self._mj, self._data, BODY, self._rods[end], self._speed, 0)
        _, _, _, hook_vx, hook_vy, hook_vz = self._speed.tolist()
        dx, dy, dz = x + vx * late - hx, y + vy * late - hy, z + vz * late - hz
        distance = sqrt(dx * dx + dy * dy + dz * dz)
        parting = (dx * (vx - hook_vx) + dy * (vy - hook_vy) + dz * (vz - hook_vz)) / distance
        toward = dx / distance, dy / distance, dz / distance
        return distance - length - paying * late, parting - paying, *toward


def _put(trailer: Trailer, mj: mujoco.MjModel, data: mujoco.MjData, telemetry: Telemetry, rig: Rig) -> None:
    """The trailer as the first row has it, rods pointing at the tips."""
    b, pose, speed = body(trailer), telemetry.pose[0], telemetry.speed[0]
    turn = turns(pose)
    pitch, yaw = pose[3], pose[4]
    level_across = np.array([-np.sin(yaw), np.cos(yaw), 0.0])
    turning = speed[4] * np.array([0.0, 0.0, 1.0]) + speed[3] * level_across
    turning += speed[5] * np.array([np.cos(pitch) * np.cos(yaw), np.cos(pitch) * np.sin(yaw), -np.sin(pitch)])
    arm = turn.apply(b.cg_m)
    data.qpos[:3], data.qpos[3:7] = pose[:3] + arm, turn.as_quat(scalar_first=True)
    data.qvel[:3], data.qvel[3:6] = speed[:3] + np.cross(turning, arm), turn.inv().apply(turning)
    for line in rig.lines:
        x, y, z = turn.inv().apply(telemetry.tips_m[0, line.place] - pose[:3]) - np.array(b.picks_m[line.pick])
        joint = mj.joint(f"pivot{line.place}")
        at = joint.qposadr[0]
        if joint.type[0] == mujoco.mjtJoint.mjJNT_HINGE:
            data.qpos[at] = np.arctan2(x, z)
        else:
            half = np.array([np.sqrt(x * x + y * y + z * z) + z, -y, x, 0.0])
            data.qpos[at : at + 4] = half / np.linalg.norm(half)


@contextmanager
def _called(lines: _Lines) -> Iterator[None]:
    mujoco.set_mjcb_control(lines)
    try:
        yield
    finally:
        mujoco.set_mjcb_control(None)


def replay(trailer: Trailer, telemetry: Telemetry, step_s: float, rig: Rig = TWO_BY_ONE, on: Lies = NOWHERE) -> Replay:
    """Hang the trailer in MuJoCo and let it go from the first row on.

    Args:
        trailer: mass, CG, inertia, picks and pivots.
        telemetry: tips, lines, and pushes of ground and others, a row a step.
        step_s: between rows.
        rig: whose lines they are.
        on: ground of MuJoCo's own, in the place of what telemetry holds of it.
    """
    mj = model(trailer, step_s, rig, on)
    data = mujoco.MjData(mj)
    _put(trailer, mj, data, telemetry, rig)
    lines, trailer_id = _Lines(mj, data, telemetry, rig), mj.body("trailer").id
    pushes = telemetry.other if on.ground else telemetry.ground + telemetry.other
    count = len(telemetry)
    places, pulls = np.empty((count, 7)), np.empty((count, len(rig.lines)))
    places[0] = data.qpos[:7]
    with _called(lines):
        for lines.at in range(count - 1):
            data.time, lines.first_N = lines.at * step_s, None
            data.xfrc_applied[trailer_id] = pushes[lines.at + 1]
            mujoco.mj_step(mj, data)
            places[lines.at + 1], pulls[lines.at] = data.qpos[:7], lines.first_N
    lines.at = count - 1
    mujoco.mj_fwdPosition(mj, data)
    mujoco.mj_fwdVelocity(mj, data)
    pulls[-1] = lines.now_N()
    return Replay(_readings(trailer, places), pulls)


def _readings(trailer: Trailer, places: Array) -> Array:
    """Places of MuJoCo's free joint as poses of the reference point."""
    turn = Rotation.from_quat(places[:, 3:7], scalar_first=True)
    yaw, pitch, roll = turn.as_euler("ZYX").T
    reference = places[:, :3] - turn.apply(body(trailer).cg_m)
    return np.column_stack([reference, pitch, yaw, roll])

"""A round shell turned over on four lines, once more in MuJoCo: tendons round a cylinder, springs that only pull.

MuJoCo finds by itself where each tendon leaves the cylinder and how it pulls. It is given unloaded lengths of lines and
their stiffness from moment to moment; the law of the sling, of motion and of what bears is its own.
"""

from __future__ import annotations

from dataclasses import replace
from math import degrees
from typing import NamedTuple

import mujoco
import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from simulator.engine.commands import Commands, still
from simulator.engine.simulation import Simulation
from simulator.mechanics.trailer_body import body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of
from tests.engine.scenes import come_to_rest
from tests.engine.turned import HALF_M, SLINGS_M, Point, hung, lift, the_shell

pytestmark = pytest.mark.long

Array = NDArray[np.float64]
RATE = 480
FINER = 2
"""MuJoCo's steps in one of the engine's."""
NEVER_SLACK_M = 100.0


class Moment(NamedTuple):
    """Of the engine, a step."""

    pose: Array
    """x, y, z, pitch, yaw, roll."""
    paths_m: Array
    """Unloaded, from pick to sheave."""
    stiffness: Array
    dampers: Array
    pulls_N: Array


def moment(simulation: Simulation) -> Moment:
    state = simulation.state
    lines = state.lines
    paths = [line.line_m + of.numbers.rigging_m for line, of in zip(lines, simulation.model.lines, strict=True)]
    return Moment(
        np.array(state.motion[:6]),
        np.array(paths),
        np.array([line.stiffness for line in lines]),
        np.array([line.damper for line in lines]),
        np.array([line.hook_load_N for line in lines]),
    )


def damped() -> Simulation:
    """The shell on ropes that lose as much of their bounce as real ones."""
    described = lift(the_shell(), steps_per_s=RATE)
    units = []
    for unit in described.units:
        lines = tuple(replace(line, hoist=replace(line.hoist, damping_ratio=0.03)) for line in unit.lines)
        units.append(replace(unit, lines=lines))
    return hung(replace(described, units=tuple(units)))


def driven(lever: float, seconds: float, ends: Point = (1.0, 1.0)) -> tuple[Simulation, list[Moment]]:
    """From rest, the turn lever pulled that far all the time, at each end its share of it."""
    simulation = damped()
    come_to_rest(simulation)
    units = rig_of(simulation.description).units
    hands = Commands(*(unit.hands(turn=lever * share) for unit, share in zip(units, ends, strict=True)))
    seen = [moment(simulation)]
    for i in range(round((seconds + 3.0) * RATE)):
        simulation.run(hands if i < seconds * RATE else still(simulation.model.rig), 1)
        seen.append(moment(simulation))
    return simulation, seen


def model(simulation: Simulation) -> mujoco.MjModel:
    """The load as a free body with its shell as a cylinder, the sheaves as places that stand."""
    trailer = simulation.description.trailer
    found = body(trailer)
    i = np.array(found.inertia_kg_m2).reshape(3, 3)
    inertia = " ".join(repr(float(v)) for v in (i[0, 0], i[1, 1], i[2, 2], i[0, 1], i[0, 2], i[1, 2]))
    cg_y, cg_z = trailer.cargo.cg_m[1:]
    picks, sheaves, sides, tendons = "", "", "", ""
    for line, of in zip(simulation.state.lines, simulation.model.lines, strict=True):
        n, (x, y, z) = of.rig.place, of.pick_m
        way = 1.0 if of.rig.number == 1 else -1.0  # line 1 comes to lie on what is up, line 2 lies on what is down
        picks += f'<site name="pick{n}" pos="{x!r} {y!r} {z!r}"/>'
        sides += f'<site name="side{n}" pos="{x!r} {-cg_y - 0.5!r} {way * 2.0 * HALF_M!r}"/>'
        sx, sy, sz = line.sheave
        sheaves += f'<site name="sheave{n}" pos="{sx!r} {sy!r} {sz!r}"/>'
        tendons += f"""
        <spatial name="line{n}" stiffness="1" springlength="0 {NEVER_SLACK_M}">
          <site site="pick{n}"/><geom geom="shell" sidesite="side{n}"/><site site="sheave{n}"/>
        </spatial>"""
    return mujoco.MjModel.from_xml_string(f"""
    <mujoco>
      <option timestep="{1.0 / (FINER * RATE)!r}" integrator="RK4" gravity="0 0 {-STANDARD_GRAVITY_MPS2!r}"/>
      <worldbody>
        {sheaves}
        <body name="load">
          <freejoint/>
          <inertial pos="0 0 0" mass="{found.mass_kg!r}" fullinertia="{inertia}"/>
          <geom name="shell" type="cylinder" size="{HALF_M} 7.3" pos="0 {-cg_y!r} {-cg_z!r}" euler="0 90 0" mass="0"
                contype="0" conaffinity="0"/>
          {picks}{sides}
        </body>
      </worldbody>
      <tendon>{tendons}</tendon>
    </mujoco>""")


def turns(pose: Array) -> Rotation:
    """Of the body, from pitch, yaw and roll."""
    return Rotation.from_euler("ZYX", [pose[4], pose[3], pose[5]])


def followed(simulation: Simulation, seen: list[Moment]) -> tuple[Array, Array]:
    """Pose and pulls by MuJoCo, a row for each of the engine's moments."""
    mj = model(simulation)
    data = mujoco.MjData(mj)
    data.qpos[:3] = seen[0].pose[:3]
    data.qpos[3:] = np.roll(turns(seen[0].pose).as_quat(), 1)
    poses, pulls = [], []
    for now, then in zip(seen, [*seen[1:], seen[-1]], strict=True):
        poses.append([*data.qpos[:3], *_angles(data.qpos[3:])])
        mujoco.mj_forward(mj, data)
        stretch = data.ten_length - now.paths_m
        paying = (then.paths_m - now.paths_m) * RATE
        rate = data.ten_velocity - paying
        pulls.append(np.maximum(0.0, now.stiffness * stretch + now.dampers * rate) * (stretch > 0.0))
        mj.tendon_stiffness[:] = now.stiffness
        mj.tendon_damping[:] = now.dampers * (stretch > 0.0)
        for part in range(FINER):
            paths = now.paths_m + paying * (part + 0.5) / (FINER * RATE)
            # It damps the tendon's own rate: a longer spring makes up for what is paid out.
            mj.tendon_lengthspring[:, 1] = paths + now.dampers * paying / now.stiffness
            mujoco.mj_step(mj, data)
    return np.array(poses), np.array(pulls)


def _angles(quaternion: Array) -> Array:
    yaw, pitch, roll = Rotation.from_quat(np.roll(quaternion, -1)).as_euler("ZYX")
    return np.array([pitch, yaw, roll])


def apart(lever: float, seconds: float, ends: Point = (1.0, 1.0)) -> tuple[float, float, float, float]:
    """Farthest apart: m, degrees, share of the weight; and how far it was turned, degrees."""
    simulation, seen = driven(lever, seconds, ends)
    theirs, pulls = followed(simulation, seen)
    ours = np.array([one.pose for one in seen])
    share = np.abs(pulls - np.array([one.pulls_N for one in seen])).max() / simulation.model.weight_N
    off = np.abs(theirs - ours)
    turned = abs(degrees(ours[-1, 5] - ours[0, 5]))
    return float(off[:, :3].max()), degrees(float(off[:, 3:].max())), float(share), turned


def test_the_whole_turn_is_mujocos() -> None:
    """Slowly, lever at a fifth: within 1 cm, 0.3 degrees and 1 % of the weight; line 1 comes to bear on the way."""
    off_m, off_deg, share, turned = apart(0.2, 24.0)
    assert turned > 88.0 and off_m < 0.01 and off_deg < 0.3 and share < 0.01


def test_a_fast_turn_is_mujocos() -> None:
    """All levers full, and let go at once: within 2 cm, 1 degree and 3 %."""
    off_m, off_deg, share, turned = apart(1.0, 3.4)
    assert turned > 60.0 and off_m < 0.02 and off_deg < 1.0 and share < 0.03


def test_a_turn_with_an_end_ahead_is_mujocos() -> None:
    off_m, off_deg, share, turned = apart(0.4, 9.5, (1.0, 0.9))
    assert turned > 60.0 and off_m < 0.02 and off_deg < 1.0 and share < 0.03


def test_slings_reach() -> None:
    """What the scene is built with: a sling under the shell is longer than what is laid."""
    simulation = hung(lift(the_shell()))
    assert simulation.state.slung[1].laid_m < SLINGS_M[1]

"""What telemetry holds of a lift at every step, as arrays: enough to hang the same load in another engine."""

from __future__ import annotations

from array import array
from collections.abc import Iterable
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from simulator.engine.model import Model
from simulator.engine.state import State

Array = NDArray[np.float64]

_LINE = ("tip_x_m", "tip_y_m", "tip_z_m", "line_length_m", "line_stiffness_N_per_m", "line_damper_N_s_per_m")
_POSE = ("x_m", "y_m", "z_m", "pitch_rad", "yaw_rad", "roll_rad")
_SPEED = ("vx_mps", "vy_mps", "vz_mps", "pitch_rate_radps", "yaw_rate_radps", "roll_rate_radps")
_PUSH = ("x_N", "y_N", "z_N", "roll_Nm", "pitch_Nm", "yaw_Nm")
COLUMNS = (
    *(f"{end}.{name}" for end in ("nose", "tail") for name in (*_LINE, "hook_load_N")),
    *(f"load.{name}" for name in (*_POSE, *_SPEED)),
    *(f"load.{what}_{name}" for what in ("ground", "other") for name in _PUSH),
    "load.road_N",
)
"""Channels of the readings, in the order of a row."""


@dataclass(frozen=True)
class Telemetry:
    """One row a step; `tips_m` and the like are by line, in the rig's order."""

    tips_m: Array
    lines_m: Array
    stiffness_N_per_m: Array
    """Beside the unit's other lines that bear: of a lone line, line and structure."""
    damper_N_s_per_m: Array
    hook_N: Array
    pose: Array
    """Reference point's x, y, z; pitch, yaw, roll."""
    speed: Array
    """Their rates."""
    ground: Array
    """Force, and moment about the CG, world axes."""
    other: Array
    road_N: Array
    rope_give_m_per_N: Array
    """Of each line alone."""
    part: Array
    """Cosine of each line with the sum of its unit's pulls."""
    give_m_per_N: Array
    """Of each unit's structure along that sum, by line."""

    def __len__(self) -> int:
        return len(self.pose)

    def between(self, first: int, last: int) -> Telemetry:
        """Rows `first` to `last`, both included."""
        return Telemetry(*(getattr(self, field.name)[first : last + 1] for field in fields(self)))


def turns(pose: Array) -> Rotation:
    """Rz(yaw) Ry(pitch) Rx(roll) of poses."""
    return Rotation.from_euler("ZYX", pose[..., [4, 3, 5]])


PER_LINE = 10


def record(states: Iterable[State], reference_m: tuple[float, float, float], model: Model) -> Telemetry:
    """Telemetry of successive states.

    Args:
        states: as the engine leaves them after each step.
        reference_m: stated CG, which pose readings are of, from the true CG, lying axes.
        model: of the lift.
    """
    rows = array("d")
    count = 0
    hoists = [of.line.hoist for of in model.lines]
    for state in states:
        count += 1
        for line, of, hoist in zip(state.lines, model.lines, hoists, strict=True):
            rows.extend((*line.sheave, line.line_m, line.stiffness, line.damper, line.hook_load_N))
            rope_give = line.rope_out_m / (hoist.rope_EA_N * hoist.parts**2)
            rows.extend((rope_give, line.part, state.booms[of.rig.unit].stance.give_m_per_N))
        m = state.motion
        rows.extend(m[:15])
        rows.extend((*state.ground[:6], *state.other, state.ground.road_N))
    return _arranged(np.array(rows).reshape(count, -1), np.array(reference_m), len(model.lines))


def _arranged(all_of_it: Array, reference: Array, lines: int) -> Telemetry:
    """Rows of the engine's numbers, which are of the true CG, as readings of the reference point."""
    hung, rows = all_of_it[:, : PER_LINE * lines].reshape(-1, lines, PER_LINE), all_of_it[:, PER_LINE * lines :]
    pose, speed, turning = rows[:, :6], rows[:, 6:12], rows[:, 12:15]
    arm = turns(pose).apply(reference)
    pose, speed = pose.copy(), speed.copy()
    pose[:, :3] += arm
    speed[:, :3] += np.cross(turning, arm)
    return Telemetry(
        tips_m=hung[:, :, :3],
        lines_m=hung[:, :, 3],
        stiffness_N_per_m=hung[:, :, 4],
        damper_N_s_per_m=hung[:, :, 5],
        hook_N=hung[:, :, 6],
        pose=pose,
        speed=speed,
        ground=rows[:, 15:21],
        other=rows[:, 21:27],
        road_N=rows[:, 27],
        rope_give_m_per_N=hung[:, :, 7],
        part=hung[:, :, 8],
        give_m_per_N=hung[:, :, 9],
    )


def row(telemetry: Telemetry, at: int) -> dict[str, float]:
    """One row by the names of its channels."""
    t = telemetry
    lines = [
        value
        for i in range(t.tips_m.shape[1])
        for value in (
            *t.tips_m[at, i],
            *(part[at, i] for part in (t.lines_m, t.stiffness_N_per_m, t.damper_N_s_per_m, t.hook_N)),
        )
    ]
    numbers = (*lines, *t.pose[at], *t.speed[at], *t.ground[at], *t.other[at], t.road_N[at])
    return {name: float(number) for name, number in zip(COLUMNS, numbers, strict=True)}

"""What telemetry holds of a lift at every step, as arrays: enough to hang the same load in another engine."""

from __future__ import annotations

from array import array
from collections.abc import Iterable
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from simulator.engine.state import State

Array = NDArray[np.float64]

_UNIT = ("tip_x_m", "tip_y_m", "tip_z_m", "line_length_m", "line_stiffness_N_per_m", "line_damper_N_s_per_m")
_POSE = ("x_m", "y_m", "z_m", "pitch_rad", "yaw_rad", "roll_rad")
_SPEED = ("vx_mps", "vy_mps", "vz_mps", "pitch_rate_radps", "yaw_rate_radps", "roll_rate_radps")
_PUSH = ("x_N", "y_N", "z_N", "roll_Nm", "pitch_Nm", "yaw_Nm")
COLUMNS = (
    *(f"{end}.{name}" for end in ("nose", "tail") for name in (*_UNIT, "hook_load_N")),
    *(f"load.{name}" for name in (*_POSE, *_SPEED)),
    *(f"load.{what}_{name}" for what in ("ground", "other") for name in _PUSH),
    "load.road_N",
)
"""Channels of the readings, in the order of a row."""


@dataclass(frozen=True)
class Telemetry:
    """One row a step; `tips_m` and the like are by unit (nose, tail)."""

    tips_m: Array
    lines_m: Array
    stiffness_N_per_m: Array
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

    def __len__(self) -> int:
        return len(self.pose)

    def between(self, first: int, last: int) -> Telemetry:
        """Rows `first` to `last`, both included."""
        return Telemetry(*(getattr(self, field.name)[first : last + 1] for field in fields(self)))


def turns(pose: Array) -> Rotation:
    """Rz(yaw) Ry(pitch) Rx(roll) of poses."""
    return Rotation.from_euler("ZYX", pose[..., [4, 3, 5]])


def record(states: Iterable[State], reference_m: tuple[float, float, float]) -> Telemetry:
    """Telemetry of successive states.

    Args:
        states: as the engine leaves them after each step.
        reference_m: stated CG, which pose readings are of, from the true CG, lying axes.
    """
    rows = array("d")
    count = 0
    for state in states:
        count += 1
        for unit in state.units:
            rows.extend((*unit.tip, unit.line_m, unit.stiffness, unit.damper, unit.hook_load_N))
        m = state.motion
        rows.extend(m[:15])
        rows.extend((*state.ground[:6], *state.other, state.ground.road_N))
    return _arranged(np.array(rows).reshape(count, -1), np.array(reference_m))


def _arranged(rows: Array, reference: Array) -> Telemetry:
    """Rows of the engine's numbers, which are of the true CG, as readings of the reference point."""
    units = rows[:, :14].reshape(-1, 2, 7)
    pose, speed, turning = rows[:, 14:20], rows[:, 20:26], rows[:, 26:29]
    arm = turns(pose).apply(reference)
    pose, speed = pose.copy(), speed.copy()
    pose[:, :3] += arm
    speed[:, :3] += np.cross(turning, arm)
    return Telemetry(
        tips_m=units[:, :, :3],
        lines_m=units[:, :, 3],
        stiffness_N_per_m=units[:, :, 4],
        damper_N_s_per_m=units[:, :, 5],
        hook_N=units[:, :, 6],
        pose=pose,
        speed=speed,
        ground=rows[:, 29:35],
        other=rows[:, 35:41],
        road_N=rows[:, 41],
    )


def row(telemetry: Telemetry, at: int) -> dict[str, float]:
    """One row by the names of its channels."""
    t = telemetry
    units = [
        value
        for i in (0, 1)
        for value in (
            *t.tips_m[at, i],
            *(part[at, i] for part in (t.lines_m, t.stiffness_N_per_m, t.damper_N_s_per_m, t.hook_N)),
        )
    ]
    numbers = (*units, *t.pose[at], *t.speed[at], *t.ground[at], *t.other[at], t.road_N[at])
    return {name: float(number) for name, number in zip(COLUMNS, numbers, strict=True)}

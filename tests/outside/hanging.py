"""Where the load would hang still: the quasi-static value of pose and line loads under present tips and lines.

Statics alone, for all moments at once: the pose at which the lines' elastic pulls balance the weight, by Newton's
method. Stretch is worked out in the trailer's own axes, where a bridle's rod stands in the plane along the trailer and
a single point's rod in line with the rope.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer_body import Body, body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.trailer import Pick, Trailer
from tests.outside.telemetry import Array, Telemetry, turns

ROUNDS = 25
NUDGE = 1e-6
BALANCED = 1e-7
"""Share of the weight that may be left over at rest."""


class Hanging(NamedTuple):
    """Poses of the reference point, and pulls at the hooks."""

    pose: Array
    hook_N: Array


def _pull(pick: Pick, from_pick: Array, length: Array, stiffness: Array) -> tuple[Array, Array]:
    """Size of a line's pull, and the force, in the trailer's axes; a line that hangs loose pushes, to guide Newton."""
    along = from_pick.copy()
    if pick.pivot == "bridle_across":
        along[:, 1] = 0.0
    rope = from_pick - pick.height_m * along / np.linalg.norm(along, axis=1, keepdims=True)
    distance = np.linalg.norm(rope, axis=1)
    size = stiffness * (distance - length)
    return size, (size / distance)[:, None] * rope


def _loads(trailer: Trailer, b: Body, pose: Array, t: Telemetry) -> tuple[Array, Array]:
    """What is left over of force and moment about the CG, in the trailer's axes (N, and N m over 5 m); both pulls.

    Args:
        pose: of the true CG.
    """
    turn = turns(pose).inv()
    force = turn.apply([0.0, 0.0, -b.mass_kg * STANDARD_GRAVITY_MPS2])
    moment, pulls = np.zeros_like(force), np.zeros((len(pose), 2))
    for end, pick in enumerate(trailer.picks):
        tip = turn.apply(t.tips_m[:, end] - pose[:, :3])
        at = np.subtract(b.picks_m[end], b.cg_m)
        pulls[:, end], pulled = _pull(pick, tip - at, t.lines_m[:, end], t.stiffness_N_per_m[:, end])
        force, moment = force + pulled, moment + np.cross(tip, pulled)
    return np.column_stack([force, moment / 5.0]), pulls


def hanging(trailer: Trailer, telemetry: Telemetry) -> Hanging:
    """Poses and pulls at rest for each row.

    Raises:
        ArithmeticError: when some row has not come to rest, or would hang from one line.
    """
    b = body(trailer)
    weight = b.mass_kg * STANDARD_GRAVITY_MPS2
    pose = telemetry.pose.copy()
    pose[:, 5] = 0.0
    pose[:, :3] += turns(pose).apply(b.cg_m)
    pose[:, :2] = telemetry.tips_m[:, :, :2].mean(axis=1)
    for _ in range(ROUNDS):
        left, pulls = _loads(trailer, b, pose, telemetry)
        if np.all(np.abs(left) < BALANCED * weight):
            break
        slopes = [(_loads(trailer, b, pose + nudge, telemetry)[0] - left) / NUDGE for nudge in NUDGE * np.eye(6)]
        step = np.linalg.solve(np.stack(slopes, axis=2), -left[:, :, None])[:, :, 0]
        pose += step * np.minimum(1.0, 0.3 / np.abs(step).max(axis=1, keepdims=True))
    else:
        raise ArithmeticError("no place to hang still")
    if not np.all(pulls > 0.0):
        raise ArithmeticError("hangs from one line")
    pose[:, :3] -= turns(pose).apply(b.cg_m)
    return Hanging(pose, pulls)

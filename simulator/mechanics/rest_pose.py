"""Where a rigid body hung on lines comes to rest: least potential energy over place and turning, in three dimensions.

Energy is weight times height of the center of gravity, and k s^2 / 2 for each line stretched by s; a slack line has
none. Slope and stiffness of it are exact, so Newton's method settles in a few rounds; where the energy is no bowl
(a load that would turn over) a step goes down along each main direction of the stiffness by the size of its curvature,
and never up. Turning is added in the body's own axes, so no attitude is singular.

Axes and signs as everywhere: R = Rz(yaw) Ry(pitch) Rx(roll), body to world.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, atan2, cos, hypot, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.line_path import LinePath
from simulator.mechanics.trailer_body import Vector, rotation

Array = NDArray[np.float64]

ALL = (0, 1, 2, 3, 4, 5)
"""Free to move along and turn about x, y, z of the body."""
SECTION = (1, 2, 3)
"""Free in the plane across only: y, z, roll."""
ROUNDS = 300
BALANCED = 1e-10
"""Of the weight: force that may be left over at rest."""
LONGEST_STEP_M = 0.5
"""In one round: of the center of gravity, or of the farthest sheave's place by turning."""
FIRM_PER_M = 50.0
"""Stiffness of lines that do not stretch, in weights, while their pulls are sought: stiffer ones would throw the load
out of the rest it is in when a line has just been hauled."""
STEADY = 1e-6
"""Stiffness under this, in weights per meter, counts as none: it stays where it is put."""


SAME = np.eye(3)


class Line(NamedTuple):
    """A line that only pulls."""

    sheave_m: Vector
    """In the world."""
    length_m: float
    """Sheave to hook, unloaded."""
    stiffness_N_per_m: float
    path: LinePath
    """In the body's axes, from its center of gravity."""


class Pose(NamedTuple):
    """Where a body is: its center of gravity, and its axes as columns."""

    cg_m: Array
    turn: Array

    @property
    def pitch_rad(self) -> float:
        """Nose up."""
        return asin(min(1.0, max(-1.0, -float(self.turn[2, 0]))))

    @property
    def yaw_rad(self) -> float:
        """Tail toward the road."""
        return atan2(float(self.turn[1, 0]), float(self.turn[0, 0]))

    @property
    def roll_rad(self) -> float:
        """Road side up."""
        return atan2(float(self.turn[2, 1]), float(self.turn[2, 2]))


class Rest(NamedTuple):
    """A body at rest."""

    pose: Pose
    pulls_N: tuple[float, ...]
    least_stiffness_N_per_m: float
    """Least main stiffness against being moved or turned; negative: it leaves this place by itself."""
    settled: bool
    """False: nothing holds it (it falls), or no rest was found."""
    weight_N: float

    @property
    def slack(self) -> tuple[bool, ...]:
        """Which lines carry nothing."""
        return tuple(pull == 0.0 for pull in self.pulls_N)

    @property
    def stable(self) -> bool:
        """It comes back, or (about a single line) stays as it is turned."""
        return self.settled and self.least_stiffness_N_per_m > -STEADY * self.weight_N


class _Energy(NamedTuple):
    """Over the weight: energy in m, its slope and stiffness in steps of the body's own axes."""

    value: float
    slope: Array
    stiffness: Array
    pulls: Array


def pose_of(cg_m: Vector, pitch_rad: float = 0.0, yaw_rad: float = 0.0, roll_rad: float = 0.0) -> Pose:
    """A pose by its angles."""
    return Pose(np.array(cg_m, dtype=float), np.array(rotation(pitch_rad, yaw_rad, roll_rad)).reshape(3, 3))


def _cross(v: Array) -> Array:
    """The matrix that is v times, in the sense of vectors."""
    x, y, z = v
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


def _moved(pose: Pose, step: Array) -> Pose:
    """Moved and then turned by a step in the body's own axes."""
    cg = pose.cg_m + pose.turn @ step[:3]
    angle = float(np.linalg.norm(step[3:]))
    if angle == 0.0:
        return Pose(cg, pose.turn)
    about = _cross(step[3:] / angle)
    turned = pose.turn @ (SAME + sin(angle) * about + (1.0 - cos(angle)) * about @ about)
    return Pose(cg, turned)


def _energy(weight_N: float, lines: Sequence[Line], lengths_m: Array, pose: Pose) -> _Energy:
    value = float(pose.cg_m[2])
    slope, stiffness, pulls = np.zeros(6), np.zeros((6, 6)), np.zeros(len(lines))
    slope[:3] = pose.turn[2]
    for i, line in enumerate(lines):
        at = (line.sheave_m - pose.cg_m) @ pose.turn
        reach = line.path.reach(at)
        stretch = reach.distance_m - lengths_m[i]
        if stretch <= 0.0:
            continue
        k, g = line.stiffness_N_per_m / weight_N, reach.toward
        value += 0.5 * k * stretch**2
        pulls[i] = line.stiffness_N_per_m * stretch
        moves = np.empty((3, 6))  # the sheave's place in body axes, by a step of the body
        moves[:, :3], moves[:, 3:] = -SAME, _cross(at)
        grows = g @ moves
        second = moves.T @ reach.bend_per_m @ moves  # and by the second order of turning
        about, square = _cross(g), g[:, None] * at
        second[:3, 3:] += about
        second[3:, :3] -= about
        second[3:, 3:] += 0.5 * (square + square.T) - (g @ at) * SAME
        slope += k * stretch * grows
        stiffness += k * (grows[:, None] * grows + stretch * second)
    return _Energy(value, slope, stiffness, pulls)


def level_start(lines: Sequence[Line]) -> Pose:
    """Level, under the middle of its sheaves, its lines about taut: a start for want of a better one."""
    middle = np.mean([line.sheave_m for line in lines], axis=0)
    low = min(float(middle[2]) - line.length_m for line in lines)
    pose = Pose(np.array([middle[0], middle[1], low]), np.eye(3))
    reach = [line.path.reach(line.sheave_m - pose.cg_m).distance_m - line.length_m for line in lines]
    pose.cg_m[2] += max(reach)
    return pose


def rest(
    weight_N: float,
    lines: Sequence[Line],
    *,
    start: Pose | None = None,
    free: tuple[int, ...] = ALL,
    falls: bool = False,
) -> Rest:
    """The pose of least energy that a body reaches from a start, going down all the way.

    Args:
        weight_N: of the body.
        lines: any number of them.
        start: where the search begins; `level_start` if left out. Of several rests the one below it is found.
        free: steps that are allowed, of `ALL`.
        falls: push it off a place where it stands on a knife's edge (`stable` false); otherwise that is the answer.
    """
    return _rest(weight_N, lines, np.array([line.length_m for line in lines]), start or level_start(lines), free, falls)


def _rest(weight_N: float, lines: Sequence[Line], lengths: Array, at: Pose, free: tuple[int, ...], falls: bool) -> Rest:
    some = list(free)
    arm = _arm_m(lines, at)
    scale = np.array([1.0, 1.0, 1.0, arm, arm, arm])[some]
    settled, pushed = False, False
    now = _energy(weight_N, lines, lengths, at)
    slope, main, axes = _main(now, some, scale)
    for _ in range(ROUNDS):
        settled = bool(np.linalg.norm(slope) < BALANCED)
        if settled and (pushed or not falls or main[0] > -STEADY):
            break
        if settled:
            pushed, step = True, 0.01 * axes[:, 0]
        else:
            step = -axes @ ((axes.T @ slope) / np.maximum(np.abs(main), 1e-6))
            step *= min(1.0, LONGEST_STEP_M / float(np.linalg.norm(step)))
        at, now, went = _down(weight_N, lines, lengths, at, now, some, step / scale, float(slope @ step))
        if not went:
            settled = bool(np.linalg.norm(slope) < 1e4 * BALANCED)  # as near as rounding lets it come
            break
        slope, main, axes = _main(now, some, scale)
    return Rest(at, tuple(float(pull) for pull in now.pulls), float(main[0]) * weight_N, settled, weight_N)


def _arm_m(lines: Sequence[Line], at: Pose) -> float:
    """A length of the body by which turning is weighed: from its center of gravity to where its farthest line pulls."""
    arms = [1.0]
    for line in lines:
        sheave = (line.sheave_m - at.cg_m) @ at.turn
        (x, y, z), (u, v, w) = sheave.tolist(), line.path.reach(sheave).toward.tolist()
        arms.append(hypot(y * w - z * v, z * u - x * w, x * v - y * u))
    return max(arms)


def _main(now: _Energy, some: list[int], scale: Array) -> tuple[Array, Array, Array]:
    """Slope, main stiffnesses in rising order and their axes, of the steps that are free."""
    main, axes = np.linalg.eigh(now.stiffness[some][:, some] / (scale[:, None] * scale))
    return now.slope[some] / scale, main, axes


def _down(
    weight_N: float,
    lines: Sequence[Line],
    lengths: Array,
    at: Pose,
    now: _Energy,
    some: list[int],
    step: Array,
    falls_m: float,
) -> tuple[Pose, _Energy, bool]:
    """The step, or a part of it, that goes down; whether there is one."""
    full = np.zeros(6)
    full[some] = step
    rounding = 1e-15 * (1.0 + abs(now.value))
    for halvings in range(40):
        part = 0.5**halvings
        pose = _moved(at, part * full)
        then = _energy(weight_N, lines, lengths, pose)
        if then.value <= now.value + 1e-4 * part * falls_m + rounding:
            return pose, then, True
    return at, now, False


def rest_unstretched(
    weight_N: float,
    lines: Sequence[Line],
    *,
    start: Pose | Rest | None = None,
    free: tuple[int, ...] = ALL,
    falls: bool = False,
    rounds: int = 100,
) -> Rest:
    """`rest` on lines that do not stretch; their own stiffness is not asked for.

    Each is taken as elastic and shortened by its stretch until it is, loaded, as long as it has to be (the method of
    multipliers, any text on constrained optimization). A rest just before is the nearest start: its pulls are known.

    Args:
        weight_N: as in `rest`, and so are the others.
        lines: of any stiffness.
        start: a pose, or a rest a little earlier.
        free: steps that are allowed.
        falls: off a knife's edge.
        rounds: at most so many; one is enough to follow a load from rest to rest, a few millimeters off.
    """
    stiff = FIRM_PER_M * weight_N
    firm = [line._replace(stiffness_N_per_m=stiff) for line in lines]
    wanted = np.array([line.length_m for line in lines])
    pulls, at = np.zeros(len(lines)), start or level_start(lines)
    if isinstance(at, Rest):
        pulls, at = np.array(at.pulls_N), at.pose
    for _ in range(rounds):
        found = _rest(weight_N, firm, wanted - pulls / stiff, at, free, falls)
        change = np.abs(np.array(found.pulls_N) - pulls).max()
        pulls, at = np.array(found.pulls_N), found.pose
        if change < 1e-7 * weight_N:
            break
    return found

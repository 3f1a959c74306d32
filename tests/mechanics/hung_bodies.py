"""Random bodies on lines, and their least potential energy by scipy alone, without the code under test."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

from simulator.mechanics.line_path import Bridle, Straight
from simulator.mechanics.rest_pose import Line, Pose

Array = NDArray[np.float64]


class Case(NamedTuple):
    """A body: weight in N, one row or value a line."""

    weight_N: float
    sheaves_m: Array
    picks_m: Array
    lengths_m: Array
    stiffness_N_per_m: Array
    rigging_m: Array
    bridle: Array

    @property
    def lines(self) -> list[Line]:
        """As the code under test wants them."""
        return [
            Line(tuple(sheave), length, k, (Bridle if bridle else Straight)(tuple(pick), height))
            for _, sheave, pick, length, k, height, bridle in (
                (None, *values) for values in zip(*(column.tolist() for column in self[1:]), strict=True)
            )
        ]


def random_case(rng: np.random.Generator, *, bridles: bool) -> Case:
    """Two to four lines over a long load, unlike in length (some slack); CG below, beside and over the picks."""
    count = int(rng.integers(2, 5))
    ends = np.array([-1.0, 1.0, -1.0, 1.0])[:count]
    beside = np.array([-1.0, -1.0, 1.0, 1.0])[:count] if count == 4 else np.array([0.0, 1.0, -1.0])[:count]
    low = 0.2 if count == 2 else -0.4
    picks = np.column_stack(
        [
            ends * rng.uniform(4.0, 7.0, count),
            beside * rng.uniform(0.5, 1.3) + rng.uniform(-0.2, 0.2, count),
            np.full(count, rng.uniform(low, 2.0)) + rng.uniform(-0.1, 0.1, count),
        ]
    )
    picks[:, 0] += rng.uniform(-2.0, 2.0)
    sheaves = picks * (rng.uniform(0.8, 1.1), 1.0, 0.0) + rng.normal(0.0, 0.3, (count, 3)) + (0.0, 0.0, 14.0)
    rigging = rng.uniform(0.5, 3.0, count)
    lengths = rng.uniform(6.0, 9.0) - rigging + rng.normal(0.0, rng.choice([0.01, 0.1, 0.3]), count)
    bridle = rng.random(count) < 0.5 if bridles else np.zeros(count, dtype=bool)
    return Case(
        rng.uniform(0.5, 3.0) * 1e5, sheaves, picks, lengths, rng.uniform(0.5, 3.0, count) * 1e6, rigging, bridle
    )


def distances_m(case: Case, q: Array) -> Array:
    """Sheave to hook at (x, y, z, pitch, yaw, roll); a bridle's hook stays in the plane along the body."""
    return np.asarray(np.linalg.norm(case.sheaves_m - _hooks_m(case, q), axis=1))


def _turn(q: Array) -> Rotation:
    return Rotation.from_euler("ZYX", [q[4], q[3], q[5]])


def _hooks_m(case: Case, q: Array) -> Array:
    turn = _turn(q)
    picks = q[:3] + turn.apply(case.picks_m)
    ways = case.sheaves_m - picks
    across = turn.apply([0.0, 1.0, 0.0])
    level = np.where(case.bridle[:, None], ways - np.outer(ways @ across, across), ways)
    return np.asarray(picks + level * (case.rigging_m / np.linalg.norm(level, axis=1))[:, None])


def _axes(q: Array) -> Array:
    """About which the body turns as pitch, yaw and roll grow."""
    yaw, pitch = Rotation.from_euler("Z", q[4]), Rotation.from_euler("ZY", [q[4], q[3]])
    return np.array([yaw.apply([0.0, 1.0, 0.0]), [0.0, 0.0, 1.0], pitch.apply([1.0, 0.0, 0.0])])


def _energy_m(case: Case, q: Array) -> tuple[float, Array]:
    """Energy over the weight, and its slope by Newton's balance: forces, and moments about each angle's axis."""
    hooks = _hooks_m(case, q)
    ways = case.sheaves_m - hooks
    distances = np.linalg.norm(ways, axis=1)
    stretch = np.maximum(0.0, distances - case.lengths_m)
    k = case.stiffness_N_per_m / case.weight_N
    forces = (k * stretch / distances)[:, None] * ways
    moment = np.cross(hooks - q[:3], forces).sum(axis=0)
    slope = np.concatenate([np.array([0.0, 0.0, 1.0]) - forces.sum(axis=0), -_axes(q) @ moment])
    return float(q[2] + (0.5 * k * stretch**2).sum()), slope


class Lowest(NamedTuple):
    """By scipy."""

    q: Array
    """x, y, z, pitch, yaw, roll."""
    pulls_N: Array

    def off_deg(self, turn: Array) -> float:
        """Angle between its attitude and another."""
        return float(np.degrees((_turn(self.q).inv() * Rotation.from_matrix(turn)).magnitude()))


def place_of(pose: Pose) -> Array:
    """x, y, z, pitch, yaw, roll of a pose."""
    return np.array([*pose.cg_m, pose.pitch_rad, pose.yaw_rad, pose.roll_rad])


def nudged(pose: Pose, rng: np.random.Generator) -> Array:
    """A start for scipy some centimeters and degrees off a pose."""
    return np.asarray(place_of(pose) + rng.uniform(-0.03, 0.03, 6))


def nearest_rest(case: Case, pose: Pose) -> Lowest:
    """Where Newton's balance holds nearest to a pose: one step of Newton's, its stiffness by differences of the slope.

    Raises:
        ArithmeticError: the energy is no bowl there, so what is near is no rest.
    """
    q, nudges = place_of(pose), 1e-6 * np.eye(6)
    bowl = np.array([_energy_m(case, q + one)[1] - _energy_m(case, q - one)[1] for one in nudges]) / 2e-6
    if np.linalg.eigvalsh(bowl + bowl.T)[0] < -1e-4:
        raise ArithmeticError("the energy falls away")
    return _loaded(case, q - np.linalg.lstsq(bowl, _energy_m(case, q)[1], rcond=1e-8)[0])


def _loaded(case: Case, q: Array) -> Lowest:
    stretch = np.maximum(0.0, distances_m(case, q) - case.lengths_m)
    return Lowest(q, case.stiffness_N_per_m * stretch)


def least_energy(case: Case, near: Array | None = None) -> Lowest:
    """Least energy by quasi-Newton, from level under the sheaves or from nearby."""
    q = np.zeros(6)
    q[:3] = case.sheaves_m.mean(axis=0) - (0.0, 0.0, (case.lengths_m + case.rigging_m).min())
    q[2] -= case.picks_m[:, 2].mean()
    q = q if near is None else near
    for _ in range(8):
        was = q
        q = minimize(lambda q: _energy_m(case, q), q, method="BFGS", jac=True, options={"gtol": 1e-11}).x
        if np.abs(q - was).max() < 1e-8:
            break
    return _loaded(case, q)


def lowest_unstretched(case: Case, pose: Pose, rng: np.random.Generator) -> Lowest:
    """Lowest CG with no line longer than it is, by scipy's SLSQP from near a pose; straight lines.

    Raises:
        ArithmeticError: scipy found none from ten places.
    """

    def shortens(q: Array) -> Array:
        """How much less each line needs as the body moves: a hook lies on the way from its pick to the sheave."""
        arms = _turn(q).apply(case.picks_m)
        ways = case.sheaves_m - q[:3] - arms
        ways /= np.linalg.norm(ways, axis=1)[:, None]
        return np.hstack([ways, np.cross(arms, ways) @ _axes(q).T])

    bound = {"type": "ineq", "fun": lambda q: case.lengths_m - distances_m(case, q), "jac": shortens}
    up = np.eye(6)[2]
    for _ in range(10):
        found = minimize(
            lambda q: q[2],
            nudged(pose, rng),
            jac=lambda q: up,
            method="SLSQP",
            constraints=bound,
            options={"ftol": 1e-14, "maxiter": 300},
        )
        if found.success and (distances_m(case, found.x) < case.lengths_m + 1e-6).all():
            return Lowest(np.asarray(found.x), np.full(len(case.lengths_m), np.nan))
    raise ArithmeticError("scipy found no lowest place")

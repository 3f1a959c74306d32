"""The static pose of a hung body from its potential energy alone, by scipy: no force, no moment, no time."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

from simulator.engine.simulation import Simulation

Array = NDArray[np.float64]


class Rest(NamedTuple):
    """Where the CG rests, how the body is turned, and what each line pulls."""

    at_m: Array
    pitch_yaw_roll_rad: Array
    pulls_N: Array


class Hangs(NamedTuple):
    """What hangs: tips, unloaded lines, stiffnesses, picks from the CG, rigging, weight."""

    tips_m: Array
    lines_m: Array
    stiffness_N_per_m: Array
    picks_m: Array
    rigging_m: Array
    bridle: bool
    weight_N: float


def hangs_of(simulation: Simulation) -> Hangs:
    """The numbers of a scene as it stands."""
    lines, models = simulation.state.lines, simulation.model.lines
    return Hangs(
        np.array([line.sheave for line in lines]),
        np.array([line.line_m for line in lines]),
        np.array([line.stiffness for line in lines]),
        np.array([model.pick_m for model in models]),
        np.array([model.pick.height_m for model in models]),
        models[0].numbers.across_rigid,
        simulation.model.weight_N,
    )


def distances_m(hangs: Hangs, q: Array) -> Array:
    """Sheave to hook. A bridle's hook turns about the pick line by an angle of its own (the last coordinates)."""
    turn = Rotation.from_euler("ZYX", [q[4], q[3], q[5]])
    if not hangs.bridle:
        picks = q[:3] + turn.apply(hangs.picks_m)
        return np.asarray(np.linalg.norm(hangs.tips_m - picks, axis=1) - hangs.rigging_m)
    arms = [[h * np.sin(b), 0.0, h * np.cos(b)] for h, b in zip(hangs.rigging_m, q[6:], strict=True)]
    hooks = q[:3] + turn.apply(hangs.picks_m + np.array(arms))
    return np.asarray(np.linalg.norm(hangs.tips_m - hooks, axis=1))


def at_rest(hangs: Hangs) -> Rest:
    """Least potential energy over x, y, z, pitch, yaw, roll (and the bridles' own angles)."""

    def potential_m(q: Array) -> float:
        stretch = np.maximum(0.0, distances_m(hangs, q) - hangs.lines_m)
        return float(q[2] + (0.5 * hangs.stiffness_N_per_m * stretch**2).sum() / hangs.weight_N)

    q = np.zeros(6 + len(hangs.lines_m))
    q[:3] = hangs.tips_m.mean(axis=0)
    q[2] -= (hangs.lines_m + hangs.rigging_m).mean() + hangs.picks_m[:, 2].mean()
    for _ in range(4):
        q = minimize(potential_m, q, method="BFGS", jac="3-point", options={"gtol": 1e-9, "maxiter": 2000}).x
    pulls = hangs.stiffness_N_per_m * np.maximum(0.0, distances_m(hangs, q) - hangs.lines_m)
    return Rest(q[:3], q[3:6], pulls)

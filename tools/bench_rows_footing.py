"""Benchmark rows of the footing: one scalar solve against numpy's own solver, and batches for planning."""

from __future__ import annotations

from collections.abc import Callable
from math import radians
from time import perf_counter

import numpy as np

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.footing import Stand, footing, own_load_many, pull_load, stand, together
from simulator.mechanics.outriggers import solve, solve_many
from simulator.mechanics.rating import tipping_load_many
from tests.demo import demo_unit

BATCH = 20_000
UNIT = demo_unit(slew_axis_x_m=-9.0)
"""Invented numbers; the time of a solve does not depend on them."""


def _best_s(work: Callable[[], object], calls: int) -> float:
    """Least time of one call over five rounds: other work on the machine only ever adds."""
    rounds = []
    for _ in range(5):
        start = perf_counter()
        for _ in range(calls):
            work()
        rounds.append((perf_counter() - start) / calls)
    return min(rounds)


def scalar_solve_row() -> tuple[str, str]:
    """One unilateral solve with a float off, and the time of three 4x4 solves by numpy."""
    floats = stand(UNIT).frame
    ours = _best_s(lambda: solve(floats, 540e3, 240e3, -1315e3), 5000)
    matrix, load = np.diag([4.0, 3.0, 2.0, 5.0]) + 1.0, np.ones(4)
    theirs = 3.0 * _best_s(lambda: np.linalg.solve(matrix, load), 5000)
    return "float solve, one", f"{ours * 1e6:.1f} us (3 numpy 4x4 solves: {theirs * 1e6:.1f} us)"


def scalar_footing_row() -> tuple[str, str]:
    """Weights, pull and solve: what the engine does for a unit."""
    on, pose = stand(UNIT), BoomPose(11.7, radians(35.0), radians(-71.0))
    took = _best_s(lambda: footing(on, pose, (2.7, -8.0, 9.3), (0.0, 0.0, -132e3)), 5000)
    return "unit footing, one", f"{took * 1e6:.1f} us"


def _stations() -> tuple[Stand, dict[str, np.ndarray]]:
    draw = np.random.default_rng(1)
    low_high = {"length": (7.0, 14.0), "elevation": (0.3, 1.0), "slew": (-1.7, 1.7), "force": (-2e5, 0.0)}
    low_high |= {"u": (-3.0, 5.0), "v": (-8.0, 8.0), "z": (8.0, 12.0), "radius": (2.0, 9.0)}
    return stand(UNIT), {name: draw.uniform(*span, BATCH) for name, span in low_high.items()}


def batch_row() -> tuple[str, str]:
    """Weights, pull, floats, tipping load and capacity of many unit-stations at once."""
    on, at = _stations()
    still = np.zeros(BATCH)

    def work() -> None:
        own = own_load_many(on, at["length"], at["elevation"], at["slew"])
        tip = (at["u"], at["v"], at["z"])
        solve_many(on.frame, *together(own, pull_load(on, tip, (still, still, at["force"]))))
        tipping_load_many(on, own, tip)

    return "footing and tipping load, batch", f"{BATCH / _best_s(work, 1):,.0f} unit-stations/s"


def rows() -> list[tuple[str, str]]:
    """All rows of this module."""
    return [scalar_solve_row(), scalar_footing_row(), batch_row()]

"""Forces of a few one-way springs that hold a rigid body still: lines that only pull, floats that only push.

Of all forces that balance the load and are nowhere negative, springs choose those of least elastic energy,
sum f^2 / 2k. Whatever springs carry something in the end, their forces are the least-energy balance of just those
springs; so with a handful of springs each choice of them is tried, and the least energy among the balances without a
negative force is the answer. Nothing iterates, and nothing depends on a start.

Four floats under a frame are the same problem with three balances. `mechanics.outriggers` keeps a closed form of its
own for it: it is worked out in every step of a lift, where trying all choices would cost a hundred times more, and its
last bits are part of the state's hash. Tests hold the two against each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simulator.mechanics.trailer_body import Vector

Array = NDArray[np.float64]

MOST = 8
"""Springs: 255 choices of them."""
ROUNDING = 1e-9
"""Of the load: less than this counts as nothing."""


class Held(NamedTuple):
    """The springs' answer to a load."""

    forces_N: tuple[float, ...]
    balances: bool
    """False: no set of one-way forces holds this load; then the forces leave the least of it over (least squares)."""
    left_over: tuple[float, ...]
    """Load less what the springs give, row by row."""

    @property
    def slack(self) -> tuple[bool, ...]:
        """Which springs carry nothing."""
        return tuple(force == 0.0 for force in self.forces_N)


def solve(
    columns: ArrayLike, stiffness_N_per_m: ArrayLike, load: ArrayLike, *, loose_m: ArrayLike | None = None
) -> Held:
    """One-way forces that balance a load with least elastic energy.

    Args:
        columns: (balances, springs), what a unit force of each spring gives to each balance. Rows of unlike units
            (moments) are divided by a length of the body first, so that what is left over can be compared.
        stiffness_N_per_m: of each spring.
        load: what the springs have to add up to, row by row.
        loose_m: way that each spring goes before it bears (ground that has settled, a line that is longer), if any.

    Raises:
        ValueError: no spring, or more than `MOST`; stiffness not positive.
    """
    gives, stiffness, wanted = np.array(columns, dtype=float), np.array(stiffness_N_per_m, dtype=float), np.array(load)
    count = gives.shape[1]
    if not 1 <= count <= MOST or not (stiffness > 0.0).all():
        raise ValueError(f"{count} springs of stiffness {stiffness.tolist()}: 1 to {MOST}, each stiffer than 0 N/m")
    root = np.sqrt(stiffness)  # in force / root the energy is half a sum of squares
    free = np.zeros(count) if loose_m is None else -root * np.asarray(loose_m, dtype=float)
    nothing = ROUNDING * float(np.abs(wanted).max())
    found: list[tuple[float, float, Array]] = []
    for size in range(count, -1, -1):
        for chosen in combinations(range(count), size):
            scaled = _least_energy(gives * root, free, wanted, chosen)
            forces = scaled * root
            if (forces < -nothing).any():
                continue
            left = float(np.linalg.norm(wanted - gives @ forces))
            found.append((left, float(((scaled - free) ** 2).sum()), np.where(forces > nothing, forces, 0.0)))
            if size == count and left <= nothing:
                return _held(gives, found[0][2], wanted, nothing)
    least = min(left for left, _, _ in found)
    _, _, forces = min((one for one in found if one[0] <= least + nothing), key=lambda one: one[1])
    return _held(gives, forces, wanted, nothing)


def _least_energy(gives: Array, free: Array, wanted: Array, chosen: tuple[int, ...]) -> Array:
    """Scaled forces of the chosen springs, signs free: nearest to the balance, and of those of least energy."""
    scaled = np.zeros(len(free))
    if chosen:
        some = list(chosen)
        part = gives[:, some]
        more = np.linalg.lstsq(part, wanted - part @ free[some], rcond=ROUNDING)[0]
        scaled[some] = free[some] + more
    return scaled


def _held(gives: Array, forces: Array, wanted: Array, nothing: float) -> Held:
    left = wanted - gives @ forces
    enough = 100.0 * nothing * max(1.0, float(np.abs(gives).max()))
    return Held(tuple(map(float, forces)), bool(np.abs(left).max() <= enough), tuple(map(float, left)))


def line_columns(directions: Sequence[Vector], arms_m: Sequence[Vector], length_m: float) -> Array:
    """Columns of lines for `solve`: three forces, then three moments over `length_m`.

    Args:
        directions: unit vectors, from the load to the sheave.
        arms_m: where each pulls, from the point about which moments are taken.
        length_m: a length of the body, such as half the distance of its picks.
    """
    along, arms = np.array(directions, dtype=float), np.array(arms_m, dtype=float)
    return np.vstack([along.T, np.cross(arms, along).T / length_m])


def line_pulls(
    directions: Sequence[Vector],
    arms_m: Sequence[Vector],
    stiffness_N_per_m: Sequence[float],
    weight_N: float,
    *,
    length_m: float = 1.0,
) -> Held:
    """What each line pulls of a weight at a given pose.

    Args:
        directions: unit vectors, from the load to the sheave; (0, 0, 1) for a plumb line.
        arms_m: where each pulls, from the center of gravity, in the same axes.
        stiffness_N_per_m: of each line.
        weight_N: of the load.
        length_m: as in `line_columns`.
    """
    columns = line_columns(directions, arms_m, length_m)
    return solve(columns, stiffness_N_per_m, (0.0, 0.0, weight_N, 0.0, 0.0, 0.0))

"""A rigid frame over four floats, each on its own spring, that can only push.

`four_floats` has the mechanics; here a frame is made, and one load or many at once are put on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simulator.mechanics.four_floats import EDGE, LEVEL_GROUND, Frame, stood
from simulator.mechanics.four_floats import Four as Four

FloatArray = NDArray[np.float64]


class Footing(NamedTuple):
    """How the frame stands."""

    reactions_N: Four
    tips: bool
    """No set of pushing reactions balances; the reactions then only add up to the vertical load."""
    sink_m: float
    """Frame's sinking at the slew axis; at (u, v) it is sink + lean_u u + lean_v v. Without meaning when it tips."""
    lean_u_rad: float
    lean_v_rad: float

    @property
    def off(self) -> tuple[bool, bool, bool, bool]:
        """Which floats carry nothing."""
        a, b, c, d = self.reactions_N
        return a == 0.0, b == 0.0, c == 0.0, d == 0.0


class FootingMany(NamedTuple):
    """Many footings: reactions and off are (n, 4), the others (n,)."""

    reactions_N: FloatArray
    off: NDArray[np.bool_]
    tips: NDArray[np.bool_]
    sink_m: FloatArray
    lean_u_rad: FloatArray
    lean_v_rad: FloatArray


def frame(positions_m: Sequence[tuple[float, float]], stiffness_N_per_m: Sequence[float]) -> Frame:
    """Precompute a frame.

    Args:
        positions_m: (u, v) of the four floats; first and last are across from each other.
        stiffness_N_per_m: of each float with the ground under it.

    Raises:
        ValueError: the floats are not the corners of a convex outline in that order.
    """
    a, b, c, d = ((float(u), float(v)) for u, v in positions_m)
    i, j, k, m = (float(stiffness) for stiffness in stiffness_N_per_m)
    return Frame((a, b, c, d), (i, j, k, m))


def solve(
    frame: Frame, vertical_N: float, moment_u_Nm: float, moment_v_Nm: float, *, settled_m: Four | None = None
) -> Footing:
    """Reactions, floats off the ground, tipping, and how the frame sinks and leans.

    Args:
        frame: from `frame`.
        vertical_N: load, down.
        moment_u_Nm: its moment toward u (a level pull toward u adds force times height).
        moment_v_Nm: the same toward v.
        settled_m: how far the ground under each float has settled, if it has.
    """
    pushes, tips, sunk = stood(frame, (vertical_N, moment_u_Nm, moment_v_Nm), settled_m or LEVEL_GROUND)
    return Footing(pushes, tips, *sunk)


def solve_many(frame: Frame, vertical_N: ArrayLike, moment_u_Nm: ArrayLike, moment_v_Nm: ArrayLike) -> FootingMany:
    """`solve` for arrays of loads on one frame (no settlement)."""
    load = np.stack(np.broadcast_arrays(*(np.atleast_1d(a) for a in (vertical_N, moment_u_Nm, moment_v_Nm))), axis=-1)
    twist = np.array(frame.twist)
    reactions = load @ np.array(frame.share).T
    bounds = -reactions / twist
    low, high = bounds[:, [0, 3]].max(axis=1), bounds[:, [1, 2]].min(axis=1)
    raised, lowered = low > 0.0, (low <= 0.0) & (high < 0.0)
    s = np.where(raised, low, np.where(lowered, high, 0.0))
    nothing = EDGE * np.abs(reactions).sum(axis=1)
    tips = low - high > nothing
    s = np.where(tips, 0.5 * (low + high), s)
    lifted = np.where(raised & (bounds[:, 0] > bounds[:, 3]), 0, 3)
    lifted = np.where(lowered, np.where(bounds[:, 1] < bounds[:, 2], 1, 2), lifted)
    pushes = reactions + s[:, None] * twist
    pushes = np.where(pushes <= nothing[:, None], 0.0, pushes)
    total = pushes.sum(axis=1)
    held = np.divide(np.maximum(load[:, 0], 0.0), total, out=np.zeros_like(total), where=total > 0.0)
    pushes *= np.where(tips, held, 1.0)[:, None]
    sunk = np.einsum("nij,nj->ni", np.array(frame.planes)[lifted], pushes / np.array(frame.stiffness_N_per_m))
    return FootingMany(pushes, pushes == 0.0, tips, sunk[:, 0], sunk[:, 1], sunk[:, 2])

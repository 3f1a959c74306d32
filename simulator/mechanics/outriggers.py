"""A rigid frame over four floats, each on its own spring, that can only push.

Four floats and three balances (vertical, two moments) leave one spare degree: a twist t, one diagonal pressing more and
the other less, that changes no balance. All sets of reactions that balance are therefore R = R4 + s t, where R4 is what
four springs that could also pull would give. The springs' least energy lies at s = 0 (elsewhere if floats have
settled), and "push only" bounds s on both sides: the answer is the s in bounds nearest to it. No bounds left: tipping.
That is exact, with nothing to iterate.

Axes: u from the slew axis toward the tailboard, v toward the road, z up. Floats in the order tailboard-road,
tailboard-ravine, cab-road, cab-ravine. A moment "toward u" is a vertical load times its offset along u.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simulator.mechanics.trailer import Matrix

FloatArray = NDArray[np.float64]
Four = tuple[float, float, float, float]
Row = tuple[float, float, float]

EDGE = 1e-12
"""Rounding allowed before a resultant on the floats' outline counts as outside, as a share of the reactions."""
AROUND = (0, 1, 3, 2)
"""The floats in order round their outline."""
OTHERS = ((1, 2, 3), (0, 2, 3), (0, 1, 3), (0, 1, 2))
"""The three floats other than each."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Four floats, precomputed: a solve is a few multiply-adds. Build it with `frame`."""

    positions_m: tuple[tuple[float, float], ...]
    stiffness_N_per_m: Four
    share: tuple[Row, Row, Row, Row]
    """Reaction of each float to unit vertical load, moment toward u and moment toward v, were all to stay down."""
    twist: Four
    """Reactions that balance by themselves; one diagonal positive, the other negative."""
    twist_compliance: float
    """Sum of twist^2 / stiffness."""
    planes: tuple[tuple[Four, Four, Four], ...]
    """For each float: sink and leans of the plane through the other three floats' sinks."""
    outline: tuple[Row, Row, Row, Row]
    """For each edge (a, b, c): a V + b Mu + c Mv is the load's moment that holds the frame down about it."""
    flexibility: Matrix
    """Sink, lean u, lean v per vertical load, moment toward u, moment toward v; all down."""


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


def _four(values: ArrayLike) -> Four:
    a, b, c, d = (float(value) for value in np.asarray(values).ravel())
    return a, b, c, d


def _twist(corners: FloatArray) -> FloatArray:
    """The null vector of the three balances: the triangles that the other three floats make, in turn plus and minus."""
    triangles = np.linalg.det(corners) * (1.0, -1.0, 1.0, -1.0)
    if not (abs(triangles) > 1e-9).all() or (np.sign(triangles / triangles[0]) != (1, -1, -1, 1)).any():
        raise ValueError("floats must be the corners of a convex outline, first and last across from each other")
    return np.asarray(triangles / triangles[0])


def _planes(corners: FloatArray) -> tuple[tuple[Four, Four, Four], ...]:
    full = np.zeros((4, 3, 4))
    for without, plane in enumerate(np.linalg.inv(corners)):
        full[without][:, OTHERS[without]] = plane
    return tuple((_four(sink), _four(lean_u), _four(lean_v)) for sink, lean_u, lean_v in full)


def _edge(positions: list[list[float]], i: int) -> Row:
    (ua, va), (ub, vb) = positions[AROUND[i - 1]], positions[AROUND[i]]
    (uc, vc) = positions[AROUND[i - 2]]
    length = hypot(ub - ua, vb - va)
    inward_u, inward_v = (va - vb) / length, (ub - ua) / length
    if inward_u * (uc - ua) + inward_v * (vc - va) < 0.0:
        inward_u, inward_v = -inward_u, -inward_v
    return -inward_u * ua - inward_v * va, inward_u, inward_v


def frame(positions_m: ArrayLike, stiffness_N_per_m: ArrayLike) -> Frame:
    """Precompute a frame.

    Args:
        positions_m: (u, v) of the four floats; first and last are across from each other.
        stiffness_N_per_m: of each float with the ground under it.

    Raises:
        ValueError: the floats are not the corners of a convex outline in that order.
    """
    positions, stiffness = np.array(positions_m, dtype=float), np.array(stiffness_N_per_m, dtype=float)
    places = positions.tolist()
    arms = np.vstack([np.ones(4), positions.T])
    corners = arms.T[OTHERS, :]
    twist = _twist(corners)
    flexibility = np.linalg.inv((arms * stiffness) @ arms.T)
    share = stiffness[:, None] * (arms.T @ flexibility)
    rows = tuple((float(a), float(b), float(c)) for a, b, c in share)
    return Frame(
        positions_m=tuple((u, v) for u, v in places),
        stiffness_N_per_m=_four(stiffness),
        share=(rows[0], rows[1], rows[2], rows[3]),
        twist=_four(twist),
        twist_compliance=float((twist**2 / stiffness).sum()),
        planes=_planes(corners),
        outline=(_edge(places, 0), _edge(places, 1), _edge(places, 2), _edge(places, 3)),
        flexibility=tuple(float(value) for value in flexibility.ravel()),  # type: ignore[arg-type]
    )


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
    (a0, b0, c0), (a1, b1, c1), (a2, b2, c2), (a3, b3, c3) = frame.share
    r0 = a0 * vertical_N + b0 * moment_u_Nm + c0 * moment_v_Nm
    r1 = a1 * vertical_N + b1 * moment_u_Nm + c1 * moment_v_Nm
    r2 = a2 * vertical_N + b2 * moment_u_Nm + c2 * moment_v_Nm
    r3 = a3 * vertical_N + b3 * moment_u_Nm + c3 * moment_v_Nm
    nothing = EDGE * (abs(r0) + abs(r1) + abs(r2) + abs(r3))
    if settled_m is None and r0 > nothing and r1 > nothing and r2 > nothing and r3 > nothing:
        pushes = r0, r1, r2, r3
        return Footing(pushes, False, *_sunk(frame, pushes, None, 3))
    t0, t1, t2, t3 = frame.twist
    low0, low3, high1, high2 = -r0 / t0, -r3 / t3, -r1 / t1, -r2 / t2
    low = low0 if low0 > low3 else low3
    high = high1 if high1 < high2 else high2
    free = 0.0 if settled_m is None else -_twisted(frame, settled_m)
    s, lifted = free, 3
    if free < low:
        s, lifted = low, 0 if low0 > low3 else 3
    elif free > high:
        s, lifted = high, 1 if high1 < high2 else 2
    tips = low - high > nothing
    if tips:
        s = 0.5 * (low + high)
    pushes = _pushing(r0 + s * t0, r1 + s * t1, r2 + s * t2, r3 + s * t3, nothing, vertical_N if tips else None)
    return Footing(pushes, tips, *_sunk(frame, pushes, settled_m, lifted))


def _twisted(frame: Frame, settled_m: Four) -> float:
    return sum(t * g for t, g in zip(frame.twist, settled_m, strict=True)) / frame.twist_compliance


def _pushing(r0: float, r1: float, r2: float, r3: float, nothing: float, carried_N: float | None) -> Four:
    """Reactions with rounding and pulls cut off, stretched to carry `carried_N` if the frame tips."""
    if r0 <= nothing:
        r0 = 0.0
    if r1 <= nothing:
        r1 = 0.0
    if r2 <= nothing:
        r2 = 0.0
    if r3 <= nothing:
        r3 = 0.0
    if carried_N is None:
        return r0, r1, r2, r3
    total = r0 + r1 + r2 + r3
    scale = max(0.0, carried_N) / total if total > 0.0 else 0.0
    return r0 * scale, r1 * scale, r2 * scale, r3 * scale


def _sunk(frame: Frame, pushes: Four, settled_m: Four | None, lifted: int) -> Row:
    """Sink and leans of the plane through the three floats other than `lifted`."""
    k0, k1, k2, k3 = frame.stiffness_N_per_m
    r0, r1, r2, r3 = pushes
    d0, d1, d2, d3 = r0 / k0, r1 / k1, r2 / k2, r3 / k3
    if settled_m is not None:
        d0, d1, d2, d3 = d0 + settled_m[0], d1 + settled_m[1], d2 + settled_m[2], d3 + settled_m[3]
    (w0, w1, w2, w3), (u0, u1, u2, u3), (v0, v1, v2, v3) = frame.planes[lifted]
    return (
        w0 * d0 + w1 * d1 + w2 * d2 + w3 * d3,
        u0 * d0 + u1 * d1 + u2 * d2 + u3 * d3,
        v0 * d0 + v1 * d1 + v2 * d2 + v3 * d3,
    )


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

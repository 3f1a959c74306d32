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

from math import hypot
from typing import Final

from simulator.mechanics.matrix import Matrix, Vector, determinant, inverse

Four = tuple[float, float, float, float]
Places = tuple[tuple[float, float], tuple[float, float], tuple[float, float], tuple[float, float]]
Plane = tuple[Four, Four, Four]

EDGE: Final = 1e-12
"""Rounding allowed before a resultant on the floats' outline counts as outside, as a share of the reactions."""
LEVEL_GROUND: Four = (0.0, 0.0, 0.0, 0.0)
AROUND: Final = (0, 1, 3, 2)
"""The floats in order round their outline."""
OTHERS: Final = ((1, 2, 3), (0, 2, 3), (0, 1, 3), (0, 1, 2))
"""The three floats other than each."""


class Frame:
    """Four floats, precomputed: a solve is a few multiply-adds. Build it with `outriggers.frame`."""

    __slots__ = (
        "flexibility",
        "outline",
        "planes",
        "positions_m",
        "share",
        "stiffness_N_per_m",
        "twist",
        "twist_compliance",
    )

    def __init__(self, positions_m: Places, stiffness_N_per_m: Four) -> None:
        """From (u, v) of the four floats and each one's stiffness.

        Raises:
            ValueError: they are not the corners of a convex outline, first and last across from each other.
        """
        self.positions_m: Places = positions_m
        self.stiffness_N_per_m: Four = stiffness_N_per_m
        self.twist: Four = _twist(positions_m)
        """Reactions that balance by themselves; one diagonal positive, the other negative."""
        self.twist_compliance: float = 0.0
        """Sum of twist^2 / stiffness."""
        for t, k in zip(self.twist, stiffness_N_per_m, strict=True):
            self.twist_compliance += t * t / k
        self.flexibility: Matrix = _flexibility(positions_m, stiffness_N_per_m)
        """Sink, lean u, lean v per vertical load, moment toward u, moment toward v; all down."""
        shares = [_share(self.flexibility, at, k) for at, k in zip(positions_m, stiffness_N_per_m, strict=True)]
        self.share: tuple[Vector, Vector, Vector, Vector] = (shares[0], shares[1], shares[2], shares[3])
        """Reaction of each float to unit vertical load, moment toward u and moment toward v, were all to stay down."""
        planes = [_plane(positions_m, without) for without in range(4)]
        self.planes: tuple[Plane, Plane, Plane, Plane] = (planes[0], planes[1], planes[2], planes[3])
        """For each float: sink and leans of the plane through the other three floats' sinks."""
        edges = [_edge(positions_m, i) for i in range(4)]
        self.outline: tuple[Vector, Vector, Vector, Vector] = (edges[0], edges[1], edges[2], edges[3])
        """For each edge (a, b, c): a V + b Mu + c Mv is the load's moment that holds the frame down about it."""


def _corners(places: Places, without: int) -> Matrix:
    """A row (1, u, v) for each of the other three floats."""
    first, second, third = OTHERS[without]
    (ua, va), (ub, vb), (uc, vc) = places[first], places[second], places[third]
    return 1.0, ua, va, 1.0, ub, vb, 1.0, uc, vc


def _twist(places: Places) -> Four:
    """The null vector of the three balances: the triangles that the other three floats make, in turn plus and minus."""
    a, b = determinant(_corners(places, 0)), determinant(_corners(places, 1))
    c, d = determinant(_corners(places, 2)), determinant(_corners(places, 3))
    if min(abs(a), abs(b), abs(c), abs(d)) <= 1e-9 or b / a < 0.0 or c / a > 0.0 or d / a > 0.0:
        raise ValueError("floats must be the corners of a convex outline, first and last across from each other")
    return 1.0, -b / a, c / a, -d / a


def _flexibility(places: Places, stiffness: Four) -> Matrix:
    """Inverse of the sum of k (1, u, v)'(1, u, v)."""
    n = nu = nv = uu = uv = vv = 0.0
    for (u, v), k in zip(places, stiffness, strict=True):
        n, nu, nv = n + k, nu + k * u, nv + k * v
        uu, uv, vv = uu + k * u * u, uv + k * u * v, vv + k * v * v
    return inverse((n, nu, nv, nu, uu, uv, nv, uv, vv))


def _share(flexibility: Matrix, at: tuple[float, float], k: float) -> Vector:
    a, b, c, d, e, f, g, h, i = flexibility
    u, v = at
    return k * (a + u * d + v * g), k * (b + u * e + v * h), k * (c + u * f + v * i)


def _plane(places: Places, without: int) -> Plane:
    a, b, c, d, e, f, g, h, i = inverse(_corners(places, without))
    return _spread(without, a, b, c), _spread(without, d, e, f), _spread(without, g, h, i)


def _spread(without: int, first: float, second: float, third: float) -> Four:
    """The three values in the places of the floats other than `without`."""
    four = [0.0, 0.0, 0.0, 0.0]
    for place, value in zip(OTHERS[without], (first, second, third), strict=True):
        four[place] = value
    return four[0], four[1], four[2], four[3]


def _edge(places: Places, i: int) -> Vector:
    (ua, va), (ub, vb), (uc, vc) = places[AROUND[i - 1]], places[AROUND[i]], places[AROUND[i - 2]]
    length = hypot(ub - ua, vb - va)
    inward_u, inward_v = (va - vb) / length, (ub - ua) / length
    if inward_u * (uc - ua) + inward_v * (vc - va) < 0.0:
        inward_u, inward_v = -inward_u, -inward_v
    return -inward_u * ua - inward_v * va, inward_u, inward_v


def stood(frame: Frame, load: Vector, settled_m: Four) -> tuple[Four, bool, Vector]:
    """Reactions, whether the frame tips, and its sink and leans toward u and v.

    Args:
        frame: the floats.
        load: vertical load (down), its moment toward u (a level pull toward u adds force times height) and toward v.
        settled_m: how far the ground under each float has settled.
    """
    vertical, to_u, to_v = load
    (a0, b0, c0), (a1, b1, c1), (a2, b2, c2), (a3, b3, c3) = frame.share
    r0 = a0 * vertical + b0 * to_u + c0 * to_v
    r1 = a1 * vertical + b1 * to_u + c1 * to_v
    r2 = a2 * vertical + b2 * to_u + c2 * to_v
    r3 = a3 * vertical + b3 * to_u + c3 * to_v
    nothing = EDGE * (abs(r0) + abs(r1) + abs(r2) + abs(r3))
    is_level = lies_level(settled_m)
    if is_level and r0 > nothing and r1 > nothing and r2 > nothing and r3 > nothing:
        pushes = (r0, r1, r2, r3)
        return pushes, False, _sunk(frame, pushes, settled_m, 3)
    t0, t1, t2, t3 = frame.twist
    low0, low3, high1, high2 = -r0 / t0, -r3 / t3, -r1 / t1, -r2 / t2
    low = low0 if low0 > low3 else low3
    high = high1 if high1 < high2 else high2
    free = 0.0 if is_level else -_twisted(frame, settled_m)
    s, lifted = free, 3
    if free < low:
        s, lifted = low, 0 if low0 > low3 else 3
    elif free > high:
        s, lifted = high, 1 if high1 < high2 else 2
    tips = low - high > nothing
    if tips:
        s = 0.5 * (low + high)
    pushes = _pushing(r0 + s * t0, r1 + s * t1, r2 + s * t2, r3 + s * t3, nothing)
    if tips:
        pushes = _carrying(pushes, vertical)
    return pushes, tips, _sunk(frame, pushes, settled_m, lifted)


def lies_level(settled_m: Four) -> bool:
    """No float has settled."""
    a, b, c, d = settled_m
    return a == 0.0 and b == 0.0 and c == 0.0 and d == 0.0


def _twisted(frame: Frame, settled_m: Four) -> float:
    t0, t1, t2, t3 = frame.twist
    g0, g1, g2, g3 = settled_m
    return (0.0 + t0 * g0 + t1 * g1 + t2 * g2 + t3 * g3) / frame.twist_compliance


def _pushing(r0: float, r1: float, r2: float, r3: float, nothing: float) -> Four:
    """Reactions with rounding and pulls cut off."""
    if r0 <= nothing:
        r0 = 0.0
    if r1 <= nothing:
        r1 = 0.0
    if r2 <= nothing:
        r2 = 0.0
    if r3 <= nothing:
        r3 = 0.0
    return r0, r1, r2, r3


def _carrying(pushes: Four, vertical: float) -> Four:
    """Reactions of a frame that tips, stretched to carry the vertical load."""
    r0, r1, r2, r3 = pushes
    total = r0 + r1 + r2 + r3
    scale = (vertical if vertical > 0.0 else 0.0) / total if total > 0.0 else 0.0
    return r0 * scale, r1 * scale, r2 * scale, r3 * scale


def _sunk(frame: Frame, pushes: Four, settled_m: Four, lifted: int) -> Vector:
    """Sink and leans of the plane through the three floats other than `lifted`."""
    k0, k1, k2, k3 = frame.stiffness_N_per_m
    r0, r1, r2, r3 = pushes
    g0, g1, g2, g3 = settled_m
    d0, d1, d2, d3 = r0 / k0 + g0, r1 / k1 + g1, r2 / k2 + g2, r3 / k3 + g3
    planes = frame.planes
    sink, lean_u, lean_v = planes[3]
    if lifted == 0:
        sink, lean_u, lean_v = planes[0]
    elif lifted == 1:
        sink, lean_u, lean_v = planes[1]
    elif lifted == 2:
        sink, lean_u, lean_v = planes[2]
    w0, w1, w2, w3 = sink
    u0, u1, u2, u3 = lean_u
    v0, v1, v2, v3 = lean_v
    return (
        w0 * d0 + w1 * d1 + w2 * d2 + w3 * d3,
        u0 * d0 + u1 * d1 + u2 * d2 + u3 * d3,
        v0 * d0 + v1 * d1 + v2 * d2 + v3 * d3,
    )


def point_moved(at_m: Vector, now: Vector, before: Vector) -> Vector:
    """Displacement of a point of the frame (u, v, z) between two sinks and leans of it."""
    u, v, z = at_m
    sink, lean_u, lean_v = now
    old_sink, old_u, old_v = before
    sink, lean_u, lean_v = sink - old_sink, lean_u - old_u, lean_v - old_v
    return z * lean_u, z * lean_v, -(sink + u * lean_u + v * lean_v)

"""Gaps and contacts by brute force: points every few millimeters along all edges, nothing else. The slow referee.

Solids are corners, edges as corner pairs, and outward half-spaces; placing, sweeping and envelopes are written here
anew and share no formula with the program.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Sampled:
    """A convex solid: points along its edges (its corners among them), and n . p <= d for each face.

    Points lie in memory axis by axis: most of what is asked of them is asked of one axis.
    """

    points: Array
    normals: Array
    offsets: Array
    low: Array
    high: Array

    def moved(self, turn: Array, by: Array) -> "Sampled":
        normals, points = self.normals @ turn.T, (turn @ self.points.T + by[:, None]).T
        return Sampled(points, normals, self.offsets + normals @ by, points.min(axis=0), points.max(axis=0))


def sampled(corners: Array, step_m: float, *, along_x_m: float | None = None) -> Sampled:
    """A solid from its corners: faces from a hull, edges where two faces that are not one plane meet.

    Points are `step_m` apart at most, on edges along x `along_x_m`.
    """
    hull: Any = ConvexHull(corners)
    faces = hull.equations
    edges = set()
    for i, simplex in enumerate(hull.simplices):
        for k, neighbor in enumerate(hull.neighbors[i]):
            if faces[i, :3] @ faces[neighbor, :3] < 1.0 - 1e-9:
                first, second = sorted(int(j) for j in np.delete(simplex, k))
                edges.add((first, second))
    pieces = [_along(corners[i], corners[j], step_m, along_x_m or step_m) for i, j in sorted(edges)]
    points, faces = np.concatenate(pieces, axis=0).T.copy().T, np.unique(faces.round(12), axis=0)
    return Sampled(points, faces[:, :3], -faces[:, 3], points.min(axis=0), points.max(axis=0))


def _along(start: Array, end: Array, step_m: float, along_x_m: float) -> Array:
    length = float(np.linalg.norm(end - start))
    step = along_x_m if abs(end[0] - start[0]) > 0.99 * length else step_m
    return np.asarray(start + np.linspace(0.0, 1.0, int(np.ceil(length / step)) + 1)[:, None] * (end - start))


def envelope(solid: Sampled, xy: Array) -> tuple[Array, Array]:
    """Lowest and highest z of the solid over places in plan; empty (low > high) beside it."""
    room = solid.offsets[:, None] - solid.normals[:, :2] @ xy.T
    upward = solid.normals[:, 2]
    rising, falling, beside = upward > 1e-12, upward < -1e-12, np.abs(upward) <= 1e-12
    high = (room[rising] / upward[rising, None]).min(axis=0)
    low = (room[falling] / upward[falling, None]).max(axis=0)
    out = (room[beside] < 0.0).any(axis=0)
    return np.where(out, np.inf, low), np.where(out, -np.inf, high)


def _side_ys(plan: Array, x: Array) -> tuple[Array, Array]:
    """Least and greatest y of a convex outline at places x inside its span."""
    if len(plan) == 4 and plan[0, 1] == plan[1, 1] and plan[1, 0] == plan[2, 0]:
        return np.full(len(x), plan[:, 1].min()), np.full(len(x), plan[:, 1].max())
    low, high = np.full(len(x), np.inf), np.full(len(x), -np.inf)
    for a, b in zip(plan, np.roll(plan, -1, axis=0), strict=True):
        if abs(a[0] - b[0]) < 1e-12:
            inside, y = np.abs(x - a[0]) < 1e-12, (min(a[1], b[1]), max(a[1], b[1]))
            low, high = np.where(inside, np.minimum(low, y[0]), low), np.where(inside, np.maximum(high, y[1]), high)
            continue
        share = (x - a[0]) / (b[0] - a[0])
        y = np.where((share >= 0.0) & (share <= 1.0), a[1] + share * (b[1] - a[1]), np.nan)
        low, high = np.fmin(low, y), np.fmax(high, y)
    return low, high


def gap_over(part: Sampled, plan: Array, top: float, sweep: float, step_m: float) -> float:
    """Least height of the swept part over a level outline at `top`; infinite where no sample comes over it."""
    (x0, y0), (x1, y1) = plan.min(axis=0), plan.max(axis=0)
    back, ahead = min(0.0, sweep), max(0.0, sweep)
    if part.low[1] + back > y1 or part.high[1] + ahead < y0:
        return np.inf
    x, y = part.points[:, 0], part.points[:, 1]
    near = part.points[(x >= x0) & (x <= x1) & (y >= y0 - ahead) & (y <= y1 - back)]
    low, high = _side_ys(plan, near[:, 0])
    over = (near[:, 1] + ahead >= low) & (near[:, 1] + back <= high)
    least = float(near[over, 2].min(initial=np.inf))
    first, last = max(x0, part.low[0]), min(x1, part.high[0])
    x = np.concatenate([np.arange(first, last, step_m), [last], plan[(plan[:, 0] >= first) & (plan[:, 0] <= last), 0]])
    low, high = _side_ys(plan, x)
    for y in (low - ahead, high - back):
        # The swept part is over a place on the outline's side where the unswept part is over one sweep before it.
        z_low, z_high = envelope(part, np.column_stack([x, y]))
        least = min(least, float(z_low[z_low <= z_high].min(initial=np.inf)))
    return least - top


def gap_under(part: Sampled, above: Sampled) -> float:
    """Least height from the part's upper side to the underside of a solid above it, from the edges of both."""
    points = part.points[_within(part.points, above, 2)]
    low, high = envelope(above, points[:, :2])
    least = float((low - points[:, 2])[low <= high].min(initial=np.inf))
    points = above.points[_within(above.points, part, 2)]
    low, high = envelope(part, points[:, :2])
    return min(least, float((points[:, 2] - high)[low <= high].min(initial=np.inf)))


def _within(points: Array, solid: Sampled, axes: int) -> NDArray[np.bool_]:
    """Which points lie in a solid's bounding box, by its first so many axes."""
    inside = np.ones(len(points), dtype=bool)
    for k in range(axes):
        inside &= (points[:, k] >= solid.low[k]) & (points[:, k] <= solid.high[k])
    return inside


def share_a_point(one: Sampled, other: Sampled) -> bool:
    """True when a sampled edge point of one lies in the other."""
    for first, second in ((one, other), (other, one)):
        near = _within(first.points, second, 3)
        if (second.normals @ first.points[near].T <= second.offsets[:, None]).all(axis=0).any():
            return True
    return False

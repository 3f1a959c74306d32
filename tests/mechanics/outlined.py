"""Gaps by outlines and planes, nothing cut: shapely says which outlines meet, a linear program's dual says the gap.

The least vertical gap from a solid B up to a solid A over the overlap of their plan outlines is, over all planes
z = c - u x - v y, the largest of (how far A can sink on the plane less how far B sticks out of it). The best plane lies
on a face of A or of B, or along one edge of each, so a short list of planes holds it. Sweeping A along y adds one edge
direction. Planes steeper than 1 in 1,000 are left out.
"""

from typing import Any

import numpy as np
import shapely

from simulator.mechanics.clearance.apart import pair_apart
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.scene import Scene
from simulator.mechanics.clearance.solid import Array, Flags, Solids, chosen
from simulator.mechanics.clearance.touching import TOUCH_M

STEEPEST = 1.0e3
ACROSS = np.array([[0.0, 1.0, 0.0]])


def one(solids: Solids, index: int) -> Solids:
    return Solids(*(field[index] for field in solids))


def obstacles(scene: Scene, placed: Placed) -> list[Solids]:
    """In the order of `Scene.names`."""
    found = [one(scene.box_solids, i) for i in range(len(scene.kinds))]
    return [*found, *(one(group, i) for group in (scene.rounds, placed.slewed.tails) for i in (0, 1))]


def outline(corners: Array, sweep_m: float = 0.0) -> Any:
    plan = corners[:, :2]
    return shapely.convex_hull(shapely.linestrings(np.concatenate([plan, plan + np.array([0.0, sweep_m])])))


def crossed(first: Array, second: Array) -> Array:
    """Cross products of all of one with all of the other."""
    (x, y, z), (a, b, c) = first.T[:, :, None], second.T[:, None]
    return np.stack([y * c - z * b, z * a - x * c, x * b - y * a], axis=-1).reshape(-1, 3)


def gap(upper: Solids, lower: Solids, sweep_m: float = 0.0) -> float:
    """Least vertical gap, outlines overlapping."""
    crosses = crossed(np.concatenate([upper.edges, ACROSS]), np.concatenate([lower.edges, ACROSS]))
    leaning = np.concatenate([upper.faces, lower.faces, crosses])
    leaning = leaning[np.abs(leaning[:, 2]) * STEEPEST > np.abs(leaning[:, :2]).max(axis=1)]
    planes = np.concatenate([[[0.0, 0.0, 1.0]], leaning / leaning[:, 2:]])
    sink = (upper.corners @ planes.T).min(axis=0) + np.minimum(0.0, planes[:, 1] * sweep_m)
    return float((sink - (lower.corners @ planes.T).max(axis=0)).max())


def gap_table(scene: Scene, placed: Placed) -> Array:
    """Of each part over each obstacle on its way to the landing, infinite where it will not be over it."""
    table, sweep = np.full((len(scene.load.names), len(scene.names)), np.inf), placed.sweep_m
    others = obstacles(scene, placed)
    outlines = np.concatenate([scene.outlines, [outline(placed.slewed.tails.corners[end]) for end in (0, 1)]])
    for i in range(len(table)):
        part = one(placed.parts, i)
        for k in np.flatnonzero(shapely.intersects(outlines, outline(part.corners, sweep))):
            table[i, k] = gap(part, others[k], sweep)
    return table


def boom_table(scene: Scene, placed: Placed) -> Array:
    """Of each part up to each boom's underside, infinite where it is not under it."""
    table = np.full((len(scene.load.names), 2), np.inf)
    outlines = [outline(corners) for corners in placed.parts.corners]
    for end in (0, 1):
        boom = one(placed.slewed.booms, end)
        for i in np.flatnonzero(shapely.intersects(outlines, outline(boom.corners))).tolist():
            table[i, end] = gap(boom, one(placed.parts, i))
    return table


def boom_distances(scene: Scene, placed: Placed) -> Array:
    """Of each part's edges from each boom's capsule: every edge against the middle line, nearest places in turn."""
    corners = placed.parts.corners.swapaxes(0, 1).reshape(-1, 3)
    q, other = corners[scene.load.starts], corners[scene.load.ends] - corners[scene.load.starts]
    found = []
    for end in (0, 1):
        foot, length = placed.slewed.foot_m[end], float(placed.slewed.length_m[end, 0])
        along = placed.slewed.axes[end, 0] * length
        apart = foot - q
        a, e, b = along @ along, (other * other).sum(axis=1), other @ along
        c, f = apart @ along, (other * apart).sum(axis=1)
        sine = a * e - b * b
        skew = sine > 1e-12 * a * e
        s = np.clip(np.divide(b * f - c * e, sine, out=np.zeros(len(q)), where=skew), 0.0, 1.0)
        t = np.clip((b * s + f) / np.maximum(e, 1e-12), 0.0, 1.0)
        s = np.clip((b * t - c) / a, 0.0, 1.0)
        between = apart + s[:, None] * along - t[:, None] * other
        square = (between * between).sum(axis=1).reshape(len(scene.load.names), -1).min(axis=1)
        found.append(np.sqrt(square) - scene.slewing.half_deep_m[end])
    return np.stack(found, axis=1)


def touches(scene: Scene, placed: Placed) -> Flags:
    """Every part against every solid whose bounding box it comes near (part, obstacle and then boom)."""
    others = [*obstacles(scene, placed), *(one(placed.slewed.booms, end) for end in (0, 1))]
    found = np.zeros((len(scene.load.names), len(others)), dtype=bool)
    corners = placed.parts.corners
    for k, other in enumerate(others):
        beside = np.maximum(
            corners.min(axis=1) - other.corners.max(axis=0), other.corners.min(axis=0) - corners.max(axis=1)
        )
        near = np.flatnonzero(beside.max(axis=1) <= TOUCH_M)
        if len(near) and k != scene.kinds.index("edge"):
            both = Solids(*(np.broadcast_to(field, (len(near), *field.shape)) for field in other))
            found[near, k] = pair_apart(chosen(placed.parts, near), both) <= TOUCH_M
    return found

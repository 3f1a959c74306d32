"""Gaps and contacts for thousands of poses at once, in closed form: no outlines drawn, only planes and axes tried."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.clearance_boom import FAR_M, boom_distances, heights_below
from simulator.mechanics.clearance_contact import TOUCH_M, near, touch_groups
from simulator.mechanics.clearance_gap import box_gaps, box_sides, pair_apart, pair_gaps, pair_sides
from simulator.mechanics.clearance_governing import governing
from simulator.mechanics.clearance_scene import Placed, Scene, place
from simulator.mechanics.clearance_solid import Array, Flags, Solids

CHUNK = 128
"""Poses worked on at a time, to stay in the processor's cache."""
_ROUNDING_M = 1.0e-9


class Verdicts(NamedTuple):
    """One row a pose."""

    gaps_m: Array
    """Least vertical gap of each part over what it is or will be over (pose, part); infinite where nothing is met."""
    meets: NDArray[np.intp]
    """Which obstacle that is (pose, part), a number into `Scene.names`."""
    parts_not_clear: Flags
    """(pose, part)"""
    booms_m: Array
    """Least vertical gap from the trailer up to each boom's underside (pose, unit); far below as in one pose."""
    boom_distances_m: Array
    """Least distance from the trailer to each boom (pose, unit)."""
    touches: Flags
    """(pose, part, solid), solids as in `touch_names`."""

    @property
    def touching(self) -> Flags:
        """Poses at which something touches."""
        return np.asarray(self.touches.any(axis=(1, 2)))

    @property
    def least_m(self) -> Array:
        """Least gap of any part (pose)."""
        return np.asarray(self.gaps_m.min(axis=1))

    @property
    def not_clear(self) -> Flags:
        """Poses at which a part is not clear."""
        return np.asarray(self.parts_not_clear.any(axis=1))


def verdicts(scene: Scene, poses: Array, booms: Array) -> Verdicts:
    """Gaps and contacts at many poses.

    Args:
        scene: from `prepare_scene`.
        poses: `Pose` values (pose, 6), m and rad.
        booms: `BoomPose` values of nose and tail unit (pose, 2, 3), m and rad.
    """
    found = [
        _verdicts(scene, poses[first : first + CHUNK], booms[first : first + CHUNK])
        for first in range(0, len(poses), CHUNK)
    ]
    return Verdicts(*(np.concatenate(column) for column in zip(*found, strict=True)))


def _verdicts(scene: Scene, poses: Array, booms: Array) -> tuple[Array, NDArray[np.intp], Flags, Array, Array, Flags]:
    placed = place(scene, poses, booms)
    gaps = box_gaps(placed.parts, scene.boxes, placed.sweep_m)
    over = box_sides(placed.parts, scene.boxes, placed.sweep_m) <= _ROUNDING_M
    rounds = Solids(*(np.broadcast_to(field, (len(poses), *field.shape)) for field in scene.rounds))
    rest = [_slewing_gaps(placed, solids) for solids in (rounds, placed.tails)]
    table = np.concatenate([np.where(over, gaps, np.inf), *rest], axis=2)
    meets, not_clear = governing(scene, placed, table)
    least = np.take_along_axis(table, meets[..., None], axis=2)[..., 0]
    under = _boom_gaps(placed)
    distances = np.minimum(boom_distances(scene, placed).min(axis=1), under)
    height = heights_below(scene, placed).min(axis=1)
    far = (height.min(axis=1) > FAR_M)[:, None]
    under, distances = np.where(far, height, under), np.where(far, height, distances)
    return least, meets, not_clear, under, distances, _touches(scene, placed)


def _pairs(placed: Placed, solids: Solids, sweep_m: Array) -> tuple[tuple[NDArray[np.intp], ...], Solids, Solids]:
    """(pose, part, solid) whose bounding boxes in plan meet on the sweep, and both solids of each."""
    move = np.zeros((len(sweep_m), 1, 2))
    move[:, 0, 1] = sweep_m
    low, high = placed.low_m[..., :2] + np.minimum(0.0, move), placed.high_m[..., :2] + np.maximum(0.0, move)
    other_low, other_high = solids.corners[..., :2].min(axis=-2), solids.corners[..., :2].max(axis=-2)
    meet = (low[:, :, None, 0] <= other_high[:, None, :, 0]) & (other_low[:, None, :, 0] <= high[:, :, None, 0])
    meet &= (low[:, :, None, 1] <= other_high[:, None, :, 1]) & (other_low[:, None, :, 1] <= high[:, :, None, 1])
    index = np.nonzero(meet)
    pose, part, other = index
    return index, _at(placed.parts, pose, part), _at(solids, pose, other)


def _at(solids: Solids, pose: NDArray[np.intp], which: NDArray[np.intp]) -> Solids:
    return Solids(solids.corners[pose, which], solids.faces[pose, which], solids.edges[pose, which])


def _slewing_gaps(placed: Placed, solids: Solids) -> Array:
    """Gaps over the two solids of a kind (pose, part, 2)."""
    table = np.full((*placed.low_m.shape[:2], 2), np.inf)
    index, parts, others = _pairs(placed, solids, placed.sweep_m)
    if len(index[0]):
        sweep = placed.sweep_m[index[0]]
        over = pair_sides(parts, others, sweep) <= _ROUNDING_M
        table[index] = np.where(over, pair_gaps(parts, others, sweep_m=sweep), np.inf)
    return table


def _boom_gaps(placed: Placed) -> Array:
    table = np.full((*placed.low_m.shape[:2], 2), np.inf)
    index, parts, others = _pairs(placed, placed.booms, np.zeros(len(placed.low_m)))
    if len(index[0]):
        under = pair_sides(parts, others, 0.0) <= _ROUNDING_M
        table[index] = np.where(under, pair_gaps(others, parts), np.inf)
    return np.asarray(table.min(axis=1))


def _touches(scene: Scene, placed: Placed) -> Flags:
    close = near(scene, placed)
    first = 0
    for solids in touch_groups(scene, placed):
        last = first + solids.corners.shape[-3]
        pose, part, other = np.nonzero(close[..., first:last])
        if len(pose):
            moving = solids.corners.ndim == 4
            second = _at(solids, pose, other) if moving else Solids(*(field[other] for field in solids))
            touch = pair_apart(_at(placed.parts, pose, part), second) <= TOUCH_M
            close[pose, part, first + other] = touch
        first = last
    return close

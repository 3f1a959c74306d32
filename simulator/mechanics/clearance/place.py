"""A prepared lift with trailer and booms put in, and bounding boxes compared once for all gaps and contacts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from simulator.mechanics.clearance.clip import Point, looking
from simulator.mechanics.clearance.scene import Pose, Scene
from simulator.mechanics.clearance.slew import Booms, Slewed, slewed
from simulator.mechanics.clearance.solid import Array, Flags, Solids, turn_back
from simulator.mechanics.flat_deck import is_over


@dataclass(frozen=True, eq=False)
class Placed:
    """A scene with the trailer and the booms where they are."""

    scene: Scene
    pose: Pose
    back: Array
    """Transpose of the trailer's turning matrix."""
    seen: Array
    """Each part's corners along x, y, z, then along each unit's boom, to its left and square to both, from its foot pin
    (corner, part, 3 + 3 unit)."""
    ends_m: tuple[Array, Array]
    """Least and greatest of each (part, 3 + 3 unit)."""
    lowest_m: list[list[float]]
    """The least again, as plain numbers."""
    highest_m: list[list[float]]
    whole_m: tuple[list[float], list[float]]
    """Least and greatest of the whole trailer."""
    sweep_m: float
    """How far along y the trailer's middle still is from where it is to come down."""
    slewed: Slewed
    obstacles_m: Array
    """Least and greatest x, y, z of all obstacles (2, 3, obstacle)."""
    tops_m: list[float]
    """Highest point of each obstacle."""
    off_m: Array
    """How far bounding boxes of parts and obstacles are apart along x, y, z (3, part, obstacle); < 0 overlaps."""
    over_m: Array
    """Each part's lowest point over each obstacle's highest (part, obstacle)."""
    swept_y_m: Array
    """How far they are apart along y if parts are swept to the landing (part, obstacle)."""
    on_the_way: Flags
    """Which part's box is, or will be on its way to the landing, over which obstacle's (part, obstacle); a waiting deck
    is none to a load that is over its place on it."""

    @property
    def corners(self) -> Array:
        """Of each part (part, corner, 3)."""
        return self.seen[..., :3].swapaxes(0, 1)

    @cached_property
    def parts(self) -> Solids:
        """The parts turned and moved."""
        solids = self.scene.load.solids
        return Solids(self.corners, solids.faces @ self.back, solids.edges @ self.back)

    @cached_property
    def _undersides(self) -> dict[int, list[Sequence[Point]]]:
        return {}

    def underside(self, part: int) -> list[Sequence[Point]]:
        """The faces of a part that look down."""
        if part not in self._undersides:
            points = self.seen[:, part, :3].tolist()
            self._undersides[part] = looking(points, self.scene.load.faces[part], up=False)
        return self._undersides[part]


def place(scene: Scene, pose: Pose, booms: Booms) -> Placed:
    """The scene with trailer and booms put in.

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad, a unit each.
    """
    load, moving = scene.load, slewed(scene.slewing, booms)
    put = np.array((*turn_back(pose.pitch_rad, pose.yaw_rad, pose.roll_rad), pose[:3]))
    views = put.dot(moving.views)
    views[3] += moving.views_from_m
    seen = load.corners_m.dot(views).reshape(-1, len(load.names), 3 + 3 * len(booms))
    ends = np.minimum.reduce(seen), np.maximum.reduce(seen)
    low, high = (end.T[:3, :, None] for end in ends)
    obstacles = np.concatenate([scene.ends_m, moving.tail_ends_m], axis=2)
    before, after = obstacles[0, :, None] - high, low - obstacles[1, :, None]
    sweep = scene.description.landing.y_m - float(put[:, 1].dot(load.middle_m))
    off = np.maximum(before, after)
    swept_y = np.maximum(before[1] - max(0.0, sweep), after[1] + min(0.0, sweep))
    whole = np.minimum.reduce(ends[0]).tolist(), np.maximum.reduce(ends[1]).tolist()
    return Placed(
        scene=scene,
        pose=pose,
        back=put[:3],
        seen=seen,
        ends_m=ends,
        lowest_m=ends[0].tolist(),
        highest_m=ends[1].tolist(),
        whole_m=whole,
        sweep_m=sweep,
        slewed=moving,
        obstacles_m=obstacles,
        tops_m=obstacles[1, 2].tolist(),
        off_m=off,
        over_m=after[2],
        swept_y_m=swept_y,
        on_the_way=_on_the_way(scene, (swept_y <= 0.0) & (off[0] <= 0.0), whole),
    )


def _on_the_way(scene: Scene, found: Flags, whole_m: tuple[list[float], list[float]]) -> Flags:
    """Where the load may come down on a waiting deck, that is ground under it and nothing to be passed over."""
    (x, y, *_), (u, v, *_) = whole_m
    if scene.deck is not None and is_over(scene.description, scene.deck, (x, u), (y, v)):
        found[:, scene.kinds.index("flat")] = False
    return found

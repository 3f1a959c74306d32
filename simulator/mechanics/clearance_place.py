"""A prepared lift with trailer and booms put in, and bounding boxes compared once for all gaps and contacts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from simulator.mechanics.clearance_clip import Point, looking
from simulator.mechanics.clearance_scene import Pose, Scene
from simulator.mechanics.clearance_slew import Booms, Slewed, slewed
from simulator.mechanics.clearance_solid import Array, Solids, turn_back

Ends = tuple[list[float], list[float]]
"""Least and greatest along three axes."""


@dataclass(frozen=True, eq=False)
class Placed:
    """A scene with the trailer and the booms where they are."""

    scene: Scene
    pose: Pose
    back: Array
    """Transpose of the trailer's turning matrix."""
    seen: Array
    """Each part's corners along x, y, z, then along the nose unit's boom, to its left and square to both, then the same
    of the tail unit's, from its foot pin (part, corner, 9)."""
    ends_m: tuple[Array, Array]
    """Least and greatest of each (part, 9)."""
    low_m: Array
    """Least x, y, z of each part."""
    high_m: Array
    sweep_m: float
    """How far along y the trailer's middle still is from where it is to come down."""
    slewed: Slewed
    lows_m: Array
    """Least x, y, z of all obstacles."""
    highs_m: Array
    off_m: Array
    """How far bounding boxes of parts and obstacles are apart along x, y, z (part, obstacle, 3); < 0 overlaps."""
    over_m: Array
    """Each part's lowest point over each obstacle's highest (part, obstacle)."""
    swept_y_m: Array
    """How far they are apart along y if parts are swept to the landing (part, obstacle)."""
    lowest_m: list[list[float]]
    """Least x, y, z of each part as plain numbers."""
    highest_m: list[list[float]]

    @property
    def corners(self) -> Array:
        """Of each part (part, corner, 3)."""
        return self.seen[..., :3]

    @cached_property
    def parts(self) -> Solids:
        """The parts turned and moved."""
        solids = self.scene.load.solids
        return Solids(self.corners, solids.faces @ self.back, solids.edges @ self.back)

    @cached_property
    def by_booms(self) -> tuple[list[Ends], list[Ends]]:
        """Of each boom, each part's ends along it, to its left and square to both, from its foot pin."""
        low, high = (ends.tolist() for ends in self.ends_m)
        nose, tail = ([(a[k : k + 3], b[k : k + 3]) for a, b in zip(low, high, strict=True)] for k in (3, 6))
        return nose, tail

    @cached_property
    def points(self) -> list[list[list[float]]]:
        """Corners of each part, as plain numbers."""
        found: list[list[list[float]]] = self.corners.tolist()
        return found

    @cached_property
    def tops_m(self) -> list[float]:
        """Highest point of each obstacle."""
        found: list[float] = self.highs_m[:, 2].tolist()
        return found

    @cached_property
    def _undersides(self) -> dict[int, list[Sequence[Point]]]:
        return {}

    def underside(self, part: int) -> list[Sequence[Point]]:
        """The faces of a part that look down."""
        if part not in self._undersides:
            self._undersides[part] = looking(self.points[part], self.scene.load.faces[part], up=False)
        return self._undersides[part]


def place(scene: Scene, pose: Pose, booms: Booms) -> Placed:
    """The scene with trailer and booms put in.

    Args:
        scene: from `prepare_scene`.
        pose: the trailer's reference point in m and its angles in rad.
        booms: boom length in m, elevation and slew in rad of nose and tail unit.
    """
    back = turn_back(pose.pitch_rad, pose.yaw_rad, pose.roll_rad)
    moving, corners = slewed(scene.slewing, booms), scene.load.solids.corners
    seen = corners.reshape(-1, 3) @ (back @ moving.views) + (np.array(pose[:3]) @ moving.views + moving.views_from_m)
    seen = seen.reshape(*corners.shape[:2], 9)
    ends = np.minimum.reduce(seen, axis=1), np.maximum.reduce(seen, axis=1)
    low, high = ends[0][:, :3], ends[1][:, :3]
    tail_low, tail_high = moving.tail_ends
    lows, highs = np.concatenate([scene.lows_m, tail_low]), np.concatenate([scene.highs_m, tail_high])
    middle_y = pose.y_m + float(back[:, 1] @ scene.load.middle_m)
    sweep = scene.description.landing.y_m - middle_y
    before, after = lows - high[:, None], low[:, None] - highs
    return Placed(
        scene=scene,
        pose=pose,
        back=back,
        seen=seen,
        ends_m=ends,
        low_m=low,
        high_m=high,
        sweep_m=sweep,
        slewed=moving,
        lows_m=lows,
        highs_m=highs,
        off_m=np.maximum(before, after),
        over_m=after[..., 2],
        swept_y_m=np.maximum(before[..., 1] - max(0.0, sweep), after[..., 1] + min(0.0, sweep)),
        lowest_m=low.tolist(),
        highest_m=high.tolist(),
    )

"""Level distances of the parts' plan outlines to superstructures, tail swings, jacks and pads.

Where the corner that comes farthest toward a unit goes, on its way to the landing, straight past what comes farthest
toward it, that is the distance. Only where it does not are outlines drawn and measured.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import inf

import numpy as np

from simulator.mechanics.clearance.clip import Point
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.slew import Outlines, Tip, hull


class Outlined:
    """Plan outlines of the parts at one pose, drawn when they are asked for."""

    def __init__(self, placed: Placed) -> None:
        self._placed = placed
        self._drawn: dict[int, Outlines] = {}
        self._farthest: dict[int, tuple[float, int, float, float]] = {}

    def _toward(self, end: int) -> tuple[float, int, float, float]:
        """The corner farthest toward a unit: its x, its part, and from where to where along y it goes."""
        if end not in self._farthest:
            self._farthest[end] = self._corner_toward(end)
        return self._farthest[end]

    def _corner_toward(self, end: int) -> tuple[float, int, float, float]:
        placed = self._placed
        looks_ahead = placed.scene.slewing.feet[end].facing > 0.0
        x = placed.whole_m[0 if looks_ahead else 1][0]
        ends = placed.lowest_m if looks_ahead else placed.highest_m
        part = [row[0] for row in ends].index(x)
        y = next(y for at, y in placed.seen[:, part, :2].tolist() if at == x)
        return x, part, y + min(0.0, placed.sweep_m), y + max(0.0, placed.sweep_m)

    def nearest_swept(self, obstacle: int) -> tuple[int, float]:
        """The part that, swept to the landing, comes nearest to a superstructure (its round) or tail swing, and its
        level distance; more than `Scene.far_m` is that of bounding boxes."""
        placed, which = self._placed, obstacle - len(self._placed.scene.kinds)
        bounds = self._bounds_m[which]
        if (least := min(bounds)) > placed.scene.far_m:
            return bounds.index(least), least
        feet = placed.scene.slewing.feet
        end, is_tail = which % len(feet), which >= len(feet)
        tip_x, tip_y = placed.slewed.tail_tips[end] if is_tail else (feet[end].stand_x_m, feet[end].stand_y_m)
        radius = 0.0 if is_tail else placed.scene.radius_m[end]
        x, part, y_low, y_high = self._toward(end)
        beyond = x - tip_x if feet[end].facing > 0.0 else tip_x - x
        if beyond > radius and y_low <= tip_y <= y_high:
            return part, beyond - radius
        corners = placed.slewed.units[end].tail_m if is_tail else [(tip_x, tip_y)]
        return self._measured(bounds, corners, radius)

    def _measured(self, bounds_m: list[float], corners_m: list[Tip], radius_m: float) -> tuple[int, float]:
        """The same of what has so many corners, all a radius thick, with no less than so much from each part. Instead
        of the parts it is swept, the other way: that is one outline to draw instead of some."""
        best, sweep = (inf, 0), self._placed.sweep_m
        outline = hull(np.array([*corners_m, *((x, y - sweep) for x, y in corners_m)]))
        for bound in sorted(zip(bounds_m, range(len(bounds_m)), strict=True)):
            if bound >= best:
                break
            level = max(0.0, float(self._outline(bound[1]).distance(outline)) - radius_m)
            best = min(best, (level, bound[1]))
        return best[1], best[0]

    @cached_property
    def _bounds_m(self) -> list[list[float]]:
        """Least that level distances of swept parts from superstructures and tail swings can be (thing, part)."""
        placed, boxes = self._placed, len(self._placed.scene.kinds)
        x, y = np.maximum(placed.off_m[0, :, boxes:], 0.0), np.maximum(placed.swept_y_m[:, boxes:], 0.0)
        found: list[list[float]] = np.hypot(x, y).T.tolist()
        return found

    def _outline(self, part: int) -> Outlines:
        if part not in self._drawn:
            self._drawn[part] = hull(self._placed.seen[:, part])
        return self._drawn[part]

    def level_m(self, part: int, obstacle: int, bound_m: float) -> float:
        """Level distance of a part from a box.

        Args:
            part: its number.
            obstacle: the box's.
            bound_m: of bounding boxes.
        """
        placed = self._placed
        (x_low, x_high), (y_low, y_high) = placed.scene.spans[obstacle]
        if bound_m <= 0.0 and _has((x_low + x_high) / 2.0, (y_low + y_high) / 2.0, placed.underside(part)):
            return 0.0
        return float(self._outline(part).distance(placed.scene.outlines[obstacle]))


def _has(x: float, y: float, faces: Sequence[Sequence[Point]]) -> bool:
    """True if a place lies in one of some faces that look down."""
    for face in faces:
        before = face[-1]
        for point in face:
            if (point[0] - before[0]) * (y - before[1]) > (point[1] - before[1]) * (x - before[0]):
                break
            before = point
        else:
            return True
    return False

"""Where the trailer's parts are seen in the side view: the undersides that gap blocks stand under."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.readings import Readings
from simulator.scenario.trailer import Trailer
from simulator.window.camera import Camera
from simulator.window.gap_blocks import Underside
from simulator.window.load_view import Poser


class Extent(NamedTuple):
    """What a part, or the whole load, covers in the side view, design units."""

    left: float
    right: float
    top: float
    foot: float


class Undersides:
    """Finds each named part on the screen; what never changes is made once."""

    def __init__(self, trailer: Trailer) -> None:
        self._poser = Poser(trailer)
        corners = [
            (x, part.y_m + way * part.width_m / 2.0, z)
            for part in trailer.parts
            for x, z in part.outline_m
            for way in (-1.0, 1.0)
        ]
        self._corners = np.array(corners).T
        counts = [2 * len(part.outline_m) for part in trailer.parts]
        self._starts = np.cumsum([0, *counts[:-1]])
        self._names = tuple(part.name for part in trailer.parts)

    def extents(self, camera: Camera, readings: Readings) -> dict[str, Extent]:
        """What each part covers on the screen."""
        pose = self._poser.pose(readings.load)
        world = pose.matrix @ self._corners
        x0, y0 = camera.to_scene(pose.origin_m[0], pose.origin_m[2])
        xs = x0 + camera.sign * camera.scale * world[0]
        ys = y0 - camera.scale * world[2]
        least, most, starts = np.minimum.reduceat, np.maximum.reduceat, self._starts
        rows = zip(least(xs, starts), most(xs, starts), least(ys, starts), most(ys, starts), strict=True)
        return {name: Extent(*map(float, row)) for name, row in zip(self._names, rows, strict=True)}


def whole(extents: dict[str, Extent]) -> Extent:
    """What all parts together cover."""
    rows = list(extents.values())
    return Extent(
        min(row.left for row in rows),
        max(row.right for row in rows),
        min(row.top for row in rows),
        max(row.foot for row in rows),
    )


def underside(extent: Extent, gap_m: float, scale: float) -> Underside:
    """The middle of a part's underside and the gap under it, design units."""
    return Underside((extent.left + extent.right) / 2.0, extent.foot, gap_m * scale)

"""The load in its attitude and pose: the trailer with its slings, as the side view shows it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer import lying, rotation, stated_cg_m
from simulator.readings import LoadReadings
from simulator.scenario.trailer import Trailer
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.shell_view import draw_lid, draw_shell, draw_wheel
from simulator.window.slings_view import draw_far_leg, draw_near_leg, sling_path, slings
from simulator.window.solids import SIDE_VIEW, Array, Placed, Spot, Vector, draw_group, placed
from simulator.window.trailer_items import Item, bodies_of, items_of
from simulator.window.trailer_shape import TrailerShape, bounds, trailer_shape

AXES: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
SQUARE_RAD = 0.05
"""Yaw and roll together under which the far wheels stand behind the near ones."""


def box_corners(trailer: Trailer) -> Array:
    """Corners of a trailer's bounding box, in its own axes."""
    rows = [bounds(part) for part in trailer.parts]
    xs = min(b.x0 for b in rows), max(b.x1 for b in rows)
    ys = min(b.y0 for b in rows), max(b.y1 for b in rows)
    zs = min(b.z0 for b in rows), max(b.z1 for b in rows)
    return np.array([(x, y, z) for x in xs for y in ys for z in zs])


class LoadPose(NamedTuple):
    """The trailer's own axes in the world."""

    matrix: Array
    origin_m: Vector

    def world(self, point: Vector) -> Vector:
        """A point of the trailer's own axes in the world."""
        x, y, z = (self.matrix @ np.array(point)).tolist()
        return self.origin_m[0] + x, self.origin_m[1] + y, self.origin_m[2] + z


class Poser:
    """From readings to pose; the reference point of the readings is the stated CG."""

    def __init__(self, trailer: Trailer) -> None:
        self._lying = np.array([lying(trailer.attitude, axis) for axis in AXES]).T
        self._cg = np.array(stated_cg_m(trailer))

    def pose(self, load: LoadReadings) -> LoadPose:
        """Where the trailer's own axes are."""
        turn = np.array(rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)).reshape(3, 3)
        matrix = turn @ self._lying
        x, y, z = (matrix @ self._cg).tolist()
        return LoadPose(matrix, (load.x_m - x, load.y_m - y, load.z_m - z))


class LoadView:
    """Draws one trailer; everything that never changes is made once."""

    def __init__(self, trailer: Trailer) -> None:
        self.shape: TrailerShape = trailer_shape(trailer)
        self.poser = Poser(trailer)
        self.slings = tuple(slings(trailer, pick) for pick in trailer.picks)
        self.items = items_of(self.shape, trailer)
        self._bodies = bodies_of(trailer)
        self._middles = np.array([item.own_m for item in self.items])
        self._on_wheels = trailer.attitude == "on_wheels"
        self.corners = box_corners(trailer)
        """Corners of the whole trailer's box, in its own axes."""

    def place(self, canvas: Canvas, camera: Camera, load: LoadReadings) -> Placed:
        """Where the trailer's own axes lie on the screen."""
        pose = self.poser.pose(load)
        view = SIDE_VIEW * np.array(((camera.sign,), (1.0,), (1.0,)))
        at = camera.to_scene(pose.origin_m[0], pose.origin_m[2])
        return placed(canvas, view, pose.matrix, at, camera.scale)

    def draw(self, canvas: Canvas, place: Placed, load: LoadReadings, hooks: tuple[Spot, Spot]) -> None:
        """Draws trailer and slings; `hooks` are in design units."""
        rows = [
            (sling, sling_path(sling, place), hook)
            for group, hook in zip(self.slings, hooks, strict=True)
            for sling in group
        ]
        for row in rows:
            draw_far_leg(canvas, *row)
        self._draw_trailer(canvas, place, load)
        for row in rows:
            draw_near_leg(canvas, *row)

    def _is_hidden(self, item: Item, load: LoadReadings) -> bool:
        """True for what a body hides, and for the far wheels of a trailer seen square from the side."""
        yaw, roll = load.yaw_rad, load.roll_rad
        if self._on_wheels and item.kind == "wheel" and item.own_m[1] > 0.0 and abs(yaw) + abs(roll) < SQUARE_RAD:
            return True
        return any(item.is_behind(body, yaw, roll) for body in self._bodies)

    def _draw_trailer(self, canvas: Canvas, place: Placed, load: LoadReadings) -> None:
        """Everything of the trailer that no body hides, the furthest first."""
        solids, shape = self.shape.solids, self.shape
        spots = place.spots(solids.points)
        normals = (solids.normals @ place.turn.T / np.linalg.norm(place.turn[2])).tolist()
        depths = (self._middles @ place.turn[2]).tolist()
        order = sorted(range(len(self.items)), key=lambda n: -round(depths[n], 2))
        for n in order:
            item = self.items[n]
            if self._is_hidden(item, load):
                continue
            if item.kind == "solid":
                draw_group(canvas, solids.groups[item.number], spots, normals)
            elif item.kind == "shell":
                draw_shell(canvas, shape.shells[item.number], place)
            elif item.kind == "wheel":
                draw_wheel(canvas, shape.wheels[item.number], place)
            else:
                draw_lid(canvas, shape.lids[item.number], place)

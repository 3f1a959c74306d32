"""What moves in the side view, each thing kept as a picture: the load with its slings, superstructures, booms."""

from __future__ import annotations

from math import cos, sin

import numpy as np

from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.layout import side_of_end
from simulator.window.load_view import LoadView
from simulator.window.palette import SIDES
from simulator.window.picture import Picture, Shape, Wish, bring_up_to_date
from simulator.window.solids import Placed, Spot
from simulator.window.trucks import Truck

LOAD_MARGIN, UPPER_MARGIN_M = 14.0, 0.5
"""How far wheels and lids (design units), and a boom's thickness, reach beyond the points that are followed."""


class Moving:
    """Keeps and lays the five pictures of one lift."""

    def __init__(self, description: Description) -> None:
        self.load = LoadView(description.trailer)
        self.trucks = tuple(
            Truck(unit, end, SIDES[side_of_end(description, end)]) for end, unit in enumerate(description.units)
        )
        self._load_picture = Picture()
        self._uppers, self._booms = (Picture(), Picture()), (Picture(), Picture())
        self._anchor: Spot = (0.0, 0.0)
        self._axes: list[Spot] = []

    def follow(self, canvas: Canvas, camera: Camera, readings: Readings, hooks: tuple[Spot, Spot]) -> None:
        """Takes a frame's readings; draws again what has changed its shape. `hooks` are in design units."""
        place = self.load.place(canvas, camera, readings.load)
        self._anchor = (float(place.shift[0]), float(place.shift[1]))
        wishes = [self._load_wish(canvas, place, readings, hooks)]
        self._axes = [canvas.to_px(*camera.to_scene(truck.unit.slew_axis_x_m, 0.0)) for truck in self.trucks]
        for end, unit in enumerate(readings.units):
            wishes += self._unit_wishes(canvas, camera, end, unit)
        bring_up_to_date(canvas, wishes)

    def show_load(self, canvas: Canvas) -> None:
        """Lays the load."""
        self._load_picture.show(canvas, self._anchor)

    def show_upper(self, canvas: Canvas, end: int) -> None:
        """Lays a superstructure."""
        self._uppers[end].show(canvas, self._axes[end])

    def show_boom(self, canvas: Canvas, end: int) -> None:
        """Lays a boom."""
        self._booms[end].show(canvas, self._axes[end])

    def _load_wish(self, canvas: Canvas, place: Placed, readings: Readings, hooks: tuple[Spot, Spot]) -> Wish:
        x, y = self._anchor
        spots = [(a - x, b - y) for a, b, _ in place.spots(self.load.corners)]
        spots += [(a - x, b - y) for a, b in canvas.points_px(hooks)]
        shape = Shape(self._anchor, spots, LOAD_MARGIN * canvas.f + 2.0)

        def draw(layer: Canvas) -> None:
            shift = place.shift + np.array((layer.ox - canvas.ox, layer.oy - canvas.oy, 0.0))
            self.load.draw(layer, place._replace(shift=shift), readings.load, hooks)

        return Wish(self._load_picture, shape, draw)

    def _unit_wishes(self, canvas: Canvas, camera: Camera, end: int, unit: UnitReadings) -> tuple[Wish, Wish]:
        truck, (x, y) = self.trucks[end], self._axes[end]
        s = camera.scale * canvas.f
        margin = UPPER_MARGIN_M * s + 3.0

        def px(x_m: float, z_m: float) -> Spot:
            a, b = canvas.to_px(*camera.to_scene(x_m, z_m))
            return a - x, b - y

        reach = truck.reach_m
        c, k = reach * s * cos(unit.slew_rad), reach * s * sin(unit.slew_rad)
        top = -truck.top_m * s
        upper = Shape((x, y), [(c, 0.0), (-c, top), (k, 0.0), (-k, top)], margin)
        foot = truck.foot_m(unit.slew_rad)
        spots = [
            px(foot[0], foot[2]),
            px(unit.tip_x_m, unit.tip_z_m),
            px(truck.unit.slew_axis_x_m, truck.unit.deck_height_m),
        ]
        boom = Shape((x, y), spots, margin + truck.unit.boom.depth_m * s)
        return (
            Wish(self._uppers[end], upper, lambda layer: truck.draw_upper(layer, camera, unit)),
            Wish(self._booms[end], boom, lambda layer: truck.draw_boom(layer, camera, unit)),
        )

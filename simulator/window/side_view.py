"""The side view, seen from the ravine: still ground kept as a layer, load and booms drawn every frame."""

from __future__ import annotations

from typing import NamedTuple

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window import shapes, thresholds
from simulator.window.camera import Camera, View
from simulator.window.canvas import Canvas
from simulator.window.ground_marks import marks
from simulator.window.layout import SCENE, side_of_end
from simulator.window.line_view import draw_block, draw_line
from simulator.window.measures_shown import System
from simulator.window.moving import Moving
from simulator.window.palette import SIDES, TARMAC
from simulator.window.ruler import draw_belly_mark, draw_ruler
from simulator.window.side_view_ground import bed_line, draw_ground, draw_rail
from simulator.window.thresholds import Level

Spot = tuple[float, float]
Levels = tuple[Level, Level]


class Still(NamedTuple):
    """The still picture of one view on one canvas."""

    key: tuple[View, float, int, int, bool]
    layer: Canvas


class SideView:
    """Draws the scene of one description; keeps what stands still between frames."""

    def __init__(self, description: Description, *, system: System = "metric") -> None:
        self.description = description
        self.system: System = system
        self.moving = Moving(description)
        self.load, self.trucks = self.moving.load, self.moving.trucks
        self._marks = marks("rock" in description.site.soil.name.lower(), bed_line(description))
        self._still: Still | None = None
        self._carriers: Canvas | None = None
        self._levels: Levels = (Level.GOOD, Level.GOOD)

    def draw(self, canvas: Canvas, camera: Camera, readings: Readings, *, levels: Levels | None = None) -> None:
        """Draws one frame.

        Args:
            canvas: the window's canvas.
            camera: already told to follow these readings.
            readings: the moment to draw.
            levels: how much each line leans, nose and tail; found from the mean angles when left out.
        """
        self._levels = levels or self._found_levels(readings)
        over_road = readings.load.y_m > 0.0 or any(
            truck.is_over_road(unit) for truck, unit in zip(self.trucks, readings.units, strict=True)
        )
        self.moving.follow(canvas, camera, readings, self.hooks_on_screen(camera, readings))
        with canvas.clip(*SCENE):
            canvas.paste(self._kept_still(canvas, camera, with_carriers=not over_road))
            if over_road:
                self._draw_behind(canvas, camera, readings)
            self._draw_units(canvas, readings, behind=False)
            if readings.load.y_m <= 0.0:
                self._draw_load(canvas, camera, readings)
            draw_belly_mark(canvas, camera, readings.load.height_over_road_m)

    def tips_on_screen(self, camera: Camera, readings: Readings) -> tuple[Spot, Spot]:
        """Where the boom tips of nose and tail unit are, in design units."""
        nose, tail = (camera.to_scene(unit.tip_x_m, unit.tip_z_m) for unit in readings.units)
        return nose, tail

    def hooks_on_screen(self, camera: Camera, readings: Readings) -> tuple[Spot, Spot]:
        """Where the hooks of nose and tail unit are, in design units."""
        nose, tail = (camera.to_scene(unit.hook_x_m, unit.hook_z_m) for unit in readings.units)
        return nose, tail

    def _found_levels(self, readings: Readings) -> Levels:
        limit = thresholds.off_plumb(self.description.limits)
        nose, tail = (
            limit.level(unit.mean_off_plumb_rad, before)
            for unit, before in zip(readings.units, self._levels, strict=True)
        )
        return nose, tail

    def _kept_still(self, canvas: Canvas, camera: Camera, *, with_carriers: bool) -> Canvas:
        """The still ground, and the trucks if nothing is behind them; drawn again when view or canvas has changed."""
        key = (camera.view, canvas.f, canvas.ox, canvas.oy, with_carriers)
        if self._still is None or self._still.key != key:
            reusable = self._still is not None and self._still.key[1:4] == key[1:4]
            layer = self._still.layer if self._still is not None and reusable else canvas.layer(*SCENE)
            draw_ground(layer, camera, self.description, self._marks, self.system)
            draw_ruler(layer, camera, self.system)
            if with_carriers:
                self._draw_carriers(layer, camera)
            self._still, self._carriers = Still(key, layer), None
        return self._still.layer

    def _kept_carriers(self, canvas: Canvas, camera: Camera) -> Canvas:
        """Trucks and rail on a clear layer no higher than they are, made when first something is behind them."""
        if self._carriers is None:
            top = max(unit.cab_height_m for unit in self.description.units) + 0.3
            y0, y1 = camera.to_scene(0.0, top)[1], camera.to_scene(0.0, 0.0)[1] + 6.0
            self._carriers = canvas.layer(SCENE.x, y0, SCENE.w, y1 - y0, clear=True)
            self._carriers.surface.fill((*TARMAC, 0))
            self._draw_carriers(self._carriers, camera)
            self._carriers.surface = shapes.quick(self._carriers.surface)
        return self._carriers

    def _draw_carriers(self, canvas: Canvas, camera: Camera) -> None:
        draw_rail(canvas, camera, self.description)
        for truck in self.trucks:
            truck.draw_carrier(canvas, camera)

    def _draw_behind(self, canvas: Canvas, camera: Camera, readings: Readings) -> None:
        """Draws what is on the road side, then the trucks before it."""
        if readings.load.y_m > 0.0:
            self._draw_load(canvas, camera, readings)
        self._draw_units(canvas, readings, behind=True)
        canvas.paste(self._kept_carriers(canvas, camera))

    def _draw_units(self, canvas: Canvas, readings: Readings, *, behind: bool) -> None:
        """Draws the booms that are behind the trucks, or everything that turns and is not."""
        for end, (truck, unit) in enumerate(zip(self.trucks, readings.units, strict=True)):
            if not behind:
                self.moving.show_upper(canvas, end)
            if behind is truck.is_over_road(unit):
                self.moving.show_boom(canvas, end)

    def _draw_load(self, canvas: Canvas, camera: Camera, readings: Readings) -> None:
        """Draws lines, trailer, slings and blocks."""
        tips, hooks = self.tips_on_screen(camera, readings), self.hooks_on_screen(camera, readings)
        for tip, hook, unit, level in zip(tips, hooks, readings.units, self._levels, strict=True):
            draw_line(canvas, tip, hook, unit, level)
        self.moving.show_load(canvas)
        for end, (tip, hook) in enumerate(zip(tips, hooks, strict=True)):
            draw_block(canvas, tip, hook, SIDES[side_of_end(self.description, end)], camera.scale)

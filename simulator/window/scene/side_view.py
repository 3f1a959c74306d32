"""The side view, seen from the ravine: still ground kept as a layer, load and booms drawn every frame."""

from __future__ import annotations

from functools import lru_cache
from math import ceil, floor, hypot
from typing import NamedTuple

import pygame

from simulator.readings import LineReadings, Readings
from simulator.scenario.description import Description
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.rig import rig_of
from simulator.window.kit import levels, shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System, number
from simulator.window.kit.palette import CAUTION, INK, INK_2, PANEL, SIDES, STEEL, STOP, TARMAC, Color, SideColors
from simulator.window.kit.regions import SCENE
from simulator.window.kit.seen import seen_of
from simulator.window.kit.shapes import quick
from simulator.window.scene.camera import Camera, View, rose_radius
from simulator.window.scene.ground_marks import marks
from simulator.window.scene.holding_line import draw_holding_line, draw_holding_words
from simulator.window.scene.kept_pictures import KeptPictures
from simulator.window.scene.load_view import Poser
from simulator.window.scene.side_view_ground import bed_line, draw_ground, draw_rail
from simulator.window.scene.solids import Spot
from simulator.words import say

ROPE_WIDTH = 5.0
WEDGE_FROM = 1.5
"""Units between rope and true plumb from which the plumb line is drawn."""
WEDGE_COLORS: dict[Level, Color] = {Level.CAUTION: CAUTION, Level.STOP: STOP}


def draw_line(canvas: Canvas, tip: Spot, hook: Spot, line: LineReadings, level: Level) -> None:
    """Draws the rope from tip to block, the true plumb line, and the wedge between them when the line leans."""
    if hook[1] - tip[1] < 1.0:
        return
    if abs(hook[0] - tip[0]) > WEDGE_FROM and not line.slack:
        if level in WEDGE_COLORS:
            canvas.polygon([tip, hook, (tip[0], hook[1])], WEDGE_COLORS[level])
        canvas.dashed(tip, (tip[0], hook[1] + 40.0), INK, width=2.0, dash=9.0, gap=6.0)
    canvas.line(tip, hook, INK, width=ROPE_WIDTH)


def draw_block(canvas: Canvas, tip: Spot, hook: Spot, side: SideColors, scale: float) -> None:
    """Draws block and hook at the rope's lower end."""
    length = hypot(tip[0] - hook[0], tip[1] - hook[1]) or 1.0
    ux, uy = (tip[0] - hook[0]) / length, (tip[1] - hook[1]) / length
    size = min(30.0, max(24.0, 0.9 * scale))
    up = min(size * 0.86, max(0.0, length - size * 0.2))
    stamp = block_stamp(side, round(size), canvas.f)
    px, py = canvas.to_px(hook[0] + ux * up, hook[1] + uy * up)
    canvas.surface.blit(stamp, (round(px) - stamp.get_width() // 2, round(py) - stamp.get_height() // 2))
    canvas.disc(*hook, size * 0.24, fill=STEEL, edge=INK, edge_width=2.0)


@lru_cache(maxsize=64)
def block_stamp(side: SideColors, size: int, f: float) -> pygame.Surface:
    """A hoist block as a picture, its middle in the picture's middle."""
    half = round(size * 0.7 * f) + 1
    stamp = pygame.Surface((2 * half, 2 * half), pygame.SRCALPHA)
    stamp.fill((*INK, 0))
    canvas = Canvas(stamp, f=f, origin_px=(half, half))
    canvas.box(-size / 2, -size * 0.58, size, size * 1.16, fill=side.main, edge=INK, edge_width=2.0, radius=5.0)
    canvas.disc(0.0, -size * 0.08, size * 0.2, fill=PANEL, edge=INK, edge_width=2.0)
    return quick(stamp)


TICK, LONG_TICK = 12.0, 22.0
TOP_ROOM = 250.0
"""Units at the scene's top left free of ticks: the roses stand there."""
STEPS: dict[System, tuple[float, int]] = {"metric": (1.0, 5), "us": (METERS_PER_FOOT * 2.0, 5)}
"""Meters from tick to tick, and how many ticks from word to word."""
WORDS_PER_TICK: dict[System, int] = {"metric": 1, "us": 2}


def ruler_marks(camera: Camera, system: System = "metric") -> list[tuple[float, str]]:
    """(y in design units, word or nothing) of every tick in the scene."""
    step_m, long = STEPS[system]
    top = camera.to_world(SCENE.right, SCENE.y + TOP_ROOM)[1]
    foot = camera.to_world(SCENE.right, SCENE.foot - 14.0)[1]
    rows = []
    for n in range(ceil(foot / step_m), floor(top / step_m) + 1):
        word = "" if n % long else number(n * WORDS_PER_TICK[system], 0, signed=True) if n else say("inset.road")
        rows.append((camera.to_scene(0.0, n * step_m)[1], word))
    return rows


def draw_ruler(canvas: Canvas, camera: Camera, system: System = "metric") -> None:
    """Draws the ticks and words."""
    for y, word in ruler_marks(camera, system):
        length = LONG_TICK if word else TICK
        canvas.line((SCENE.right - length, y), (SCENE.right, y), INK_2, width=2.0)
        if word == say("inset.road"):
            # The road's own line runs there: the word needs a ground of its own.
            width = canvas.text_width(word, 24.0)
            canvas.box(SCENE.right - 36.0 - width, y - 14.0, width + 12.0, 28.0, fill=PANEL, radius=6.0)
        if word:
            canvas.text(word, SCENE.right - 30.0, y + 8.0, 24.0, color=INK_2, anchor="right")


def draw_belly_mark(canvas: Canvas, camera: Camera, height_m: float) -> None:
    """Draws where the load's lowest point stands on the ruler."""
    y = camera.to_scene(0.0, height_m)[1]
    if SCENE.y + TOP_ROOM < y < SCENE.foot - 4.0:
        x = SCENE.right - 3.0
        canvas.polygon([(x, y), (x - 17.0, y - 9.0), (x - 17.0, y + 9.0)], INK, edge=PANEL, edge_width=1.5)


Levels = tuple[Level, ...]
"""How much each unit's lines lean, together."""


class Still(NamedTuple):
    """The still picture of one view on one canvas."""

    key: tuple[View, float, int, int, bool]
    layer: Canvas


class SideView:
    """Draws the scene of one description; keeps what stands still between frames."""

    def __init__(self, description: Description, *, system: System = "metric") -> None:
        self.description = description
        self.system: System = system
        self.moving = KeptPictures(description)
        self.load, self.trucks = self.moving.load, self.moving.trucks
        self._marks = marks("rock" in description.site.soil.name.lower(), bed_line(description))
        self._still: Still | None = None
        self._carriers: Canvas | None = None
        self._rig, self._poser = rig_of(description), Poser(description.trailer)
        self._levels: Levels = tuple(Level.GOOD for _ in description.units)

    def draw(self, canvas: Canvas, camera: Camera, readings: Readings, *, levels: Levels | None = None) -> None:
        """Draws one frame.

        Args:
            canvas: the window's canvas.
            camera: already told to follow these readings.
            readings: the moment to draw.
            levels: how much each unit's lines lean; found from the mean angles when left out.
        """
        self._levels = levels or self._found_levels(readings)
        over_road = readings.load.y_m > 0.0 or any(
            truck.is_over_road(unit) for truck, unit in zip(self.trucks, readings.units, strict=True)
        )
        self.moving.follow(canvas, camera, readings, self.hooks_on_screen(camera, readings))
        over_road = over_road or self._leans
        with canvas.clip(*SCENE):
            canvas.paste(self._kept_still(canvas, camera, with_carriers=not over_road))
            if over_road:
                self._draw_behind(canvas, camera, readings)
            self._draw_units(canvas, readings, behind=False)
            if readings.load.y_m <= 0.0:
                self._draw_load(canvas, camera, readings)
            draw_belly_mark(canvas, camera, readings.load.height_over_road_m)
            if (holds := self.description.site.holding_line) is not None:
                draw_holding_words(canvas, camera, holds, readings, self.system)

    @property
    def _leans(self) -> bool:
        """A unit goes over: its carrier does not stand still."""
        return any(truck.over.is_up for truck in self.trucks)

    def sheaves_on_screen(self, camera: Camera, readings: Readings) -> tuple[Spot, ...]:
        """Where each line's sheave is, in design units."""
        return tuple(camera.to_scene(line.tip_x_m, line.tip_z_m) for line in readings.lines)

    def hooks_on_screen(self, camera: Camera, readings: Readings) -> tuple[Spot, ...]:
        """Where each line's hook is, in design units."""
        return tuple(camera.to_scene(line.hook_x_m, line.hook_z_m) for line in readings.lines)

    def _found_levels(self, readings: Readings) -> Levels:
        limit = levels.off_plumb(self.description.limits)
        rows = zip(readings.units, self._levels, strict=True)
        return tuple(limit.level(unit.mean_off_plumb_rad, before) for unit, before in rows)

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
        if self._leans:
            self._draw_carriers(canvas, camera)
        else:
            canvas.paste(self._kept_carriers(canvas, camera))

    def _draw_units(self, canvas: Canvas, readings: Readings, *, behind: bool) -> None:
        """Draws the booms that are behind the trucks, or everything that turns and is not."""
        for place, (truck, unit) in enumerate(zip(self.trucks, readings.units, strict=True)):
            if not behind:
                self.moving.show_upper(canvas, place)
            if behind is truck.is_over_road(unit):
                self.moving.show_boom(canvas, place)

    def _draw_load(self, canvas: Canvas, camera: Camera, readings: Readings) -> None:
        """Draws lines, trailer, slings and blocks, and what holds the load from the bank."""
        if (holds := self.description.site.holding_line) is not None:
            draw_holding_line(canvas, camera, holds, self._poser, readings)
        sheaves, hooks = self.sheaves_on_screen(camera, readings), self.hooks_on_screen(camera, readings)
        # Of two lines the one on the road side is behind.
        order = sorted(self._rig.lines, key=lambda line: -readings.lines[line.place].hook_y_m)
        for line in order:
            at = line.place
            draw_line(canvas, sheaves[at], hooks[at], readings.lines[at], self._levels[line.unit])
        self.moving.show_load(canvas)
        for line in order:
            own = self._rig.units[line.unit].lines
            side, scale = SIDES[seen_of(self.description).of(line.unit).side], camera.scale
            draw_block(canvas, sheaves[line.place], hooks[line.place], side, scale * (1.0 if len(own) < 2 else 0.7))
            if len(own) > 1:
                is_left = line == min(own, key=lambda one: (hooks[one.place][0], one.number))
                ends = sheaves[line.place], hooks[line.place]
                if hypot(ends[0][0] - ends[1][0], ends[0][1] - ends[1][1]) > rose_radius(scale) + NUMBER_CLEAR:
                    draw_number(canvas, *ends, line.number, side, is_left=is_left)


NUMBER_CLEAR = 24.0
"""Farther than this under a tip's rose a line's number is not half hidden by it."""
NUMBER_UP, NUMBER_APART = 4.0, 27.0
"""How far over its hook a line's number stands on the rope, and how far beside it."""


def draw_number(canvas: Canvas, tip: Spot, hook: Spot, number: int, side: SideColors, *, is_left: bool) -> None:
    """Draws which of two lines a rope is, on its side away from the other."""
    length = hypot(tip[0] - hook[0], tip[1] - hook[1])
    share = NUMBER_UP / length
    x = hook[0] + (tip[0] - hook[0]) * share + (-NUMBER_APART if is_left else NUMBER_APART)
    y = hook[1] + (tip[1] - hook[1]) * share
    canvas.disc(x, y, 14.0, fill=PANEL, edge=side.main, edge_width=2.0)
    canvas.digits(str(number), x, y + 8.5, 24.0, color=side.dark, anchor="center")

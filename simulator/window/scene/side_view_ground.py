"""What stands still in the side view: sky, hills, road, slope and its soil, bed, rail, overhead line."""

from __future__ import annotations

from itertools import pairwise
from math import sin
from typing import NamedTuple

import numpy as np
import pygame

from simulator.mechanics.ground import ground, height_m
from simulator.scenario.description import Description
from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import icon
from simulator.window.kit.measures_shown import System, length
from simulator.window.kit.palette import (
    BED,
    BED_LINE,
    BODY,
    HILL_FAR,
    HILL_NEAR,
    INK,
    INK_2,
    INK_3,
    PANEL,
    SKY,
    SLOPE_FOOT,
    SLOPE_TOP,
    SOIL_MARK,
    STEEL,
    STEEL_DARK,
    TARMAC,
    mixed,
)
from simulator.window.kit.regions import SCENE
from simulator.window.scene.camera import Camera
from simulator.window.scene.flat_view import draw_beside
from simulator.window.scene.ground_marks import STONE_SHAPE, Marks
from simulator.window.scene.solids import Array, Spot
from simulator.words import say

ROAD_THICKNESS = 12.0
PANEL_PITCH_M = 2.1


class Hill(NamedTuple):
    """A wave on the horizon, in design units over the road."""

    height: float
    waves: tuple[tuple[float, float, float], ...]
    """(amplitude, wavelength, shift)."""


FAR = Hill(178.0, ((34.0, 760.0, 0.6), (16.0, 310.0, 2.1)))
NEAR = Hill(104.0, ((30.0, 640.0, 3.9), (11.0, 260.0, 0.4)))


def bed_line(description: Description) -> tuple[tuple[float, float], ...]:
    """(x, z) of the ground along the road where the trailer lies at the start."""
    surface, y_m = ground(description.site), description.trailer.start.y_m
    xs = [-80.0, *(x for x, _ in description.site.bed_m if -80.0 < x < 80.0), 80.0]
    return tuple((x, height_m(surface, x, y_m)) for x in xs)


def draw_ground(
    canvas: Canvas, camera: Camera, description: Description, marks: Marks, system: System = "metric"
) -> None:
    """Draws everything that stands still behind the trucks."""
    _, road = camera.to_scene(0.0, 0.0)
    with canvas.clip(*SCENE):
        canvas.rect(*SCENE, SKY)
        _hill(canvas, FAR, road, HILL_FAR)
        _hill(canvas, NEAR, road, HILL_NEAR)
        _slope(canvas, camera, marks, road)
        bed = [camera.to_scene(x, z) for x, z in bed_line(description)]
        _bed(canvas, camera, marks, sorted(bed))
        _road(canvas, road)
        draw_beside(canvas, camera.to_scene, description)
        _deck_line(canvas, camera, description)
        _overhead_line(canvas, camera, description)
        _down_mark(canvas, camera, bed_line(description), description.trailer.start.x_m, system)


def _hill(canvas: Canvas, hill: Hill, road: float, color: tuple[int, int, int]) -> None:
    points = [
        (x, road - hill.height - sum(a * sin(x / wave * 6.283 + shift) for a, wave, shift in hill.waves))
        for x in range(int(SCENE.x) - 20, int(SCENE.right) + 40, 20)
    ]
    ridge = canvas.points_px(points)
    shapes.plain_polygon(
        canvas.surface, canvas.points_px([*points, (SCENE.right + 40, road), (SCENE.x - 40, road)]), color
    )
    pygame.draw.aalines(canvas.surface, color, False, ridge)


def _road(canvas: Canvas, road: float) -> None:
    canvas.rect(SCENE.x, road - 11, SCENE.w, 11, TARMAC)
    canvas.rect(SCENE.x, road, SCENE.w, 4, INK_2)
    canvas.rect(SCENE.x, road + 4, SCENE.w, ROAD_THICKNESS - 4, mixed(INK_3, STEEL, 0.25))


def _slope(canvas: Canvas, camera: Camera, marks: Marks, road: float) -> None:
    """The face under the road, with strokes that belong to places in the world."""
    canvas.gradient(SCENE.x, road, SCENE.w, SCENE.foot - road, SLOPE_TOP, SLOPE_FOOT)
    aaline, aalines, surface = pygame.draw.aaline, pygame.draw.aalines, canvas.surface
    tone, thick = mixed(SOIL_MARK, SLOPE_TOP, 0.2), (0.0, 0.8) if canvas.f > 0.8 else (0.0,)
    for x0, y0, x1, y1 in _shown(canvas, camera, marks.strokes):
        for by_px in thick:
            aaline(surface, tone, (x0 + by_px, y0), (x1 + by_px, y1))
    tone = mixed(SOIL_MARK, SLOPE_FOOT, 0.35)
    for x0, y0, x1, y1, x2, y2 in _shown(canvas, camera, marks.strata):
        for by_px in thick:
            aalines(surface, tone, False, ((x0, y0 + by_px), (x1, y1 + by_px), (x2, y2 + by_px)))


def _shown(canvas: Canvas, camera: Camera, rows: Array) -> list[list[float]]:
    """Rows of x, z pairs in pixels, those left out that lie outside the scene."""
    if not len(rows):
        return []
    (x0, y0), s = canvas.points_px([camera.to_scene(0.0, 0.0)])[0], camera.scale * canvas.f
    half, deep = SCENE.w / 2.0 / camera.scale + 1.0, -camera.to_world(0.0, SCENE.foot)[1] + 1.0
    kept = rows[(abs(rows[:, 0]) < half) & (rows[:, 1] > -deep)]
    pixels = np.empty_like(kept)
    pixels[:, 0::2] = x0 + camera.sign * s * kept[:, 0::2]
    pixels[:, 1::2] = y0 - s * kept[:, 1::2]
    found: list[list[float]] = pixels.tolist()
    return found


def _bed(canvas: Canvas, camera: Camera, marks: Marks, line: list[Spot]) -> None:
    """The ravine's bed, with a few stones below its line."""
    foot = [(line[-1][0], SCENE.foot + 40), (line[0][0], SCENE.foot + 40)]
    shapes.plain_polygon(canvas.surface, canvas.points_px([*line, *foot]), BED)
    tones = mixed(BED, SLOPE_TOP, 0.35), mixed(BED, BED_LINE, 0.28)
    (x0, y0), s = canvas.points_px([camera.to_scene(0.0, 0.0)])[0], camera.scale * canvas.f
    half, deep = SCENE.w / 2.0 / camera.scale + 0.3, camera.to_world(0.0, SCENE.foot)[1] - 0.3
    stones = marks.stones[(abs(marks.stones[:, 0]) < half) & (marks.stones[:, 1] > deep)]
    for x, z, size, tone in stones.tolist():
        px, py, r = x0 + camera.sign * s * x, y0 - s * z, size * s
        shapes.soft_polygon(canvas.surface, [(px + r * a, py + r * b) for a, b in STONE_SHAPE], tones[int(tone)])
    for start, end in pairwise(line):
        canvas.line(start, end, BED_LINE, width=3.0)


def line_y(line: list[Spot], x: float) -> float:
    """Second coordinate of a line that runs from left to right, at a first one."""
    for (x0, y0), (x1, y1) in pairwise(line):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / max(1e-9, x1 - x0)
    return line[-1][1]


BEYOND_M, ALONE_M = 0.35, 14.0
"""Rail and deck line begin so far beyond a tailboard; of a unit alone they reach so far."""


def before_tailboards(description: Description) -> tuple[float, float]:
    """What lies along the road between the units' tailboards, or before the tailboard of one alone: from, to."""
    ends = [
        (unit.slew_axis_x_m + unit.facing * (unit.tailboard_m + BEYOND_M), unit.facing) for unit in description.units
    ]
    xs = [x for x, _ in ends]
    if len(ends) < 2:
        xs += [x + facing * ALONE_M for x, facing in ends]
    return min(xs), max(xs)


def _deck_line(canvas: Canvas, camera: Camera, description: Description) -> None:
    """A dotted line from deck to deck: what the load has to pass over."""
    deck = max(unit.deck_height_m for unit in description.units)
    low, high = (camera.to_scene(x, deck) for x in before_tailboards(description))
    canvas.dashed(low, high, INK, width=2.0, dash=5.0, gap=8.0)


def _overhead_line(canvas: Canvas, camera: Camera, description: Description) -> None:
    line = description.site.overhead_line
    if line is not None:
        _, y = camera.to_scene(0.0, line.height_m)
        canvas.line((SCENE.x, y), (SCENE.right, y), INK, width=2.0)
        canvas.text(say_kilovolt(line.kilovolt), SCENE.x + 16, y - 8, 24.0, color=INK)


def say_kilovolt(kilovolt: float) -> str:
    """An overhead line's tension."""
    return f"{kilovolt:g} kV"


def _down_mark(canvas: Canvas, camera: Camera, bed: tuple[Spot, ...], x_m: float, system: System) -> None:
    """A mark at the foot, with the depth where the trailer lies, when the bed there is below the frame."""
    bed_z_m = line_y(list(bed), x_m)
    if camera.to_scene(x_m, bed_z_m)[1] < SCENE.foot - 6.0:
        return
    text = say("inset.bed", value=length(bed_z_m, system).joined)
    # Under the left board while that stands high: the load and its beads then come down to the foot.
    x = SCENE.x + (180.0 if camera.to_scene(0.0, 0.0)[1] < SCENE.foot - 312.0 else SCENE.w / 2.0)
    y, w = SCENE.foot - 19.0, 62.0 + canvas.text_width(text, 26.0)
    canvas.box(x - w / 2, y - 17.0, w, 34.0, fill=PANEL, edge=INK, edge_width=2.0, radius=8.0)
    icon(canvas, "arrow", x - w / 2 + 24.0, y, 26.0, turn_deg=90)
    canvas.text(text, x - w / 2 + 44.0, y + 9.0, 26.0)


def draw_rail(canvas: Canvas, camera: Camera, description: Description) -> None:
    """Draws the guard rail between the units, or before one alone."""
    low, high = before_tailboards(description)
    top = description.site.guard_rail_height_m
    if top <= 0.0 or high - low < 1.0:
        return
    for start, end in description.site.rail_spans(low, high):
        for level in (0.98, 0.56):
            _strip(canvas, camera, (start, end), (top * (level - 0.3), top * level))
        count = max(1, round((end - start) / PANEL_PITCH_M))
        for n in range(count + 1):
            x = start + (end - start) * n / count
            _strip(canvas, camera, (x - 0.07, x + 0.07), (0.0, top), STEEL_DARK)


def _strip(canvas: Canvas, camera: Camera, x: Spot, z: Spot, paint: tuple[int, int, int] = BODY) -> None:
    corners = [
        camera.to_scene(x[0], z[0]),
        camera.to_scene(x[1], z[0]),
        camera.to_scene(x[1], z[1]),
        camera.to_scene(x[0], z[1]),
    ]
    canvas.polygon(corners, paint, edge=STEEL_DARK, edge_width=1.5)

"""One hoist line: rope, block and hook, the true plumb line, and the wedge between them when it leans."""

from __future__ import annotations

from functools import lru_cache
from math import hypot

import pygame

from simulator.readings import UnitReadings
from simulator.window.canvas import Canvas
from simulator.window.palette import CAUTION, INK, PANEL, STEEL, STOP, Colour, Side
from simulator.window.shapes import quick
from simulator.window.solids import Spot
from simulator.window.thresholds import Level

ROPE_WIDTH = 5.0
WEDGE_FROM = 1.5
"""Units between rope and true plumb from which the plumb line is drawn."""
WEDGE_COLOURS: dict[Level, Colour] = {Level.CAUTION: CAUTION, Level.STOP: STOP}


def draw_line(canvas: Canvas, tip: Spot, hook: Spot, unit: UnitReadings, level: Level) -> None:
    """Draws the rope from tip to block, the true plumb line, and the wedge between them when the line leans."""
    if hook[1] - tip[1] < 1.0:
        return
    if abs(hook[0] - tip[0]) > WEDGE_FROM and not unit.slack:
        if level in WEDGE_COLOURS:
            canvas.polygon([tip, hook, (tip[0], hook[1])], WEDGE_COLOURS[level])
        canvas.dashed(tip, (tip[0], hook[1] + 40.0), INK, width=2.0, dash=9.0, gap=6.0)
    canvas.line(tip, hook, INK, width=ROPE_WIDTH)


def draw_block(canvas: Canvas, tip: Spot, hook: Spot, side: Side, scale: float) -> None:
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
def block_stamp(side: Side, size: int, f: float) -> pygame.Surface:
    """A hoist block as a picture, its middle in the picture's middle."""
    half = round(size * 0.7 * f) + 1
    stamp = pygame.Surface((2 * half, 2 * half), pygame.SRCALPHA)
    stamp.fill((*INK, 0))
    canvas = Canvas(stamp, f=f, origin_px=(half, half))
    canvas.box(-size / 2, -size * 0.58, size, size * 1.16, fill=side.main, edge=INK, edge_width=2.0, radius=5.0)
    canvas.disc(0.0, -size * 0.08, size * 0.2, fill=PANEL, edge=INK, edge_width=2.0)
    return quick(stamp)

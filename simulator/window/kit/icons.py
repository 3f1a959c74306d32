"""Marks that carry a state by their shape: drawn at four times their size once, and kept by size and color.

The typeface has no arrows, ticks or triangles, so these are shapes, never characters.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, degrees, pi, sin
from typing import Literal

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import CAUTION, INK, PANEL, SIDES, STOP, Color
from simulator.window.kit.shapes import OVERDRAW, Pixel

Mark = Literal["caution", "stop", "tick", "cross", "arrow", "two_way", "play", "check"]
Draw = Callable[[pygame.Surface, float, Color, Color], None]


def _scaled(points: list[Pixel], side: float) -> list[Pixel]:
    return [(x * side, y * side) for x, y in points]


def _stroke(surface: pygame.Surface, points: list[Pixel], color: Color, width: float) -> None:
    """Joined strokes with round ends."""
    for (x0, y0), (x1, y1) in pairwise(points):
        length = max(1e-6, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        nx, ny = (y1 - y0) / length * width / 2, (x0 - x1) / length * width / 2
        corners = [(x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny)]
        pygame.draw.polygon(surface, color, corners)
    for point in points:
        pygame.draw.circle(surface, color, point, width / 2)


def _ngon(surface: pygame.Surface, points: list[Pixel], fill: Color, edge: Color, width: float) -> None:
    """A polygon whose edge is rounded at the corners."""
    pygame.draw.polygon(surface, fill, points)
    _stroke(surface, [*points, points[0]], edge, width)


def _caution(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """A triangle with a bar and a dot."""
    edge = side * 0.075
    _ngon(surface, _scaled([(0.5, 0.1), (0.95, 0.88), (0.05, 0.88)], side), fill, mark, edge)
    _stroke(surface, _scaled([(0.5, 0.38), (0.5, 0.58)], side), mark, side * 0.1)
    pygame.draw.circle(surface, mark, (side * 0.5, side * 0.74), side * 0.058)


def _stop(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """An octagon with a cross."""
    turns = [pi / 8 + n * pi / 4 for n in range(8)]
    outer = [(0.5 + 0.5 * cos(a), 0.5 + 0.5 * sin(a)) for a in turns]
    pygame.draw.polygon(surface, fill, _scaled(outer, side))
    _cross(surface, side, fill, mark)


def _cross(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """Two crossing strokes."""
    for points in ([(0.32, 0.32), (0.68, 0.68)], [(0.68, 0.32), (0.32, 0.68)]):
        _stroke(surface, _scaled(points, side), mark, side * 0.11)


def _tick(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """A tick in a disc."""
    pygame.draw.circle(surface, fill, (side / 2, side / 2), side * 0.5)
    _check(surface, side, fill, mark)


def _check(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """A tick alone."""
    _stroke(surface, _scaled([(0.27, 0.52), (0.43, 0.68), (0.74, 0.34)], side), mark, side * 0.11)


def _arrow(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """An arrow to the right, without an edge."""
    outline: list[Pixel] = [(0.04, 0.4), (0.5, 0.4), (0.5, 0.14), (0.96, 0.5), (0.5, 0.86), (0.5, 0.6), (0.04, 0.6)]
    pygame.draw.polygon(surface, fill, _scaled(outline, side))


def _two_way(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """An arrow to the right and to the left."""
    for points in ([(0.0, 0.5), (0.34, 0.2), (0.34, 0.8)], [(1.0, 0.5), (0.66, 0.2), (0.66, 0.8)]):
        pygame.draw.polygon(surface, fill, _scaled(list(points), side))
    _stroke(surface, _scaled([(0.3, 0.5), (0.7, 0.5)], side), fill, side * 0.1)


def _play(surface: pygame.Surface, side: float, fill: Color, mark: Color) -> None:
    """A triangle to the right."""
    pygame.draw.polygon(surface, fill, _scaled([(0.12, 0.06), (0.95, 0.5), (0.12, 0.94)], side))


DRAWERS: dict[Mark, Draw] = {
    "caution": _caution,
    "stop": _stop,
    "tick": _tick,
    "cross": _cross,
    "check": _check,
    "arrow": _arrow,
    "two_way": _two_way,
    "play": _play,
}
USUAL: dict[Mark, tuple[Color, Color]] = {
    "caution": (CAUTION, INK),
    "stop": (STOP, PANEL),
    "cross": (INK, INK),
    "check": (INK, INK),
}


@lru_cache(maxsize=256)
def stamp(name: Mark, side_px: int, fill: Color, mark: Color, turn_deg: int) -> pygame.Surface:
    """One mark at one size, as a picture."""
    side = side_px * OVERDRAW
    big = pygame.Surface((side, side), pygame.SRCALPHA)
    big.fill((*(fill if name not in ("cross", "check") else mark), 0))
    DRAWERS[name](big, side, fill, mark)
    if turn_deg:
        turned = pygame.transform.rotate(big, -turn_deg)
        big = pygame.Surface((side, side), pygame.SRCALPHA)
        big.fill((*fill, 0))
        big.blit(turned, turned.get_rect(center=(side // 2, side // 2)))
    return pygame.transform.smoothscale(big, (side_px, side_px))


def icon(
    canvas: Canvas,
    name: Mark,
    x: float,
    y: float,
    side: float = 28.0,
    *,
    fill: Color | None = None,
    mark: Color | None = None,
    turn_deg: int = 0,
) -> None:
    """Draws a mark centered at (x, y).

    Args:
        canvas: where.
        name: which; `arrow`, `two_way` and `play` point right.
        x, y: its middle, in design units.
        side: its size, in design units.
        fill: its body's color; by default what the state asks for.
        mark: the color of what stands in it.
        turn_deg: clockwise turn, in whole steps of 45 degrees, so that the store stays small.
    """
    usual_fill, usual_mark = USUAL.get(name, (INK, PANEL))
    side_px = canvas.size_px(side, least=6)
    picture = stamp(name, side_px, fill or usual_fill, mark or usual_mark, round(turn_deg / 45) * 45 % 360)
    px, py = canvas.to_px(x, y)
    canvas.surface.blit(picture, (round(px - side_px / 2), round(py - side_px / 2)))


def arrow_turn(dx: float, dy: float) -> int:
    """The nearest of the eight turns for an arrow pointing along (dx, dy), y down."""
    return round(degrees(atan2(dy, dx)) / 45) * 45 % 360


def badge(canvas: Canvas, side: int, x: float, y: float, size: float = 40.0, *, inverse: bool = False) -> None:
    """The left unit's square L (side 0) or the right unit's round R (side 1), centered at (x, y)."""
    ground, letter = (PANEL, SIDES[side].main) if inverse else (SIDES[side].main, PANEL)
    if side == 0:
        canvas.box(x - size / 2, y - size / 2, size, size, fill=ground, radius=size * 0.16)
    else:
        canvas.disc(x, y, size / 2, fill=ground)
    canvas.text("LR"[side], x, y + size * 0.25, size * 0.7, weight="bold", color=letter, anchor="center")

"""The outrigger board under a truck: four tiles as it stands, road side on top, cab end outward."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import pygame

from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.icons import icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, INK, INK_2, INK_3, PANEL, SIDES, SOIL_MARK, STOP, WASH
from simulator.window.kit.pieces import draw_level
from simulator.window.kit.regions import SCENE
from simulator.window.kit.shapes import quick
from simulator.window.readouts.looks import BoardLook, TileLook
from simulator.words import say

WIDTH, HEIGHT = 288.0, 206.0
TILE_W, TILE_H = 122.0, 54.0
LEFT_COLUMN, RIGHT_COLUMN, ROAD_ROW, RAVINE_ROW = 16.0, 150.0, 50.0, 138.0
TRUCK_ROOM = 200.0
LIFT, TURN_DEG = 9.0, 5.0
ROOM = 24.0
ROUNDING = 2.0
"""By which a text of whole pixels may turn out wider."""


class BoardCorner(NamedTuple):
    """Where a board stands: its left upper corner."""

    x: float
    y: float


def board_place(
    side: int, jacks_x: tuple[float, float], road_y: float, blocked: tuple[float, float] | None
) -> BoardCorner:
    """As close under its truck as the load allows.

    Args:
        side: 0 seen left, 1 seen right.
        jacks_x: where the truck's two jacks stand on the screen.
        road_y: the road on the screen.
        blocked: left and right edge of what must stay seen (the load and its beads), if any is at board height.
    """
    x = sum(jacks_x) / 2.0 - WIDTH / 2.0
    if blocked is not None:
        x = min(x, blocked[0] - ROOM - WIDTH) if side == 0 else max(x, blocked[1] + ROOM)
    # The ruler gives way before the load does.
    margin = 48.0 if x <= SCENE.right - 48.0 - WIDTH else 8.0
    x = min(max(x, SCENE.x + 8.0), SCENE.right - margin - WIDTH)
    return BoardCorner(round(x), round(min(max(road_y + 70.0, SCENE.y + 300.0), SCENE.foot - 16.0 - HEIGHT)))


def draw_leaders(canvas: Canvas, place: BoardCorner, jacks_x: tuple[float, float], road_y: float) -> None:
    """Fine lines from the two jacks to the board's upper edge."""
    for jack_x, share in zip(sorted(jacks_x), (0.27, 0.73), strict=True):
        at = min(max(jack_x, place.x + 12.0), place.x + WIDTH - 12.0)
        at = at if abs(at - jack_x) < 40.0 else place.x + WIDTH * share
        knee = min(road_y + 26.0, place.y - 8.0)
        canvas.polyline([(jack_x, road_y + 4.0), (jack_x, knee), (at, place.y)], INK_3, width=1.3)


class BoardPicture:
    """One board kept as a picture, drawn anew when its look changes."""

    def __init__(self, canvas: Canvas, side: int) -> None:
        self._layer = canvas.layer(0.0, 0.0, WIDTH + 16.0, HEIGHT + 16.0, clear=True)
        self._side = side
        self._look: BoardLook | None = None
        self._shown = self._layer.surface

    def take(self, look: BoardLook) -> bool:
        """Take a look; answer whether it is another one than before."""
        is_other = look != self._look
        self._look = look
        return is_other

    def redraw(self) -> None:
        """Draw the look taken last."""
        if self._look is not None:
            self._layer.surface.fill((*PANEL, 0))
            draw_board(self._layer, self._side, 8.0, 8.0, self._look)
            self._shown = quick(self._layer.surface)

    def show(self, canvas: Canvas, place: BoardCorner) -> None:
        """Lays the picture where the board stands."""
        px, py = canvas.to_px(place.x - 8.0, place.y - 8.0)
        canvas.surface.blit(self._shown, (round(px), round(py)))


def draw_board(canvas: Canvas, side: int, x: float, y: float, look: BoardLook) -> None:
    """Draws the whole board from its left upper corner."""
    canvas.box(x, y, WIDTH, HEIGHT, fill=PANEL, edge=STOP if look.tipping else INK_2, radius=8.0)
    canvas.text(say("board.outriggers"), x + 16.0, y + 30.0, 26.0, weight="medium", color=INK_2, width=96.0)
    unit = canvas.text(look.unit, x + WIDTH - 16.0, y + 30.0, 26.0, weight="medium", color=INK_2, anchor="right")
    canvas.text(look.lean, x + WIDTH - 32.0 - unit, y + 30.0, 24.0, anchor="right", width=126.0)
    _truck(canvas, side, x, y, look)
    for index, corner in enumerate(tile_corners(side)):
        _tile(canvas, side, (x + corner[0], y + corner[1]), look.tiles[index])
    if look.tipping:
        canvas.box(x, y, WIDTH, 40.0, fill=STOP, radius=8.0)
        icon(canvas, "stop", x + 66.0, y + 20.0, 30.0, fill=PANEL, mark=STOP)
        canvas.text(say("board.tipping"), x + 94.0, y + 31.0, 32.0, weight="bold", color=PANEL, width=170.0)


def tile_corners(side: int) -> tuple[Spot, Spot, Spot, Spot]:
    """Left upper corners of the tiles in the order of `FLOAT_NAMES`: tailboard end toward the other truck."""
    cab, tailboard = (LEFT_COLUMN, RIGHT_COLUMN) if side == 0 else (RIGHT_COLUMN, LEFT_COLUMN)
    return (tailboard, ROAD_ROW), (tailboard, RAVINE_ROW), (cab, ROAD_ROW), (cab, RAVINE_ROW)


def _truck(canvas: Canvas, side: int, x: float, y: float, look: BoardLook) -> None:
    canvas.box(x + 16.0, y + 106.0, 256.0, 30.0, fill=WASH, edge=INK_3, radius=5.0)
    cab_x = x + 16.0 if side == 0 else x + 228.0
    canvas.box(cab_x, y + 106.0, 44.0, 30.0, fill=SIDES[side].main, radius=5.0)
    middle = x + 60.0 + 106.0 if side == 0 else x + 16.0 + 106.0
    canvas.text(look.spare, middle, y + 129.0, 26.0, anchor="center", width=TRUCK_ROOM)


def _tile(canvas: Canvas, side: int, corner: Spot, look: TileLook) -> None:
    x, y = corner
    if look.level is Level.GOOD:
        _flat_tile(canvas, side, x, y, look)
        return
    canvas.box(x, y, TILE_W, TILE_H, fill=WASH, edge=INK_2, edge_width=2.0, radius=6.0)
    canvas.hatch(x + 3.0, y + 3.0, TILE_W - 6.0, TILE_H - 6.0, SOIL_MARK)
    turned = loose_tile(look.text, look.word, look.level, look.is_least, canvas.f)
    px, py = canvas.to_px(x + TILE_W / 2, y + TILE_H / 2 - LIFT)
    canvas.surface.blit(turned, turned.get_rect(center=(round(px), round(py))))


def _flat_tile(canvas: Canvas, side: int, x: float, y: float, look: TileLook) -> None:
    edge_width = 4.0 if look.is_least else 2.0
    canvas.box(x, y, TILE_W, TILE_H, fill=PANEL, edge=INK, edge_width=edge_width, radius=6.0)
    inner_h = (TILE_H - 2 * edge_width - 2.0) * look.fill
    foot = y + TILE_H - edge_width - 1.0
    area = (x + edge_width + 1.0, foot - inner_h, TILE_W - 2 * edge_width - 2.0, inner_h)
    canvas.rect(*area, SIDES[side].tint)
    if look.word == say("board.ground"):
        canvas.hatch(*area, INK_3)
        canvas.box(x + 4.0, y + 8.0, TILE_W - 8.0, TILE_H - 16.0, fill=CAUTION, edge=INK, radius=5.0)
        draw_level(canvas, Level.CAUTION, x + 18.0, y + 26.0, 20.0)
        canvas.text(look.word, x + 73.0, y + 36.0, 24.0, weight="semibold", anchor="center", width=86.0)
    else:
        canvas.digits(look.text, x + TILE_W / 2, y + 41.0, 40.0, anchor="center")


@lru_cache(maxsize=16)
def loose_tile(text: str, word: str, level: Level, is_least: bool, f: float) -> pygame.Surface:
    """A tile that came loose: drawn upright at twice its size, turned, and shrunk once."""
    size = (round((TILE_W + 12.0) * 2 * f), round((TILE_H + 12.0) * 2 * f))
    big = Canvas(pygame.Surface(size, pygame.SRCALPHA), f=2 * f, origin_px=(round(12 * f), round(12 * f)))
    fill, color = (STOP, PANEL) if level is Level.STOP else (CAUTION, INK)
    big.surface.fill((*INK, 0))
    big.box(0.0, 0.0, TILE_W, TILE_H, fill=fill, edge=INK, edge_width=5.0 if is_least else 3.0, radius=6.0)
    if level is Level.STOP:
        icon(big, "stop", 28.0, TILE_H / 2, 32.0, fill=PANEL, mark=STOP)
    else:
        icon(big, "caution", 29.0, TILE_H / 2 - 1.0, 30.0, fill=INK, mark=CAUTION)
    big.digits(word or text, 82.0, 41.0, 40.0 if len(word or text) < 5 else 34.0, color=color, anchor="center")
    return pygame.transform.rotozoom(big.surface, TURN_DEG, 0.5)

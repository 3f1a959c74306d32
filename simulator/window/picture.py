"""A moving thing kept as a picture: laid where it is now, drawn again when its shape is off by what the eye sees."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, inf
from typing import NamedTuple

import pygame

from simulator.window.canvas import Canvas
from simulator.window.palette import INK
from simulator.window.shapes import quick
from simulator.window.solids import Spot

FINE_PX = 0.5
"""A shape off by less is left as it is."""
COARSE_PX = 1.5
"""A shape off by more does not wait its turn: one more is drawn in that frame."""
ROUND_PX = 64
"""Surfaces grow in steps of this, so that a growing thing does not need a new one each time."""


class Shape(NamedTuple):
    """Where a thing is: an anchor that carries it about, and points that tell its shape, in pixels from there."""

    anchor: Spot
    points: Sequence[Spot]
    margin: float
    """How far it reaches beyond its points, pixels."""


class Picture:
    """One thing's picture."""

    def __init__(self) -> None:
        self._surface: pygame.Surface | None = None
        self._shown: pygame.Surface | None = None
        self._drawn: Shape | None = None
        self._canvas_key: tuple[float, int, int] | None = None
        self._corner = (0, 0)

    def off_px(self, canvas: Canvas, shape: Shape) -> float:
        """How far the picture's shape is from what it should be, at its worst point."""
        if self._drawn is None or self._canvas_key != (canvas.f, canvas.ox, canvas.oy):
            return inf
        pairs = zip(self._drawn.points, shape.points, strict=True)
        return max(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in pairs)

    def draw(self, canvas: Canvas, shape: Shape, draw: Callable[[Canvas], None]) -> None:
        """Draws it anew; `draw` gets a clear layer with the canvas's own places."""
        (ax, ay), margin = shape.anchor, shape.margin
        xs, ys = [ax + x for x, _ in shape.points], [ay + y for _, y in shape.points]
        left, top = floor(min(xs) - margin), floor(min(ys) - margin)
        surface = self._room(ceil(max(xs) + margin) - left, ceil(max(ys) + margin) - top)
        # Half-covered edge pixels take the outline's colour, not the paper's.
        surface.fill((*INK, 0))
        draw(Canvas(surface, f=canvas.f, origin_px=(canvas.ox - left, canvas.oy - top)))
        self._shown = quick(surface)
        self._drawn, self._corner = shape, (left, top)
        self._canvas_key = canvas.f, canvas.ox, canvas.oy

    def show(self, canvas: Canvas, anchor: Spot) -> None:
        """Lays it with its anchor at `anchor`, to the nearest pixel."""
        if self._shown is not None and self._drawn is not None:
            x, y = self._drawn.anchor
            at = (self._corner[0] + round(anchor[0] - x), self._corner[1] + round(anchor[1] - y))
            canvas.surface.blit(self._shown, at)

    def _room(self, width: int, height: int) -> pygame.Surface:
        """A clear surface at least so large, and not much larger."""
        size = (-(-width // ROUND_PX) * ROUND_PX, -(-height // ROUND_PX) * ROUND_PX)
        if self._surface is None or self._surface.get_size() != size:
            self._surface = pygame.Surface(size, pygame.SRCALPHA)
        return self._surface


class Wish(NamedTuple):
    """A picture that may have to be drawn, and how."""

    picture: Picture
    shape: Shape
    draw: Callable[[Canvas], None]


def bring_up_to_date(canvas: Canvas, wishes: Sequence[Wish]) -> None:
    """Draws the one that is worst off, one more if that is visibly off, and all that were never drawn."""
    rows = sorted(((wish.picture.off_px(canvas, wish.shape), n) for n, wish in enumerate(wishes)), reverse=True)
    for place, (off_px, n) in enumerate(rows):
        if off_px == inf or off_px > (FINE_PX, COARSE_PX, inf)[min(place, 2)]:
            picture, shape, draw = wishes[n]
            picture.draw(canvas, shape, draw)

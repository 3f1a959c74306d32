"""A sheet of 1920 x 1080 design units on any surface: where things go in pixels, layers, and plain areas."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Self

import pygame

from simulator.window import shapes
from simulator.window.palette import PAPER, Colour, mixed

WIDTH, HEIGHT = 1920, 1080
Spot = tuple[float, float]


class Sheet:
    """Draws in design units; `surface` may be the window, or a layer kept between frames."""

    def __init__(
        self, surface: pygame.Surface, *, f: float | None = None, origin_px: tuple[int, int] | None = None
    ) -> None:
        self.surface = surface
        w, h = surface.get_size()
        self.f = f or min(w / WIDTH, h / HEIGHT)
        self.ox, self.oy = origin_px or (round((w - WIDTH * self.f) / 2), round((h - HEIGHT * self.f) / 2))

    # Places and sizes -------------------------------------------------------------------------------------------

    def from_px(self, place: tuple[int, int]) -> Spot:
        """The design point under a pixel, such as the mouse's."""
        return (place[0] - self.ox) / self.f, (place[1] - self.oy) / self.f

    def to_px(self, x: float, y: float) -> Spot:
        """A design point in pixels, not rounded."""
        return self.ox + x * self.f, self.oy + y * self.f

    def to_units(self, px: float, py: float) -> Spot:
        """A pixel in design units."""
        return (px - self.ox) / self.f, (py - self.oy) / self.f

    def size_px(self, units: float, *, least: int = 1) -> int:
        """A length in whole pixels, at least `least`."""
        return max(least, round(units * self.f))

    def rect_px(self, x: float, y: float, w: float, h: float) -> pygame.Rect:
        """A design rectangle in whole pixels; neighbours share their edge."""
        left, top = round(self.ox + x * self.f), round(self.oy + y * self.f)
        return pygame.Rect(left, top, round(self.ox + (x + w) * self.f) - left, round(self.oy + (y + h) * self.f) - top)

    def points_px(self, points: Sequence[Spot]) -> list[Spot]:
        """Design points in pixels, from edge places to pixel middles."""
        f, ox, oy = self.f, self.ox - 0.5, self.oy - 0.5
        return [(ox + x * f, oy + y * f) for x, y in points]

    # Layers -----------------------------------------------------------------------------------------------------

    def layer(self, x: float, y: float, w: float, h: float, *, clear: bool = False) -> Self:
        """A sheet on a surface of its own over that region; `clear` gives it a transparent ground."""
        rect = self.rect_px(x, y, w, h)
        surface = pygame.Surface(rect.size, pygame.SRCALPHA) if clear else pygame.Surface(rect.size, 0, self.surface)
        return type(self)(surface, f=self.f, origin_px=(self.ox - rect.x, self.oy - rect.y))

    def paste(self, layer: Sheet) -> None:
        """Lays a layer where it belongs."""
        self.surface.blit(layer.surface, (self.ox - layer.ox, self.oy - layer.oy))

    @contextmanager
    def clip(self, x: float, y: float, w: float, h: float) -> Iterator[None]:
        """Keeps drawing inside a rectangle."""
        before = self.surface.get_clip()
        self.surface.set_clip(self.rect_px(x, y, w, h).clip(before))
        try:
            yield
        finally:
            self.surface.set_clip(before)

    def veil(self, x: float, y: float, w: float, h: float, colour: Colour = PAPER, *, share: float = 0.6) -> None:
        """Lays a see-through sheet over a region."""
        rect = self.rect_px(x, y, w, h)
        sheet = pygame.Surface(rect.size)
        sheet.fill(colour)
        sheet.set_alpha(round(255 * share))
        self.surface.blit(sheet, rect)

    # Areas ------------------------------------------------------------------------------------------------------

    def clear(self, colour: Colour = PAPER) -> None:
        """Fills the whole surface."""
        self.surface.fill(colour)

    def rect(self, x: float, y: float, w: float, h: float, colour: Colour) -> None:
        """A plain filled rectangle."""
        self.surface.fill(colour, self.rect_px(x, y, w, h).clip(self.surface.get_clip()))

    def box(
        self,
        x: float,
        y: float,
        w: float,
        h: float,
        *,
        fill: Colour | None = None,
        edge: Colour | None = None,
        edge_width: float = 2.0,
        radius: float = 8.0,
    ) -> None:
        """A rounded box; the edge lies inside it."""
        edge_px = self.size_px(edge_width) if edge else 0
        shapes.rounded_box(self.surface, self.rect_px(x, y, w, h), self.size_px(radius, least=0), fill, edge, edge_px)

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        *,
        fill: Colour | None = None,
        edge: Colour | None = None,
        edge_width: float = 2.0,
    ) -> None:
        """A disc, or a ring when only `edge` is given; the edge lies inside the radius."""
        radius_px = round(radius * self.f * 2) / 2
        stamp = shapes.disc_stamp(radius_px, fill, edge, max(1.0, round(edge_width * self.f * 2) / 2))
        half = stamp.get_width() / 2
        px, py = self.to_px(x, y)
        self.surface.blit(stamp, (round(px - half), round(py - half)))

    def polygon(
        self, points: Sequence[Spot], fill: Colour, *, edge: Colour | None = None, edge_width: float = 2.0
    ) -> None:
        """A filled polygon with smooth edges; the edge is centred on the outline."""
        places = self.points_px(points)
        if edge is None:
            shapes.fill_polygon(self.surface, places, fill)
        else:
            shapes.edged_polygon(self.surface, places, fill, edge, max(1.0, edge_width * self.f))

    def gradient(self, x: float, y: float, w: float, h: float, top: Colour, foot: Colour) -> None:
        """A rectangle whose colour runs from top to foot. For layers that are kept."""
        rect = self.rect_px(x, y, w, h)
        bands = max(1, min(rect.h, 2 * max(abs(a - b) for a, b in zip(top, foot, strict=True))))
        for n in range(bands):
            low, high = rect.h * n // bands, rect.h * (n + 1) // bands
            self.surface.fill(mixed(top, foot, (n + 0.5) / bands), (rect.x, rect.y + low, rect.w, high - low))

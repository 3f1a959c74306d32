"""The canvas: a sheet of 1920 x 1080 design units with lines and text, drawn at its native size, never shrunk.

Every coordinate is in design units; text is placed by its baseline. Colors are those of `palette`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from math import cos, hypot, sin
from typing import Literal, Self

import pygame

from simulator.window.kit import shapes
from simulator.window.kit.lettering import DIGITS, Weight, shared_lettering
from simulator.window.kit.palette import INK, PAPER, Color, mixed

__all__ = ["HEIGHT", "SMALLEST_TEXT", "WIDTH", "Anchor", "Canvas", "Spot", "Weight"]

WIDTH, HEIGHT = 1920, 1080
Spot = tuple[float, float]
SMALLEST_TEXT = 24
Anchor = Literal["left", "center", "right"]
SHARE_BEFORE = {"left": 0.0, "center": 0.5, "right": 1.0}


class Canvas:
    """Draws in design units; `surface` may be the window, or a layer kept between frames."""

    def __init__(
        self, surface: pygame.Surface, *, f: float | None = None, origin_px: tuple[int, int] | None = None
    ) -> None:
        self.surface = surface
        w, h = surface.get_size()
        self.f = f or min(w / WIDTH, h / HEIGHT)
        self.ox, self.oy = origin_px or (round((w - WIDTH * self.f) / 2), round((h - HEIGHT * self.f) / 2))
        self.type = shared_lettering()

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
        """A design rectangle in whole pixels; neighbors share their edge."""
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

    def paste(self, layer: Canvas) -> None:
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

    def veil(self, x: float, y: float, w: float, h: float, color: Color = PAPER, *, share: float = 0.6) -> None:
        """Lays a see-through sheet over a region."""
        rect = self.rect_px(x, y, w, h)
        sheet = pygame.Surface(rect.size)
        sheet.fill(color)
        sheet.set_alpha(round(255 * share))
        self.surface.blit(sheet, rect)

    # Areas ------------------------------------------------------------------------------------------------------

    def clear(self, color: Color = PAPER) -> None:
        """Fills the whole surface."""
        self.surface.fill(color)

    def rect(self, x: float, y: float, w: float, h: float, color: Color) -> None:
        """A plain filled rectangle."""
        self.surface.fill(color, self.rect_px(x, y, w, h).clip(self.surface.get_clip()))

    def box(
        self,
        x: float,
        y: float,
        w: float,
        h: float,
        *,
        fill: Color | None = None,
        edge: Color | None = None,
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
        fill: Color | None = None,
        edge: Color | None = None,
        edge_width: float = 2.0,
    ) -> None:
        """A disc, or a ring when only `edge` is given; the edge lies inside the radius."""
        radius_px = round(radius * self.f * 2) / 2
        stamp = shapes.disc_stamp(radius_px, fill, edge, max(1.0, round(edge_width * self.f * 2) / 2))
        half = stamp.get_width() / 2
        px, py = self.to_px(x, y)
        self.surface.blit(stamp, (round(px - half), round(py - half)))

    def polygon(
        self, points: Sequence[Spot], fill: Color, *, edge: Color | None = None, edge_width: float = 2.0
    ) -> None:
        """A filled polygon with smooth edges; the edge is centered on the outline."""
        places = self.points_px(points)
        if edge is None:
            shapes.fill_polygon(self.surface, places, fill)
        else:
            shapes.edged_polygon(self.surface, places, fill, edge, max(1.0, edge_width * self.f))

    def gradient(self, x: float, y: float, w: float, h: float, top: Color, foot: Color) -> None:
        """A rectangle whose color runs from top to foot. For layers that are kept."""
        rect = self.rect_px(x, y, w, h)
        bands = max(1, min(rect.h, 2 * max(abs(a - b) for a, b in zip(top, foot, strict=True))))
        for n in range(bands):
            low, high = rect.h * n // bands, rect.h * (n + 1) // bands
            self.surface.fill(mixed(top, foot, (n + 0.5) / bands), (rect.x, rect.y + low, rect.w, high - low))

    # Lines ----------------------------------------------------------------------------------------------------

    def hatch(
        self, x: float, y: float, w: float, h: float, color: Color, *, spacing: float = 8.0, width: float = 1.5
    ) -> None:
        """Slanting strokes inside a rectangle."""
        with self.clip(x, y, w, h):
            for step in range(int((w + h) / spacing) + 1):
                start = x - h + step * spacing
                self.line((start, y + h), (start + h, y), color, width=width)

    def line(self, start: Spot, end: Spot, color: Color = INK, *, width: float = 2.0) -> None:
        """A straight line with smooth edges."""
        width_px = max(1.0, width * self.f)
        (x0, y0), (x1, y1) = self.points_px((start, end))
        whole = max(1, round(width_px))
        if abs(x0 - x1) < 0.25:
            low, high = sorted((y0 + 0.5, y1 + 0.5))
            left = round(x0 + 0.5 - whole / 2)
            self._fill(color, pygame.Rect(left, round(low), whole, max(1, round(high) - round(low))))
        elif abs(y0 - y1) < 0.25:
            low, high = sorted((x0 + 0.5, x1 + 0.5))
            top = round(y0 + 0.5 - whole / 2)
            self._fill(color, pygame.Rect(round(low), top, max(1, round(high) - round(low)), whole))
        else:
            shapes.thick_line(self.surface, (x0, y0), (x1, y1), color, width_px)

    def _fill(self, color: Color, rect: pygame.Rect) -> None:
        """Fills what shows of a rectangle: pygame's own fill goes wrong far outside the surface."""
        self.surface.fill(color, rect.clip(self.surface.get_clip()))

    def polyline(self, points: Sequence[Spot], color: Color = INK, *, width: float = 2.0) -> None:
        """Straight lines from point to point, joints filled."""
        for start, end in pairwise(points):
            self.line(start, end, color, width=width)
        if width * self.f > 2.2:
            for joint in points[1:-1]:
                self.disc(*joint, width / 2, fill=color)

    def dashed(
        self,
        start: Spot,
        end: Spot,
        color: Color = INK,
        *,
        width: float = 2.0,
        dash: float = 8.0,
        gap: float = 6.0,
    ) -> None:
        """A dashed straight line."""
        (x0, y0), (x1, y1) = start, end
        length = hypot(x1 - x0, y1 - y0)
        if length <= 0.0:
            return
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        at = 0.0
        if x0 == x1:
            self._dashed_down(x0, min(y0, y1), max(y0, y1), color, width, (dash, gap))
            return
        if y0 == y1:
            self._dashed_along(y0, min(x0, x1), max(x0, x1), color, width, (dash, gap))
            return
        while at < length:
            to = min(at + dash, length)
            self.line((x0 + ux * at, y0 + uy * at), (x0 + ux * to, y0 + uy * to), color, width=width)
            at += dash + gap

    def _dashed_down(
        self, x: float, top: float, foot: float, color: Color, width: float, beat: tuple[float, float]
    ) -> None:
        """A dashed line straight down: plain rectangles."""
        whole, fill, f = self.size_px(width), self.surface.fill, self.f
        left, low, end = round(self.ox + x * f - whole / 2), self.oy + top * f, self.oy + foot * f
        clip = self.surface.get_clip()
        step, long = sum(beat) * f, beat[0] * f
        while low < end:
            fill(color, pygame.Rect(left, round(low), whole, max(1, round(min(long, end - low)))).clip(clip))
            low += step

    def _dashed_along(
        self, y: float, left: float, right: float, color: Color, width: float, beat: tuple[float, float]
    ) -> None:
        """A level dashed line: plain rectangles."""
        whole, fill, f = self.size_px(width), self.surface.fill, self.f
        top, low, end = round(self.oy + y * f - whole / 2), self.ox + left * f, self.ox + right * f
        clip = self.surface.get_clip()
        step, long = sum(beat) * f, beat[0] * f
        while low < end:
            fill(color, pygame.Rect(round(low), top, max(1, round(min(long, end - low))), whole).clip(clip))
            low += step

    def arc(
        self,
        x: float,
        y: float,
        radius: float,
        from_rad: float,
        to_rad: float,
        color: Color = INK,
        *,
        width: float = 2.0,
    ) -> None:
        """Part of a ring; angles clockwise from the right as seen. For layers and stamps, or short arcs."""
        count = max(3, int(abs(to_rad - from_rad) * radius / 8))
        turns = (from_rad + (to_rad - from_rad) * n / count for n in range(count + 1))
        points = self.points_px([(x + radius * cos(a), y + radius * sin(a)) for a in turns])
        for start, end in pairwise(points):
            shapes.thick_line(self.surface, start, end, color, max(1.0, width * self.f))

    def arrow(
        self,
        start: Spot,
        end: Spot,
        fill: Color,
        *,
        edge: Color | None = None,
        shaft: float = 8.0,
        head: float = 22.0,
        edge_width: float = 2.0,
    ) -> None:
        """An arrow in any direction; shorter than its head it is only a shaft."""
        (x0, y0), (x1, y1) = start, end
        length = hypot(x1 - x0, y1 - y0)
        if length < 1.0:
            return
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        half, wide, neck = shaft / 2, head / 2, length - head
        outline = [(0, -half), (length, -half), (length, half), (0, half)]
        if neck > 0:
            outline = [(0, -half), (neck, -half), (neck, -wide), (length, 0), (neck, wide), (neck, half), (0, half)]
        points = [(x0 + ux * a - uy * b, y0 + uy * a + ux * b) for a, b in outline]
        self.polygon(points, fill, edge=edge, edge_width=edge_width)

    # Text -------------------------------------------------------------------------------------------------------

    def text_width(self, text: str, size: float, *, weight: Weight = "semibold", digits: bool = False) -> float:
        """Width of a text in design units."""
        size_px = self.size_px(size)
        if digits:
            return self.type.digits_width(text, weight, size_px) / self.f
        return self.type.width(text, weight, size_px) / self.f

    def fitted(self, text: str, size: float, width: float, *, weight: Weight = "semibold") -> tuple[str, float]:
        """The text and size that keep within `width`: smaller, never under the smallest text, then cut at a word."""
        while size > SMALLEST_TEXT and self.text_width(text, size, weight=weight) > width:
            size -= 1
        cut = text
        if len(text) > 1 and self.text_width(text, size, weight=weight) > width:
            cut = self._cut(text, size, width, weight)
        if cut != text and " " in cut and not text[len(cut) - 1].isspace():
            cut = cut.rpartition(" ")[0].rstrip(",;:.") + "\u2026"
        return cut, size

    def _cut(self, text: str, size: float, width: float, weight: Weight) -> str:
        """As much of the text as keeps within `width`, begun with what its letters come to one by one."""

        def first(count: int) -> str:
            return text[:count].rstrip() + "\u2026"

        def fits(count: int) -> bool:
            return self.text_width(first(count), size, weight=weight) <= width

        count = max(1, min(len(text) - 1, self.type.letters_within(text, weight, self.size_px(size), width * self.f)))
        while count > 1 and not fits(count):
            count -= 1
        while count < len(text) - 1 and fits(count + 1):
            count += 1
        return first(count)

    def text(
        self,
        text: str,
        x: float,
        y: float,
        size: float = 24.0,
        *,
        weight: Weight = "semibold",
        color: Color = INK,
        anchor: Anchor = "left",
        width: float | None = None,
    ) -> float:
        """Draws text with its baseline at `y`, kept within `width` if given; returns its width in design units."""
        if width is not None:
            text, size = self.fitted(text, size, width, weight=weight)
        size_px = self.size_px(size)
        drawn = self.type.drawn(text, weight, size_px, color)
        px, py = self.to_px(x, y)
        left = px - drawn.get_width() * SHARE_BEFORE[anchor]
        self.surface.blit(drawn, (round(left), round(py) - self.type.ascent(weight, size_px)))
        return drawn.get_width() / self.f

    def digits(
        self,
        text: str,
        x: float,
        y: float,
        size: float = 38.0,
        *,
        weight: Weight = "bold",
        color: Color = INK,
        anchor: Anchor = "left",
    ) -> float:
        """Draws a number with each digit in a cell of one width, so that it stands still; returns its width."""
        size_px, lettering = self.size_px(size), self.type
        total = lettering.digits_width(text, weight, size_px)
        px, py = self.to_px(x, y)
        pen = px - total * SHARE_BEFORE[anchor]
        top = round(py) - lettering.ascent(weight, size_px)
        for letter in text:
            drawn = lettering.drawn(letter, weight, size_px, color)
            step = lettering.advance(letter, weight, size_px)
            inset = (step - drawn.get_width()) / 2 if letter in DIGITS else 0.0
            self.surface.blit(drawn, (round(pen + inset), top))
            pen += step
        return total / self.f

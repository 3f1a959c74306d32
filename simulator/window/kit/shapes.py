"""Edges: polygons with smooth edges, and small round shapes drawn at four times their size once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil, hypot, sqrt

import pygame

from simulator.window.kit.palette import Color

Pixel = tuple[float, float]
OVERDRAW = 4
MITRE_LIMIT = 2.0
LEAST_SQUARE = 1.0
"""Square of two normals' sum under which a corner is too sharp to be mitred to its end."""
FINE_PX, WIDE_PX = 1.4, 2.3
"""Strokes up to the first are one fine line, outlines up to the second are two."""
SEAM_PX = 0.75
"""Fine lines further apart than this let the ground show between them."""


def offset(points: Sequence[Pixel], by_px: float) -> list[Pixel]:
    """A polygon moved outward by `by_px` along its edges' normals (inward when negative), corners mitred."""
    area, edges = 0.0, []
    x0, y0 = points[-1]
    for x1, y1 in points:
        area += x0 * y1 - x1 * y0
        dx, dy = x1 - x0, y1 - y0
        length = sqrt(dx * dx + dy * dy) or 1.0
        edges.append((dy / length, -dx / length))
        x0, y0 = x1, y1
    out = by_px if area >= 0.0 else -by_px
    edges.append(edges[0])
    moved, (ax, ay) = [], edges[0]
    for n, (x, y) in enumerate(points):
        bx, by = edges[n + 1]
        sx, sy = ax + bx, ay + by
        square = sx * sx + sy * sy
        k = 2.0 * out / square if square > LEAST_SQUARE else MITRE_LIMIT * out
        moved.append((x + sx * k, y + sy * k))
        ax, ay = bx, by
    return moved


@lru_cache(maxsize=64)
def spread(width_px: float) -> tuple[float, ...]:
    """Where fine lines go across a stroke of that width, close enough to leave no seam."""
    if width_px <= FINE_PX:
        return (0.0,)
    span = width_px - 1.0
    count = ceil(span / SEAM_PX)
    return tuple(span * (n / count - 0.5) for n in range(count + 1))


def plain_polygon(surface: pygame.Surface, points: Sequence[Pixel], color: Color) -> None:
    """A filled polygon in whole pixels: its edge is to be drawn over."""
    pygame.draw.polygon(surface, color, [(round(x), round(y)) for x, y in points])


def soft_polygon(surface: pygame.Surface, points: Sequence[Pixel], color: Color) -> None:
    """A filled polygon with its edge softened: quick, and good for small or pale shapes."""
    plain_polygon(surface, points, color)
    pygame.draw.aalines(surface, color, True, points)


def fill_polygon(surface: pygame.Surface, points: Sequence[Pixel], color: Color) -> None:
    """A filled polygon with smooth edges: whole-pixel fill held inside, then fine lines along the edge."""
    inner = offset(points, -SEAM_PX)
    plain_polygon(surface, inner, color)
    pygame.draw.aalines(surface, color, True, inner)
    pygame.draw.aalines(surface, color, True, points)


def outline(surface: pygame.Surface, points: Sequence[Pixel], color: Color, width_px: float) -> None:
    """A closed outline: along the points, and outward, to which the eye is blind up to two pixels."""
    if width_px > WIDE_PX:
        for by_px in spread(width_px):
            pygame.draw.aalines(surface, color, True, offset(points, by_px))
        return
    pygame.draw.aalines(surface, color, True, points)
    if width_px > FINE_PX:
        pygame.draw.aalines(surface, color, True, offset(points, min(0.85, width_px - 1.0)))


def edged_polygon(surface: pygame.Surface, points: Sequence[Pixel], fill: Color, edge: Color, edge_px: float) -> None:
    """A filled polygon with an outline of `edge_px`."""
    pygame.draw.polygon(surface, fill, [(round(x), round(y)) for x, y in points])
    outline(surface, points, edge, edge_px)


def thick_line(surface: pygame.Surface, start: Pixel, end: Pixel, color: Color, width_px: float) -> None:
    """A straight line with smooth edges and square ends."""
    if width_px <= FINE_PX:
        pygame.draw.aaline(surface, color, start, end)
        return
    (x0, y0), (x1, y1) = start, end
    length = hypot(x1 - x0, y1 - y0)
    if length < 0.5:
        pygame.draw.aaline(surface, color, start, end)
        return
    nx, ny = (y1 - y0) / length, (x0 - x1) / length
    offsets = spread(width_px)
    if len(offsets) > 4:
        a = width_px / 2 - 0.6
        mx, my = nx * a, ny * a
        plain_polygon(surface, ((x0 + mx, y0 + my), (x1 + mx, y1 + my), (x1 - mx, y1 - my), (x0 - mx, y0 - my)), color)
        offsets = (offsets[0], offsets[-1])
    for a in offsets:
        pygame.draw.aaline(surface, color, (x0 + nx * a, y0 + ny * a), (x1 + nx * a, y1 + ny * a))


def bowed_line(surface: pygame.Surface, points: Sequence[Pixel], color: Color, width_px: float) -> None:
    """A line through points that bends only a little: thickened square to its chord."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    length = hypot(x1 - x0, y1 - y0) or 1.0
    nx, ny = (y1 - y0) / length, (x0 - x1) / length
    for a in spread(width_px):
        pygame.draw.aalines(surface, color, False, [(x + nx * a, y + ny * a) for x, y in points])


def quick(surface: pygame.Surface) -> pygame.Surface:
    """A copy that is laid many times faster where much of it is clear; it is not to be drawn on."""
    copy = surface.copy()
    copy.set_alpha(255, pygame.RLEACCEL)
    return copy


@lru_cache(maxsize=512)
def disc_stamp(radius_px: float, fill: Color | None, edge: Color | None, edge_px: float) -> pygame.Surface:
    """A disc, ring or edged disc with smooth edges; `edge_px` lies inside the radius."""
    side = round(radius_px * 2) + 2
    big = pygame.Surface((side * OVERDRAW, side * OVERDRAW), pygame.SRCALPHA)
    base = fill or edge or (0, 0, 0)
    big.fill((*base, 0) if not (fill and edge) else (*edge, 0))
    middle = (side * OVERDRAW // 2, side * OVERDRAW // 2)
    if edge:
        pygame.draw.circle(big, edge, middle, radius_px * OVERDRAW)
    if fill:
        pygame.draw.circle(big, fill, middle, (radius_px - (edge_px if edge else 0)) * OVERDRAW)
    elif edge:
        pygame.draw.circle(big, (*edge, 0), middle, (radius_px - edge_px) * OVERDRAW)
    return quick(pygame.transform.smoothscale(big, (side, side)))


@lru_cache(maxsize=256)
def corner_stamp(radius_px: int, fill: Color | None, edge: Color | None, edge_px: int) -> pygame.Surface:
    """A square of 2 r holding the four corners of a rounded box, smooth."""
    side = radius_px * 2
    big = pygame.Surface((side * OVERDRAW, side * OVERDRAW), pygame.SRCALPHA)
    big.fill((*(edge or fill or (0, 0, 0)), 0))
    whole = big.get_rect()
    if edge:
        pygame.draw.rect(big, edge, whole, border_radius=radius_px * OVERDRAW)
        if fill is None:
            inner = whole.inflate(-2 * edge_px * OVERDRAW, -2 * edge_px * OVERDRAW)
            pygame.draw.rect(big, (*edge, 0), inner, border_radius=max(0, radius_px - edge_px) * OVERDRAW)
    if fill:
        inner = whole.inflate(-2 * edge_px * OVERDRAW, -2 * edge_px * OVERDRAW) if edge else whole
        pygame.draw.rect(big, fill, inner, border_radius=max(0, radius_px - (edge_px if edge else 0)) * OVERDRAW)
    return pygame.transform.smoothscale(big, (side, side))


def rounded_box(
    surface: pygame.Surface,
    rect: pygame.Rect,
    radius_px: int,
    fill: Color | None,
    edge: Color | None,
    edge_px: int,
) -> None:
    """A rounded box put together from its kept corners and plain rectangles; `edge_px` lies inside `rect`."""
    radius = max(0, min(radius_px, rect.w // 2, rect.h // 2))
    x, y, w, h = rect
    if fill is not None:
        surface.fill(fill, (x + radius, y, w - 2 * radius, h))
        surface.fill(fill, (x, y + radius, w, h - 2 * radius))
    if edge is not None and edge_px > 0:
        surface.fill(edge, (x + radius, y, w - 2 * radius, edge_px))
        surface.fill(edge, (x + radius, y + h - edge_px, w - 2 * radius, edge_px))
        surface.fill(edge, (x, y + radius, edge_px, h - 2 * radius))
        surface.fill(edge, (x + w - edge_px, y + radius, edge_px, h - 2 * radius))
    if radius > 0:
        corners = corner_stamp(radius, fill, edge if edge_px > 0 else None, edge_px)
        right, low = x + w - radius, y + h - radius
        surface.blit(corners, (x, y), (0, 0, radius, radius))
        surface.blit(corners, (right, y), (radius, 0, radius, radius))
        surface.blit(corners, (x, low), (0, radius, radius, radius))
        surface.blit(corners, (right, low), (radius, radius, radius, radius))

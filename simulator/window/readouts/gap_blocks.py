"""Gap blocks: what stands between each part and the deck under it, with a leader to a numbered bead."""

from __future__ import annotations

from functools import lru_cache
from math import cos, isfinite, pi, sin
from typing import NamedTuple

import numpy as np
import pygame

from simulator.readings import Readings
from simulator.scenario.trailer import Trailer
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, INK, PANEL, STOP
from simulator.window.kit.regions import SCENE
from simulator.window.kit.shapes import quick
from simulator.window.readouts.looks import PartLook
from simulator.window.scene.camera import Camera
from simulator.window.scene.load_view import Poser

BLOCK_W = 34.0
LEAST_BLOCK = 10.0
BEAD_RADIUS, BEAD_ROOM = 19.0, 32.0
APART = 52.0
DROP = 44.0
"""Bead under what it belongs to."""


class PartUnderside(NamedTuple):
    """Where one part is seen: the middle of its underside, and how high the gap under it is, design units."""

    x: float
    y: float
    gap: float


def spread(wanted: tuple[float, ...], *, apart: float = APART, low: float = -1e9, high: float = 1e9) -> list[float]:
    """Places at least `apart` from each other, as near to the wanted ones as a left-to-right walk and back allows."""
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    places = [wanted[i] for i in order]
    for _ in range(8):
        for i in range(1, len(places)):
            short = apart - (places[i] - places[i - 1])
            if short > 1e-9:
                places[i - 1] -= short / 2.0
                places[i] += short / 2.0
        places = [min(max(place, low), high) for place in places]
    for i in range(1, len(places)):
        places[i] = max(places[i], places[i - 1] + apart)
    result = [0.0] * len(wanted)
    for i, place in zip(order, places, strict=True):
        result[i] = place
    return result


def draw_gap_blocks(
    canvas: Canvas, looks: tuple[PartLook, ...], undersides: tuple[PartUnderside, ...], road_y: float
) -> None:
    """Draws blocks, leaders and beads; one underside for each look."""
    xs = spread(tuple(place.x for place in undersides), low=SCENE.x + 30.0, high=SCENE.right - 70.0)
    for look, place, x in zip(looks, undersides, xs, strict=True):
        has_block = not look.to_raise and isfinite(place.gap)
        foot = max(place.y + place.gap, place.y) if has_block else place.y
        bead_y = min(max(foot + DROP, road_y + DROP) if has_block else foot + DROP, SCENE.foot - 24.0)
        _leader(canvas, place.x, foot, x, bead_y)
        if has_block:
            _block(canvas, place, look.level)
        draw_bead(canvas, look.number, look.level, x, bead_y)


def _leader(canvas: Canvas, x: float, y: float, bead_x: float, bead_y: float) -> None:
    if abs(x - bead_x) < 1.0:
        canvas.line((x, y), (x, bead_y), INK, width=2.0)
        return
    knee = max(y, bead_y - BEAD_RADIUS - 14.0)
    canvas.polyline([(x, y), (x, knee), (bead_x, bead_y)], INK, width=2.0)


def _block(canvas: Canvas, place: PartUnderside, level: Level) -> None:
    x = place.x - BLOCK_W / 2.0
    if level is Level.STOP:
        height = max(LEAST_BLOCK, -place.gap)
        canvas.rect(x - 2.0, place.y - height, BLOCK_W + 4.0, height, PANEL)
        canvas.rect(x, place.y - height + 2.0, BLOCK_W, max(6.0, height - 4.0), STOP)
        return
    height = max(6.0, place.gap)
    fill = CAUTION if level is Level.CAUTION else PANEL
    canvas.box(x, place.y, BLOCK_W, height, fill=fill, edge=INK, radius=0.0)
    if height < 22.0:
        return
    middle, near, far = place.x, place.y + 4.0, place.y + height - 4.0
    head = min(9.0, height / 2.0 - 5.0)
    canvas.line((middle, near + 3.0), (middle, far - 3.0), INK, width=2.5)
    canvas.polygon([(middle, near), (middle + 6.0, near + head), (middle - 6.0, near + head)], INK)
    canvas.polygon([(middle, far), (middle + 6.0, far - head), (middle - 6.0, far - head)], INK)


def draw_bead(canvas: Canvas, number: int, level: Level, x: float, y: float) -> None:
    """A numbered bead: circle, triangle or octagon."""
    stamp = bead_stamp(number, level, canvas.f)
    px, py = canvas.to_px(x, y)
    canvas.surface.blit(stamp, (round(px) - stamp.get_width() // 2, round(py) - stamp.get_height() // 2))


@lru_cache(maxsize=128)
def bead_stamp(number: int, level: Level, f: float) -> pygame.Surface:
    """One bead as a picture, its middle in the picture's middle."""
    half = round(BEAD_ROOM * f)
    stamp = pygame.Surface((2 * half, 2 * half), pygame.SRCALPHA)
    stamp.fill((*(INK if level is Level.CAUTION else PANEL), 0))
    canvas = Canvas(stamp, f=f, origin_px=(half, half))
    if level is Level.STOP:
        turns = [pi / 8.0 + n * pi / 4.0 for n in range(8)]
        # Neither red nor a white rim stands out from the bed: ink round both does.
        for radius, fill in ((26.0, INK), (24.0, PANEL), (21.0, STOP)):
            canvas.polygon([(radius * cos(turn), radius * sin(turn)) for turn in turns], fill)
    elif level is Level.CAUTION:
        canvas.polygon([(0.0, -26.0), (24.0, 15.0), (-24.0, 15.0)], CAUTION, edge=INK, edge_width=2.5)
    else:
        canvas.disc(0.0, 0.0, BEAD_RADIUS + 2.0, fill=PANEL)
        canvas.disc(0.0, 0.0, BEAD_RADIUS, fill=PANEL, edge=INK, edge_width=2.5)
    color = PANEL if level is Level.STOP else INK
    canvas.text(str(number), 0.0, 9.0, 26.0, weight="bold", color=color, anchor="center")
    return quick(stamp)


class Extent(NamedTuple):
    """What a part, or the whole load, covers in the side view, design units."""

    left: float
    right: float
    top: float
    foot: float


class Undersides:
    """Finds each named part on the screen; what never changes is made once."""

    def __init__(self, trailer: Trailer) -> None:
        self._poser = Poser(trailer)
        corners = [
            (x, part.y_m + way * part.width_m / 2.0, z)
            for part in trailer.parts
            for x, z in part.outline_m
            for way in (-1.0, 1.0)
        ]
        self._corners = np.array(corners).T
        counts = [2 * len(part.outline_m) for part in trailer.parts]
        self._starts = np.cumsum([0, *counts[:-1]])
        self._names = tuple(part.name for part in trailer.parts)

    def extents(self, camera: Camera, readings: Readings) -> dict[str, Extent]:
        """What each part covers on the screen."""
        pose = self._poser.pose(readings.load)
        world = pose.matrix @ self._corners
        x0, y0 = camera.to_scene(pose.origin_m[0], pose.origin_m[2])
        xs = x0 + camera.sign * camera.scale * world[0]
        ys = y0 - camera.scale * world[2]
        least, most, starts = np.minimum.reduceat, np.maximum.reduceat, self._starts
        rows = zip(least(xs, starts), most(xs, starts), least(ys, starts), most(ys, starts), strict=True)
        return {name: Extent(*map(float, row)) for name, row in zip(self._names, rows, strict=True)}


def whole(extents: dict[str, Extent]) -> Extent:
    """What all parts together cover."""
    rows = list(extents.values())
    return Extent(
        min(row.left for row in rows),
        max(row.right for row in rows),
        min(row.top for row in rows),
        max(row.foot for row in rows),
    )


def underside(extent: Extent, gap_m: float, scale: float) -> PartUnderside:
    """The middle of a part's underside and the gap under it, design units."""
    return PartUnderside((extent.left + extent.right) / 2.0, extent.foot, gap_m * scale)

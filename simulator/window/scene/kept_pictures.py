"""What moves in the side view, each thing kept as a picture: the load with its slings, superstructures, booms."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import ceil, cos, floor, inf, sin
from typing import NamedTuple

import numpy as np
import pygame

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.scenario.standing import as_it_stands
from simulator.scenario.trailer import Trailer, TrailerStart
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, SIDES
from simulator.window.kit.seen import seen_of
from simulator.window.kit.shapes import quick
from simulator.window.scene.camera import Camera
from simulator.window.scene.load_view import LoadView
from simulator.window.scene.solids import PlacedSolid, Spot, Vector
from simulator.window.scene.trucks import Truck

FINE_PX = 0.5
"""A shape off by less is left as it is."""
COARSE_PX = 1.5
"""A shape off by more does not wait its turn: one more is drawn in that frame."""
ROUND_PX = 64
"""Surfaces grow in steps of this, so that a growing thing does not need a new one each time."""


class PictureShape(NamedTuple):
    """Where a thing is: an anchor that carries it about, and points that tell its shape, in pixels from there."""

    anchor: Spot
    points: Sequence[Spot]
    margin: float
    """How far it reaches beyond its points, pixels."""
    besides: tuple[float, ...] = ()
    """What else its picture comes from, where nothing may be off."""


class Picture:
    """One thing's picture."""

    def __init__(self) -> None:
        self._surface: pygame.Surface | None = None
        self._shown: pygame.Surface | None = None
        self._drawn: PictureShape | None = None
        self._canvas_key: tuple[float, int, int] | None = None
        self._corner = (0, 0)

    def off_px(self, canvas: Canvas, shape: PictureShape) -> float:
        """How far the picture's shape is from what it should be, at its worst point."""
        if self._drawn is None or self._canvas_key != (canvas.f, canvas.ox, canvas.oy):
            return inf
        if self._drawn.besides != shape.besides:
            return inf
        pairs = zip(self._drawn.points, shape.points, strict=True)
        return max(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in pairs)

    def draw(self, canvas: Canvas, shape: PictureShape, draw: Callable[[Canvas], None]) -> None:
        """Draws it anew; `draw` gets a clear layer with the canvas's own places."""
        (ax, ay), margin = shape.anchor, shape.margin
        xs, ys = [ax + x for x, _ in shape.points], [ay + y for _, y in shape.points]
        left, top = floor(min(xs) - margin), floor(min(ys) - margin)
        surface = self._room(ceil(max(xs) + margin) - left, ceil(max(ys) + margin) - top)
        # Half-covered edge pixels take the outline's color, not the paper's.
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
    shape: PictureShape
    draw: Callable[[Canvas], None]


def bring_up_to_date(canvas: Canvas, wishes: Sequence[Wish], *, is_exact: bool = False) -> None:
    """Draws the one that is worst off, one more if that is visibly off, and all that were never drawn; exact, all that
    are off at all."""
    if is_exact:
        for picture, shape, draw in wishes:
            if picture.off_px(canvas, shape) > 0.0:
                picture.draw(canvas, shape, draw)
        return
    rows = sorted(((wish.picture.off_px(canvas, wish.shape), n) for n, wish in enumerate(wishes)), reverse=True)
    for place, (off_px, n) in enumerate(rows):
        if off_px == inf or off_px > (FINE_PX, COARSE_PX, inf)[min(place, 2)]:
            picture, shape, draw = wishes[n]
            picture.draw(canvas, shape, draw)


LOAD_MARGIN, UPPER_MARGIN_M = 14.0, 0.5
"""How far wheels and lids (design units), and a boom's thickness, reach beyond the points that are followed."""


def _kept(pictures: tuple[Picture, ...], is_same: list[bool]) -> tuple[Picture, ...]:
    """The pictures of units that stand as they stood, new ones for the others."""
    return tuple(pictures[n] if same else Picture() for n, same in enumerate(is_same))


class KeptPictures:
    """Keeps and lays the pictures of one lift: the load, and of each unit its superstructure and its boom."""

    def __init__(self, description: Description, *, before: KeptPictures | None = None, is_exact: bool = False) -> None:
        """
        Args:
            description: the lift.
            before: pictures of the same lift before something was moved; what is the same in both is kept.
            is_exact: nothing is left as it was that is off at all; else what is off by less than a pixel.
        """
        self._is_exact = is_exact
        self._uppers: tuple[Picture, ...]
        self._booms: tuple[Picture, ...]
        rig = rig_of(description)
        self._shape: Trailer = replace(description.trailer, start=TrailerStart(0.0, 0.0))
        same: KeptPictures | None = before if before is not None and before._shape == self._shape else None
        self.load: LoadView = (
            same.load if same else LoadView(description.trailer, tuple(line.pick for line in rig.lines))
        )
        self.trucks = tuple(
            Truck(unit, SIDES[seen_of(description).of(place).side]) for place, unit in enumerate(description.units)
        )
        self._load_picture: Picture = same._load_picture if same else Picture()
        self._lines = tuple(tuple(line.place for line in unit.lines) for unit in rig.units)
        self._stands = [(as_it_stands(truck.unit), truck.side) for truck in self.trucks]
        like = before._stands if before is not None and is_exact else []
        same_stands = [n < len(like) and like[n] == one for n, one in enumerate(self._stands)]
        self._uppers = _kept(before._uppers if before else (), same_stands)
        self._booms = _kept(before._booms if before else (), same_stands)
        self._anchor: Spot = (0.0, 0.0)
        self._axes: list[Spot] = []

    def follow(self, canvas: Canvas, camera: Camera, readings: Readings, hooks: Sequence[Spot]) -> None:
        """Takes a frame's readings; draws anew what changed its shape. `hooks` of all lines are in design units."""
        place = self.load.place(canvas, camera, readings.load)
        self._anchor = self._at((float(place.shift[0]), float(place.shift[1])))
        wishes = [self._load_wish(canvas, place, readings, hooks)]
        for truck, now in zip(self.trucks, readings.units, strict=True):
            truck.over.take(now)
        self._axes = [self._at(canvas.to_px(*camera.to_scene(one.unit.slew_axis_x_m, 0.0))) for one in self.trucks]
        for unit in range(len(self.trucks)):
            wishes += self._unit_wishes(canvas, camera, unit, readings)
        bring_up_to_date(canvas, wishes, is_exact=self._is_exact)

    def _at(self, spot: Spot) -> Spot:
        """An anchor: exact, whole pixels, so that a picture is laid to the hair where it would be drawn."""
        return (float(round(spot[0])), float(round(spot[1]))) if self._is_exact else spot

    def show_load(self, canvas: Canvas) -> None:
        """Lays the load."""
        self._load_picture.show(canvas, self._anchor)

    def show_upper(self, canvas: Canvas, place: int) -> None:
        """Lays a superstructure."""
        self._uppers[place].show(canvas, self._axes[place])

    def show_boom(self, canvas: Canvas, place: int) -> None:
        """Lays a boom."""
        self._booms[place].show(canvas, self._axes[place])

    def _load_wish(self, canvas: Canvas, place: PlacedSolid, readings: Readings, hooks: Sequence[Spot]) -> Wish:
        x, y = self._anchor
        spots = [(a - x, b - y) for a, b, _ in place.spots(self.load.corners)]
        spots += [(a - x, b - y) for a, b in canvas.points_px(hooks)]
        shape = PictureShape(self._anchor, spots, LOAD_MARGIN * canvas.f + 2.0)

        def draw(layer: Canvas) -> None:
            shift = place.shift + np.array((layer.ox - canvas.ox, layer.oy - canvas.oy, 0.0))
            self.load.draw(layer, place._replace(shift=shift), readings.load, hooks)

        return Wish(self._load_picture, shape, draw)

    def _unit_wishes(self, canvas: Canvas, camera: Camera, place: int, readings: Readings) -> tuple[Wish, Wish]:
        truck, unit, (x, y) = self.trucks[place], readings.units[place], self._axes[place]
        sheaves = [readings.lines[line] for line in self._lines[place]]
        tips: list[Vector] = [(line.tip_x_m, line.tip_y_m, line.tip_z_m) for line in sheaves]
        s = camera.scale * canvas.f
        margin = UPPER_MARGIN_M * s + 3.0

        def px(x_m: float, z_m: float) -> Spot:
            a, b = canvas.to_px(*camera.to_scene(x_m, z_m))
            return a - x, b - y

        reach = truck.reach_m
        turned_rad = unit.slew_rad + truck.unit.yaw_rad
        c, k = reach * s * cos(turned_rad), reach * s * sin(turned_rad)
        top = -truck.top_m * s
        ends = [truck.over.world((u, 0.0, z)) for u in (-reach, reach) for z in (0.0, truck.top_m)]
        corners = [(c, 0.0), (-c, top), (k, 0.0), (-k, top), *(px(end[0], end[2]) for end in ends)]
        upper = PictureShape((x, y), corners, margin)
        foot = truck.foot_m(unit.slew_rad)
        spots = [
            px(foot[0], foot[2]),
            px(unit.tip_x_m, unit.tip_z_m),
            *(px(at[0], at[2]) for at in tips),
            px(truck.unit.slew_axis_x_m, truck.unit.deck_height_m),
        ]
        besides = (unit.slew_rad, unit.tip_y_m, foot[1], *(at[1] for at in tips)) if self._is_exact else ()
        boom = PictureShape((x, y), spots, margin + truck.unit.boom.depth_m * s, besides)
        return (
            Wish(self._uppers[place], upper, lambda layer: truck.draw_upper(layer, camera, unit)),
            Wish(self._booms[place], boom, lambda layer: truck.draw_boom(layer, camera, unit, tips)),
        )

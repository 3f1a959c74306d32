"""The load in its attitude and pose: the trailer with its slings, each thing in the order it is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import chain
from typing import Literal, NamedTuple

import numpy as np

from simulator.mechanics.trailer_body import lying, rotation, stated_cg_m
from simulator.readings import LoadReadings
from simulator.scenario.trailer import Part, Pick, Trailer, TrailerStart
from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, INK_2
from simulator.window.scene.camera import Camera
from simulator.window.scene.shells_and_wheels import draw_lid, draw_shell, draw_wheel, on_shell, showing
from simulator.window.scene.solids import (
    SIDE_VIEW,
    Array,
    ConvexSolids,
    Group,
    PlacedSolid,
    Spot,
    Vector,
    draw_group,
    placed,
)
from simulator.window.scene.spreader_bars import Bar, bar_beside_hook, draw_bar
from simulator.window.scene.trailer_shape import ShellSection, TrailerShape, bounds, station_at, trailer_shape

SLING_SPREAD_M = 0.42
SLING_SHARES = (0.0, 0.08, 0.26, 0.44, 0.62, 0.8, 0.93, 1.0)
LEG_WIDTH, BIGHT_WIDTH = 4.0, 3.0


class LegPair(NamedTuple):
    """One leg pair of the rigging at one place along the trailer."""

    part: Part | None
    """What it goes round; nothing for a single point."""
    section: ShellSection | None
    """The round section it lies on, if the part is a tank."""
    x_m: float
    pick: Pick


def slings(trailer: Trailer, pick: Pick) -> tuple[LegPair, ...]:
    """The slings of one pick: two round the body under it, or one to a point."""
    x = pick.at_m[0]
    hosts = [p for p in trailer.parts if p.drawn_as in ("tank", "box") and bounds(p).x0 <= x <= bounds(p).x1]
    if pick.pivot == "single_point" or not hosts:
        return (LegPair(None, None, x, pick),)
    host = max(hosts, key=lambda p: bounds(p).z1)
    b = bounds(host)
    places = (min(b.x1 - 0.1, max(b.x0 + 0.1, x + way * SLING_SPREAD_M)) for way in (-1.0, 1.0))
    is_round = host.drawn_as == "tank"
    return tuple(LegPair(host, station_at(host, place) if is_round else None, place, pick) for place in places)


def draw_far_leg(canvas: Canvas, sling: LegPair, path: list[Spot], hook: Spot) -> None:
    """Draws the leg that goes down behind the body; `path` is in pixels, `hook` in design units."""
    if sling.part is not None:
        start, width = canvas.points_px([hook])[0], max(1.0, LEG_WIDTH * canvas.f)
        shapes.thick_line(canvas.surface, start, path[0], INK, width)


def draw_near_leg(canvas: Canvas, sling: LegPair, path: list[Spot], hook: Spot) -> None:
    """Draws the leg on the side that shows, and the bight round the body."""
    start, width = canvas.points_px([hook])[0], max(1.0, LEG_WIDTH * canvas.f)
    if sling.part is None:
        shapes.thick_line(canvas.surface, start, path[0], INK, width)
        canvas.disc(*canvas.to_units(*path[0]), 6.0, fill=INK)
        return
    shapes.thick_line(canvas.surface, start, path[1], INK, width)
    shapes.bowed_line(canvas.surface, path[1:], INK_2, max(1.0, BIGHT_WIDTH * canvas.f))


def sling_path(sling: LegPair, place: PlacedSolid) -> list[Spot]:
    """Where a sling runs, in pixels: top of the far side first, then down the side that shows."""
    if sling.part is None:
        rows = [sling.pick.at_m]
    elif sling.section is not None:
        lit = showing(sling.section, place)
        rows = [on_shell(sling.section, lit, share) for share in SLING_SHARES]
    else:
        rows = _round_box(sling.part, sling.x_m, place)
    return [(x, y) for x, y, _ in place.spots(np.array(rows))]


def _round_box(part: Part, x_m: float, place: PlacedSolid) -> list[Vector]:
    """A sling's way round a box: its highest corner on the far side, then the corners that show, downward."""
    b = bounds(part)
    ring: list[Vector] = [(x_m, y, z) for y, z in ((b.y0, b.z0), (b.y1, b.z0), (b.y1, b.z1), (b.y0, b.z1))]
    spots = place.spots(np.array(ring))
    nearest = sorted(range(4), key=lambda n: spots[n][2])[:2]
    top = min((n for n in range(4) if n not in nearest), key=lambda n: spots[n][1])
    return [ring[top], *(ring[n] for n in sorted(nearest, key=lambda n: spots[n][1]))]


Kind = Literal["solid", "shell", "wheel", "lid"]
END_SLACK_M, EDGE_SLACK_M = 0.05, 0.04
TWIN_M = 0.25
"""On its wheels, a flat-faced piece further off than this stands behind a like one nearer."""


class Item(NamedTuple):
    """One thing of the trailer to draw: a flat-faced solid, a shell, a wheel or a lid."""

    kind: Kind
    number: int
    own_m: Vector
    """Its middle, in the trailer's own axes."""
    middle_m: Vector
    low_m: Vector
    high_m: Vector
    """Its middle and bounding box, in lying axes."""

    def is_behind(self, body: Item, yaw_rad: float, roll_rad: float) -> bool:
        """True when `body` hides it whole, seen from the ravine, at a small yaw and roll."""
        deeper = self.middle_m[1] - body.middle_m[1]
        if deeper <= 0.0:
            return False
        x, z = deeper * abs(yaw_rad) + END_SLACK_M, deeper * abs(roll_rad) - EDGE_SLACK_M
        return (
            self.low_m[0] - x > body.low_m[0]
            and self.high_m[0] + x < body.high_m[0]
            and self.low_m[2] - z > body.low_m[2]
            and self.high_m[2] + z < body.high_m[2]
        )


def _item(kind: Kind, index: int, own: Vector, corners: list[Vector], attitude: str) -> Item:
    placed = [lying(attitude, corner) for corner in corners]
    low = (min(p[0] for p in placed), min(p[1] for p in placed), min(p[2] for p in placed))
    high = (max(p[0] for p in placed), max(p[1] for p in placed), max(p[2] for p in placed))
    return Item(kind, index, own, lying(attitude, own), low, high)


def _box_corners(middle: Vector, half: Vector) -> list[Vector]:
    return [(middle[0] + k * half[0], middle[1] + k * half[1], middle[2] + k * half[2]) for k in (-1.0, 1.0)]


def _group_corners(solids: ConvexSolids, group: Group) -> list[Vector]:
    rows = solids.points[sorted(set(chain.from_iterable(face.corners for face in group.faces)))].tolist()
    return [(x, y, z) for x, y, z in rows]


def items_of(shape: TrailerShape, trailer: Trailer) -> tuple[Item, ...]:
    """Everything there is to draw; on its wheels, what stands behind its own twin is left out."""
    attitude, rows = trailer.attitude, []
    for n, group in enumerate(shape.solids.groups):
        x, y, z = shape.solids.points[group.center].tolist()
        if attitude != "on_wheels" or y <= TWIN_M:
            rows.append(_item("solid", n, (x, y, z), _group_corners(shape.solids, group), attitude))
    for n, shell in enumerate(shape.shells):
        ends = [(s.x_m, s.y_m, s.z_m) for s in (shell.stations[0], shell.stations[-1])]
        w, h = max(s.half_width_m for s in shell.stations), max(s.half_height_m for s in shell.stations)
        corners = [c for end in ends for c in _box_corners(end, (0.0, w, h))]
        rows.append(_item("shell", n, shell.middle_m, corners, attitude))
    for n, wheel in enumerate(shape.wheels):
        half = (wheel.radius_m, wheel.half_width_m, wheel.radius_m)
        rows.append(_item("wheel", n, wheel.middle_m, _box_corners(wheel.middle_m, half), attitude))
    for n, lid in enumerate(shape.lids):
        corners = _box_corners(lid.middle_m, (lid.radius_m, lid.radius_m, 0.05))
        rows.append(_item("lid", n, lid.middle_m, corners, attitude))
    return tuple(rows)


def bodies_of(trailer: Trailer) -> tuple[Item, ...]:
    """The tanks and boxes that can hide what is behind them."""
    rows = []
    for n, part in enumerate(trailer.parts):
        if part.drawn_as in ("tank", "box"):
            b = bounds(part)
            middle = ((b.x0 + b.x1) / 2.0, (b.y0 + b.y1) / 2.0, (b.z0 + b.z1) / 2.0)
            corners: list[Vector] = [(b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1)]
            rows.append(_item("solid", n, middle, corners, trailer.attitude))
    return tuple(rows)


AXES: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
SQUARE_RAD = 0.05
"""Yaw and roll together under which the far wheels stand behind the near ones."""


def box_corners(trailer: Trailer) -> Array:
    """Corners of a trailer's bounding box, in its own axes."""
    rows = [bounds(part) for part in trailer.parts]
    xs = min(b.x0 for b in rows), max(b.x1 for b in rows)
    ys = min(b.y0 for b in rows), max(b.y1 for b in rows)
    zs = min(b.z0 for b in rows), max(b.z1 for b in rows)
    return np.array([(x, y, z) for x in xs for y in ys for z in zs])


class LoadPose(NamedTuple):
    """The trailer's own axes in the world."""

    matrix: Array
    origin_m: Vector

    def world(self, point: Vector) -> Vector:
        """A point of the trailer's own axes in the world."""
        x, y, z = (self.matrix @ np.array(point)).tolist()
        return self.origin_m[0] + x, self.origin_m[1] + y, self.origin_m[2] + z


class Poser:
    """From readings to pose; the reference point of the readings is the stated CG."""

    def __init__(self, trailer: Trailer) -> None:
        self._lying = np.array([lying(trailer.attitude, axis) for axis in AXES]).T
        self._cg = np.array(stated_cg_m(trailer))

    def pose(self, load: LoadReadings) -> LoadPose:
        """Where the trailer's own axes are."""
        turn = np.array(rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)).reshape(3, 3)
        matrix = turn @ self._lying
        x, y, z = (matrix @ self._cg).tolist()
        return LoadPose(matrix, (load.x_m - x, load.y_m - y, load.z_m - z))


NOWHERE = TrailerStart(0.0, 0.0)


@lru_cache(maxsize=4)
def _shape(trailer: Trailer) -> TrailerShape:
    """Everything there is to draw of a trailer, wherever it lies and is taken."""
    return trailer_shape(trailer)


class LoadView:
    """Draws one trailer; everything that never changes is made once."""

    def __init__(self, trailer: Trailer, picks: Sequence[int]) -> None:
        """
        Args:
            trailer: what hangs.
            picks: of each line the place of its pick.
        """
        self._trailer = trailer
        self.shape: TrailerShape = _shape(replace(trailer, start=NOWHERE, picks=(), pick_candidates=()))
        self.poser = Poser(trailer)
        self.slings = tuple(slings(trailer, trailer.picks[place]) for place in picks)
        """Of each line."""
        self.items = items_of(self.shape, trailer)
        self._bodies = bodies_of(trailer)
        self._middles = np.array([item.own_m for item in self.items])
        self._on_wheels = trailer.attitude == "on_wheels"
        self.corners = box_corners(trailer)
        """Corners of the whole trailer's box, in its own axes."""

    def place(self, canvas: Canvas, camera: Camera, load: LoadReadings) -> PlacedSolid:
        """Where the trailer's own axes lie on the screen."""
        pose = self.poser.pose(load)
        view = SIDE_VIEW * np.array(((camera.sign,), (1.0,), (1.0,)))
        at = camera.to_scene(pose.origin_m[0], pose.origin_m[2])
        return placed(canvas, view, pose.matrix, at, camera.scale)

    def draw(self, canvas: Canvas, place: PlacedSolid, load: LoadReadings, hooks: Sequence[Spot]) -> None:
        """Draws trailer and slings; `hooks` of all lines are in design units."""
        bars = [
            bar_beside_hook(canvas, self._trailer, group[0].pick, place, hook)
            for group, hook in zip(self.slings, hooks, strict=True)
        ]
        rows = [
            (sling, sling_path(sling, place), bar or Bar(hook, hook))
            for group, hook, bar in zip(self.slings, hooks, bars, strict=True)
            for sling in group
        ]
        for sling, path, from_them in rows:
            draw_far_leg(canvas, sling, path, from_them.far)
        self._draw_trailer(canvas, place, load)
        for sling, path, from_them in rows:
            draw_near_leg(canvas, sling, path, from_them.near)
        for hook, bar in zip(hooks, bars, strict=True):
            if bar is not None:
                draw_bar(canvas, hook, bar)

    def _is_hidden(self, item: Item, load: LoadReadings) -> bool:
        """True for what a body hides, and for the far wheels of a trailer seen square from the side."""
        yaw, roll = load.yaw_rad, load.roll_rad
        if self._on_wheels and item.kind == "wheel" and item.own_m[1] > 0.0 and abs(yaw) + abs(roll) < SQUARE_RAD:
            return True
        return any(item.is_behind(body, yaw, roll) for body in self._bodies)

    def _draw_trailer(self, canvas: Canvas, place: PlacedSolid, load: LoadReadings) -> None:
        """Everything of the trailer that no body hides, the furthest first."""
        solids, shape = self.shape.solids, self.shape
        spots = place.spots(solids.points)
        normals = (solids.normals @ place.turn.T / np.linalg.norm(place.turn[2])).tolist()
        depths = (self._middles @ place.turn[2]).tolist()
        order = sorted(range(len(self.items)), key=lambda n: -round(depths[n], 2))
        for n in order:
            item = self.items[n]
            if self._is_hidden(item, load):
                continue
            if item.kind == "solid":
                draw_group(canvas, solids.groups[item.number], spots, normals)
            elif item.kind == "shell":
                draw_shell(canvas, shape.shells[item.number], place)
            elif item.kind == "wheel":
                draw_wheel(canvas, shape.wheels[item.number], place)
            else:
                draw_lid(canvas, shape.lids[item.number], place)

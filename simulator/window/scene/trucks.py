"""The units: carriers, which stand still; superstructure and boom, which turn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, cos, dist, hypot, sin, sqrt
from typing import NamedTuple

import numpy as np

from simulator.readings import UnitReadings
from simulator.scenario.unit import Unit
from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import (
    INK,
    PANEL,
    SKY,
    STEEL,
    STEEL_DARK,
    STEEL_LIGHT,
    Color,
    SideColors,
    mixed,
)
from simulator.window.scene.camera import Camera
from simulator.window.scene.gone_over import GoneOver
from simulator.window.scene.solids import (
    SIDE_VIEW,
    Array,
    Builder,
    ConvexSolids,
    Paint,
    PlacedSolid,
    Spot,
    Vector,
    draw_solids,
    placed,
)
from simulator.window.scene.trailer_shape import TYRE

SECTION_OVERLAP_M = 0.35
TAPER = 0.15
"""How much thinner each boom section is than the one round it."""
LEAST_FACING = 0.03
"""How much a face must look toward the viewer to be drawn."""


def section_ends(unit: Unit, boom_length_m: float) -> list[float]:
    """Where each boom section ends, from the foot pin, the base section first."""
    boom = unit.boom
    count = max(2, ceil(boom.longest_m / boom.shortest_m - 1e-9))
    out = max(0.0, boom_length_m - boom.shortest_m) / (count - 1)
    base = boom.shortest_m - SECTION_OVERLAP_M * (count - 1)
    return [base + n * (out + SECTION_OVERLAP_M) for n in range(count - 1)] + [boom_length_m]


class Beam(NamedTuple):
    """A box-shaped beam's axes in pixels a meter, y down, with how far each leads away from the viewer."""

    foot: Spot
    along: Vector
    across: Vector
    up: Vector

    def at(self, u: float, v: float, w: float) -> Spot:
        """A point `u` along, `v` across and `w` up from the foot."""
        (ax, ay, _), (cx, cy, _), (ux, uy, _) = self.along, self.across, self.up
        return self.foot[0] + ax * u + cx * v + ux * w, self.foot[1] + ay * u + cy * v + uy * w


def beam_axes(canvas: Canvas, camera: Camera, foot: Vector, tip: Vector) -> Beam:
    """The axes of a beam from foot to tip as they are seen."""
    x, y, z = tip[0] - foot[0], tip[1] - foot[1], tip[2] - foot[2]
    length, level = sqrt(x * x + y * y + z * z) or 1.0, hypot(x, y) or 1.0
    a = (x / length, y / length, z / length)
    c = (-y / level, x / level, 0.0)
    up = (-a[2] * c[1], a[2] * c[0], a[0] * c[1] - a[1] * c[0])
    s = camera.scale * canvas.f
    seen = [(camera.sign * s * v[0], -s * v[2], v[1]) for v in (a, c, up)]
    return Beam(canvas.points_px([camera.to_scene(foot[0], foot[2])])[0], *seen)


class Tones(NamedTuple):
    """Colors of one boom section's faces."""

    side: Color
    top: Color
    under: Color
    cap: Color


class DrawnSection(NamedTuple):
    """One boom section: from, to, half its depth, colors."""

    start_m: float
    end_m: float
    half_m: float
    tones: Tones


def section_tones(side: SideColors) -> tuple[Tones, ...]:
    """The further out a section, the paler."""
    mains = [mixed(side.main, side.tint, share) for share in (0.0, 0.16, 0.32)]
    return tuple(Tones(m, mixed(m, side.tint, 0.35), mixed(m, side.dark, 0.6), side.tint) for m in mains)


def sections(unit: Unit, length_m: float, tones: tuple[Tones, ...]) -> list[DrawnSection]:
    """The boom's sections, base first."""
    rows, start = [], -0.35
    for n, end in enumerate(section_ends(unit, length_m)):
        half = unit.boom.depth_m * (1.0 - TAPER * n) / 2.0
        rows.append(DrawnSection(start, end, half, tones[min(n, len(tones) - 1)]))
        start = end - 0.02
    return rows


def draw_section(canvas: Canvas, beam: Beam, section: DrawnSection) -> None:
    """Draws the faces of one boom section that show: cap, under or upper face, side."""
    start, end, h, tones = section
    w, edge = 0.8 * h, max(1.0, 1.8 * canvas.f)
    faces = []
    if beam.along[2] < -LEAST_FACING:
        faces.append((tones.cap, [(end, -w, -h), (end, w, -h), (end, w, h), (end, -w, h)]))
    if abs(beam.up[2]) > LEAST_FACING:
        k = h if beam.up[2] < 0 else -h
        tone = tones.top if beam.up[1] * k < 0 else tones.under
        faces.append((tone, [(start, -w, k), (end, -w, k), (end, w, k), (start, w, k)]))
    if abs(beam.across[2]) > LEAST_FACING:
        k = w if beam.across[2] < 0 else -w
        faces.append((tones.side, [(start, k, -h), (end, k, -h), (end, k, h), (start, k, h)]))
    for tone, corners in faces:
        shapes.edged_polygon(canvas.surface, [beam.at(*corner) for corner in corners], tone, INK, edge)


Local = Callable[[float, float], Spot]
WHEEL_RADIUS_M = 0.52
BODY_TOP_M = 0.68
"""Top of the truck's body over its deck."""
OVER_ROAD_RAD = 0.17
"""Slew from which a boom is drawn behind the truck."""


def superstructure(unit: Unit, side: SideColors) -> ConvexSolids:
    """The part that slews, boom left out: x toward the boom from the slew axis, z from the road."""
    foot, pin = unit.boom.foot_pin_height_m, -unit.boom.foot_pin_back_m
    low = unit.deck_height_m + BODY_TOP_M + 0.12
    paint = Paint(side.dark, side.main, side.dark, side.dark)
    wide = min(1.1, unit.superstructure_radius_m * 0.88)
    builder = Builder()
    weight = Paint(STEEL_DARK, STEEL, STEEL_DARK, mixed(STEEL_DARK, INK, 0.3))
    builder.box((-unit.tail_swing_m, -wide, low + 0.12), (pin - 0.42, wide, foot + 0.1), weight)
    house = ((pin - 0.42, low), (0.75, low), (0.75, low + 0.3), (pin + 0.5, foot + 0.42), (pin - 0.42, foot + 0.42))
    builder.prism(house, -0.62, 0.62, paint)
    return builder.build()


class Truck:
    """Draws one unit."""

    def __init__(self, unit: Unit, side: SideColors) -> None:
        self.unit, self.side = unit, side
        self.way = unit.facing
        self.over = GoneOver(unit)
        self._upper = superstructure(unit, side)
        self._tones = section_tones(side)

    # Standing still ---------------------------------------------------------------------------------------------

    def draw_carrier(self, canvas: Canvas, camera: Camera) -> None:
        """Draws what stands still until the unit goes over: wheels, chassis, deck, body, cab, outriggers."""

        def at(u_m: float, z_m: float) -> Spot:
            """From meters toward the tailboard and up to design units, on the side that is seen."""
            x, _, z = self.over.world((u_m, -self.unit.carrier_width_m / 2.0, z_m))
            return camera.to_scene(x, z)

        def at_float(u_m: float, z_m: float) -> Spot:
            """The same, by the outriggers' outer ends."""
            x, _, z = self.over.world((u_m, -self.unit.floats.ravine_m, z_m))
            return camera.to_scene(x, z)

        if self.unit.yaw_rad:
            self._far_side(canvas, camera)
        self._chassis(canvas, at)
        self._body(canvas, at)
        self._cab(canvas, at, camera.scale)
        self._wheels(canvas, at, camera.scale)
        for u_m in (self.unit.floats.toward_tailboard_m, -self.unit.floats.toward_cab_m):
            self._jack(canvas, at_float, u_m)

    def _far_side(self, canvas: Canvas, camera: Camera) -> None:
        """What shows beside the near side of a unit that stands askew: the far outriggers, and the ends of chassis,
        body and cab that look this way."""
        unit, half = self.unit, self.unit.carrier_width_m / 2.0

        def far(u_m: float, z_m: float) -> Spot:
            x, _, z = self.over.world((u_m, unit.floats.road_m, z_m))
            return camera.to_scene(x, z)

        for u_m in (unit.floats.toward_tailboard_m, -unit.floats.toward_cab_m):
            self._jack(canvas, far, u_m)
        for start, end, fill in self._ends():
            near, away = ([self.over.world((u, v, z)) for u, z in (start, end)] for v in (-half, half))
            corners = [camera.to_scene(x, z) for x, _, z in (*near, *reversed(away))]
            canvas.polygon(corners, fill, edge=INK, edge_width=1.8)

    def _ends(self) -> list[tuple[Spot, Spot, Color]]:
        """Faces across the unit that look this way, the farthest first: lower and upper edge (toward the tailboard, up)
        and color."""
        unit, dark = self.unit, self.side.dark
        front, high = -unit.cab_front_m, unit.cab_height_m
        waist, back, tail = 0.6 + (high - 0.6) * 0.5, front + unit.cab_length_m, unit.tailboard_m
        if unit.yaw_rad > 0.0:
            return [
                ((front + 0.28, waist + 0.14), (front + 0.62, high - 0.1), mixed(SKY, PANEL, 0.4)),
                ((front, 0.62), (front, waist - 0.12), dark),
                ((front, waist - 0.12), (front + 0.28, waist + 0.14), dark),
            ]
        return [
            ((back, 0.62), (back, high - 0.16), dark),
            ((0.98, 1.02), (0.98, unit.deck_height_m + BODY_TOP_M), dark),
            ((tail, 0.62), (tail, unit.deck_height_m), STEEL_DARK),
        ]

    def _slab(
        self, canvas: Canvas, at: Local, u: tuple[float, float], z: tuple[float, float], paint: tuple[int, int, int]
    ) -> None:
        corners = [at(u[0], z[0]), at(u[1], z[0]), at(u[1], z[1]), at(u[0], z[1])]
        canvas.polygon(corners, paint, edge=INK, edge_width=1.8)

    def _chassis(self, canvas: Canvas, at: Local) -> None:
        unit = self.unit
        self._slab(canvas, at, (-unit.cab_front_m + 0.9, unit.tailboard_m), (0.72, 1.02), STEEL_DARK)
        self._slab(canvas, at, (1.1, unit.tailboard_m), (1.02, unit.deck_height_m), STEEL)
        self._slab(canvas, at, (unit.tailboard_m - 0.14, unit.tailboard_m), (0.62, unit.deck_height_m), STEEL_DARK)

    def _body(self, canvas: Canvas, at: Local) -> None:
        """The body behind the cab, low enough for the boom to lie over it, and the slewing ring."""
        unit, top = self.unit, self.unit.deck_height_m + BODY_TOP_M
        back = -unit.cab_front_m + unit.cab_length_m + 0.35
        outline = [(back, 1.02), (1.45, 1.02), (1.45, 1.38), (0.98, top), (back, top)]
        canvas.polygon([at(*p) for p in outline], self.side.main, edge=INK, edge_width=2.0)
        belt = 1.02 + (top - 1.02) * 0.5
        canvas.line(at(back + 0.12, belt), at(1.2, belt), self.side.dark, width=2.0)
        for n in range(1, 4):
            u = back + (0.98 - back) * n / 4.0
            canvas.line(at(u, 1.12), at(u, top - 0.1), self.side.dark, width=2.0)
        self._slab(canvas, at, (-0.82, 0.82), (top, top + 0.13), INK)

    def _cab(self, canvas: Canvas, at: Local, scale: float) -> None:
        unit = self.unit
        front, high = -unit.cab_front_m, unit.cab_height_m
        back = front + unit.cab_length_m
        waist = 0.6 + (high - 0.6) * 0.5
        shell = [
            (back, 0.62),
            (front, 0.62),
            (front, waist - 0.12),
            (front + 0.28, waist + 0.14),
            (front + 0.62, high - 0.1),
        ]
        shell += [(front + 0.8, high), (back - 0.2, high), (back, high - 0.16)]
        canvas.polygon([at(*p) for p in shell], self.side.main, edge=INK, edge_width=2.2)
        glass = mixed(SKY, PANEL, 0.4)
        screen = [
            (front + 0.46, waist + 0.14),
            (front + 0.76, high - 0.24),
            (front + 1.2, high - 0.24),
            (front + 1.2, waist + 0.14),
        ]
        window = [
            (front + 1.36, waist + 0.14),
            (front + 1.36, high - 0.24),
            (back - 0.26, high - 0.24),
            (back - 0.26, waist + 0.14),
        ]
        for pane in (screen, window):
            canvas.polygon([at(*p) for p in pane], glass, edge=INK, edge_width=1.8)
        canvas.line(at(front + 1.28, 0.8), at(front + 1.28, waist + 0.06), self.side.dark, width=2.0)
        canvas.line(at(front + 1.38, waist - 0.12), at(front + 1.62, waist - 0.12), self.side.dark, width=2.5)
        lamp = [at(front + 0.02, 0.86), at(front + 0.34, 0.86), at(front + 0.34, 1.0), at(front + 0.02, 1.0)]
        canvas.polygon(lamp, PANEL)

    def _wheels(self, canvas: Canvas, at: Local, scale: float) -> None:
        unit, r = self.unit, WHEEL_RADIUS_M
        tail = unit.floats.toward_tailboard_m - 0.42 - r
        nose = -unit.cab_front_m + 0.95
        for u in (nose, nose + 1.22, tail - 1.2, tail):
            x, y = at(u, r)
            canvas.disc(x, y, r * scale, fill=TYRE, edge=INK, edge_width=1.5)
            canvas.disc(x, y, r * scale * 0.52, fill=STEEL, edge=INK, edge_width=1.2)
            canvas.disc(x, y, r * scale * 0.16, fill=INK)

    def _jack(self, canvas: Canvas, at: Local, u_m: float) -> None:
        """The outrigger nearer the viewer: beam end, jack, float."""
        half = self.unit.floats.pad_side_m / 2.0
        self._slab(canvas, at, (u_m - 0.11, u_m + 0.11), (0.12, 0.75), STEEL)
        self._slab(canvas, at, (u_m - 0.17, u_m + 0.17), (0.66, 0.98), PANEL)
        self._slab(canvas, at, (u_m - half, u_m + half), (0.0, 0.13), INK)

    # Turning ----------------------------------------------------------------------------------------------------

    def draw_upper(self, canvas: Canvas, camera: Camera, readings: UnitReadings) -> None:
        """Draws the superstructure."""
        draw_solids(canvas, self._upper, self._upper_place(canvas, camera, readings.slew_rad))

    @property
    def reach_m(self) -> float:
        """How far the superstructure reaches from the slew axis."""
        return float(abs(self._upper.points[:, :2]).max()) * 1.2

    @property
    def top_m(self) -> float:
        """The superstructure's top over the road."""
        return float(self._upper.points[:, 2].max())

    def is_over_road(self, readings: UnitReadings) -> bool:
        """True when the boom is behind its own superstructure."""
        return readings.slew_rad > OVER_ROAD_RAD

    def _upper_place(self, canvas: Canvas, camera: Camera, slew_rad: float) -> PlacedSolid:
        """The slewing axes on the screen: x along the boom, y across it."""
        turned_rad = slew_rad + self.unit.yaw_rad
        c, s = cos(turned_rad), sin(turned_rad)
        matrix = np.array(((self.way * c, -s * self.way, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0)))
        x, _, z = self.over.world((0.0, 0.0, 0.0))
        if self.over.is_up:
            mirror = np.diag((self.way, 1.0, 1.0))
            matrix = mirror @ np.array(self.over.turn).reshape(3, 3) @ mirror @ matrix
        return placed(canvas, _view(camera), matrix, camera.to_scene(x, z), camera.scale)

    def foot_m(self, slew_rad: float) -> Vector:
        """The foot pin in the world."""
        back, high = self.unit.boom.foot_pin_back_m, self.unit.boom.foot_pin_height_m
        return self.over.world((-back * cos(slew_rad), -back * sin(slew_rad), high))

    def draw_boom(self, canvas: Canvas, camera: Camera, readings: UnitReadings, sheaves: Sequence[Vector] = ()) -> None:
        """Draws the boom from foot pin to tip, its sections in order of nearness, the foot pin, and where there are two
        sheaves (their places in the world) the beam at the tip that bears them."""
        foot = self.foot_m(readings.slew_rad)
        tip = (readings.tip_x_m, readings.tip_y_m, readings.tip_z_m)
        beam = beam_axes(canvas, camera, foot, tip)
        self._ram(canvas, camera, beam, readings.slew_rad)
        length_m = dist(tip, foot)
        rows = sections(self.unit, length_m, self._tones)
        for section in rows if tip[1] <= foot[1] else reversed(rows):
            draw_section(canvas, beam, section)
        if len(sheaves) > 1:
            self._tip_beam(canvas, camera, sheaves)
        if not self.is_over_road(readings):
            x, y = camera.to_scene(foot[0], foot[2])
            canvas.disc(x, y, max(7.0, 0.27 * camera.scale), fill=STEEL_LIGHT, edge=INK, edge_width=2.0)

    def _tip_beam(self, canvas: Canvas, camera: Camera, sheaves: Sequence[Vector]) -> None:
        """The beam across the boom tip, with a sheave at each end."""
        spots = [camera.to_scene(at[0], at[2]) for at in sheaves]
        px, width = canvas.points_px(spots), max(2.0, 0.2 * camera.scale * canvas.f)
        for tone, more in ((INK, max(2.0, 2.6 * canvas.f)), (self.side.dark, 0.0)):
            shapes.thick_line(canvas.surface, px[0], px[-1], tone, width + more)
        for x, y in spots:
            canvas.disc(x, y, max(5.0, 0.19 * camera.scale), fill=STEEL_LIGHT, edge=INK, edge_width=1.8)

    def _ram(self, canvas: Canvas, camera: Camera, beam: Beam, slew_rad: float) -> None:
        """The cylinder that raises the boom."""
        low_z = self.unit.deck_height_m + BODY_TOP_M + 0.25
        x, _, z = self.over.world((0.5 * cos(slew_rad), 0.5 * sin(slew_rad), low_z))
        low = canvas.points_px([camera.to_scene(x, z)])[0]
        high = beam.at(0.42 * self.unit.boom.shortest_m, 0.0, -self.unit.boom.depth_m / 2)
        middle = (low[0] * 0.45 + high[0] * 0.55, low[1] * 0.45 + high[1] * 0.55)
        width = max(2.0, 0.2 * camera.scale * canvas.f)
        for a, b, w, tone in ((low, high, width * 0.62, PANEL), (low, middle, width, STEEL)):
            shapes.thick_line(canvas.surface, a, b, INK, w + max(2.0, 2.6 * canvas.f))
            shapes.thick_line(canvas.surface, a, b, tone, w)


def _view(camera: Camera) -> Array:
    view: Array = SIDE_VIEW * np.array(((camera.sign,), (1.0,), (1.0,)))
    return view

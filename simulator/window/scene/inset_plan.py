"""The plan inset: from above, road at the top, ravine at the foot."""

from __future__ import annotations

from math import cos, hypot, sin

from simulator.readings import LineReadings, Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.rig import RigLine, RigUnit, rig_of
from simulator.scenario.standing import float_places, on_road
from simulator.scenario.unit import Unit
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import (
    BED,
    BODY,
    HILL_NEAR,
    INK,
    INK_2,
    PANEL,
    RULE,
    SIDES,
    SLOPE_FOOT,
    SLOPE_TOP,
    SOIL_MARK,
    STEEL,
    TARMAC,
    SideColors,
    mixed,
)
from simulator.window.kit.regions import Region, screen_sign
from simulator.window.kit.seen import layout_of, seen_of
from simulator.window.scene.flat_view import draw_above
from simulator.window.scene.ground_marks import chance
from simulator.window.scene.load_outlines import plan_outlines
from simulator.window.scene.load_view import LoadPose, Poser
from simulator.window.scene.solids import Array, Spot
from simulator.window.scene.spreader_bars import bar_m

HEAD, FOOT = 46.0, 52.0
BEYOND_LANE_M = 4.4
BELOW_LOAD_M = 3.4
MARGIN_M = 0.5
LANE_M = 3.6
ARROW_WHOLE = 30.0
"""Design units a meter at which the way out of a waiting trailer is shown in full size."""
SHOW_ROOM_M = 6.0
"""Room to the live lane from which it is drawn as an arrow."""


class PlanView:
    """Draws the plan; what stands still is drawn once for a layer."""

    def __init__(
        self, description: Description, *, region: Region | None = None, head: float = HEAD, foot: float = FOOT
    ) -> None:
        self.description = description
        self._seen, self._rig = seen_of(description), rig_of(description)
        self.region = region or layout_of(self._seen).plan
        self.sign = screen_sign(description)
        self.poser = Poser(description.trailer)
        self.on_wheels = plan_outlines(description.trailer, on_wheels=True)
        self.on_side = plan_outlines(description.trailer, on_wheels=False)
        self.picture = (self.region.x, self.region.y + head, self.region.w, self.region.h - head - foot)
        self.top_y = description.site.live_lane_y_m + BEYOND_LANE_M
        lowest = description.trailer.start.y_m - BELOW_LOAD_M
        widest = max(abs(u.slew_axis_x_m) + u.cab_front_m for u in description.units) + MARGIN_M
        self.scale = min(self.region.w / 2.0 / widest, self.picture[3] / (self.top_y - lowest))

    def at(self, x_m: float, y_m: float) -> Spot:
        """A point of the plan in design units."""
        return self.region.x + self.region.w / 2.0 + self.sign * x_m * self.scale, self.picture[1] + (
            self.top_y - y_m
        ) * self.scale

    # Standing still ---------------------------------------------------------------------------------------------

    def draw_still(self, canvas: Canvas) -> None:
        """Draws verge, lanes, slope, bed, and the units as they stand."""
        self.draw_ground(canvas)
        self.draw_units(canvas)

    def draw_ground(self, canvas: Canvas) -> None:
        """Draws verge, lanes, slope and bed."""
        with canvas.clip(*self.picture):
            self._draw_road(canvas)
            self._draw_slope(canvas)

    def draw_units(self, canvas: Canvas) -> None:
        """Draws a flat trailer that waits, and the units as they stand."""
        with canvas.clip(*self.picture):
            draw_above(canvas, self.at, self.description, arrow=self.scale / ARROW_WHOLE)
            for unit in self._rig.units:
                self._draw_carrier(canvas, unit.place, self._side(unit))

    def _band(self, canvas: Canvas, high_m: float, low_m: float, color: tuple[int, int, int]) -> None:
        y0, y1 = self.at(0.0, high_m)[1], self.at(0.0, low_m)[1]
        canvas.rect(self.region.x, y0, self.region.w, y1 - y0, color)

    def _draw_road(self, canvas: Canvas) -> None:
        site = self.description.site
        self._band(canvas, self.top_y + 1.0, site.edge_y_m, TARMAC)
        self._band(canvas, self.top_y + 1.0, site.live_lane_y_m + LANE_M - 0.2, mixed(HILL_NEAR, SLOPE_TOP, 0.2))
        left, right = self.region.x, self.region.x + self.region.w
        y = self.at(0.0, site.live_lane_y_m)[1]
        canvas.rect(left, y - 2.0, right - left, 4.0, PANEL)
        y = self.at(0.0, site.live_lane_y_m - LANE_M)[1]
        canvas.dashed((left - 6.0, y), (right, y), PANEL, width=3.0, dash=18.0, gap=16.0)
        middle = self.at(0.0, site.live_lane_y_m + LANE_M / 2.0 - 0.1)[1]
        canvas.box(left + 20.0, middle - 8.0, 42.0, 16.0, fill=BODY, edge=INK_2, edge_width=2.0, radius=5.0)
        canvas.arrow((left + 74.0, middle), (left + 102.0, middle), INK_2, shaft=6.0, head=16.0)

    def _draw_slope(self, canvas: Canvas) -> None:
        site, foot = self.description.site, self.picture[1] + self.picture[3]
        edge = self.at(0.0, site.edge_y_m)[1]
        canvas.gradient(self.region.x, edge, self.region.w, foot - edge, mixed(SLOPE_TOP, SLOPE_FOOT, 0.3), SLOPE_FOOT)
        toe = self._toe_y()
        toe_y = self.at(0.0, toe)[1]
        canvas.rect(self.region.x, toe_y, self.region.w, max(0.0, foot - toe_y), mixed(BED, SLOPE_FOOT, 0.55))
        for n in range(round(self.region.w / 18.0)):
            x = self.region.x + 8.0 + n * 18.0
            size = 12.0 + 14.0 * chance(n, 3)
            canvas.line((x, edge + 8.0), (x, edge + 8.0 + size), SOIL_MARK, width=3.0)
        for row in range(3):
            y = foot - 12.0 - row * 26.0
            if y > toe_y + 20.0:
                line = [
                    (self.region.x + k * 12.0, y + 4.0 * sin(k * 0.5 + row * 2.0))
                    for k in range(round(self.region.w / 12.0) + 2)
                ]
                canvas.polyline(line, mixed(SOIL_MARK, BED, 0.6), width=2.0)
        canvas.rect(self.region.x, edge - 2.0, self.region.w, 4.0, INK_2)

    def _toe_y(self) -> float:
        """Where the slope has come most of the way down."""
        section = self.description.site.section_m
        deep = 0.8 * min(z for _, z in section)
        return next((y for y, z in section if z <= deep), section[-1][0])

    def _side(self, unit: RigUnit) -> SideColors:
        return SIDES[self._seen.of(unit.place).side]

    def _draw_carrier(self, canvas: Canvas, place: int, side: SideColors) -> None:
        unit = self.description.units[place]
        pad = max(9.0, unit.floats.pad_side_m * self.scale)
        spots = [self.at(*one) for one in float_places(unit)]
        for ends in (spots[:2], spots[2:]):
            canvas.line(ends[0], ends[1], INK, width=4.0)
            for x, y in ends:
                canvas.rect(x - pad / 2, y - pad / 2, pad, pad, INK)
        self._box(canvas, unit, (-unit.cab_front_m, unit.tailboard_m), side.main)
        self._box(canvas, unit, (-unit.cab_front_m, unit.cab_length_m - unit.cab_front_m), side.dark)

    def _box(self, canvas: Canvas, unit: Unit, u: Spot, fill: tuple[int, int, int]) -> None:
        half = unit.carrier_width_m / 2.0
        if unit.yaw_rad:
            corners = ((u[0], half), (u[1], half), (u[1], -half), (u[0], -half))
            canvas.polygon([self.at(*on_road(unit, *one)) for one in corners], fill, edge=INK, edge_width=2.0)
            return
        (x0, y0), (x1, y1) = self.at(*on_road(unit, u[0], half)), self.at(*on_road(unit, u[1], -half))
        left, right = sorted((x0, x1))
        canvas.box(left, y0, right - left, y1 - y0, fill=fill, edge=INK, edge_width=2.0, radius=4.0)

    # Moving -----------------------------------------------------------------------------------------------------

    def draw_moving(self, canvas: Canvas, readings: Readings) -> None:
        """Draws load and booms, the higher ones last, and the room to the live lane."""
        with canvas.clip(*self.picture):
            spots = self._draw_load(canvas, readings)
            self._draw_room(canvas, readings.load.lane_room_m, spots)
            for rig in self._rig.units:
                self._draw_boom(canvas, readings.units[rig.place], rig.place, self._side(rig))
                for line in rig.lines:
                    self._draw_spreader(canvas, readings, line)
                    self._draw_line(canvas, readings.lines[line.place], small=len(rig.lines) > 1)

    def _draw_load(self, canvas: Canvas, readings: Readings) -> list[Spot]:
        """Draws the trailer and returns its outline's corners."""
        pose = self.poser.pose(readings.load)
        every: list[Spot] = []
        is_upright = abs(pose.matrix[2][2]) >= abs(pose.matrix[2][1])
        for flat in self.on_wheels if is_upright else self.on_side:
            world = pose.matrix @ flat.points
            xs, ys = (world[0] + pose.origin_m[0]).tolist(), (world[1] + pose.origin_m[1]).tolist()
            spots = [self.at(x, y) for x, y in zip(xs, ys, strict=True)]
            canvas.polygon(spots, flat.fill, edge=INK, edge_width=2.2 if flat.is_body else 1.2)
            if flat.is_body:
                self._draw_spine(canvas, flat.points, pose)
            every += spots
        return every

    def _draw_spine(self, canvas: Canvas, points: Array, pose: LoadPose) -> None:
        """A line along the middle of a body's top."""
        x0, x1 = float(points[0].min()) + 0.9, float(points[0].max()) - 0.9
        y, z = float(points[1].mean()), float(points[2].mean())
        (ax, ay, _), (bx, by, _) = pose.world((x0, y, z)), pose.world((x1, y, z))
        canvas.line(self.at(ax, ay), self.at(bx, by), RULE, width=4.0)

    def _draw_room(self, canvas: Canvas, room_m: float, spots: list[Spot]) -> None:
        x, y = min(spots, key=lambda spot: spot[1])
        lane = self.at(0.0, self.description.site.live_lane_y_m)[1]
        if 0.5 < room_m < SHOW_ROOM_M and y > lane:
            canvas.arrow((x, y - 2.0), (x, lane + 2.0), INK, shaft=3.0, head=12.0)

    def _draw_boom(self, canvas: Canvas, unit: UnitReadings, place: int, side: SideColors) -> None:
        own = self.description.units[place]
        c, s = cos(unit.slew_rad), sin(unit.slew_rad)
        back = own.boom.foot_pin_back_m
        foot = self.at(*on_road(own, -back * c, -back * s))
        rear = self.at(*on_road(own, -own.tail_swing_m * c, -own.tail_swing_m * s))
        axis = self.at(own.slew_axis_x_m, own.slew_axis_y_m)
        tip = self.at(unit.tip_x_m, unit.tip_y_m)
        self._bar(canvas, rear, axis, own.superstructure_radius_m * self.scale * 0.75, STEEL, STEEL)
        canvas.disc(*axis, own.superstructure_radius_m * self.scale, fill=side.dark, edge=INK, edge_width=2.0)
        depth = max(8.0, own.boom.depth_m * self.scale)
        self._bar(canvas, foot, tip, depth / 2.0, side.main, side.main, thin=0.7)

    def _draw_spreader(self, canvas: Canvas, readings: Readings, line: RigLine) -> None:
        ends = bar_m(self.description.trailer.picks[line.pick], readings.lines[line.place], readings.load)
        if ends is not None:
            a, b = (self.at(x, y) for x, y, _ in ends)
            canvas.line(a, b, INK, width=6.0)
            canvas.line(a, b, STEEL, width=2.5)

    def _draw_line(self, canvas: Canvas, line: LineReadings, *, small: bool) -> None:
        """A line from above: its sheave as a ring, its hook as a dot; smaller ones where two stand side by side."""
        sheave, hook = self.at(line.tip_x_m, line.tip_y_m), self.at(line.hook_x_m, line.hook_y_m)
        size = 0.7 if small else 1.0
        canvas.disc(*hook, 6.0 * size, fill=INK)
        canvas.disc(*sheave, 6.5 * size, fill=PANEL, edge=INK, edge_width=2.0)
        canvas.disc(*hook, 3.0 * size, fill=INK)

    def _bar(
        self,
        canvas: Canvas,
        start: Spot,
        end: Spot,
        half: float,
        fill: tuple[int, int, int],
        far: tuple[int, int, int],
        *,
        thin: float = 1.0,
    ) -> None:
        """A bar between two points, `thin` times as wide at its end."""
        length = hypot(end[0] - start[0], end[1] - start[1]) or 1.0
        nx, ny = (end[1] - start[1]) / length * half, (start[0] - end[0]) / length * half
        outline = [
            (start[0] + nx, start[1] + ny),
            (end[0] + nx * thin, end[1] + ny * thin),
            (end[0] - nx * thin, end[1] - ny * thin),
            (start[0] - nx, start[1] - ny),
        ]
        canvas.polygon(outline, fill, edge=INK, edge_width=1.8)

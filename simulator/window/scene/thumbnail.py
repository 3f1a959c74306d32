"""A small picture of a lift at time zero, drawn from its own description."""

from __future__ import annotations

from math import cos, sin

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.ground import ground, height_m
from simulator.mechanics.trailer_body import lying, part_corners
from simulator.scenario.description import Description
from simulator.scenario.rig import RigUnit, rig_of
from simulator.scenario.unit import Unit, UnitStart
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.palette import BED, BED_LINE, BODY, INK, SIDES, SKY, SLOPE_TOP, STEEL_DARK
from simulator.window.kit.regions import Region, screen_sign
from simulator.window.kit.seen import seen_of
from simulator.window.scene.flat_view import draw_beside

SEEN_M = 13.5
"""Half of the road's length that a picture shows at least."""


def depth_m(description: Description) -> float:
    """How far under the road the ground is where the load lies."""
    place = description.trailer.start
    return -height_m(ground(description.site), place.x_m, place.y_m)


class Thumbnail:
    """Places one lift in a region: meters to design units."""

    def __init__(self, description: Description, region: Region) -> None:
        self.description, self.region = description, region
        self.tips = [tip_m(unit, _pose(unit.start)) for unit in description.units]
        top = max(tip[2] for tip in self.tips) + 0.8
        foot = -depth_m(description) - 2.0
        self.scale = min(region.w / (2.0 * SEEN_M), region.h / (top - foot))
        self._top = top
        self._bed_z_m = -depth_m(description)
        trailer = description.trailer
        corners = [lying(trailer.attitude, corner) for part in trailer.parts for corner in part_corners(part)]
        self._lowest_m = min(z for _, _, z in corners)
        self._half_m = max(abs(x) for x, _, _ in corners)
        self._sign = screen_sign(description)

    def at(self, x_m: float, z_m: float) -> Spot:
        """A point of the side view in design units."""
        middle = self.region.x + self.region.w / 2.0
        return middle + self._sign * x_m * self.scale, self.region.y + (self._top - z_m) * self.scale

    def draw(self, canvas: Canvas) -> None:
        """Draws sky, slope, bed, units, lines and load."""
        with canvas.clip(*self.region):
            self._draw_ground(canvas)
            draw_beside(canvas, self.at, self.description)
            for unit in rig_of(self.description).units:
                self._draw_unit(canvas, unit)
            self._draw_load(canvas)

    def _draw_ground(self, canvas: Canvas) -> None:
        region, road = self.region, self.at(0.0, 0.0)[1]
        canvas.rect(region.x, region.y, region.w, region.h, SKY)
        canvas.rect(region.x, road, region.w, region.foot - road, SLOPE_TOP)
        surface, y_m = ground(self.description.site), self.description.trailer.start.y_m
        half = region.w / 2.0 / self.scale
        xs = [-half + n * half / 24.0 for n in range(49)]
        line = [self.at(x, height_m(surface, x, y_m)) for x in xs]
        canvas.polygon([*line, (line[-1][0], region.foot + 4.0), (line[0][0], region.foot + 4.0)], BED)
        canvas.polyline(line, BED_LINE, width=2.5)
        canvas.rect(region.x, road - 1.5, region.w, 3.0, STEEL_DARK)

    def _draw_unit(self, canvas: Canvas, rig: RigUnit) -> None:
        unit, tip = self.description.units[rig.place], self.tips[rig.place]
        color = SIDES[seen_of(self.description).of(rig.place).side].main
        s = unit.facing
        self._block(canvas, unit, s, (unit.tailboard_m, -unit.cab_front_m), (0.4, unit.deck_height_m + 0.3), color)
        cab = (-unit.cab_front_m + unit.cab_length_m, -unit.cab_front_m)
        self._block(canvas, unit, s, cab, (0.4, unit.cab_height_m), color)
        turret = (1.2, -1.6)
        self._block(canvas, unit, s, turret, (unit.deck_height_m, unit.boom.foot_pin_height_m + 0.3), color)
        foot = self.at(unit.slew_axis_x_m - s * 0.5, unit.boom.foot_pin_height_m)
        canvas.line(foot, self.at(tip[0], tip[2]), color, width=6.0)
        for line, own in zip(rig.lines, unit.lines, strict=True):
            pick = self.description.trailer.picks[line.pick]
            # The sheave stands square to the boom and level, from its tip.
            x_m = tip[0] - s * sin(unit.start.slew_rad) * own.across_m
            canvas.line(self.at(x_m, tip[2]), self.at(*self._world(pick.at_m)), INK, width=2.0)

    def _block(
        self,
        canvas: Canvas,
        unit: Unit,
        s: float,
        along: tuple[float, float],
        heights: tuple[float, float],
        color: tuple[int, int, int],
    ) -> None:
        (x0, y0), (x1, y1) = (
            self.at(unit.slew_axis_x_m + s * u, z) for u, z in zip(along, (heights[1], heights[0]), strict=True)
        )
        canvas.rect(min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0), color)

    def _world(self, point: tuple[float, float, float]) -> tuple[float, float]:
        """x and z of a point of the trailer where it lies at time zero."""
        x, _, z = lying(self.description.trailer.attitude, point)
        return self._placed(x, z)

    def _draw_load(self, canvas: Canvas) -> None:
        trailer = self.description.trailer
        for part in sorted(trailer.parts, key=lambda part: part.drawn_as in ("tank", "box")):
            lain = [lying(trailer.attitude, corner) for corner in part_corners(part)]
            xs, zs = [x for x, _, _ in lain], [z for _, _, z in lain]
            box = ((min(xs), min(zs)), (max(xs), min(zs)), (max(xs), max(zs)), (min(xs), max(zs)))
            fill = BODY if part.drawn_as in ("tank", "box") else STEEL_DARK
            spots = [self.at(*self._placed(x, z)) for x, z in box]
            canvas.polygon(spots, fill, edge=INK, edge_width=1.5)

    def _placed(self, x: float, z: float) -> tuple[float, float]:
        """Lying axes to the world: on the bed, pitched nose up (the nose is at -x)."""
        start, z = self.description.trailer.start, z - self._lowest_m
        turn = -start.pitch_rad  # nose up turns -x up
        x_m = start.x_m + x * cos(turn) - z * sin(turn)
        return x_m, self._bed_z_m + x * sin(turn) + z * cos(turn) + self._half_m * abs(sin(turn))


def _pose(start: UnitStart) -> BoomPose:
    return BoomPose(start.boom_length_m, start.elevation_rad, start.slew_rad)

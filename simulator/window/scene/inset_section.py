"""The section across the slope at the load, seen along the road from the first unit: in its inset, or large."""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, sin
from typing import NamedTuple

import numpy as np

from simulator.mechanics.end_turns import LineWay, in_load_axes, line_ways
from simulator.mechanics.flat_deck import deck_of
from simulator.mechanics.ground import ground, height_m
from simulator.mechanics.trailer_body import part_corners, rotation, turned
from simulator.readings import LineReadings, LoadReadings, Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import RigLine, RigUnit, rig_of
from simulator.scenario.standing import as_it_stands
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import (
    INK,
    INK_2,
    SIDES,
    SKY,
    SLOPE_FOOT,
    SLOPE_TOP,
    STEEL_DARK,
    SideColors,
    mixed,
)
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import layout_of, seen_of
from simulator.window.scene.flat_view import draw_across, waits
from simulator.window.scene.gone_over import GoneOver
from simulator.window.scene.load_outlines import section_outlines
from simulator.window.scene.load_view import LoadPose, Poser
from simulator.window.scene.solids import Spot
from simulator.window.scene.spreader_bars import Bar, bar_m, draw_bar
from simulator.window.scene.trailer_shape import TYRE
from simulator.words import say

HEAD, FOOT = 46.0, 52.0
ABOVE_TIP_M, BELOW_BED_M = 1.1, 1.4
LEAST_WIDTH_M = 24.0
BODY_TOP_M = 0.68
ARROW_FROM_M = 0.6
"""Least height over the ground at which the arrow to it is drawn."""


class Framing(NamedTuple):
    """How the section's meters fall into its picture."""

    scale: float
    """Design units per meter."""
    top_z_m: float
    """At the picture's upper edge."""
    middle_y_m: float
    """In its middle."""


class SectionView:
    """Draws the section; what stands still is drawn once for a layer."""

    def __init__(self, description: Description, *, picture: Region | None = None) -> None:
        """
        Args:
            description: the lift.
            picture: where it is drawn; the inset's own, between head and foot, when left out.
        """
        self.description = description
        self._seen, self._rig = seen_of(description), rig_of(description)
        self.region = layout_of(self._seen).section
        inset = Region(self.region.x, self.region.y + HEAD, self.region.w, self.region.h - HEAD - FOOT)
        self.picture = picture or inset
        self.surface, self._deck = ground(description.site), deck_of(description)
        self.poser = Poser(description.trailer)
        self._near = self._rig.units[0]
        """The unit that the section is seen from."""
        self.overs = tuple(GoneOver(unit) for unit in description.units)
        """How each unit leans; `take` the readings before anything is drawn."""
        self._pick = description.trailer.picks[self._near.lines[0].pick].at_m
        self.flats = section_outlines(description.trailer, self._pick[0])
        touching = [part for part in description.trailer.parts if part.touches_ground]
        self._touching = np.array([corner for part in touching for corner in part_corners(part)]).T
        self._ways = tuple(self._ways_of(unit) for unit in self._rig.units)
        self.framing = self.whole()

    def whole(self) -> Framing:
        """From the live lane to beyond the load at time zero, from the tips to under the bed."""
        description = self.description
        highest = max(
            description.path.tip_height_m,
            *(
                unit.boom.foot_pin_height_m + unit.start.boom_length_m * sin(unit.start.elevation_rad)
                for unit in description.units
            ),
        )
        lowest = min(z for _, z in description.site.section_m) + min(z for _, z in description.site.bed_m)
        lowest = max(lowest, self._ground_z(description.trailer.start.y_m) - 2.0)
        rise = highest + ABOVE_TIP_M - (min(lowest, -1.0) - BELOW_BED_M)
        scale = min(self.picture.h / rise, self.picture.w / LEAST_WIDTH_M)
        middle = (description.site.live_lane_y_m + description.trailer.start.y_m - 5.0) / 2.0
        return Framing(scale, highest + ABOVE_TIP_M, middle)

    def _ways_of(self, unit: RigUnit) -> tuple[LineWay, ...]:
        """Of a unit's two lines; a single line goes to what hangs under its hook."""
        return line_ways(self.description.trailer, unit.lines) if len(unit.lines) > 1 else ()

    def _ground_z(self, y_m: float) -> float:
        return height_m(self.surface, self.description.trailer.start.x_m, y_m)

    def at(self, y_m: float, z_m: float) -> Spot:
        """A point of the section in design units: road on the left, ravine on the right."""
        scale, top_z_m, middle_y_m = self.framing
        picture = self.picture
        return picture.x + picture.w / 2.0 - (y_m - middle_y_m) * scale, picture.y + (top_z_m - z_m) * scale

    # Standing still ---------------------------------------------------------------------------------------------

    @property
    def still(self) -> tuple[object, ...]:
        """All that `draw_still` draws while no unit goes over, as a value that can be compared."""
        near = self._near.place
        unit = replace(as_it_stands(self.description.units[near]), slew_axis_x_m=0.0)
        start = self.description.trailer.start
        return self.description.site, waits(self.description), start.x_m, self.framing, unit, self._side(self._near)

    def draw_still(self, canvas: Canvas) -> None:
        """Draws sky, ground, road and the unit as it stands."""
        x, y, w, h = self.picture
        canvas.rect(x, y, w, h, SKY)
        with canvas.clip(*self.picture):
            self._draw_ground(canvas)
            draw_across(canvas, self.at, self.description)
            self._draw_carrier(canvas, self._side(self._near), self._near.place)

    def _draw_ground(self, canvas: Canvas) -> None:
        site = self.description.site
        xs = self.description.trailer.start.x_m
        half, middle = self.picture.w / 2.0 / self.framing.scale + 1.0, self.framing.middle_y_m
        ends = (middle + half, middle - half)
        ys = [ends[0], *(y for y, _ in site.section_m if ends[1] < y < ends[0]), ends[1]]
        line = [self.at(y, height_m(self.surface, xs, y)) for y in sorted(ys, reverse=True)]
        foot = self.picture.foot + 10.0
        canvas.polygon([*line, (line[-1][0], foot), (line[0][0], foot)], mixed(SLOPE_TOP, SLOPE_FOOT, 0.35))
        canvas.polyline(line, STEEL_DARK, width=3.0)
        left, edge = self.at(ends[0], 0.0), self.at(site.edge_y_m, 0.0)
        canvas.rect(left[0], left[1], edge[0] - left[0], 6.0, INK_2)
        canvas.text(say("inset.road"), self.picture.x + 14.0, left[1] + 34.0, 24.0, color=INK)

    def _draw_carrier(self, canvas: Canvas, side: SideColors, place: int) -> None:
        unit = self.description.units[place]
        half, s, mid = unit.carrier_width_m / 2.0, self.framing.scale, unit.slew_axis_y_m
        road, ravine = mid + unit.floats.road_m, mid - unit.floats.ravine_m
        top = unit.deck_height_m + BODY_TOP_M
        if self.overs[place].is_up:
            self._draw_leaning_carrier(canvas, side, place)
            return
        for wheel, jack in ((mid - half + 0.25, ravine), (mid + half - 0.25, road)):
            x, y = self.at(wheel, 0.0)
            canvas.rect(x - 0.28 * s, y - 0.95 * s, 0.56 * s, 0.95 * s, TYRE)
            x, y = self.at(jack, 0.0)
            canvas.rect(x - 0.12 * s, y - 0.8 * s, 0.24 * s, 0.8 * s, INK)
            pad = unit.floats.pad_side_m * s
            canvas.rect(x - pad / 2, y - 4.0, pad, 4.0, INK)
        (x0, y0), (x1, _) = self.at(road, 0.8), self.at(ravine, 0.8)
        canvas.rect(x0, y0 - 1.5, x1 - x0, 3.5, INK)
        self._slab(canvas, (mid - half, mid + half), (0.55, top), side)
        self._slab(
            canvas, (mid - half * 0.7, mid + half * 0.7), (top, unit.boom.foot_pin_height_m + 0.35), side, dark=True
        )

    def _slab(self, canvas: Canvas, y: Spot, z: Spot, side: SideColors, *, dark: bool = False) -> None:
        corners = [self.at(y[0], z[0]), self.at(y[1], z[0]), self.at(y[1], z[1]), self.at(y[0], z[1])]
        canvas.polygon(corners, side.dark if dark else side.main, edge=INK, edge_width=1.5)

    def _draw_leaning_carrier(self, canvas: Canvas, side: SideColors, place: int) -> None:
        """The same of a unit that goes over, by its end that is seen."""
        unit, high = self.description.units[place], self.description.units[place].boom.foot_pin_height_m + 0.35
        half, pad, floats = unit.carrier_width_m / 2.0, unit.floats.pad_side_m / 2.0, unit.floats
        jacks = -floats.ravine_m, floats.road_m
        top = unit.deck_height_m + BODY_TOP_M
        rows = [
            *((way * (half - 0.25) - 0.28, way * (half - 0.25) + 0.28, 0.0, 0.95, TYRE) for way in (-1.0, 1.0)),
            *((at - 0.12, at + 0.12, 0.0, 0.8, INK) for at in jacks),
            *((at - pad, at + pad, 0.0, 0.12, INK) for at in jacks),
            (*jacks, 0.74, 0.86, INK),
            (-half, half, 0.55, top, side.main),
            (-half * 0.7, half * 0.7, top, high, side.dark),
        ]
        for low_y, high_y, low_z, high_z, color in rows:
            corners = ((low_y, low_z), (high_y, low_z), (high_y, high_z), (low_y, high_z))
            seen = [self.at(*self.overs[place].world((0.0, y, z))[1:]) for y, z in corners]
            canvas.polygon(seen, color, edge=INK, edge_width=1.5)

    # Moving -----------------------------------------------------------------------------------------------------

    def take(self, readings: Readings) -> tuple[Spot, ...]:
        """Units lean as these readings say; how each leans."""
        for over, now in zip(self.overs, readings.units, strict=True):
            over.take(now)
        return tuple(over.leans for over in self.overs)

    def draw_moving(self, canvas: Canvas, readings: Readings) -> None:
        """Draws booms, lines, the load's section and the arrow to the ground under it."""
        self.take(readings)
        with canvas.clip(*self.picture):
            for unit in reversed(self._rig.units):
                self._draw_boom(canvas, readings, unit, far=unit is not self._near)
            pose = self._pose(readings)
            self._draw_load(canvas, readings, pose)
            self._draw_arrow(canvas, readings)

    def _side(self, unit: RigUnit) -> SideColors:
        return SIDES[self._seen.of(unit.place).side]

    def _draw_boom(self, canvas: Canvas, readings: Readings, rig: RigUnit, *, far: bool) -> None:
        unit, side, boom = readings.units[rig.place], self._side(rig), self.description.units[rig.place].boom
        back = -boom.foot_pin_back_m
        own = back * cos(unit.slew_rad), back * sin(unit.slew_rad), boom.foot_pin_height_m
        foot = self.at(*self.overs[rig.place].world(own)[1:])
        tip = self.at(unit.tip_y_m, unit.tip_z_m)
        length, scale = hypot(tip[0] - foot[0], tip[1] - foot[1]) or 1.0, self.framing.scale
        wide, thin = max(7.0, boom.depth_m * scale * 1.1) / 2.0, max(5.0, boom.depth_m * scale * 0.75) / 2.0
        nx, ny = (tip[1] - foot[1]) / length, (foot[0] - tip[0]) / length
        outline = [
            (foot[0] + nx * wide, foot[1] + ny * wide),
            (tip[0] + nx * thin, tip[1] + ny * thin),
            (tip[0] - nx * thin, tip[1] - ny * thin),
            (foot[0] - nx * wide, foot[1] - ny * wide),
        ]
        canvas.polygon(outline, side.tint if far else side.main, edge=side.main if far else INK, edge_width=1.5)
        for line in rig.lines:
            self._draw_line(canvas, readings.lines[line.place], side, far=far)

    def _draw_line(self, canvas: Canvas, line: LineReadings, side: SideColors, *, far: bool) -> None:
        """One line from its own sheave, and before it plumb under the sheave."""
        sheave, hook = self.at(line.tip_y_m, line.tip_z_m), self.at(line.hook_y_m, line.hook_z_m)
        if not far and abs(hook[0] - sheave[0]) > 1.5:
            canvas.dashed(sheave, (sheave[0], hook[1]), INK, width=1.5, dash=6.0, gap=4.0)
        canvas.line(sheave, hook, side.main if far else INK, width=2.0 if far else 3.0)

    def _pose(self, readings: Readings) -> LoadPose:
        """The load turned about its length only, placed where its nearer end hangs."""
        load, pick = readings.load, self._pick
        true = self.poser.pose(load).world(pick)
        flat = self.poser.pose(load._replace(pitch_rad=0.0, yaw_rad=0.0))
        x, y, z = flat.world(pick)
        a, b, c = flat.origin_m
        return LoadPose(flat.matrix, (a + true[0] - x, b + true[1] - y, c + true[2] - z))

    def _draw_load(self, canvas: Canvas, readings: Readings, pose: LoadPose) -> None:
        shown = []
        for flat in self.flats:
            world = pose.matrix @ flat.points
            ys, zs = (world[1] + pose.origin_m[1]).tolist(), (world[2] + pose.origin_m[2]).tolist()
            shown.append(([self.at(y, z) for y, z in zip(ys, zs, strict=True)], flat))
        bodies = [spots for spots, flat in shown if flat.is_body] or [spots for spots, _ in shown]
        for spots, flat in shown:
            canvas.polygon(spots, flat.fill, edge=INK, edge_width=2.0 if flat.is_body else 1.2)
        if len(self._near.lines) < 2:
            self._draw_spread(canvas, readings, bodies)
            return
        for line, spots in zip(self._near.lines, self.sling_spots(readings), strict=True):
            self._draw_sling(canvas, self._hook(readings, line), spots)

    def sling_spots(self, readings: Readings) -> list[list[Spot]]:
        """Where the slings of the nearer unit's two lines run round the load, from pick to where they leave it."""
        load = readings.load
        angles, reference = (load.pitch_rad, load.yaw_rad, load.roll_rad), (load.x_m, load.y_m, load.z_m)
        flat, found = rotation(0.0, 0.0, load.roll_rad), []
        pick = self.poser.pose(load).world(self._pick)
        flat_pick = self.poser.pose(load._replace(pitch_rad=0.0, yaw_rad=0.0)).world(self._pick)
        off = [a - b for a, b in zip(pick, flat_pick, strict=True)]
        for line, way in zip(self._near.lines, self._ways[self._near.place], strict=True):
            now = readings.lines[line.place]
            sheave = in_load_axes((now.tip_x_m, now.tip_y_m, now.tip_z_m), reference, angles)
            rows = [turned(flat, (0.0, *point)) for point in way.points(sheave)]
            found.append([self.at(load.y_m + b + off[1], load.z_m + c + off[2]) for _, b, c in rows])
        return found

    def _hook(self, readings: Readings, line: RigLine) -> Spot:
        now = readings.lines[line.place]
        return self.at(now.hook_y_m, now.hook_z_m)

    def _draw_spread(self, canvas: Canvas, readings: Readings, bodies: list[list[Spot]]) -> None:
        """The legs of a single line's sling, to both sides of what it goes round; from a spreader, round under it."""
        (line,), hook = self._near.lines, self._hook(readings, self._near.lines[0])
        every = [spot for spots in bodies for spot in spots]
        middle = sum(y for _, y in every) / len(every)
        ends = bar_m(self.description.trailer.picks[line.pick], readings.lines[line.place], readings.load)
        if ends is None:
            for side in (min, max):
                canvas.line(hook, side((p for p in every if p[1] <= middle), key=lambda p: p[0]), INK, width=2.5)
        else:
            left, right = sorted(self.at(y, z) for _, y, z in ends)
            feet = [side((p for p in every if p[1] >= middle), key=lambda p: p[0]) for side in (min, max)]
            canvas.polyline([left, *feet, right], INK, width=2.5)
            draw_bar(canvas, hook, Bar(left, right))
        canvas.disc(*hook, 4.0, fill=INK)

    def _draw_sling(self, canvas: Canvas, hook: Spot, spots: list[Spot]) -> None:
        """The sling of one of two lines: round the load to its pick, thicker where it lies."""
        canvas.line(hook, spots[-1], INK, width=2.5)
        if len(spots) > 1:
            canvas.polyline(spots, INK, width=5.0)
        canvas.disc(*hook, 4.0, fill=INK)
        canvas.disc(*spots[0], 3.0, fill=INK)

    def _draw_arrow(self, canvas: Canvas, readings: Readings) -> None:
        """An arrow as long as the figure under it, where that was measured."""
        load = readings.load
        if load.height_over_bed_m > ARROW_FROM_M:
            y, z = self.nearest_ground(load)
            canvas.arrow(self.at(y, z), self.at(y, z - load.height_over_bed_m), INK, shaft=3.0, head=14.0)

    def nearest_ground(self, load: LoadReadings) -> Spot:
        """(y, z) of the load's point that has the least height over the ground straight below it, m."""
        pose = self.poser.pose(load)
        xs, ys, zs = (pose.matrix @ self._touching + np.array(pose.origin_m)[:, None]).tolist()
        n = min(range(len(zs)), key=lambda i: zs[i] - height_m(self.surface, xs[i], ys[i]))
        low = min(zs)
        deck = self._deck
        if deck is not None and low - load.height_over_bed_m > deck.top_m / 2.0:
            return min(max(ys[n], deck.low_y_m), deck.high_y_m), low  # it may be wider than the deck it is over
        return ys[n], zs[n]

"""The three pictures of a lift that is laid out, to scale, from the drive screen's pieces; what is dragged on them."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, sin

from simulator.readings import Readings
from simulator.scenario.asked_numbers import System
from simulator.scenario.description import Description
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.standing import float_places, on_road, pads_from_m
from simulator.telling.laid_out import Row, Spoke, Stop
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import length
from simulator.window.kit.palette import (
    BED,
    BED_LINE,
    CAUTION,
    INK,
    INK_2,
    PANEL,
    SIDES,
    SKY,
    SLOPE_TOP,
    STOP,
    TARMAC,
    Color,
)
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import seen_of
from simulator.window.kit.shapes import plain_polygon
from simulator.window.layout import load_edits, place_edits
from simulator.window.layout.grips import Grip, View, grips_of
from simulator.window.layout.kept_views import KeptViews
from simulator.window.layout.measured import draw_measured
from simulator.window.layout.pose import readings_at
from simulator.window.layout.ravine_camera import Frame, RavineCamera
from simulator.window.scene.flat_view import draw_beside, waits
from simulator.window.scene.inset_plan import PlanView
from simulator.window.scene.inset_section import Framing, SectionView
from simulator.window.scene.kept_pictures import KeptPictures
from simulator.window.scene.side_view_ground import bed_line, draw_rail, say_kilovolt
from simulator.words import say

ABOVE = Region(456, 128, 968, 448)
ACROSS = Region(456, 584, 392, 272)
RAVINE = Region(856, 584, 568, 272)
REGIONS: dict[View, Region] = {"above": ABOVE, "across": ACROSS, "ravine": RAVINE}
NAME_H = 36.0
GRIP_RADIUS, REACH = 11.0, 20.0
"""How large a grip is drawn, and from how near it is taken."""
Spot = tuple[float, float]
ROOM_ALPHA = 56
PLAN_ROOM = 0.92
"""The view from above leaves so much: what is measured stands beside the load."""


class Pictures:
    """Draws one lift at one station; made anew when the lift has changed."""

    def __init__(
        self,
        lift: Description,
        system: System,
        *,
        held: dict[View, Frame] | None = None,
        before: Pictures | None = None,
    ) -> None:
        self.lift: Description = lift
        self.system: System = system
        self.plan = PlanView(lift, region=ABOVE, head=0.0, foot=0.0)
        self.section = SectionView(lift, picture=ACROSS)
        self.camera = RavineCamera(lift, RAVINE)
        if held:
            self.plan.scale, self.plan.top_y = held["above"].scale, held["above"].v_m
            scale, middle_y_m, top_z_m = held["across"]
            self.section.framing = Framing(scale, top_z_m, middle_y_m)
            self.camera.hold(held["ravine"])
        else:
            self.plan.scale *= PLAN_ROOM
        self.moving: KeptPictures = KeptPictures(lift, before=before.moving if before else None, is_exact=True)
        self.kept: KeptViews = before.kept if before else KeptViews(ABOVE, ACROSS, RAVINE)

    @property
    def frames(self) -> dict[View, Frame]:
        """How meters fall on each picture now."""
        section = self.section.framing
        return {
            "above": Frame(self.plan.scale, 0.0, self.plan.top_y),
            "across": Frame(section.scale, section.middle_y_m, section.top_z_m),
            "ravine": self.camera.frame,
        }

    # Places -------------------------------------------------------------------------------------------------------

    def at(self, view: View, u_m: float, v_m: float) -> Spot:
        """A point of a view in design units."""
        if view == "above":
            return self.plan.at(u_m, v_m)
        return self.section.at(u_m, v_m) if view == "across" else self.camera.to_scene(u_m, v_m)

    def meters(self, view: View, dx: float, dy: float) -> Spot:
        """A movement of the mouse in a view, in meters along its axes."""
        scale = self.frames[view].scale
        sign = -1.0 if view == "across" else self.camera.sign
        return sign * dx / scale, -dy / scale

    def grip_at(self, x: float, y: float) -> Grip | None:
        """What lies under the mouse: the nearest grip; else the unit or the load whose body is there."""
        view = next((one for one, region in REGIONS.items() if _holds(region, x, y)), None)
        if view is None:
            return None
        grips = [one for one in grips_of(self.lift) if one.view == view]
        near = [(hypot(x - a, y - b), -n, one) for n, one in enumerate(grips) for a, b in (self.spot(one),)]
        best = min(near, default=None, key=lambda row: row[:2])
        if best is not None and best[0] <= REACH:
            return best[2]
        return self._body_at(view, x, y, grips)

    def _body_at(self, view: View, x: float, y: float, grips: list[Grip]) -> Grip | None:
        """A long thing that is taken anywhere along it: load, units, edge, lane, landing, line."""
        ordered = sorted(grips, key=lambda one: one.key not in ("load", "unit_0", "unit_1"))
        return next((one for one in ordered if self._covers(view, one, x, y)), None)

    def _covers(self, view: View, grip: Grip, x: float, y: float) -> bool:
        a, b = self.spot(grip)
        scale = self.frames[view].scale
        if grip.key == "load":
            long, wide = load_edits.size_m(self.lift.trailer)[0], load_edits.width_as_it_lies_m(self.lift)
            return abs(x - a) <= long * scale / 2.0 and abs(y - b) <= wide * scale / 2.0
        if grip.key.startswith("unit_"):
            unit = self.lift.units[int(grip.key[5:])]
            x0 = self.at(view, on_road(unit, -unit.cab_front_m, 0.0)[0], 0.0)[0]
            x1 = self.at(view, place_edits.tailboard_x_m(self.lift, int(grip.key[5:])), 0.0)[0]
            return min(x0, x1) <= x <= max(x0, x1) and abs(y - b) <= 1.3 * scale
        if grip.key in ("edge", "lane", "line", "landing"):
            return view == "above" and abs(y - b) <= REACH / 2.0
        return False

    def spot(self, grip: Grip) -> Spot:
        """Where a grip is drawn, inside its picture."""
        x, y = self.at(grip.view, *grip.at)
        region = REGIONS[grip.view]
        return min(region.right - 16.0, max(region.x + 16.0, x)), min(region.foot - 16.0, max(region.y + 16.0, y))

    # Drawing ------------------------------------------------------------------------------------------------------

    def draw(
        self,
        canvas: Canvas,
        stop: Stop | None,
        *,
        room: Sequence[Sequence[Spoke]] = (),
        row: Row | None = None,
        chosen: str = "",
        measured: tuple[str, str] = ("", ""),
    ) -> None:
        """All three, at a station; `chosen` is the key of the grip in hand, `measured` a field with its text: it is
        shown from where to where it is measured."""
        readings = None if stop is None else readings_at(self.lift, stop)
        self._above(canvas, readings, room)
        self._across(canvas, readings)
        self._ravine(canvas, readings)
        named = list[Spot]()
        for grip in grips_of(self.lift):
            self._grip(canvas, grip, named, is_chosen=grip.key == chosen)
        draw_measured(canvas, self, *measured)
        if row is not None:
            self._mark(canvas, row)
        for region in REGIONS.values():
            canvas.box(*region, edge=INK_2, edge_width=1.5, radius=4.0)

    def _above(self, canvas: Canvas, readings: Readings | None, room: Sequence[Sequence[Spoke]]) -> None:
        plan, site = self.plan, self.lift.site
        self.kept.above.show(canvas, (site, plan.scale, plan.top_y, plan.sign), plan.draw_ground)
        plan.draw_units(canvas)
        with canvas.clip(*ABOVE):
            for end, spokes in enumerate(room):
                self._room(canvas, end, spokes)
            self._landing(canvas)
            if site.overhead_line is not None:
                y = plan.at(0.0, site.overhead_line.y_m)[1]
                canvas.dashed((ABOVE.x, y), (ABOVE.right, y), INK, width=3.0, dash=26.0, gap=6.0)
        if readings is not None:
            plan.draw_moving(canvas, readings)
        self._scale_bar(canvas, ABOVE, plan.scale)
        self._label(canvas, ABOVE, say("layout.above"))
        self._plan_figures(canvas)
        self._wind(canvas)

    def _room(self, canvas: Canvas, end: int, spokes: Sequence[Spoke]) -> None:
        """Where a unit's tip may stand, shaded; its rim is whole for the left unit and broken for the right one."""
        unit, side = self.lift.units[end], SIDES[seen_of(self.lift).of(end).side]

        def spot(one: Spoke, out_m: float) -> Spot:
            return self.plan.at(unit.slew_axis_x_m + out_m * cos(one.toward_rad), out_m * sin(one.toward_rad))

        layer = canvas.layer(*ABOVE, clear=True)
        pairs = [
            (one, other)
            for one, other in zip(spokes, [*spokes[1:], *spokes[:1]], strict=True)
            if one.to_m and other.to_m
        ]
        for one, other in pairs:
            corners = spot(one, one.from_m), spot(one, one.to_m), spot(other, other.to_m), spot(other, other.from_m)
            plain_polygon(layer.surface, layer.points_px(corners), side.main)
        layer.surface.set_alpha(ROOM_ALPHA)
        canvas.paste(layer)
        is_left = side is SIDES[0]
        for n, (one, other) in enumerate(pairs):
            if is_left or n % 2 == 0:
                canvas.line(spot(one, one.to_m), spot(other, other.to_m), side.dark, width=2.5)

    def _landing(self, canvas: Canvas) -> None:
        """Where the load is to come down."""
        lift = self.lift
        half = load_edits.size_m(lift.trailer)[0] / 2.0
        wide = load_edits.width_as_it_lies_m(lift) / 2.0
        x, y = load_edits.middle_x_m(lift), lift.landing.y_m
        corners = [self.plan.at(x + a * half, y + b * wide) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
            canvas.dashed(start, end, INK, width=2.5, dash=10.0, gap=7.0)

    def _plan_figures(self, canvas: Canvas) -> None:
        """Gap between the tailboards, and pads to the edge, with their lines."""
        lift = self.lift
        if len(lift.units) > 1:
            ends = [self.plan.at(place_edits.tailboard_x_m(lift, n), 1.9) for n in range(len(lift.units))]
            self._dimension(canvas, ends[0], ends[-1], length(lift.gap_m, self.system, decimals=2).joined)
        back = place_edits.set_back_m(lift)
        unit = min(lift.units, key=pads_from_m)
        x = min(float_places(unit), key=lambda place: place[1])[0]
        top, foot = self.plan.at(x, pads_from_m(unit)), self.plan.at(x, lift.site.edge_y_m)
        text = say("layout.to_edge", value=length(back, self.system, decimals=2).joined)
        if foot[1] - top[1] > 4.0:
            canvas.line(top, foot, INK, width=2.0)
        width = canvas.text_width(text, 24.0)
        # Away from the load, whose picks are taken hold of there.
        middle = foot[0] + (width / 2.0 + 14.0) * (1.0 if foot[0] > ABOVE.x + ABOVE.w / 2.0 else -1.0)
        canvas.box(middle - width / 2 - 8.0, foot[1] + 8.0, width + 16.0, 32.0, fill=PANEL, radius=6.0)
        canvas.text(text, middle, foot[1] + 32.0, 24.0, anchor="center")

    def _dimension(self, canvas: Canvas, start: Spot, end: Spot, text: str) -> None:
        canvas.line(start, end, INK, width=2.0)
        for x, y in (start, end):
            canvas.line((x, y - 8.0), (x, y + 8.0), INK, width=2.0)
        middle, width = (start[0] + end[0]) / 2.0, canvas.text_width(text, 24.0, weight="bold") + 20.0
        canvas.box(middle - width / 2, start[1] - 17.0, width, 34.0, fill=PANEL, edge=INK, edge_width=1.5, radius=6.0)
        canvas.text(text, middle, start[1] + 9.0, 24.0, weight="bold", anchor="center")

    def _wind(self, canvas: Canvas) -> None:
        wind = self.lift.site.wind
        x, y = ABOVE.right - 60.0, ABOVE.y + 132.0
        text = say("layout.no_wind")
        if wind.speed_mps > 0.0:
            dx, dy = self.plan.sign * cos(wind.toward_rad) * 26.0, -sin(wind.toward_rad) * 26.0
            canvas.disc(x, y, 34.0, fill=PANEL, edge=INK_2, edge_width=1.5)
            canvas.arrow((x - dx, y - dy), (x + dx, y + dy), INK, shaft=5.0, head=16.0)
            speed = wind.speed_mps if self.system == "metric" else wind.speed_mps / 0.44704
            unit = say("measure.meter_per_s" if self.system == "metric" else "measure.mile_per_h")
            text = say("layout.wind_said", speed=f"{speed:.0f} {unit}", gust=f"{100.0 * wind.gust_share:.0f} %")
            x -= 44.0
        else:
            x += 44.0
        width = canvas.text_width(text, 24.0)
        canvas.box(x - width - 8.0, y - 18.0, width + 12.0, 34.0, fill=PANEL, radius=6.0)
        canvas.text(text, x, y + 8.0, 24.0, anchor="right")

    def _across(self, canvas: Canvas, readings: Readings | None) -> None:
        self.kept.across.show(canvas, self.section.still, self.section.draw_still)
        with canvas.clip(*ACROSS):
            line = self.lift.site.overhead_line
            if line is not None:
                x, y = self.section.at(line.y_m, line.height_m)
                canvas.line((x - 26.0, y), (x + 26.0, y), INK, width=2.0)
                canvas.disc(x, y, 5.0, fill=INK)
                canvas.text(say_kilovolt(line.kilovolt), x, max(y, ACROSS.y + 16.0) + 38.0, 24.0, anchor="center")
        if readings is not None:
            self.section.draw_moving(canvas, readings)
        beyond = self.section.at(line.y_m, line.height_m)[0] + 40.0 if line is not None else ACROSS.x
        self._scale_bar(canvas, ACROSS, self.section.framing.scale, at_top=max(ACROSS.x, beyond))
        if place_edits.has_slope(self.lift):
            depth = length(place_edits.depth_m(self.lift), self.system, decimals=1).joined
            run = length(place_edits.run_m(self.lift), self.system, decimals=1).joined
            self._label(canvas, ACROSS, say("layout.down_and_out", down=depth, out=run), up=36.0)
        self._label(canvas, ACROSS, say("layout.across"))

    def _ravine(self, canvas: Canvas, readings: Readings | None) -> None:
        camera = self.camera
        bed = sorted(camera.to_scene(x, z) for x, z in bed_line(self.lift))
        shows = bed, self.lift.site, waits(self.lift), camera.frame, camera.sign
        self.kept.ravine.show(canvas, shows, lambda layer: self._ravine_ground(layer, bed))
        with canvas.clip(*RAVINE):
            for place, truck in enumerate(self.moving.trucks):
                self.kept.show_carrier(canvas, camera, place, truck)
            if readings is not None:
                self._moving(canvas, readings)
            self._heights(canvas)
        self._scale_bar(canvas, RAVINE, camera.scale)
        self._label(canvas, RAVINE, say("layout.ravine"))

    def _ravine_ground(self, canvas: Canvas, bed: list[Spot]) -> None:
        camera, region = self.camera, RAVINE
        canvas.rect(*region, SKY)
        road = camera.to_scene(0.0, 0.0)[1]
        canvas.rect(region.x, road, region.w, region.foot - road, SLOPE_TOP)
        canvas.polygon([*bed, (bed[-1][0], region.foot + 30.0), (bed[0][0], region.foot + 30.0)], BED)
        canvas.polyline(bed, BED_LINE, width=2.0)
        canvas.rect(region.x, road - 4.0, region.w, 4.0, TARMAC)
        canvas.rect(region.x, road, region.w, 3.0, INK_2)
        draw_beside(canvas, camera.to_scene, self.lift)
        draw_rail(canvas, camera, self.lift)

    def _moving(self, canvas: Canvas, readings: Readings) -> None:
        camera = self.camera
        sheaves = [camera.to_scene(line.tip_x_m, line.tip_z_m) for line in readings.lines]
        hooks = [camera.to_scene(line.hook_x_m, line.hook_z_m) for line in readings.lines]
        self.moving.follow(canvas, camera, readings, hooks)
        for place in range(len(self.moving.trucks)):
            self.moving.show_upper(canvas, place)
            self.moving.show_boom(canvas, place)
        for sheave, hook in zip(sheaves, hooks, strict=True):
            canvas.line(sheave, hook, INK, width=3.0)
        self.moving.show_load(canvas)

    def _heights(self, canvas: Canvas) -> None:
        """How high the load is carried and the tips are held; over the cabs, which stand where a load is carried."""
        lift, region = self.lift, RAVINE
        over_cabs = self.camera.to_scene(0.0, max(unit.cab_height_m for unit in lift.units))[1] - 20.0
        for z, key in (
            (lift.path.belly_over_road_m, "layout.belly_short"),
            (lift.path.tip_height_m, "layout.tips_short"),
        ):
            y = self.camera.to_scene(0.0, z)[1]
            canvas.dashed((region.x, y), (region.right, y), INK_2, width=1.5, dash=8.0, gap=8.0)
            text = say(key, value=length(z, self.system, decimals=1).joined)
            width = canvas.text_width(text, 24.0)
            at = min(y, over_cabs)
            if at < y:
                canvas.line((region.right - 9.0, at), (region.right - 9.0, y), INK_2, width=1.5)
            canvas.box(region.right - width - 18.0, at - 17.0, width + 12.0, 32.0, fill=PANEL, radius=6.0)
            canvas.text(text, region.right - 12.0, at + 8.0, 24.0, anchor="right")

    def _label(self, canvas: Canvas, region: Region, text: str, *, up: float = 0.0) -> None:
        width = canvas.text_width(text, 24.0, weight="medium")
        canvas.box(region.x + 6.0, region.foot - 40.0 - up, width + 16.0, 34.0, fill=PANEL, radius=6.0)
        canvas.text(text, region.x + 14.0, region.foot - 15.0 - up, 24.0, weight="medium", color=INK_2)

    def _scale_bar(self, canvas: Canvas, region: Region, scale: float, *, at_top: float = 0.0) -> None:
        """A bar of a round length, at the foot on the right; or at the top, from there on."""
        one = 1.0 if self.system == "metric" else METERS_PER_FOOT
        count = next((n for n in (1, 2, 5, 10, 20, 50) if n * one * scale >= 60.0), 100)
        long, x, y = count * one * scale, region.right - 18.0, region.foot - 14.0
        unit = say("measure.meter" if self.system == "metric" else "measure.foot")
        text = f"{count} {unit}"
        width = canvas.text_width(text, 24.0)
        if at_top:
            x, y = min(at_top + long + width + 24.0, region.right - 12.0), region.y + 34.0
        canvas.box(x - long - width - 20.0, y - 27.0, long + width + 30.0, 34.0, fill=PANEL, radius=6.0)
        canvas.rect(x - long, y - 7.0, long, 4.0, INK)
        for end in (x - long, x):
            canvas.rect(end - 1.5, y - 14.0, 3.0, 14.0, INK)
        canvas.text(text, x - long - 10.0, y - 1.0, 24.0, anchor="right")

    def _grip(self, canvas: Canvas, grip: Grip, named: list[Spot], *, is_chosen: bool) -> None:
        """A ring, larger in hand, with a dot or the heavy end's own mark; names of close lines stand on both sides."""
        x, y = self.spot(grip)
        radius = GRIP_RADIUS * (1.45 if is_chosen else 1.0)
        canvas.disc(x, y, radius, fill=PANEL, edge=INK, edge_width=4.0 if is_chosen else 3.0)
        one = "landing" if self.lift.landing.flat is None else "flat"  # there is room for one of their words
        if grip.key in ("edge", "lane", "line", one) and grip.view == "above":
            text = say(f"layout.grip_{grip.key}")
            width = canvas.text_width(text, 24.0, weight="medium")
            is_close = any(a == x and abs(b - y) < NAME_H for a, b in named)
            named.append((x, y))
            left = x - radius - width - 18.0 if is_close else x + radius + 6.0
            canvas.box(left, y - 17.0, width + 12.0, 33.0, fill=PANEL, radius=6.0)
            canvas.text(text, left + 6.0, y + 8.0, 24.0, weight="medium", color=INK_2)
        if grip.key == "heavy":
            canvas.line((x - radius * 0.7, y), (x + radius * 0.7, y), INK, width=3.0)
            canvas.line((x, y - radius * 0.7), (x, y + radius * 0.7), INK, width=3.0)
        else:
            canvas.disc(x, y, radius * 0.36, fill=INK)

    def _mark(self, canvas: Canvas, row: Row) -> None:
        """A ring round what governs, in each picture where it shows."""
        color: Color = STOP if row.level == "stop" else CAUTION if row.level == "caution" else INK
        x, y, z = row.mark_m
        for view, (u, v) in (("above", (x, y)), ("across", (y, z)), ("ravine", (x, z))):
            a, b = self.at(view, u, v)  # type: ignore[arg-type]
            region = REGIONS[view]  # type: ignore[index]
            if _holds(region, a, b):
                with canvas.clip(*region):
                    canvas.disc(a, b, 30.0, edge=INK, edge_width=8.0)
                    canvas.disc(a, b, 28.0, edge=color, edge_width=4.0)


def _holds(region: Region, x: float, y: float) -> bool:
    return region.x <= x < region.right and region.y <= y < region.foot

"""The side view in the inset's place: what the scene shows at other times, small, seen from the ravine."""

from __future__ import annotations

from collections.abc import Sequence

from simulator.mechanics.ground import ground, height_m
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import BED, BED_LINE, INK, SIDES, SKY, SLOPE_TOP, STEEL_DARK
from simulator.window.kit.regions import Region, screen_sign
from simulator.window.kit.seen import layout_of, seen_of
from simulator.window.scene.camera import Camera
from simulator.window.scene.flat_view import draw_beside
from simulator.window.scene.inset_section import FOOT, HEAD
from simulator.window.scene.load_view import LoadView
from simulator.window.scene.solids import Spot
from simulator.window.scene.trucks import Truck

ABOVE_TIP_M, BELOW_BED_M, SEEN_M = 1.0, 1.0, 13.5
"""Over the highest tip, under the lowest ground, and half of the road's length that is seen."""


class InsetCamera(Camera):
    """A view that stands still in a region."""

    def __init__(self, region: Region, *, scale: float, top_z_m: float, sign: float) -> None:
        super().__init__(sign=sign)
        self._region, self._scale, self._top_z_m = region, scale, top_z_m

    @property
    def scale(self) -> float:
        """Units per meter."""
        return self._scale

    def to_scene(self, x_m: float, z_m: float) -> Spot:
        """A point of the side view in design units."""
        region = self._region
        return region.x + region.w / 2.0 + self.sign * x_m * self._scale, region.y + (self._top_z_m - z_m) * self._scale


class SideInset:
    """Draws the small side view; ground and trucks are drawn once for a layer."""

    def __init__(self, description: Description) -> None:
        self.description = description
        self._rig, self._seen = rig_of(description), seen_of(description)
        self.region = layout_of(self._seen).section
        self.picture = Region(self.region.x, self.region.y + HEAD, self.region.w, self.region.h - HEAD - FOOT)
        self.camera = self._camera()
        self._trucks = tuple(
            Truck(unit, SIDES[self._seen.of(place).side]) for place, unit in enumerate(description.units)
        )
        self._load = LoadView(description.trailer, tuple(line.pick for line in self._rig.lines))

    def _ground(self) -> list[tuple[float, float]]:
        surface, y_m = ground(self.description.site), self.description.trailer.start.y_m
        return [(x / 2.0, height_m(surface, x / 2.0, y_m)) for x in range(-60, 61)]

    def _camera(self) -> InsetCamera:
        top = self.description.path.tip_height_m + ABOVE_TIP_M
        foot = min(-1.0, *(z for x, z in self._ground() if abs(x) <= SEEN_M)) - BELOW_BED_M
        scale = min(self.picture.w / (2.0 * SEEN_M), self.picture.h / (top - foot))
        return InsetCamera(self.picture, scale=scale, top_z_m=top, sign=screen_sign(self.description))

    def draw_still(self, canvas: Canvas) -> None:
        """Draws sky, road, bed and trucks."""
        picture, road = self.picture, self.camera.to_scene(0.0, 0.0)[1]
        canvas.rect(*picture, SKY)
        with canvas.clip(*picture):
            canvas.rect(picture.x, road, picture.w, picture.foot - road, SLOPE_TOP)
            line = [self.camera.to_scene(x, z) for x, z in self._ground()]
            canvas.polygon([*line, (line[-1][0], picture.foot + 4.0), (line[0][0], picture.foot + 4.0)], BED)
            canvas.polyline(line, BED_LINE, width=2.0)
            canvas.rect(picture.x, road - 1.5, picture.w, 3.0, STEEL_DARK)
            draw_beside(canvas, self.camera.to_scene, self.description)
            for truck in self._trucks:
                truck.draw_carrier(canvas, self.camera)

    def take(self, readings: Readings) -> tuple[Spot, ...]:
        """Units lean as these readings say; how each leans."""
        for truck, now in zip(self._trucks, readings.units, strict=True):
            truck.over.take(now)
        return tuple(truck.over.leans for truck in self._trucks)

    def draw_moving(self, canvas: Canvas, readings: Readings) -> None:
        """Draws load, lines and booms; what is on the road side is behind."""
        self.take(readings)
        with canvas.clip(*self.picture):
            for truck, unit in zip(self._trucks, readings.units, strict=True):
                truck.draw_upper(canvas, self.camera, unit)
            self._draw_booms(canvas, readings, behind=True)
            self._draw_load(canvas, readings)
            self._draw_booms(canvas, readings, behind=False)

    def _draw_booms(self, canvas: Canvas, readings: Readings, *, behind: bool) -> None:
        for truck, unit in zip(self._trucks, readings.units, strict=True):
            if truck.is_over_road(unit) is behind:
                truck.draw_boom(canvas, self.camera, unit)

    def _draw_load(self, canvas: Canvas, readings: Readings) -> None:
        hooks: Sequence[Spot] = [self.camera.to_scene(line.hook_x_m, line.hook_z_m) for line in readings.lines]
        for line, hook in zip(readings.lines, hooks, strict=True):
            canvas.line(self.camera.to_scene(line.tip_x_m, line.tip_z_m), hook, INK, width=2.0)
        self._load.draw(canvas, self._load.place(canvas, self.camera, readings.load), readings.load, hooks)

"""The two insets under the unit panels: a section across the slope and the plan from above."""

from __future__ import annotations

from math import cos, sin

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.kit import levels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import arrow_turn, icon
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.measures_shown import System, length, number
from simulator.window.kit.palette import INK, INK_2, PANEL
from simulator.window.kit.pieces import draw_marked
from simulator.window.kit.regions import Region, screen_sign
from simulator.window.scene.inset_plan import PlanView
from simulator.window.scene.inset_section import SectionView
from simulator.window.scene.inset_side import SideInset
from simulator.window.scene.solids import Spot
from simulator.words import say

REFRESH_S = 0.1
"""Simulated time between two figures."""
MPH_PER_MPS = 1.0 / 0.44704
"""Exact: NIST SP 811, App. B."""


class InsetFigures:
    """The two footers' values, let out ten times a second so that they can be read."""

    def __init__(self, description: Description, system: System) -> None:
        self._lane = levels.lane(description.limits)
        self._system: System = system
        self._time_s: float | None = None
        self.to_ground = Marked(length(0.0, system))
        self.to_lane = Marked(length(0.0, system))

    def follow(self, readings: Readings) -> None:
        """Takes readings; the figures change when it is their time, or when time was set back."""
        if self._time_s is not None and 0.0 <= readings.time_s - self._time_s < REFRESH_S:
            return
        self._time_s = readings.time_s
        load = readings.load
        level: Level = self._lane.level(load.lane_room_m, self.to_lane.level)
        self.to_ground = Marked(length(max(0.0, load.height_over_bed_m), self._system))
        self.to_lane = Marked(length(load.lane_room_m, self._system), level)


class Insets:
    """Draws both insets of one description; what stands still is kept as a layer."""

    def __init__(self, description: Description, *, system: System = "metric") -> None:
        self.description = description
        self.system: System = system
        self.section, self.plan = SectionView(description), PlanView(description)
        self.side = SideInset(description)
        self.figures = InsetFigures(description, system)
        self._kept: dict[str, tuple[tuple[object, ...], Canvas]] = {}

    def draw_section(self, canvas: Canvas, readings: Readings) -> None:
        """Draws the section across the slope, whole, footer and all."""
        self.figures.follow(readings)
        canvas.paste(self._layer(canvas, "section", self.section.take(readings)))
        self.section.draw_moving(canvas, readings)
        self._figure(canvas, self.section.region, self.figures.to_ground)

    def draw_side(self, canvas: Canvas, readings: Readings) -> None:
        """Draws the small side view in the section's place, footer and all."""
        self.figures.follow(readings)
        canvas.paste(self._layer(canvas, "side", self.side.take(readings)))
        self.side.draw_moving(canvas, readings)
        self._figure(canvas, self.side.region, self.figures.to_ground)

    def draw_plan(self, canvas: Canvas, readings: Readings) -> None:
        """Draws the plan from above, whole, footer and all."""
        self.figures.follow(readings)
        canvas.paste(self._layer(canvas, "plan"))
        self.plan.draw_moving(canvas, readings)
        self._figure(canvas, self.plan.region, self.figures.to_lane)

    def _figure(self, canvas: Canvas, region: Region, value: Marked) -> None:
        draw_marked(canvas, value, region.right - 16.0, region.foot - 14.0, 38.0, right=True)

    def _layer(self, canvas: Canvas, name: str, leans: tuple[Spot, ...] = ()) -> Canvas:
        """The still picture of one inset, made again when the canvas has changed, or while a unit goes over."""
        key = (canvas.f, canvas.ox, canvas.oy, *leans)
        kept = self._kept.get(name)
        if kept is None or kept[0] != key:
            region = self.plan.region if name == "plan" else self.section.region
            layer = canvas.layer(*region)
            self._draw_still(layer, region, name)
            kept = self._kept[name] = (key, layer)
        return kept[1]

    def _draw_still(self, layer: Canvas, region: Region, name: str) -> None:
        layer.rect(*region, PANEL)
        under = "load_to_ground" if self.description.landing.flat is None else "load_to_deck"
        label = say("inset.to_lane" if name == "plan" else f"inset.{under}")
        title = say("turn.side" if name == "side" else f"inset.{name}")
        layer.text(title, region.x + 16.0, region.y + 32.0, 26.0, weight="medium", color=INK_2)
        layer.text(label, region.x + 16.0, region.foot - 16.0, 26.0, weight="medium", color=INK_2, width=190.0)
        if name == "section":
            self.section.draw_still(layer)
        elif name == "side":
            self.side.draw_still(layer)
        else:
            self.plan.draw_still(layer)
            self._draw_wind(layer, region)

    def _draw_wind(self, layer: Canvas, region: Region) -> None:
        """The scenario's steady wind at the head of the plan: which way it blows, and how fast."""
        wind = self.description.site.wind
        if wind.speed_mps <= 0.0:
            return
        speed = wind.speed_mps if self.system == "metric" else wind.speed_mps * MPH_PER_MPS
        unit = say("measure.meter_per_s" if self.system == "metric" else "measure.mile_per_h")
        text = f"{number(speed, 0)} {unit}"
        width = layer.text(text, region.right - 16.0, region.y + 32.0, 26.0, color=INK, anchor="right")
        turn = arrow_turn(screen_sign(self.description) * cos(wind.toward_rad), -sin(wind.toward_rad))
        icon(layer, "arrow", region.right - 36.0 - width, region.y + 24.0, 26.0, turn_deg=turn)

"""The section large, in the scene's place: load, slings, lines and decks across the road, road on the left."""

from __future__ import annotations

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System, length
from simulator.window.kit.palette import INK, INK_2, PANEL, RULE, SIDES, SKY, STOP
from simulator.window.kit.pieces import draw_key
from simulator.window.kit.regions import SCENE
from simulator.window.kit.seen import seen_of
from simulator.window.scene.inset_section import Framing, SectionView
from simulator.window.scene.solids import Spot
from simulator.words import say

SIDE_ROOM = 304.0
"""Kept free at either side of the scene: roses, tags and boards stand there."""
HEAD_ROOM, GROUND_ROOM = 20.0, 176.0
"""Over the tips; at the foot, where the gauge stands."""
LEAST_SCALE, MOST_SCALE = 18.0, 64.0
DECKS_M, BESIDE_LOAD_M, UNDER_LOAD_M, OVER_TIPS_M = 3.9, 3.2, 0.8, 0.6
SAME_SCALE, SAME_M = 0.08, 0.8
"""A picture that is off by less stays as it is: the ground is not drawn anew for it."""


class TurnView:
    """Draws the large section; what stands still is kept until the picture moves."""

    def __init__(self, description: Description, system: System = "metric") -> None:
        self.description, self.system = description, system
        self._rig, self._seen = rig_of(description), seen_of(description)
        self.section = SectionView(description, picture=SCENE)
        self._aimed = False
        self._kept: tuple[tuple[object, ...], Canvas] | None = None

    def wanted(self, readings: Readings) -> Framing:
        """All of the load, the decks, the tips, and the live lane while the load is over the road."""
        load, site = readings.load, self.description.site
        low_y = min(-DECKS_M, load.y_m - BESIDE_LOAD_M)
        high_y = max(DECKS_M, load.y_m + BESIDE_LOAD_M, min(site.live_lane_y_m + 0.6, load.y_m + 6.4))
        top_z = max(unit.tip_z_m for unit in readings.units) + OVER_TIPS_M
        low_z = min(-0.4, load.height_over_road_m - UNDER_LOAD_M)
        across, high = SCENE.w - 2.0 * SIDE_ROOM, SCENE.h - HEAD_ROOM - GROUND_ROOM
        scale = min(MOST_SCALE, max(LEAST_SCALE, min(across / (high_y - low_y), high / (top_z - low_z))))
        return Framing(scale, top_z + HEAD_ROOM / scale, (low_y + high_y) / 2.0)

    def _aim(self, readings: Readings) -> None:
        """Takes the wanted framing once the present one no longer serves; it jumps, and then stands still."""
        new, now = self.wanted(readings), self.section.framing
        is_off = abs(new.scale - now.scale) > SAME_SCALE * now.scale
        is_off |= max(abs(new.top_z_m - now.top_z_m), abs(new.middle_y_m - now.middle_y_m)) > SAME_M
        if is_off or not self._aimed:
            self.section.framing, self._aimed = new, True

    def draw(self, canvas: Canvas, readings: Readings) -> None:
        """Draws one frame over the whole scene."""
        self._aim(readings)
        with canvas.clip(*SCENE):
            canvas.paste(self._still(canvas, self.section.take(readings)))
            self.section.draw_moving(canvas, readings)
            self._draw_numbers(canvas, readings)
            self._draw_lowest(canvas, readings)

    def _still(self, canvas: Canvas, leans: tuple[Spot, ...]) -> Canvas:
        key = (self.section.framing, canvas.f, canvas.ox, canvas.oy, *leans)
        if self._kept is None or self._kept[0] != key:
            layer = canvas.layer(*SCENE)
            layer.rect(*SCENE, SKY)
            self.section.draw_still(layer)
            self._draw_lane(layer)
            self._draw_words(layer)
            self._kept = key, layer
        return self._kept[1]

    def _draw_lane(self, canvas: Canvas) -> None:
        """The live lane's line, dashed, with its words."""
        y_m = self.description.site.live_lane_y_m
        x, road = self.section.at(y_m, 0.0)
        if SCENE.x < x < SCENE.right:
            top = self.section.at(y_m, 4.0)[1]
            canvas.dashed((x, top), (x, road), STOP, width=4.0, dash=14.0, gap=9.0)
            words = say("turn.lane")
            width = canvas.text_width(words, 24.0) + 12.0
            canvas.box(x - width / 2.0, top - 34.0, width, 30.0, fill=PANEL, edge=RULE, radius=6.0)
            canvas.text(words, x, top - 12.0, 24.0, anchor="center")

    def _draw_words(self, canvas: Canvas) -> None:
        """What is seen, and the key that swaps the views."""
        x, y = SCENE.x + 16.0, SCENE.y
        canvas.text(say("turn.across"), x, y + 34.0, 26.0, weight="medium", color=INK_2, width=280.0)
        width = draw_key(canvas, say("key.f3"), x, y + 46.0)
        canvas.text(say("turn.swap"), x + width + 12.0, y + 72.0, 26.0, weight="medium", color=INK_2, width=220.0)

    def _draw_numbers(self, canvas: Canvas, readings: Readings) -> None:
        """Which line is which, on those of the nearer unit."""
        near = self._rig.units[0]
        if len(near.lines) < 2:
            return
        side = SIDES[self._seen.of(near.place).side]
        for line in near.lines:
            now = readings.lines[line.place]
            (ax, ay), (bx, by) = (
                self.section.at(now.tip_y_m, now.tip_z_m), self.section.at(now.hook_y_m, now.hook_z_m)
            )  # fmt: skip
            x, y = ax + 0.5 * (bx - ax), ay + 0.5 * (by - ay)
            canvas.disc(x, y, 17.0, fill=PANEL, edge=side.main, edge_width=3.0)
            canvas.digits(str(line.number), x, y + 9.5, 26.0, color=side.dark, anchor="center")

    def _draw_lowest(self, canvas: Canvas, readings: Readings) -> None:
        """The figure beside the arrow from the load's lowest place to the ground under it."""
        load = readings.load
        y_m, z_m = self.section.nearest_ground(load)
        x, y = self.section.at(y_m, z_m - load.height_over_bed_m / 2.0)
        if load.height_over_bed_m * self.section.framing.scale > 40.0:
            text = length(load.height_over_bed_m, self.system, decimals=2).joined
            width = canvas.text_width(text, 26.0, weight="bold") + 14.0
            canvas.box(x + 12.0, y - 18.0, width, 34.0, fill=PANEL, edge=INK, radius=6.0)
            canvas.text(text, x + 19.0, y + 8.0, 26.0, weight="bold")

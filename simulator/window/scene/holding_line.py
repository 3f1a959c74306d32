"""The holding line in the side view: from its anchor on the bank to the load, with what it pulls and the key."""

from __future__ import annotations

from simulator.readings import Readings
from simulator.scenario.site import HoldingLine
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System, load
from simulator.window.kit.palette import INK, PANEL, RULE, STEEL
from simulator.window.kit.regions import SCENE
from simulator.window.scene.camera import Camera
from simulator.window.scene.load_view import Poser
from simulator.words import say

WIDTH = 4.0
LIFTED = 22.0
"""Its words stand so far over its anchor."""


def draw_holding_line(canvas: Canvas, camera: Camera, line: HoldingLine, poser: Poser, readings: Readings) -> None:
    """Draws line and anchor; dashed where it pulls nothing."""
    at = poser.pose(readings.load).world(line.at_m)
    anchor, fast = camera.to_scene(line.anchor_m[0], line.anchor_m[2]), camera.to_scene(at[0], at[2])
    if readings.load.holding_line_N > 0.0:
        canvas.line(anchor, fast, INK, width=WIDTH)
    else:
        canvas.dashed(anchor, fast, INK, width=2.0, dash=12.0, gap=8.0)
    for (px, py), radius in ((anchor, 11.0), (fast, 7.0)):
        canvas.disc(px, py, radius, fill=STEEL, edge=INK, edge_width=2.0)


def draw_holding_words(canvas: Canvas, camera: Camera, line: HoldingLine, readings: Readings, system: System) -> None:
    """Draws over its anchor what it pulls, and the key that lets it out."""
    x, y = camera.to_scene(line.anchor_m[0], line.anchor_m[2])
    pull_N = readings.load.holding_line_N
    words = say("holding.pulls", pull=load(pull_N, system).joined) if pull_N > 0.0 else say("holding.slack")
    width = canvas.text_width(words, 24.0) + 16.0
    left = min(max(x - width / 2.0, SCENE.x + 8.0), SCENE.right - width - 60.0)
    top = min(max(y - LIFTED - 32.0, SCENE.y + 8.0), SCENE.foot - 44.0)
    canvas.box(left, top, width, 32.0, fill=PANEL, edge=RULE, radius=6.0)
    canvas.text(words, left + width / 2.0, top + 24.0, 24.0, color=INK, anchor="center")

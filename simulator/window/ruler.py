"""The height ruler on the scene's right edge: a tick each metre, words each five, and the belly's own mark."""

from __future__ import annotations

from math import ceil, floor

from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.layout import SCENE
from simulator.window.measures_shown import METRES_PER_FOOT, System, number
from simulator.window.palette import INK, INK_2, PANEL
from simulator.words import say

TICK, LONG_TICK = 12.0, 22.0
TOP_ROOM = 250.0
"""Units at the scene's top left free of ticks: the roses stand there."""
STEPS: dict[System, tuple[float, int]] = {"metric": (1.0, 5), "us": (METRES_PER_FOOT * 2.0, 5)}
"""Metres from tick to tick, and how many ticks from word to word."""
WORDS_PER_TICK: dict[System, int] = {"metric": 1, "us": 2}


def marks(camera: Camera, system: System = "metric") -> list[tuple[float, str]]:
    """(y in design units, word or nothing) of every tick in the scene."""
    step_m, long = STEPS[system]
    top = camera.to_world(SCENE.right, SCENE.y + TOP_ROOM)[1]
    foot = camera.to_world(SCENE.right, SCENE.foot - 14.0)[1]
    rows = []
    for n in range(ceil(foot / step_m), floor(top / step_m) + 1):
        word = "" if n % long else number(n * WORDS_PER_TICK[system], 0, signed=True) if n else say("inset.road")
        rows.append((camera.to_scene(0.0, n * step_m)[1], word))
    return rows


def draw_ruler(canvas: Canvas, camera: Camera, system: System = "metric") -> None:
    """Draws the ticks and words."""
    for y, word in marks(camera, system):
        length = LONG_TICK if word else TICK
        canvas.line((SCENE.right - length, y), (SCENE.right, y), INK_2, width=2.0)
        if word == say("inset.road"):
            # The road's own line runs there: the word needs a ground of its own.
            width = canvas.text_width(word, 24.0)
            canvas.box(SCENE.right - 36.0 - width, y - 14.0, width + 12.0, 28.0, fill=PANEL, radius=6.0)
        if word:
            canvas.text(word, SCENE.right - 30.0, y + 8.0, 24.0, colour=INK_2, anchor="right")


def draw_belly_mark(canvas: Canvas, camera: Camera, height_m: float) -> None:
    """Draws where the load's lowest point stands on the ruler."""
    y = camera.to_scene(0.0, height_m)[1]
    if SCENE.y + TOP_ROOM < y < SCENE.foot - 4.0:
        x = SCENE.right - 3.0
        canvas.polygon([(x, y), (x - 17.0, y - 9.0), (x - 17.0, y + 9.0)], INK, edge=PANEL, edge_width=1.5)

"""The three explaining panels of the help screen: gamepad, plumb rose, shapes."""

from __future__ import annotations

from math import cos, pi, sin

from simulator.scenario.description import Limits
from simulator.window import measures_shown as shown
from simulator.window.board import loose_tile
from simulator.window.canvas import Canvas, Spot
from simulator.window.icons import icon
from simulator.window.palette import INK, INK_2, PANEL, RULE, SOIL_MARK, STEEL, STEEL_LIGHT, WASH
from simulator.window.rose import RoseLook, draw_rose
from simulator.window.thresholds import Level
from simulator.words import say

TOP, HEIGHT, WIDTH = 572.0, 440.0, 592.0
PAD_OUTLINE: tuple[Spot, ...] = (
    (143, 123), (450, 123), (493, 169), (502, 275), (470, 294),
    (400, 233), (193, 233), (138, 294), (90, 275), (100, 169),
)  # fmt: skip
LEFT_STICK, RIGHT_STICK, BUTTON = (200.0, 182.0), (392.0, 182.0), (296.0, 198.0)


def _panel(canvas: Canvas, x: float, title: str) -> None:
    canvas.box(x, TOP, WIDTH, HEIGHT, fill=PANEL, edge=RULE, radius=8.0)
    canvas.text(title, x + 28.0, TOP + 46.0, 34.0, weight="bold", width=WIDTH - 56.0)


def draw_gamepad_panel(canvas: Canvas, x: float) -> None:
    """The gamepad, drawn, with what its sticks and buttons do."""
    _panel(canvas, x, say("help.gamepad"))
    for left in (128.0, 368.0):
        canvas.box(x + left, TOP + 98.0, 96.0, 40.0, fill=STEEL, edge=INK, radius=8.0)
    canvas.polygon([(x + a, TOP + b) for a, b in PAD_OUTLINE], STEEL_LIGHT, edge=INK, edge_width=2.5)
    for a, b in (LEFT_STICK, RIGHT_STICK):
        canvas.disc(x + a, TOP + b, 37.0, fill=PANEL, edge=INK, edge_width=2.5)
        canvas.disc(x + a, TOP + b, 17.0, fill=INK)
    canvas.disc(x + BUTTON[0], TOP + BUTTON[1], 20.0, fill=INK)
    canvas.text(say("help.retract"), x + 32.0, TOP + 102.0, 26.0, width=92.0)
    canvas.text(say("help.extend"), x + WIDTH - 32.0, TOP + 102.0, 26.0, anchor="right", width=92.0)
    _pad_leaders(canvas, x)
    canvas.text(say("help.stop"), x + 296.0, TOP + 300.0, 26.0, anchor="centre", width=200.0)
    canvas.text(say("help.slew_and_boom"), x + 28.0, TOP + 354.0, 26.0, width=250.0)
    canvas.text(say("help.line"), x + WIDTH - 28.0, TOP + 354.0, 26.0, anchor="right", width=250.0)
    canvas.text(say("help.shoulder"), x + 296.0, TOP + 406.0, 26.0, weight="medium", colour=INK_2, anchor="centre")


def _pad_leaders(canvas: Canvas, x: float) -> None:
    for (a, b), end in ((LEFT_STICK, 100.0), (RIGHT_STICK, 492.0)):
        path = [(x + a, TOP + b + 20.0), (x + a, TOP + 302.0), (x + end, TOP + 302.0), (x + end, TOP + 326.0)]
        canvas.polyline(path, INK, width=2.0)
    canvas.line((x + BUTTON[0], TOP + BUTTON[1] + 20.0), (x + BUTTON[0], TOP + 274.0), INK, width=2.0)


def draw_rose_panel(canvas: Canvas, x: float, limits: Limits) -> None:
    """The rose with a hook off plumb, and what centre, dot and arrow are."""
    _panel(canvas, x, say("help.rose"))
    trail = tuple((-1.9 + 0.85 * cos(n * pi / 12), 1.35 + 0.5 * sin(n * pi / 12 + 0.9)) for n in range(25))
    look = RoseLook((-1.9, 1.35), (-1.9, 1.35), trail, Level.CAUTION, slack=False)
    draw_rose(canvas, 0, x + 150.0, TOP + 196.0, 112.0, look, limits)
    rows = (("centre_mark", "centre_words"), ("dot", "dot_words"), ("arrow", "arrow_words"))
    for index, (head, words) in enumerate(rows):
        y = TOP + 116.0 + 78.0 * index
        canvas.text(say(f"help.{head}"), x + 296.0, y, 28.0, weight="bold", width=270.0)
        canvas.text(say(f"help.{words}"), x + 296.0, y + 33.0, 26.0, weight="medium", colour=INK_2, width=270.0)
    values = {
        "plumb": limits.plumb_rad,
        "caution": limits.off_plumb_caution_rad,
        "stop": limits.off_plumb_stop_rad,
    }
    texts = {name: shown.angle(value, decimals=0).joined for name, value in values.items()}
    canvas.text(say("help.rings", **texts), x + 28.0, TOP + 368.0, 26.0, width=WIDTH - 56.0)
    canvas.text(say("help.lies"), x + 28.0, TOP + 406.0, 26.0, weight="medium", colour=INK_2, width=WIDTH - 56.0)


def draw_shapes_panel(canvas: Canvas, x: float) -> None:
    """Tick, triangle, octagon, loose tile, thick edge."""
    _panel(canvas, x, say("help.shapes"))
    for index, (name, word) in enumerate((("tick", "tick"), ("caution", "triangle"), ("stop", "octagon"))):
        y = TOP + 92.0 + 72.0 * index
        icon(canvas, name, x + 60.0, y, 50.0)  # type: ignore[arg-type]
        _words(canvas, x + 112.0, y, word)
    y = TOP + 314.0
    canvas.box(x + 28.0, y - 25.0, 122.0, 54.0, fill=WASH, edge=INK_2, radius=6.0)
    canvas.hatch(x + 31.0, y - 22.0, 116.0, 48.0, SOIL_MARK)
    tile = loose_tile("0.9", "", Level.CAUTION, False, canvas.f)
    px, py = canvas.to_px(x + 89.0, y - 7.0)
    canvas.surface.blit(tile, tile.get_rect(center=(round(px), round(py))))
    _words(canvas, x + 176.0, y, "loose")
    y = TOP + 388.0
    canvas.box(x + 28.0, y - 27.0, 122.0, 54.0, fill=PANEL, edge=INK, edge_width=4.0, radius=6.0)
    canvas.digits("4.3", x + 89.0, y + 14.0, 40.0, anchor="centre")
    _words(canvas, x + 176.0, y, "thick")


def _words(canvas: Canvas, x: float, y: float, word: str) -> None:
    room = WIDTH - (x - 1280.0) - 24.0
    canvas.text(say(f"help.{word}"), x, y - 4.0, 28.0, weight="bold", width=room)
    canvas.text(say(f"help.{word}_words"), x, y + 28.0, 26.0, weight="medium", colour=INK_2, width=room)

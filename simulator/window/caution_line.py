"""The foot of every screen: the safety line, and the keys that work here."""

from __future__ import annotations

from simulator.window.canvas import Canvas
from simulator.window.layout import CAUTION_LINE
from simulator.window.palette import INK, PANEL
from simulator.window.pieces import draw_flat_key
from simulator.words import say

BETWEEN = 20.0
DRIVE_KEYS = (("key.space", "key.stop_both"), ("key.escape", "key.pause"), ("key.f1", "key.keys"))


def draw_caution_line(canvas: Canvas, keys: tuple[tuple[str, str], ...] = DRIVE_KEYS, *, left: float = 24.0) -> None:
    """Draws the line; `keys` are pairs of word keys (cap, what it does), set from the right edge."""
    canvas.rect(*CAUTION_LINE, INK)
    places = key_places(canvas, keys, left=left)
    start = places[0][0] if places else 1920.0 - left
    text, room = say("program.caution"), start - left - 16.0
    if canvas.text_width(text, 24.0, weight="medium") > room:
        text = say("program.caution_short")
    canvas.text(text, left, 1066.0, 24.0, weight="medium", colour=PANEL, width=room)
    for (cap, does), (x, _) in zip(keys, places, strict=True):
        cap_width = draw_flat_key(canvas, say(cap), x, 1045.0)
        canvas.text(say(does), x + cap_width + 8.0, 1066.0, 24.0, colour=PANEL)


def key_places(canvas: Canvas, keys: tuple[tuple[str, str], ...], *, left: float) -> list[tuple[float, float]]:
    """Left edge and width of each key with its words, for the mouse too."""
    widths = [
        canvas.text_width(say(cap), 24.0, weight="bold") + 26.0 + canvas.text_width(say(does), 24.0)
        for cap, does in keys
    ]
    x = 1920.0 - left - sum(widths) - BETWEEN * (len(keys) - 1)
    places = []
    for width in widths:
        places.append((x, width))
        x += width + BETWEEN
    return places

"""A card that says how far a re-run is."""

from __future__ import annotations

from simulator.window.canvas import Canvas
from simulator.window.palette import INK, INK_2, PANEL, WASH
from simulator.window.pieces import draw_key
from simulator.words import say


def draw_progress(canvas: Canvas, share: float) -> None:
    """Draws the card in the middle; `share` is 0 to 1."""
    x, y, w, h = 560.0, 400.0, 800.0, 250.0
    canvas.box(x, y, w, h, fill=PANEL, edge=INK, radius=10.0)
    canvas.text(say("debrief.going_there"), x + 40.0, y + 72.0, 40.0, weight="bold", width=w - 80.0)
    canvas.text(say("debrief.going_words"), x + 40.0, y + 114.0, 26.0, weight="medium", colour=INK_2, width=w - 80.0)
    canvas.box(x + 40.0, y + 140.0, w - 80.0, 30.0, fill=WASH, edge=INK, radius=6.0)
    canvas.rect(x + 44.0, y + 144.0, (w - 88.0) * min(1.0, max(0.0, share)), 22.0, INK)
    canvas.digits(f"{100.0 * share:.0f} %", x + 40.0, y + 218.0, 34.0)
    words = canvas.text(say("debrief.break_off"), x + w - 40.0, y + 218.0, 28.0, weight="bold", anchor="right")
    draw_key(canvas, say("key.escape"), x + w - 40.0 - words - 84.0, y + 190.0, height=40.0)

"""Five columns, one for each named part: its number, clearance and word."""

from __future__ import annotations

from simulator.window.canvas import Canvas, Weight
from simulator.window.icons import icon
from simulator.window.layout import CLEARANCE
from simulator.window.looks import PartLook
from simulator.window.palette import CAUTION_TINT, INK, INK_2, PANEL, RULE, STOP
from simulator.window.pieces import draw_level, draw_value, value_width
from simulator.window.thresholds import Level
from simulator.words import say

GROUNDS = {Level.GOOD: PANEL, Level.CAUTION: CAUTION_TINT, Level.STOP: STOP}
TO_RAISE, CANNOT_RAISE = "strip.to_raise", "strip.cannot_raise"
WORDS = {Level.GOOD: "strip.clears", Level.CAUTION: "strip.close", Level.STOP: "strip.not_clear"}


def draw_clearance_strip(canvas: Canvas, looks: tuple[PartLook, ...]) -> None:
    """Draws the columns over the whole strip's width."""
    canvas.rect(*CLEARANCE, PANEL)
    if not looks:
        canvas.text(say("strip.none"), CLEARANCE.x + CLEARANCE.w / 2, 964.0, 28.0, colour=INK_2, anchor="centre")
        return
    width = CLEARANCE.w / len(looks)
    for index, look in enumerate(looks):
        x = CLEARANCE.x + index * width
        _column(canvas, x, width, look)
        if index and GROUNDS[look.level] == GROUNDS[looks[index - 1].level] == PANEL:
            canvas.rect(x - 1.0, CLEARANCE.y + 14.0, 2.0, CLEARANCE.h - 28.0, RULE)


def _column(canvas: Canvas, x: float, width: float, look: PartLook) -> None:
    middle = x + width / 2
    ground = GROUNDS[look.level]
    if ground != PANEL:
        canvas.rect(x, CLEARANCE.y, width, CLEARANCE.h, ground)
    ink = PANEL if look.level is Level.STOP else INK
    label_ink = PANEL if look.level is Level.STOP else INK if look.level is Level.CAUTION else INK_2
    weight: Weight = "medium" if look.level is Level.GOOD else "semibold"
    name = f"{look.number} {look.part}"
    canvas.text(name, middle, 916.0, 26.0, weight=weight, colour=label_ink, anchor="centre", width=width - 12.0)
    size = 46.0 if width > 150.0 else 40.0
    left = middle - value_width(canvas, look.value, size, 30.0, 6.0) / 2
    draw_value(canvas, look.value, left, 966.0, size, unit_size=30.0, colour=ink, unit_colour=label_ink)
    _word(canvas, middle, width, look)


def _word(canvas: Canvas, middle: float, width: float, look: PartLook) -> None:
    word = say(CANNOT_RAISE if look.cannot_raise else TO_RAISE if look.to_raise else WORDS[look.level])
    ink = PANEL if look.level is Level.STOP else INK
    word, size = canvas.fitted(word, 26.0, width - 46.0, weight="bold")
    total = 36.0 + canvas.text_width(word, size, weight="bold")
    at = middle - total / 2
    if look.to_raise and not look.cannot_raise:
        icon(canvas, "arrow", at + 14.0, 1004.0, 28.0, turn_deg=-90)
    elif look.level is Level.GOOD:
        icon(canvas, "tick", at + 13.0, 1004.0, 26.0)
    elif look.level is Level.STOP:
        icon(canvas, "stop", at + 13.0, 1004.0, 28.0, fill=PANEL, mark=STOP)
    else:
        draw_level(canvas, look.level, at + 13.0, 1003.0, 30.0)
    canvas.text(word, at + 36.0, 1013.0, size, weight="bold", colour=ink)

"""The load's readouts: pitch, sway, period, height."""

from __future__ import annotations

from simulator.window.canvas import Canvas
from simulator.window.layout import LOAD_TABLE
from simulator.window.looks import Marked, TableLook
from simulator.window.measures_shown import NONE
from simulator.window.palette import INK_2, PANEL
from simulator.window.pieces import draw_level, draw_value
from simulator.words import say

FIRST_LINE, LINE = 918.0, 33.0
VALUE_RIGHT, UNIT_LEFT = 682.0, 686.0


def draw_load_table(canvas: Canvas, look: TableLook) -> None:
    """Draws the table of four lines."""
    canvas.rect(*LOAD_TABLE, PANEL)
    rows = (
        ("table.pitch", look.way, look.pitch),
        ("table.sway", say("table.each_way") if look.sway.value.text != NONE else "", look.sway),
        ("table.period", "", Marked(look.period)),
        ("table.height", say("table.over_road"), Marked(look.height)),
    )
    for index, (label, words, marked) in enumerate(rows):
        _row(canvas, FIRST_LINE + index * LINE, say(label), words, marked)


def _row(canvas: Canvas, y: float, label: str, words: str, marked: Marked) -> None:
    width = canvas.text(label, LOAD_TABLE.x + 20.0, y, 26.0, weight="medium", colour=INK_2, width=120.0)
    if words:
        canvas.text(words, LOAD_TABLE.x + 29.0 + width, y, 26.0, weight="medium", colour=INK_2, width=130.0)
    value = marked.value
    text_width = canvas.text_width(value.text, 34.0, weight="bold", digits=True)
    draw_value(canvas, value, VALUE_RIGHT - text_width, y, 34.0, gap=UNIT_LEFT - VALUE_RIGHT + 2.0)
    draw_level(canvas, marked.level, VALUE_RIGHT - text_width - 20.0, y - 11.0, 26.0)

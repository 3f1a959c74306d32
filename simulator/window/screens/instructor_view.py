"""The instructor's panel, drawn: two columns of rows, the chosen one dark, amounts between two arrows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from simulator.window.canvas import Canvas
from simulator.window.caution_line import draw_caution_line
from simulator.window.icons import icon
from simulator.window.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE
from simulator.window.pieces import draw_key
from simulator.words import say

if TYPE_CHECKING:
    from simulator.window.screens.instructor import InstructorPanel

X, Y, W, H = 184.0, 136.0, 1552.0, 884.0
COLUMNS = ((X + 40.0, 620.0), (X + 700.0, 812.0))
TOP, ROW_H, PITCH = Y + 192.0, 68.0, 78.0
AMOUNT_W = 440.0
FOOT = (("key.up_down", "instructor.choose"), ("key.left_right", "instructor.amount"),
        ("key.tab", "instructor.column"), ("key.enter", "instructor.do"), ("key.escape", "key.back"))  # fmt: skip


def draw_instructor(canvas: Canvas, panel: InstructorPanel) -> None:
    """Draws all of it and remembers its places for the mouse."""
    panel.spots.clear()
    canvas.box(X, Y, W, H, fill=PANEL, edge=INK, radius=10.0)
    canvas.text(say("instructor.title"), X + 40.0, Y + 64.0, 46.0, weight="bold", width=W - 80.0)
    canvas.text(say("instructor.words"), X + 40.0, Y + 104.0, 28.0, weight="medium", colour=INK_2, width=W - 80.0)
    row = 0
    for (x, w), words, column in zip(COLUMNS, ("instructor.lesson", "instructor.into"), panel.columns, strict=True):
        canvas.text(say(words), x, TOP - 24.0, 30.0, weight="bold", width=w)
        for place in range(len(column)):
            _draw_row(canvas, panel, row, x, TOP + place * PITCH, w)
            row += 1
    if panel.refused:
        y = TOP + 7 * PITCH + 8.0
        canvas.box(X + 40.0, y, W - 80.0, 52.0, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
        icon(canvas, "caution", X + 74.0, y + 25.0, 32.0)
        canvas.text(panel.refused, X + 102.0, y + 35.0, 26.0, weight="bold", width=W - 164.0)
    _draw_foot(canvas)
    draw_caution_line(canvas, FOOT[-2:])


def _draw_row(canvas: Canvas, panel: InstructorPanel, row: int, x: float, y: float, w: float) -> None:
    is_chosen, act = row == panel.chosen, panel.rows[row]
    if is_chosen:
        canvas.box(x - 6.0, y - 6.0, w + 12.0, ROW_H + 12.0, fill=PANEL, edge=INK, edge_width=4.0, radius=12.0)
    ground, ink = (INK, PANEL) if is_chosen else (PANEL, INK)
    canvas.box(x, y, w, ROW_H, fill=ground, edge=INK if is_chosen else RULE, radius=8.0)
    panel.spots.add(x, y, w, ROW_H, (row, 0))
    amount = panel.amount_shown(row)
    room = (w - AMOUNT_W if act.scale is not None else 330.0) if amount else w - 40.0
    canvas.text(say(f"instructor.{act.name}"), x + 22.0, y + 44.0, 28.0, weight="bold", colour=ink, width=room - 20.0)
    if not amount:
        return
    left, right = x + room + 10.0, x + w - 12.0
    for at, turn, by in ((left + 18.0, 180, -1), (right - 18.0, 0, 1)):
        icon(canvas, "arrow", at, y + ROW_H / 2.0, 28.0, fill=ink, turn_deg=turn)
        panel.spots.add(at - 26.0, y, 52.0, ROW_H, (row, by))
    canvas.text(amount, (left + right) / 2.0, y + 44.0, 28.0, weight="bold", colour=ink, anchor="centre",
                width=right - left - 84.0)  # fmt: skip


def _draw_foot(canvas: Canvas) -> None:
    """The keys that work here."""
    canvas.rect(X + 40.0, Y + H - 76.0, W - 80.0, 2.0, RULE)
    left = X + 40.0
    for cap, does in FOOT:
        left += draw_key(canvas, say(cap), left, Y + H - 58.0, height=38.0) + 10.0
        left += canvas.text(say(does), left, Y + H - 30.0, 26.0, weight="bold") + 36.0

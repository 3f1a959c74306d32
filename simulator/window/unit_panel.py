"""One unit's readouts: line tension, share, capacity, boom, head room, rope."""

from __future__ import annotations

from simulator.window.canvas import Canvas
from simulator.window.icons import badge, icon
from simulator.window.layout import UNIT_PANELS
from simulator.window.looks import PanelLook
from simulator.window.palette import CAUTION, INK, INK_2, PANEL, RULE, SIDES, STOP, WASH
from simulator.window.pieces import draw_level, draw_marked, draw_pill, draw_value, value_width
from simulator.window.thresholds import Level
from simulator.words import say

BAR_FULL = 1.1
"""Share of capacity at the bar's right end."""
SIZES = (92.0, 86.0, 80.0, 74.0, 68.0, 60.0)
"""Of the line tension: the largest that keeps clear of the share."""
APART = 16.0
NAMES = ("unit.left", "unit.right")


def draw_unit_panel(canvas: Canvas, side: int, look: PanelLook, *, marks: tuple[float, float]) -> None:
    """Draws the whole panel of the unit seen on `side`; `marks` are capacity's caution and stop."""
    region = UNIT_PANELS[side]
    left, right = region.x + 20.0, region.right - 20.0
    canvas.rect(*region, PANEL)
    _head(canvas, side, look)
    _tension(canvas, left, right, look)
    canvas.rect(left, 324.0, right - left, 2.0, RULE)
    _capacity(canvas, side, left, right, look, marks)
    canvas.rect(left, 460.0, right - left, 2.0, RULE)
    _boom(canvas, left, look)
    canvas.rect(left, 566.0, right - left, 2.0, RULE)
    _rope(canvas, left, look)


def _head(canvas: Canvas, side: int, look: PanelLook) -> None:
    region, ground = UNIT_PANELS[side], SIDES[side].main
    canvas.rect(region.x, region.y, region.w, 56.0, ground)
    badge(canvas, side, region.x + 31.0, 156.0, 38.0, inverse=True)
    canvas.text(
        say(NAMES[side]), region.x + 62.0, 168.0, 34.0, weight="bold", colour=PANEL, width=region.w - 62.0 - 112.0
    )
    draw_pill(canvas, look.state, region.right - 104.0, 138.0, 92.0, filled=look.is_moving, ground=ground)


def _tension(canvas: Canvas, left: float, right: float, look: PanelLook) -> None:
    canvas.text(say("panel.line_tension"), left, 222.0, 26.0, weight="medium", colour=INK_2, width=210.0)
    if look.line_word:
        width = canvas.text(look.line_word, right, 252.0, 26.0, weight="bold", anchor="right", width=100.0)
        draw_level(canvas, look.line_load.level, right - width - 20.0, 242.0, 26.0)
    canvas.text(say("panel.share"), right, 222.0, 26.0, weight="medium", colour=INK_2, anchor="right", width=70.0)
    value = look.line_load.value
    unit_size = 40.0 if len(value.unit) == 1 else 30.0
    end = draw_value(canvas, look.share, right, 300.0, 46.0, unit_size=30.0, right=True) - APART
    fits = (size for size in SIZES if left + 2.0 + value_width(canvas, value, size, unit_size, 12.0) <= end)
    draw_value(canvas, value, left + 2.0, 300.0, next(fits, SIZES[-1]), unit_size=unit_size, gap=12.0)


def _capacity(
    canvas: Canvas, side: int, left: float, right: float, look: PanelLook, marks: tuple[float, float]
) -> None:
    label = canvas.text(say("panel.capacity"), left, 366.0, 26.0, weight="medium", colour=INK_2, width=110.0)
    if look.capacity.value.unit:
        # A word in place of the value takes this room.
        canvas.text(say("panel.used"), left + label + 9.0, 366.0, 24.0, weight="medium", colour=INK_2, width=60.0)
    draw_marked(canvas, look.capacity, right, 368.0, 46.0, unit_size=30.0, right=True, mark_side=30.0)
    width = right - left
    canvas.box(left, 386.0, width, 24.0, fill=WASH, edge=INK, radius=4.0)
    fill = {Level.GOOD: SIDES[side].main, Level.CAUTION: CAUTION, Level.STOP: STOP}[look.capacity.level]
    canvas.rect(left + 3.0, 389.0, (width - 6.0) * min(1.0, max(0.0, look.capacity_share) / BAR_FULL), 18.0, fill)
    for mark in marks:
        at = left + width * mark / BAR_FULL
        canvas.rect(at - 1.5, 379.0, 3.0, 38.0, INK)
        canvas.text(f"{100 * mark:.0f}", at, 440.0, 24.0, weight="medium", colour=INK_2, anchor="centre")
    label = canvas.text(say("panel.reach"), left, 440.0, 26.0, weight="medium", colour=INK_2, width=90.0)
    draw_value(canvas, look.reach, left + label + 10.0, 440.0, 34.0, gap=5.0)


def _boom(canvas: Canvas, left: float, look: PanelLook) -> None:
    columns = (
        (0.0, "panel.boom", look.boom),
        (101.0, "panel.raised", look.raised),
        (199.0, "panel.slewed", look.slewed),
    )
    for offset, label, value in columns:
        canvas.text(say(label), left + offset, 500.0, 26.0, weight="medium", colour=INK_2, width=94.0)
        draw_value(canvas, value, left + offset, 542.0, 38.0, unit_size=26.0, gap=4.0)
    if look.slew_way:
        icon(canvas, "arrow", left + 199.0 + 78.0, 529.0, 26.0, turn_deg=-90 if look.slew_way > 0 else 90)


def _rope(canvas: Canvas, left: float, look: PanelLook) -> None:
    for offset, label, marked in ((0.0, "panel.head_room", look.head_room), (148.0, "panel.rope_left", look.rope_left)):
        canvas.text(say(label), left + offset, 606.0, 26.0, weight="medium", colour=INK_2, width=140.0)
        draw_marked(canvas, marked, left + offset, 650.0, 38.0, unit_size=26.0)

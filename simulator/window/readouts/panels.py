"""The drawn readouts: a panel for each unit, the load's table, and a column of clearance for each named part."""

from __future__ import annotations

from simulator.window.kit.canvas import Canvas, Weight
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.measures_shown import NONE
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE, SIDES, STOP, WASH
from simulator.window.kit.pieces import draw_level, draw_marked, draw_pill, draw_value, value_width
from simulator.window.kit.regions import CLEARANCE, LOAD_TABLE, UNIT_PANELS
from simulator.window.kit.thresholds import Level, Marked
from simulator.window.readouts.looks import PanelLook, PartLook, TableLook
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

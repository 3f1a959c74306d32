"""The drawn readouts: a panel for each unit with its lines, the load's table, a column of clearance for each part."""

from __future__ import annotations

from typing import NamedTuple

from simulator.window.kit.canvas import Canvas, Weight
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.measures_shown import NONE
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE, SIDES, STOP, WASH
from simulator.window.kit.pieces import draw_level, draw_marked, draw_pill, draw_value, value_width
from simulator.window.kit.regions import CLEARANCE, LOAD_TABLE, Region
from simulator.window.kit.seen import SeenUnit
from simulator.window.readouts.looks import PanelLook, PartLook, TableLook
from simulator.words import say

BAR_FULL = 1.1
"""Share of capacity at the bar's right end."""
SMALL_SIZES = (60.0, 54.0, 48.0)
SIZES = (92.0, 86.0, 80.0, 74.0, 68.0, *SMALL_SIZES)
"""Of the line tension: the largest that keeps clear of the share; the small ones over a table of lines."""
APART = 16.0


class Rows(NamedTuple):
    """Baselines and rules of a panel, from its top: as close as in a column with an inset, or with room."""

    sum: float
    lines: float
    """Top of the table of lines; of a single line there is none."""
    capacity: float
    boom: float
    rope: float
    pitch: float
    """From one line of the table to the next."""


ONE_LINE = Rows(56.0, 0.0, 196.0, 332.0, 438.0, 0.0)
TWO_LINES = Rows(44.0, 144.0, 300.0, 436.0, 0.0, 54.0)
ALONE = Rows(92.0, 0.0, 304.0, 522.0, 720.0, 0.0)
ALONE_TWO_LINES = Rows(82.0, 244.0, 512.0, 734.0, 0.0, 84.0)


def draw_unit_panel(
    canvas: Canvas, look: PanelLook, *, region: Region, seen: SeenUnit, marks: tuple[float, float]
) -> None:
    """Draws the whole panel of a unit; `marks` are capacity's caution and stop."""
    left, right, top = region.x + 20.0, region.right - 20.0, region.y
    rows = (ALONE_TWO_LINES if look.lines else ALONE) if seen.is_alone else TWO_LINES if look.lines else ONE_LINE
    canvas.rect(*region, PANEL)
    draw_panel_head(canvas, region, seen, look)
    _tension(canvas, left, right, top + rows.sum, look, has_share=not seen.is_alone)
    if look.lines:
        canvas.rect(left, top + rows.lines, right - left, 2.0, RULE)
        _lines(canvas, left, top + rows.lines, rows.pitch, look)
    canvas.rect(left, top + rows.capacity, right - left, 2.0, RULE)
    draw_capacity_rows(canvas, seen.side, left, right, top + rows.capacity, look, marks)
    canvas.rect(left, top + rows.boom, right - left, 2.0, RULE)
    draw_boom_row(canvas, left, top + rows.boom, look)
    if not look.lines:
        canvas.rect(left, top + rows.rope, right - left, 2.0, RULE)
        _rope(canvas, left, top + rows.rope, look)


def draw_panel_head(canvas: Canvas, region: Region, seen: SeenUnit, look: PanelLook) -> None:
    """Draws the unit's badge and name, and whether it moves."""
    ground, left = SIDES[seen.side].main, region.x + 20.0
    canvas.rect(region.x, region.y, region.w, 56.0, ground)
    if not seen.is_alone:
        badge(canvas, seen.side, region.x + 31.0, region.y + 28.0, 38.0, inverse=True)
        left = region.x + 62.0
    room = region.right - 112.0 - left
    canvas.text(say(f"unit.{seen.where}"), left, region.y + 40.0, 34.0, weight="bold", color=PANEL, width=room)
    draw_pill(canvas, look.state, region.right - 104.0, region.y + 10.0, 92.0, filled=look.is_moving, ground=ground)


def _tension(canvas: Canvas, left: float, right: float, top: float, look: PanelLook, *, has_share: bool) -> None:
    """The pull of the line, or of both lines together, and the unit's share; one alone has no share."""
    label = "panel.both_lines" if look.lines else "panel.line_tension"
    canvas.text(say(label), left, top + 38.0, 26.0, weight="medium", color=INK_2, width=210.0)
    if look.line_word and not look.lines:
        width = canvas.text(look.line_word, right, top + 68.0, 26.0, weight="bold", anchor="right", width=100.0)
        draw_level(canvas, look.line_load.level, right - width - 20.0, top + 58.0, 26.0)
    value, foot = look.line_load.value, top + (94.0 if look.lines and has_share else 116.0)
    unit_size = 40.0 if len(value.unit) == 1 else 30.0
    end = right
    if has_share:
        share = say("panel.share")
        canvas.text(share, right, top + 38.0, 26.0, weight="medium", color=INK_2, anchor="right", width=70.0)
        end = draw_value(canvas, look.share, right, foot, 46.0, unit_size=30.0, right=True) - APART
    sizes = SMALL_SIZES if look.lines and has_share else SIZES
    fits = (size for size in sizes if left + 2.0 + value_width(canvas, value, size, unit_size, 12.0) <= end)
    draw_value(canvas, value, left + 2.0, foot, next(fits, SIZES[-1]), unit_size=unit_size, gap=12.0)


COLUMNS = (126.0, 210.0, 296.0)
"""Right ends of a line's load, head room and rope left, from the panel's left."""


def _lines(canvas: Canvas, left: float, top: float, pitch: float, look: PanelLook) -> None:
    """A table: each line with its load, its head room and its rope; units stand in its head."""
    values = [(line.load, line.head_room, line.rope_left) for line in look.lines]
    for right, key, marked in zip(COLUMNS, ("load", "head", "rope"), values[0], strict=True):
        text = f"{say(f'panel.column_{key}')} {marked.value.unit}"
        canvas.text(text, left + right, top + 27.0, 24.0, weight="medium", color=INK_2, anchor="right", width=88.0)
    for row, (line, cells) in enumerate(zip(look.lines, values, strict=True)):
        foot = top + 60.0 + (pitch - 54.0) / 2.0 + row * pitch
        canvas.box(left, foot - 26.0, 30.0, 30.0, edge=INK, radius=15.0, fill=PANEL)
        canvas.digits(str(line.number), left + 15.0, foot - 2.5, 24.0, anchor="center")
        for right, marked in zip(COLUMNS, cells, strict=True):
            at = draw_value(canvas, marked.value._replace(unit=""), left + right, foot, 34.0, gap=0.0, right=True)
            if not (line.word and marked is line.load):
                draw_level(canvas, marked.level, at - 15.0, foot - 12.0, 22.0)
        if line.word:
            width = canvas.text(line.word, left + COLUMNS[0], foot + 22.0, 24.0, weight="bold", anchor="right")
            draw_level(canvas, line.load.level, left + COLUMNS[0] - width - 15.0, foot + 14.0, 22.0)


def draw_capacity_rows(
    canvas: Canvas, side: int, left: float, right: float, top: float, look: PanelLook, marks: tuple[float, float]
) -> None:
    """Draws capacity used as a figure and a bar, and the reach."""
    label = canvas.text(say("panel.capacity"), left, top + 42.0, 26.0, weight="medium", color=INK_2, width=110.0)
    if look.capacity.value.unit:
        # A word in place of the value takes this room.
        at = left + label + 9.0
        canvas.text(say("panel.used"), at, top + 42.0, 24.0, weight="medium", color=INK_2, width=60.0)
    draw_marked(canvas, look.capacity, right, top + 44.0, 46.0, unit_size=30.0, right=True, mark_side=30.0)
    width = right - left
    canvas.box(left, top + 62.0, width, 24.0, fill=WASH, edge=INK, radius=4.0)
    fill = {Level.GOOD: SIDES[side].main, Level.CAUTION: CAUTION, Level.STOP: STOP}[look.capacity.level]
    share = min(1.0, max(0.0, look.capacity_share) / BAR_FULL)
    canvas.rect(left + 3.0, top + 65.0, (width - 6.0) * share, 18.0, fill)
    for mark in marks:
        at = left + width * mark / BAR_FULL
        canvas.rect(at - 1.5, top + 55.0, 3.0, 38.0, INK)
        canvas.text(f"{100 * mark:.0f}", at, top + 116.0, 24.0, weight="medium", color=INK_2, anchor="center")
    label = canvas.text(say("panel.reach"), left, top + 116.0, 26.0, weight="medium", color=INK_2, width=90.0)
    draw_value(canvas, look.reach, left + label + 10.0, top + 116.0, 34.0, gap=5.0)


def draw_boom_row(canvas: Canvas, left: float, top: float, look: PanelLook) -> None:
    """Draws how long the boom is, how far raised and slewed."""
    columns = (
        (0.0, "panel.boom", look.boom),
        (101.0, "panel.raised", look.raised),
        (199.0, "panel.slewed", look.slewed),
    )
    for offset, label, value in columns:
        canvas.text(say(label), left + offset, top + 40.0, 26.0, weight="medium", color=INK_2, width=94.0)
        draw_value(canvas, value, left + offset, top + 82.0, 38.0, unit_size=26.0, gap=4.0)
    if look.slew_way:
        turn = -90 if look.slew_way > 0 else 90
        icon(canvas, "arrow", left + 199.0 + 78.0, top + 69.0, 26.0, turn_deg=turn)


def _rope(canvas: Canvas, left: float, top: float, look: PanelLook) -> None:
    for offset, label, marked in ((0.0, "panel.head_room", look.head_room), (148.0, "panel.rope_left", look.rope_left)):
        canvas.text(say(label), left + offset, top + 40.0, 26.0, weight="medium", color=INK_2, width=140.0)
        draw_marked(canvas, marked, left + offset, top + 84.0, 38.0, unit_size=26.0)


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
    width = canvas.text(label, LOAD_TABLE.x + 20.0, y, 26.0, weight="medium", color=INK_2, width=120.0)
    if words:
        canvas.text(words, LOAD_TABLE.x + 29.0 + width, y, 26.0, weight="medium", color=INK_2, width=130.0)
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
        canvas.text(say("strip.none"), CLEARANCE.x + CLEARANCE.w / 2, 964.0, 28.0, color=INK_2, anchor="center")
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
    name = look.part if look.is_beside else f"{look.number} {look.part}"
    canvas.text(name, middle, 916.0, 26.0, weight=weight, color=label_ink, anchor="center", width=width - 12.0)
    size = 46.0 if width > 150.0 else 40.0
    left = middle - value_width(canvas, look.value, size, 30.0, 6.0) / 2
    draw_value(canvas, look.value, left, 966.0, size, unit_size=30.0, color=ink, unit_color=label_ink)
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
    canvas.text(word, at + 36.0, 1013.0, size, weight="bold", color=ink)

"""What stands beside the pictures of a lift that is laid out: fields, what governs, the ribbon, what would help."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from simulator.telling.laid_out import Help, Judged, Row, Stop
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_panel
from simulator.window.kit.icons import icon
from simulator.window.kit.palette import (
    CAUTION,
    CAUTION_TINT,
    INK,
    INK_2,
    INK_3,
    PANEL,
    RULE,
    STEEL_DARK,
    STOP,
    STOP_TINT,
    WASH,
    Color,
)
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import seen_of
from simulator.window.layout.one_field import GROUPS, Typed
from simulator.window.layout.sheet import Sheet
from simulator.words import phrase, say

FIELDS = Region(8, 128, 440, 900)
GOVERNS = Region(1432, 128, 480, 588)
HELPS = Region(1432, 724, 480, 304)
RIBBON = Region(456, 864, 968, 164)
VERDICT = Region(600, 10, 940, 98)
GROUP_H, FIELD_H, ROW_H = 46.0, 39.0, 75.0
VALUE_X, VALUE_W = 300.0, 132.0
"""From a field's left edge."""
OLD = "old"
Place = tuple[str, object]
MOST_USED = 1.25
"""A bar of a limit is no longer than this, however far past it is."""


class Focus(NamedTuple):
    """What keys go to: an area and what in it."""

    area: str
    """fields, views, rows, path, helps"""
    key: str = ""


class Spots(NamedTuple):
    """Places of one frame that answer the mouse: region and what it is."""

    rows: list[tuple[Region, Place]]

    def add(self, x: float, y: float, w: float, h: float, what: Place) -> None:
        """One more; later ones lie on top."""
        self.rows.append((Region(x, y, w, h), what))

    def at(self, x: float, y: float) -> Place | None:
        """What is there."""
        for region, what in reversed(self.rows):
            if region.x <= x < region.right and region.y <= y < region.foot:
                return what
        return None


LEVEL_FILL: dict[str, Color] = {"good": STEEL_DARK, "caution": CAUTION, "stop": STOP}


# Fields -----------------------------------------------------------------------------------------------------------


class FieldsLook(NamedTuple):
    """What is shown of the fields."""

    sheet: Sheet
    group: str
    """The one that is open."""
    focus: Focus
    typed: str | None
    """What is being typed in the field in focus; None: nothing."""
    first: int
    """Row of the open group that is shown first."""


def rows_shown() -> int:
    """Fields of the open group that there is room for."""
    return int((FIELDS.h - len(GROUPS) * (GROUP_H + 4.0) - 12.0 - 110.0) // FIELD_H)


def draw_fields(canvas: Canvas, look: FieldsLook, spots: Spots) -> None:
    """The groups, the open one with its fields; under them the sentence of the field in focus."""
    y = FIELDS.y
    for group in GROUPS:
        rows = [one for one in look.sheet.fields if one.group == group] if group == look.group else []
        shown = rows[look.first : look.first + rows_shown()]
        h = GROUP_H + (len(shown) * FIELD_H + 6.0 if shown else 0.0)
        canvas.box(FIELDS.x, y, FIELDS.w, h, fill=PANEL, edge=INK if rows else RULE, edge_width=2.0, radius=6.0)
        canvas.text(say(f"layout.{group}"), FIELDS.x + 14.0, y + 33.0, 28.0, weight="bold")
        half = sum(1 for one in look.sheet.fields if one.group == group and one.key in look.sheet.half)
        if half:
            icon(canvas, "caution", FIELDS.right - 26.0, y + 23.0, 26.0)
        elif len(rows) > len(shown):
            more = say("layout.rows", first=look.first + 1, last=look.first + len(shown), count=len(rows))
            canvas.text(more, FIELDS.right - 14.0, y + 32.0, 24.0, weight="medium", color=INK_2, anchor="right")
        spots.add(FIELDS.x, y, FIELDS.w, GROUP_H, ("group", group))
        for n, typed in enumerate(shown):
            _field(canvas, typed, look, y + GROUP_H + n * FIELD_H, spots)
        y += h + 4.0
    _sentence(canvas, look, y + 4.0)


def _field(canvas: Canvas, typed: Typed, look: FieldsLook, y: float, spots: Spots) -> None:
    sheet, x = look.sheet, FIELDS.x + 10.0
    has_focus = look.focus == Focus("fields", typed.key)
    is_half, is_given = typed.key in sheet.half, typed.key in sheet.given
    canvas.text(typed.label, x, y + 26.0, 24.0, weight="semibold" if is_given else "medium",
                color=INK if is_given else INK_2, width=VALUE_X - 16.0)  # fmt: skip
    text = sheet.shown(typed.key)
    fill = CAUTION_TINT if is_half else PANEL
    edge, wide = (INK, 3.5) if has_focus else (CAUTION if is_half else RULE, 1.5)
    label = min(VALUE_X - 16.0, canvas.text_width(typed.label, 24.0))
    wide_text = canvas.text_width(text, 24.0, weight="bold") + 20.0
    across = min(max(VALUE_W, wide_text), VALUE_X + VALUE_W - label - 20.0)
    left = x + VALUE_X - 8.0 + VALUE_W - across
    canvas.box(left, y + 2.0, across, FIELD_H - 5.0, fill=fill, edge=edge, edge_width=wide, radius=5.0)
    if has_focus and look.typed is not None:
        text = look.typed + "|"
    shown, size = canvas.fitted(text, 24.0, across - 16.0, weight="bold")
    canvas.text(shown, left + across - 9.0, y + 26.0, size, weight="bold", anchor="right")
    spots.add(FIELDS.x + 4.0, y, FIELDS.w - 8.0, FIELD_H, ("field", typed.key))


def _sentence(canvas: Canvas, look: FieldsLook, y: float) -> None:
    """Why a field's text was not taken, or what may be typed there."""
    sheet, key = look.sheet, look.focus.key
    half = sheet.half.get(key) if look.focus.area == "fields" else None
    text = half.why if half else sheet.fault
    if not text and look.typed is not None:
        typed = sheet.field(key)
        text = "" if typed.kind is None else typed.asked(sheet.system).allowed(sheet.system)
    if not text:
        given = sum(1 for one in sheet.fields if one.key in sheet.given)
        text = say("layout.given", count=given, all=len(sheet.fields))
    lines = lines_of(canvas, text, FIELDS.w - 60.0, weight="medium", most=4)
    h = len(lines) * 30.0 + 16.0
    is_bad = bool(half or sheet.fault)
    canvas.box(FIELDS.x, y, FIELDS.w, h, fill=CAUTION_TINT if is_bad else WASH, radius=6.0)
    if is_bad:
        icon(canvas, "caution", FIELDS.x + 24.0, y + 24.0, 26.0)
    for n, line in enumerate(lines):
        canvas.text(line, FIELDS.x + (46.0 if is_bad else 14.0), y + 32.0 + n * 30.0, 24.0, weight="medium",
                    width=FIELDS.w - 60.0)  # fmt: skip


# Verdict ----------------------------------------------------------------------------------------------------------


def draw_verdict(canvas: Canvas, judged: Judged | None, sheet: Sheet, *, old: str, moving: bool) -> None:
    """The answer and what governs; an old one is dimmed and says so."""
    region = VERDICT
    if judged is None:
        canvas.box(*region, fill=WASH, edge=INK_3, radius=8.0)
        canvas.text(say("layout.no_verdict"), region.x + 24.0, region.y + 58.0, 30.0, weight="bold")
        return
    verdict = judged.verdict.replace(" ", "_")
    is_stop, is_open = verdict == "limit_passed", verdict == "not_judged"
    fill, edge = (STOP_TINT, STOP) if is_stop else (CAUTION_TINT, CAUTION) if is_open else (PANEL, INK)
    if old:
        fill, edge = WASH, INK_3
    canvas.box(*region, fill=fill, edge=edge, edge_width=4.0, radius=8.0)
    if not old:
        mark = "stop" if is_stop else "caution" if is_open else "tick"
        icon(canvas, mark, region.x + 46.0, region.y + region.h / 2, 56.0)  # type: ignore[arg-type]
    color = INK_3 if old else INK
    x, width = region.x + 92.0, region.w - 108.0
    canvas.text(say(f"layout.verdict_{verdict}"), x, region.y + 42.0, 32.0, weight="bold",
                color=color, width=width)  # fmt: skip
    words = old or (_in_short(sheet, judged.rows[0]) if judged.rows else "")
    if moving and not old:
        words = say("layout.moving", words=words)
    canvas.text(words, x, region.y + 80.0, 26.0, weight="medium", color=INK if old else INK_2, width=width)


def _in_short(sheet: Sheet, row: Row) -> str:
    """What governs, in one line."""
    return say(
        "layout.in_short",
        who=who_said(sheet, row.who),
        what=row.name,
        value=row.value,
        limit=row.limit,
        where=row.where,
    )


# What governs -----------------------------------------------------------------------------------------------------


def governs_shown() -> int:
    """Rows that there is room for."""
    return int((GOVERNS.h - 60.0) // ROW_H)


def draw_governs(canvas: Canvas, judged: Judged | None, sheet: Sheet, focus: Focus, spots: Spots, *,
                 first: int, is_old: bool) -> None:  # fmt: skip
    """The limits, worst first, each with the part of it that is used."""
    draw_panel(canvas, *GOVERNS)
    canvas.text(say("layout.governs"), GOVERNS.x + 14.0, GOVERNS.y + 36.0, 30.0, weight="bold")
    if judged is None:
        return
    rows = judged.rows[first : first + governs_shown()]
    text = say("layout.rows", first=first + 1, last=first + len(rows), count=len(judged.rows))
    canvas.text(text, GOVERNS.right - 14.0, GOVERNS.y + 36.0, 24.0, weight="medium", color=INK_2, anchor="right")
    for n, row in enumerate(rows):
        y = GOVERNS.y + 52.0 + n * ROW_H
        _row(canvas, row, sheet, y, has_focus=focus == Focus("rows", str(first + n)), is_old=is_old)
        spots.add(GOVERNS.x, y, GOVERNS.w, ROW_H, ("row", first + n))


def who_said(sheet: Sheet, who: str) -> str:
    """Whose limit it is, as it is seen."""
    one = seen_of(sheet.lift).begins(who)
    return one.said("name") if one is not None and who.endswith(" unit") else phrase(who).capitalize()


def as_seen(sheet: Sheet, text: str) -> str:
    """A sentence with each unit called as everything on the screen calls it."""
    seen = seen_of(sheet.lift)
    for number, unit in enumerate(sheet.lift.units):
        text = text.replace(f"{unit.name} unit", seen.of(number).said("said"))
    return text


def _row(canvas: Canvas, row: Row, sheet: Sheet, y: float, *, has_focus: bool, is_old: bool) -> None:
    x, color = GOVERNS.x, INK_3 if is_old else INK
    if has_focus:
        canvas.box(x + 3.0, y, GOVERNS.w - 6.0, ROW_H - 2.0, fill=WASH, edge=INK, edge_width=3.0, radius=5.0)
    if not is_old:
        icon(canvas, "tick" if row.level == "good" else row.level, x + 26.0, y + 21.0, 26.0)  # type: ignore[arg-type]
    width = canvas.text(row.value, GOVERNS.right - 12.0, y + 29.0, 28.0, weight="bold", color=color, anchor="right")
    name, room = f"{who_said(sheet, row.who)}, {row.name}", GOVERNS.w - 72.0 - width
    if canvas.text_width(name, 24.0) > room:
        name = _capital(row.name) if row.who in ("trailer", "load") else f"{_side(sheet, row.who)}: {row.name}"
    canvas.text(name, x + 48.0, y + 28.0, 24.0, color=color, width=room)
    words = f"{row.limit}, {row.where}"
    canvas.text(words, x + 48.0, y + 55.0, 24.0, weight="medium", color=INK_3 if is_old else INK_2,
                width=GOVERNS.w - 60.0)  # fmt: skip
    left, long = x + 48.0, GOVERNS.w - 60.0
    full = long / MOST_USED
    canvas.rect(left, y + 63.0, long, 7.0, WASH)
    fill = INK_3 if is_old else LEVEL_FILL[row.level]
    canvas.rect(left, y + 63.0, full * min(MOST_USED, max(0.0, row.used)), 7.0, fill)
    canvas.rect(left + full - 1.5, y + 61.0, 3.0, 12.0, color)


def _side(sheet: Sheet, who: str) -> str:
    """Left or right, where there is little room."""
    one = seen_of(sheet.lift).begins(who)
    return _capital(phrase(who)) if one is None else one.said("call") if not one.is_alone else one.said("name")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# The ribbon -------------------------------------------------------------------------------------------------------


def draw_ribbon(canvas: Canvas, judged: Judged | None, at: int, focus: Focus, spots: Spots, *, is_old: bool) -> None:
    """What is left to the nearest limit at every station of the path."""
    region = RIBBON
    draw_panel(canvas, *region)
    canvas.text(say("layout.ribbon"), region.x + 14.0, region.y + 32.0, 26.0, weight="bold")
    if judged is None or not judged.path:
        return
    stop = judged.path[min(at, len(judged.path) - 1)]
    used = say("layout.used_there", name=stop.name, used=f"{100.0 * min(9.99, stop.used):.0f}")
    canvas.text(used, region.right - 14.0, region.y + 32.0, 26.0, weight="medium", color=INK_2, anchor="right")
    wide = (region.w - 28.0) / len(judged.path)
    top, high = region.y + 46.0, 70.0
    line = top + high - high / MOST_USED
    for n, one in enumerate(judged.path):
        _bar(canvas, one, region.x + 14.0 + n * wide, wide, top, high, is_old=is_old)
        spots.add(region.x + 14.0 + n * wide, region.y + 40.0, wide, region.h - 44.0, ("stop", n))
    canvas.dashed((region.x + 14.0, line), (region.right - 14.0, line), INK, width=2.0, dash=6.0, gap=5.0)
    x = region.x + 14.0 + min(at, len(judged.path) - 1) * wide
    edge = 4.0 if focus.area == "path" else 2.5
    canvas.box(x, top - 2.0, wide, high + 6.0, edge=INK, edge_width=edge, radius=3.0)
    _ribbon_words(canvas, judged.path, region, wide, top + high + 32.0)


def _bar(canvas: Canvas, one: Stop, x: float, wide: float, top: float, high: float, *, is_old: bool) -> None:
    tall = max(3.0, high * min(MOST_USED, one.used) / MOST_USED)
    fill = INK_3 if is_old else LEVEL_FILL[one.level]
    canvas.rect(x + 3.0, top + high - tall, wide - 6.0, tall, fill)
    if one.level != "good" and not is_old and wide >= 22.0:
        icon(canvas, one.level, x + wide / 2, top + high - 15.0, 22.0)  # type: ignore[arg-type]


def _ribbon_words(canvas: Canvas, path: Sequence[Stop], region: Region, wide: float, y: float) -> None:
    """The named stations under their bars, as far as there is room."""
    end = region.x
    for n, one in enumerate(path):
        if one.phase == "crossing":
            continue
        text = one.name
        width = canvas.text_width(text, 24.0, weight="medium")
        middle = region.x + 14.0 + (n + 0.5) * wide
        left = min(region.right - 14.0 - width, max(region.x + 14.0, middle - width / 2))
        if left > end + 8.0:
            canvas.text(text, left, y, 24.0, weight="medium", color=INK_2)
            end = left + width


# What would help --------------------------------------------------------------------------------------------------


class HelpsLook(NamedTuple):
    """What is shown of what would help."""

    sheet: Sheet
    found: tuple[Help, ...]
    is_looking: bool
    """Trials go on."""
    focus: Focus
    lines: tuple[str, ...] = ()
    """Instead of it: all of the row that is chosen."""


def draw_helps(canvas: Canvas, look: HelpsLook, spots: Spots) -> None:
    """Three changes that were tried, each with what it gains; or the sentence of a row."""
    draw_panel(canvas, *HELPS)
    x, y = HELPS.x + 14.0, HELPS.y
    if look.lines:
        canvas.text(say("layout.in_words"), x, y + 36.0, 28.0, weight="bold")
        for n, line in enumerate(look.lines[:7]):
            canvas.text(line, x, y + 72.0 + n * 31.0, 24.0, weight="medium", width=HELPS.w - 28.0)
        return
    canvas.text(say("layout.helps"), x, y + 36.0, 28.0, weight="bold")
    if look.is_looking:
        canvas.text(say("layout.trying"), HELPS.right - 14.0, y + 36.0, 24.0, weight="medium", color=INK_2,
                    anchor="right")  # fmt: skip
    if not look.found and not look.is_looking:
        canvas.text(say("layout.nothing_helps"), x, y + 76.0, 24.0, weight="medium", color=INK_2, width=HELPS.w - 28.0)
    for n, one in enumerate(look.found):
        _help(canvas, look.sheet, one, n, y + 48.0 + n * 72.0, spots, has_focus=look.focus == Focus("helps", str(n)))
    canvas.text(say("layout.numbers_only"), x, HELPS.foot - 12.0, 24.0, weight="medium", color=INK_2,
                width=HELPS.w - 28.0)  # fmt: skip


def _help(canvas: Canvas, sheet: Sheet, one: Help, number: int, y: float, spots: Spots, *, has_focus: bool) -> None:
    x = HELPS.x + 14.0
    if has_focus:
        canvas.box(HELPS.x + 3.0, y, HELPS.w - 6.0, 70.0, fill=WASH, edge=INK, edge_width=3.0, radius=5.0)
    canvas.text(_capital(as_seen(sheet, one.words)), x, y + 28.0, 24.0, weight="semibold", width=HELPS.w - 90.0)
    canvas.text(as_seen(sheet, one.gain), x, y + 58.0, 24.0, weight="medium", color=INK_2, width=HELPS.w - 90.0)
    draw_key(canvas, say(f"key.f{number + 6}"), HELPS.right - 66.0, y + 16.0, height=36.0, size=24.0)
    spots.add(HELPS.x, y, HELPS.w, 70.0, ("help", number))

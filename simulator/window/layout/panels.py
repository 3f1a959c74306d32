"""What stands beside the pictures of a lift that is laid out: fields, what governs, the ribbon, what would help."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import NamedTuple

from simulator.telling.laid_out import Help, Judged, Row, Stop
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_panel
from simulator.window.kit.icons import icon
from simulator.window.kit.kept_panel import KeptPanel, KeptRow
from simulator.window.kit.palette import (
    CAUTION,
    CAUTION_TINT,
    INK,
    INK_2,
    INK_3,
    PANEL,
    STEEL_DARK,
    STOP,
    STOP_TINT,
    WASH,
    Color,
)
from simulator.window.kit.pieces import draw_key
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import seen_of
from simulator.window.layout.sheet import Sheet
from simulator.words import phrase, say

FIELDS = Region(8, 128, 440, 900)
GOVERNS = Region(1432, 128, 480, 588)
HELPS = Region(1432, 724, 480, 304)
RIBBON = Region(456, 864, 968, 164)
VERDICT = Region(600, 10, 940, 98)
ROW_H = 75.0
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
    words = old or _missing_said(sheet, judged) or (_in_short(sheet, judged.rows[0]) if judged.rows else "")
    if moving and not old:
        words = say("layout.moving", words=words)
    canvas.text(words, x, region.y + 80.0, 26.0, weight="medium", color=INK if old else INK_2, width=width)


def _missing_said(sheet: Sheet, judged: Judged) -> str:
    """What is missing first, where that is why nothing is said of the rest."""
    found = missing_shown(sheet, judged)
    if judged.verdict.replace(" ", "_") != "not_judged" or not found:
        return ""
    if len(found) == 1:
        return say("layout.missing_one", first=found[0])
    return say("layout.missing_first", count=len(found), cap=say("key.f4"), first=found[0])


def missing_shown(sheet: Sheet, judged: Judged) -> tuple[str, ...]:
    """All that a verdict needs and does not have; what each unit lacks once for both."""
    by_what: dict[str, list[str]] = {}
    for one in judged.missing:
        who, _, what = one.partition(": ")
        by_what.setdefault(what, []).append(who)
    both = say("layout.missing_both")
    rows = [f"{both if len(whose) > 1 else whose[0]}: {what}" for what, whose in by_what.items()]
    return tuple(_capital(as_seen(sheet, row)) for row in rows)


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


class RowShown(NamedTuple):
    """A limit."""

    name: str
    short: str
    """The name where there is little room."""
    value: str
    words: str
    """Of what, and where."""
    used: float
    level: str
    y: float
    has_focus: bool
    is_old: bool


def draw_governs(canvas: Canvas, kept: KeptPanel, judged: Judged | None, sheet: Sheet, focus: Focus, spots: Spots, *,
                 first: int, is_old: bool) -> None:  # fmt: skip
    """The limits, worst first, each with the part of it that is used."""
    found = judged.rows[first : first + governs_shown()] if judged is not None else ()
    count = len(judged.rows) if judged is not None else 0
    text = say("layout.rows", first=first + 1, last=first + len(found), count=count) if count else ""

    def ground(layer: Canvas) -> None:
        draw_panel(layer, *GOVERNS)
        layer.text(say("layout.governs"), GOVERNS.x + 14.0, GOVERNS.y + 36.0, 30.0, weight="bold")
        layer.text(text, GOVERNS.right - 14.0, GOVERNS.y + 36.0, 24.0, weight="medium", color=INK_2, anchor="right")

    rows = list[KeptRow]()
    for n, one in enumerate(found):
        has_focus = focus == Focus("rows", str(first + n))
        shown = _row_shown(sheet, one, GOVERNS.y + 52.0 + n * ROW_H, has_focus=has_focus, is_old=is_old)
        region = Region(GOVERNS.x + 3.0, shown.y, GOVERNS.w - 6.0, ROW_H)
        rows.append(KeptRow(region, shown, partial(_row, row=shown)))
        spots.add(GOVERNS.x, shown.y, GOVERNS.w, ROW_H, ("row", first + n))
    kept.show(canvas, text, ground, rows)


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


def _row_shown(sheet: Sheet, row: Row, y: float, *, has_focus: bool, is_old: bool) -> RowShown:
    name = f"{who_said(sheet, row.who)}, {row.name}"
    short = _capital(row.name) if row.who in ("trailer", "load") else f"{_side(sheet, row.who)}: {row.name}"
    words = f"{row.limit}, {row.where}"
    return RowShown(name, short, row.value, words, row.used, row.level, y, has_focus, is_old)


def _row(canvas: Canvas, row: RowShown) -> None:
    x, y, color = GOVERNS.x, row.y, INK_3 if row.is_old else INK
    if row.has_focus:
        canvas.box(x + 3.0, y, GOVERNS.w - 6.0, ROW_H - 2.0, fill=WASH, edge=INK, edge_width=3.0, radius=5.0)
    if not row.is_old:
        icon(canvas, "tick" if row.level == "good" else row.level, x + 26.0, y + 21.0, 26.0)  # type: ignore[arg-type]
    width = canvas.text(row.value, GOVERNS.right - 12.0, y + 29.0, 28.0, weight="bold", color=color, anchor="right")
    room = GOVERNS.w - 72.0 - width
    name = row.name if canvas.text_width(row.name, 24.0) <= room else row.short
    canvas.text(name, x + 48.0, y + 28.0, 24.0, color=color, width=room)
    canvas.text(row.words, x + 48.0, y + 55.0, 24.0, weight="medium", color=INK_3 if row.is_old else INK_2,
                width=GOVERNS.w - 60.0)  # fmt: skip
    left, long = x + 48.0, GOVERNS.w - 60.0
    full = long / MOST_USED
    canvas.rect(left, y + 63.0, long, 7.0, WASH)
    fill = INK_3 if row.is_old else LEVEL_FILL[row.level]
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

    found: tuple[tuple[str, str], ...]
    """Words and gain of each."""
    is_looking: bool
    """Trials go on."""
    focus: Focus
    lines: tuple[str, ...] = ()
    """Instead of it: all of the row that is chosen, or what is missing."""
    title: str = ""
    """Over the lines."""


def helps_look(sheet: Sheet, found: Sequence[Help], focus: Focus, *, is_looking: bool,
               lines: tuple[str, ...] = (), title: str = "") -> HelpsLook:  # fmt: skip
    """With each unit called as everything on the screen calls it."""
    rows = tuple((_capital(as_seen(sheet, one.words)), as_seen(sheet, one.gain)) for one in found)
    return HelpsLook(rows, is_looking, focus if focus.area == "helps" else Focus(""), lines, title)


LINES_SHOWN = 8


def draw_helps(canvas: Canvas, kept: KeptPanel, look: HelpsLook, spots: Spots) -> None:
    """Three changes that were tried, each with what it gains; or the sentence of a row."""
    kept.show(canvas, look, partial(_helps, look=look))
    for n in range(0 if look.lines else len(look.found)):
        spots.add(HELPS.x, HELPS.y + 48.0 + n * 72.0, HELPS.w, 70.0, ("help", n))


def _helps(canvas: Canvas, look: HelpsLook) -> None:
    draw_panel(canvas, *HELPS)
    x, y = HELPS.x + 14.0, HELPS.y
    if look.lines:
        canvas.text(look.title or say("layout.in_words"), x, y + 36.0, 28.0, weight="bold")
        for n, line in enumerate(look.lines[:LINES_SHOWN]):
            canvas.text(line, x, y + 72.0 + n * 31.0, 24.0, weight="medium", width=HELPS.w - 28.0)
        return
    canvas.text(say("layout.helps"), x, y + 36.0, 28.0, weight="bold")
    if look.is_looking:
        canvas.text(say("layout.trying"), HELPS.right - 14.0, y + 36.0, 24.0, weight="medium", color=INK_2,
                    anchor="right")  # fmt: skip
    if not look.found and not look.is_looking:
        canvas.text(say("layout.nothing_helps"), x, y + 76.0, 24.0, weight="medium", color=INK_2, width=HELPS.w - 28.0)
    for n, (words, gain) in enumerate(look.found):
        _help(canvas, words, gain, n, y + 48.0 + n * 72.0, has_focus=look.focus == Focus("helps", str(n)))
    canvas.text(say("layout.numbers_only"), x, HELPS.foot - 12.0, 24.0, weight="medium", color=INK_2,
                width=HELPS.w - 28.0)  # fmt: skip


def _help(canvas: Canvas, words: str, gain: str, number: int, y: float, *, has_focus: bool) -> None:
    x = HELPS.x + 14.0
    if has_focus:
        canvas.box(HELPS.x + 3.0, y, HELPS.w - 6.0, 70.0, fill=WASH, edge=INK, edge_width=3.0, radius=5.0)
    canvas.text(words, x, y + 28.0, 24.0, weight="semibold", width=HELPS.w - 90.0)
    canvas.text(gain, x, y + 58.0, 24.0, weight="medium", color=INK_2, width=HELPS.w - 90.0)
    draw_key(canvas, say(f"key.f{number + 6}"), HELPS.right - 66.0, y + 16.0, height=36.0, size=24.0)

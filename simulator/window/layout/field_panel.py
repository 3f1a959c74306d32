"""The fields of a lift that is laid out, by groups, each as it was last drawn until something of it changes."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import icon
from simulator.window.kit.kept_panel import KeptPanel, KeptRow
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE, WASH
from simulator.window.kit.pieces import lines_of
from simulator.window.kit.regions import Region
from simulator.window.layout.one_field import GROUPS
from simulator.window.layout.panels import FIELDS, Focus, Spots
from simulator.window.layout.sheet import Sheet
from simulator.words import say

GROUP_H, FIELD_H = 46.0, 39.0
VALUE_X, VALUE_W = 300.0, 132.0
"""From a field's left edge."""


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


class GroupShown(NamedTuple):
    """A group's box."""

    name: str
    y: float
    h: float
    is_open: bool
    has_half: bool
    """Something of it is half typed."""
    more: str
    """Which of its fields are shown, where that is not all."""


class FieldShown(NamedTuple):
    """A field of the open group."""

    key: str
    label: str
    text: str
    y: float
    has_focus: bool
    is_half: bool
    is_given: bool


class Said(NamedTuple):
    """What is said under the fields."""

    text: str
    y: float
    is_bad: bool


def draw_fields(canvas: Canvas, kept: KeptPanel, look: FieldsLook, spots: Spots) -> None:
    """The groups, the open one with its fields; under them the sentence of the field in focus."""
    groups, fields = _shown(look)
    end = groups[-1]
    said = _said(look, end.y + end.h + 8.0)

    def ground(layer: Canvas) -> None:
        for one in groups:
            _group(layer, one)
        _sentence(layer, said)

    rows = [
        KeptRow(Region(FIELDS.x + 4.0, one.y, FIELDS.w - 8.0, FIELD_H), one, partial(_field, field=one))
        for one in fields
    ]
    kept.show(canvas, (groups, said), ground, rows)
    for group in groups:
        spots.add(FIELDS.x, group.y, FIELDS.w, GROUP_H, ("group", group.name))
    for row, one in zip(rows, fields, strict=True):
        spots.add(*row.region, ("field", one.key))


def _shown(look: FieldsLook) -> tuple[list[GroupShown], list[FieldShown]]:
    """All groups, and the fields of the open one that there is room for."""
    sheet, y = look.sheet, FIELDS.y
    halves = {one.group for one in sheet.fields if one.key in sheet.half}
    groups, fields = list[GroupShown](), list[FieldShown]()
    for group in GROUPS:
        rows = [one for one in sheet.fields if one.group == group] if group == look.group else []
        shown = rows[look.first : look.first + rows_shown()]
        h = GROUP_H + (len(shown) * FIELD_H + 6.0 if shown else 0.0)
        more = ""
        if len(rows) > len(shown):
            more = say("layout.rows", first=look.first + 1, last=look.first + len(shown), count=len(rows))
        groups.append(GroupShown(group, y, h, bool(rows), group in halves, more))
        for n, typed in enumerate(shown):
            has_focus = look.focus == Focus("fields", typed.key)
            text = f"{look.typed}|" if has_focus and look.typed is not None else sheet.shown(typed.key)
            fields.append(FieldShown(typed.key, typed.label, text, y + GROUP_H + n * FIELD_H, has_focus,
                                     typed.key in sheet.half, typed.key in sheet.given))  # fmt: skip
        y += h + 4.0
    return groups, fields


def _group(canvas: Canvas, one: GroupShown) -> None:
    y, edge = one.y, INK if one.is_open else RULE
    canvas.box(FIELDS.x, y, FIELDS.w, one.h, fill=PANEL, edge=edge, edge_width=2.0, radius=6.0)
    canvas.text(say(f"layout.{one.name}"), FIELDS.x + 14.0, y + 33.0, 28.0, weight="bold")
    if one.has_half:
        icon(canvas, "caution", FIELDS.right - 26.0, y + 23.0, 26.0)
    elif one.more:
        canvas.text(one.more, FIELDS.right - 14.0, y + 32.0, 24.0, weight="medium", color=INK_2, anchor="right")


def _field(canvas: Canvas, field: FieldShown) -> None:
    x, y, is_half, is_given = FIELDS.x + 10.0, field.y, field.is_half, field.is_given
    canvas.text(field.label, x, y + 26.0, 24.0, weight="semibold" if is_given else "medium",
                color=INK if is_given else INK_2, width=VALUE_X - 16.0)  # fmt: skip
    fill = CAUTION_TINT if is_half else PANEL
    edge, wide = (INK, 3.5) if field.has_focus else (CAUTION if is_half else RULE, 1.5)
    label = min(VALUE_X - 16.0, canvas.text_width(field.label, 24.0))
    wide_text = canvas.text_width(field.text, 24.0, weight="bold") + 20.0
    across = min(max(VALUE_W, wide_text), VALUE_X + VALUE_W - label - 20.0)
    left = x + VALUE_X - 8.0 + VALUE_W - across
    canvas.box(left, y + 2.0, across, FIELD_H - 5.0, fill=fill, edge=edge, edge_width=wide, radius=5.0)
    shown, size = canvas.fitted(field.text, 24.0, across - 16.0, weight="bold")
    canvas.text(shown, left + across - 9.0, y + 26.0, size, weight="bold", anchor="right")


def _said(look: FieldsLook, y: float) -> Said:
    """Why a field's text was not taken, or what may be typed there."""
    sheet, key = look.sheet, look.focus.key
    half = sheet.half.get(key) if look.focus.area == "fields" else None
    text = half.why if half else sheet.fault
    if not text and look.typed is not None:
        typed = sheet.field(key)
        text = typed.allowed(sheet.system)
    if not text:
        given = sum(1 for one in sheet.fields if one.key in sheet.given)
        text = say("layout.given", count=given, all=len(sheet.fields))
    return Said(text, y, bool(half or sheet.fault))


def _sentence(canvas: Canvas, said: Said) -> None:
    y, is_bad = said.y, said.is_bad
    room = FIELDS.w - (60.0 if is_bad else 28.0)
    lines = lines_of(canvas, said.text, room, weight="medium", most=4)
    h = len(lines) * 30.0 + 16.0
    canvas.box(FIELDS.x, y, FIELDS.w, h, fill=CAUTION_TINT if is_bad else WASH, radius=6.0)
    if is_bad:
        icon(canvas, "caution", FIELDS.x + 24.0, y + 24.0, 26.0)
    for n, line in enumerate(lines):
        canvas.text(line, FIELDS.x + (46.0 if is_bad else 14.0), y + 32.0 + n * 30.0, 24.0, weight="medium",
                    width=room)  # fmt: skip

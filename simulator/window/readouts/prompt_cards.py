"""A glance aside while the lift goes on: what each seat is told in this step, and why the coach says what it says.

It lies over the upper part of the lower insets and leaves their figures, the floats and the clearances in sight; so it
needs no pause.
"""

from __future__ import annotations

from typing import NamedTuple

from simulator.window.kit.canvas import Canvas, Weight
from simulator.window.kit.icons import badge
from simulator.window.kit.palette import INK, INK_2, PANEL, RULE
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import Seen, SeenUnit, layout_of
from simulator.words import say

TOLD_S, ASKED_S = 8.0, 12.0
"""How long it stays: by itself when a step begins, and when somebody asked."""
FIGURE_H = 56.0
"""The inset's foot, with its figure, that stays in sight."""
SIZES, PITCH = (32.0, 28.0, 24.0), 1.12
"""Letters to choose from, and a line's height as a multiple of theirs."""


class PromptCardsLook(NamedTuple):
    """What it says."""

    seen: Seen
    told: tuple[str, ...]
    """From left to right; a seat that is told nothing has none."""
    key: str
    """The cap of the key that asks."""
    prompt: str = ""
    reason: str = ""
    """None unless somebody asked."""


class PromptCards:
    """Comes by itself with a step, and when it is asked for; goes by itself, or when it is asked for again."""

    def __init__(self) -> None:
        self._told_s = self._asked_s = 0.0
        self._step: object = None
        self._kept: tuple[PromptCardsLook, tuple[float, int, int], list[Canvas]] | None = None

    @property
    def is_asked(self) -> bool:
        """Somebody wants to know why."""
        return self._asked_s > 0.0

    @property
    def is_shown(self) -> bool:
        """Anything at all."""
        return self.is_asked or self._told_s > 0.0

    def ask(self) -> None:
        """Show it, or put it away."""
        self._asked_s = 0.0 if self.is_asked else ASKED_S
        self._told_s = 0.0

    def follow(self, elapsed_s: float, step: object) -> None:
        """Go on by a frame; `step` is another object as soon as another step has begun."""
        self._told_s, self._asked_s = max(0.0, self._told_s - elapsed_s), max(0.0, self._asked_s - elapsed_s)
        if step is not self._step:
            self._step, self._told_s = step, TOLD_S

    def draw(self, canvas: Canvas, look: PromptCardsLook) -> None:
        """Draws it; made anew only when it says something else."""
        where = (canvas.f, canvas.ox, canvas.oy)
        if self._kept is None or self._kept[:2] != (look, where):
            self._kept = look, where, _sheets(canvas, look)
        for sheet in self._kept[2]:
            canvas.paste(sheet)


def _sheets(canvas: Canvas, look: PromptCardsLook) -> list[Canvas]:
    sheets = []
    if any(look.told):
        sheets.append(_card(canvas, layout_of(look.seen).section))
        _draw_told(sheets[-1], look, layout_of(look.seen).section)
    if look.reason:
        sheets.append(_card(canvas, layout_of(look.seen).plan))
        _draw_reason(sheets[-1], look, layout_of(look.seen).plan)
    return sheets


def _card(canvas: Canvas, over: Region) -> Canvas:
    sheet = canvas.layer(over.x, over.y, over.w, over.h - FIGURE_H)
    sheet.rect(over.x, over.y, over.w, over.h - FIGURE_H, PANEL)
    sheet.box(over.x, over.y, over.w, over.h - FIGURE_H, fill=PANEL, edge=INK, edge_width=3.0, radius=6.0)
    return sheet


def _draw_told(sheet: Canvas, look: PromptCardsLook, over: Region) -> None:
    """Each seat's badge and text, as large as there is room; one text for all has all their badges."""
    x, y, room = over.x + 14.0, over.y + 12.0, over.w - 70.0
    foot = over.foot - FIGURE_H - 46.0
    by_text: dict[str, list[SeenUnit]] = {}
    for unit, text in zip(look.seen.units, look.told, strict=True):
        if text:
            by_text.setdefault(text, []).append(unit)
    size, texts = _fitting(sheet, list(by_text), room, foot - y - 12.0 * (len(by_text) - 1))
    for n, (units, lines) in enumerate(zip(by_text.values(), texts, strict=True)):
        if n:
            sheet.rect(x, y + 4.0, over.w - 28.0, 2.0, RULE)
            y += 12.0
        for k, unit in enumerate([] if look.seen.is_alone else units):
            badge(sheet, unit.side, x + 16.0, y + 18.0 + 38.0 * k, 32.0)
        y = _lines(sheet, lines, x if look.seen.is_alone else x + 42.0, y, room, size=size)
    width = draw_key(sheet, look.key, x, foot + 5.0, height=32.0, size=24.0)
    sheet.text(say("glance.ask"), x + width + 8.0, foot + 29.0, 24.0, color=INK_2, width=room + 28.0 - width)


def _draw_reason(sheet: Canvas, look: PromptCardsLook, over: Region) -> None:
    """The prompt, and under it the hand calculation."""
    x, y, room = over.x + 14.0, over.y + 10.0, over.w - 28.0
    size, (prompt, reason) = _fitting(sheet, [look.prompt, look.reason], room, over.h - FIGURE_H - 24.0)
    y = _lines(sheet, prompt, x, y, room, size=size, weight="bold")
    _lines(sheet, reason, x, y + (4.0 if prompt else 0.0), room, size=size)


def _fitting(sheet: Canvas, texts: list[str], room: float, height: float) -> tuple[float, list[list[str]]]:
    """The largest letters that the texts have room in, and their lines."""
    for size in SIZES:
        broken = [lines_of(sheet, text, room, size=size, weight="bold", most=12) for text in texts]
        if sum(map(len, broken)) * size * PITCH <= height:
            break
    return size, broken


def _lines(
    sheet: Canvas, lines: list[str], x: float, y: float, room: float, *, size: float, weight: Weight = "semibold"
) -> float:
    """Draws lines from a top; returns where the next would begin."""
    for line in lines:
        y += size * PITCH
        sheet.text(line, x, y - 0.12 * size, size, weight=weight, width=room)
    return y

"""The screen on which one's own unit is entered once: its numbers, its maker's chart, what is odd about it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line, draw_panel
from simulator.window.kit.icons import icon
from simulator.window.kit.palette import CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE
from simulator.window.kit.pieces import lines_of
from simulator.window.layout.board import edited
from simulator.window.layout.unit_entry import ASKED, CHART, Entry
from simulator.window.screens.screen import ENTER_KEYS, STAY, Go, Screen, Shell, StillScreen
from simulator.words import say

LEFT_W, ROW_H, TOP = 940.0, 32.4, 132.0
CHART_LINES, WORDS_W = 17, 880.0
LONGEST_CHART = 20_000
FOOT_KEYS = (
    ("layout.ctrl_v", "own_unit.key_paste"), ("layout.ctrl_s", "layout.key_save"), ("key.escape", "key.back"),
)  # fmt: skip


class OwnUnitScreen(StillScreen):
    """A form, beside it the chart and what is wrong."""

    def __init__(self, entry: Entry, back: Callable[[Shell], Screen]) -> None:
        self.entry, self._back = entry, back
        self.at = 0
        self.message = ""
        self.is_kept = False
        self.is_asked = False
        """Somebody wants to keep it: what is odd is answered first."""

    @property
    def key(self) -> str:
        """Of the answer that is typed."""
        return ASKED[self.at].key

    def take_event(self, event: pygame.event.Event) -> Go:
        """Keys, and a press on a row."""
        self._is_drawn = False
        if event.type == pygame.MOUSEBUTTONDOWN:
            self._press(*event.pos)
        if event.type != pygame.KEYDOWN:
            return STAY
        if self.is_asked and self.entry.oddities:
            self._answer(event)
        elif event.key == pygame.K_ESCAPE:
            return Go(self._back)
        elif event.mod & (pygame.KMOD_CTRL | pygame.KMOD_META):
            return self._control(event)
        else:
            self._type(event)
        return STAY

    def _press(self, x: float, y: float) -> None:
        row = int((y - TOP - 8.0) // ROW_H)
        if x > LEFT_W:
            self.at = len(ASKED) - 1
        elif 0 <= row < len(ASKED) - 1:
            self.at = row

    def _type(self, event: pygame.event.Event) -> None:
        texts, is_chart = self.entry.texts, self.key == CHART
        self.is_kept = False
        if event.key in (pygame.K_DOWN, pygame.K_TAB) or (event.key in ENTER_KEYS and not is_chart):
            self.at = (self.at + (-1 if event.mod & pygame.KMOD_SHIFT else 1)) % len(ASKED)
        elif event.key == pygame.K_UP:
            self.at = (self.at - 1) % len(ASKED)
        elif event.key in ENTER_KEYS:
            texts[CHART] += "\n"
        elif is_chart and event.key != pygame.K_BACKSPACE:
            texts[CHART] = (texts[CHART] + (event.unicode if event.unicode.isprintable() else ""))[:LONGEST_CHART]
        else:
            texts[self.key] = texts[self.key][:-1] if is_chart else edited(texts[self.key], event)

    def _control(self, event: pygame.event.Event) -> Go:
        if event.key == pygame.K_v:
            pasted = pygame.scrap.get_text().replace("\r\n", "\n").replace("\r", "\n")
            is_chart = self.key == CHART
            self.entry.texts[self.key] += pasted[:LONGEST_CHART] if is_chart else pasted.split("\n")[0][:40]
        elif event.key == pygame.K_s:
            self.is_asked = True
            self._keep()
        return STAY

    def _answer(self, event: pygame.event.Event) -> None:
        """One odd cell: the maker's chart has it so, or it is corrected."""
        odd = self.entry.oddities[0]
        if event.unicode.lower() == "p" and odd.may_be_printed:
            self.entry.say_printed(odd)
            self._keep()
        elif event.key == pygame.K_ESCAPE or event.key in ENTER_KEYS:
            self.is_asked, self.at = False, len(ASKED) - 1

    def _keep(self) -> None:
        """Keep it once nothing is odd and nothing wrong."""
        if self.entry.oddities:
            return
        self.is_asked = False
        if faults := self.entry.faults:
            self.message = say("own_unit.not_kept", count=len(faults))
            return
        try:
            self.message = say("own_unit.kept", path=self.entry.save(date.today().isoformat()))
            self.is_kept = True
        except OSError as why:
            self.message = say("layout.not_saved", why=str(why))

    def draw(self, canvas: Canvas) -> None:
        """Draws all of it."""
        canvas.clear(PAPER)
        canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
        canvas.text(say("own_unit.title"), 24.0, 48.0, 42.0, weight="bold")
        canvas.text(self.message or say("own_unit.about"), 24.0, 92.0, 26.0, weight="medium", color=INK_2, width=1860.0)
        draw_panel(canvas, 8.0, TOP - 4.0, LEFT_W - 8.0, 900.0)
        for number, one in enumerate(ASKED[:-1]):
            self._row(canvas, number, one.label, TOP + 8.0 + number * ROW_H)
        self._chart(canvas)
        self._words(canvas)
        draw_caution_line(canvas, FOOT_KEYS)

    def _row(self, canvas: Canvas, number: int, label: str, y: float) -> None:
        text, has_focus = self.entry.texts[ASKED[number].key], number == self.at
        is_wrong = bool(text) and bool(self.entry.why_not(ASKED[number].key))
        canvas.text(label, 24.0, y + 24.0, 24.0, weight="medium", color=INK_2, width=560.0)
        edge, wide = (INK, 3.5) if has_focus else (RULE, 1.5)
        fill = CAUTION_TINT if is_wrong else PANEL
        canvas.box(600.0, y + 1.0, 326.0, ROW_H - 4.0, fill=fill, edge=edge, edge_width=wide, radius=5.0)
        shown = text + ("|" if has_focus else "")
        canvas.text(shown, 612.0, y + 24.0, 24.0, weight="bold", width=304.0)

    def _chart(self, canvas: Canvas) -> None:
        x, has_focus = LEFT_W + 12.0, self.key == CHART
        canvas.text(say("own_unit.chart"), x + 12.0, TOP + 28.0, 28.0, weight="bold")
        canvas.box(x, TOP + 40.0, 960.0, 560.0, fill=PANEL, edge=INK if has_focus else RULE,
                   edge_width=3.5 if has_focus else 1.5, radius=6.0)  # fmt: skip
        lines = (self.entry.texts[CHART] + ("|" if has_focus else "")).split("\n")
        for n, line in enumerate(lines[-CHART_LINES:]):
            canvas.text(line.replace("\t", "    "), x + 14.0, TOP + 74.0 + n * 31.0, 24.0, weight="medium", width=930.0)

    def _words(self, canvas: Canvas) -> None:
        """An odd cell and its two answers; else what is wrong."""
        x, y = LEFT_W + 12.0, TOP + 616.0
        odd = self.entry.oddities[0] if self.is_asked and self.entry.oddities else None
        if odd is not None:
            words = [str(odd), say("own_unit.as_printed") if odd.may_be_printed else "", say("own_unit.correct")]
        else:
            own = self.entry.why_not(self.key) if self.entry.texts[self.key] else ""
            wrong = list(self.entry.faults) if self.message and not self.is_kept else []
            words = [own] if own else wrong or [self._example()]
        lines = [line for one in words if one for line in lines_of(canvas, one, WORDS_W, weight="medium", most=3)][:8]
        canvas.box(x, y, 960.0, 280.0, fill=CAUTION_TINT if odd else PANEL, edge=INK if odd else RULE, radius=6.0)
        if odd is not None:
            icon(canvas, "caution", x + 30.0, y + 30.0, 30.0)
        for n, line in enumerate(lines):
            canvas.text(line, x + 60.0, y + 40.0 + n * 31.0, 26.0, weight="medium", width=WORDS_W)

    def _example(self) -> str:
        one = ASKED[self.at]
        return say("own_unit.chart_how") if one.kind is None else one.field().allowed(self.entry.system)

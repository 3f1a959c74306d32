"""Sentences in boxes, in a list that scrolls: every fault of a scenario, or what a check of a set-up came to."""

from __future__ import annotations

from typing import NamedTuple

import pygame

from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_back, draw_caution_line, draw_head, is_back
from simulator.window.kit.icons import Mark, icon
from simulator.window.kit.measures_shown import System
from simulator.window.kit.palette import INK_2, PANEL, PAPER, RULE
from simulator.window.kit.pieces import lines_of
from simulator.window.kit.seen import seen_of
from simulator.window.protocols import Check, Verdict
from simulator.window.readouts.alert_words import as_seen
from simulator.window.readouts.looks import capital
from simulator.window.screens.screen import BACK, ENTER_KEYS, STAY, Go, StillScreen
from simulator.window.shell.lifts_on_offer import Offer
from simulator.words import say

TOP, FOOT, LEFT, WIDTH, LINE = 152.0, 1020.0, 48.0, 1824.0, 36.0
FOOT_KEYS = (("key.arrows", "key.scroll"), ("key.escape", "key.back"))
STEPS = {
    pygame.K_DOWN: 1, pygame.K_UP: -1, pygame.K_PAGEDOWN: 6, pygame.K_PAGEUP: -6, pygame.K_HOME: -10**6,
    pygame.K_END: 10**6,
}  # fmt: skip
MARKS: dict[str, Mark] = {"good": "tick", "caution": "caution", "stop": "stop", "note": "arrow"}


class Sentence(NamedTuple):
    """One sentence and its level: good, caution, stop, or a note."""

    level: str
    text: str


class LinesScreen(StillScreen):
    """Shows sentences, one box each; Esc or Enter goes back."""

    def __init__(self, title: str, words: str, lines: tuple[Sentence, ...]) -> None:
        self.title, self._words = title, words
        self.lines = lines
        self.first = 0
        """The one on top."""
        self._last = len(lines)
        self._is_drawn = False

    def take_event(self, event: pygame.event.Event) -> Go:
        """Arrows, page keys and the wheel scroll; Esc or Enter goes back."""
        if is_back(event):
            return BACK
        if event.type == pygame.MOUSEWHEEL:
            self._scroll(-event.y)
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key == pygame.K_ESCAPE or event.key in ENTER_KEYS:
            return BACK
        self._scroll(STEPS.get(event.key, 0))
        return STAY

    def _scroll(self, by: int) -> None:
        if by > 0 and self._last >= len(self.lines):
            return
        self.first = min(len(self.lines) - 1, max(0, self.first + by))
        self._is_drawn = False

    def draw(self, canvas: Canvas) -> None:
        """Draws as many as there is room for, from the first on."""
        canvas.clear(PAPER)
        draw_head(canvas, self.title, self._words, width=1500.0)
        draw_back(canvas)
        y, index = TOP, self.first
        while index < len(self.lines):
            rows = lines_of(canvas, self.lines[index].text, WIDTH - 190.0, size=28.0, most=5)
            height = LINE * len(rows) + 32.0
            if y + height > FOOT:
                break
            self._draw_line(canvas, index, rows, y, height)
            y, index = y + height + 12.0, index + 1
        self._last = index
        if self.lines:
            count = say("faults.shown", first=self.first + 1, last=index, count=len(self.lines))
            canvas.text(count, 1872.0, 98.0, 28.0, weight="medium", color=INK_2, anchor="right")
        draw_caution_line(canvas, FOOT_KEYS, left=48.0)

    def _draw_line(self, canvas: Canvas, index: int, rows: list[str], y: float, height: float) -> None:
        canvas.box(LEFT, y, WIDTH, height, fill=PANEL, edge=RULE, radius=8.0)
        icon(canvas, MARKS.get(self.lines[index].level, "tick"), LEFT + 42.0, y + height / 2.0, 40.0)
        canvas.digits(str(index + 1), LEFT + 104.0, y + height / 2.0 + 12.0, 34.0, anchor="center")
        for row, line in enumerate(rows):
            canvas.text(line, LEFT + 148.0, y + 44.0 + LINE * row, 28.0, width=WIDTH - 180.0)


def faults_screen(offer: Offer) -> LinesScreen:
    """Every fault of a scenario file."""
    lines = tuple(Sentence("caution", fault) for fault in offer.faults)
    return LinesScreen(say("faults.title", name=offer.name), say("faults.words"), lines)


def broken_screen(name: str, why: str) -> LinesScreen:
    """A recording cannot be read."""
    return LinesScreen(name, say("recordings.broken"), (Sentence("caution", why),))


def declined_screen(description: Description, check: Check, system: System) -> LinesScreen | None:
    """Why a lift is not driven; none where it may be tried."""
    why = Verdict(*check(description, system)).declined
    if not why:
        return None
    line = Sentence("stop", capital(as_seen(why, seen_of(description))))
    lift = retold(description.title, us=system == "us")
    return LinesScreen(say("setup.declined", lift=lift), say("setup.words"), (line,))


def check_screen(description: Description, check: Check, system: System) -> LinesScreen:
    """What a check of a set-up came to, the worst first."""
    verdict = Verdict(*check(description, system))
    title = say(
        "setup.within" if verdict.is_within_limits else "setup.does_not",
        lift=retold(description.title, us=system == "us"),
    )
    seen = seen_of(description)
    lines = tuple(Sentence(level, capital(as_seen(words, seen))) for level, words in verdict.lines)
    return LinesScreen(title, say("setup.words"), lines)

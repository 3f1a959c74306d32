"""What the load tells on the drive screen: its scales, the re-check that somebody asked for, and the card of it."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from simulator.attempt import Attempt
from simulator.drill.scales import Scales
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.icons import icon
from simulator.window.kit.measures_shown import System
from simulator.window.kit.palette import INK, PANEL, RULE
from simulator.window.kit.pieces import draw_level, lines_of
from simulator.window.kit.thresholds import Level
from simulator.window.protocols import Recheck, Rechecked
from simulator.window.readouts.weighing_panel import LEVELS, WeighLook, as_seen, weigh_look
from simulator.window.screens.screen import STAY, Go
from simulator.window.shell.lift import Lift
from simulator.words import say


class Weighing:
    """Follows one lift."""

    def __init__(self, description: Description, lift: Lift) -> None:
        self._description = description
        session = lift.session if isinstance(lift, Attempt) else None
        self.scales = session.scales if session is not None else Scales(description)
        self._is_shown_to = isinstance(lift, Attempt)
        if isinstance(lift, Attempt) and session is None:
            lift.observers.append(self.scales.see)
        self.told: Rechecked | None = None
        """What the last re-check came to, until the load is set down."""

    def follow(self, readings: Readings) -> None:
        """Take a frame's readings; what is only shown has no other observer."""
        if not self._is_shown_to:
            self.scales.see(readings)
        if self.scales.found is None:
            self.told = None

    def look(self, readings: Readings, system: System) -> WeighLook | None:
        """What the panel says."""
        return weigh_look(self.scales, readings, self._description, system, self.told)

    @property
    def prompt(self) -> str:
        """What the coach says of it; nothing outside the hold."""
        if self.scales.state != "held":
            return ""
        if self.scales.found is None:
            return say("weigh.coach_still")
        return self.told.words if self.told else say("weigh.coach_ask")

    def recheck(self, judge: Recheck | None, system: System, units_seen: Callable[[str], str]) -> Rechecked | None:
        """Judge the rest of the path with what was found; None where there is nothing to judge.

        Args:
            judge: who judges; nobody in a window that was opened without one.
            system: units of its sentences.
            units_seen: names units by the side they are seen on.
        """
        if judge is None or self.scales.reading is None:
            return None
        found = Rechecked(*judge(self._description, self.scales.reading, self.scales.errors, system))
        lines = tuple((level, as_seen(units_seen(text), self._description)) for level, text in found.lines)
        self.told = found._replace(words=as_seen(units_seen(found.words), self._description), lines=lines)
        return self.told


MOST_LINES = 13
MARKS = {"stop": Level.STOP, "caution": Level.CAUTION, "good": Level.GOOD}
CARD_KEYS = (("key.enter", "key.back"), ("key.escape", "key.back"))


class RecheckCard:
    """What speaks for what is to be done; any of its keys goes back to the lift."""

    def __init__(self, told: Rechecked) -> None:
        self._told = told

    def take_event(self, event: pygame.event.Event) -> Go:
        """Enter, Esc or the mouse go back."""
        keys = (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_ESCAPE)
        is_back = event.type == pygame.MOUSEBUTTONDOWN or (event.type == pygame.KEYDOWN and event.key in keys)
        return Go("back") if is_back else STAY

    def draw(self, canvas: Canvas) -> None:
        """Draws the card in the middle, on a veil that was laid before."""
        x, y, w, h = 360.0, 150.0, 1200.0, 850.0
        canvas.box(x, y, w, h, fill=PANEL, edge=INK, radius=10.0)
        canvas.text(say("weigh.card_title"), x + 40.0, y + 66.0, 40.0, weight="bold", width=w - 80.0)
        self._do(canvas, x + 40.0, y + 122.0, w - 80.0)
        canvas.rect(x + 40.0, y + 146.0, w - 80.0, 2.0, RULE)
        top, drawn = y + 160.0, 0
        for n, (level, sentence) in enumerate(self._told.lines):
            lines = lines_of(canvas, sentence, w - 130.0, size=26.0, most=4)
            if drawn + len(lines) > MOST_LINES + 4:
                more = say("weigh.card_more", count=len(self._told.lines) - n)
                canvas.text(more, x + 90.0, top + 28.0, 26.0, width=w - 130.0)
                break
            self._mark(canvas, level, x + 56.0, top + 20.0)
            for line in lines:
                canvas.text(line, x + 90.0, top + 28.0, 26.0, width=w - 130.0)
                top += 34.0
            top, drawn = top + 8.0, drawn + len(lines)
        draw_caution_line(canvas, CARD_KEYS[:1])

    def _do(self, canvas: Canvas, x: float, y: float, w: float) -> None:
        level = LEVELS.get(self._told.do, Level.STOP)
        self._mark(
            canvas, {Level.GOOD: "good", Level.CAUTION: "caution", Level.STOP: "stop"}[level], x + 18.0, y - 12.0
        )
        canvas.text(self._told.words, x + 50.0, y, 32.0, weight="bold", width=w - 50.0)

    def _mark(self, canvas: Canvas, level: str, x: float, y: float) -> None:
        if level == "good":
            icon(canvas, "tick", x, y, 28.0)
        elif level in MARKS:
            draw_level(canvas, MARKS[level], x, y, 30.0)

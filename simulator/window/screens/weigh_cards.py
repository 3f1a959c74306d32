"""What the load tells on the drive screen: its scales, the re-check that somebody asked for, and the card of it."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from simulator.attempt import Attempt
from simulator.drill.naming import ENDS, SIDES, Answer
from simulator.drill.scales import Scales
from simulator.mechanics.weighing_lift import papers_of, tells_across
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.measures import POUND_N, TONNE_N
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.icons import icon
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.palette import INK, INK_2, PANEL, RULE
from simulator.window.kit.pieces import draw_level, draw_row, lines_of
from simulator.window.kit.regions import screen_sign
from simulator.window.protocols import Recheck, ToldRecheck
from simulator.window.readouts.weighing_panel import LEVELS, WeighLook, as_seen, weigh_look
from simulator.window.screens.screen import BACK, STAY, Go, StillScreen
from simulator.window.shell.lift import Lift
from simulator.words import say


class Weighing:
    """Follows one lift."""

    def __init__(self, description: Description, lift: Lift) -> None:
        self._description = description
        session = self._session = lift.session if isinstance(lift, Attempt) else None
        self.scales = session.scales if session is not None else Scales(description)
        self._is_shown_to = isinstance(lift, Attempt)
        if isinstance(lift, Attempt) and session is None:
            lift.observers.append(self.scales.see)
        self.told: ToldRecheck | None = None
        """What the last re-check came to, until the load is set down."""

    def follow(self, readings: Readings) -> None:
        """Take a frame's readings; what is only shown has no other observer."""
        if not self._is_shown_to:
            self.scales.see(readings)
        if self.scales.found is None:
            self.told = None

    @property
    def is_hidden(self) -> bool:
        """The pair is yet to say it themselves."""
        return self._session is not None and self._session.is_to_be_named and self.scales.state != "on the bed"

    @property
    def asks(self) -> bool:
        """The drill waits for the pair to name its load."""
        return self._session is not None and self._session.asks

    def say_to(self, attempt: Attempt) -> Callable[[Answer], None]:
        """Tells the drill what the pair says of its load, if it still asks."""
        return lambda answer: attempt.answer(answer) if self.asks else None

    def look(self, readings: Readings, system: System) -> WeighLook | None:
        """What the panel says."""
        if self.is_hidden:
            return None
        return weigh_look(self.scales, readings, self._description, system, self.told)

    @property
    def prompt(self) -> str:
        """What the coach says of it; nothing outside the hold."""
        if self.scales.state != "held":
            return ""
        if self.scales.found is None:
            return say("weigh.coach_still")
        return self.told.words if self.told else say("weigh.coach_ask")

    def recheck(self, judge: Recheck | None, system: System, units_seen: Callable[[str], str]) -> ToldRecheck | None:
        """Judge the rest of the path with what was found; None where there is nothing to judge.

        Args:
            judge: who judges; nobody in a window that was opened without one.
            system: units of its sentences.
            units_seen: names units by the side they are seen on.
        """
        if judge is None or self.scales.reading is None or self.is_hidden:
            return None
        found = ToldRecheck(*judge(self._description, self.scales.reading, self.scales.errors, system))
        lines = tuple((level, as_seen(units_seen(text), self._description)) for level, text in found.lines)
        self.told = found._replace(words=as_seen(units_seen(found.words), self._description), lines=lines)
        return self.told


class AnswerCard(StillScreen):
    """What the pair says of its load: weight, heavy end, heavy side where two lines tell it, on or down; arrows choose
    and change, digits type a weight."""

    is_card = True

    def __init__(self, description: Description, system: System, say_it: Callable[[Answer], object]) -> None:
        self._description, self._system, self._say_it = description, system, say_it
        self.row = 0
        self._steps = round(papers_of(description).weight_N / self._step_N)
        self._typed = ""
        self._end, self._side = ENDS.index("even"), SIDES.index("even")
        self._rows = (*ROWS[:2], *(["side"] if tells_across(description) else []), *ROWS[2:])
        self._goes_on = False

    @property
    def _step_N(self) -> float:
        return STEP_N[self._system]

    @property
    def answer(self) -> Answer:
        """As it stands."""
        weight_N = float(self._typed) * TYPED_N[self._system] if self._typed else self._steps * self._step_N
        side = SIDES[self._side] if "side" in self._rows else None
        return Answer(max(weight_N, 1.0), ENDS[self._end], self._goes_on, side)

    def take_event(self, event: pygame.event.Event) -> Go:
        """Up and down choose a row, left and right change it, digits type the weight, Enter says it, Esc goes back."""
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self._say_it(self.answer)
            return BACK
        if event.key == pygame.K_ESCAPE:
            return BACK
        if event.key in (pygame.K_UP, pygame.K_DOWN, pygame.K_TAB):
            self.row = (self.row + (-1 if event.key == pygame.K_UP else 1)) % len(self._rows)
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change(1 if event.key == pygame.K_RIGHT else -1)
        if event.key == pygame.K_BACKSPACE:
            self._typed = self._typed[:-1]
        self._type(getattr(event, "unicode", ""))
        return STAY

    def _type(self, letter: str) -> None:
        longer = self._typed + letter
        is_number = letter.isascii() and (
            letter.isdigit() or (letter == "." and "." not in self._typed and self._typed)
        )
        if letter and is_number and len(longer) <= MOST_DIGITS:
            self.row, self._typed = 0, longer

    def _change(self, way: int) -> None:
        row = self._rows[self.row]
        if row == "weight":
            self._steps = max(1, round(self.answer.weight_N / self._step_N) + way)
            self._typed = ""
        elif row == "end":
            seen_way = way if screen_sign(self._description) > 0.0 else -way
            order = (ENDS.index("nose"), ENDS.index("even"), ENDS.index("tail"))
            self._end = order[max(0, min(2, order.index(self._end) + seen_way))]
        elif row == "side":  # road on the left, as in the section
            order = (SIDES.index("road"), SIDES.index("even"), SIDES.index("ravine"))
            self._side = order[max(0, min(2, order.index(self._side) + way))]
        else:
            self._goes_on = not self._goes_on

    def draw(self, canvas: Canvas) -> None:
        """Draws the card in the middle, on a veil that was laid before: line loads stay in sight beside it."""
        more = ROW_H * (len(self._rows) - len(ROWS))
        x, y, w, h = 560.0, 330.0 - more / 2.0, 800.0, 450.0 + more
        canvas.box(x, y, w, h, fill=PANEL, edge=INK, radius=10.0)
        canvas.text(say("weigh.name_title"), x + 40.0, y + 66.0, 40.0, weight="bold", width=w - 80.0)
        heavy = {"nose": "end_nose", "tail": "end_tail", "even": "name_even"}[self.answer.heavy]
        side = {"road": "side_road", "ravine": "side_ravine", "even": "name_even"}[SIDES[self._side]]
        weight = self._typed + " " + shown.load(1.0, self._system).unit if self._typed else ""
        texts = {
            "weight": (say("weigh.name_weight"), weight or shown.load(self.answer.weight_N, self._system).joined),
            "end": (say("weigh.name_heavy"), as_seen(say(f"weigh.{heavy}"), self._description)),
            "side": (say("weigh.name_side"), say(f"weigh.{side}")),
            "then": (say("weigh.name_then"), say("weigh.name_on" if self._goes_on else "weigh.name_down")),
        }
        for n, (label, value) in enumerate(texts[row] for row in self._rows):
            top = y + 96.0 + ROW_H * n
            draw_row(canvas, label, x + 40.0, top, w - 80.0, is_chosen=n == self.row)
            ink = PANEL if n == self.row else INK
            canvas.text(value, x + w - 66.0, top + 45.0, 34.0, weight="bold", color=ink, anchor="right", width=430.0)
        canvas.text(say("weigh.name_change"), x + 40.0, y + h - 26.0, 26.0, color=INK_2, width=w - 80.0)
        draw_caution_line(canvas, ANSWER_KEYS)


STEP_N: dict[System, float] = {"metric": 0.1 * TONNE_N, "us": 200.0 * POUND_N}
TYPED_N: dict[System, float] = {"metric": TONNE_N, "us": POUND_N}
"""What a typed number is in: tonnes, or pounds."""
ROWS, ROW_H, MOST_DIGITS = ("weight", "end", "then"), 104.0, 7
ANSWER_KEYS = (("key.arrows", "key.choose"), ("key.enter", "weigh.name_say"), ("key.escape", "key.back"))
MOST_LINES = 13
MARKS = {"stop": Level.STOP, "caution": Level.CAUTION, "good": Level.GOOD}
CARD_KEYS = (("key.enter", "key.back"), ("key.escape", "key.back"))


class RecheckCard(StillScreen):
    """What speaks for what is to be done; any of its keys goes back to the lift."""

    is_card = True

    def __init__(self, told: ToldRecheck) -> None:
        self._told = told

    def take_event(self, event: pygame.event.Event) -> Go:
        """Enter, Esc or the mouse go back."""
        keys = (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_ESCAPE)
        is_back = event.type == pygame.MOUSEBUTTONDOWN or (event.type == pygame.KEYDOWN and event.key in keys)
        return BACK if is_back else STAY

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

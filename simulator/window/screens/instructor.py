"""The instructor's panel over the lift: pause, stop, step back, hide and show, and what goes wrong on purpose.

To open it pauses the lift, and an act closes it and goes on: the panel needs the arrows and Enter, nobody should hold a
hanging load meanwhile by levers that no longer answer, and what was put in is then seen from its first moment.
"""

from __future__ import annotations

import pygame

from simulator.attempt import Attempt
from simulator.drill.instruction import LASTS_S, RANGES, refuse_wild
from simulator.window.canvas import Canvas
from simulator.window.lift import Lift
from simulator.window.measures_shown import System
from simulator.window.screens.cards import ENTER_KEYS
from simulator.window.screens.instructor_acts import Act, acts, instruction
from simulator.window.screens.instructor_view import draw_instructor
from simulator.window.screens.screen import STAY, Go
from simulator.window.screens.spots import Spots
from simulator.words import say


class InstructorPanel:
    """Arrows choose a row and its amount, Tab goes to the other column, Enter does it, Esc goes back."""

    def __init__(self, lift: Lift, ends: tuple[int, int], system: System) -> None:
        self.lift, self.system = lift, system
        self.columns = acts(lift, ends)
        self.chosen = 0
        """Row, counted through both columns."""
        self.refused = ""
        """Why the last press was refused, in a sentence."""
        self.spots: Spots[tuple[int, int]] = Spots()
        """Row, and -1 or 1 for less or more, 0 to do it."""
        self._counts = [
            act.scale.first[system] if act.scale is not None else max(0, len(act.turns) - 1) for act in self.rows
        ]

    @property
    def rows(self) -> tuple[Act, ...]:
        """All rows."""
        return (*self.columns[0], *self.columns[1])

    def amount(self, row: int, *, more: int = 0) -> float:
        """A row's amount in SI, or what it would be after so many presses more."""
        act, count = self.rows[row], self._counts[row] + more
        if act.scale is not None:
            return count * act.scale.step[self.system]
        return act.turns[min(len(act.turns) - 1, max(0, count))] if act.turns else 0.0

    def amount_shown(self, row: int) -> str:
        """In the user's units; empty for a row without one."""
        act = self.rows[row]
        if act.scale is not None:
            value = act.scale.show(self.amount(row), self.system)
            return say("instructor.lasts", value=value, seconds=f"{LASTS_S:g}") if act.kind == "gust" else value
        session = self.lift.session if isinstance(self.lift, Attempt) else None
        if not act.turns or session is None:
            return ""
        index = int(self.amount(row))
        return say("instructor.step_number", number=index + 1, title=session.drill.steps[index].title)

    def take_event(self, event: pygame.event.Event) -> Go:
        """Answers back when it is done with."""
        if event.type == pygame.MOUSEBUTTONDOWN and (found := self.spots.at(event.pos)) is not None:
            self.chosen, turn = found
            return self._turn(turn) if turn else self._do()
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key == pygame.K_ESCAPE:
            return Go("back")
        if event.key in ENTER_KEYS:
            return self._do()
        if event.key == pygame.K_TAB:
            first = len(self.columns[0])
            self.chosen = first if self.chosen < first else 0
        elif event.key in (pygame.K_DOWN, pygame.K_UP):
            self.chosen = (self.chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.rows)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            return self._turn(-1 if event.key == pygame.K_LEFT else 1)
        self.refused = ""
        return STAY

    def _turn(self, by: int) -> Go:
        """Less or more; what no lift could take is refused."""
        act = self.rows[self.chosen]
        self.refused = self._refusal(act, self.amount(self.chosen, more=by))
        if not self.refused:
            most = len(act.turns) - 1 if act.scale is None else 10**6
            self._counts[self.chosen] = min(most, max(-(10**6) if act.scale else 0, self._counts[self.chosen] + by))
        return STAY

    def _refusal(self, act: Act, amount: float) -> str:
        try:
            refuse_wild(instruction(act, amount))
        except ValueError as error:
            if act.scale is None or act.kind not in RANGES:
                return str(error)
            value, low, high = (act.scale.show(one, self.system) for one in (amount, *RANGES[act.kind]))
            return say("instructor.refused", what=say(f"instructor.{act.name}"), value=value, low=low, high=high)
        return ""

    def _do(self) -> Go:
        """The chosen act, now; what the lift refuses is said."""
        act = self.rows[self.chosen]
        try:
            self.lift.instruct(instruction(act, self.amount(self.chosen)))
        except ValueError as error:
            self.refused = str(error)
            return STAY
        return Go("back")

    def draw(self, canvas: Canvas) -> None:
        """Draws the panel on a veil that was laid before."""
        draw_instructor(canvas, self)

"""The seat check: keys and gamepads light up as they arrive, before anything hangs on them."""

from __future__ import annotations

import pygame

from simulator.window.bindings import SEATS, Labels, Seat
from simulator.window.canvas import Canvas
from simulator.window.gamepads import find_gamepads
from simulator.window.key_check import KeyCheck
from simulator.window.lift import Choice, people
from simulator.window.screens.cards import ENTER_KEYS
from simulator.window.screens.screen import STAY, Go
from simulator.window.screens.seat_check_view import draw_seat_check


class SeatCheck:
    """Between the start screen and the lift; Enter goes on, Esc goes back."""

    def __init__(self, choice: Choice) -> None:
        self.choice = choice
        self.labels = Labels()
        self.seats: tuple[Seat, ...] = people(choice.who)
        self.pads = find_gamepads(self.seats)
        self.keys = self._key_check()
        self._is_drawn = False

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        return True

    def _key_check(self) -> KeyCheck:
        """Whoever has a gamepad is not asked for keys."""
        return KeyCheck(tuple(seat for seat in SEATS if seat in self.seats and seat not in self.pads))

    def take_event(self, event: pygame.event.Event) -> Go:
        """Follow the keys; Enter goes on, Esc back."""
        self._is_drawn = self._is_drawn and event.type == pygame.MOUSEMOTION
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self.pads = find_gamepads(self.seats)
            self.keys = self._key_check()
        elif event.type == pygame.KEYDOWN:
            return self._press(event)
        elif event.type == pygame.KEYUP:
            self.keys.release(event.scancode)
        elif event.type == pygame.WINDOWFOCUSLOST:
            self.keys.let_go()
        elif event.type == pygame.MOUSEBUTTONDOWN and event.pos[0] > 1400.0 and event.pos[1] < 118.0:
            return Go("lift", self.choice)
        return STAY

    def _press(self, event: pygame.event.Event) -> Go:
        if event.key in ENTER_KEYS:
            return Go("lift", self.choice)
        if event.key == pygame.K_ESCAPE:
            return Go("start", self.choice)
        self.labels.learn(event.scancode, event.key)
        self.keys.press(event.scancode)
        return STAY

    def renew(self, canvas: Canvas) -> None:
        """Draw it again."""
        self._is_drawn = False

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed; always where there are gamepads, whose sticks move."""
        changed = self.keys.pass_time(elapsed_s)
        if self._is_drawn and not changed and not self.pads:
            return False
        draw_seat_check(canvas, self.keys, self.labels, self.seats, self.pads)
        self._is_drawn = True
        return True

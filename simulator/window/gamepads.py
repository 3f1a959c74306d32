"""Gamepads: sticks and triggers to what a seat asks for."""

from __future__ import annotations

from math import copysign
from typing import NamedTuple, Protocol

import pygame

from simulator.engine.commands import UnitCommands
from simulator.window.bindings import SEATS, Seat

DEAD_ZONE = 0.15
"""Share of a stick's travel that does nothing. Common practice, no source."""
LEFT_X, LEFT_Y, LEFT_TRIGGER, RIGHT_Y, RIGHT_TRIGGER = 0, 1, 2, 4, 5
STOP_BUTTON, SHOULDERS, VIEW_BUTTON, MENU_BUTTON = 0, (4, 5), 6, 7


class PadState(NamedTuple):
    """One gamepad now."""

    wanted: UnitCommands
    creep: bool
    stop: bool


NOT_TOUCHED = PadState(UnitCommands(), False, False)


class Pad(Protocol):
    """Anything that answers like a gamepad."""

    def state(self) -> PadState:
        """Sticks and buttons now."""
        ...


def respond(travel: float) -> float:
    """Command of a stick's travel in [-1, 1]: nothing inside the dead zone, squared beyond it."""
    beyond = (abs(travel) - DEAD_ZONE) / (1.0 - DEAD_ZONE)
    return copysign(min(1.0, beyond) ** 2, travel) if beyond > 0.0 else 0.0


class Gamepad:
    """A pygame joystick in one seat; the stick pushed away from the other truck slews toward the ravine."""

    def __init__(self, joystick: pygame.joystick.JoystickType, seat: Seat) -> None:
        self.joystick = joystick
        self._away = -1.0 if seat == "left" else 1.0
        self._triggers_moved: set[int] = set()

    def state(self) -> PadState:
        """Sticks and buttons now."""
        wanted = UnitCommands(
            hoist=respond(-self._axis(RIGHT_Y)),
            telescope=respond(self._trigger(RIGHT_TRIGGER) - self._trigger(LEFT_TRIGGER)),
            elevation=respond(-self._axis(LEFT_Y)),
            slew=-self._away * respond(self._axis(LEFT_X)),
        )
        creep = any(self._button(number) for number in SHOULDERS)
        return PadState(wanted, creep, self._button(STOP_BUTTON))

    def _axis(self, number: int) -> float:
        return self.joystick.get_axis(number) if number < self.joystick.get_numaxes() else 0.0

    def _trigger(self, number: int) -> float:
        # A trigger rests at -1 but reads 0 until it is first moved.
        value = self._axis(number)
        if value != 0.0:
            self._triggers_moved.add(number)
        return (value + 1.0) / 2.0 if number in self._triggers_moved else 0.0

    def _button(self, number: int) -> bool:
        return number < self.joystick.get_numbuttons() and bool(self.joystick.get_button(number))


def find_gamepads() -> dict[Seat, Pad]:
    """The connected gamepads: the first goes to the right seat when it is the only one, else left, right."""
    pygame.joystick.init()
    found = [pygame.joystick.Joystick(number) for number in range(min(2, pygame.joystick.get_count()))]
    seats: tuple[Seat, ...] = SEATS if len(found) > 1 else ("right",)
    return {seat: Gamepad(joystick, seat) for seat, joystick in zip(seats, found, strict=False)}

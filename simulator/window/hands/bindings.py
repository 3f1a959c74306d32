"""One table of bindings over the engine's functions: keys, help screen and fix chips all read it."""

from __future__ import annotations

from typing import Literal, NamedTuple

import pygame

from simulator.scenario.description import Description

Seat = Literal["left", "right"]
SEATS: tuple[Seat, Seat] = ("left", "right")


class Binding(NamedTuple):
    """One direction of one function, and the key of each seat that drives it (by place on the keyboard)."""

    function: str
    sign: int
    """+1 is up, out, up, toward the road."""
    left: int
    right: int

    @property
    def word(self) -> str:
        """Last part of this direction's key in the file of words, such as `slew_down`."""
        return f"{self.function}_{'up' if self.sign > 0 else 'down'}"

    def scancode(self, seat: Seat) -> int:
        """The key of `seat`."""
        return self.left if seat == "left" else self.right


BINDINGS: tuple[Binding, ...] = (
    Binding("hoist", +1, pygame.KSCAN_R, pygame.KSCAN_U),
    Binding("hoist", -1, pygame.KSCAN_F, pygame.KSCAN_J),
    Binding("telescope", +1, pygame.KSCAN_E, pygame.KSCAN_I),
    Binding("telescope", -1, pygame.KSCAN_Q, pygame.KSCAN_P),
    Binding("elevation", +1, pygame.KSCAN_W, pygame.KSCAN_O),
    Binding("elevation", -1, pygame.KSCAN_S, pygame.KSCAN_L),
    Binding("slew", +1, pygame.KSCAN_D, pygame.KSCAN_K),
    Binding("slew", -1, pygame.KSCAN_A, pygame.KSCAN_SEMICOLON),
)
CREEP: dict[Seat, int] = {"left": pygame.KSCAN_LSHIFT, "right": pygame.KSCAN_RSHIFT}
STOP_KEY = pygame.KSCAN_SPACE
WHY_KEY = pygame.KSCAN_Y
"""Asks for the coach's reason."""

_PRINTED = {
    **{getattr(pygame, f"KSCAN_{letter}"): letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"},
    pygame.KSCAN_SEMICOLON: ";",
    pygame.KSCAN_COMMA: ",",
    pygame.KSCAN_PERIOD: ".",
    pygame.KSCAN_SLASH: "/",
}


class Labels:
    """What is printed on the user's keys: learnt from each key as it is pressed, a US keyboard until then."""

    def __init__(self) -> None:
        self._printed = dict(_PRINTED)

    def learn(self, scancode: int, key: int) -> None:
        """Take the label of a key that was pressed."""
        name = str(pygame.key.name(key)).upper()
        if scancode in self._printed and 0 < len(name) <= 2:
            self._printed[scancode] = name

    def of(self, scancode: int) -> str:
        """The label of the key at `scancode`."""
        printed: str = self._printed.get(scancode, "")
        return printed


def end_of_seat(description: Description, seat: Seat) -> Literal["nose", "tail"]:
    """Which unit a seat drives: left is the unit seen on the left from the ravine."""
    nose_seat = description.site.nose_seen_from_ravine
    return "nose" if seat == nose_seat else "tail"


def find_binding(function: str, sign: int) -> Binding:
    """The binding of one direction of one function."""
    return next(row for row in BINDINGS if row.function == function and row.sign == sign)

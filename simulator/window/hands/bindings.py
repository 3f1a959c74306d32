"""One table of bindings over the rig's levers: keys, help screen, README and fix chips all read it.

The keys of a seat lie under one hand. Lines have the columns under its forefinger: line 1 R/F and U/J, line 2 the ones
beside them toward the middle of the keyboard, T/G and Y/H. *Both* lies at the foot beside the slow key, the inner
key up (X, Z and full stop, slash), so that the forefinger stays free for slew, boom and telescope, which go with it.
*Turn* lies over the columns of the lines, out of the way of all that is pressed every minute: the digit over a line's
column takes that line in and lets the other out (5 and 6 line 2, 4 and 7 line 1), one key a seat, with the slow key.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

import pygame

from simulator.scenario.rig import Lever, RigUnit
from simulator.window.kit.seen import Seen, SeenUnit

Seat = Literal["left", "right"]
SEATS: tuple[Seat, Seat] = ("left", "right")


class Binding(NamedTuple):
    """One direction of one lever, and the key of each seat that moves it (by place on the keyboard)."""

    lever: str
    """Key of the lever: `hoist`, `hoist_2`, `slew`, `turn`."""
    sign: int
    """+1 is up, out, up, toward the road; turned the way that takes line 2 in."""
    left: int
    right: int

    @property
    def word(self) -> str:
        """Last part of this direction's key in the file of words, such as `slew_down`."""
        return f"{self.lever}_{'up' if self.sign > 0 else 'down'}"

    def scancode(self, seat: Seat) -> int:
        """The key of `seat`."""
        return self.left if seat == "left" else self.right


BINDINGS: tuple[Binding, ...] = (
    Binding("hoist", +1, pygame.KSCAN_R, pygame.KSCAN_U),
    Binding("hoist", -1, pygame.KSCAN_F, pygame.KSCAN_J),
    Binding("hoist_1", +1, pygame.KSCAN_R, pygame.KSCAN_U),
    Binding("hoist_1", -1, pygame.KSCAN_F, pygame.KSCAN_J),
    Binding("hoist_2", +1, pygame.KSCAN_T, pygame.KSCAN_Y),
    Binding("hoist_2", -1, pygame.KSCAN_G, pygame.KSCAN_H),
    Binding("telescope", +1, pygame.KSCAN_E, pygame.KSCAN_I),
    Binding("telescope", -1, pygame.KSCAN_Q, pygame.KSCAN_P),
    Binding("elevation", +1, pygame.KSCAN_W, pygame.KSCAN_O),
    Binding("elevation", -1, pygame.KSCAN_S, pygame.KSCAN_L),
    Binding("slew", +1, pygame.KSCAN_D, pygame.KSCAN_K),
    Binding("slew", -1, pygame.KSCAN_A, pygame.KSCAN_SEMICOLON),
    Binding("both", +1, pygame.KSCAN_X, pygame.KSCAN_PERIOD),
    Binding("both", -1, pygame.KSCAN_Z, pygame.KSCAN_SLASH),
    Binding("turn", +1, pygame.KSCAN_5, pygame.KSCAN_6),
    Binding("turn", -1, pygame.KSCAN_4, pygame.KSCAN_7),
)
KEY_SHARES = {"turn": 0.32}
"""What a key gives of a lever where full is more than anyone wants: of the turn 0.08 m/s of each line at the usual
winch, and with the slow key what the last corner takes. A stick gives all of it. Our choice, no source."""
CREEP: dict[Seat, int] = {"left": pygame.KSCAN_LSHIFT, "right": pygame.KSCAN_RSHIFT}
STOP_KEY = pygame.KSCAN_SPACE
WHY_KEY = pygame.KSCAN_C
"""Asks for the coach's reason."""

_PRINTED = {
    **{getattr(pygame, f"KSCAN_{letter}"): letter for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"},
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


def seat_of(unit: SeenUnit) -> Seat:
    """The seat that drives a unit: on the side where it is seen."""
    return SEATS[unit.side]


def seats_of(seen: Seen) -> tuple[Seat, ...]:
    """The seats of a lift, from left to right."""
    return tuple(seat_of(unit) for unit in seen.units)


def unit_of(seen: Seen, seat: Seat) -> SeenUnit | None:
    """The unit that a seat drives; none where nobody needs to sit there."""
    return seen.on(SEATS.index(seat))


def keys_of(lever: Lever) -> tuple[Binding, Binding]:
    """The two ways of a lever: up first."""
    return find_binding(lever.key, +1), find_binding(lever.key, -1)


def bindings_of(unit: RigUnit) -> Iterator[Binding]:
    """Every key of the seat that drives this unit, lever by lever."""
    for lever in unit.levers:
        yield from keys_of(lever)


def find_binding(lever: str, sign: int) -> Binding:
    """The binding of one direction of one lever."""
    return next(row for row in BINDINGS if row.lever == lever and row.sign == sign)

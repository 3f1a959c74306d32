"""Which keys arrive together: cheap keyboards cannot send some groups of keys, and nobody is told."""

from __future__ import annotations

from typing import NamedTuple

from simulator.window.hands.bindings import BINDINGS, CREEP, STOP_KEY, Seat, find_binding

TOGETHER_S = 0.3
"""All asked for and down this long have arrived together."""
MISSING_S = 2.0
"""All but one down this long: the last one does not arrive."""
ROUNDS = ((("hoist", 1), ("slew", -1)), (("elevation", 1), ("telescope", 1)))
"""Two keys for each seat, round by round: the functions that are most often moved together."""


class Asked(NamedTuple):
    """One key that a seat is asked to hold."""

    seat: Seat
    scancode: int
    word: str


def asked_keys(seats: tuple[Seat, ...], turn: int) -> tuple[Asked, ...]:
    """The keys of a round for the seats that have people at keys."""
    rows = [find_binding(function, sign) for function, sign in ROUNDS[turn]]
    return tuple(Asked(seat, row.scancode(seat), row.word) for seat in seats for row in rows)


class KeyCheck:
    """Follows presses, and goes through the rounds."""

    def __init__(self, seats: tuple[Seat, ...]) -> None:
        self.held: set[int] = set()
        self.seen: set[int] = set()
        """Keys that arrived at least once."""
        self.turn = 0
        self.missing: Asked | None = None
        """The key that did not arrive with the others."""
        self._seats = seats
        self._since_s = 0.0

    @property
    def asked(self) -> tuple[Asked, ...]:
        """The keys to hold now; none when all rounds are done."""
        return () if self.done else asked_keys(self._seats, self.turn)

    @property
    def done(self) -> bool:
        """Every round arrived."""
        return self.turn >= len(ROUNDS) or not self._seats

    def press(self, scancode: int) -> None:
        """A key went down."""
        self.held.add(scancode)
        self.seen.add(scancode)
        self._since_s = 0.0
        if self.missing and scancode == self.missing.scancode:
            self.missing = None

    def release(self, scancode: int) -> None:
        """A key came up."""
        self.held.discard(scancode)
        self._since_s = 0.0

    def let_go(self) -> None:
        """The window lost the keyboard."""
        self.held.clear()

    def pass_time(self, elapsed_s: float) -> bool:
        """Go on for a frame; True when a round is over or a key turns out to be missing."""
        if self.done:
            return False
        self._since_s += elapsed_s
        absent = [row for row in self.asked if row.scancode not in self.held]
        if not absent and self._since_s >= TOGETHER_S:
            self.turn, self._since_s, self.missing = self.turn + 1, 0.0, None
            return True
        if len(absent) == 1 and len(self.asked) > 1 and self._since_s >= MISSING_S and self.missing != absent[0]:
            self.missing = absent[0]
            return True
        return False


def seat_scancodes() -> frozenset[int]:
    """Every key that belongs to a seat, and the stop key."""
    keys = {row.scancode(seat) for row in BINDINGS for seat in ("left", "right")}
    return frozenset(keys | set(CREEP.values()) | {STOP_KEY})

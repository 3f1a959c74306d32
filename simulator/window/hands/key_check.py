"""Which keys arrive together: cheap keyboards cannot send some groups of keys, and nobody is told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from simulator.scenario.rig import RigUnit
from simulator.window.hands.bindings import CREEP, Seat, find_binding, seat_of
from simulator.window.kit.seen import Seen

TOGETHER_S = 0.3
"""All asked for and down this long have arrived together."""
MISSING_S = 2.0
"""All but one down this long: the last one does not arrive."""
SLOW = "slow"
"""Stands for the seat's slow key among the levers."""


class AskedKey(NamedTuple):
    """One key that a seat is asked to hold."""

    seat: Seat
    scancode: int
    word: str
    """Of what it does, in the file of words."""


Held = tuple[tuple[str, int], ...]
"""Levers that one person moves at the same time, each with its way."""


def held_together(unit: RigUnit) -> tuple[Held, ...]:
    """What one person holds at the same time in earnest, the most usual first.

    Carrying across takes line and slew, then boom and telescope. With two lines, both go up together; a load that is
    turned over takes line 1 out and line 2 in, slowly: by one key where the lift has that lever, else by two.
    """
    levers = [lever.key for lever in unit.levers]
    line = next(key for key in ("both", "hoist", "hoist_1") if key in levers)
    rounds: list[Held] = [((line, 1), ("slew", -1)), (("elevation", 1), ("telescope", 1))]
    if "both" not in levers and "hoist_2" in levers:
        rounds.append((("hoist_1", 1), ("hoist_2", 1)))
    if "turn" in levers:
        rounds.append((("turn", 1), (SLOW, 1)))
    elif "hoist_2" in levers:
        rounds.append((("hoist_1", -1), ("hoist_2", 1), (SLOW, 1)))
    return tuple(rounds)


def rounds_of(seen: Seen, seats: Sequence[Seat]) -> tuple[tuple[AskedKey, ...], ...]:
    """The keys to hold, round by round, for the seats that have people at keys: all of them at once."""
    by_seat = {seat_of(one): held_together(one.unit) for one in seen.units if seat_of(one) in seats}
    count = max(map(len, by_seat.values()), default=0)
    return tuple(
        tuple(_asked(seat, *one) for seat, rounds in by_seat.items() if turn < len(rounds) for one in rounds[turn])
        for turn in range(count)
    )


def _asked(seat: Seat, lever: str, sign: int) -> AskedKey:
    if lever == SLOW:
        return AskedKey(seat, CREEP[seat], SLOW)
    row = find_binding(lever, sign)
    return AskedKey(seat, row.scancode(seat), row.word)


class KeyCheck:
    """Follows presses, and goes through the rounds."""

    def __init__(self, rounds: tuple[tuple[AskedKey, ...], ...]) -> None:
        self.held: set[int] = set()
        self.seen: set[int] = set()
        """Keys that arrived at least once."""
        self.turn = 0
        self.rounds = rounds
        self.missing: AskedKey | None = None
        """The key that did not arrive with the others."""
        self._since_s = 0.0

    @property
    def asked(self) -> tuple[AskedKey, ...]:
        """The keys to hold now; none when all rounds are done."""
        return () if self.done else self.rounds[self.turn]

    @property
    def done(self) -> bool:
        """Every round arrived."""
        return self.turn >= len(self.rounds)

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

"""What a drill and automatic operators remember at a moment of a lift, kept in its recording.

The world's state comes again from commands, and quickly; the judge's comes only from every set of readings. So now and
then it is kept beside the state, and a lift that is driven on from later is judged again from there alone. It is of use
to the very program that wrote it and to no other: its rules may be others.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from hashlib import sha256
from typing import Any

from simulator.attempt import Attempt, Operator
from simulator.compiled import PACKAGE
from simulator.drill.judge import Loss
from simulator.drill.partner import Partner
from simulator.drill.session import Session
from simulator.files.reading import bytes_of
from simulator.files.remembered import NotRemembered, Shelf
from simulator.readings import Readings

SHARED = (Readings, Loss)
"""Kinds of which several hold the same one: a step's beginning, points that are being lost."""
MOST_BYTES = 10_000_000
"""Of a source of the program."""


@cache
def sources() -> str:
    """A digest of all sources of the program."""
    found = sha256()
    for path in sorted(PACKAGE.rglob("*.py")):
        found.update(path.relative_to(PACKAGE).as_posix().encode() + b"\0")
        found.update(bytes_of(path, MOST_BYTES, "a source of the program"))
    return found.hexdigest()[:16]


class Onlookers:
    """An automatic operator for each seat that knows at any moment where it would be, so that it can take the seat.

    One that drives is the seat's own; where a person does, it looks on. Nobody can have looked on from time zero who
    comes later: then there is none, and the drill alone is remembered.
    """

    def __init__(self, attempt: Attempt) -> None:
        """Of an attempt at its present step."""
        self._attempt = attempt
        self._all = tuple(
            one if type(one) is Partner else Partner(attempt.description, place)
            for place, one in enumerate(attempt.operators)
            if not attempt.simulation.step_count
        )

    def begin(self) -> None:
        """Look on from here at the rate at which operators are asked."""
        if self._all:
            self._attempt.watch_closely(self._look, self._attempt.asked_per_s)

    def leave(self) -> None:
        """Look on no more."""
        self._attempt.watchers[:] = [one for one in self._attempt.watchers if one[0] != self._look]

    def _look(self, now: Readings) -> None:
        follow([one for one in self._all if one not in self._attempt.operators], self._attempt, now)

    def memory(self) -> str:
        """All that is remembered now, as JSON text."""
        shelf, session = Shelf(SHARED), self._attempt.session
        drill = None if session is None else [session.index, shelf.kept(session, Session)]
        operators = [shelf.kept(one, Partner) for one in self._all]
        kept = {"of": sources(), "drill": drill, "operators": operators, "shared": shelf.rows}
        return json.dumps(kept, allow_nan=False, separators=(",", ":"))


def follow(followers: Sequence[Operator], attempt: Attempt, now: Readings) -> None:
    """Let automatic operators look on as if they had a seat."""
    for follower in followers:
        begin = getattr(follower, "follow", None)
        if attempt.session is not None and begin is not None:
            begin(attempt.session.progress.began, attempt.session.index)
        follower.command(now)


class Memory:
    """What was remembered at a moment, read of its text."""

    def __init__(self, text: str) -> None:
        """
        Raises:
            NotRemembered: it is no such text, or another program's.
        """
        try:
            self._kept: dict[str, Any] = json.loads(text)
            is_ours = self._kept["of"] == sources()
            self._shelf = Shelf(SHARED, rows=self._kept["shared"])
            self._drill, self._operators = self._kept["drill"], list(self._kept["operators"])
        except (ValueError, RecursionError, LookupError, TypeError) as error:
            raise NotRemembered("given no memory of a lift") from error
        if not is_ours:
            raise NotRemembered("given a memory of another program")

    def serves(self, followers: Sequence[Operator]) -> bool:
        """It has what such automatic operators remembered."""
        return all(type(one) is Partner and one.place < len(self._operators) for one in followers)

    def put_back(self, attempt: Attempt, session: Session | None, followers: Sequence[Operator]) -> None:
        """Let the drill of an attempt, and operators that look on, remember it.

        Args:
            attempt: brought to that very moment, with no drill.
            session: of its drill, new.
            followers: automatic operators that it serves.

        Raises:
            NotRemembered: it is of another drill, or of other operators.
        """
        try:
            if session is not None:
                index, plain = self._drill
                session.recall(int(index), attempt.readings, lambda one: self._shelf.put_back(one, plain))
            for one in followers:
                if isinstance(one, Partner):
                    self._shelf.put_back(one, self._operators[one.place])
        except (ArithmeticError, LookupError, TypeError, ValueError) as error:
            raise NotRemembered(f"given no memory of this lift ({error})") from error
        attempt.session = session

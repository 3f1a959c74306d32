"""What a set-up check has to say: a value against its limits, where along the path, by how much, what to change."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

Level = Literal["good", "caution", "stop"]
Kind = Literal["m", "rad", "share", "N", "m/s", "times"]
Verdict = Literal["limit passed", "not judged", "no limit passed"]
"""What a check comes to: a stated limit is passed; none is, but something that is needed is missing; none is."""
ORDER: dict[Level, int] = {"good": 0, "caution": 1, "stop": 2}


class Amount(NamedTuple):
    """A number for a sentence, with what it is measured in."""

    value: float
    kind: Kind
    is_least: bool = True
    """It is the least that does, and is written rounded up; else the most there is, written rounded down."""


Move = Literal["tips up", "tips down", "load up", "load down", "nearer", "farther", "else"]
"""Which way a change moves something that there is one of: the tips, the load, a unit; `else` moves none of them."""
OPPOSITE: dict[Move, Move] = {
    "tips up": "tips down",
    "tips down": "tips up",
    "load up": "load down",
    "load down": "load up",
    "nearer": "farther",
    "farther": "nearer",
}


class Change(NamedTuple):
    """What to change; `{}` in the words stand for the amounts."""

    words: str
    amounts: tuple[Amount, ...] = ()
    moves: tuple[Move, ...] = ()
    """Ways that the words name after their last colon, one after another: any one of them would do."""


def passed(value: float, caution: float, stop: float, *, rising: bool) -> float:
    """The limit that a value has passed, and has to come back to: its stop limit, or its caution."""
    return stop if (value >= stop if rising else value < stop) else caution


class Reading(NamedTuple):
    """One value at one station against its limits."""

    code: str
    who: str
    """nose unit, tail unit or trailer"""
    name: str
    kind: Kind
    value: float
    caution: float
    stop: float
    rising: bool
    """True: more is worse."""
    what: str = ""
    """The float, part or rule it is about."""
    change: Change | None = None
    is_at_least: bool = False
    """The value is a lower bound: it was too far to be measured."""

    @property
    def level(self) -> Level:
        """Caution and stop begin at their limits when rising, below them when falling."""
        for level, limit in (("stop", self.stop), ("caution", self.caution)):
            if self.value >= limit if self.rising else self.value < limit:
                return "stop" if level == "stop" else "caution"
        return "good"

    @property
    def margin(self) -> float:
        """Room to the stop limit, in the value's own unit; negative is past it."""
        return self.stop - self.value if self.rising else self.value - self.stop


class Finding(NamedTuple):
    """The worst of one quantity along the path."""

    reading: Reading
    where: str
    """Station at which it is worst."""
    y_m: float
    cautions: tuple[str, ...]
    """Stations at which caution is given."""
    stops: tuple[str, ...]
    """Stations at which it is past its stop limit."""

    @property
    def level(self) -> Level:
        """Of the worst."""
        return self.reading.level


class NotJudged(NamedTuple):
    """Something a verdict needs and does not have."""

    code: str
    who: str
    missing: str
    """What is missing."""
    needs: str
    """What would have it judged."""


def codes_of(findings: Iterable[Finding], level: Level) -> tuple[str, ...]:
    """Codes of what is at a level, each once."""
    return tuple(dict.fromkeys(one.reading.code for one in findings if one.level == level))


class Place(NamedTuple):
    """Where a reading is from."""

    name: str
    y_m: float


def governing(readings: Iterable[tuple[Place, Reading]]) -> tuple[Finding, ...]:
    """The worst of each quantity and unit: those past a limit first, each with where it is so."""
    groups: dict[tuple[str, str], list[tuple[Place, Reading]]] = {}
    for place, reading in readings:
        groups.setdefault((reading.code, reading.who), []).append((place, reading))
    found = [_finding(rows) for rows in groups.values()]
    return tuple(sorted(found, key=lambda one: -ORDER[one.level]))


def _finding(rows: list[tuple[Place, Reading]]) -> Finding:
    place, worst = min(rows, key=lambda row: (row[1].margin, -row[1].value if row[1].rising else row[1].value))
    return Finding(
        worst,
        place.name,
        place.y_m,
        tuple(dict.fromkeys(at.name for at, reading in rows if reading.level == "caution")),
        tuple(dict.fromkeys(at.name for at, reading in rows if reading.level == "stop")),
    )

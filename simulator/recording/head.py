"""Head and end mark of a recording: what stands in them, and how each value is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from simulator.recording.layout import Malformed
from simulator.scenario.faults import one_line

ENDINGS = ("landed", "done", "incident", "left")
"""Landed with no incident; a drill done; an incident; none of these."""
_FEWEST_STEPS, _MOST_STEPS = 60, 10000
_MOST_DECIMALS = 12
_MOST = 2**63


class Parent(NamedTuple):
    """The recording that a lift goes on from."""

    name: str
    step: int


@dataclass(frozen=True)
class Ending:
    """How a recording ended."""

    how: str
    """One of `ENDINGS`."""
    text: str = ""
    step: int = 0
    score: str | None = None
    lines: tuple[str, ...] = ()
    """The drill's account, if there was a drill."""


@dataclass(frozen=True)
class Head:
    """What stands at the beginning of a recording."""

    title: str
    scenario: str
    seed: int
    stamp: str
    versions: dict[str, str]
    pair: tuple[str, ...]
    parent: Parent | None
    steps_per_s: int
    begins: int
    channels: tuple[str, ...]
    decimals: tuple[int, ...]


def head_of(value: dict[str, Any]) -> Head:
    """A head, every value looked at.

    Raises:
        Malformed: with the name of the value that is not as it should be.
    """
    channels = _list(value, "channels")
    if not all(isinstance(row, list) and len(row) == 3 and isinstance(row[2], int) for row in channels):
        raise Malformed("channels")
    names, decimals = tuple(str(row[0]) for row in channels), tuple(int(row[2]) for row in channels)
    if "step" not in names or len(set(names)) < len(names) or not all(0 <= one <= _MOST_DECIMALS for one in decimals):
        raise Malformed("channels")
    parent = value.get("parent")
    if parent is not None and not (isinstance(parent, list) and len(parent) == 2 and isinstance(parent[1], int)):
        raise Malformed("parent")
    return Head(
        title=_text(value, "title"),
        scenario=_text(value, "scenario", lines=True),
        seed=_number(value, "seed", 0, _MOST),
        stamp=_text(value, "stamp"),
        versions={one_line(str(key)): one_line(str(one)) for key, one in _object(value, "versions").items()},
        pair=tuple(one_line(str(one)) for one in _list(value, "pair")),
        parent=None if parent is None else Parent(one_line(str(parent[0])), parent[1]),
        steps_per_s=_number(value, "steps_per_s", _FEWEST_STEPS, _MOST_STEPS),
        begins=_number(value, "begins", 0, _MOST),
        channels=names,
        decimals=decimals,
    )


def ending_of(value: dict[str, Any]) -> Ending:
    """An end mark, every value looked at.

    Raises:
        Malformed: with the name of the value that is not as it should be.
    """
    how, score = _text(value, "how"), value.get("score")
    if how not in ENDINGS:
        raise Malformed("how")
    score = None if score is None else one_line(str(score))
    lines = tuple(one_line(str(line)) for line in _list({"lines": [], **value}, "lines"))
    return Ending(how, one_line(_text(value, "text")), _number(value, "step", 0, _MOST), score, lines)


def written_by(value: dict[str, Any]) -> str:
    """The program that wrote a head of any layout."""
    versions = value.get("versions")
    return one_line(str(versions.get("slopepick", "unknown")) if isinstance(versions, dict) else "unknown")


def _text(value: dict[str, Any], key: str, *, lines: bool = False) -> str:
    found = value.get(key)
    if not isinstance(found, str):
        raise Malformed(key)
    return found if lines else one_line(found)


def _number(value: dict[str, Any], key: str, low: int, high: int) -> int:
    found = value.get(key)
    if not isinstance(found, int) or not low <= found <= high:
        raise Malformed(key)
    return found


def _list(value: dict[str, Any], key: str) -> list[Any]:
    found = value.get(key)
    if not isinstance(found, list):
        raise Malformed(key)
    return found


def _object(value: dict[str, Any], key: str) -> dict[str, Any]:
    found = value.get(key)
    if not isinstance(found, dict):
        raise Malformed(key)
    return found

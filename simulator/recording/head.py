"""Head and end mark of a recording: what stands in them, and how each value is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count, islice
from typing import Any, NamedTuple

from simulator.events import ACCOUNT, Event, Happening
from simulator.files.bounds import ACCOUNT_LINES, CHANNELS, EVENT_LETTERS, EVENTS, TEXT_LETTERS, TITLE_LETTERS
from simulator.files.plain_text import cut_to, one_line
from simulator.recording.layout import LAYOUT, Malformed
from simulator.recording.older_account import account_of
from simulator.recording.stored_events import event_of, happening_from, known
from simulator.scenario.rig import BESIDES, MOST_LINES, MOST_UNITS, TWO_BY_ONE, Rig, is_unit_name, rig

ENDINGS = ("landed", "done", "incident", "left")
"""Landed with no incident; a drill done; an incident; none of these."""
_FEWEST_STEPS, _MOST_STEPS = 60, 10000
_MOST_DECIMALS = 12
_MOST = 2**63
NAMES_ITS_RIG = 2
"""From this layout on a head names units, lines and levers."""
VERSIONS = 20
"""Packages whose version is kept."""


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
    account: tuple[Happening, ...] = ()
    """The drill's account, if there was a drill."""
    events: tuple[Event, ...] = ()
    """What happened at the last step, after its second was written."""


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
    layout: int = LAYOUT
    rig: Rig = TWO_BY_ONE
    """Its units, lines and levers by name, as the head has them; in layout 1 two units with one line each."""


def head_of(value: dict[str, Any]) -> Head:
    """A head, every value looked at.

    Raises:
        Malformed: with the name of the value that is not as it should be.
    """
    channels = _list(value, "channels")
    if len(channels) > CHANNELS or not all(
        isinstance(row, list) and len(row) == 3 and isinstance(row[2], int) for row in channels
    ):
        raise Malformed("channels")
    names, decimals = tuple(str(row[0]) for row in channels), tuple(int(row[2]) for row in channels)
    if "step" not in names or len(set(names)) < len(names) or not all(0 <= one <= _MOST_DECIMALS for one in decimals):
        raise Malformed("channels")
    layout = _number(value, "layout", 1, LAYOUT)
    its_rig = TWO_BY_ONE if layout < NAMES_ITS_RIG else rig_from(value.get("units"))
    parent = value.get("parent")
    if parent is not None and not (isinstance(parent, list) and len(parent) == 2 and isinstance(parent[1], int)):
        raise Malformed("parent")
    return Head(
        title=_kept(_text(value, "title")),
        scenario=_text(value, "scenario", lines=True),
        seed=_number(value, "seed", 0, _MOST),
        stamp=_kept(_text(value, "stamp")),
        versions={_kept(key): _kept(one) for key, one in islice(_object(value, "versions").items(), VERSIONS)},
        pair=tuple(map(_kept, _list(value, "pair")[: len(its_rig.units)])),
        parent=None if parent is None else Parent(_kept(parent[0]), parent[1]),
        steps_per_s=_number(value, "steps_per_s", _FEWEST_STEPS, _MOST_STEPS),
        begins=_number(value, "begins", 0, _MOST),
        channels=names,
        decimals=decimals,
        layout=layout,
        rig=its_rig,
    )


def rig_as_json(of: Rig) -> list[Any]:
    """What a head says of a rig: each unit's name, its lines' and its levers'."""
    return [[unit.name, [line.name for line in unit.lines], [one.name for one in unit.levers]] for unit in of.units]


def rig_from(value: Any) -> Rig:
    """The other way. Which pick a line goes to stands in the scenario: here they are counted through.

    Raises:
        Malformed: no units, or lines and levers that no such units have.
    """
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_UNITS:
        raise Malformed("units")
    units = [_unit_from(row) for row in value]
    picks = count()
    found = rig(tuple((name, tuple(islice(picks, lines)), more) for name, lines, more in units))
    names = found.unit_names
    if rig_as_json(found) != value or len(set(names)) < len(names) or not all(map(is_unit_name, names)):
        raise Malformed("units")
    return found


def _unit_from(row: Any) -> tuple[str, int, tuple[str, ...]]:
    """A unit's name, how many lines it has, and which levers besides one a function."""
    if not isinstance(row, list) or len(row) != 3 or not isinstance(row[0], str):
        raise Malformed("units")
    name, lines, levers = row
    lists = isinstance(lines, list) and isinstance(levers, list)
    if not lists or not 1 <= len(lines) <= MOST_LINES or not all(isinstance(one, str) for one in levers):
        raise Malformed("units")
    keys = (one.removeprefix(f"{name}_") for one in levers)
    return name, len(lines), tuple(key for key in keys if key in BESIDES)


def ending_of(value: dict[str, Any]) -> Ending:
    """An end mark, every value looked at.

    Raises:
        Malformed: with the name of the value that is not as it should be.
    """
    how, score = _text(value, "how"), value.get("score")
    if how not in ENDINGS:
        raise Malformed("how")
    score = None if score is None else _kept(score)
    text, step = cut_to(_text(value, "text"), TEXT_LETTERS), _number(value, "step", 0, _MOST)
    return Ending(how, text, step, score, _account(value), _events(_list({"events": [], **value}, "events"), step))


def _account(value: dict[str, Any]) -> tuple[Happening, ...]:
    """A drill's account; in layout 1 it is lines of text."""
    try:
        if "account" not in value:
            lines = _list({"lines": [], **value}, "lines")[:ACCOUNT_LINES]
            return tuple(account_of(cut_to(str(line), EVENT_LETTERS)) for line in lines)
        rows = _list(value, "account")[:ACCOUNT_LINES]
        return tuple(known(happening_from(ACCOUNT, what, fields)) for what, fields in rows)
    except (AttributeError, KeyError, TypeError, ValueError, OverflowError) as error:
        raise Malformed("account") from error


def _events(rows: list[Any], last_step: int) -> tuple[Event, ...]:
    try:
        events = tuple(event_of(row) for row in rows[:EVENTS])
    except (AttributeError, TypeError, ValueError, OverflowError) as error:
        raise Malformed("events") from error
    if not all(0 <= event.step <= last_step for event in events):
        raise Malformed("events")
    return events


def written_by(value: dict[str, Any]) -> str:
    """The program that wrote a head of any layout."""
    versions = value.get("versions")
    return _kept(versions.get("slopepick", "unknown") if isinstance(versions, dict) else "unknown")


def _kept(text: object) -> str:
    """A text of a head as it may be shown."""
    return cut_to(str(text), TITLE_LETTERS)


def _text(value: dict[str, Any], key: str, *, lines: bool = False) -> str:
    found = value.get(key)
    if not isinstance(found, str):
        raise Malformed(key)
    return found if lines else one_line(found)


def _number(value: dict[str, Any], key: str, low: int, high: int) -> int:
    found = value.get(key)
    if type(found) is not int or not low <= found <= high:
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

"""Events as they stand in a recording: read with every text cut to what may be shown and every number looked at."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simulator.events import STATES, Event, Field, Happening
from simulator.files.bounds import EVENT_LETTERS, LARGEST_READING
from simulator.files.plain_text import cut_to
from simulator.recording.layout import Malformed
from simulator.recording.older_events import happening_of


def event_of(row: Any) -> Event:
    """An event from its row; in layout 1 that is a step, a kind and a sentence, since then kind, which and fields.

    Raises:
        Malformed: with numbers that no lift has.
    """
    step, kind, what, *fields = row
    if not fields:
        return Event(int(step), *happening_of(word(kind), word(what)))
    return Event(int(step), *happening_from(kind, what, fields[0]))


def happening_from(kind: Any, what: Any, fields: Any) -> Happening:
    """What stands in a file of something that happened.

    Raises:
        Malformed: with numbers that no lift has.
    """
    known = {word(key): _field(one) for key, one in fields.items() if isinstance(one, str | int | float)}
    return Happening(word(kind), word(what), known)


NUMBER = (int, float)
NEEDED: dict[str, dict[str, type | tuple[type, ...]]] = {
    "drill": {"state": str, "step": int, "together": NUMBER},
    "lost": {"points": NUMBER, "who": str, "rule": str, "times": int, "first_s": NUMBER, "fails": int},
    "center": {"loads_m": NUMBER, "true_m": NUMBER, "stated_m": NUMBER},
}
"""Fields without which a line of an account cannot be told."""
SEEN: dict[str, type | tuple[type, ...]] = {"value": NUMBER, "measure": str}
"""What a line with a reading has besides."""


def known(one: Happening) -> Happening:
    """A line of an account that can be told.

    Raises:
        Malformed: it lacks what it has to say.
    """
    needed = {**NEEDED.get(one.what, {}), **(SEEN if "reading" in one.fields else {})}
    points = {field: NUMBER for field in one.fields if field.startswith("of_")}
    for field, kind in {**needed, **points}.items():
        if not isinstance(one.fields.get(field), kind):
            raise Malformed(f"an account without {field}")
    if one.what == "drill" and one.fields["state"] not in STATES:
        raise Malformed("an account of a drill that ended otherwise")
    return one


def _field(value: str | int | float) -> Field:
    """A field as it may be shown; a number is one that a lift can have."""
    if isinstance(value, str):
        return word(value)
    if not isfinite(value) or abs(value) > LARGEST_READING:
        raise Malformed("events with numbers that no lift has")
    return value


def word(text: object) -> str:
    """A text as it may be shown."""
    return cut_to(str(text), EVENT_LETTERS)

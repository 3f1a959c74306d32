"""Events as they stand in a recording: read with every text cut to what may be shown and every number looked at."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simulator.events import Event, Field
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
    known = {word(key): _field(one) for key, one in fields[0].items() if isinstance(one, str | int | float)}
    return Event(int(step), word(kind), word(what), known)


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

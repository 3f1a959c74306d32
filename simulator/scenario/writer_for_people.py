"""A description as a file for people: defaults left out, numbers in their units where that is exact, words beside."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import is_dataclass
from math import isfinite
from typing import Any

from simulator.scenario.asked_numbers import Field, Kind, System, written
from simulator.scenario.description import Description
from simulator.scenario.keys import Entry, apart, entries
from simulator.scenario.toml_writer import as_toml
from simulator.scenario.typed_numbers import parse_typed

KIND_OF: dict[str, Kind] = {"m": "length", "kg": "mass", "rad": "angle", "m/s": "speed", "N": "force"}
ALWAYS = ("seed", "difficulty", "invented")
"""Written though they are as usual: whoever opens the file looks for them."""

SAME = 1e-12
"""Share of a number by which two sums of it may differ."""


def write_for_people(
    described: Description, system: System, *, head: Sequence[str] = (), words: Mapping[str, str] | None = None
) -> str:
    """TOML text that reads to an equal description.

    Args:
        described: the lift.
        system: whose units its numbers are in, where a text in them reads back to the same number.
        head: comment lines at the top.
        words: a comment for each dotted key, such as `site.edge_y`, and for tables.
    """
    lines = [f"# {line}".rstrip() for line in head]
    return "\n".join([*lines, "", *_table(described, "", system, words or {})]).strip() + "\n"


def _table(table: Any, name: str, system: System, words: Mapping[str, str]) -> list[str]:
    """Its plain values first, then the tables inside it, each with its comment."""
    plain: list[str] = []
    inside: list[str] = []
    for entry in entries(table.__class__):
        value = getattr(table, entry.field)
        below = f"{name}.{entry.key}" if name else entry.key
        note = words.get(below, "")
        if value is None or (value == entry.default and not note and entry.key not in ALWAYS):
            continue
        if is_dataclass(value):
            inside += ["", *_noted(f"[{_bare(below)}]", note), *_table(value, below, system, words)]
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for number, item in enumerate(value, 1):
                own = words.get(f"{below} {number}", "")
                inside += ["", *_noted(f"[[{_bare(below)}]]", own)]
                inside += _table(item, f"{below} {number}", system, words)
        else:
            plain += _noted(f"{entry.key} = {_value(entry, value, system)}", note)
    return plain + inside


def _bare(name: str) -> str:
    """A table's name in a file: items are not counted there."""
    return re.sub(r" \d+", "", name)


def _noted(line: str, note: str) -> list[str]:
    return [f"{line}  # {note}"] if note else [line]


def _value(entry: Entry, value: Any, system: System) -> str:
    measure = apart(entry.hint).measure
    unit = measure.unit if measure is not None else ""
    if isinstance(value, float) and unit in KIND_OF:
        return _number(value, unit, system)
    if isinstance(value, float):
        return _plain(value)
    return as_toml(value)


def as_file_says(value: float, unit: str, system: System) -> float:
    """The number that its text in these units reads to, where that is the same but for rounding; else the number."""
    try:
        found = parse_typed(_text(value, unit, system), unit) if isfinite(value) and unit in KIND_OF else value
    except ValueError:
        return value
    return found if abs(found - value) <= SAME * max(1.0, abs(value)) else value


def _text(value: float, unit: str, system: System) -> str:
    return written(value, Field("", KIND_OF[unit], -1e12, 1e12, value), system, words=True)


def _number(value: float, unit: str, system: System) -> str:
    """As text with its unit where that reads back to the same number, else plain SI."""
    if isfinite(value) and value:
        text = _text(value, unit, system)
        try:
            if parse_typed(text, unit) == value:
                return as_toml(text)
        except ValueError:
            pass
    return _plain(value)


def _plain(value: float) -> str:
    """As short as it may be and still be the same number."""
    for digits in (6, 9, 12):
        text = f"{value:.{digits}g}"
        if float(text) == value:
            return text
    return repr(value)

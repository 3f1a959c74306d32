"""A description back to TOML text, in SI, that reads to an equal description."""

from __future__ import annotations

import json
import re
from dataclasses import is_dataclass
from typing import Any

from simulator.scenario.description import Description
from simulator.scenario.keys import entries
from simulator.scenario.unit import Unit


def dump(described: Description | Unit) -> str:
    """TOML text of a description, or of one of its units: plain SI numbers, every default written out."""
    return "\n".join(_table_lines(described, "")).strip() + "\n"


def _table_lines(table: Any, name: str) -> list[str]:
    """Lines of a table: its plain values first, then the tables inside it."""
    plain, inside = [], []
    for entry in entries(table.__class__):
        value = getattr(table, entry.field)
        below = f"{name}.{entry.key}" if name else entry.key
        if value is None:
            continue
        if is_dataclass(value):
            inside += ["", f"[{below}]", *_table_lines(value, below)]
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for item in value:
                inside += ["", f"[[{below}]]", *_table_lines(item, below)]
        else:
            plain.append(f"{entry.key} = {as_toml(value)}")
    return plain + inside


def as_toml(value: Any) -> str:
    """One value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, tuple):
        return f"[{', '.join(as_toml(item) for item in value)}]"
    return repr(float(value)) if isinstance(value, float) else str(value)


def quoted(text: str) -> str:
    """A text as TOML writes it."""
    # JSON's escapes are TOML's too, but for DEL, which JSON leaves as it is.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


_ASSUMED = re.compile(r"^\s*(?P<key>[A-Za-z_]+) = (?P<value>[^#\n]*?)[ \t]*#[^#\n]*\bassumed\b", re.MULTILINE)


def marked_assumed(text: str) -> tuple[str, ...]:
    """What a scenario's file marks as assumed in its comments, as `key value`."""
    return tuple(f"{found['key'].replace('_', ' ')} {found['value'].strip()}" for found in _ASSUMED.finditer(text))

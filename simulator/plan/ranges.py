"""Ranges as people write them: "22..28t", "-1..+2m", "49,000 to 61,000 lb", "20 mph..30 mph"."""

from __future__ import annotations

import re
from typing import NamedTuple

from simulator.scenario.asked_numbers import Field, System, Tons
from simulator.scenario.typed_numbers import LONGEST, NotTaken, WhichTons, read

WHAT: dict[str, tuple[Field, dict[System, str]]] = {
    "share": (
        Field("share", "share", 0.5, 2.0, 0.9),
        {"metric": "0.9..1.1 (of the stated weight) or 22..28t", "us": "0.9..1.1 or 49,000..61,000 lb"},
    ),
    "weight": (Field("weight", "mass", 100.0, 500e3, 25e3), {"metric": "22..28t", "us": "49,000..61,000 lb"}),
    "cg": (Field("cg", "length", -20.0, 20.0, 1.0), {"metric": "-1..+2m", "us": "-3..+6ft"}),
    "cg_across": (Field("cg across", "length", -3.0, 3.0, 0.3), {"metric": "-0.3..+0.3m", "us": "-1..+1ft"}),
    "wind": (Field("wind", "speed", 0.0, 60.0, 8.0), {"metric": "0..8m/s or 0..20mph", "us": "0..20mph"}),
    "depth": (Field("depth", "length", 0.1, 200.0, 10.0), {"metric": "9..11m", "us": "30..36ft"}),
}
"""What may have a range, with an example in each system."""
_BETWEEN = re.compile(r"\s*\.\.\s*|\s+to\s+")
_UNIT = re.compile(r"[^\d.,+\s-].*$")


class Range(NamedTuple):
    """Both ends in SI."""

    low: float
    high: float
    tons: Tons | None = None
    """Which ton was meant, where a ton was."""


class BrokenRange(ValueError):  # noqa: N818 - it says what it is
    """Text that is no range; says what is allowed."""


_SHARE = re.compile(r"[01](\.\d*)?\s*(\.\.|to)\s*[012](\.\d*)?")


def is_share_of_weight(text: str) -> bool:
    """A range of plain numbers up to 2, of the stated weight: nobody's trailer weighs so few tons or pounds."""
    return _SHARE.fullmatch(text.strip()) is not None


def read_range(text: str, what: str, system: System = "metric", tons: Tons | None = None) -> Range:
    """A range in SI; a unit at its end holds for both ends, no unit means the system's own.

    Args:
        text: the range.
        what: share, weight, cg, cg_across, wind or depth.
        system: what plain numbers mean.
        tons: which ton is meant.

    Raises:
        BrokenRange: with what is allowed.
    """
    field, examples = WHAT[what]
    span = field.allowed(system).rpartition("; ")[2]
    allowed = f"a range such as {examples[system]}; {span}, the smaller number first"
    ends = _BETWEEN.split(text.strip()) if len(text) <= 2 * LONGEST else []
    if len(ends) != 2 or not all(ends):
        raise BrokenRange(allowed)
    unit = _UNIT.search(ends[1])
    first = ends[0] if unit is None or _UNIT.search(ends[0]) else f"{ends[0]} {unit[0]}"
    try:
        low, high = read(first, field, system, tons), read(ends[1], field, system, tons)
    except WhichTons as asked:
        raise BrokenRange(f"{asked.allowed}; such as --tons short") from asked
    except NotTaken as error:
        raise BrokenRange(allowed) from error
    if low.value > high.value:
        raise BrokenRange(allowed)
    return Range(low.value, high.value, low.tons or high.tons)

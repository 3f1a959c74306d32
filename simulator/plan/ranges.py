"""Ranges as people write them: "22..28t", "-1..+2m", "20 mph..30 mph"."""

from __future__ import annotations

import re

from simulator.scenario.measures import parse

WHAT: dict[str, tuple[str, float, float, str]] = {
    "share": ("1", 0.5, 2.0, "0.9..1.1 (of the stated weight) or 22..28t"),
    "weight": ("kg", 100.0, 500e3, "22..28t or 49000..61000lb"),
    "cg": ("m", -20.0, 20.0, "-1..+2m or -3..+6ft"),
    "wind": ("m/s", 0.0, 60.0, "0..8m/s or 0..20mph"),
    "depth": ("m", 0.1, 200.0, "9..11m or 30..36ft"),
}
"""SI unit, least, most, example."""
_RANGE = re.compile(r"\s*([+-]?[\d.]*\d)\s*([A-Za-z][\w/ ^*]*)?\.\.\s*([+-]?\d[\d.]*)\s*([A-Za-z][\w/ ^*]*?)?\s*")


class BrokenRange(ValueError):  # noqa: N818 - it says what it is
    """Text that is no range; says what is allowed."""


def read_range(text: str, what: str) -> tuple[float, float]:
    """A range in SI; a unit at its end holds for both ends, no unit means SI.

    Args:
        text: the range.
        what: share, weight, cg, wind or depth.

    Raises:
        BrokenRange: with what is allowed.
    """
    unit, low, high, example = WHAT[what]
    span = f"{low:g} to {high:g} {'' if unit == '1' else unit}".strip()
    allowed = f"a range such as {example}, {span}, the smaller number first"
    found = _RANGE.fullmatch(text) if len(text) <= 60 else None
    if found is None:
        raise BrokenRange(allowed)
    plain = "" if unit == "1" else unit
    ends = (found[1], found[2] or found[4] or plain), (found[3], found[4] or plain)
    try:
        first, last = (parse(f"{number} {of}".strip(), unit) for number, of in ends)
    except ValueError as error:
        raise BrokenRange(allowed) from error
    if not low <= first <= last <= high:
        raise BrokenRange(allowed)
    return first, last

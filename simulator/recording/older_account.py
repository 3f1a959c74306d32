"""A drill's account in a recording of layout 1, which kept it as lines of text: read back to fields."""

from __future__ import annotations

import re
from math import radians

from simulator.events import ACCOUNT, UNKNOWN, Field, Happening
from simulator.readings import as_words
from simulator.recording.older_events import pattern
from simulator.scenario.measures import TONNE_N

SI = {
    "m": (1.0, "m"),
    "m/s": (1.0, "m/s"),
    "t": (TONNE_N, "N"),
    "kN": (1000.0, "N"),
    "N": (1.0, "N"),
    "deg": (radians(1.0), "rad"),
    "rad": (1.0, "rad"),
    "s": (1.0, "s"),
}
"""Written unit: its size in SI, and what it is then."""
_LOST = re.compile(
    r"\s*(?P<points>-?[\d.]+) (?P<who>nose|tail|both): (?P<rule>.+?)(?:, (?P<times>\d+) times)?"
    r", first at (?P<first>[\d.]+) s(?: \((?P<reading>[^()]*?) (?P<value>-?(?:[\d.]+|inf))(?: (?P<unit>\S+))?\))?"
    r"(?P<fails>; it fails the drill)?"
)
CENTER, _CENTER_M = pattern(
    "By the loads the centre of gravity is {loads:m} m from the nose pick; it is at {true:m} m, the papers said"
    " {stated:m} m."
)
_SAYS_NOTHING = ("time", "incidents")
"""Readings that tell no more than the line already does."""


def account_of(line: str) -> Happening:
    """One line: a loss of points, the center of gravity, or a text that is neither."""
    if center := CENTER.fullmatch(line.strip()):
        return Happening(ACCOUNT, "center", {f"{key}_m": float(center[key]) for key in _CENTER_M})
    found = _LOST.fullmatch(line)
    if found is None:
        return Happening(ACCOUNT, UNKNOWN, {"text": line.strip()})
    fields: dict[str, Field] = {"points": abs(float(found["points"])), "who": found["who"], "rule": found["rule"]}
    fields |= {"times": int(found["times"] or 1), "first_s": float(found["first"]), "fails": int(bool(found["fails"]))}
    reading = as_words(found["reading"] or "")
    if not reading or reading in _SAYS_NOTHING or found["value"].endswith("inf"):
        return Happening(ACCOUNT, "lost", fields)
    size, measure = SI.get(found["unit"] or "", (1.0, "lever" if reading.endswith("commands") else "number"))
    seen: dict[str, Field] = {"reading": reading, "value": float(found["value"]) * size, "measure": measure}
    return Happening(ACCOUNT, "lost", fields | seen)

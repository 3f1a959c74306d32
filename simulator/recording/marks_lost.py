"""What a drill's account in a recording says, read back from its lines: points, whose, for what, seen in which reading;
and where the loads say that the centre of gravity is.

As with events, the lines are the stored layout; whoever shows them says them in their words and units.
"""

from __future__ import annotations

import re
from math import radians
from typing import NamedTuple

from simulator.recording.older_events import pattern
from simulator.recording.recorded import Recording, minutes
from simulator.scenario.measures import TONNE_N

NOT_DONE = "step not done"
LEVER = "commands"
FAILS = "fails"
"""Among a line's texts when it fails the drill whatever its points."""
SI = {
    "m": (1.0, "m"),
    "m/s": (1.0, "m/s"),
    "t": (TONNE_N, "N"),
    "kN": (1000.0, "N"),
    "N": (1.0, "N"),
    "deg": (radians(1.0), "rad"),
    "rad": (1.0, "rad"),
}
"""Written unit: its size in SI, and what it is then."""
ENDINGS = ("m", "mps", "rad", "radps", "N", "s", "share")
"""Units at the end of a reading's name; older recordings have the name itself."""
_LOST = re.compile(
    r"\s*(?P<points>-?[\d.]+) (?P<who>nose|tail|both): (?P<rule>.+?)(?:, (?P<times>\d+) times)?"
    r", first at (?P<first>[\d.]+) s(?: \((?P<reading>[^()]*?) (?P<value>-?(?:[\d.]+|inf))(?: (?P<unit>\S+))?\))?"
    r"(?P<fails>; it fails the drill)?"
)
CENTRE, _CENTRE_M = pattern(
    "By the loads the centre of gravity is {loads:m} m from the nose pick; it is at {true:m} m, the papers said"
    " {stated:m} m."
)
_SAYS_NOTHING = ("time", "incidents")
"""Readings that tell no more than the line already does."""


class LostLine(NamedTuple):
    """A line of a drill's account."""

    name: str
    """The key of its words."""
    texts: dict[str, str]
    amounts: dict[str, tuple[float, str]]
    """Value in SI, and m, m/s, N, rad or share."""


def mark_lost(line: str) -> LostLine | None:
    """One line of a drill's account: a loss of points, or `centre`; none if it is neither."""
    if centre := CENTRE.fullmatch(line):
        return LostLine("centre", {}, {key: (float(centre[key]), "m") for key in _CENTRE_M})
    found = _LOST.fullmatch(line)
    if found is None:
        return None
    who = found["who"] if found["who"] == "both" else f"{found['who']} unit"
    texts = {"points": found["points"], "who": who, "rule": found["rule"]}
    texts |= {FAILS: found[FAILS]} if found[FAILS] else {}
    if found["rule"] == NOT_DONE:
        return LostLine("not_done", {**texts, "count": found["times"] or "1"}, {})
    texts["first"] = minutes(float(found["first"]))
    many = "many" if found["times"] else "once"
    texts |= {"times": found["times"]} if found["times"] else {}
    reading = as_words(found["reading"] or "")
    if not reading or reading in _SAYS_NOTHING:
        return LostLine(many, texts, {})
    value = float(found["value"])
    if reading.endswith(LEVER):
        return LostLine(f"{many}_lever", {**texts, "value": f"{100.0 * value:.0f}"}, {})
    if found["unit"] not in SI:
        shown = f"{found['value']} {found['unit'] or ''}".strip()
        return LostLine(f"{many}_seen", {**texts, "reading": reading, "value": shown}, {})
    size, kind = SI[found["unit"]]
    return LostLine(f"{many}_seen", {**texts, "reading": reading}, {"value": (value * size, kind)})


class Lost(NamedTuple):
    """One line of a drill's account, in numbers."""

    points: float
    who: str
    """nose, tail or both."""
    rule: str
    reading: str
    """In words, such as `nose hook load`."""
    first_s: float
    fails: bool
    line: str


def lost_in(recording: Recording) -> list[Lost]:
    """What a drill's account took points for, by the time it first did."""
    lines = recording.ending.lines if recording.ending else ()
    rows = ((line, found) for line in lines if (found := _LOST.fullmatch(line)))
    lost = [Lost(abs(float(found["points"])), found["who"], found["rule"], as_words(found["reading"] or ""),
                 float(found["first"]), bool(found[FAILS]), line.strip()) for line, found in rows]  # fmt: skip
    return sorted(lost, key=lambda one: one.first_s)


def as_words(reading: str) -> str:
    """A reading's name in words: `nose.hook_load_N` and `nose hook load` are both nose hook load."""
    name, _, ending = reading.rpartition("_")
    return (name if name and ending in ENDINGS else reading).replace(".", " ").replace("_", " ").strip()


def ran_out(recording: Recording) -> bool:
    """A drill that was neither done nor left: its time was over."""
    drill = recording.description.drill if recording.description else None
    return drill is not None and recording.how == "left" and recording.length_s >= drill.longest_s - 0.05

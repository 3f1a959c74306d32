"""What an instructor does to a running drill, as data: a word and two numbers, so that a recording can hold it."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from typing import Literal, NamedTuple, get_args

from simulator.events import WORDS_OF_ACTS, Fields, Happening
from simulator.scenario.description import Description
from simulator.scenario.rig import MOST_LINES, MOST_UNITS, Rig
from simulator.scenario.site import BedHold

Kind = Literal[
    "pause",
    "go on",
    "stop",
    "step back",
    "show coach",
    "hide coach",
    "show roses",
    "hide roses",
    "show loads",
    "hide loads",
    "gust",
    "cargo shifts",
    "soft float",
    "line slips",
    "bed holds",
    "slacken",
]
KINDS: tuple[str, ...] = get_args(Kind)
SHOWN_OR_HIDDEN = tuple(kind for kind in KINDS if kind.startswith(("show ", "hide ")))
"""What is a thing of the display alone."""
LASTS_S = 6.0
"""How long a gust lasts unless said."""


RANGES: dict[str, tuple[float, float]] = {
    "gust": (0.0, 40.0),
    "cargo shifts": (-3.0, 3.0),
    "soft float": (0.05, 1.0),
    "line slips": (0.0, 2.0),
    "bed holds": (0.0, 1e6),
    "step back": (-1.0, 1000.0),
}
"""Least and greatest amount of what has one; common sense, no source."""


SLACKEN: Kind = "slacken"
"""The holding line is let out: an act of the crew, whoever gives the word."""


class Instruction(NamedTuple):
    """One act of the instructor, or of somebody beside the units' operators."""

    kind: Kind
    amount: float = 0.0
    """gust: m/s more; cargo shifts: m toward the tail unit; soft float: share of its stiffness that is left; line
    slips: m of rope; bed holds: N; step back: number of the step from 0, -1 for the present one."""
    end: int = 0
    """Place of the unit, or of the line that slips, for what happens to one."""
    lasts_s: float = 0.0
    """gust: how long."""

    def happening(self, rig: Rig) -> Happening:
        """As what is told of a lift on this rig."""
        whose = {"line": rig.lines[self.end].name} if self.kind == "line slips" else {"unit": rig.units[self.end].name}
        fields: Fields = {"act": self.kind, "amount": self.amount, "place": self.end, "lasts_s": self.lasts_s, **whose}
        return Happening("instructor", WORDS_OF_ACTS.get(self.kind, "instructor"), fields)


def refuse_wild(what: Instruction, rig: Rig | None = None) -> None:
    """Stop an instruction that this lift could not take, or without a rig one that no lift could.

    Raises:
        ValueError: kind, unit or line, amount or time out of range; it says what was given and what is allowed.
    """
    if what.kind not in KINDS:
        raise ValueError(f"given {what.kind!r}, allowed: one of {', '.join(KINDS)}")
    is_line = what.kind == "line slips"
    if rig is None:
        places = MOST_UNITS * MOST_LINES if is_line else MOST_UNITS
    else:
        places = len(rig.lines if is_line else rig.units)
    if what.end not in range(places):
        thing = "line" if is_line else "unit"
        raise ValueError(f"{what.kind}: given {thing} {what.end}, allowed: 0 to {places - 1}, such as {thing} 0")
    low, high = RANGES.get(what.kind, (-inf, inf))
    if not low <= what.amount <= high:
        raise ValueError(f"{what.kind}: given {what.amount:g}, allowed: {low:g} to {high:g}")
    if not 0.0 <= what.lasts_s <= 3600.0:
        raise ValueError(f"{what.kind}: given {what.lasts_s:g} s, allowed: 0 to 3600 s")


def from_fields(fields: Fields, rig: Rig | None = None) -> Instruction:
    """The instruction that an event of the kind `instructor` holds; `rig`: of the lift that is to take it.

    Raises:
        ValueError: it holds none.
    """
    try:
        kind, amount, end, lasts = (fields[key] for key in ("act", "amount", "place", "lasts_s"))
        what = Instruction(str(kind), float(amount), int(end), float(lasts))  # type: ignore[arg-type]
    except KeyError as error:
        raise ValueError(f"an instructor's act without {error}") from error
    refuse_wild(what, rig)
    return what


def changed(description: Description, what: Instruction) -> Description:
    """The lift with what the instructor has put into it; the same lift for what changes no description."""
    site, trailer = description.site, description.trailer
    if what.kind == "gust":
        return replace(
            description, site=replace(site, wind=replace(site.wind, speed_mps=site.wind.speed_mps + what.amount))
        )
    if what.kind == "cargo shifts":
        x, y, z = trailer.hidden_cg_m
        return replace(description, trailer=replace(trailer, hidden_cg_m=(x + what.amount, y, z)))
    if what.kind == "bed holds":
        low = min(z for part in trailer.parts for _, z in part.outline_m)
        hold = BedHold(at_m=(trailer.cargo.cg_m[0], 0.0, low), pull_N=what.amount)
        return replace(description, site=replace(site, bed_hold=hold))
    if what.kind == "soft float":
        units = list(description.units)
        unit = units[what.end]
        first, second, third, fourth = unit.floats.soft_float_share
        floats = replace(unit.floats, soft_float_share=(first * what.amount, second, third, fourth))
        units[what.end] = replace(unit, floats=floats)
        return replace(description, units=tuple(units))
    return description

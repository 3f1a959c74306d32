"""The instructor's acts in words: by how much, in the user's units, and as a recording's event."""

from __future__ import annotations

from simulator.drill.instruction import Instruction, from_fields
from simulator.events import Fields
from simulator.scenario.measures import METERS_PER_S_PER_MPH
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen
from simulator.words import say

SIDED = {"soft float": "float", "line slips": "slip"}
NAMED = {"cargo shifts": "cargo", "bed holds": "bed", "pause": "paused", "go on": "gone_on"}
"""Kinds whose words have another name; the others are named as they are."""


def speed_said(value: float, system: System) -> str:
    """A wind's."""
    if system == "metric":
        return f"{value:.0f} {say('measure.meter_per_s')}"
    return f"{value / METERS_PER_S_PER_MPH:.0f} {say('measure.mile_per_h')}"


def length_said(value: float, system: System) -> str:
    """Of rope."""
    return shown.length(value, system, decimals=2).joined


def stiffness_said(value: float, _: System) -> str:
    """What is left of a float's."""
    return say("instructor.stiffness", value=shown.percent(value).joined)


def load_said(value: float, system: System) -> str:
    """What a bed holds."""
    return shown.load(value, system).joined


def shift_said(value: float, system: System, sign: float) -> str:
    """Cargo's: toward the tail end is positive; said by the side it is seen on; `sign` is -1 in a mirrored picture."""
    is_left = value * sign < 0.0
    return say(f"instructor.toward_{'left' if is_left else 'right'}", value=length_said(abs(value), system))


def act_text(stored: Fields, seen: Seen, system: System) -> str:
    """What the instructor did, with its amount.

    Raises:
        ValueError: `stored` holds no instruction.
    """
    what = from_fields(stored)
    said, amount = _act_said(what, seen), _amount_said(what, seen, system)
    if what.kind == "step back":
        return f"{said} {amount}".strip()
    return ", ".join(part for part in (said, amount) if part)


def _act_said(what: Instruction, seen: Seen) -> str:
    if what.kind not in SIDED:
        return say(f"instructor.{NAMED.get(what.kind, what.kind.replace(' ', '_'))}")
    name = SIDED[what.kind]
    if what.kind != "line slips":
        return say(f"instructor.{name}_{seen.of(what.end).where}")
    unit, line = next((unit, line) for unit in seen.units for line in unit.unit.lines if line.place == what.end)
    if len(unit.unit.lines) < 2:
        return say(f"instructor.{name}_{unit.where}")
    return say(f"instructor.{name}_{unit.where}_nth", number=line.number)


def _amount_said(what: Instruction, seen: Seen, system: System) -> str:
    if what.kind == "cargo shifts":
        return shift_said(what.amount, system, seen.sign)
    if what.kind == "step back":
        return f"{what.amount + 1.0:.0f}" if what.amount >= 0.0 else ""
    if what.kind == "gust":
        return say("instructor.lasts", value=speed_said(what.amount, system), seconds=f"{what.lasts_s:.0f}")
    shows = {"soft float": stiffness_said, "line slips": length_said, "bed holds": load_said}
    show = shows.get(what.kind)
    return show(what.amount, system) if show else ""

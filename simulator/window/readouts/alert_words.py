"""The alert line: what is in caution or stop, said in words with its value."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple

from simulator.readings import FLOAT_NAMES, LineReadings, Readings, UnitReadings
from simulator.scenario.judged_limits import GROUND_STOP
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen, SeenUnit
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.drill_alerts import DrillAlert, drill_text, not_yet_said
from simulator.window.readouts.looks import capital
from simulator.words import say, thing

OF_LINES = ("head_room", "rope_left", "stall", "slack")
"""Alerts of a line, not of its unit."""


class AlertLook(NamedTuple):
    """The alert line: the worst alert in words."""

    level: Level
    text: str
    number: int
    """How many alerts there are."""


def alert_look(
    watched: Watched, readings: Readings, seen: Seen, system: System, *, drill: Sequence[DrillAlert] = ()
) -> AlertLook | None:
    """The worst, newest alert in words; none in a calm lift.

    Args:
        watched: levels of the readouts.
        readings: their values.
        seen: how the units are seen.
        system: the user's units.
        drill: the drill's own cautions, which give way to a stop and to what is newer.
    """
    order, others = watched.in_order, sorted(not_yet_said(watched, drill, seen), key=lambda row: -row.since_s)
    first = order[0] if order else ""
    is_stop = watched.level(first) is Level.STOP
    if others and not is_stop and (not first or others[0].since_s > watched.since_s[first]):
        return AlertLook(Level.CAUTION, drill_text(others[0].caution, seen, system), len(order) + len(others))
    if not first:
        return None
    return AlertLook(watched.levels[first], alert_text(first, readings, seen, system), len(order) + len(others))


def alert_text(name: str, readings: Readings, seen: Seen, system: System) -> str:
    """One alert's sentence. `name` as in `alerts.Watch`."""
    first, _, last = name.partition(".")
    unit = seen.owner(first)
    if unit is not None and last in OF_LINES:
        line = next(one for one in unit.unit.lines if one.name == first)
        return _line_text(last, readings.lines[line.place], unit, first, system)
    if unit is not None:
        return _unit_text(last, readings.units[unit.place], unit, system)
    return _gap_text(last, readings, seen, system) if first == "gap" else _load_text(first, readings, seen, system)


def _line_text(what: str, now: LineReadings, unit: SeenUnit, line: str, system: System) -> str:
    """Of one line: by its own name where its unit has two."""
    value = ""
    if what == "head_room":
        value = shown.length(now.head_room_m, system).joined
    elif what == "rope_left":
        value = shown.length(now.rope_left_m, system, decimals=0).joined
    said = unit.line_said(line)
    owner = unit.said("name") if len(unit.unit.lines) < 2 else said
    return say(f"alert.{what}", value=value, unit=owner, line=said)


def _unit_text(what: str, unit: UnitReadings, seen: SeenUnit, system: System) -> str:
    names = {"unit": seen.said("name"), "line": seen.said("line" if len(seen.unit.lines) < 2 else "lines")}
    kind, _, float_name = what.partition(".")
    if kind == "float":
        value = shown.load(unit.floats_N[FLOAT_NAMES.index(float_name)], system).joined
        return say("alert.float", float=say(f"float.{float_name}"), value=value, **names)
    if kind in ("capacity", "tandem") and not isfinite(unit.capacity_used):
        return say("alert.no_rating", **names)
    if kind == "ground":
        most = max(range(4), key=lambda index: unit.floats_N[index])
        key = "alert.ground" if unit.ground_used >= GROUND_STOP else "alert.ground_near"
        value = shown.percent(unit.ground_used).joined
        return say(key, float=say(f"float.{FLOAT_NAMES[most]}"), value=value, **names)
    return say(f"alert.{kind}", value=_unit_value(kind, unit), **names)


def _unit_value(kind: str, unit: UnitReadings) -> str:
    if kind == "off_plumb":
        return shown.angle(unit.mean_off_plumb_rad).joined
    return shown.percent(unit.capacity_used).joined if kind in ("capacity", "tandem") else ""


def _load_text(kind: str, readings: Readings, seen: Seen, system: System) -> str:
    load = readings.load
    if kind == "pitch":
        way = say("table.nose_up" if load.pitch_rad > 0 else "table.nose_down")
        return say("alert.pitch", value=shown.angle(load.pitch_rad).joined, way=way)
    if kind == "yaw":
        return say("alert.yaw", value=shown.angle(abs(load.yaw_rad)).joined)
    if kind == "sway":
        return say("alert.sway", value=shown.length(load.sway_m, system, decimals=2).joined)
    if kind == "raise":
        row = max(readings.gaps, key=lambda gap: gap.short_m)
        size = shown.length(row.short_m, system, decimals=2).joined
        return say("alert.raise", part=row.part, meets=as_seen(row.meets, seen), value=size)
    if kind == "slope":
        return say("alert.slope", value=shown.length(readings.slope_room_m, system, decimals=2).joined)
    if load.lane_room_m < 0.0:
        return say("alert.lane_over")
    return say("alert.lane", value=shown.length(load.lane_room_m, system).joined)


def _gap_text(part: str, readings: Readings, seen: Seen, system: System) -> str:
    row = next(row for row in readings.gaps if row.part == part)
    size = shown.length(abs(row.gap_m), system, decimals=2).joined
    key = "alert.close" if row.gap_m >= 0.0 else "alert.not_clear"
    return say(key, part=capital(part), meets=as_seen(row.meets, seen), value=size)


def as_seen(text: str, seen: Seen) -> str:
    """What a part meets, or any text, with units and their lines named by the side they are seen on."""
    names = unit_names(seen)
    text = thing(text, names)
    for name, shown_as in names.items():
        text = text.replace(name, shown_as).replace(_begun(name), _begun(shown_as))
    return text


def _begun(words: str) -> str:
    """With a capital, as at the beginning of a sentence."""
    return words[:1].upper() + words[1:]


def unit_names(seen: Seen) -> dict[str, str]:
    """How the units, and their lines, are named on the screen, by what they are called elsewhere."""
    units = {f"{one.name} unit": one.said("said") for one in seen.units}
    return units | {f"{one.name} line": one.said("line_said") for one in seen.units}

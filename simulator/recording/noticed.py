"""What an instructor would call out at a look at the readings: travel ends, stall, slack, tipping, off the ground."""

from __future__ import annotations

from collections.abc import Iterator

from simulator.events import Event, Fields, Happening
from simulator.readings import LineReadings, Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import most_telescoped_N, telescopes_against_rule
from simulator.scenario.rig import Rig, rig_of
from simulator.scenario.unit import Unit

AT_END_M, AT_END_RAD = 0.002, 0.0005
"""This near to an end of travel is at it."""
LASTS_S = 0.3
"""What does not last this long is not noted: a load that is set down bounces."""
TELESCOPED = "telescope"
"""A boom is telescoped with more on its hook than the unit's own rule allows."""
TIPS = "tipping"
"""A unit that goes over is noted at once, and so is one that comes back onto its floats."""

AGAIN = "bed"
"""Which of the load's happenings is that it lies on bed or slope. It is so at the start; when it is noted, the load has
come back to them."""
Key = tuple[str, str, str]
"""Kind, which of them, whose."""


class Noticing:
    """Looks at readings one after another and says what has begun."""

    def __init__(self, description: Description) -> None:
        self._description, self._rig = description, rig_of(description)
        self._since: dict[Key, Readings] = {}
        self._told: set[Key] = set()
        self._is_first = True
        self._leaned_rad: dict[str, float] = {}
        """The farthest that each unit has leaned which goes over."""

    def look(self, readings: Readings) -> list[Event]:
        """What has begun and lasted; the step is where it began. What holds at the first look began before."""
        found = {_key(one): one for one in conditions(self._description, self._rig, readings)}
        now = set(found)
        saved = list(self._saved(readings))
        if self._is_first:
            self._told, self._is_first = set(now), False
        self._told &= now
        self._since = {key: self._since.get(key, readings) for key in now}
        since = self._since
        new = [
            key for key in sorted(now - self._told) if key[0] == TIPS or readings.time_s - since[key].time_s >= LASTS_S
        ]
        self._told.update(new)
        return [*saved, *(Event(since[key].step, *found[key]) for key in new)]

    def _saved(self, readings: Readings) -> Iterator[Event]:
        """Units that stand on their floats again after they had begun to go over."""
        for name, unit in zip(self._rig.unit_names, readings.units, strict=True):
            if unit.tipping:
                self._leaned_rad[name] = max(self._leaned_rad.get(name, 0.0), unit.over_rad)
            elif name in self._leaned_rad:
                yield Event(readings.step, TIPS, "saved", {"unit": name, "lean_rad": self._leaned_rad.pop(name)})


def _key(one: Happening) -> Key:
    return one.kind, one.what, str(one.fields.get("line", one.fields.get("unit", "")))


def conditions(description: Description, rig: Rig, readings: Readings) -> Iterator[Happening]:
    """All that holds at a moment; the rig is the description's, which whoever asks often has at hand."""
    hangs = readings.load.ground_N <= 0.0
    if hangs:
        yield Happening("load", "free")
    elif readings.load.road_N > 0.0:
        yield Happening("load", "deck" if _is_on_a_deck(description, readings) else "road")
    else:
        yield Happening("load", AGAIN)
    for name, unit, now in zip(rig.unit_names, description.units, readings.units, strict=True):
        yield from (Happening("travel end", end, {"unit": name}) for end in boom_ends(unit, now))
        most_N = most_telescoped_N(unit, description.limits)
        if telescopes_against_rule(now, most_N):
            fields: Fields = {"unit": name, "load_N": now.hook_load_N, "most_N": most_N}
            yield Happening(TELESCOPED, "telescoped", fields)
        if now.tipping:
            yield Happening(TIPS, "tipping", {"unit": name})
    for line, now_line in zip(rig.line_names, readings.lines, strict=True):
        yield from (Happening("travel end", end, {"line": line}) for end in line_ends(now_line))
        if now_line.stall:
            yield Happening("stall", "stall", {"line": line})
        if hangs and now_line.slack:
            yield Happening("slack", "slack", {"line": line})


def _is_on_a_deck(description: Description, readings: Readings) -> bool:
    """It has come down on a waiting flat trailer, not on the road beside it."""
    return 2.0 * readings.load.height_over_road_m > description.landing.height_m > 0.0


def line_ends(now: LineReadings) -> Iterator[str]:
    """The ends of travel that a line is at."""
    if now.head_room_m <= AT_END_M:
        yield "block"
    if now.rope_left_m <= AT_END_M:
        yield "rope_out"


def boom_ends(unit: Unit, now: UnitReadings) -> Iterator[str]:
    """The ends of travel that a unit's functions are at."""
    boom = unit.boom
    ends = (
        (now.boom_length_m <= boom.shortest_m + AT_END_M, "all_in"),
        (now.boom_length_m >= boom.longest_m - AT_END_M, "all_out"),
        (now.elevation_rad <= boom.lowest_rad + AT_END_RAD, "lowest"),
        (now.elevation_rad >= boom.highest_rad - AT_END_RAD, "highest"),
        (now.slew_rad <= boom.slew_ravine_rad + AT_END_RAD, "slew_ravine"),
        (now.slew_rad >= boom.slew_road_rad - AT_END_RAD, "slew_road"),
    )
    return (text for holds, text in ends if holds)

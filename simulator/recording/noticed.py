"""What an instructor would call out at a look at the readings: travel ends, stall, slack, tipping, off the ground."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import END_NAMES, Description
from simulator.scenario.unit import Unit

AT_END_M, AT_END_RAD = 0.002, 0.0005
"""This near to an end of travel is at it."""
LASTS_S = 0.3
"""What does not last this long is not noted: a load that is set down bounces."""

AGAIN = "the load is on bed or slope"
"""It is so at the start; when it is noted, the load has come back to them."""


class Notice(NamedTuple):
    """Something that began."""

    step: int
    kind: str
    text: str


class Noticing:
    """Looks at readings one after another and says what has begun."""

    def __init__(self, description: Description) -> None:
        self._description = description
        self._since: dict[tuple[str, str], Readings] = {}
        self._told: set[tuple[str, str]] = set()
        self._is_first = True

    def look(self, readings: Readings) -> list[Notice]:
        """What has begun and lasted; the step is where it began. What holds at the first look began before."""
        now = set(conditions(self._description, readings))
        if self._is_first:
            self._told, self._is_first = set(now), False
        self._told &= now
        self._since = {key: self._since.get(key, readings) for key in now}
        new = [key for key in sorted(now - self._told) if readings.time_s - self._since[key].time_s >= LASTS_S]
        self._told.update(new)
        return [Notice(self._since[key].step, *key) for key in new]


def conditions(description: Description, readings: Readings) -> Iterator[tuple[str, str]]:
    """Kind and text of all that holds at a moment."""
    hangs = readings.load.ground_N <= 0.0
    if hangs:
        yield "load", "the load hangs free"
    elif readings.load.road_N > 0.0:
        yield "load", "the load touches the road"
    else:
        yield "load", AGAIN
    for name, unit, now in zip(END_NAMES, description.units, readings.units, strict=True):
        yield from (("travel end", f"{name} unit: {end}") for end in travel_ends(unit, now))
        if now.stall:
            yield "stall", f"{name} unit: winch at its stall pull"
        if now.tipping:
            yield "tipping", f"{name} unit: no set of floats balances it"
        if hangs and now.slack:
            yield "slack", f"{name} line slack while the load hangs"


def travel_ends(unit: Unit, now: UnitReadings) -> Iterator[str]:
    """The ends of travel that a unit's functions are at."""
    boom = unit.boom
    ends = (
        (now.boom_length_m <= boom.shortest_m + AT_END_M, "boom all in"),
        (now.boom_length_m >= boom.longest_m - AT_END_M, "boom all out"),
        (now.elevation_rad <= boom.lowest_rad + AT_END_RAD, "boom at its lowest"),
        (now.elevation_rad >= boom.highest_rad - AT_END_RAD, "boom at its highest"),
        (now.slew_rad <= boom.slew_ravine_rad + AT_END_RAD, "slewed to its end toward the ravine"),
        (now.slew_rad >= boom.slew_road_rad - AT_END_RAD, "slewed to its end toward the road"),
        (now.head_room_m <= AT_END_M, "block at its stop"),
        (now.rope_left_m <= AT_END_M, "usable rope all out"),
    )
    return (text for holds, text in ends if holds)

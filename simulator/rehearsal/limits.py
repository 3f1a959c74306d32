"""The limits that a rehearsal is held against: what drill and debrief judge, and the gust of the drawn wind."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import NamedTuple

from simulator.plan.compare import limit_used
from simulator.plan.findings import Reading
from simulator.plan.site_rules import wind_readings
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import Judged, judged_rows

GUST = "wind"


class RehearsedLimit(NamedTuple):
    """One limit of a lift."""

    key: str
    """Channel; of the wind, `UNIT.wind`."""
    at: Reading
    """As a plan's reading: name, whose it is, caution and stop; its value means nothing."""

    def used(self, value: float) -> float:
        """Share of the limit that a value uses: 1 and more is past it; not a number where nothing counted."""
        return limit_used(self.at._replace(value=value)) if isfinite(value) else value

    def is_kept(self, value: float) -> bool:
        """Not past it; where nothing counted, nothing was passed."""
        return self.at._replace(value=value).level != "stop"


def limits_of(description: Description) -> tuple[RehearsedLimit, ...]:
    """All limits of a lift. The share for two units calls no stop in a lift; here its caution is its limit."""
    rows = judged_rows(description.limits, tuple(unit.name for unit in description.units))
    gusts = [RehearsedLimit(f"{one.who.removesuffix(' unit')}.{GUST}", one) for one in wind_readings(description)]
    return (*(_of_row(description, row) for row in rows), *gusts)


def _of_row(description: Description, row: Judged) -> RehearsedLimit:
    who = "load" if row.end is None else f"{description.units[row.end].name} unit"
    stop = row.stop if isfinite(row.stop) else row.caution
    return RehearsedLimit(row.key, Reading(row.key, who, row.label, row.kind, 0.0, row.caution, stop, row.rising))


def gusts_of(lift: Description) -> Iterator[float]:
    """The gust at each unit's boom tip, from the wind that was drawn."""
    return (one.value for one in wind_readings(lift))

"""Set-ups side by side: the worst of each along the path in one row."""

from __future__ import annotations

from math import inf, nan
from typing import NamedTuple

from simulator.plan.findings import Reading
from simulator.plan.setup_check import SetupCheck
from simulator.plan.stations import crosses

SAFETY = (
    "capacity",
    "lightest float",
    "bearing",
    "head room",
    "rope left",
    "stall",
    "gap over",
    "gap to ground",
    "passing",
    "boom",
)
"""What several are compared by; a travel end only has to hold."""
ROOM_SCALE_M = 0.3
"""A room of this much counts as half used where nothing may be left (common practice, no source)."""
Each = tuple[float, ...]
"""A value a unit (`shares`: a line), in the order of the rig."""


class Row(NamedTuple):
    """One set-up; each unit's worst along the path."""

    name: str
    within_limits: bool
    refused_for: tuple[str, ...]
    cautioned_for: tuple[str, ...]
    shares: Each
    """Of the weight, level."""
    line_load_N: Each
    reach_m: Each
    """Longest."""
    boom_m: Each
    """Longest."""
    boom_over_tailboard_m: Each
    """Not a number where the load does not cross."""
    elevation_rad: Each
    """Highest."""
    capacity_used: Each
    head_room_m: Each
    least_float_share: Each
    room_m: float
    """Least room beside the units and under the booms; infinite with nothing near."""
    room_to: str
    room_is_at_least: bool
    """The room is a lower bound: it was too far to be measured."""
    tightest: str
    """What is used most, of `SAFETY`."""
    used: float
    """How much of it; 1 is its stop."""


def row(name: str, check: SetupCheck) -> Row:
    """The row of a check."""
    over = min(check.stations[1:], key=lambda one: abs(one.station.y_m))
    stands = [[one.units[end] for one in check.stations] for end in range(len(check.description.units))]
    tightest, used = tightest_of(check)
    boom_over = tuple(one.pose.length_m if crosses(check.description) else nan for one in over.units)
    rooms = [one.reading for one in check.findings if one.reading.code in ("passing", "boom")]
    near = min(rooms, key=lambda reading: reading.value, default=None)
    return Row(
        name=name,
        within_limits=check.within_limits,
        refused_for=check.refused_for,
        cautioned_for=check.cautioned_for,
        shares=over.station.shares,
        line_load_N=tuple(max(stand.line.load_N for stand in unit) for unit in stands),
        reach_m=tuple(max(stand.reach_m for stand in unit) for unit in stands),
        boom_m=tuple(max(stand.pose.length_m for stand in unit) for unit in stands),
        boom_over_tailboard_m=boom_over,
        elevation_rad=tuple(max(stand.pose.elevation_rad for stand in unit) for unit in stands),
        capacity_used=tuple(max(stand.capacity.used for stand in unit) for unit in stands),
        head_room_m=tuple(min(line.head_room_m for stand in unit for line in stand.lines) for unit in stands),
        least_float_share=tuple(min(stand.floats.lightest_share for stand in unit) for unit in stands),
        room_m=near.value if near else inf,
        room_to=near.what if near else "",
        room_is_at_least=near is not None and near.is_at_least,
        tightest=tightest,
        used=used,
    )


def tightest_of(check: SetupCheck) -> tuple[str, float]:
    """The limit that is used most and how much of it is used."""
    found = [(limit_used(one.reading), one.reading) for one in check.findings if one.reading.code in SAFETY]
    used, reading = max(found, key=lambda pair: pair[0])
    return f"{reading.who}: {reading.name}", used


def limit_used(reading: Reading) -> float:
    """Share of a limit: 1 and more is past it."""
    if reading.rising:
        return reading.value / reading.stop
    if reading.stop > 0.0:
        return reading.stop / reading.value if reading.value > 0.0 else inf
    room = ROOM_SCALE_M + reading.margin
    return ROOM_SCALE_M / room if room > 0.0 else inf

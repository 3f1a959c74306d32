"""Everything at one place of the path."""

from __future__ import annotations

from dataclasses import dataclass

from simulator.mechanics.clearance.decks import Clearances, HeadRoom
from simulator.plan.findings import Reading
from simulator.plan.stations import Station
from simulator.plan.unit_stand import UnitStand


@dataclass(frozen=True, slots=True)
class StationCheck:
    """A station, judged."""

    station: Station
    units: tuple[UnitStand, ...]
    room: Clearances | None
    """None when room round the trailer was not asked for."""
    head_room: HeadRoom | None
    """Whether the height still missing is there."""
    readings: tuple[Reading, ...]

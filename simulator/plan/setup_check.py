"""Does this set-up work? The whole agreed path judged statically, station by station, before anyone drives."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from simulator.mechanics.clearance import Clearances, HeadRoom, clearances, head_room_to_raise
from simulator.mechanics.clearance_scene import Scene, prepare_scene
from simulator.mechanics.clearance_units import END_UNITS
from simulator.plan.findings import Amount, Change, Finding, Place, Reading, codes_of, governing
from simulator.plan.hanging import Load, as_stated, load_of
from simulator.plan.room_rules import room_readings
from simulator.plan.stations import Station, crosses, stations
from simulator.plan.unit_rules import set_back_readings, unit_readings
from simulator.plan.unit_stand import Side, UnitStand, side_of, stand_at
from simulator.scenario.description import Description

EVERYWHERE = Place("the whole time", 0.0)


@dataclass(frozen=True, slots=True)
class StationCheck:
    """Everything at one place of the path."""

    station: Station
    units: tuple[UnitStand, UnitStand]
    room: Clearances | None
    """None when room round the trailer was not asked for."""
    head_room: HeadRoom | None
    """Whether the height still missing is there."""
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class SetupCheck:
    """A set-up, judged."""

    description: Description
    load: Load
    stations: tuple[StationCheck, ...]
    findings: tuple[Finding, ...]
    """The worst of each quantity, those past a limit first."""

    @property
    def works(self) -> bool:
        """Nothing is past its stop limit anywhere."""
        return not self.refused_for

    @property
    def refused_for(self) -> tuple[str, ...]:
        """Codes of what is past its stop limit, each once."""
        return codes_of(self.findings, "stop")

    @property
    def cautioned_for(self) -> tuple[str, ...]:
        """Codes of what is in its caution, each once."""
        return codes_of(self.findings, "caution")

    @property
    def notes(self) -> tuple[str, ...]:
        """What the verdict leaves out, and what the capacities rest on where that is not a maker's table."""
        found = [] if crosses(self.description) else ["the drill ends before the load crosses: only so far is judged"]
        for name, unit in zip(END_UNITS, self.description.units, strict=True):
            if unit.rating is None:
                found.append(
                    f"{name} has no rating table: its capacity is judged by tipping alone, not by its strength"
                )
            elif unit.rating.invented:
                found.append(f"{name}: the rating table is invented")
        return tuple(found)


def check_setup(
    description: Description,
    *,
    step_m: float = 0.5,
    slew_step_rad: float | None = None,
    room: bool = True,
    stated: bool = True,
    ahead_m: float = 0.0,
) -> SetupCheck:
    """Judge a lift by its stated numbers.

    Args:
        description: the lift.
        step_m: steps of y while the trailer crosses.
        slew_step_rad: steps of the leading unit's slew instead.
        room: look at clearances too (they cost most of the time).
        ahead_m: how far the leading tip is ahead of the other while they cross.
        stated: by the papers; False takes the hidden mass and centre of gravity as known.
    """
    described = as_stated(description) if stated else description
    load = load_of(described)
    sides = side_of(described, load, 0), side_of(described, load, 1)
    scene = prepare_scene(described) if room else None
    path = stations(described, load, step_m=step_m, slew_step_rad=slew_step_rad, ahead_m=ahead_m)
    judged = tuple(_judge(described, sides, scene, station) for station in path)
    return SetupCheck(described, load, judged, governing(_all_readings(described, load, judged)))


def _judge(described: Description, sides: tuple[Side, Side], scene: Scene | None, station: Station) -> StationCheck:
    nose, tail = (stand_at(side, station) for side in sides)
    wind = described.site.wind.speed_mps * (1.0 + described.site.wind.gust_share)
    found = [
        reading
        for side, one in zip(sides, (nose, tail), strict=True)
        for reading in unit_readings(side, station, one, described.limits, wind)
    ]
    if scene is None:
        return StationCheck(station, (nose, tail), None, None, tuple(found))
    gaps = clearances(scene, station.pose, (nose.pose, tail.pose))
    raising = head_room_to_raise(gaps, (nose.line.head_room_m, tail.line.head_room_m), described.limits)
    found += room_readings(described, station.phase, gaps, raising)
    return StationCheck(station, (nose, tail), gaps, raising, tuple(found))


def _all_readings(
    described: Description, load: Load, judged: tuple[StationCheck, ...]
) -> Iterator[tuple[Place, Reading]]:
    for one in judged:
        place = Place(one.station.name, one.station.y_m)
        yield from ((place, reading) for reading in one.readings)
    yield from ((EVERYWHERE, reading) for reading in set_back_readings(described))
    yield EVERYWHERE, _roll(described, load)


def _roll(described: Description, load: Load) -> Reading:
    """The load's roll under its picks, held against what a pitch is held against."""
    limits, rise = described.limits, abs(load.roll_rad)
    across = abs(load.body.cg_m[1] - sum(pick[1] for pick in load.body.picks_m) / 2.0)
    change = Change("bring the picks {} across, over the centre of gravity", (Amount(across, "m"),))
    caution, stop = limits.pitch_caution_rad, limits.pitch_stop_rad
    return Reading("hung roll", "trailer", "roll it hangs with", "rad", rise, caution, stop, True, change=change)

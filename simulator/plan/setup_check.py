"""Does a set-up pass a stated limit? The whole agreed path judged statically, station by station, beforehand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from simulator.mechanics.clearance.decks import clearances, head_room_to_raise
from simulator.mechanics.clearance.scene import Scene, prepare_scene
from simulator.plan.advice import Tried, agreeing, tried
from simulator.plan.exit_plan import ExitPlan, exit_plan
from simulator.plan.findings import Amount, Change, Finding, NotJudged, Place, Reading, Verdict, codes_of, governing
from simulator.plan.flat_rules import flat_readings
from simulator.plan.hanging import Load, as_stated, load_of, off_the_bed, wind_force_N
from simulator.plan.judged_station import StationCheck
from simulator.plan.lying_rules import AT_START, Lying, lying_of, lying_readings
from simulator.plan.not_judged import assumptions, not_judged
from simulator.plan.rigging_list import EndRigging, rigging_of
from simulator.plan.rigging_rules import rigging_readings
from simulator.plan.rising_rules import rising_readings
from simulator.plan.room_rules import room_readings
from simulator.plan.shipped_hardware import shipped_hardware
from simulator.plan.site_rules import landing_readings, set_back_readings, wind_readings
from simulator.plan.stations import Station, crosses, stations
from simulator.plan.telescoping import telescoping_readings
from simulator.plan.turn import Turn, is_turned_on_the_way, turn_of
from simulator.plan.turn_rules import slung_readings, turn_readings
from simulator.plan.unit_rules import unit_readings
from simulator.plan.unit_stand import Side, UnitStand, side_of, stand_at
from simulator.plan.windy import blown_at, blown_pose, yaw_readings
from simulator.scenario.description import Description
from simulator.scenario.hardware import Hardware, Piece

EVERYWHERE = Place("the whole time", 0.0)
STILL = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SetupCheck:
    """A set-up, judged."""

    description: Description
    load: Load
    stations: tuple[StationCheck, ...]
    findings: tuple[Finding, ...]
    """The worst of each quantity, those past a limit first."""
    rigging: tuple[EndRigging, ...]
    """What was judged of the rigging."""
    lying: Lying
    """How the load lies before anyone takes it."""
    not_judged: tuple[NotJudged, ...]
    """What a verdict needs and is missing."""
    assumptions: tuple[str, ...]
    """What the verdict rests on."""
    turn: Turn | None = None
    """How it is turned over in the air; none where it is not."""

    @property
    def exit_plan(self) -> ExitPlan | None:
        """What comes after the landing on a waiting trailer; none where it comes down on the road."""
        return exit_plan(self.description, self.load)

    @property
    def verdict(self) -> Verdict:
        """A passed limit outweighs what is missing."""
        if self.refused_for:
            return "limit passed"
        return "not judged" if self.not_judged else "no limit passed"

    @property
    def within_limits(self) -> bool:
        """No stated limit is passed, as far as there was something to judge."""
        return not self.refused_for

    @property
    def refused_for(self) -> tuple[str, ...]:
        """Codes of what is past its stop limit, each once."""
        return codes_of(self.findings, "stop")

    @property
    def cautioned_for(self) -> tuple[str, ...]:
        """Codes of what is in its caution, each once."""
        return codes_of(self.findings, "caution")


def check_setup(
    description: Description,
    *,
    step_m: float = 0.5,
    slew_step_rad: float | None = None,
    room: bool = True,
    stated: bool = True,
    ahead_m: float = 0.0,
    hardware: Hardware | None = None,
    begun: bool = False,
) -> SetupCheck:
    """Judge a lift by its stated numbers.

    Args:
        description: the lift.
        step_m: steps of y as the trailer crosses.
        slew_step_rad: steps of the leading unit's slew instead.
        room: look at clearances too (they cost most of the time).
        ahead_m: how far the leading tip is ahead of the other while they cross.
        stated: by the papers; False takes the hidden mass and center of gravity as known.
        hardware: tables of rigging; those that ship when none are given.
        begun: the load hangs: how it lay and what held it is behind it.
    """
    described = as_stated(description) if stated else description
    described = off_the_bed(described) if begun else described
    load = load_of(described)
    sides = tuple(side_of(described, load, end) for end in range(len(described.units)))
    scene = prepare_scene(described) if room else None
    path = stations(described, load, step_m=step_m, slew_step_rad=slew_step_rad, ahead_m=ahead_m)
    judged = tuple(_judge(described, load, sides, scene, station) for station in path)
    rigging = rigging_of(described, judged, hardware or shipped_hardware())
    lying = lying_of(described, load)
    turn = turn_of(described) if is_turned_on_the_way(described) else None
    readings = (
        *_all_readings(described, load, judged, (rigging, scene), None if begun else lying),
        *telescoping_readings(described, sides, judged),
        *turn_readings(described, load, turn),
    )
    missing, assumed = not_judged(described, rigging, path), assumptions(described)
    return SetupCheck(described, load, judged, agreeing(governing(readings)), rigging, lying, missing, assumed, turn)


def rigging_list(
    check: SetupCheck, hardware: Hardware, *, side_load_rad: float = 0.0, have: tuple[Piece, ...] = ()
) -> tuple[EndRigging, ...]:
    """The rigging of every end of a set-up that is judged. Arguments as `rigging_of`."""
    return rigging_of(check.description, check.stations, hardware, side_load_rad=side_load_rad, have=have)


def proposals(check: SetupCheck, *, step_m: float = 2.0) -> tuple[Tried, ...]:
    """Changes of a refused plan that were tried by the check itself, each with what it cures and what it leaves."""

    def refuses(lift: Description) -> tuple[str, ...]:
        return check_setup(lift, step_m=step_m, stated=False).refused_for

    return tried(check.description, check.refused_for, refuses) if check.refused_for else ()


class _Standing(NamedTuple):
    """How a unit stands at a station, judged; with what it was made from."""

    side: Side
    station: Station
    rest: tuple[object, ...]
    stand: UnitStand
    readings: tuple[Reading, ...]


_STANDING: dict[tuple[int, str], _Standing] = {}
"""By end and station, of the last check: while a lift is laid out, most changes leave a unit as it was."""
MOST_KEPT = 200


def _standing(described: Description, side: Side, station: Station) -> _Standing:
    key, rest = (side.end, station.name), (described.limits, described.site.wind.speed_mps)
    kept = _STANDING.get(key)
    is_same = kept is not None and kept.side is side and kept.rest == rest and station.hung is None
    if kept is not None and is_same and kept.station == station:
        return kept
    stand = stand_at(side, station)
    found = _Standing(side, station, rest, stand, tuple(unit_readings(side, station, stand, described)))
    if len(_STANDING) >= MOST_KEPT:
        _STANDING.clear()
    _STANDING[key] = found
    return found


def _judge(
    described: Description, load: Load, sides: tuple[Side, ...], scene: Scene | None, station: Station
) -> StationCheck:
    standing = tuple(_standing(described, side, station) for side in sides)
    stands = tuple(one.stand for one in standing)
    wind = blown_at(load, sides[0].wind_N, station)
    found = [reading for one in standing for reading in one.readings]
    found += slung_readings(described, load, station)
    found += yaw_readings(station, wind, described.site.wind.speed_mps)
    if scene is None:
        return StationCheck(station, stands, None, None, tuple(found))
    gaps = clearances(scene, station.pose, tuple(one.pose for one in stands))
    least_m = tuple(min(line.head_room_m for line in one.lines) for one in stands)
    raising = head_room_to_raise(gaps, least_m, described.limits, tuple(side.who for side in sides))
    found += room_readings(described, station.phase, gaps, raising)
    if wind.off_m != STILL and station.phase != "landed":
        # Wind may die down and come back: the gaps are those of both, and the least counts. As the load comes free it
        # is taken aside along its bed.
        aside = clearances(scene, blown_pose(load, station, wind), tuple(one.pose for one in stands))
        raised = head_room_to_raise(aside, least_m, described.limits, tuple(side.who for side in sides))
        found += room_readings(described, station.phase, aside, raised)
    return StationCheck(station, stands, gaps, raising, tuple(found))


def _all_readings(
    described: Description,
    load: Load,
    judged: tuple[StationCheck, ...],
    beside: tuple[tuple[EndRigging, ...], Scene | None],
    lying: Lying | None,
) -> Iterator[tuple[Place, Reading]]:
    rigging, scene = beside
    for one in judged:
        place = Place(one.station.name, one.station.y_m)
        yield from ((place, reading) for reading in one.readings)
    yield from ((EVERYWHERE, reading) for reading in set_back_readings(described))
    yield from ((EVERYWHERE, reading) for reading in wind_readings(described))
    if crosses(described):
        last = judged[-1].station
        aside_m, place = blown_at(load, wind_force_N(described, load), last).off_m[1], Place(last.name, last.y_m)
        yield from ((place, reading) for reading in landing_readings(described, aside_m))
        yield from ((place, reading) for reading in flat_readings(described, load, judged[-1], scene, aside_m))
    yield from rigging_readings(rigging)
    yield EVERYWHERE, _roll(described, load)
    if lying is not None:
        yield from ((AT_START, reading) for reading in lying_readings(lying))
        yield from ((AT_START, reading) for reading in _rising(described, load, judged, scene))


def _rising(
    described: Description, load: Load, judged: tuple[StationCheck, ...], scene: Scene | None
) -> Iterator[Reading]:
    """Of a load that wind takes aside before it has come up past the ground beside it."""
    found = blown_at(load, wind_force_N(described, load), judged[0].station)
    if scene is not None and found.off_m != STILL and len(judged) > 1:
        yield from rising_readings(load, judged, scene, found, described.path.hold_height_m)


def _roll(described: Description, load: Load) -> Reading:
    """The load's roll under its picks, held against what a pitch is held against."""
    limits, rise = described.limits, abs(load.roll_rad)
    across = abs(load.body.cg_m[1] - sum(pick[1] for pick in load.body.picks_m) / 2.0)
    change = Change("bring the picks {} across, over the center of gravity", (Amount(across, "m"),))
    caution, stop = limits.pitch_caution_rad, limits.pitch_stop_rad
    return Reading("hung roll", "trailer", "roll it hangs with", "rad", rise, caution, stop, True, change=change)

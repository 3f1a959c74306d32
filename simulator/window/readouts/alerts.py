"""Which readouts are in caution or stop, and since when. Pure: readings and limits in, levels out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import nan
from typing import NamedTuple

from simulator.readings import FLOAT_NAMES, Gaps, LineReadings, LoadReadings, Readings, UnitReadings
from simulator.recording.counted import HANGS_N
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import TAKING_UP_N, takes_up
from simulator.scenario.rig import TWO_BY_ONE, Rig, RigUnit
from simulator.window.kit import levels
from simulator.window.kit.levels import Level, Threshold

FourNewtons = tuple[float, float, float, float]
RestingLoads = tuple[FourNewtons, ...]
"""Resting load of each float, N: unit by unit, in the order of `FLOAT_NAMES`."""
TO_RAISE = ("to raise", "cannot raise")
"""States of a part that is below what it will pass, and no fault yet."""
_SHOWN_YES = Threshold(0.5, 2.0, True, 0.0)
_SHOWN_STOP = Threshold(0.5, 0.5, True, 0.0)


class Watch(NamedTuple):
    """One readout to keep an eye on."""

    name: str
    """Dotted, such as `nose.capacity`, `tail.float.cab_road`, `nose_2.slack`, `sway` or `gap.Belly`."""
    value: Callable[[Readings], float]
    threshold: Threshold


class Watched(NamedTuple):
    """Every watched readout's level at one moment, and the time it came to it."""

    levels: Mapping[str, Level] = {}
    since_s: Mapping[str, float] = {}

    def level(self, name: str) -> Level:
        """The level of one readout; good when it is not watched."""
        return self.levels.get(name, Level.GOOD)

    @property
    def in_order(self) -> tuple[str, ...]:
        """Readouts that want to be looked at: stop before caution, newest first."""
        raised = [name for name, level in self.levels.items() if level > Level.GOOD]
        return tuple(sorted(raised, key=lambda name: (-self.levels[name], -self.since_s[name])))

    @property
    def worst(self) -> Level:
        """The worst level of all."""
        return max(self.levels.values(), default=Level.GOOD)


def watch_list(
    limits: Limits, part_names: tuple[str, ...], resting: RestingLoads | None = None, rig: Rig = TWO_BY_ONE
) -> tuple[Watch, ...]:
    """What to watch in one lift.

    Args:
        limits: thresholds of the scenario.
        part_names: the trailer's parts.
        resting: the floats' resting loads; without them only the least float is judged.
        rig: units and lines.
    """
    units = [row for unit in rig.units for row in _unit_watches(unit, limits, resting)]
    return (*units, *_load_watches(limits), *(_gap_watch(part, limits) for part in part_names))


def look(watches: tuple[Watch, ...], readings: Readings, before: Watched) -> Watched:
    """The levels now, each leaning on the level it had before."""
    levels = {row.name: row.threshold.level(row.value(readings), before.level(row.name)) for row in watches}
    since_s = {
        name: before.since_s[name] if before.levels.get(name) == level else readings.time_s
        for name, level in levels.items()
    }
    return Watched(levels, since_s)


def float_share(unit: UnitReadings, index: int, resting_N: FourNewtons | None) -> float:
    """A float's share of its resting load; not a number where it is not known."""
    reaction_N = unit.floats_N[index]
    if resting_N is not None:
        return reaction_N / resting_N[index] if resting_N[index] > 0.0 else nan
    return unit.least_float_share if index == least_float(unit, None) else nan


def least_float(unit: UnitReadings, resting_N: FourNewtons | None) -> int:
    """Index of the float lightest by its share of resting load."""
    if resting_N is None:
        return min(range(4), key=lambda index: abs(unit.floats_N[index] - unit.least_float_N))
    return min(range(4), key=lambda index: float_share(unit, index, resting_N))


def _unit_watches(rig: RigUnit, limits: Limits, resting: RestingLoads | None) -> list[Watch]:
    def row(last: str, read: Callable[[UnitReadings], float], threshold: Threshold) -> Watch:
        return Watch(f"{rig.name}.{last}", lambda readings: read(readings.units[rig.place]), threshold)

    resting_N = resting[rig.place] if resting else None

    def of_float(index: int) -> Callable[[UnitReadings], float]:
        return lambda unit: float_share(unit, index, resting_N)

    light = levels.float_share(limits)
    floats = [row(f"float.{name}", of_float(index), light) for index, name in enumerate(FLOAT_NAMES)]
    of_lines = [one for line in rig.lines for one in _line_watches(line.name, line.place, limits)]
    return [
        row("tipping", lambda u: float(u.tipping), _SHOWN_STOP),
        Watch(f"{rig.name}.off_plumb", lambda readings: _leans_rad(readings, rig), levels.off_plumb(limits)),
        row("capacity", lambda u: u.capacity_used, levels.capacity(limits)),
        row("tandem", lambda u: u.tandem_used, levels.tandem(limits)),
        row("ground", lambda u: u.ground_used, levels.ground(limits)),
        *floats,
        *of_lines,
    ]


def _leans_rad(readings: Readings, rig: RigUnit) -> float:
    unit = readings.units[rig.place]
    slacks = [readings.lines[line.place].slack for line in rig.lines]
    return nan if takes_up(slacks, unit.hook_load_N < TAKING_UP_N) else unit.mean_off_plumb_rad


def is_loose(readings: Readings, rig: RigUnit) -> bool:
    """No line of a unit bears: it leans as it hangs, and pulls nothing aside."""
    return all(readings.lines[line.place].slack for line in rig.lines)


def _line_watches(name: str, place: int, limits: Limits) -> list[Watch]:
    """Of one line; a unit's only line has its unit's name."""

    def row(last: str, read: Callable[[LineReadings], float], threshold: Threshold) -> Watch:
        return Watch(f"{name}.{last}", lambda readings: read(readings.lines[place]), threshold)

    return [
        row("head_room", lambda line: line.head_room_m, levels.head_room(limits)),
        row("rope_left", lambda line: line.rope_left_m, levels.rope_left(limits)),
        row("stall", lambda line: float(line.stall), _SHOWN_YES),
        Watch(f"{name}.slack", lambda readings: float(_hangs_slack(readings, place)), _SHOWN_YES),
    ]


def _hangs_slack(readings: Readings, place: int) -> bool:
    # A slack line is calm while the ground carries the load: before the strain and after landing.
    return readings.lines[place].slack and hangs(readings.load)


def hangs(load: LoadReadings) -> bool:
    """The load hangs free: only then its sway counts."""
    return load.ground_N < HANGS_N


def _load_watches(limits: Limits) -> list[Watch]:
    return [
        Watch("pitch", lambda r: _hanging(r, abs(r.load.pitch_rad)), levels.pitch(limits)),
        Watch("yaw", lambda r: _hanging(r, abs(r.load.yaw_rad)), levels.yaw(limits)),
        Watch("sway", lambda r: _hanging(r, r.load.sway_m), levels.sway(limits)),
        Watch("lane", lambda r: r.load.lane_room_m, levels.lane(limits)),
        Watch("slope", lambda r: _hanging(r, r.slope_room_m), levels.slope(limits)),
        Watch("raise", lambda r: r.raise_short_m, levels.RAISE_SHORT),
    ]


def _hanging(readings: Readings, value: float) -> float:
    # On the bed the trailer lies as the bed lies; pitch and sway are the operators' once it hangs free.
    return value if hangs(readings.load) else nan


def _gap_watch(part: str, limits: Limits) -> Watch:
    return Watch(f"gap.{part}", lambda readings: _gap_m(readings.gaps, part), levels.gap(limits))


def _gap_m(gaps: Gaps, part: str) -> float:
    found = next((row for row in gaps if row.part == part), None)
    return nan if found is None or found.state in TO_RAISE else found.gap_m

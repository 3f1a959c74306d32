"""Which readouts are in caution or stop, and since when. Pure: readings and limits in, levels out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import nan
from typing import NamedTuple

from simulator.readings import FLOAT_NAMES, LoadReadings, PartGap, Readings, UnitReadings
from simulator.recording.counted import HANGS_N
from simulator.scenario.description import END_NAMES, Limits
from simulator.window.kit import thresholds
from simulator.window.kit.thresholds import Level, Threshold

FourNewtons = tuple[float, float, float, float]
RestingLoads = tuple[FourNewtons, FourNewtons]
"""Resting load of each float, N: nose unit, tail unit, in the order of `FLOAT_NAMES`."""
TO_RAISE = ("to raise", "cannot raise")
"""States of a part that is below what it will pass, and no fault yet."""
_SHOWN_YES = Threshold(0.5, 2.0, True, 0.0)
_SHOWN_STOP = Threshold(0.5, 0.5, True, 0.0)


class Watch(NamedTuple):
    """One readout to keep an eye on."""

    name: str
    """Dotted, such as `nose.capacity`, `tail.float.cab_road`, `sway` or `gap.Belly`."""
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


def watch_list(limits: Limits, part_names: tuple[str, ...], resting: RestingLoads | None = None) -> tuple[Watch, ...]:
    """What to watch in one lift.

    Args:
        limits: thresholds of the scenario.
        part_names: the trailer's parts.
        resting: the floats' resting loads; without them only the least float is judged.
    """
    units = [row for end in (0, 1) for row in _unit_watches(end, limits, resting)]
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


def _unit_watches(end: int, limits: Limits, resting: RestingLoads | None) -> list[Watch]:
    end_name = END_NAMES[end]

    def of(read: Callable[[UnitReadings], float]) -> Callable[[Readings], float]:
        return lambda readings: read(readings.units[end])

    def row(last: str, read: Callable[[UnitReadings], float], threshold: Threshold) -> Watch:
        return Watch(f"{end_name}.{last}", of(read), threshold)

    resting_N = resting[end] if resting else None

    def of_float(index: int) -> Callable[[UnitReadings], float]:
        return lambda unit: float_share(unit, index, resting_N)

    light = thresholds.float_share(limits)
    floats = [row(f"float.{name}", of_float(index), light) for index, name in enumerate(FLOAT_NAMES)]
    return [
        row("tipping", lambda u: float(u.tipping), _SHOWN_STOP),
        row("off_plumb", lambda u: nan if u.slack else u.mean_off_plumb_rad, thresholds.off_plumb(limits)),
        row("capacity", lambda u: u.capacity_used, thresholds.capacity(limits)),
        row("tandem", lambda u: u.tandem_used, Threshold(1.0, float("inf"), True, 0.0)),
        row("head_room", lambda u: u.head_room_m, thresholds.head_room(limits)),
        row("rope_left", lambda u: u.rope_left_m, thresholds.rope_left(limits)),
        row("ground", lambda u: u.ground_used, Threshold(1.0, float("inf"), True, 0.0)),
        row("stall", lambda u: float(u.stall), _SHOWN_YES),
        *floats,
        Watch(f"{end_name}.slack", lambda readings: float(_hangs_slack(readings, end)), _SHOWN_YES),
    ]


def _hangs_slack(readings: Readings, end: int) -> bool:
    # A slack line is calm while the ground carries the load: before the strain and after landing.
    return readings.units[end].slack and hangs(readings.load)


def hangs(load: LoadReadings) -> bool:
    """The load hangs free: only then its sway counts."""
    return load.ground_N < HANGS_N


def _load_watches(limits: Limits) -> list[Watch]:
    return [
        Watch("pitch", lambda r: _hanging(r, abs(r.load.pitch_rad)), thresholds.pitch(limits)),
        Watch("sway", lambda r: _hanging(r, r.load.sway_m), thresholds.sway(limits)),
        Watch("lane", lambda r: r.load.lane_room_m, thresholds.lane(limits)),
        Watch("raise", lambda r: r.raise_short_m, thresholds.RAISE_SHORT),
    ]


def _hanging(readings: Readings, value: float) -> float:
    # On the bed the trailer lies as the bed lies; pitch and sway are the operators' once it hangs free.
    return value if hangs(readings.load) else nan


def _gap_watch(part: str, limits: Limits) -> Watch:
    return Watch(f"gap.{part}", lambda readings: _gap_m(readings.gaps, part), thresholds.gap(limits))


def _gap_m(gaps: tuple[PartGap, ...], part: str) -> float:
    found = next((row for row in gaps if row.part == part), None)
    return nan if found is None or found.state in TO_RAISE else found.gap_m

"""What counts as a reading's worst value: one definition for the card at the end, debrief, page and summary.

All are read from the samples that a recording keeps. Off plumb is the mean over a sway period, of a line that has been
loaded a while; sway and pitch count while the load hangs; all others are the peak of any sample.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import inf, isfinite, nan
from typing import NamedTuple, Protocol

import numpy as np

from simulator.readings import LineReadings, LoadReadings, Readings, UnitReadings, channels_of
from simulator.recording.noticed import LASTS_S
from simulator.recording.whole_numbers import Real, places
from simulator.scenario.judged_limits import TAKING_UP_N, takes_up
from simulator.scenario.rig import TWO_BY_ONE, Rig

SAMPLES_PER_S = 20
"""So often a recording keeps all readings."""
FALLING = ("least_float_share", "head_room_m", "rope_left_m", "lane_room_m")
"""Of these the least is the worst."""
UNIT_FIELDS = ("line_load_N", "mean_off_plumb_rad", "capacity_used", "tandem_used", "ground_used", *FALLING[:3])
HANGING_FIELDS = ("pitch_rad", "yaw_rad", "sway_m")
"""Of the load, without their signs, and only while it hangs."""
LINE_FIELDS = tuple(field for field in UNIT_FIELDS if field in LineReadings._fields)
"""Of these each of two lines has its own."""
HANGS_N = 1.0
"""With less than this on the ground the load hangs."""
ROUNDING_S = 1e-6


class Samples(Protocol):
    """Columns of readings over time, such as a recording."""

    @property
    def rig(self) -> Rig:
        """Its units and lines."""
        ...

    @property
    def time_s(self) -> Real:
        """Times of all samples."""
        ...

    def column(self, name: str) -> Real:
        """One channel over all samples."""
        ...


Also = Callable[[float, Mapping[str, float]], None]


class Worst(NamedTuple):
    """The worst value of a reading."""

    value: float
    time_s: float


def counted(samples: Samples, key: str) -> Real:
    """A channel in SI, a value a sample; not a number while it does not count, pitch, yaw and sway without
    their signs."""
    values = samples.column(key)
    whose, _, field = key.partition(".")
    if field == "mean_off_plumb_rad":
        return np.where(_loaded(samples, whose), values, np.nan)
    if whose == "load" and field in HANGING_FIELDS:
        return np.where(samples.column("load.ground_N") < HANGS_N, np.abs(values), np.nan)
    return values


def _loaded(samples: Samples, whose: str) -> Real:
    """The line, or the unit, has been loaded for a while: a load that is set down bounces."""
    names, time_s = lines_named(samples.rig, whose), samples.time_s
    slacks = [samples.column(f"{name}.slack") == 1.0 for name in names]
    slack = takes_up(slacks, samples.column(f"{whose}.hook_load_N") < TAKING_UP_N)
    last_slack_s = np.maximum.accumulate(np.where(slack, time_s, -np.inf))
    return np.asarray(time_s - last_slack_s >= LASTS_S - ROUNDING_S)


def lines_named(rig: Rig, whose: str) -> tuple[str, ...]:
    """The lines that a unit's name stands for, or the line of that name itself."""
    units = (unit for unit in rig.units if unit.name == whose)
    return next((tuple(line.name for line in unit.lines) for unit in units), (whose,))


def worst(samples: Samples, key: str) -> Worst | None:
    """The worst of all that counts of a channel, in SI, and when it first was; none if nothing does."""
    values = counted(samples, key)
    if not np.isfinite(values).any():
        return None
    is_falling = key.rpartition(".")[2] in FALLING
    known = np.where(np.isfinite(values), values, np.inf if is_falling else -np.inf)
    at = int(np.argmin(known) if is_falling else np.argmax(known))
    return Worst(float(values[at]), float(samples.time_s[at]))


def sample_every(steps_per_s: float, every: int) -> int:
    """Steps from one sample to the next, for readings that come with `every` so many steps."""
    return max(1, round(steps_per_s / SAMPLES_PER_S / every)) * every


def tips(now: Readings) -> bool:
    """A unit goes over: every such moment is a sample, so that no figure is less than what the incident says."""
    return any(unit.tipping for unit in now.units)


class Sampled:
    """Looks on at a lift and keeps the worst of what counts in the very samples that a recording of it has."""

    def __init__(self, rig: Rig = TWO_BY_ONE, *, every: int = 0, also: Also | None = None) -> None:
        """
        Args:
            rig: of the lift.
            every: steps from one sample to the next; left out, they are found from the readings that come.
            also: is shown the time of each sample, and what counts in it.
        """
        self._rig, self._also = rig, also
        self._now: dict[str, float] = {}
        self._places = {one.name: places(one) for one in channels_of(rig.unit_names, rig.line_names)}
        self._worst: dict[str, float] = {}
        self._last_slack_s = dict.fromkeys((*rig.unit_names, *rig.line_names), -inf)
        self._before: Readings | None = None
        self._every = every

    def __call__(self, readings: Readings) -> None:
        """Take in a moment; two of the same step are one."""
        before, self._before = self._before, readings
        if before is None:
            # Time zero is a sample at any rate of samples; of another step that is known with the next readings.
            if readings.step == 0 or (self._every and readings.step % self._every == 0):
                self._take(readings)
            return
        if readings.step <= before.step:
            return
        if not self._every:
            steps = readings.step - before.step
            self._every = sample_every(round(steps / (readings.time_s - before.time_s)), steps)
            if before.step and before.step % self._every == 0:
                self._take(before)
        if readings.step % self._every == 0 or tips(readings):
            self._take(readings)

    def worst(self, key: str, otherwise: float = nan) -> float:
        """The worst of all that counts, to the decimals that a recording keeps; `otherwise` if nothing does."""
        if key not in self._worst:
            return otherwise
        per_one = 10.0 ** self._places[key]
        return round(self._worst[key] * per_one) / per_one

    def _take(self, readings: Readings) -> None:
        for unit, now in zip(self._rig.units, readings.units, strict=True):
            slacks = [readings.lines[line.place].slack for line in unit.lines]
            self._take_one(unit.name, now, readings.time_s, slack=takes_up(slacks, now.hook_load_N < TAKING_UP_N))
            for line in unit.lines if len(unit.lines) > 1 else ():
                now_line = readings.lines[line.place]
                self._take_one(line.name, now_line, readings.time_s, slack=now_line.slack)
        load = readings.load
        if load.ground_N < HANGS_N:
            for place, field in _HANGING:
                self._keep(f"load.{field}", abs(load[place]), is_falling=False)
        self._keep("load.lane_room_m", load.lane_room_m, is_falling=True)
        if self._also is not None:
            self._also(readings.time_s, self._now)
            self._now = {}

    def _take_one(self, name: str, now: UnitReadings | LineReadings, time_s: float, *, slack: bool) -> None:
        """Of a unit or a line."""
        if slack:
            self._last_slack_s[name] = time_s
        is_loaded = time_s - self._last_slack_s[name] >= LASTS_S - ROUNDING_S
        for place, field, is_falling in _OF_UNIT if isinstance(now, UnitReadings) else _OF_LINE:
            if is_loaded or field != "mean_off_plumb_rad":
                self._keep(f"{name}.{field}", now[place], is_falling=is_falling)

    def _keep(self, key: str, value: float, *, is_falling: bool) -> None:
        if self._also is not None:
            self._now[key] = value
        before = self._worst.get(key)
        if (before is None or (value < before if is_falling else value > before)) and isfinite(value):
            self._worst[key] = value


_OF_UNIT = tuple((UnitReadings._fields.index(field), field, field in FALLING) for field in UNIT_FIELDS)
_OF_LINE = tuple((LineReadings._fields.index(field), field, field in FALLING) for field in LINE_FIELDS)
_HANGING = tuple((LoadReadings._fields.index(field), field) for field in HANGING_FIELDS)
"""Where each stands in its tuple, and whether the least of it is the worst."""

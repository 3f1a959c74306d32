"""The debrief's four charts as data: what is drawn over time, in the units shown, with its bands."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import degrees
from typing import NamedTuple

import numpy as np

from simulator.recording.counted import counted
from simulator.recording.recorded import Recording
from simulator.recording.whole_numbers import Real
from simulator.scenario.description import Limits
from simulator.scenario.measures import METERS_PER_FOOT, POUND_N, TONNE_N
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import seen_in
from simulator.words import say

FULL_PERCENT = 100.0
FINE_STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0)
STEPS = (*FINE_STEPS, *(1000.0 * step for step in FINE_STEPS if step >= 1.0))
"""Distances between ticks that are easy to read."""
MOST_TICKS = 4


class Band(NamedTuple):
    """A part of the height that means caution or stop."""

    low: float
    high: float
    level: Level
    limit: float
    """Where it begins, from the good side."""


class Series(NamedTuple):
    """One line of a chart."""

    side: int
    """0 left unit, 1 right unit, -1 the load."""
    values: Real


class Chart(NamedTuple):
    """One chart."""

    label: str
    unit: str
    series: tuple[Series, ...]
    top: float
    """Value at the upper edge; the lower edge is zero."""
    ticks: tuple[float, ...]
    bands: tuple[Band, ...] = ()


def charts(recording: Recording, limits: Limits, system: System) -> tuple[Chart, ...]:
    """Line tension, off plumb, sway, least float."""
    return (
        _tension(recording, system),
        _off_plumb(recording, limits),
        _sway(recording, limits, system),
        _float(recording, limits),
    )


def _by_unit(recording: Recording, field: str, scale: float) -> tuple[Series, ...]:
    units = seen_in(recording.description).units
    return tuple(Series(one.side, counted(recording, f"{one.name}.{field}") * scale) for one in units)


def _tension(recording: Recording, system: System) -> Chart:
    newtons, least = (TONNE_N, 1.0) if system == "metric" else (POUND_N, 2000.0)
    series = _by_unit(recording, "line_load_N", 1.0 / newtons)
    # Room above the lines for the flags.
    top = 1.35 * max(least, most(series))
    return Chart(
        say("debrief.tension"),
        shown.load(0.0, system).unit,
        series,
        top,
        ticks(top),
    )


def _off_plumb(recording: Recording, limits: Limits) -> Chart:
    series = _by_unit(recording, "mean_off_plumb_rad", degrees(1.0))
    caution, stop = degrees(limits.off_plumb_caution_rad), degrees(limits.off_plumb_stop_rad)
    top = max(1.3 * stop, 1.05 * most(series))
    bands = (Band(caution, stop, Level.CAUTION, caution), Band(stop, top, Level.STOP, stop))
    return Chart(say("debrief.off_plumb"), "°", series, top, (0.0, round(caution, 2), round(stop, 2)), bands)


def _sway(recording: Recording, limits: Limits, system: System) -> Chart:
    scale = 1.0 if system == "metric" else 1.0 / METERS_PER_FOOT
    series = (Series(-1, counted(recording, "load.sway_m") * scale),)
    caution, stop = limits.sway_caution_m * scale, limits.sway_stop_m * scale
    top = max(1.25 * stop, 1.05 * most(series))
    bands = (Band(caution, stop, Level.CAUTION, caution), Band(stop, top, Level.STOP, stop))
    marks = (0.0, round(caution, 1), round(stop, 1))
    return Chart(
        say("debrief.sway"), say("measure.meter" if system == "metric" else "measure.foot"), series, top, marks, bands
    )


def _float(recording: Recording, limits: Limits) -> Chart:
    series = _by_unit(recording, "least_float_share", FULL_PERCENT)
    light = FULL_PERCENT * limits.light_float_share
    caution, stop = limits.float_caution_factor * light, limits.float_stop_factor * light
    top = max(110.0, 1.05 * most(series))
    bands = (Band(0.0, stop, Level.STOP, stop), Band(stop, caution, Level.CAUTION, caution))
    return Chart(say("debrief.least_float"), say("debrief.of_resting"), series, top, (0.0, 50.0, 100.0), bands)


def most(series: Sequence[Series]) -> float:
    """The largest finite value; 0 if there is none."""
    values = [row.values[np.isfinite(row.values)] for row in series]
    return max((float(row.max()) for row in values if len(row)), default=0.0)


def ticks(top: float) -> tuple[float, ...]:
    """At most four ticks from zero at distances that are easy to read."""
    step = next((one for one in STEPS if top / one < MOST_TICKS), 10.0 ** np.ceil(np.log10(max(top, 1.0))))
    return tuple(float(step) * n for n in range(int(top / step) + 1))


def thinned(time_s: Real, values: Real, count: int) -> tuple[Real, Real]:
    """A line with the least and the greatest of each of `count` equal times kept, so that no peak is lost."""
    good = np.isfinite(values)
    if len(values) <= 2 * count or not good.any():
        return time_s, values
    place = np.minimum((time_s - time_s[0]) / max(1e-9, float(time_s[-1] - time_s[0])) * count, count - 1).astype(int)
    kept: list[int] = []
    edges = np.searchsorted(place, np.arange(count + 1))
    for begin, end in pairwise(edges.tolist()):
        if begin == end:
            continue
        part = values[begin:end]
        if not np.isfinite(part).any():
            kept.append(int(begin))
            continue
        kept += sorted({int(begin + np.nanargmin(part)), int(begin + np.nanargmax(part))})
    return time_s[kept], values[kept]

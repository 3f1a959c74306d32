"""The debrief's charts on one time axis, drawn: bands, lines, steps, numbered flags."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from simulator.recording.whole_numbers import Real
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import (
    CAUTION,
    CAUTION_TINT,
    INK,
    INK_2,
    PANEL,
    RULE,
    SIDES,
    STOP,
    STOP_TINT,
    Color,
)
from simulator.window.kit.regions import Region
from simulator.window.review.charts import Chart, Series, thinned
from simulator.window.review.moments import Moment, Span
from simulator.words import say

LEFT, RIGHT = 232.0, 1368.0
STEPS_Y, STEPS_H = 152.0, 44.0
CHARTS = (Region(LEFT, 212, RIGHT - LEFT, 168), Region(LEFT, 392, RIGHT - LEFT, 160),
          Region(LEFT, 564, RIGHT - LEFT, 120), Region(LEFT, 696, RIGHT - LEFT, 144))  # fmt: skip
FLAG_Y, FLAG_PITCH, FLAG_ROWS, FLAG_APART = 238.0, 41.0, 4, 46.0
_ASIDE = tuple(FLAG_APART * side * n for n in range(24) for side in ((1.0, -1.0) if n else (1.0,)))
POINTS = 560
TICK_APART = 22.0
"""Numbers nearer to each other than this would run together."""
CIRCLE_EVERY = 50.0
"""Open circles on the right unit's line stand this far apart."""
BAND_FILLS: dict[Level, Color] = {Level.CAUTION: CAUTION_TINT, Level.STOP: STOP_TINT}


class Axis:
    """Times to places across the charts."""

    def __init__(self, length_s: float) -> None:
        self.length_s = max(1.0, length_s)

    def x(self, time_s: float) -> float:
        """Where a time stands."""
        return LEFT + (RIGHT - LEFT) * min(1.0, max(0.0, time_s / self.length_s))

    def time_s(self, x: float) -> float:
        """The time that stands there."""
        return min(1.0, max(0.0, (x - LEFT) / (RIGHT - LEFT))) * self.length_s

    def ticks(self) -> tuple[tuple[float, str], ...]:
        """Times that are named under the axis, with their names; in seconds for a short lift, else in minutes."""
        if self.length_s <= 90.0:
            step_s = 5.0 if self.length_s <= 30.0 else 15.0
            return tuple((n * step_s, f"{n * step_s:g}") for n in range(int(self.length_s / step_s) + 1))
        step = next(n for n in (0.5, 1, 2, 5, 10, 20, 60, 600) if self.length_s / 60.0 / n <= 8.0)
        return tuple((n * step * 60.0, f"{n * step:g}") for n in range(int(self.length_s / 60.0 / step) + 1))

    @property
    def unit(self) -> str:
        """Of the ticks."""
        return say("debrief.seconds" if self.length_s <= 90.0 else "debrief.minutes")


def draw_charts(canvas: Canvas, rows: Sequence[Chart], time_s: Real, axis: Axis) -> None:
    """Draws the charts, with their labels at the left."""
    for chart, place in zip(rows, CHARTS, strict=True):
        _ground(canvas, chart, place)
        with canvas.clip(place.x, place.y, place.w, place.h):
            for series in chart.series:
                _line(canvas, series, chart, place, time_s, axis)


def _ground(canvas: Canvas, chart: Chart, place: Region) -> None:
    canvas.rect(*place, PANEL)
    for band in chart.bands:
        top, foot = _y(chart, place, band.high), _y(chart, place, band.low)
        canvas.rect(place.x, top, place.w, foot - top, BAND_FILLS[band.level])
    said: list[float] = []
    for value in reversed(chart.ticks):
        y = _y(chart, place, value)
        is_limit = any(abs(value - band.limit) < 0.06 for band in chart.bands)
        if not is_limit:
            canvas.rect(place.x, y - 0.75, place.w, 1.5, RULE)
        if all(abs(y - other) >= TICK_APART for other in said):
            canvas.text(f"{value:,g}", place.x - 16.0, min(y + 9.0, place.foot), 24.0, color=INK_2, anchor="right")
            said.append(y)
    for band in chart.bands:
        y = _y(chart, place, band.limit)
        canvas.dashed((place.x, y), (place.right, y), INK_2, width=1.5)
    for index, line in enumerate(chart.label.split("\n")):
        canvas.text(line, 48.0, place.y + 30.0 + 28.0 * index, 24.0, color=INK_2, width=130.0)
    canvas.text(chart.unit, 48.0, place.y + 30.0 + 28.0 * len(chart.label.split("\n")), 24.0, weight="medium",
                color=INK_2, width=130.0)  # fmt: skip


def _y(chart: Chart, place: Region, value: float) -> float:
    # A little under the foot, so that a line at zero is seen.
    room = place.h - 8.0
    return place.foot - 8.0 - room * min(1.2, value / chart.top)


def _line(canvas: Canvas, series: Series, chart: Chart, place: Region, time_s: Real, axis: Axis) -> None:
    times, values = thinned(time_s, series.values, POINTS)
    color = INK if series.side < 0 else SIDES[series.side].main
    spots = [(axis.x(float(t)), _y(chart, place, float(v))) for t, v in zip(times, values, strict=True)]
    known = np.isfinite(values)
    for (start, end), both in zip(pairwise(spots), pairwise(known), strict=True):
        if all(both):
            canvas.line(start, end, color, width=2.5)
    if series.side == 1:
        _circles(canvas, [spot for spot, is_known in zip(spots, known, strict=True) if is_known], color)


def _circles(canvas: Canvas, spots: list[Spot], color: Color) -> None:
    """Open circles: the right unit's line is told apart without its color."""
    next_x = LEFT + CIRCLE_EVERY / 2.0
    for x, y in spots:
        if x >= next_x:
            canvas.disc(x, y, 6.0, fill=PANEL, edge=color, edge_width=2.5)
            next_x = x + CIRCLE_EVERY


def draw_steps(canvas: Canvas, rows: Sequence[Span], axis: Axis, *, y: float = STEPS_Y) -> None:
    """The band of steps: names where they fit, else their numbers."""
    canvas.text(say("debrief.steps"), 48.0, y + 30.0, 24.0, color=INK_2, width=160.0)
    for number, row in enumerate(rows, 1):
        left, right = axis.x(row.begin_s), axis.x(row.end_s) - 3.0
        if right - left < 3.0:
            continue
        canvas.rect(left, y, right - left, STEPS_H, (221, 225, 229))
        fits = canvas.text_width(row.title, 24.0) <= right - left - 12.0
        words = row.title if fits else str(number) if right - left >= 28.0 else ""
        canvas.text(words, (left + right) / 2.0, y + 31.0, 24.0, anchor="center")
    if not rows:
        canvas.rect(LEFT, y, RIGHT - LEFT, STEPS_H, PANEL)


def flag_places(found: Sequence[Moment], axis: Axis) -> dict[int, Spot]:
    """Where each flag stands, so that none hides another: over its time, else as near beside it as there is room."""
    places: dict[int, Spot] = {}
    taken: list[list[float]] = [[] for _ in range(FLAG_ROWS)]
    for one in sorted(found, key=lambda moment: (-moment.level, moment.time_s)):
        x = axis.x(one.time_s)
        spots = [(x + away, row) for away in _ASIDE for row in range(FLAG_ROWS)]
        free = (spot for spot in spots if LEFT <= spot[0] <= RIGHT and _is_free(taken[spot[1]], spot[0]))
        at, row = next(free, spots[0])
        insort(taken[row], at)
        places[one.number] = at, FLAG_Y + FLAG_PITCH * row
    return places


def _is_free(row: list[float], x: float) -> bool:
    """No flag of a row, whose places rise, is nearer than flags may be."""
    after = bisect_left(row, x)
    return all(abs(x - other) >= FLAG_APART for other in row[max(0, after - 1) : after + 1])


def draw_flags(canvas: Canvas, found: Sequence[Moment], axis: Axis) -> None:
    """Dotted lines through all charts, and the numbered flags over them, tied to their lines."""
    places = flag_places(found, axis)
    for one in found:
        x, (flag_x, flag_y) = axis.x(one.time_s), places[one.number]
        canvas.dashed((x, CHARTS[0].y), (x, CHARTS[-1].foot), INK, width=1.5, dash=3.0, gap=4.0)
        if abs(flag_x - x) > 1.0:
            canvas.line((x, flag_y), (flag_x, flag_y), INK, width=2.0)
    for one in found:
        draw_flag(canvas, one, *places[one.number])


def draw_flag(canvas: Canvas, one: Moment, x: float, y: float, *, size: float = 36.0) -> None:
    """Circle, triangle or octagon with the moment's number."""
    half = size / 2.0
    color = INK
    if one.level is Level.STOP:
        cut = 0.414 * half
        corners = [(-cut, -half), (cut, -half), (half, -cut), (half, cut), (cut, half), (-cut, half), (-half, cut),
                   (-half, -cut)]  # fmt: skip
        canvas.polygon([(x + a, y + b) for a, b in corners], STOP)
        color = PANEL
    elif one.level is Level.CAUTION:
        corners = [(0.0, -1.2 * half), (1.22 * half, half), (-1.22 * half, half)]
        canvas.polygon([(x + a, y + b) for a, b in corners], CAUTION, edge=INK, edge_width=2.5)
    else:
        canvas.disc(x, y, half, fill=PANEL, edge=INK, edge_width=2.5)
    canvas.text(str(one.number), x, y + (13.0 if one.level is Level.CAUTION else 9.0), 24.0, weight="bold",
                color=color, anchor="center")  # fmt: skip

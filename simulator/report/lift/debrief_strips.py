"""Charts of a debrief on one time axis: readings with their limits, then what each pair of hands asked for."""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes

from simulator.recording.recorded import minutes
from simulator.recording.whole_numbers import Real
from simulator.report.lift.debrief import Debrief
from simulator.report.lift.judged import judged_values
from simulator.report.lift.moves import unit_name
from simulator.report.sheet import Sheet
from simulator.scenario.judged_limits import Judged, judged_rows
from simulator.scenario.rig import Lever

MOST_POINTS = 1500
LOOKS = (
    {"color": "black", "linestyle": "-", "linewidth": 1.0},
    {"color": "0.45", "linestyle": (0, (4, 1.6)), "linewidth": 1.3},
)
"""Nose unit, tail unit: told apart in gray by dash, shade and marker."""
LEAST_HAND = 0.2
"""A hand's move is drawn as high as this share of a full one at least, so that a slow one shows."""
ROOM_FOR_LEGEND = 1.35
NEAR_TOP = 0.88
"""A tick over this share of a chart is near its upper end."""
TICKS_S = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1200, 1800, 3600)
"""Seconds between two times of the axis."""
TICK_MM = 14.0
"""Room that a time takes under the axis."""
MARKERS = ("o", "s")
MARKS_ON_A_LINE = 9
HAND_WORDS = {
    "hoist": "line in / out",
    "telescope": "telescope out / in",
    "elevation": "boom up / down",
    "slew": "slew road / ravine",
    "both": "lines in / out",
    "turn": "turn on / back",
}
"""More and less of each function, in words."""
SIZE = 6.5
FLAGS_MM, BETWEEN_MM, BELOW_MM = 6.0, 2.2, 9.0
HANDS_HEIGHT = 1.05


class Strip(NamedTuple):
    """One chart."""

    title: str
    keys: tuple[str, ...]
    """Channels: one a unit, or one of the load."""
    shown: Callable[[float], float]
    height: float
    """Beside the others."""
    falling: bool = False
    limited: bool = True


def strips(told: Debrief) -> tuple[Strip, ...]:
    """The charts, from top to bottom."""
    amounts = told.amounts
    degrees = np.degrees

    def both(field: str) -> tuple[str, ...]:
        return tuple(f"{name}.{field}" for name in told.recording.rig.unit_names)

    return (
        Strip(f"line load, {amounts.load_unit}", both("line_load_N"), amounts.load, 1.0, limited=False),
        Strip("off plumb, deg", both("mean_off_plumb_rad"), degrees, 1.25),
        Strip("capacity used, %", both("capacity_used"), lambda value: 100.0 * value, 0.9),
        Strip("lightest float, %", both("least_float_share"), lambda value: 100.0 * value, 0.9, falling=True),
        Strip(f"sway, {amounts.length_unit}", ("load.sway_m",), amounts.length, 0.75),
        Strip("pitch of load, deg", ("load.pitch_rad",), degrees, 0.8),
    )


def draw_strips(
    sheet: Sheet, told: Debrief, x_mm: float, width_mm: float, *, longest_s: float, tops: dict[str, float], named: bool
) -> None:
    """All charts of one lift in a column, beginning at the sheet's `y_mm`; the sheet's place is left as it was."""
    all_axes = [sheet.axes(x_mm, sheet.y_mm, width_mm, FLAGS_MM)]
    _draw_flags(all_axes[0], told, longest_s)
    charts = strips(told)
    heights = [strip.height for strip in charts] + [HANDS_HEIGHT] * len(told.recording.rig.units)
    each_mm = (sheet.left_mm - FLAGS_MM - BELOW_MM - BETWEEN_MM * len(heights)) / sum(heights)
    y_mm = sheet.y_mm + FLAGS_MM
    for i, height in enumerate(heights):
        axes = sheet.axes(x_mm, y_mm, width_mm, height * each_mm)
        if i < len(charts):
            _draw_strip(axes, told, charts[i], tops[charts[i].title], named=named)
        else:
            _draw_hands(axes, told, i - len(charts), named=named)
        all_axes.append(axes)
        y_mm += height * each_mm + BETWEEN_MM
    for axes in all_axes[1:]:
        _set_time(axes, told, longest_s, width_mm=width_mm, last=axes is all_axes[-1], named=named)


def top_of(told: Debrief, strip: Strip) -> float:
    """Upper end of a strip's axis: the stop limit, and all that was read."""
    row = _row_of(told, strip)
    values = [strip.shown(float(np.nanmax(_values(told, key), initial=0.0))) for key in strip.keys]
    limit = strip.shown(row.stop) if row is not None and row.stop < inf else 0.0
    return (1.08 if strip.limited else ROOM_FOR_LEGEND) * max(1e-3, *values, 1.15 * limit)


def _row_of(told: Debrief, strip: Strip) -> Judged | None:
    return next(
        (
            row
            for row in judged_rows(told.limits, told.recording.rig.unit_names)
            if strip.limited and row.key == strip.keys[0]
        ),
        None,
    )


def _values(told: Debrief, key: str) -> Real:
    row = next((row for row in judged_rows(told.limits, told.recording.rig.unit_names) if row.key == key), None)
    values = judged_values(told.recording, row) if row is not None else told.recording.column(key)
    return np.where(np.isfinite(values), values, np.nan)


def _draw_strip(axes: Axes, told: Debrief, strip: Strip, top: float, *, named: bool) -> None:
    row = _row_of(told, strip)
    if row is not None:
        _draw_limits(axes, strip, row, top)
    time_s = told.recording.time_s
    keep = slice(None, None, max(1, len(time_s) // MOST_POINTS))
    for end, key in enumerate(strip.keys):
        values = _values(told, key)[keep]
        axes.plot(
            time_s[keep],
            strip.shown(values),  # type: ignore[arg-type]
            marker=MARKERS[end],
            markevery=max(1, len(values) // MARKS_ON_A_LINE),
            markersize=2.8,
            label=unit_name(told.recording, end) if is_of_units(strip) else None,
            **LOOKS[end],  # type: ignore[arg-type]
        )
    axes.set_ylim(0.0, top)
    _keep_ticks_inside(axes, top)
    if named:
        axes.set_ylabel(strip.title.replace(", ", ",\n"), fontsize=SIZE, linespacing=1.0)
    if strip.title.startswith("line load"):
        axes.legend(loc="upper left", fontsize=SIZE, ncols=2, frameon=True, framealpha=0.9, borderpad=0.2)


def _keep_ticks_inside(axes: Axes, top: float) -> None:
    """The lowest number stands over its tick and one near the top under it: the next chart begins close by."""
    axes.set_yticks([tick for tick in axes.get_yticks() if 0.0 <= tick <= top])
    lowest, *_, highest = axes.get_yticklabels()
    lowest.set_verticalalignment("bottom")
    if axes.get_yticks()[-1] > NEAR_TOP * top:
        highest.set_verticalalignment("top")


def _draw_limits(axes: Axes, strip: Strip, row: Judged, top: float) -> None:
    """Caution is a light band, stop a hatched one."""
    caution, stop = strip.shown(row.caution), strip.shown(row.stop)
    far = 0.0 if strip.falling else top
    axes.axhspan(caution, stop, facecolor="0.90", edgecolor="none", zorder=0)
    axes.axhspan(stop, far, facecolor="0.82", edgecolor="0.6", hatch="////", linewidth=0.0, zorder=0)
    axes.axhline(caution, color="0.4", linewidth=0.6, linestyle=":")
    axes.axhline(stop, color="black", linewidth=0.7, linestyle="-.")


def _draw_flags(axes: Axes, told: Debrief, longest_s: float) -> None:
    """Numbers of the findings over the charts; close ones step up so that each can be read."""
    axes.set_xlim(0.0, longest_s)
    axes.set_ylim(0.0, 2.0)
    axes.axis("off")
    last_s, high = -inf, False
    for one in told.printed:
        high = not high if one.time_s - last_s < 0.03 * longest_s else False
        last_s = one.time_s
        square = "square,pad=0.18" if one.level == "incident" else "round,pad=0.18"
        dark = one.level != "caution"
        axes.text(
            one.time_s,
            1.5 if high else 0.5,
            str(one.number),
            fontsize=SIZE,
            ha="center",
            va="center",
            fontweight="bold",
            color="white" if dark else "black",
            bbox={
                "boxstyle": square,
                "facecolor": "black" if dark else "white",
                "edgecolor": "black",
                "linewidth": 0.6,
            },
        )


def is_of_units(strip: Strip) -> bool:
    """A line in it for each unit."""
    return not strip.keys[0].startswith("load.")


def hand_words(lever: Lever) -> str:
    """More and less of a lever, in words; which line where a unit has two."""
    number = lever.key.rpartition("_")[2]
    words = HAND_WORDS[lever.function]
    return words.replace("line", f"line {number}", 1) if number.isdecimal() else words


def _draw_hands(axes: Axes, told: Debrief, end: int, *, named: bool) -> None:
    """A lane a lever: up from the lane's middle is the first word of its label."""
    time_s, hands = hands_of(told, end)
    levers = told.recording.rig.units[end].levers
    for lane, lever in enumerate(levers):
        middle = len(levers) - 1 - lane
        asked = hands[:, lane]
        given = 0.45 * np.sign(asked) * np.maximum(np.abs(asked), LEAST_HAND * (asked != 0.0))
        look = {"step": "post", "linewidth": 0.0}
        axes.fill_between(time_s, middle, middle + np.maximum(given, 0.0), facecolor="black", **look)  # type: ignore[arg-type]
        axes.fill_between(time_s, middle, middle + np.minimum(given, 0.0), facecolor="0.55", **look)  # type: ignore[arg-type]
        axes.axhline(middle, color="0.6", linewidth=0.4)
        if named:
            axes.text(
                -0.006, middle, hand_words(lever), transform=axes.get_yaxis_transform(), fontsize=5.6, ha="right",
                va="center",
            )  # fmt: skip
    axes.set_ylim(-0.6, len(levers) - 0.4)
    axes.set_yticks([])
    axes.text(
        0.004,
        0.97,
        f"hands, {unit_name(told.recording, end)}",
        transform=axes.transAxes,
        fontsize=SIZE,
        fontweight="bold",
        va="top",
        bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 0.8},
    )


def hands_of(told: Debrief, end: int) -> tuple[Real, Real]:
    """Times, and the commands of its levers that held at each."""
    recording = told.recording
    per_s = recording.head.steps_per_s
    steps = np.array([0.0, *(step for step, _ in recording.changes)])
    values = np.array(
        [[0.0] * len(recording.rig.units[end].levers), *(list(both[end]) for _, both in recording.changes)]
    )
    grid = np.linspace(0.0, max(recording.length_s, 1e-3), MOST_POINTS)
    held = np.searchsorted(steps / per_s, grid, side="right") - 1
    return grid, values[held]


def _set_time(axes: Axes, told: Debrief, longest_s: float, *, width_mm: float, last: bool, named: bool) -> None:
    """The one time axis, with a line down at each finding."""
    for one in told.printed:
        axes.axvline(one.time_s, color="0.25", linewidth=0.5, linestyle=(0, (1, 2)))
    axes.set_xlim(0.0, longest_s)
    axes.tick_params(labelsize=SIZE, length=2, width=0.5, labelbottom=last, labelleft=named)
    axes.xaxis.set_major_formatter(lambda value, _: minutes(value)[:5])
    every_s = next((step for step in TICKS_S if longest_s / step <= width_mm / TICK_MM), TICKS_S[-1])
    axes.set_xticks(np.arange(0.0, longest_s + 1e-6, every_s))
    axes.grid(axis="x", linewidth=0.3, color="0.8")
    for spine in axes.spines.values():
        spine.set_linewidth(0.5)
    if last:
        labels = axes.get_xticklabels()
        labels[-1].set_horizontalalignment("right")
        labels[0].set_horizontalalignment("left")
        axes.set_xlabel("time, min:s", fontsize=SIZE)

"""The path of load and boom tips from above, from the side and across: stored readings and the description's geometry.

All views of a page have one scale; the three of a single lift stand as in a workshop drawing.
"""

from __future__ import annotations

from math import ceil, floor
from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes

from simulator.mechanics.trailer_body import body, rotation, turned
from simulator.plan.picture import hull
from simulator.readings import LoadReadings
from simulator.recording.recorded import minutes
from simulator.recording.whole_numbers import Real
from simulator.report.lift.debrief import Debrief
from simulator.report.lift.debrief_notes import BY_A_LINE, PageNotes
from simulator.report.lift.debrief_strips import LOOKS, MARKERS, SIZE
from simulator.report.sheet import POINTS_PER_INCH, Sheet
from simulator.scenario.description import Description
from simulator.scenario.unit import Unit

EVERY_S = (10.0, 15.0, 30.0, 60.0, 120.0, 300.0)
"""Time marks along the load's path: as many seconds apart as leave at most a dozen."""
MOST_LINES = 3
"""So many moments show the lines as they hung."""
AROUND_M = 1.5
TITLE_MM, AXIS_MM = 5.0, 7.0
TICKS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
TICK_POINTS, CORNER_POINTS = 20.0, 7.0
"""Room for a number along an axis, and to the corner where the other axis begins."""
NUMBER = {"boxstyle": "round,pad=0.12", "facecolor": "white", "edgecolor": "black", "linewidth": 0.5}
WHITE = {"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 0.4}

Span = tuple[float, float]


class PathView(NamedTuple):
    """Which two axes of the world a picture shows."""

    title: str
    across: str
    up: str


PLAN = PathView("from above", "x", "y")
SIDE = PathView("side view, from the ravine", "x", "z")
SECTION = PathView("across the slope", "y", "z")


def draw_three(sheet: Sheet, told: Debrief, x_mm: float, width_mm: float) -> None:
    """One lift: from above, under it the side view, beside that the section."""
    spans = spans_of(told)
    long, wide, high = (spans[axis][1] - spans[axis][0] for axis in "xyz")
    room_mm = sheet.left_mm - 2.0 * (TITLE_MM + AXIS_MM)
    scale = min((width_mm - 12.0) / (long + wide), room_mm / (wide + high))
    y_mm = sheet.y_mm + TITLE_MM
    _draw_view(sheet.axes(x_mm, y_mm, long * scale, wide * scale), told, PLAN, spans)
    y_mm += wide * scale + AXIS_MM + TITLE_MM
    _draw_view(sheet.axes(x_mm, y_mm, long * scale, high * scale), told, SIDE, spans)
    _draw_view(sheet.axes(x_mm + long * scale + 12.0, y_mm, wide * scale, high * scale), told, SECTION, spans)


def draw_column(sheet: Sheet, told: Debrief, x_mm: float, width_mm: float, spans: dict[str, Span]) -> None:
    """One of two lifts: the three views under each other, to the spans that both need."""
    long, wide, high = (spans[axis][1] - spans[axis][0] for axis in "xyz")
    room_mm = sheet.left_mm - 3.0 * (TITLE_MM + AXIS_MM)
    scale = min(width_mm / max(long, wide), room_mm / (wide + 2.0 * high))
    y_mm = sheet.y_mm + TITLE_MM
    for view in (PLAN, SIDE, SECTION):
        sizes = {"x": long * scale, "y": wide * scale, "z": high * scale}
        _draw_view(sheet.axes(x_mm, y_mm, sizes[view.across], sizes[view.up]), told, view, spans)
        y_mm += sizes[view.up] + AXIS_MM + TITLE_MM


def spans_of(*runs: Debrief) -> dict[str, Span]:
    """From where to where, in meters along x, y and z, the views must show: tips, and the trailer at start and end."""
    found: dict[str, Span] = {}
    for axis in "xyz":
        values = [0.0]
        for told in runs:
            values += [
                value
                for name in told.recording.rig.unit_names
                for value in _ends(told.recording.column(f"{name}.tip_{axis}_m"))
            ]
            values += _ends(told.recording.column(f"load.{axis}_m"))
            if told.recording.description is not None:
                corners = [corner for load in _first_and_last(told) for corner in box(told.recording.description, load)]
                values += [corner["xyz".index(axis)] for corner in corners]
        found[axis] = min(values) - AROUND_M, max(values) + AROUND_M
    return found


def _ends(values: Real) -> list[float]:
    return [float(np.nanmin(values)), float(np.nanmax(values))]


def _first_and_last(told: Debrief) -> tuple[LoadReadings, LoadReadings]:
    recording = told.recording
    return recording.at(0.0).load, recording.at(recording.length_s).load


def box(description: Description, load: LoadReadings) -> list[tuple[float, float, float]]:
    """The eight corners of the trailer's outer box in the world, (x, y, z) in meters."""
    outer = body(description.trailer)
    matrix = rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)
    corners = []
    for pick in np.ndindex(2, 2, 2):
        own = tuple((outer.low_m, outer.high_m)[side][axis] for axis, side in enumerate(pick))
        x, y, z = turned(matrix, own)  # type: ignore[arg-type]
        corners.append((load.x_m + x, load.y_m + y, load.z_m + z))
    return corners


def _draw_view(axes: Axes, told: Debrief, view: PathView, spans: dict[str, Span]) -> None:
    description = told.recording.description
    axes.set_xlim(*spans[view.across])
    axes.set_ylim(*spans[view.up])
    if view.across == "x" and description is not None and description.site.nose_seen_from_ravine == "right":
        axes.invert_xaxis()
    notes = PageNotes(axes)
    if description is not None:
        _draw_place(axes, notes, description, view, spans)
        _draw_outlines(axes, notes, told, description, view)
    for end, name in enumerate(told.recording.rig.unit_names):
        across, up = (_thin(told.recording.column(f"{name}.tip_{axis}_m")) for axis in (view.across, view.up))
        every = max(1, len(up) // 6)
        look = {"marker": MARKERS[end], "markevery": every, "markersize": 3, **LOOKS[end]}
        axes.plot(across, up, label=f"{name} tip", **look)  # type: ignore[arg-type]
    _draw_lines(axes, notes, told, view)
    _draw_load_path(axes, notes, told, view)
    _dress(axes, told, view)


def _dress(axes: Axes, told: Debrief, view: PathView) -> None:
    sides = ((axes.xaxis, axes.get_xlim(), axes.bbox.width), (axes.yaxis, axes.get_ylim(), axes.bbox.height))
    for axis, (low_m, high_m), dots in sides:
        axis.set_major_formatter(lambda value, _: f"{told.amounts.length(value):.0f}")
        long, most = told.amounts.length(abs(high_m - low_m)), dots / axes.figure.dpi * POINTS_PER_INCH / TICK_POINTS
        apart = next((one for one in TICKS if long / one <= most), TICKS[-1])
        apart_m, corner_m = apart / told.amounts.length(1.0), CORNER_POINTS / TICK_POINTS / most * abs(high_m - low_m)
        first, last = min(low_m, high_m) + corner_m, max(low_m, high_m) - corner_m
        axis.set_ticks(np.arange(ceil(first / apart_m), floor(last / apart_m) + 1) * apart_m)
    title = f"{view.title}: {view.across} and {view.up}, {told.amounts.length_unit}"
    axes.set_title(title, fontsize=SIZE + 0.5, loc="left", pad=2)
    axes.tick_params(labelsize=SIZE, length=2, width=0.5)
    for spine in axes.spines.values():
        spine.set_linewidth(0.5)


def _thin(values: Real) -> Real:
    return np.asarray(values[:: max(1, len(values) // 800)])


def _draw_load_path(axes: Axes, notes: PageNotes, told: Debrief, view: PathView) -> None:
    """The trailer's stated CG, with the time every so often where there is room for it."""
    recording = told.recording
    across, up = (recording.column(f"load.{axis}_m") for axis in (view.across, view.up))
    axes.plot(_thin(across), _thin(up), color="black", linewidth=1.8, label="load")
    every_s = next((step for step in EVERY_S if recording.length_s / step <= 12), EVERY_S[-1])
    for time_s in np.arange(0.0, recording.length_s, every_s):
        row = min(int(np.searchsorted(recording.time_s, time_s)), len(up) - 1)
        here = float(across[row]), float(up[row])
        axes.plot(*here, marker="+", color="black", markersize=5)
        notes.write(minutes(float(time_s))[:5], here, size=SIZE - 0.5, bbox=WHITE)


def _draw_lines(axes: Axes, notes: PageNotes, told: Debrief, view: PathView) -> None:
    """Both lines as they hung at the first grave findings, with their numbers."""
    grave = [one for one in told.findings if one.level != "caution"][:MOST_LINES]
    for one in grave:
        for unit in told.recording.at(one.time_s).units:
            tip = getattr(unit, f"tip_{view.across}_m"), getattr(unit, f"tip_{view.up}_m")
            hook = getattr(unit, f"hook_{view.across}_m"), getattr(unit, f"hook_{view.up}_m")
            axes.plot(*zip(tip, hook, strict=True), color="black", linewidth=0.8, marker="d", markersize=2)
            notes.write(str(one.number), hook, size=SIZE, must=True, fontweight="bold", bbox=NUMBER)


def _draw_place(axes: Axes, notes: PageNotes, description: Description, view: PathView, spans: dict[str, Span]) -> None:
    """Units, slope's edge, live lane, ground."""
    site = description.site
    named = {site.edge_y_m: "edge of slope", site.live_lane_y_m: "live lane"} if view == PLAN else {0.0: "road"}
    for level_m, words in named.items():
        if view == SECTION or not spans[view.up][0] < level_m < spans[view.up][1]:
            continue
        axes.axhline(level_m, color="0.3", linewidth=0.8, linestyle=(0, (6, 2, 1, 2)))
        notes.write(words, (max(axes.get_xlim(), key=lambda x: axes.transData.transform((x, 0.0))[0]), level_m),
                    size=SIZE - 0.5, must=True, ways=BY_A_LINE, color="0.25")  # fmt: skip
    if view == SECTION:
        axes.plot(*zip(*site.section_m, strict=True), color="0.3", linewidth=1.2)
    for end, unit in enumerate(description.units):
        x, y = _unit_outline(unit, end, view)
        axes.fill(x, y, facecolor="0.93", edgecolor="0.5", linewidth=0.6, zorder=0)
    flat = description.landing.flat
    if flat is not None and view == SECTION:
        low, high = description.landing.deck_y_m(flat)
        deck = [0.0, 0.0, flat.deck_height_m, flat.deck_height_m]
        axes.fill([low, high, high, low], deck, facecolor="0.8", edgecolor="0.5", linewidth=0.6, zorder=0)


def _unit_outline(unit: Unit, end: int, view: PathView) -> tuple[list[float], list[float]]:
    """The carrier as a plain box."""
    facing = 1.0 if end == 0 else -1.0
    x0, x1 = unit.slew_axis_x_m - facing * unit.cab_front_m, unit.slew_axis_x_m + facing * unit.tailboard_m
    half = unit.carrier_width_m / 2.0
    sides = {"x": (x0, x1), "y": (-half, half), "z": (0.35, unit.deck_height_m)}
    (a, b), (c, d) = sides[view.across], sides[view.up]
    return [a, b, b, a], [c, c, d, d]


def _draw_outlines(axes: Axes, notes: PageNotes, told: Debrief, description: Description, view: PathView) -> None:
    """The trailer's outer box at the start and the end."""
    places = "xyz".index(view.across), "xyz".index(view.up)
    for load, words, look in zip(_first_and_last(told), ("start", "end"), ((0, (3, 1.5)), "-"), strict=True):
        outline = hull([(corner[places[0]], corner[places[1]]) for corner in box(description, load)])
        x, y = zip(*outline, strict=True)
        axes.fill(x, y, facecolor="none", edgecolor="0.25", linewidth=0.9, linestyle=look)
        notes.write(words, max(outline), size=SIZE, must=True, color="0.25", bbox=WHITE)

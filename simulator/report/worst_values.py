"""Worst values of a recorded lift, by seat, each with its time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from simulator.plan.findings import Kind
from simulator.recording.recorded import Recording, minutes
from simulator.recording.whole_numbers import Real
from simulator.report.amounts import Amounts
from simulator.report.judged import Judged, judged_values
from simulator.scenario.description import END_NAMES


class WorstRow(NamedTuple):
    """One quantity's worst value for each seat, or for the load."""

    label: str
    cells: tuple[str, ...]
    """Value at time: nose unit and tail unit, or the load alone."""


def worst_rows(recording: Recording, amounts: Amounts) -> Iterator[WorstRow]:
    """Worst values by seat, then of the load, each with its time."""
    rows: tuple[tuple[str, str, Kind, bool], ...] = (
        ("peak line load", "line_load_N", "N", True),
        ("most off plumb, mean of a sway", "mean_off_plumb_rad", "rad", True),
        ("most capacity used", "capacity_used", "share", True),
        ("lightest float, of its resting load", "least_float_share", "share", False),
        ("most ground bearing used", "ground_used", "share", True),
        ("least head room", "head_room_m", "m", False),
        ("least rope left", "rope_left_m", "m", False),
    )
    for label, field, kind, rising in rows:
        cells = []
        for name in END_NAMES:
            values = recording.column(f"{name}.{field}")
            if field == "mean_off_plumb_rad":
                values = np.where(recording.column(f"{name}.slack") == 1.0, np.nan, values)
            cells.append(_worst(recording, values, kind, rising, amounts))
        yield WorstRow(label, tuple(cells))
    for row in (
        Judged("load.sway_m", "sway", None, "m", 0.0, 0.0),
        Judged("load.pitch_rad", "pitch of the load", None, "rad", 0.0, 0.0),
        Judged("load.lane_room_m", "room to the live lane", None, "m", 0.0, 0.0, False),
    ):
        label = f"load: {'most' if row.rising else 'least'} {row.label.removesuffix(' of the load')}"
        values = judged_values(recording, row)
        yield WorstRow(label, (_worst(recording, values, row.kind, row.rising, amounts),))
    gap = _least_gap(recording, amounts)
    if gap:
        yield WorstRow("load: least clearance, from half way across", (gap,))


def _worst(recording: Recording, values: Real, kind: Kind, rising: bool, amounts: Amounts) -> str:
    known = np.where(np.isfinite(values), values, -np.inf if rising else np.inf)
    at = int(np.argmax(known) if rising else np.argmin(known))
    if not np.isfinite(known[at]):
        return "none"
    return f"{amounts.text(float(values[at]), kind)} at {minutes(float(recording.time_s[at]))}"


def _least_gap(recording: Recording, amounts: Amounts) -> str:
    """The part that came nearest to something it was over, and when; to the second.

    Beside the decks every load passes their height on its way up: that is no clearance yet.
    """
    steps, y_m = recording.column("step"), recording.column("load.y_m")
    lands_y_m = recording.description.landing.y_m if recording.description else float(y_m[-1])
    half_way_m = (float(y_m[0]) + lands_y_m) / 2.0

    def is_across(step: int) -> bool:
        at_m = float(y_m[min(len(y_m) - 1, int(np.searchsorted(steps, step)))])
        return (at_m - half_way_m) * (lands_y_m - half_way_m) >= 0.0

    found = [
        (gap.gap_m, second.end_step, gap)
        for second in recording.seconds
        for gap in second.gaps
        if gap.state in ("close", "clears") and gap.gap_m >= 0.0 and is_across(second.end_step)
    ]
    if not found:
        return ""
    least_m, step, gap = min(found, key=lambda one: one[:2])
    at = minutes(step / recording.head.steps_per_s)
    return f"{amounts.text(least_m, 'm')} at {at}: {gap.part} over {gap.meets}"

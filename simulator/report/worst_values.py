"""Worst values of a recorded lift, by seat, each with its time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.plan.findings import Kind
from simulator.recording.counted import worst
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.least_clearance import least_clearance


class WorstRow(NamedTuple):
    """One quantity's worst value for each seat, or for the load."""

    label: str
    cells: tuple[str, ...]
    """Value at time: nose unit and tail unit, or the load alone."""


def worst_rows(recording: Recording, amounts: Amounts) -> Iterator[WorstRow]:
    """Worst values by seat, then of the load, each with its time."""
    rows: tuple[tuple[str, str, Kind], ...] = (
        ("peak line load", "line_load_N", "N"),
        ("most off plumb, mean of a sway", "mean_off_plumb_rad", "rad"),
        ("most capacity used", "capacity_used", "share"),
        ("lightest float, of its resting load", "least_float_share", "share"),
        ("most ground bearing used", "ground_used", "share"),
        ("least head room", "head_room_m", "m"),
        ("least rope left", "rope_left_m", "m"),
    )
    for label, field, kind in rows:
        yield WorstRow(
            label, tuple(_worst(recording, f"{name}.{field}", kind, amounts) for name in recording.rig.unit_names)
        )
    of_load: tuple[tuple[str, str, Kind], ...] = (
        ("load: most sway", "sway_m", "m"),
        ("load: most pitch", "pitch_rad", "rad"),
        ("load: least room to the live lane", "lane_room_m", "m"),
    )
    for label, field, kind in of_load:
        yield WorstRow(label, (_worst(recording, f"load.{field}", kind, amounts),))
    least = least_clearance(recording)
    if least is not None:
        said = f"{amounts.text(least.gap_m, 'm')} at {minutes(least.time_s)}: {least.part} over {least.meets}"
        yield WorstRow("load: least clearance while over it", (said,))


def _worst(recording: Recording, key: str, kind: Kind, amounts: Amounts) -> str:
    found = worst(recording, key)
    if found is None:
        return "none"
    return f"{amounts.text(found.value, kind)} at {minutes(found.time_s)}"

"""Worst values of a recorded lift, by seat, each with its time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.plan.findings import Kind
from simulator.recording.counted import worst
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.least_clearance import least_clearance
from simulator.words import say

OF_UNITS: dict[str, Kind] = {
    "line_load_N": "N",
    "mean_off_plumb_rad": "rad",
    "capacity_used": "share",
    "least_float_share": "share",
    "ground_used": "share",
    "head_room_m": "m",
    "rope_left_m": "m",
}
OF_LOAD: dict[str, Kind] = {"sway_m": "m", "pitch_rad": "rad", "lane_room_m": "m"}


class WorstRow(NamedTuple):
    """One quantity's worst value for each seat, or for the load."""

    label: str
    cells: tuple[str, ...]
    """Value at time: nose unit and tail unit, or the load alone."""


def worst_rows(recording: Recording, amounts: Amounts) -> Iterator[WorstRow]:
    """Worst values by seat, then of the load, each with its time."""
    names = recording.rig.unit_names
    for field, kind in OF_UNITS.items():
        cells = tuple(_worst(recording, f"{name}.{field}", kind, amounts) for name in names)
        yield WorstRow(say(f"worst.{field}"), cells)
    for field, kind in OF_LOAD.items():
        yield WorstRow(say(f"worst.{field}"), (_worst(recording, f"load.{field}", kind, amounts),))
    least = least_clearance(recording)
    if least is not None:
        said = f"{amounts.text(least.gap_m, 'm')} at {minutes(least.time_s)}: {least.part} over {least.meets}"
        yield WorstRow(say("worst.clearance"), (said,))


def _worst(recording: Recording, key: str, kind: Kind, amounts: Amounts) -> str:
    found = worst(recording, key)
    if found is None:
        return "none"
    return f"{amounts.text(found.value, kind)} at {minutes(found.time_s)}"

"""The part that came nearest to something it was over: beside the decks every load passes their height on its way."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

from simulator.mechanics.trailer import lying, part_corners, rotation, stated_cg_m, turned
from simulator.readings import LoadReadings
from simulator.recording.recorded import Recording
from simulator.scenario.description import END_NAMES, Description
from simulator.scenario.unit import Unit

ON_THE_DECK = ("deck", "tailboard")
"""What is as wide as the carrier; all else of a unit reaches as far as its pads."""


class Least(NamedTuple):
    """The least gap of a lift."""

    gap_m: float
    time_s: float
    part: str
    meets: str


def least_clearance(recording: Recording) -> Least | None:
    """To the second; none where no part was over anything, or the lift cannot be read."""
    description = recording.description
    if description is None:
        return None
    found = []
    for second in recording.seconds:
        time_s = second.end_step / recording.head.steps_per_s
        gaps = [gap for gap in second.gaps if gap.state in ("close", "clears") and 0.0 <= gap.gap_m < inf]
        load = recording.at(time_s).load if gaps else None
        found += [
            Least(gap.gap_m, time_s, gap.part, gap.meets)
            for gap in gaps
            if load is not None and is_over(description, gap.part, gap.meets, load)
        ]
    return min(found, default=None)


def is_over(description: Description, part: str, meets: str, load: LoadReadings) -> bool:
    """Whether a part, as the load lies, is over the strip across the road that an obstacle takes."""
    low_m, high_m = _strip_m(description, meets)
    across = _across_m(description, part, load)
    return bool(across) and min(across) < high_m and max(across) > low_m


def _across_m(description: Description, name: str, load: LoadReadings) -> list[float]:
    """Where across the road the corners of a part are."""
    trailer = description.trailer
    reference, matrix = stated_cg_m(trailer), rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)
    corners = [corner for part in trailer.parts if part.name == name for corner in part_corners(part)]
    apart = [(x - reference[0], y - reference[1], z - reference[2]) for x, y, z in corners]
    return [load.y_m + turned(matrix, lying(trailer.attitude, corner))[1] for corner in apart]


def _strip_m(description: Description, meets: str) -> tuple[float, float]:
    """From where to where across the road an obstacle reaches."""
    for end, name in enumerate(END_NAMES):
        if meets.startswith(f"{name} unit"):
            half_m = _half_width_m(description.units[end], meets.rpartition(" ")[2])
            return -half_m, half_m
    return description.site.edge_y_m, inf


def _half_width_m(unit: Unit, what: str) -> float:
    if what in ON_THE_DECK:
        return unit.carrier_width_m / 2.0
    return unit.floats.across_m + unit.floats.pad_side_m / 2.0

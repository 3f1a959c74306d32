"""The part that came nearest to something it was over: beside the decks every load passes their height on its way."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

from simulator.mechanics.trailer_body import Vector, lying, part_corners, rotation, stated_cg_m, turned
from simulator.readings import LoadReadings
from simulator.recording.recorded import Recording
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT
from simulator.scenario.trailer import Trailer
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
    corners = _corners(description.trailer)
    least: Least | None = None
    for second in recording.seconds:
        time_s = second.end_step / recording.head.steps_per_s
        load: LoadReadings | None = None
        for gap in second.gaps:
            if gap.state not in ("close", "clears") or not 0.0 <= gap.gap_m < inf:
                continue
            found = Least(gap.gap_m, time_s, gap.part, gap.meets)
            if least is not None and found >= least:
                continue  # Where the load is need not be known.
            load = load or recording.at(time_s).load
            if _covers(corners.get(gap.part, ()), _strip_m(description, gap.meets), load):
                least = found
    return least


def is_over(description: Description, part: str, meets: str, load: LoadReadings) -> bool:
    """Whether a part, as the load lies, is over the strip across the road that an obstacle takes."""
    return _covers(_corners(description.trailer).get(part, ()), _strip_m(description, meets), load)


def _covers(corners: Sequence[Vector], strip_m: tuple[float, float], load: LoadReadings) -> bool:
    """Whether some corners of the load reach over a strip across the road."""
    matrix = rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)
    across = [load.y_m + turned(matrix, corner)[1] for corner in corners]
    return bool(across) and min(across) < strip_m[1] and max(across) > strip_m[0]


def _corners(trailer: Trailer) -> dict[str, list[Vector]]:
    """By the part's name, its corners from the stated CG in lying axes."""
    reference = stated_cg_m(trailer)
    found: dict[str, list[Vector]] = {}
    for part in trailer.parts:
        apart = [(x - reference[0], y - reference[1], z - reference[2]) for x, y, z in part_corners(part)]
        found.setdefault(part.name, []).extend(lying(trailer.attitude, corner) for corner in apart)
    return found


def _strip_m(description: Description, meets: str) -> tuple[float, float]:
    """From where to where across the road an obstacle reaches."""
    for unit in description.units:
        if meets.startswith(f"{unit.name} unit"):
            half_m = _half_width_m(unit, meets.rpartition(" ")[2])
            return -half_m, half_m
    flat = description.landing.flat
    if flat is not None and meets == FLAT:
        return description.landing.deck_y_m(flat)
    return description.site.edge_y_m, inf


def _half_width_m(unit: Unit, what: str) -> float:
    if what in ON_THE_DECK:
        return unit.carrier_width_m / 2.0
    return unit.floats.across_m + unit.floats.pad_side_m / 2.0

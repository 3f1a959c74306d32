"""A load beyond both reaches, or one that would slide: how far it has to be brought, by what pull, held by what.

No plan for the drag: a path on the ground is judged by people. What is told here are hand calculations with shares that
are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import atan2, hypot
from typing import NamedTuple

from simulator.mechanics.dragging import HOLDS_SHARE, SURFACES, Reeved, Surface, least_parts, pull_N, runs_back_N
from simulator.mechanics.ground import ground, height_m
from simulator.plan.hanging import load_of
from simulator.plan.setup_check import SetupCheck
from simulator.plan.stations import stations
from simulator.plan.unit_rules import STALL_CAUTION, unit_readings
from simulator.plan.unit_stand import side_of, stand_at
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

REACH = ("boom length", "capacity")
"""What is past a stop where a load lies too far out."""
STEP_M = 0.25


class Way(NamedTuple):
    """The pull over one kind of ground."""

    surface: Surface
    pull_N: float
    winches: tuple[Reeved | None, ...]
    """Of each unit, with the fewest parts of line that keep it under its caution; None: no number of parts does."""
    holds: bool
    """Whether one unit's own weight holds against it."""


class OutOfReach(NamedTuple):
    """What has to come before the lift."""

    slides: bool
    """It would not stay where it lies."""
    hold_N: float
    """What keeps it where it lies, from before anybody goes near; infinite where no single pull does."""
    beyond: tuple[str, ...]
    """Units that do not reach it, or not with their share of it."""
    bring_m: float | None
    """Level, toward the road, until all reach it; None: nowhere short of the slope's edge. 0: it is in reach."""
    to_y_m: float
    """Where its middle is then."""
    slope_rad: float
    """The steepest of the ground on the way."""
    runs_back_N: float
    """What must hold it meanwhile on that slope, if nothing of the ground does."""
    ways: tuple[Way, ...]
    unit_holds_N: float
    """What the lighter unit's own weight holds."""


def out_of_reach(check: SetupCheck) -> OutOfReach | None:
    """What has to come before the lift; None where the load is in reach and stays where it lies."""
    described, lying = check.description, check.lying
    beyond = _beyond(described)
    slides = not lying.stays
    if not beyond and not slides:
        return None
    found = _in_reach_at(described) if beyond else described.trailer.start.y_m
    edge_m, start_m = described.site.edge_y_m, described.trailer.start.y_m
    to_m = edge_m if found is None else found
    slope = max(_steepest(described, start_m, to_m), lying.slope_rad if slides else 0.0)
    weight = check.load.weight_N
    holds = HOLDS_SHARE * min(_weight_N(described, end) for end in range(len(described.units)))
    ways = tuple(_way(described, surface, pull_N(weight, slope, surface.share), holds) for surface in SURFACES)
    bring = None if found is None else found - start_m
    hold = lying.hold_N if slides else 0.0
    return OutOfReach(slides, hold, beyond, bring, to_m, slope, runs_back_N(weight, slope), ways, holds)


def _weight_N(described: Description, end: int) -> float:
    unit = described.units[end]
    return (unit.carrier_kg + unit.superstructure_kg + unit.boom_kg) * STANDARD_GRAVITY_MPS2


def _beyond(described: Description) -> tuple[str, ...]:
    """Units past their reach, or their capacity at it, as they take the load."""
    load = load_of(described)
    first = stations(described, load)[0]
    found = []
    for end, unit in enumerate(described.units):
        side = side_of(described, load, end)
        readings = unit_readings(side, first, stand_at(side, first), described)
        if any(one.code in REACH and one.level == "stop" for one in readings):
            found.append(f"{unit.name} unit")
    return tuple(found)


def _in_reach_at(described: Description) -> float | None:
    """Where the load's middle has to be, toward the road, for all units to reach it; None: not on this side."""
    start = described.trailer.start
    steps = int((described.site.edge_y_m - start.y_m) / STEP_M)
    for step in range(1, steps + 1):
        y = start.y_m + step * STEP_M
        moved = replace(described, trailer=replace(described.trailer, start=replace(start, y_m=y)))
        if not _beyond(moved):
            return y
    return None


def _steepest(described: Description, from_m: float, to_m: float) -> float:
    """The steepest rise of the section between two places, the load's own width aside."""
    site = described.site
    inside = [point for point in site.section_m if from_m < point[0] < to_m]
    surface, x = ground(site), described.trailer.start.x_m
    ends = [(y, height_m(surface, x, y)) for y in (from_m, to_m)]
    way = sorted([*inside, *ends])
    return max((atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(way) if b[0] > a[0]), default=0.0)


def _way(described: Description, surface: Surface, pull: float, holds_N: float) -> Way:
    start = described.trailer.start
    winches = tuple(
        least_parts(
            unit.hoist, pull, hypot(start.x_m - unit.slew_axis_x_m, start.y_m - unit.slew_axis_y_m), STALL_CAUTION
        )
        for unit in described.units
    )
    return Way(surface, pull, winches, pull <= holds_N)

"""Where the units stand: gap between the tailboards, distance from the slope's edge, which end leads."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from simulator.mechanics.allowances import HANDS_TAKE_M
from simulator.plan.compare import Row, row
from simulator.plan.hanging import as_stated, load_of
from simulator.plan.setup_check import check_setup
from simulator.scenario.description import Description
from simulator.scenario.standing import pads_from_m, pads_to_m, tailboard_reach_m

THREE_QUARTERS = 0.75
"""Gap as a share of the trailer's length (common practice, no source)."""
AHEAD_M = 0.5
"""How far a leading tip is let run ahead when the ends are compared (common practice, no source)."""


class Spaced(NamedTuple):
    """One place to stand."""

    value: float
    """Share of the trailer's length, or meters from edge to the nearest pad's edge."""
    row: Row


def trailer_length_m(description: Description) -> float:
    """Along the road."""
    body = load_of(description).body
    return body.high_m[0] - body.low_m[0]


def with_gap(description: Description, gap_m: float) -> Description:
    """Both units moved alike, so that their tailboards stand `gap_m` apart about the same middle."""
    tailboards = [tailboard_reach_m(unit) for unit in description.units]
    middle = sum(tailboards) / len(tailboards)
    return replace(
        description,
        units=tuple(
            replace(unit, slew_axis_x_m=unit.slew_axis_x_m + middle - unit.facing * gap_m / 2.0 - at)
            for unit, at in zip(description.units, tailboards, strict=True)
        ),
    )


def with_gap_of(description: Description, name: str, gap_m: float) -> Description:
    """One unit alone moved until the tailboards stand `gap_m` apart."""
    by = gap_m - description.gap_m
    return replace(
        description,
        units=tuple(
            replace(unit, slew_axis_x_m=unit.slew_axis_x_m - unit.facing * by) if unit.name == name else unit
            for unit in description.units
        ),
    )


def gaps(
    description: Description, shares: tuple[float, ...], *, step_m: float = 1.0, unit: str | None = None
) -> tuple[Spaced, ...]:
    """Each gap, judged; shares of the trailer's length. Both units move alike, or the one that is named alone."""
    stated, length = as_stated(description), trailer_length_m(description)

    def moved(gap_m: float) -> Description:
        return with_gap(stated, gap_m) if unit is None else with_gap_of(stated, unit, gap_m)

    return tuple(
        Spaced(share, row(f"{100.0 * share:.0f} %", check_setup(moved(share * length), step_m=step_m)))
        for share in shares
    )


def set_back_m(description: Description) -> float:
    """Slope's edge to the nearest pad's edge."""
    return min(map(pads_from_m, description.units)) - description.site.edge_y_m


def set_back_of_m(description: Description, name: str) -> float:
    """Slope's edge to the nearest pad's edge of one unit."""
    return min(pads_from_m(unit) for unit in description.units if unit.name == name) - description.site.edge_y_m


def with_set_back_of(description: Description, name: str, set_back: float) -> Description:
    """One unit alone moved across the road until its nearest pad is so far from the edge."""
    units = []
    for unit in description.units:
        by = set_back - (pads_from_m(unit) - description.site.edge_y_m) if unit.name == name else 0.0
        units.append(replace(unit, slew_axis_y_m=unit.slew_axis_y_m + by) if by else unit)
    return replace(description, units=tuple(units))


def with_set_back(description: Description, set_back: float) -> Description:
    """The units farther from the edge: all else comes nearer to the ravine side by as much.

    The landing stays where it was on the road, or as near as the pads let it.
    """
    by = set_back - set_back_m(description)
    site, trailer = description.site, description.trailer
    line = site.overhead_line
    moved = replace(
        site,
        section_m=tuple((y - by, z) for y, z in site.section_m),
        edge_y_m=site.edge_y_m - by,
        live_lane_y_m=site.live_lane_y_m - by,
        overhead_line=None if line is None else replace(line, y_m=line.y_m - by),
    )
    return replace(
        description,
        site=moved,
        trailer=replace(trailer, start=replace(trailer.start, y_m=trailer.start.y_m - by)),
        landing=replace(description.landing, y_m=max(description.landing.y_m - by, _nearest_landing_m(description))),
    )


def _nearest_landing_m(description: Description) -> float:
    body = load_of(description).body
    pads = max(map(pads_to_m, description.units))
    return pads + description.landing.off_pads_m + HANDS_TAKE_M + (body.high_m[1] - body.low_m[1]) / 2.0


def set_backs(
    description: Description, values_m: tuple[float, ...], *, step_m: float = 1.0, unit: str | None = None
) -> tuple[Spaced, ...]:
    """Each distance from the edge, judged; of both units, or of the one that is named alone."""
    stated = as_stated(description)

    def moved(value_m: float) -> Description:
        return with_set_back(stated, value_m) if unit is None else with_set_back_of(stated, unit, value_m)

    return tuple(Spaced(value, row(f"{value:.2f} m", check_setup(moved(value), step_m=step_m))) for value in values_m)


def leaders(description: Description, *, ahead_m: float = AHEAD_M, step_m: float = 0.5) -> tuple[Row, Row]:
    """Nose end leading, tail end leading, its tip `ahead_m` before the other while they cross."""
    stated = as_stated(description)
    nose = replace(stated, path=replace(stated.path, leader="nose"))
    tail = replace(stated, path=replace(stated.path, leader="tail"))
    return (
        row("nose end leads", check_setup(nose, step_m=step_m, ahead_m=ahead_m)),
        row("tail end leads", check_setup(tail, step_m=step_m, ahead_m=ahead_m)),
    )


class Neighbor(NamedTuple):
    """The end of a run of values that work, and the first one beyond it that does not."""

    end: Spaced
    refused: Spaced | None
    """None: the run goes on to the last value that was tried."""


def ends(found: tuple[Spaced, ...]) -> tuple[tuple[Neighbor, Neighbor], ...]:
    """Least and most of each run of values that work."""
    beyond = (None, *found, None)
    within = [one is not None and one.row.within_limits for one in beyond]
    least = [Neighbor(one, beyond[i]) for i, one in enumerate(found) if within[i + 1] and not within[i]]
    most = [Neighbor(one, beyond[i + 2]) for i, one in enumerate(found) if within[i + 1] and not within[i + 2]]
    return tuple(zip(least, most, strict=True))


def least_used(found: tuple[Spaced, ...]) -> Spaced | None:
    """The one that passes no limit and whose most used limit is used least: no place to aim for at the end of a run."""
    within = [one for one in found if one.row.within_limits]
    return min(within, key=lambda one: one.row.used) if within else None

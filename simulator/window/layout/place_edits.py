"""The place and the units of a lift with one of their numbers changed: edge, depth, bank, line overhead, where the
units stand. Frozen values in and out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import atan2, ceil, floor, pi, tan

from simulator.scenario.description import Description
from simulator.scenario.site import SOILS, OverheadLine
from simulator.scenario.standing import pads_from_m, pads_to_m, tailboard_reach_m
from simulator.scenario.unit import Unit
from simulator.window.layout.load_edits import said_anew, width_as_it_lies_m

ROAD_STRIP_M = 0.05
"""Points of the road stay so far from an edge that is moved."""
LINE_HEIGHT_M, LINE_KV = 9.0, 12.0
"""Of an overhead line of which one number was given: assumed, and shown so."""
ROUND_M = 0.0254
"""A landing that has to move goes to the next inch."""
SAME_PLACE_M = 1e-6
"""A unit this near to the line of the others is on it."""
RAIL_CUT_M = 8.0
"""Half of an opening in the rail of which one end was given, where a lone unit stands: assumed, and shown so."""
STEEPEST_RAD = pi / 2.0 - 1e-3


# Slope ------------------------------------------------------------------------------------------------------------


def _toe(lift: Description) -> int:
    """Where the bank ends: the first point beyond the edge behind which the ground falls less than half as steeply."""
    section, edge = lift.site.section_m, lift.site.edge_y_m
    beyond = [n for n, (y, z) in enumerate(section) if y < edge and z < 0.0]
    for n, following in pairwise(beyond):
        (y, z), (far_y, far_z) = section[n], section[following]
        if (z - far_z) / (y - far_y) < 0.5 * -z / (edge - y):
            return n
    return beyond[-1]


def has_slope(lift: Description) -> bool:
    """There is ground under the road beyond the edge."""
    return any(z < 0.0 and y < lift.site.edge_y_m for y, z in lift.site.section_m)


def depth_m(lift: Description) -> float:
    """Road to the toe of the slope."""
    return -lift.site.section_m[_toe(lift)][1] if has_slope(lift) else 0.0


def run_m(lift: Description) -> float:
    """Edge to toe, level."""
    return lift.site.edge_y_m - lift.site.section_m[_toe(lift)][0] if has_slope(lift) else 0.0


def bank_rad(lift: Description) -> float:
    """Of the slope from edge to toe, from level."""
    return atan2(depth_m(lift), run_m(lift)) if has_slope(lift) else 0.0


def with_edge(lift: Description, y_m: float) -> Description:
    """The slope's edge there; the slope goes with it, the bed beyond its toe too."""
    site = lift.site
    by = y_m - site.edge_y_m
    road = tuple(point for point in site.section_m if point[0] > site.edge_y_m and point[0] > y_m + ROAD_STRIP_M)
    beyond = tuple((y + by, z) for y, z in site.section_m if y <= site.edge_y_m)
    return replace(lift, site=replace(site, section_m=(*road, *beyond), edge_y_m=y_m))


def with_depth(lift: Description, depth: float) -> Description:
    """All of the slope and bed deeper alike; the bank keeps its run, so it gets steeper. A title that says how deep
    follows."""
    was = depth_m(lift)
    factor = depth / was
    edge = lift.site.edge_y_m
    section = tuple((y, z * factor) if y < edge and z < 0.0 else (y, z) for y, z in lift.site.section_m)
    return said_anew(replace(lift, site=replace(lift.site, section_m=section)), was, depth)


def with_run(lift: Description, run: float) -> Description:
    """The toe so far out from the edge; the bed beyond it moves along."""
    edge, toe = lift.site.edge_y_m, lift.site.section_m[_toe(lift)][0]
    factor, by = run / (edge - toe), edge - run - toe
    section = tuple(
        (edge + (y - edge) * factor, z) if toe <= y < edge else (y + by, z) if y < toe else (y, z)
        for y, z in lift.site.section_m
    )
    return replace(lift, site=replace(lift.site, section_m=section))


def with_bank(lift: Description, angle_rad: float) -> Description:
    """The bank so steep; its depth stays."""
    return with_run(lift, depth_m(lift) / tan(min(angle_rad, STEEPEST_RAD)))


def with_toe(lift: Description, y_m: float, z_m: float) -> Description:
    """The toe there: run and depth at once."""
    return with_run(with_depth(lift, -z_m), lift.site.edge_y_m - y_m)


# Road and sky -----------------------------------------------------------------------------------------------------


def set_back_m(lift: Description) -> float:
    """Slope's edge to the nearest edge of a pad."""
    return min(map(pads_from_m, lift.units)) - lift.site.edge_y_m


def with_set_back(lift: Description, set_back: float) -> Description:
    """The edge so far from the nearest pad."""
    return with_edge(lift, lift.site.edge_y_m - (set_back - set_back_m(lift)))


def with_line(lift: Description, **values: float | None) -> Description:
    """The overhead line with some of its numbers changed; None of any takes it away."""
    if None in values.values():
        return replace(lift, site=replace(lift.site, overhead_line=None))
    line = lift.site.overhead_line or OverheadLine(lift.site.live_lane_y_m, LINE_HEIGHT_M, LINE_KV)
    return replace(lift, site=replace(lift.site, overhead_line=replace(line, **values)))  # type: ignore[arg-type]


def with_soil(lift: Description, name: str) -> Description:
    """Another soil of the table, with its numbers."""
    known = SOILS[name]
    soil = replace(
        lift.site.soil,
        name=name,
        allowable_bearing_Pa=float(known["allowable_bearing"]),
        steepest_angle_rad=float(known["steepest_angle"]),
        face_judged_by=None,
    )
    return replace(lift, site=replace(lift.site, soil=soil))


def with_fitting_landing(lift: Description) -> Description:
    """The landing no nearer to pads and live lane than it may be; where there is no such place it stays."""
    wide = width_as_it_lies_m(lift) / 2.0
    pads = max(map(pads_to_m, lift.units))
    low = pads + lift.landing.off_pads_m + wide
    high = lift.site.live_lane_y_m - lift.landing.off_lane_m - wide
    y_m = lift.landing.y_m
    if low > high or low <= y_m <= high:
        return lift
    inside = ceil(low / ROUND_M) * ROUND_M if y_m < low else floor(high / ROUND_M) * ROUND_M
    return replace(lift, landing=replace(lift.landing, y_m=round(inside, 6)))


# Units ------------------------------------------------------------------------------------------------------------


def with_unit(lift: Description, place: int, unit: Unit) -> Description:
    """Another unit in its place."""
    units = list(lift.units)
    units[place] = unit
    return replace(lift, units=tuple(units))


def tailboard_x_m(lift: Description, place: int) -> float:
    """Where a unit's tailboard is along the road, its corner that is nearest to the load."""
    return tailboard_reach_m(lift.units[place])


def with_axis(lift: Description, place: int, x_m: float) -> Description:
    """A unit with its slew axis there."""
    return with_unit(lift, place, replace(lift.units[place], slew_axis_x_m=x_m))


def with_gap(lift: Description, gap_m: float) -> Description:
    """Both units moved alike about the same middle."""
    boards = [tailboard_x_m(lift, place) for place in range(len(lift.units))]
    middle = sum(boards) / len(boards)
    for place, (unit, board) in enumerate(zip(lift.units, boards, strict=True)):
        lift = with_axis(lift, place, unit.slew_axis_x_m - board + middle - unit.facing * gap_m / 2.0)
    return lift


def off_edge_m(lift: Description, place: int) -> float:
    """Slope's edge to the nearest pad's edge of one unit."""
    return pads_from_m(lift.units[place]) - lift.site.edge_y_m


def with_off_edge(lift: Description, place: int, off_m: float) -> Description:
    """One unit alone at its own distance from the edge."""
    unit, by = lift.units[place], off_m - off_edge_m(lift, place)
    y = unit.slew_axis_y_m + by
    return with_unit(lift, place, replace(unit, slew_axis_y_m=0.0 if abs(y) < SAME_PLACE_M else y))


def with_units_swapped(lift: Description) -> Description:
    """The two units change places: each goes where the other stood, to its picks, the other way round."""
    others = reversed(lift.units)
    return replace(lift, units=tuple(in_place_of(there, one) for there, one in zip(lift.units, others, strict=True)))


def in_place_of(there: Unit, moved: Unit) -> Unit:
    """A unit where another one stands: name, place and the picks its lines go to are those of the place."""
    lines = tuple(
        replace(line, pick=there.lines[min(n, len(there.lines) - 1)].pick) for n, line in enumerate(moved.lines)
    ) or tuple(there.lines)
    tailboard_x = tailboard_reach_m(there)
    moved = replace(
        moved,
        name=there.name,
        tailboard_toward=there.tailboard_toward,
        slew_axis_y_m=there.slew_axis_y_m,
        yaw_rad=there.yaw_rad,
        lines=lines,
    )
    return replace(moved, slew_axis_x_m=moved.slew_axis_x_m + tailboard_x - tailboard_reach_m(moved))


def with_rail_cut(lift: Description, **values: float | None) -> Description:
    """An opening in the guard rail with one of its ends changed; None of either takes it away."""
    if None in values.values():
        return replace(lift, site=replace(lift.site, guard_rail_cut_from_m=None, guard_rail_cut_to_m=None))
    site, half = lift.site, (lift.gap_m if len(lift.units) > 1 else 2.0 * RAIL_CUT_M) / 2.0
    both = {
        "guard_rail_cut_from_m": -half if site.guard_rail_cut_from_m is None else site.guard_rail_cut_from_m,
        "guard_rail_cut_to_m": half if site.guard_rail_cut_to_m is None else site.guard_rail_cut_to_m,
    }
    return replace(lift, site=replace(site, **{**both, **values}))  # type: ignore[arg-type]


def unit_mass_kg(unit: Unit) -> float:
    """Weight of a whole unit."""
    return unit.carrier_kg + unit.superstructure_kg + unit.boom_kg


def with_unit_mass(unit: Unit, mass_kg: float) -> Unit:
    """A unit that weighs so much, shared among its pieces as before."""
    factor = mass_kg / unit_mass_kg(unit)
    return replace(
        unit,
        carrier_kg=unit.carrier_kg * factor,
        superstructure_kg=unit.superstructure_kg * factor,
        boom_kg=unit.boom_kg * factor,
    )

"""Booms over their picks, lines a little slack, the load as the slope lies: how a lift that was laid out begins."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from simulator.mechanics.boom import BoomPose, boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.plan.hanging import as_stated, load_of
from simulator.plan.lying_rules import rests_rad
from simulator.plan.stations import Station, stations
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.scenario.standing import straight
from simulator.scenario.unit import Unit, UnitStart

SLACK_M = 0.3
LEAST_LINE_M = 0.1
WHOLE_M = 1e3
"""No road is so wide: only the ends of the path are wanted."""
PLACES = 4
"""Digits after the point of a start, in m and rad: a file that is written has no more, and is the same lift."""


class Begun(NamedTuple):
    """A unit at time zero."""

    boom: BoomPose
    ropes_m: tuple[float, ...]
    """Paid out, a line each."""


def over_the_picks(description: Description) -> tuple[Begun, ...]:
    """Booms over their picks as far as their travel goes, lines a little slack; a unit each."""
    lift_off = stations(description, load_of(description), step_m=WHOLE_M)[0]
    return tuple(_begun(unit, description, lift_off, end) for end, unit in enumerate(description.units))


def _begun(unit: Unit, description: Description, lift_off: Station, end: int) -> Begun:
    length, elevation, slew = boom_pose(unit, straight(unit, lift_off.tips_m[end]))
    boom = unit.boom
    length = min(max(length, boom.shortest_m), boom.longest_m)
    elevation = min(max(elevation, boom.lowest_rad), boom.highest_rad)
    slew = min(max(slew, boom.slew_ravine_rad), boom.slew_road_rad)
    ropes = []
    for line, own in zip(rig_of(description).units[end].lines, unit.lines, strict=True):
        needed = lift_off.tips_m[end][2] - lift_off.hooks_m[line.place][2] + SLACK_M
        rope = rope_for_m(own.hoist, max(needed, LEAST_LINE_M), length)
        ropes.append(min(rope, own.hoist.usable_rope_m))
    return Begun(BoomPose(length, elevation, slew), tuple(ropes))


def settled(description: Description) -> Description:
    """The same lift with its load as the slope lies under it, and its booms over the picks."""
    pitch, roll = rests_rad(description)
    was = description.trailer.start
    start = replace(was, pitch_rad=round(pitch, PLACES), roll_rad=round(roll, PLACES))
    lying = description if start == was else replace(description, trailer=replace(description.trailer, start=start))
    begun = over_the_picks(as_stated(lying))
    units = tuple(_standing(unit, one) for unit, one in zip(lying.units, begun, strict=True))
    return lying if units == lying.units else replace(lying, units=units)


def _standing(unit: Unit, begun: Begun) -> Unit:
    boom = unit.boom
    length, elevation, slew = (round(value, PLACES) for value in begun.boom)
    length = min(max(length, boom.shortest_m), boom.longest_m)
    elevation = min(max(elevation, boom.lowest_rad), boom.highest_rad)
    slew = min(max(slew, boom.slew_ravine_rad), boom.slew_road_rad)
    lines = tuple(
        replace(line, rope_out_m=min(round(rope, PLACES), line.hoist.usable_rope_m))
        for line, rope in zip(unit.lines, begun.ropes_m, strict=True)
    )
    start = UnitStart(length, elevation, slew)
    return unit if (start, lines) == (unit.start, unit.lines) else replace(unit, start=start, lines=lines)

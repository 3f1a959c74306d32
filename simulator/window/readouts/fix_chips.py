"""Which control would bring a line back to plumb: one for each unit at most, never one that brings danger."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, hypot, pi, sin, tan
from typing import Literal, NamedTuple

from simulator.mechanics.boom import BoomPose
from simulator.readings import LoadReadings, Readings, UnitReadings
from simulator.scenario.description import Description, Limits
from simulator.scenario.rig import RigUnit, rig_of
from simulator.scenario.unit import Unit
from simulator.window.readouts.alerts import hangs, is_loose

Kind = Literal["leave", "wait", "slack", "control", "ask", "other_first", "hold"]
SWITCH_RAD = 0.1 * pi / 180.0
"""How much worse the other line must be before the chip goes over to it."""


class Advice(NamedTuple):
    """What one operator may do about a line, or the lines of a unit."""

    kind: Kind
    lever: str = ""
    """Its key, for a control."""
    sign: int = 0


class Move(NamedTuple):
    """One direction of one function: how it moves the tip in plan, and how it lifts the hook on the way."""

    function: str
    sign: int
    along: float
    across: float
    lift_per_m: float
    pose_rate: BoomPose
    """Change of the boom's pose for each meter that the tip moves in plan."""


NEAR_PLACE_M = 1.0
"""A load so near to its landing place was brought there. Our own choice, no source."""
Allowed = Callable[[int, BoomPose], bool]
"""(unit by place, pose): True where the unit may stand like that without capacity or a float in caution."""


def as_judged(readings: Readings, rig: RigUnit) -> UnitReadings:
    """A unit's readings with the lean its lines are judged by in the means: slack ones hang where they hang now."""
    unit = readings.units[rig.place]
    if not is_loose(readings, rig):
        return unit._replace(slack=False)
    return unit._replace(
        slack=True,
        mean_off_plumb_rad=unit.off_plumb_rad,
        mean_off_plumb_along_rad=unit.off_plumb_along_rad,
        mean_off_plumb_across_rad=unit.off_plumb_across_rad,
    )


def moves(unit: Unit, pose: BoomPose) -> tuple[Move, ...]:
    """Every direction of slew, elevation and telescope, for one meter of the tip in plan."""
    s, slew, raised, length = unit.facing, pose.slew_rad, pose.elevation_rad, pose.length_m
    out = (s * cos(slew), sin(slew))
    side = (-s * sin(slew), cos(slew))
    reach = max(0.1, length * cos(raised) - unit.boom.foot_pin_back_m)
    steep, flat = max(0.05, sin(raised)), max(0.05, cos(raised))
    by_boom = 1.0 / (length * steep)
    lift_out = (sin(raised) + 1.0 / min(line.hoist.parts for line in unit.lines)) / flat
    rows = []
    for sign in (1, -1):
        rows += [
            Move("slew", sign, sign * side[0], sign * side[1], 0.0, BoomPose(0.0, 0.0, sign / reach)),
            Move("elevation", sign, -sign * out[0], -sign * out[1], flat / steep, BoomPose(0.0, sign * by_boom, 0.0)),
            Move("telescope", sign, sign * out[0], sign * out[1], lift_out, BoomPose(sign / flat, 0.0, 0.0)),
        ]
    return tuple(rows)


def tip_offset_m(unit: UnitReadings) -> tuple[float, float]:
    """How far the tip must travel along and across to stand over the hook, by the means over a sway."""
    length = unit.sheave_to_hook_m
    return length * tan(unit.mean_off_plumb_along_rad), length * tan(unit.mean_off_plumb_across_rad)


def best_move(unit: Unit, place: int, readings: UnitReadings, allowed: Allowed) -> Move | None:
    """The allowed move that takes away most of the mean offset; of equals the one that lifts the hook least."""
    along_m, across_m = tip_offset_m(readings)
    pose = BoomPose(readings.boom_length_m, readings.elevation_rad, readings.slew_rad)
    helping = [(row, row.along * along_m + row.across * across_m) for row in moves(unit, pose)]
    # Below half of the offset a move does too little to be worth naming.
    useful = [(row, gain_m) for row, gain_m in helping if gain_m > 0.5 * hypot(along_m, across_m)]
    for row, gain_m in sorted(useful, key=lambda pair: (round(-pair[1], 3), pair[0].lift_per_m)):
        after = BoomPose(*(now + gain_m * rate for now, rate in zip(pose, row.pose_rate, strict=True)))
        if _inside_travel(unit, after) and allowed(place, after):
            return row
    return None


def advise(
    description: Description,
    readings: Readings,
    allowed: Allowed,
    *,
    before: Sequence[Advice] = (),
    automatic: Sequence[bool] = (),
    held: Sequence[bool] = (),
) -> tuple[Advice, ...]:
    """Advice for each unit, in the rig's order. If the lines of several lean under load, only one unit is named: the
    one that leans more, or a person's beside one that drives itself. One that is held by an order or by its step is
    told to hold."""
    rig = rig_of(description)
    rows = [
        Advice("hold") if held and held[unit.place] else _alone(description, unit, readings, allowed)
        for unit in rig.units
    ]
    if len(rows) < 2 or all(line.slack for line in readings.lines) or any(row.kind != "control" for row in rows):
        return tuple(rows)

    def comes_first(place: int) -> tuple[bool, float]:
        was_first = bool(before) and before[place].kind == "control"
        lean_rad = as_judged(readings, rig.units[place]).mean_off_plumb_rad
        return not (automatic and automatic[place]), lean_rad + SWITCH_RAD * was_first

    first = max(range(len(rows)), key=comes_first)
    return tuple(row if place == first else Advice("other_first") for place, row in enumerate(rows))


def _alone(description: Description, rig: RigUnit, readings: Readings, allowed: Allowed) -> Advice:
    unit, now = description.units[rig.place], as_judged(readings, rig)
    if loose := _slack_line(rig, readings):
        return Advice("control", loose, +1)
    is_over = readings.load.landed or (now.slack and is_set_down(description, readings.load))
    if is_over or now.mean_off_plumb_rad <= _plumb_rad(description.limits):
        return Advice("slack" if now.slack else "leave")
    if not now.slack and _sways_more(readings.load, now):
        return Advice("wait")
    move = best_move(unit, rig.place, now, allowed)
    return Advice("control", move.function, move.sign) if move else Advice("ask")


def is_set_down(description: Description, load: LoadReadings) -> bool:
    """The load stands, on one end at least, where it was to be set down; not where it began."""
    place_m, began_m = description.landing.y_m, description.trailer.start.y_m
    return load.road_N > 0.0 and abs(load.y_m - place_m) < NEAR_PLACE_M < abs(began_m - place_m)


def _slack_line(rig: RigUnit, readings: Readings) -> str:
    """The lever of a line that hangs slack while another of its unit carries what both should; empty if none does."""
    if not hangs(readings.load):
        return ""
    slack = [line for line in rig.lines if readings.lines[line.place].slack]
    if not slack or len(slack) == len(rig.lines):
        return ""
    return next(lever.key for lever in rig.levers if lever.pulls == ((slack[0].place, 1.0),))


def _plumb_rad(limits: Limits) -> float:
    return limits.plumb_rad


def _sways_more(load: LoadReadings, unit: UnitReadings) -> bool:
    return load.sway_m > hypot(*tip_offset_m(unit))


def _inside_travel(unit: Unit, pose: BoomPose) -> bool:
    boom = unit.boom
    return (
        boom.shortest_m <= pose.length_m <= boom.longest_m
        and boom.lowest_rad <= pose.elevation_rad <= boom.highest_rad
        and boom.slew_ravine_rad <= pose.slew_rad <= boom.slew_road_rad
    )

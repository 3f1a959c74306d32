"""Lifts with two lines a unit, and one unit alone, and readings of them set by hand: shapes and texts, no physics."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import cos, hypot, sin
from pathlib import Path

from simulator.mechanics.boom import boom_pose, tip_m
from simulator.places import find_scenario
from simulator.readings import LineReadings, PartGap, Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.scenario.unit import Unit
from tests.demo import with_units
from tests.window.sample import TONNE_N, calm_readings, sample_load

DATA = Path(__file__).parent / "data"
Spot3 = tuple[float, float, float]


@cache
def four_lines() -> Description:
    """A light frame on four lines, two to each end; with levers that move both lines, or turn."""
    return with_units(load(find_scenario("four_lines")), levers=("both", "turn"))


@cache
def lone_unit() -> Description:
    """One unit alone, two lines to a short load."""
    return load(DATA / "lone_unit.toml")


def alone_with_one_line() -> Description:
    """The same with one line."""
    lone = lone_unit()
    unit = lone.units[0]
    one = replace(unit, lines=(replace(unit.lines[0], across_m=0.0),), levers=())
    return replace(lone, units=(one,), trailer=replace(lone.trailer, picks=lone.trailer.picks[:1]))


def unit_over(unit: Unit, hook: Spot3, *, tip_z_m: float, **changes: float) -> UnitReadings:
    """A unit with its tip plumb over a hook; what is no place is that of the sample lift's first unit."""
    pose = boom_pose(unit, (hook[0], hook[1], tip_z_m))
    tip = tip_m(unit, pose)
    reach, line = hypot(tip[0] - unit.slew_axis_x_m, tip[1]), tip[2] - hook[2]
    places = {
        "boom_length_m": pose.length_m, "elevation_rad": pose.elevation_rad, "slew_rad": pose.slew_rad,
        "reach_m": reach, "load_radius_m": reach, "tip_x_m": tip[0], "tip_y_m": tip[1], "tip_z_m": tip[2],
        "hook_x_m": hook[0], "hook_y_m": hook[1], "hook_z_m": hook[2], "line_length_m": line,
        "sheave_to_hook_m": line, "head_room_m": line - 1.0, "rope_left_m": 64.0 - 2 * line - pose.length_m,
        "mean_off_plumb_rad": 0.0, "mean_off_plumb_across_rad": 0.0,
    }  # fmt: skip
    return calm_readings().units[0]._replace(**(places | changes))  # type: ignore[arg-type]


def hanging(
    description: Description,
    *,
    height_m: float = 0.8,
    y_m: float = -5.0,
    tip_z_m: float = 9.3,
    mass_t: float = 6.0,
    **load_changes: float,
) -> Readings:
    """The load of any lift hanging level on its lines, each with its part of the load, each hook over its pick."""
    rig, trailer = rig_of(description), description.trailer
    share = mass_t / len(rig.lines)
    units, lines = [], []
    for unit, described in zip(rig.units, description.units, strict=True):
        picks = [trailer.picks[line.pick] for line in unit.lines]
        hooks = [(pick.at_m[0], y_m + pick.at_m[1], height_m + pick.at_m[2] + pick.height_m) for pick in picks]
        middle = tuple(sum(at) / len(hooks) for at in zip(*hooks, strict=True))
        now = unit_over(
            described, (middle[0], middle[1], middle[2]), tip_z_m=tip_z_m, line_load_N=share * len(hooks) * TONNE_N,
            share=1.0 / len(rig.units), capacity_used=0.41,
        )  # fmt: skip
        units.append(now)
        lines += [_line(described, number, now, hook, share) for number, hook in enumerate(hooks)]
    load_now = sample_load(height_m=height_m, y_m=y_m, z_m=height_m + 0.4, pitch_rad=0.0, **load_changes)
    gaps = tuple(PartGap(part.name, 0.9 + 0.1 * n, "deck", "clears") for n, part in enumerate(trailer.parts))
    return Readings(60480, 252.0, tuple(units), tuple(lines), load_now, gaps)


def _line(unit: Unit, number: int, now: UnitReadings, hook: Spot3, share_t: float) -> LineReadings:
    across = unit.lines[number].across_m
    sheave = (
        now.tip_x_m - unit.facing * sin(now.slew_rad) * across, now.tip_y_m + cos(now.slew_rad) * across, now.tip_z_m
    )  # fmt: skip
    drop = sheave[2] - hook[2]
    along, over = (hook[0] - sheave[0]) / drop, (hook[1] - sheave[1]) / drop
    values = {name: getattr(now, name) for name in LineReadings._fields} | {
        "line_load_N": share_t * TONNE_N, "hook_load_N": share_t * TONNE_N, "off_plumb_rad": hypot(along, over),
        "off_plumb_along_rad": along, "off_plumb_across_rad": over, "tip_x_m": sheave[0], "tip_y_m": sheave[1],
        "tip_z_m": sheave[2], "hook_x_m": hook[0], "hook_y_m": hook[1], "hook_z_m": hook[2],
        "rope_left_m": now.rope_left_m - 1.5 * number, "head_room_m": drop - 1.0,
    }  # fmt: skip
    return LineReadings(**values)


def with_line(readings: Readings, place: int, **changes: float) -> Readings:
    """The same moment with other readings of one line."""
    lines = readings.lines
    other = lines[place]._replace(**changes)  # type: ignore[arg-type]
    return readings._replace(lines=(*lines[:place], other, *lines[place + 1 :]))

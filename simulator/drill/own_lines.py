"""A unit's lines as its operator looks at them: where the tip is plumb over them, how high each of them hangs."""

from __future__ import annotations

from math import hypot

from simulator.drill.agreed_path import Agreement, middle
from simulator.mechanics.trailer import Vector, rotation, turned
from simulator.readings import LineReadings, Readings
from simulator.scenario.rig import RigUnit

SLACK_OUT_N = 4000.0
"""Hook load at which a line's slack is out."""


def own_lines(now: Readings, of: RigUnit) -> tuple[LineReadings, ...]:
    """What is read of a unit's lines."""
    return tuple(now.lines[line.place] for line in of.lines)


def all_bear(now: Readings, of: RigUnit) -> bool:
    """The slack is out of each of its lines."""
    return all(line.hook_load_N > SLACK_OUT_N for line in own_lines(now, of))


def plumb_tip_m(now: Readings, of: RigUnit) -> Vector:
    """Where its tip is plumb over its hooks, as high as it is.

    Of two lines that bear, the sum of their pulls counts, each by its load; until both bear, both count alike: a line
    that leans by itself because it was the first to bear is no reason to move the tip.
    """
    mine, lines = now.units[of.place], own_lines(now, of)
    loads = [line.hook_load_N for line in lines] if all_bear(now, of) else [1.0] * len(lines)
    parts = [load / sum(loads) for load in loads]
    x, y = (
        sum(part * (hook + (tip - sheave)) for part, hook, sheave in zip(parts, hooks, sheaves, strict=True))
        for tip, hooks, sheaves in (
            (mine.tip_x_m, [line.hook_x_m for line in lines], [line.tip_x_m for line in lines]),
            (mine.tip_y_m, [line.hook_y_m for line in lines], [line.tip_y_m for line in lines]),
        )
    )
    return x, y, mine.tip_z_m


def off_m(now: Readings, of: RigUnit) -> float:
    """Level distance from its tip to where that is plumb."""
    mine = now.units[of.place]
    x, y, _ = plumb_tip_m(now, of)
    return hypot(x - mine.tip_x_m, y - mine.tip_y_m)


def hook_z_m(now: Readings, of: RigUnit) -> float:
    """Its hook's height, or the middle of its hooks' heights."""
    return middle([line.hook_z_m for line in own_lines(now, of)])


def high_m(now: Readings, of: RigUnit, agreed: Agreement) -> tuple[float, ...]:
    """How far the load is up at each of its picks beside the middle of them, less what it is when it lies level.

    By the load's own pitch and roll: hooks of lines that lean hang lower than their picks say.
    """
    load = now.load
    matrix = rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)
    picks = [agreed.picks_m[line.place] for line in of.lines]
    up = [turned(matrix, pick)[2] - pick[2] for pick in picks]
    return tuple(one - middle(up) for one in up)


def still(now: Readings, of: RigUnit) -> bool:
    """True while none of its boom's functions runs."""
    unit = now.units[of.place]
    return abs(unit.slew_speed_radps) + abs(unit.elevation_speed_radps) < 1e-4 and abs(unit.telescope_speed_mps) < 1e-3


def at_rest(now: Readings, of: RigUnit) -> bool:
    """True while none of its functions runs."""
    return still(now, of) and all(abs(line.hoist_speed_mps) < 1e-3 for line in own_lines(now, of))

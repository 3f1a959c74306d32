"""A unit's lines as its operator looks at them: where the tip is plumb over them, how high each of them hangs."""

from __future__ import annotations

from math import hypot

from simulator.drill.agreed_path import Agreement, middle
from simulator.mechanics.trailer_body import Vector, rotation, turned
from simulator.readings import LineReadings, Readings
from simulator.scenario.rig import RigUnit

STEADY_S = 1.5
"""Over so long a hook's bounce is taken out of its height."""
SLACK_OUT_N = 4000.0
"""Hook load at which a line's slack is out."""


def own_lines(now: Readings, of: RigUnit) -> tuple[LineReadings, ...]:
    """What is read of a unit's lines."""
    lines = now.lines
    return tuple([lines[line.place] for line in of.lines])


def all_bear(now: Readings, of: RigUnit) -> bool:
    """The slack is out of each of its lines."""
    return _bear(own_lines(now, of))


def _bear(lines: tuple[LineReadings, ...]) -> bool:
    return all(line.hook_load_N > SLACK_OUT_N for line in lines)


def plumb_tip_m(now: Readings, of: RigUnit) -> Vector:
    """Where its tip is plumb over its hooks, as high as it is.

    Of two lines that bear, the sum of their pulls counts, each by its load; until both bear, both count alike: a line
    that leans by itself because it was the first to bear is no reason to move the tip. Lines that run round the load
    lean toward both its sides: the sum of their leans counts, at once.
    """
    mine, lines = now.units[of.place], own_lines(now, of)
    if any(line.laid_m > 0.0 for line in lines):
        return *_over_slung_m(now, of), mine.tip_z_m
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


def _over_slung_m(now: Readings, of: RigUnit) -> tuple[float, float]:
    """Level place of a tip that is plumb over lines that run round the load: so far on that their pulls' level parts
    come to nothing, each line leaning less by the way over its length from the load."""
    mine, lines = now.units[of.place], own_lines(now, of)
    hooks = [(line.hook_x_m - line.tip_x_m, line.hook_y_m - line.tip_y_m) for line in lines]
    loads = [line.hook_load_N for line in lines] if all_bear(now, of) else [1.0] * len(lines)
    lean = [load / line.sheave_to_hook_m for load, line in zip(loads, lines, strict=True)]
    gain = sum(load / (line.sheave_to_hook_m + line.hook_off_m) for load, line in zip(loads, lines, strict=True))
    x, y = (sum(pull * way for pull, way in zip(lean, ways, strict=True)) for ways in zip(*hooks, strict=True))
    return mine.tip_x_m + x / gain, mine.tip_y_m + y / gain


def share_of_way(lines: tuple[LineReadings, ...]) -> float:
    """Of the way to where the tip of a unit is plumb over lines that bear, what it has to go, 0 to 1.

    A step aside gives a line that hangs plumb P / d, its pull over its drop, and one that leans by a its stretch too,
    k sin^2 a: the sum of the pulls comes plumb after P / d in that much of the way.
    """
    hang = sum(line.hook_load_N / line.sheave_to_hook_m for line in lines)
    aside = [hypot(line.hook_x_m - line.tip_x_m, line.hook_y_m - line.tip_y_m) for line in lines]
    hold = sum(
        line.line_stiffness_N_per_m * (level / line.sheave_to_hook_m) ** 2
        for line, level in zip(lines, aside, strict=True)
    )
    return hang / (hang + hold) if hang + hold > 0.0 else 1.0


def off_m(now: Readings, of: RigUnit) -> float:
    """Level distance from its tip to where that is plumb."""
    mine = now.units[of.place]
    x, y, _ = plumb_tip_m(now, of)
    return hypot(x - mine.tip_x_m, y - mine.tip_y_m)


def hook_z_m(now: Readings, of: RigUnit) -> float:
    """Its hook's height, or the middle of its hooks' heights."""
    return middle([line.hook_z_m for line in own_lines(now, of)])


class SteadyHooks:
    """Hooks' heights without the bounce of booms and ropes: hands that answered it would feed it."""

    _given_m: list[float | None]

    def __init__(self, units: tuple[RigUnit, ...]) -> None:
        self._given_m = [None] * len(units)

    def look(self, now: Readings, units: tuple[RigUnit, ...], dt: float) -> None:
        """What each unit's ropes give, over the last second or so; of a unit with a slack line, what it is now."""
        new = min(1.0, dt / STEADY_S)
        for unit in units:
            lines, was = own_lines(now, unit), self._given_m[unit.place]
            given = _unloaded_z_m(lines) - middle([line.hook_z_m for line in lines])
            if was is None or dt <= 0.0 or not _bear(lines):
                self._given_m[unit.place] = given
            else:
                self._given_m[unit.place] = was + new * (given - was)

    def z_m(self, now: Readings, of: RigUnit) -> float:
        """The middle of its hooks' heights; as they are now before anybody has looked."""
        given = self._given_m[of.place]
        return hook_z_m(now, of) if given is None else _unloaded_z_m(own_lines(now, of)) - given


def _unloaded_z_m(lines: tuple[LineReadings, ...]) -> float:
    """Where a unit's hooks would hang from its sheaves on ropes that do not stretch."""
    return middle([line.tip_z_m - line.line_length_m for line in lines])


def high_m(now: Readings, of: RigUnit, agreed: Agreement) -> tuple[float, ...]:
    """How far the load is up at each of its picks beside the middle of them, less what it is when it lies level.

    By the load's own pitch and roll: hooks of lines that lean hang lower than their picks say.
    """
    load = now.load
    matrix = rotation(load.pitch_rad, load.yaw_rad, load.roll_rad)
    up = [turned(matrix, agreed.picks_m[line.place])[2] - agreed.picks_up_m[line.place] for line in of.lines]
    return tuple(one - middle(up) for one in up)


def still(now: Readings, of: RigUnit) -> bool:
    """True while none of its boom's functions runs."""
    unit = now.units[of.place]
    return abs(unit.slew_speed_radps) + abs(unit.elevation_speed_radps) < 1e-4 and abs(unit.telescope_speed_mps) < 1e-3


def at_rest(now: Readings, of: RigUnit) -> bool:
    """True while none of its functions runs."""
    return still(now, of) and all(abs(line.hoist_speed_mps) < 1e-3 for line in own_lines(now, of))

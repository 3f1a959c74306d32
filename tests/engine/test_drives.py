"""Commands to motion: ramps, top speeds, travel ends, stall, two-block. Expected values from kinematics."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import radians, sqrt
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.engine.booms import drive
from simulator.engine.commands import FUNCTIONS, UnitCommands
from simulator.engine.drives import press
from simulator.engine.model import build
from simulator.engine.moving import Unit as Moving
from simulator.engine.start import moving_parts
from simulator.mechanics.hoist_line import line_length_m, rope_for_m
from simulator.scenario.unit import Unit
from tests.demo import rehoisted
from tests.engine.lifts import LIFT
from tests.mechanics.demo_set import NOSE_UNIT

DT = 1.0 / 240.0
BOOM, HOIST = NOSE_UNIT.boom, NOSE_UNIT.hoist


class Drives(NamedTuple):
    """Where a unit's functions stand, and how fast they go."""

    rope_out_m: float
    length_m: float
    elevation_rad: float
    slew_rad: float
    hoist_mps: float = 0.0
    telescope_mps: float = 0.0
    elevation_radps: float = 0.0
    slew_radps: float = 0.0


def unit_of(described: Unit) -> Moving:
    """A unit's moving parts, in a lift."""
    return moving_parts(build(replace(LIFT, units=(described, LIFT.units[1])))).units[0]


def advance(unit: Moving, drives: Drives, commands: UnitCommands, dt: float, *, stalled: bool) -> Drives:
    """The functions one step later."""
    line = unit.lines[0]
    parts = line.hoist, unit.telescope, unit.elevation, unit.slew
    for part, at, speed, asked in zip(parts, drives[:4], drives[4:], commands, strict=True):
        part.at, part.speed, part.asked = at, speed, asked
    line.hoist.at = -drives.rope_out_m
    press(line.hoist, 1.0 if stalled else 0.0, 1.3, 0.6, False)
    drive(unit, dt)
    return Drives(-line.hoist.at, *(part.at for part in parts[1:]), *(part.speed for part in parts))


NOSE = unit_of(NOSE_UNIT)
MIDDLE = Drives(40.0, 10.0, radians(40), 0.0)
FIELDS = dict(zip(FUNCTIONS, ("rope_out_m", "length_m", "elevation_rad", "slew_rad"), strict=True))
SIGNS = dict(zip(FUNCTIONS, (-1.0, 1.0, 1.0, 1.0), strict=True))
"""Hoisting up takes rope in."""
TOPS = {
    "hoist": (HOIST.speed_mps, HOIST.ramp_mps2),
    "telescope": (BOOM.telescope_speed_mps, BOOM.telescope_ramp_mps2),
    "elevation": (BOOM.elevation_speed_radps, BOOM.elevation_ramp_radps2),
    "slew": (BOOM.slew_speed_radps, BOOM.slew_ramp_radps2),
}
ENDS = {
    "telescope": (BOOM.shortest_m, BOOM.longest_m),
    "elevation": (BOOM.lowest_rad, BOOM.highest_rad),
    "slew": (BOOM.slew_ravine_rad, BOOM.slew_road_rad),
}


def driven(
    seconds: float, commands: UnitCommands, drives: Drives = MIDDLE, *, unit: Unit = NOSE_UNIT, stalled: bool = False
) -> Drives:
    ends = unit_of(unit)
    for _ in range(round(seconds / DT)):
        drives = advance(ends, drives, commands, DT, stalled=stalled)
    return drives


@pytest.mark.parametrize("function", FUNCTIONS)
@pytest.mark.parametrize("command", [1.0, 0.4, -0.7])
def test_ramp_then_steady_speed(function: str, command: float) -> None:
    """s = v t - v^2 / (2 a): a ramp to the commanded share of top speed, then on at it."""
    top, ramp = TOPS[function]
    speed = abs(command) * top
    seconds = speed / ramp + 2.0
    moved = getattr(driven(seconds, UnitCommands(**{function: command})), FIELDS[function])
    way = (moved - getattr(MIDDLE, FIELDS[function])) * SIGNS[function]
    expected = speed * seconds - speed**2 / (2.0 * ramp)
    assert way == pytest.approx(expected if command > 0.0 else -expected, abs=speed * DT)


@pytest.mark.parametrize("function", FUNCTIONS)
def test_letting_go_ramps_down(function: str) -> None:
    """The way from full speed to standstill is v^2 / (2 a)."""
    top, ramp = TOPS[function]
    fast = driven(top / ramp + 0.5, UnitCommands(**{function: 1.0}))
    stopped = driven(top / ramp + 0.5, UnitCommands(), fast)
    way = (getattr(stopped, FIELDS[function]) - getattr(fast, FIELDS[function])) * SIGNS[function]
    assert way == pytest.approx(top**2 / (2.0 * ramp), abs=top * DT)
    assert stopped[4:] == (0.0, 0.0, 0.0, 0.0)


@pytest.mark.parametrize("function", FUNCTIONS)
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_command_beyond_full_is_full(function: str, sign: float) -> None:
    full, beyond = (driven(2.0, UnitCommands(**{function: sign * size})) for size in (1.0, 7.0))
    assert beyond == full


@pytest.mark.parametrize("function", ENDS)
@pytest.mark.parametrize("end", [0, 1])
def test_travel_ends_stop_a_function_softly(function: str, end: int) -> None:
    """Full command into an end: never past it, at rest on it, stopped at its ramp.

    v = sqrt(2 a s) covers the rest in one step once s = 2 a dt^2: the last change of speed is 2 a dt at most.
    """
    goal, sign = ENDS[function][end], (-1.0, 1.0)[end]
    ramp = TOPS[function][1]
    drives, speeds = replace_drives(function, goal - sign * 1.2 * TOPS[function][0] * 4.0), [0.0]
    speed_at = 4 + FUNCTIONS.index(function)
    for _ in range(round(12.0 / DT)):
        drives = advance(NOSE, drives, UnitCommands(**{function: sign}), DT, stalled=False)
        speeds.append(drives[speed_at])
        assert sign * (goal - getattr(drives, FIELDS[function])) > -1e-9
    assert getattr(drives, FIELDS[function]) == pytest.approx(goal, abs=2e-3)
    assert max(abs(b - a) for a, b in pairwise(speeds)) <= 2.0 * ramp * DT + 1e-12


def replace_drives(function: str, value: float) -> Drives:
    return MIDDLE._replace(**{FIELDS[function]: value})


def test_the_drum_stops_at_its_last_usable_rope() -> None:
    """A deep ravine uses up rope: lowering ends at the usable rope, the hook (R - L - R_0) / n below the sheave."""
    drives = driven(80.0, UnitCommands(hoist=-1.0))
    assert drives.rope_out_m == pytest.approx(HOIST.usable_rope_m, abs=2e-3)
    hook = line_length_m(HOIST, drives.rope_out_m, drives.length_m)
    assert hook == pytest.approx((66.0 - 10.0 - 2.0) / 2.0, abs=2e-3)


def test_a_stalled_winch_lowers_but_does_not_raise() -> None:
    assert driven(2.0, UnitCommands(hoist=1.0), stalled=True) == MIDDLE
    lowered = driven(2.0, UnitCommands(hoist=-1.0), stalled=True)
    assert lowered == driven(2.0, UnitCommands(hoist=-1.0))


def test_hoisting_stops_short_of_the_block() -> None:
    """Hook at the stop and no nearer: line = block and stop."""
    low = MIDDLE._replace(rope_out_m=rope_for_m(HOIST, 4.0, MIDDLE.length_m))
    drives = driven(30.0, UnitCommands(hoist=1.0), low)
    line = line_length_m(HOIST, drives.rope_out_m, drives.length_m)
    assert line == pytest.approx(HOIST.block_and_stop_m, abs=2e-3)
    assert line >= HOIST.block_and_stop_m - 1e-9


def test_telescoping_without_paying_out_two_blocks_the_hook() -> None:
    """n meters of boom take up one meter of line; then the boom is stopped too, unless the block may meet its stop."""
    room = 0.8
    low = MIDDLE._replace(rope_out_m=rope_for_m(HOIST, HOIST.block_and_stop_m + room, MIDDLE.length_m))
    drives = driven(20.0, UnitCommands(telescope=1.0), low)
    assert drives.length_m - low.length_m == pytest.approx(HOIST.parts * room, abs=5e-3)
    assert drives.telescope_mps == pytest.approx(0.0, abs=5e-3)
    free = rehoisted(NOSE_UNIT, two_block_override=True)
    past = driven(20.0, UnitCommands(telescope=1.0), low, unit=free)
    assert line_length_m(HOIST, past.rope_out_m, past.length_m) < HOIST.block_and_stop_m - 0.3


def test_paying_out_while_telescoping_keeps_the_hook() -> None:
    """Rope out at the telescope's speed: the line keeps its length, so head room keeps."""
    low = MIDDLE._replace(rope_out_m=rope_for_m(HOIST, 1.2, MIDDLE.length_m))
    paying = UnitCommands(hoist=-BOOM.telescope_speed_mps / HOIST.speed_mps, telescope=1.0)
    drives = driven(10.0, paying, low)
    assert drives.length_m > low.length_m + 1.5
    assert line_length_m(HOIST, drives.rope_out_m, drives.length_m) > 1.2 - 1e-9


commands = st.builds(UnitCommands, *[st.floats(-2.0, 2.0)] * 4)


@pytest.mark.long_in_plain
@settings(max_examples=60)
@given(st.lists(st.tuples(commands, st.integers(1, 400)), min_size=1, max_size=6))
def test_no_commands_lead_out_of_the_travel(given_: list[tuple[UnitCommands, int]]) -> None:
    """Whatever hands do: travel ends, rope and block hold, speeds and their changes stay within the drives'."""
    drives = MIDDLE
    for asked, steps in given_:
        for _ in range(steps):
            before, drives = drives, advance(NOSE, drives, asked, DT, stalled=False)
            for function, (low, high) in ENDS.items():
                assert low - 1e-9 <= getattr(drives, FIELDS[function]) <= high + 1e-9
            assert drives.rope_out_m <= HOIST.usable_rope_m + 1e-9
            line = line_length_m(HOIST, drives.rope_out_m, drives.length_m)
            assert line >= HOIST.block_and_stop_m - 1e-9
            for now, was, (top, _) in zip(drives[4:], before[4:], TOPS.values(), strict=True):
                assert abs(now) <= top + 1e-12
                assert abs(now) <= abs(was) + 0.01 * top + 1e-9 or abs(now) <= top


@pytest.mark.parametrize("room_m", [0.001, 0.01, 0.1, 1.0])
def test_speed_near_an_end_is_what_its_ramp_can_stop(room_m: float) -> None:
    """v <= sqrt(2 a s)."""
    near = MIDDLE._replace(length_m=BOOM.longest_m - room_m, telescope_mps=BOOM.telescope_speed_mps)
    after = advance(NOSE, near, UnitCommands(telescope=1.0), DT, stalled=False)
    assert after.telescope_mps <= min(BOOM.telescope_speed_mps, sqrt(2.0 * BOOM.telescope_ramp_mps2 * room_m)) + 1e-12

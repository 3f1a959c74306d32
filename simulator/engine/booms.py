"""A unit's functions, its boom's tip and its lines' sheaves through one step."""

from __future__ import annotations

from math import cos, sin

from simulator.engine.drives import Drive, ramped, short_of_the_block
from simulator.engine.leaning import lean, leaned
from simulator.engine.moving import Line, Unit
from simulator.mechanics.boom import tip_beyond
from simulator.mechanics.matrix import turned


def drive(unit: Unit, dt: float) -> None:
    """Hoists, telescope, elevation and slew one step on."""
    telescope, is_taken_up = unit.telescope, False
    _speed_up(telescope, dt)
    _speed_up(unit.elevation, dt)
    _speed_up(unit.slew, dt)
    for line in unit.lines:
        _speed_up(line.hoist, dt)
        is_taken_up = is_taken_up or line.hoist.speed > 0.0
    if is_taken_up or telescope.speed > 0.0:
        _stop_short(unit, dt)
    for line in unit.lines:
        line.hoist.at += line.hoist.speed * dt
    telescope.at += telescope.speed * dt
    unit.elevation.at += unit.elevation.speed * dt
    unit.slew.at += unit.slew.speed * dt


def _speed_up(drive: Drive, dt: float) -> None:
    if drive.asked != 0.0 or drive.speed != 0.0 or drive.slips != 0.0:
        drive.speed = ramped(drive, drive.asked, drive.speed, dt)


def _stop_short(unit: Unit, dt: float) -> None:
    """No block meets its stop: telescoping out takes up every line of the unit."""
    telescope = unit.telescope
    for line in unit.lines:
        hoist, numbers = line.hoist, line.numbers
        if (hoist.speed > 0.0 or telescope.speed > 0.0) and not numbers.two_block_override:
            room = -hoist.at - telescope.at - numbers.to_stop_m
            if room <= numbers.ample_m:
                short_of_the_block(hoist, telescope, room, dt)


def reach(unit: Unit, dt: float) -> None:
    """The tip leans one step on toward where its lean is going, and is where boom and lean have it; a unit that
    goes over takes it along."""
    share = unit.numbers.lean_share
    unit.lean_x = lean_x = unit.lean_x + (unit.lean_to_x - unit.lean_x) * share
    unit.lean_y = lean_y = unit.lean_y + (unit.lean_to_y - unit.lean_y) * share
    unit.lean_z = lean_z = unit.lean_z + (unit.lean_to_z - unit.lean_z) * share
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    if length != unit.aimed_length or elevation != unit.aimed_elevation or slew != unit.aimed_slew:
        aim(unit)
    unit.tip_x, unit.tip_y, unit.tip_z = unit.aimed_x + lean_x, unit.aimed_y + lean_y, unit.aimed_z + lean_z
    if unit.over.is_up:
        lean(unit.over, dt)
        unit.tip_x, unit.tip_y, unit.tip_z = leaned(unit, unit.tip_x, unit.tip_y, unit.tip_z)
        _aside(unit)


def _aside(unit: Unit) -> None:
    """Square to the boom of a unit that goes over."""
    way, slew = unit.numbers.foot.facing, unit.slew.at
    u, v, unit.aside_z = turned(unit.over.turn, (-sin(slew), cos(slew), 0.0))
    unit.aside_x, unit.aside_y = way * u, v


def aim(unit: Unit) -> None:
    """Where the boom points, not leaning: worked out anew when it has moved."""
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    unit.aimed_length, unit.aimed_elevation, unit.aimed_slew = length, elevation, slew
    foot, cos_slew, sin_slew = unit.numbers.foot, cos(slew), sin(slew)
    x, y, z = tip_beyond(foot, length * cos(elevation), length * sin(elevation), cos_slew, sin_slew)
    unit.aimed_x, unit.aimed_y, unit.aimed_z = x, y, z
    unit.aside_x, unit.aside_y = -foot.facing * sin_slew, cos_slew
    unit.aside_z = 0.0


def lead(line: Line, unit: Unit, dt: float) -> None:
    """The line's sheave goes with the tip, beside the boom's middle."""
    across = line.numbers.across_m
    x, y, z = unit.tip_x + unit.aside_x * across, unit.tip_y + unit.aside_y * across, unit.tip_z
    if unit.aside_z != 0.0:
        z += unit.aside_z * across
    line.sheave_vx, line.sheave_vy = (x - line.sheave_x) / dt, (y - line.sheave_y) / dt
    line.sheave_vz = (z - line.sheave_z) / dt
    line.sheave_x, line.sheave_y, line.sheave_z = x, y, z

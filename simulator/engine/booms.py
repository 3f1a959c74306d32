"""A unit's functions, its boom's tip and its lines' sheaves through one step."""

from __future__ import annotations

from math import cos, sin

from simulator.engine.drives import ramped, short_of_the_block
from simulator.engine.moving import Unit
from simulator.mechanics.boom import tip_beyond


def drive(unit: Unit, dt: float) -> None:
    """Hoists, telescope, elevation and slew one step on."""
    telescope, elevation, slew = unit.telescope, unit.elevation, unit.slew
    for line in unit.lines:
        hoist, up = line.hoist, line.hoist.asked
        if line.is_stalled and (up > 0.0 or hoist.speed > 0.0):  # it stands at once, without its ramp
            up, hoist.speed = (0.0 if up > 0.0 else up), 0.0
        hoist.speed = ramped(hoist, up, hoist.speed, dt)
    telescope.speed = ramped(telescope, telescope.asked, telescope.speed, dt)
    elevation.speed = ramped(elevation, elevation.asked, elevation.speed, dt)
    slew.speed = ramped(slew, slew.asked, slew.speed, dt)
    for line in unit.lines:
        hoist, numbers = line.hoist, line.numbers
        if (hoist.speed > 0.0 or telescope.speed > 0.0) and not numbers.two_block_override:
            room = -hoist.at - telescope.at - numbers.to_stop_m
            if room <= numbers.ample_m:
                short_of_the_block(hoist, telescope, room, dt)
    for line in unit.lines:
        hoist = line.hoist
        hoist.at = hoist.at + hoist.speed * dt
    telescope.at = telescope.at + telescope.speed * dt
    elevation.at = elevation.at + elevation.speed * dt
    slew.at = slew.at + slew.speed * dt


def lean_on(unit: Unit) -> None:
    """The tip leans one step on toward where its lean is going."""
    share = unit.numbers.lean_share
    unit.lean_x = unit.lean_x + (unit.lean_to_x - unit.lean_x) * share
    unit.lean_y = unit.lean_y + (unit.lean_to_y - unit.lean_y) * share
    unit.lean_z = unit.lean_z + (unit.lean_to_z - unit.lean_z) * share


def reach(unit: Unit) -> None:
    """Tip and sheaves go where boom and lean have them."""
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    foot, cos_slew, sin_slew = unit.numbers.foot, cos(slew), sin(slew)
    x, y, z = tip_beyond(foot, length * cos(elevation), length * sin(elevation), cos_slew, sin_slew)
    unit.tip_x, unit.tip_y, unit.tip_z = x, y, z = x + unit.lean_x, y + unit.lean_y, z + unit.lean_z
    aside_x, aside_y = -foot.facing * sin_slew, cos_slew
    for line in unit.lines:
        across = line.numbers.across_m
        line.sheave_x, line.sheave_y, line.sheave_z = x + aside_x * across, y + aside_y * across, z

"""Commands to motion: ramps, top speeds, travel ends, two-block, stall. Pure numbers in, pure numbers out."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from simulator.engine.commands import UnitCommands
from simulator.scenario.unit import Unit, UnitStart


class Drives(NamedTuple):
    """Where one unit's four functions stand, and how fast they go (hoist up, out, up, toward the road positive)."""

    rope_out_m: float
    length_m: float
    elevation_rad: float
    slew_rad: float
    hoist_mps: float = 0.0
    telescope_mps: float = 0.0
    elevation_radps: float = 0.0
    slew_radps: float = 0.0


def at_start(start: UnitStart) -> Drives:
    """The functions at time zero."""
    return Drives(start.rope_out_m, start.boom_length_m, start.elevation_rad, start.slew_rad)


def _ramped(
    speed: float, wanted: float, top: float, change: float, room_down: float, room_up: float, ramp: float
) -> float:
    """Speed after one step: toward `wanted` by at most `change`, slow enough to stop at the travel ends."""
    wanted = min(top, max(-top, wanted))
    if wanted > speed + change:
        wanted = speed + change
    elif wanted < speed - change:
        wanted = speed - change
    if wanted > 0.0:
        most = sqrt(2.0 * ramp * room_up) if room_up > 0.0 else 0.0
        return min(wanted, most)
    if wanted < 0.0:
        most = sqrt(2.0 * ramp * room_down) if room_down > 0.0 else 0.0
        return max(wanted, -most)
    return wanted


def advance(unit: Unit, drives: Drives, commands: UnitCommands, dt: float, *, stalled: bool) -> Drives:
    """The functions one step later.

    Args:
        unit: limits, speeds and ramps.
        drives: where they stand now.
        commands: each in [-1, 1]; more is taken as the end value.
        dt: step, s.
        stalled: the winch cannot raise the line.
    """
    boom, hoist = unit.boom, unit.hoist
    rope, length, elevation, slew, v_hoist, v_tele, v_elev, v_slew = drives
    up, out, raised, turned = commands
    if not (up or out or raised or turned or v_hoist or v_tele or v_elev or v_slew):
        return drives
    if stalled and up > 0.0:
        up = 0.0
    if up or v_hoist:
        ramp = hoist.ramp_mps2
        v_hoist = _ramped(
            v_hoist, up * hoist.speed_mps, hoist.speed_mps, ramp * dt, hoist.usable_rope_m - rope, rope, ramp
        )
    if out or v_tele:
        ramp = boom.telescope_ramp_mps2
        room = length - boom.shortest_m, boom.longest_m - length
        v_tele = _ramped(v_tele, out * boom.telescope_speed_mps, boom.telescope_speed_mps, ramp * dt, *room, ramp)
    if raised or v_elev:
        ramp = boom.elevation_ramp_radps2
        room = elevation - boom.lowest_rad, boom.highest_rad - elevation
        v_elev = _ramped(
            v_elev, raised * boom.elevation_speed_radps, boom.elevation_speed_radps, ramp * dt, *room, ramp
        )
    if turned or v_slew:
        ramp = boom.slew_ramp_radps2
        room = slew - boom.slew_ravine_rad, boom.slew_road_rad - slew
        v_slew = _ramped(v_slew, turned * boom.slew_speed_radps, boom.slew_speed_radps, ramp * dt, *room, ramp)
    if not hoist.two_block_override and (v_hoist > 0.0 or v_tele > 0.0):
        v_hoist, v_tele = _short_of_the_block(unit, rope, length, v_hoist, v_tele, dt)
    return Drives(
        rope - v_hoist * dt,
        length + v_tele * dt,
        elevation + v_elev * dt,
        slew + v_slew * dt,
        v_hoist,
        v_tele,
        v_elev,
        v_slew,
    )


def _short_of_the_block(
    unit: Unit, rope: float, length: float, v_hoist: float, v_tele: float, dt: float
) -> tuple[float, float]:
    """Hoist and telescope speeds that stop the block at its stop: telescoping out takes up line as hoisting does."""
    hoist = unit.hoist
    room = rope - length - hoist.to_boom_foot_m - hoist.parts * hoist.block_and_stop_m
    most = min(sqrt(2.0 * hoist.ramp_mps2 * room), room / dt) if room > 0.0 else 0.0
    closing = v_hoist + v_tele
    if closing <= most:
        return v_hoist, v_tele
    taking = max(v_hoist, 0.0) + max(v_tele, 0.0)
    paying = taking - closing
    share = (most + paying) / taking
    return (v_hoist * share if v_hoist > 0.0 else v_hoist), (v_tele * share if v_tele > 0.0 else v_tele)

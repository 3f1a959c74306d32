"""Commands to motion: ramps, top speeds, travel ends, two-block, stall. Pure numbers in, pure numbers out."""

from __future__ import annotations

from math import inf, sqrt
from typing import NamedTuple

from simulator.engine.commands import Hands
from simulator.engine.made import made
from simulator.scenario.unit import Unit


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


def at_start(unit: Unit) -> Drives:
    """The functions at time zero."""
    start = unit.start
    return Drives(unit.lines[0].rope_out_m, start.boom_length_m, start.elevation_rad, start.slew_rad)


class Travel(NamedTuple):
    """One function's limits: top speed, ramp, and the ends of its travel."""

    top: float
    ramp: float
    low: float
    high: float
    ample: float
    """With this much travel left no speed need be held back."""


def _travel(top: float, ramp: float, low: float, high: float) -> Travel:
    return Travel(top, ramp, low, high, _ample(top, ramp))


def _ample(top: float, ramp: float) -> float:
    """A stop from top speed, and a second at top speed more: no step is that long."""
    return top * top / (2.0 * ramp) + top if ramp > 0.0 else inf


class Limits(NamedTuple):
    """One unit's four functions, ready for stepping."""

    hoist: Travel
    telescope: Travel
    elevation: Travel
    slew: Travel
    to_stop_m: float
    """Rope out less boom length when the block meets its stop."""
    ample_m: float
    """With this much rope more, hoist and telescope together need not be held back."""
    two_block_override: bool


def limits(unit: Unit) -> Limits:
    """The limits of a unit's functions; the hoist's travel is minus the rope paid out, so that up is positive."""
    boom, hoist = unit.boom, unit.hoist
    return Limits(
        _travel(hoist.speed_mps, hoist.ramp_mps2, -hoist.usable_rope_m, 0.0),
        _travel(boom.telescope_speed_mps, boom.telescope_ramp_mps2, boom.shortest_m, boom.longest_m),
        _travel(boom.elevation_speed_radps, boom.elevation_ramp_radps2, boom.lowest_rad, boom.highest_rad),
        _travel(boom.slew_speed_radps, boom.slew_ramp_radps2, boom.slew_ravine_rad, boom.slew_road_rad),
        hoist.to_boom_foot_m + hoist.parts * hoist.block_and_stop_m,
        _ample(hoist.speed_mps + boom.telescope_speed_mps, hoist.ramp_mps2),
        hoist.two_block_override,
    )


def _speed(travel: Travel, at: float, speed: float, command: float, dt: float) -> float:
    """Speed after one step: ramped toward what is asked, slow enough to stop at the travel's ends."""
    top, ramp, low, high, ample = travel
    wanted = top * (1.0 if command > 1.0 else -1.0 if command < -1.0 else command)
    change = ramp * dt
    if wanted > speed + change:
        wanted = speed + change
    elif wanted < speed - change:
        wanted = speed - change
    if wanted > 0.0:
        room = high - at
        return wanted if room > ample else _no_faster(wanted, room, ramp, dt)
    if wanted < 0.0:
        room = at - low
        return wanted if room > ample else 0.0 - _no_faster(-wanted, room, ramp, dt)
    return wanted


def _no_faster(speed: float, room: float, ramp: float, dt: float) -> float:
    """The speed, or the greatest that can still stop within the room that is left."""
    if room <= 0.0:
        return 0.0
    stopping, last_step = sqrt(2.0 * ramp * room), room / dt
    most = stopping if stopping < last_step else last_step
    return speed if speed < most else most


def advance(ends: Limits, drives: Drives, commands: Hands, dt: float, *, stalled: bool) -> Drives:
    """The functions one step later.

    Args:
        ends: speeds, ramps and travel ends.
        drives: where they stand now.
        commands: each in [-1, 1]; more is taken as the end value.
        dt: step, s.
        stalled: the winch cannot raise the line; it stands at once, without its ramp.
    """
    rope, length, elevation, slew, v_hoist, v_tele, v_elev, v_slew = drives
    up, out, raised, turned = commands
    if not (up or out or raised or turned or v_hoist or v_tele or v_elev or v_slew):
        return drives
    if stalled and (up > 0.0 or v_hoist > 0.0):
        up, v_hoist = min(up, 0.0), 0.0
    if up or v_hoist:
        v_hoist = _speed(ends.hoist, -rope, v_hoist, up, dt)
    if out or v_tele:
        v_tele = _speed(ends.telescope, length, v_tele, out, dt)
    if raised or v_elev:
        v_elev = _speed(ends.elevation, elevation, v_elev, raised, dt)
    if turned or v_slew:
        v_slew = _speed(ends.slew, slew, v_slew, turned, dt)
    if (v_hoist > 0.0 or v_tele > 0.0) and not ends.two_block_override:
        room = rope - length - ends.to_stop_m
        if room <= ends.ample_m:
            v_hoist, v_tele = _short_of_the_block(ends, room, v_hoist, v_tele, dt)
    rope, length = rope - v_hoist * dt, length + v_tele * dt
    elevation, slew = elevation + v_elev * dt, slew + v_slew * dt
    return made(Drives, (rope, length, elevation, slew, v_hoist, v_tele, v_elev, v_slew))


def _short_of_the_block(ends: Limits, room_m: float, v_hoist: float, v_tele: float, dt: float) -> tuple[float, float]:
    """Hoist and telescope speeds that stop the block at its stop: telescoping out takes up line as hoisting does."""
    closing = v_hoist + v_tele
    most = _no_faster(closing, room_m, ends.hoist.ramp, dt)
    if closing <= most:
        return v_hoist, v_tele
    taking = max(v_hoist, 0.0) + max(v_tele, 0.0)
    share = (most + taking - closing) / taking
    return (v_hoist * share if v_hoist > 0.0 else v_hoist), (v_tele * share if v_tele > 0.0 else v_tele)

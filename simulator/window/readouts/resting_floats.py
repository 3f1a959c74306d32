"""How the units stand, reckoned for the readouts: resting floats, and whether a boom may stand otherwise."""

from __future__ import annotations

from math import cos, hypot, nan, sin
from typing import NamedTuple

from simulator.mechanics.boom import BoomPose, reach_m
from simulator.mechanics.footing import Stand, footing, least_float, own_axes, own_load, resting_loads, stand
from simulator.mechanics.rating import capacity_used, tipping_load_N
from simulator.readings import LineReadings, Readings
from simulator.scenario.description import Description, Limits
from simulator.scenario.rig import rig_of
from simulator.scenario.unit import Unit
from simulator.window.readouts.alerts import FourNewtons, RestingLoads
from simulator.window.readouts.fix_chips import Allowed


class Burden(NamedTuple):
    """How near a unit is to its limits with its boom at some pose."""

    capacity: float
    least_share: float


class RestingFloats:
    """The units' stands and resting loads, worked out once for a lift."""

    def __init__(self, description: Description) -> None:
        self._description = description
        self._stands = tuple(stand(unit, cross_fall_rad=description.site.cross_fall_rad) for unit in description.units)
        self.resting: RestingLoads = tuple(
            resting_loads(on, unit, unit.start.boom_length_m, unit.start.elevation_rad)
            for on, unit in zip(self._stands, description.units, strict=True)
        )
        self._set_level = tuple(
            _lean(on, BoomPose(unit.start.boom_length_m, unit.start.elevation_rad, 0.0), unit, (0.0, 0.0, -on.block_N))
            for on, unit in zip(self._stands, description.units, strict=True)
        )

    def off_level_rad(self, place: int, readings: Readings) -> float:
        """How far a unit's frame stands off level: its level error, and what its floats give since it was set up.

        What ground that is overloaded has given is not read, and not in it. Not a number for a unit that tips.
        """
        now = readings.units[place]
        if now.tipping:
            return nan
        on, unit = self._stands[place], self._description.units[place]
        pulls = [pull_N(readings.lines[line.place]) for line in rig_of(self._description).units[place].lines]
        along, across, down = (sum(parts) for parts in zip(*pulls, strict=True))
        pose = BoomPose(now.boom_length_m, now.elevation_rad, now.slew_rad)
        lean_u, lean_v = _lean(on, pose, unit, own_axes(unit.facing, (along, across, down)))
        set_u, set_v = self._set_level[place]
        return hypot(on.slope_u + lean_u - set_u, on.slope_v + lean_v - set_v)

    def allowed(self, readings: Readings) -> Allowed:
        """Says of a pose whether it keeps capacity and floats out of caution, or at least makes neither worse."""
        limits = self._description.limits

        def is_allowed(place: int, pose: BoomPose) -> bool:
            unit, now = self._description.units[place], readings.units[place]
            at = BoomPose(now.boom_length_m, now.elevation_rad, now.slew_rad)
            args = self._stands[place], unit, self.resting[place], now.line_load_N
            return no_worse(limits, burden(*args, at), burden(*args, pose))

        return is_allowed


def pull_N(line: LineReadings) -> tuple[float, float, float]:
    """What a line pulls its sheave with: along the road, across it, up."""
    size = line.line_load_N / max(1e-6, line.sheave_to_hook_m)
    return (
        (line.hook_x_m - line.tip_x_m) * size,
        (line.hook_y_m - line.tip_y_m) * size,
        (line.hook_z_m - line.tip_z_m) * size,
    )


def burden(on: Stand, unit: Unit, resting_N: FourNewtons, line_load_N: float, pose: BoomPose) -> Burden:
    """Capacity used and least float share with the load hanging plumb from a boom at `pose`."""
    reach, tip = reach_m(unit, pose.length_m, pose.elevation_rad), _tip(unit, pose)
    tipping_N = tipping_load_N(on, own_load(on, pose), tip)
    reactions_N = footing(on, pose, tip, (0.0, 0.0, -line_load_N)).reactions_N
    return Burden(
        capacity_used(line_load_N, unit, pose.length_m, reach, tipping_N), least_float(reactions_N, resting_N)[1]
    )


def _tip(unit: Unit, pose: BoomPose) -> tuple[float, float, float]:
    """The tip in the unit's own axes, as it would be with nothing giving way."""
    reach = reach_m(unit, pose.length_m, pose.elevation_rad)
    height = unit.boom.foot_pin_height_m + pose.length_m * sin(pose.elevation_rad)
    return reach * cos(pose.slew_rad), reach * sin(pose.slew_rad), height


def _lean(on: Stand, pose: BoomPose, unit: Unit, force_N: tuple[float, float, float]) -> tuple[float, float]:
    """How far the frame leans on its floats: downhill toward the tailboard, and toward the road."""
    stands = footing(on, pose, _tip(unit, pose), force_N)
    return stands.lean_u_rad, stands.lean_v_rad


def no_worse(limits: Limits, before: Burden, after: Burden) -> bool:
    """True when `after` is out of caution, or no nearer to the limit than `before` where that was in it."""
    light = limits.float_caution_factor * limits.light_float_share
    return (after.capacity < limits.capacity_caution or after.capacity <= before.capacity) and (
        after.least_share >= light or after.least_share >= before.least_share
    )

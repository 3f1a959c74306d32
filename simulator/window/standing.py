"""How the units stand, reckoned for the readouts: resting floats, and whether a boom may stand otherwise."""

from __future__ import annotations

from math import cos, sin
from typing import NamedTuple

from simulator.mechanics.boom import BoomPose, reach_m
from simulator.mechanics.footing import Stand, footing, least_float, own_load, resting_loads, stand
from simulator.mechanics.rating import capacity_used, tipping_load_N
from simulator.readings import Readings
from simulator.scenario.description import Description, Limits
from simulator.scenario.unit import Unit
from simulator.window.advice import Allowed
from simulator.window.alerts import FourNewtons, RestingLoads


class Burden(NamedTuple):
    """How near a unit is to its limits with its boom at some pose."""

    capacity: float
    least_share: float


class Standing:
    """The two units' stands and resting loads, worked out once for a lift."""

    def __init__(self, description: Description) -> None:
        self._description = description
        self._stands = tuple(stand(unit, cross_fall_rad=description.site.cross_fall_rad) for unit in description.units)
        starts = (description.start.nose, description.start.tail)
        nose, tail = (
            resting_loads(on, unit, start.boom_length_m, start.elevation_rad)
            for on, unit, start in zip(self._stands, description.units, starts, strict=True)
        )
        self.resting: RestingLoads = (nose, tail)

    def allowed(self, readings: Readings) -> Allowed:
        """Says of a pose whether it keeps capacity and floats out of caution, or at least makes neither worse."""
        limits = self._description.limits

        def is_allowed(end: int, pose: BoomPose) -> bool:
            unit, now = self._description.units[end], readings.units[end]
            at = BoomPose(now.boom_length_m, now.elevation_rad, now.slew_rad)
            args = self._stands[end], unit, self.resting[end], now.line_load_N
            return no_worse(limits, burden(*args, at), burden(*args, pose))

        return is_allowed


def burden(on: Stand, unit: Unit, resting_N: FourNewtons, line_load_N: float, pose: BoomPose) -> Burden:
    """Capacity used and least float share with the load hanging plumb from a boom at `pose`."""
    reach = reach_m(unit, pose.length_m, pose.elevation_rad)
    tip = (
        reach * cos(pose.slew_rad),
        reach * sin(pose.slew_rad),
        unit.boom.foot_pin_height_m + pose.length_m * sin(pose.elevation_rad),
    )
    tipping_N = tipping_load_N(on, own_load(on, pose), tip)
    reactions_N = footing(on, pose, tip, (0.0, 0.0, -line_load_N)).reactions_N
    return Burden(
        capacity_used(line_load_N, unit, pose.length_m, reach, tipping_N), least_float(reactions_N, resting_N)[1]
    )


def no_worse(limits: Limits, before: Burden, after: Burden) -> bool:
    """True when `after` is out of caution, or no nearer to the limit than `before` where that was in it."""
    light = limits.float_caution_factor * limits.light_float_share
    return (after.capacity < limits.capacity_caution or after.capacity <= before.capacity) and (
        after.least_share >= light or after.least_share >= before.least_share
    )

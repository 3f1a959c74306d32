"""From where a tip and its hooks should go to the commands of a unit, as a steady hand would give them."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

from simulator.engine.commands import Hands
from simulator.mechanics.boom import BoomPose, boom_pose, tip_m
from simulator.readings import Readings, UnitReadings
from simulator.scenario.rig import RigUnit
from simulator.scenario.unit import Hoist, Unit

Vector = tuple[float, float, float]

LOOK_AHEAD_S = 0.5
"""Over which a tip's wanted velocity is turned into rates of the boom's functions."""
HAND_PER_S = 0.6
"""How briskly a hand takes out an error of position: share of it a second."""
REST = 0.015
"""Commands smaller than this share of full are not given."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What one unit should do now: its tip's place and velocity, its hooks' upward speed."""

    tip_m: Vector
    tip_mps: Vector = (0.0, 0.0, 0.0)
    hook_up_mps: float = 0.0
    more_up_mps: tuple[float, ...] = ()
    """What each of its lines goes up faster than that, where they do not go alike."""

    @property
    def hooks_up_mps(self) -> tuple[float, ...]:
        """Upward speed of each hook that goes by itself, or the one of all."""
        return tuple(self.hook_up_mps + more for more in self.more_up_mps or (0.0,))


def boom_of(unit: UnitReadings) -> BoomPose:
    """The boom as read."""
    return BoomPose(unit.boom_length_m, unit.elevation_rad, unit.slew_rad)


def rates(unit: Unit, tip: Vector, velocity: Vector, *, at: BoomPose | None = None) -> Vector:
    """Rates of boom length, elevation and slew that give a tip this velocity; `at`: its boom, where that is known."""
    (x, y, z), (u, v, w), ahead_s = tip, velocity, LOOK_AHEAD_S
    a, b, c = boom_pose(unit, tip) if at is None else at
    length, elevation, slew = boom_pose(unit, (x + u * ahead_s, y + v * ahead_s, z + w * ahead_s))
    return (length - a) / ahead_s, (elevation - b) / ahead_s, (slew - c) / ahead_s


def tip_speed_across(unit: UnitReadings) -> float:
    """A tip's speed toward the road, from its functions' speeds."""
    length, elevation, slew = boom_of(unit)
    out = unit.telescope_speed_mps * cos(elevation) - length * sin(elevation) * unit.elevation_speed_radps
    return out * sin(slew) + unit.reach_m * cos(slew) * unit.slew_speed_radps


def steer(unit: Unit, of: RigUnit, now: Readings, aim: Aim) -> Hands:
    """The commands of a moment, a value a lever, each in [-1, 1].

    The tip that is read leans away from where a stiff boom would have it; the boom is aimed that much short.
    """
    mine = now.units[of.place]
    now_at, boom = boom_of(mine), unit.boom
    (x, y, z), (a, b, c) = aim.tip_m, tip_m(unit, now_at)
    goal_m = x + a - mine.tip_x_m, y + b - mine.tip_y_m, z + c - mine.tip_z_m
    goal = length_m, elevation_rad, slew_rad = boom_pose(unit, goal_m)
    out_mps, up_radps, aside_radps = rates(unit, goal_m, aim.tip_mps, at=goal)
    telescope = _hand((out_mps + HAND_PER_S * (length_m - now_at.length_m)) / boom.telescope_speed_mps)
    elevation = _hand((up_radps + HAND_PER_S * (elevation_rad - now_at.elevation_rad)) / boom.elevation_speed_radps)
    slew = _hand((aside_radps + HAND_PER_S * (slew_rad - now_at.slew_rad)) / boom.slew_speed_radps)
    hands = [*_hoists(unit, mine, aim), telescope, elevation, slew]  # in the order of its levers
    return (*hands, *[0.0] * (len(of.levers) - len(hands)))


def _hoists(unit: Unit, mine: UnitReadings, aim: Aim) -> list[float]:
    """The command of each of its winches."""
    more = aim.more_up_mps or (0.0,) * len(unit.lines)
    return [
        _hand(_rope_mps(line.hoist, mine, aim.hook_up_mps + own) / line.hoist.speed_mps)
        for line, own in zip(unit.lines, more, strict=True)
    ]


def _rope_mps(hoist: Hoist, now: UnitReadings, up_mps: float) -> float:
    """Rope speed at the drum that gives the hook its upward speed while the boom moves as it does."""
    length, elevation = now.boom_length_m, now.elevation_rad
    tip_up = now.telescope_speed_mps * sin(elevation) + length * cos(elevation) * now.elevation_speed_radps
    return hoist.parts * (up_mps - tip_up) - now.telescope_speed_mps


def toward(here: float, there: float, most: float) -> float:
    """`there`, or at most `most` on the way to it."""
    return here + min(most, max(-most, there - here))


def _hand(command: float) -> float:
    """A command as a hand gives it: within reach of the lever, and none at all when it is next to nothing."""
    return 0.0 if abs(command) < REST else min(1.0, max(-1.0, command))

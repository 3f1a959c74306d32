"""How an operator's hands turn a load over in the air: line 1 out, line 2 in, the same speed, both units together.

A load that sways is waited for first. The turn stops five degrees before the load is to stand as it is set down, waits
until it hangs still, and goes on slowly. Each end keeps the height the load had, and the end that is ahead waits.
"""

from __future__ import annotations

from math import radians, sin

from simulator.drill.own_lines import plumb_tip_m
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import RigUnit

TURN_MPS, SLOW_MPS = 0.08, 0.02
"""Of each line."""
SHORT_RAD = radians(5.0)
"""Before the end of the turn it stops, and within this of its beginning it goes slowly."""
THERE_RAD = radians(0.3)
EASE_PER_S = 0.25
"""How briskly the turn is eased off: share of what is left a second."""
TURNS_RAD_PER_M = 0.6
"""About what a load turns for each meter of both lines, for easing off alone."""
AHEAD_M = 0.06
"""An end that is so much ahead waits altogether."""
CATCHES_UP = 1.5
"""How much faster an end that is behind goes: beside a person who turns faster than is taught it keeps up."""
KEEP_PER_S, KEEP_MPS = 0.3, 0.03
"""How briskly the height is kept: share of the error a second, and at most."""
MOST_ALONG_M, ALONG_PER_S = 0.25, 0.2
STILL_RADPS = radians(0.4)
RAMP_MPS2 = 0.02
"""How fast the turn gathers way."""
SWAYS_M, SWAY_PERIODS = 0.15, 6.0
"""A load that sways farther each way is not begun to be turned, for at most so many periods: a sway that turns with the
load takes one of its lines slack. Our choice, no source."""
BEGUN_RAD = radians(2.0)


class TurningOver:
    """One seat's part of a turn."""

    _along_m: float
    _height_m: float
    _from_rad: float
    _went_mps: float
    _began_s: float
    _stopped_s: float | None
    _is_slow: bool

    def __init__(
        self, description: Description, own: RigUnit, units: tuple[RigUnit, ...], *, reach_m: float = 0.0
    ) -> None:
        """For the unit `own`, among `units`, whose picks are `reach_m` from the center of gravity toward the tail."""
        self._goal_rad, self._reach_m = abs(description.lands_turned_rad), reach_m
        self._own, self._others = own, tuple(unit for unit in units if unit.place != own.place)
        self._units, self._along_m = units, 0.0
        self.begin(None)

    def along_m(self, now: Readings, dt: float) -> float:
        """How far the tip stands from its place along the load, for its two lines to be plumb between them.

        Over the landing a boom's two sheaves stand one behind the other, and the line that bears more leans more. What
        the ends have in common is the load's own place, and stays.
        """
        if now.lines[self._own.lines[0].place].laid_m == now.lines[self._own.lines[-1].place].laid_m:
            return self._along_m
        off = [plumb_tip_m(now, unit)[0] - now.units[unit.place].tip_x_m for unit in self._units]
        own = off[self._own.place] - sum(off) / len(off)
        self._along_m = min(MOST_ALONG_M, max(-MOST_ALONG_M, self._along_m + ALONG_PER_S * own * dt))
        return self._along_m

    def begin(self, now: Readings | None) -> None:
        """Begin a turn from how the load hangs."""
        self._height_m = now.load.z_m if now is not None else 0.0
        self._from_rad = now.load.turned_rad if now is not None else 0.0
        self._went_mps = 0.0
        self._began_s = now.time_s if now is not None else 0.0
        self._stopped_s = None
        self._is_slow = False

    def up_mps(self, now: Readings, dt: float) -> tuple[float, float]:
        """How fast line 1 and line 2 go up now."""
        wanted = self._turns_mps(now) * self._pace(now)
        self._went_mps += min(RAMP_MPS2 * dt, max(-2.0 * RAMP_MPS2 * dt, wanted - self._went_mps))
        end_m = now.load.z_m - self._reach_m * sin(now.load.pitch_rad)
        keep = min(KEEP_MPS, max(-KEEP_MPS, KEEP_PER_S * (self._height_m - end_m)))
        return keep - self._went_mps, keep + self._went_mps

    def is_done(self, now: Readings) -> bool:
        """The load hangs as it is to be set down, and still."""
        load = now.load
        return abs(self._goal_rad - load.turned_rad) < 2.0 * THERE_RAD and abs(load.roll_rate_radps) < STILL_RADPS

    def _turns_mps(self, now: Readings) -> float:
        """Line 1 out and line 2 in."""
        load = now.load
        rest = self._goal_rad - load.turned_rad
        if self._waits_for_sway(now):
            return 0.0
        if not self._is_slow and rest <= SHORT_RAD:
            self._is_slow = self._has_settled(now)
            return 0.0
        if self._is_slow:
            eased = EASE_PER_S * rest / TURNS_RAD_PER_M
            return 0.0 if abs(rest) < THERE_RAD else min(SLOW_MPS, max(-SLOW_MPS, eased))
        at_first = SLOW_MPS if load.turned_rad - self._from_rad < SHORT_RAD else TURN_MPS
        return min(at_first, EASE_PER_S * (rest - SHORT_RAD) / TURNS_RAD_PER_M + SLOW_MPS / 2.0)

    def _waits_for_sway(self, now: Readings) -> bool:
        """It is yet to be turned, and sways."""
        load = now.load
        is_begun = load.turned_rad - self._from_rad > BEGUN_RAD
        is_long = now.time_s - self._began_s > SWAY_PERIODS * load.sway_period_s
        return load.sway_m > SWAYS_M and not is_begun and not is_long

    def _has_settled(self, now: Readings) -> bool:
        """It has waited for a sway, and rolls no more."""
        if self._stopped_s is None:
            self._stopped_s = now.time_s
        waited = now.time_s - self._stopped_s
        return waited > now.load.sway_period_s and abs(now.load.roll_rate_radps) < STILL_RADPS

    def _pace(self, now: Readings) -> float:
        """0 to `CATCHES_UP`: the end that is ahead waits, and one that is behind goes faster."""
        if not self._others:
            return 1.0
        others = [now.units[unit.place].turn_m for unit in self._others]
        ahead = now.units[self._own.place].turn_m - sum(others) / len(others)
        return min(CATCHES_UP, max(0.0, 1.0 - ahead / AHEAD_M))

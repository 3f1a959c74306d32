"""How hands turn a load over badly: each typical fault of a turn, done by one seat whatever the other does."""

from __future__ import annotations

from math import radians

from simulator.drill.agreed_path import middle
from simulator.drill.own_lines import own_lines
from simulator.drill.steering import Aim, steer
from simulator.drill.turning_over import SHORT_RAD, TURN_MPS
from simulator.drill.ways import Fault
from simulator.engine.commands import Hands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import BOOM_FUNCTIONS, rig_of

ALONE_MPS = 2.0 * TURN_MPS
AHEAD_M = 0.3
"""An end that turns alone gets so far ahead, and stays so."""
OUT_TIMES = 1.6
"""Line 1 goes out so many times as fast as line 2 comes in."""
RUSHES_FROM_RAD, THERE_RAD = radians(9.0), radians(0.5)
"""Before the corner: from where on it is rushed, and where it is over."""
LOW_M, SINKS_PER_S, SINKS_MPS, RISES_MPS, MOST_SUNK_M = 0.2, 0.4, 0.12, 0.05, 0.8
"""Height over the ground that an end turned low is let down to, how fast down and up again, and at most how far."""
LANE_M, LED_M, LANE_MPS = 0.5, 1.3, 0.10
"""Where the tip is led toward the lane: room that is left, how far at most, and how fast."""
PULLED_PERIODS = 2.0
"""For so many periods the slew lever is pulled to and fro, full over."""


class TurnedBadly:
    """One seat's part of a turn, with a fault."""

    def __init__(self, description: Description, end: int, fault: Fault) -> None:
        self._description, self._fault = description, fault
        units = rig_of(description).units
        self._own, self._others = units[end], tuple(unit for unit in units if unit.place != end)
        self._hoist = description.units[end].lines[0].hoist
        self._goal_rad = abs(description.lands_turned_rad)
        self._began: Readings | None = None

    def hands(self, now: Readings, taught: Hands) -> Hands:
        """What these hands do while it is turned, where the taught ones would do `taught`."""
        if len(self._own.lines) < 2:
            return taught
        if self._began is None:
            self._began = now
        left_rad = self._goal_rad - now.load.turned_rad
        turns_mps = (self._up_mps(taught, 1) - self._up_mps(taught, 0)) / 2.0
        if self._fault == "turns near the lane":
            return self._toward_lane(now, taught)
        if self._fault == "turns low":
            sinks_mps = self._sinks_mps(now)
            return self._lines(taught, -turns_mps - sinks_mps, turns_mps - sinks_mps)
        if self._fault == "rushes the corner" and THERE_RAD < left_rad < RUSHES_FROM_RAD:
            return self._turned(now, taught, ALONE_MPS / 2.0)
        if left_rad <= SHORT_RAD:
            return taught
        if self._fault == "turns alone":
            return self._turned(now, taught, ALONE_MPS)
        if self._fault == "turns while swaying":
            return self._swinging(now, taught)
        if self._fault == "out faster than in" and turns_mps > 0.0:
            return self._lines(taught, -OUT_TIMES * turns_mps, turns_mps)
        return taught

    def _up_mps(self, hands: Hands, line: int) -> float:
        """How fast these hands take a line up."""
        return hands[line] * self._hoist.speed_mps / self._hoist.parts

    def _lines(self, taught: Hands, *ups_mps: float) -> Hands:
        """The taught hands, with other speeds of its lines."""
        pulled = [max(-1.0, min(1.0, up * self._hoist.parts / self._hoist.speed_mps)) for up in ups_mps]
        return (*pulled, *taught[len(pulled) :])

    def _turned(self, now: Readings, taught: Hands, mps: float) -> Hands:
        """Line 1 out and line 2 in at this speed; once far enough ahead it stands."""
        others = [now.units[unit.place].turn_m for unit in self._others] or [now.units[self._own.place].turn_m]
        is_ahead = now.units[self._own.place].turn_m - middle(others) >= AHEAD_M
        return self._lines(taught, *((0.0, 0.0) if is_ahead else (-mps, mps)))

    def _sinks_mps(self, now: Readings) -> float:
        """How fast this end is let down."""
        assert self._began is not None
        own, was = own_lines(now, self._own), own_lines(self._began, self._own)
        sunk_m = middle([line.line_length_m for line in own]) - middle([line.line_length_m for line in was])
        wanted = SINKS_PER_S * (now.load.height_over_bed_m - LOW_M)
        return max(-RISES_MPS, min(wanted, SINKS_MPS if sunk_m < MOST_SUNK_M else 0.0))

    def _toward_lane(self, now: Readings, taught: Hands) -> Hands:
        """The tip led toward the traffic while the load is turned."""
        assert self._began is not None
        mine, was = now.units[self._own.place], self._began.units[self._own.place]
        if now.load.lane_room_m <= LANE_M or mine.tip_y_m - was.tip_y_m >= LED_M:
            return self._boom(taught, self._own.hands())
        aim = Aim((mine.tip_x_m, mine.tip_y_m, self._description.path.tip_height_m), (0.0, LANE_MPS, 0.0))
        return self._boom(taught, steer(self._description.units[self._own.place], self._own, now, aim))

    def _swinging(self, now: Readings, taught: Hands) -> Hands:
        """The tip swung off its place and back in the load's own time, which sets it swaying; then turned at once."""
        assert self._began is not None
        periods = (now.time_s - self._began.time_s) / max(1.0, self._began.load.sway_period_s)
        if periods > PULLED_PERIODS:
            return self._turned(now, taught, TURN_MPS)
        slew = -1.0 if periods % 1.0 < 0.5 else 1.0
        return self._boom(self._lines(taught, 0.0, 0.0), self._own.hands(slew=slew))

    def _boom(self, hands: Hands, other: Hands) -> Hands:
        """These hands, with the boom functions of others."""
        return tuple(
            elsewhere if lever.function in BOOM_FUNCTIONS else here
            for lever, here, elsewhere in zip(self._own.levers, hands, other, strict=True)
        )

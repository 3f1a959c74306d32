"""The turn of a load that no drill's step and no automatic operator tells of: seen by what anybody reads."""

from __future__ import annotations

from math import radians

from simulator.readings import Readings
from simulator.scenario.description import Description

OVER_PLACE_M, AWAY_M = 1.0, 3.0
"""So near to where it is set down it is turned; so far from there it is not, though it had begun."""
SWAYS_M, BEGUN_RAD = 0.15, radians(20.0)
"""A sway of more than this is waited for until so much is turned."""
SHORT_RAD, BACK_RAD = radians(1.5), radians(10.0)
"""Turned but for so much it is turned; and it is to be turned again once so much is left."""
NEAR_RAD = radians(5.5)
"""Left before the last corner, where it is gone slowly: as the gauge says it."""
STILL_RADPS, STILL_S = radians(0.5), 2.0
"""The drills' own measure of a load that has come to rest after its turn."""


class OwnTurn:
    """Whether the load of a lift is to be turned over now, from one moment to the next."""

    def __init__(self, description: Description) -> None:
        self._goal_rad = abs(description.lands_turned_rad)
        self._landing_y_m = description.landing.y_m
        self._still_since_s: float | None = None
        self.is_on = False
        """It hangs over its place and is not yet as it is to be set down."""
        self.is_done = False
        """It hangs over its place as it is to be set down."""
        self.waits = False
        """It sways too much to begin."""
        self.is_near = False
        """The last corner is near: slowly now."""

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        load = now.load
        hangs = load.ground_N <= 0.0
        off_m = abs(load.y_m - self._landing_y_m)
        if not self._goal_rad or not hangs or off_m > OVER_PLACE_M:
            stays = hangs and off_m < AWAY_M  # a load that sways, or is moved on a little, is turned on
            self.is_on, self.is_done, self.waits = self.is_on and stays, self.is_done and stays, False
            return
        left_rad = self._goal_rad - load.turned_rad
        rests = left_rad < SHORT_RAD and abs(load.roll_rate_radps) < STILL_RADPS
        if not rests:
            self._still_since_s = None
        elif self._still_since_s is None:
            self._still_since_s = now.time_s
        has_rested = self._still_since_s is not None and now.time_s - self._still_since_s >= STILL_S
        self.is_done = (self.is_done or has_rested) and left_rad < BACK_RAD
        self.is_on = not self.is_done
        self.is_near = left_rad < NEAR_RAD
        self.waits = self.is_on and load.sway_m > SWAYS_M and load.turned_rad < BEGUN_RAD

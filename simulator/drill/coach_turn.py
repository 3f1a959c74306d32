"""What the coach says while a load is turned over: together, the same speed; who is ahead waits; stop, then slowly."""

from __future__ import annotations

from math import degrees

from simulator.drill.progress import Progress
from simulator.drill.prompts import Draft, waiting_for, why_sway
from simulator.drill.spoken_amounts import Amount, Words, words
from simulator.drill.steering import Aim
from simulator.drill.turning_over import SWAYS_M
from simulator.drill.voice_signals import Pace, Signal, called
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.drill import EVERYBODY, NOBODY, Seat
from simulator.scenario.rig import rig_of

LEAST_TURN_MPS, SLOW_TURN_MPS = 0.004, 0.035
"""Lines that run slower stand still; slower than the other, it is said to go slowly."""
LEAST_TURN_RAD, SETTLES_RAD = 0.01, 0.11
"""What is left of a turn that counts as none; what is left of it where it stops and settles."""
SAID_AHEAD_M, LEVELED_AHEAD_M = 0.05, 0.02
"""An end that is so far ahead is told to wait, until it is no more than the second: under what costs points."""


class TurnCoach:
    """Says one thing at a time about a turn; it remembers who was told to wait."""

    _waits: int | None

    def __init__(self, description: Description) -> None:
        self._goal_rad = abs(description.lands_turned_rad)
        self._rig = rig_of(description)
        self._waits = None

    def order(self, means: Readings, wanted: dict[int, Aim], at: Progress) -> Draft:
        """What is to be said now; `wanted` is what each unit's hands would do."""
        why, left_rad = self._why(means), self._goal_rad - means.load.turned_rad
        speeds = {end: abs(aim.hooks_up_mps[-1] - aim.hooks_up_mps[0]) / 2.0 for end, aim in wanted.items()}
        turning = [end for end, speed in speeds.items() if speed > LEAST_TURN_MPS]
        waits = self._ahead(means)
        goes = [end for end in turning if end != waits]
        if not goes:
            return self._still(means, at, left_rad, why)
        pace: Pace = "very_slow" if max(speeds[end] for end in goes) < SLOW_TURN_MPS else "slow"
        if len(goes) < len(self._rig.units):
            one = self._rig.units[goes[0]].name
            return Draft("move", one, words("coach.turn_one", unit=called(one)), why, _turning(one, pace))
        order = self._words("coach.turn_slowly" if pace == "very_slow" else "coach.turn_together")
        return Draft("move", EVERYBODY, order, why, _turning(EVERYBODY, pace))

    def _still(self, means: Readings, at: Progress, left_rad: float, why: Words) -> Draft:
        """Nobody turns: a sway is waited out, the load settles, or it is done."""
        missing = at.missing(means)
        if missing and left_rad > SETTLES_RAD:
            if means.load.sway_m > SWAYS_M:
                return Draft("wait", NOBODY, words("coach.drill_wait_sway"), why_sway(means))
            slowly = self._words("coach.turn_slowly")
            return Draft("move", EVERYBODY, slowly, why, _turning(EVERYBODY, "very_slow"))
        if missing and left_rad > LEAST_TURN_RAD:
            return Draft("wait", NOBODY, words("coach.turn_settle"), why)
        return waiting_for(missing, self._rig)

    def _ahead(self, means: Readings) -> int | None:
        """The end that is ahead, from when it is told to wait until the other has caught up."""
        lead_m, last = means.load.ends_differ_m, len(self._rig.units) - 1
        ahead = 0 if lead_m > 0.0 else last
        least_m = LEVELED_AHEAD_M if self._waits == ahead else SAID_AHEAD_M
        self._waits = ahead if last and abs(lead_m) > least_m else None
        return self._waits

    def _words(self, key: str) -> Words:
        """A text; for a lone unit the one that speaks of nobody else."""
        return words(key if len(self._rig.units) > 1 else f"{key}_alone")

    def _why(self, means: Readings) -> Words:
        load = means.load
        return words(
            "coach.why_turn",
            turned=f"{degrees(load.turned_rad):.0f}",
            rest=f"{max(0.0, degrees(self._goal_rad - load.turned_rad)):.0f}",
            apart=Amount(abs(load.ends_differ_m), "m", 2),
        )


def _turning(unit: Seat, pace: Pace) -> Signal:
    """Line 1 out and line 2 in."""
    return Signal(unit, "turn", 1, 0.0, pace)

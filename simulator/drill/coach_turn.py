"""What the coach says while a load is turned over: together, the same speed; who is ahead waits; stop, then slowly."""

from __future__ import annotations

from math import degrees, sqrt

from simulator.drill.progress import Progress
from simulator.drill.prompts import Draft, waiting_for, why_sway
from simulator.drill.spoken_amounts import Amount, Words, words
from simulator.drill.steering import Aim
from simulator.drill.turning_over import KEEP_PER_S, SWAYS_M, TURN_MPS
from simulator.drill.voice_signals import LEAST_SAID_M, Pace, Signal, called
from simulator.readings import LineReadings, Readings
from simulator.scenario.description import Description
from simulator.scenario.drill import EVERYBODY, NOBODY, Seat
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of

LEAST_TURN_MPS, SLOW_TURN_MPS = 0.004, 0.035
"""Lines that run slower stand still; slower than the other, it is said to go slowly."""
LEAST_TURN_RAD, SETTLES_RAD = 0.01, 0.11
"""What is left of a turn that counts as none; what is left of it where it stops and settles."""
SAID_AHEAD_M, LEVELED_AHEAD_M = 0.05, 0.02
"""An end that is so far ahead is told to wait, until it is no more than the second: under what costs points."""
OFF_LEVEL_M, LEVELED_M = 0.06, 0.02
"""An end that is so far from the height it is to keep is brought back, until it is no more than the second."""
MOST_JOLT = 0.1
"""Of a line's pull: what a turn begun at once may jolt it by. Our choice, between 0.14 of the light frame in the yard,
whose lines go slack by it, and 0.09 of a loaded trailer, whose lines do not."""


def jolt(line: LineReadings) -> float:
    """Share of a line's pull by which it jolts when a turn begins at once: v sqrt(k m), what a spring with a mass gives
    for a step of speed, over m g. A light load on stiff lines jolts most."""
    hangs_kg = line.line_load_N / STANDARD_GRAVITY_MPS2
    if hangs_kg <= 0.0:
        return 0.0
    return TURN_MPS / STANDARD_GRAVITY_MPS2 * sqrt(line.line_stiffness_N_per_m / hangs_kg)


class TurnCoach:
    """Says one thing at a time about a turn; it remembers who was told to wait."""

    _waits: int | None
    _levels: int | None

    def __init__(self, description: Description) -> None:
        self._goal_rad = abs(description.lands_turned_rad)
        self._rig = rig_of(description)
        self._waits = self._levels = None
        self._is_light = False

    def order(self, means: Readings, wanted: dict[int, Aim], at: Progress) -> Draft:
        """What is to be said now; `wanted` is what each unit's hands would do."""
        why, left_rad = self._why(means), self._goal_rad - means.load.turned_rad
        if level := self._level(wanted):
            return level
        speeds = {end: abs(aim.hooks_up_mps[-1] - aim.hooks_up_mps[0]) / 2.0 for end, aim in wanted.items()}
        turning = [end for end, speed in speeds.items() if speed > LEAST_TURN_MPS]
        waits = self._ahead(means)
        goes = [end for end in turning if end != waits]
        if not goes:
            return self._still(means, at, left_rad, why)
        how = self._how(means, max(speeds[end] for end in goes))
        pace: Pace = "slow" if how == "together" else "very_slow"
        if len(goes) < len(self._rig.units):
            one = self._rig.units[goes[0]].name
            return Draft("move", one, words("coach.turn_one", unit=called(one)), why, _turning(one, pace))
        return Draft("move", EVERYBODY, self._words(f"coach.turn_{how}"), why, _turning(EVERYBODY, pace))

    def _how(self, means: Readings, speed_mps: float) -> str:
        """Which words tell how a turn goes on. A load that is too light once is so to the end: a pace that changes
        makes it rock."""
        self._is_light = self._is_light or max(map(jolt, means.lines)) > MOST_JOLT
        if speed_mps < SLOW_TURN_MPS:
            return "slowly"
        return "lightly" if self._is_light else "together"

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

    def _level(self, wanted: dict[int, Aim]) -> Draft | None:
        """An end that has left its height goes back to it, by both its lines alike."""
        off_m = {end: (aim.hooks_up_mps[0] + aim.hooks_up_mps[-1]) / (2.0 * KEEP_PER_S) for end, aim in wanted.items()}
        worst = max(off_m, key=lambda end: abs(off_m[end]), default=None)
        if self._levels in off_m and abs(off_m[self._levels]) > LEVELED_M:
            worst = self._levels
        elif worst is None or abs(off_m[worst]) <= OFF_LEVEL_M:
            self._levels = None
            return None
        self._levels = worst
        name, sign = self._rig.units[worst].name, 1 if off_m[worst] > 0.0 else -1
        signal = Signal(name, "hoist", sign, max(LEAST_SAID_M, abs(off_m[worst])), "very_slow")
        return Draft("move", name, signal, words("coach.why_turn_level", off=Amount(abs(off_m[worst]), "m", 2)))

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

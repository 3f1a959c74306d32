"""A lift with no window: driven by operators or by a track, to its end."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, still
from simulator.events import Happening
from simulator.readings import Readings
from simulator.recording.track import CommandChange

LONGEST_S = 3600.0
"""A lift that has not ended by then is given up."""


GIVEN_UP = "given up"
"""Kind of the event that says why a lift ended before it was done."""
GIVEN_UP_S = 300.0
"""Units that have stood still for so long will not move again: the lift is given up."""


def nobody() -> bool:
    """Nobody asks to stop."""
    return False


def run_operators(attempt: Attempt, *, longest_s: float = LONGEST_S, stopped: Callable[[], bool] = nobody) -> None:
    """Let the automatic operators drive until the lift ends, both have long stood still, or somebody asks to stop."""
    steps_per_s, moved_s = attempt.description.engine.steps_per_s, attempt.readings.time_s
    until, nothing = round(longest_s / attempt.simulation.model.dt), still(attempt.rig)
    while not attempt.ended and not stopped() and (step := attempt.simulation.step_count) < until:
        _drive(attempt, nothing, min(until, step + steps_per_s), stopped)
        if _moves(attempt.readings):
            moved_s = attempt.readings.time_s
        elif attempt.readings.time_s - moved_s > GIVEN_UP_S:
            attempt.note(Happening(GIVEN_UP, "given_up", {"lasts_s": GIVEN_UP_S, "units": len(attempt.rig.units)}))
            return


def _moves(now: Readings) -> bool:
    """Any function of any unit; two lines that go opposite ways have no mean speed."""
    booms = (
        one
        for unit in now.units
        for one in (unit.telescope_speed_mps, unit.elevation_speed_radps, unit.slew_speed_radps)
    )
    return any(booms) or any(line.hoist_speed_mps for line in now.lines)


def run_track(attempt: Attempt, track: list[CommandChange], *, stopped: Callable[[], bool] = nobody) -> None:
    """Drive a track: each row is held until the next, and the last row's time is the end, or somebody asks to stop."""
    dt = attempt.simulation.model.dt
    for row, following in pairwise(track):
        _drive(attempt, row.commands, round(following.time_s / dt), stopped)


def _drive(attempt: Attempt, commands: Commands, until_step: int, stopped: Callable[[], bool]) -> None:
    """Up to a step, the very readings that end the lift, or till somebody asks to stop."""
    while not attempt.ended and not stopped() and (step := attempt.simulation.step_count) < until_step:
        attempt.advance_to_end(commands, min(attempt.ask_every, until_step - step))


def track_of(attempt: Attempt) -> list[CommandChange]:
    """The track a lift leaves, its last row at the moment it ended."""
    dt = attempt.simulation.model.dt
    track = [CommandChange(step * dt, commands) for step, commands in attempt.changes]
    if not track or track[0].time_s > 0.0:
        track.insert(0, CommandChange(0.0, still(attempt.rig)))
    return [*track, CommandChange(attempt.simulation.time_s, track[-1].commands)]

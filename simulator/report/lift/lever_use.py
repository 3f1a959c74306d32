"""What the levers were asked for, from a recording's commands: who began, who stopped, who pulled to and fro."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from typing import NamedTuple

from simulator.drill.lever_turns import CORRECTIONS, PERIODS, PULLED, Pulled
from simulator.engine.commands import Commands
from simulator.recording.recorded import Recording
from simulator.scenario.rig import Lever
from simulator.words import known, phrase


class Chase(NamedTuple):
    """A lever that went to and fro faster than the load sways."""

    end: int
    function: str
    turns: int
    lasted_s: float
    began_s: float = 0.0


def lever_called(function: str) -> str:
    """A lever as a finding names it."""
    return known(f"finding.lever_{function}", phrase(function))


def chases(recording: Recording, begin_s: float, end_s: float, period_s: float) -> Iterator[Chase]:
    """Levers pulled to and fro between two times, by the judge's rule: one turn more than corrections.

    Args:
        recording: the lift.
        begin_s: the first of the two times.
        end_s: the last.
        period_s: of the load's sway.
    """
    for end, unit in enumerate(recording.rig.units):
        for index, function in enumerate(lever.function for lever in unit.levers):
            turns = list(_turns(recording, end, index, begin_s, end_s))
            run = _longest_run(turns, period_s)
            if len(run) > CORRECTIONS:
                yield Chase(end, function, len(run), run[-1] - run[0], run[0])


def _turns(recording: Recording, end: int, index: int, begin_s: float, end_s: float) -> Iterator[float]:
    """Times at which a lever was pulled the other way, by more than a touch."""
    lever = Pulled()
    for from_s, till_s, commands in _held(recording, begin_s, end_s):
        pulled = commands[end][index]
        is_pulled = from_s >= begin_s and abs(pulled) >= PULLED
        if is_pulled and lever.turned_after_s(pulled, till_s, till_s - from_s) is not None:
            yield from_s


def _longest_run(times: list[float], period_s: float) -> list[float]:
    """The first of the longest: each turn but the first has as many as are corrections within two periods before it."""
    best, begin = (0, 0), 0
    for place, time_s in enumerate(times):
        before = max(begin, place - CORRECTIONS)
        if time_s - times[before] > PERIODS * period_s:
            begin = next(at for at in range(before, place + 1) if time_s - times[at] <= PERIODS * period_s)
        if place + 1 - begin > best[1] - best[0]:
            best = begin, place + 1
    return times[slice(*best)]


def first_asked_s(recording: Recording, begin_s: float, end_s: float) -> float:
    """When a lever was first over between two times; the first of them if none was."""
    held = _held(recording, begin_s, end_s)
    return next((max(from_s, begin_s) for from_s, _, commands in held if any(map(any, commands))), begin_s)


def last_asked_s(recording: Recording, end: int, function: str, begin_s: float, end_s: float) -> float | None:
    """Until when a function was asked of a unit between two times, of any of its lines; none if it never was."""
    levers = [place for place, lever in enumerate(recording.rig.units[end].levers) if _moves(lever, function)]
    asked = [min(till_s, end_s) for _, till_s, commands in _held(recording, begin_s, end_s)
             if any(commands[end][lever] for lever in levers)]  # fmt: skip
    return asked[-1] if asked else None


def _moves(lever: Lever, function: str) -> bool:
    """A lever of that function; what moves two lines at once hoists too."""
    return lever.function == function or (function == "hoist" and bool(lever.pulls))


def last_moved_s(recording: Recording, end: int, begin_s: float, end_s: float) -> float:
    """Until when any lever of a unit was over between two times; the first of them if none was."""
    asked = [min(till_s, end_s) for from_s, till_s, commands in _held(recording, begin_s, end_s)
             if any(commands[end]) and from_s < end_s and till_s > begin_s]  # fmt: skip
    return asked[-1] if asked else begin_s


def _held(recording: Recording, begin_s: float, end_s: float) -> Iterator[tuple[float, float, Commands]]:
    """From when until when which commands held of those that held between two times; the lift's last until `end_s`."""
    times = _times(recording)
    for place in range(max(0, bisect_right(times, begin_s) - 1), bisect_left(times, end_s)):
        till_s = times[place + 1] if place + 1 < len(times) else end_s
        yield times[place], till_s, recording.changes[place][1]


def _times(recording: Recording) -> list[float]:
    """When commands changed: a question about some seconds looks at the changes of those seconds alone."""
    per_s = recording.head.steps_per_s
    return recording.once("times of changes", lambda: [step / per_s for step, _ in recording.changes])

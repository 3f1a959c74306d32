"""What the levers were asked for, from a recording's commands: who moved, who stopped, who pulled to and fro."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.recording.recorded import Recording
from simulator.scenario.description import END_NAMES
from simulator.scenario.drill import Step

FUNCTIONS = ("hoist", "telescope", "elevation", "slew")
"""In the order of commands."""
PULLED = 0.2
"""A lever less far over than this is a touch."""
FEWEST_TURNS = 3
"""So many changes of direction, each within a sway period of the one before, are no correction any more."""


class Chase(NamedTuple):
    """A lever that went to and fro faster than the load sways."""

    end: int
    function: str
    turns: int
    lasted_s: float


def chases(recording: Recording, begin_s: float, end_s: float, period_s: float) -> Iterator[Chase]:
    """Levers pulled to and fro between two times: each turn follows the one before within a sway period."""
    for end in (0, 1):
        for index, function in enumerate(FUNCTIONS):
            turns = list(_turns(recording, end, index, begin_s, end_s))
            run = _longest_run(turns, period_s)
            if len(run) >= FEWEST_TURNS:
                yield Chase(end, function, len(run), run[-1] - run[0])


def _turns(recording: Recording, end: int, index: int, begin_s: float, end_s: float) -> Iterator[float]:
    """Times at which a lever was pulled the other way."""
    last = 0
    for step, commands in recording.changes:
        time_s, asked = step / recording.head.steps_per_s, commands[end][index]
        if not begin_s <= time_s <= end_s or abs(asked) < PULLED:
            continue
        way = 1 if asked > 0.0 else -1
        if last and way != last:
            yield time_s
        last = way


def _longest_run(times: list[float], period_s: float) -> list[float]:
    best: list[float] = []
    run: list[float] = []
    for time_s in times:
        run = [*run, time_s] if run and time_s - run[-1] <= period_s else [time_s]
        best = run if len(run) > len(best) else best
    return best


def last_asked_s(recording: Recording, end: int, function: str, begin_s: float, end_s: float) -> float | None:
    """Until when a function was asked for between two times; none if it never was."""
    index, per_s = FUNCTIONS.index(function), recording.head.steps_per_s
    changes = recording.changes
    until = [step / per_s for step, _ in changes[1:]] + [end_s]
    found = None
    for (step, commands), till_s in zip(changes, until, strict=True):
        if commands[end][index] and step / per_s < end_s and till_s > begin_s:
            found = min(till_s, end_s)
    return found


class StepOn(NamedTuple):
    """A drill's step that was on."""

    number: int
    """From 1."""
    step: Step
    since_s: float


def step_at(recording: Recording, time_s: float) -> StepOn | None:
    """The step of the drill that was on; none where the lift was no drill."""
    drill = recording.description.drill if recording.description else None
    if drill is None:
        return None
    index, since_s = 0, 0.0
    for step, kind, text in recording.events:
        number, began_s = text.partition(":")[0], step / recording.head.steps_per_s
        if kind == "step" and began_s <= time_s and number.isdecimal():
            index, since_s = int(number) - 1, began_s
    return StepOn(index + 1, drill.steps[index], since_s) if 0 <= index < len(drill.steps) else None


def may_move(step: Step, end: int) -> bool:
    """Whether it is this unit's move in a step."""
    return step.moves in ("both", END_NAMES[end])

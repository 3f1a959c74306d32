"""Moves in a drill's step that were not for who made them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from typing import NamedTuple

from simulator.readings import Readings
from simulator.recording.recorded import Recording
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import Cause
from simulator.report.lift.moves import MOVED_M, deed_words, deeds, moved, unit_name
from simulator.scenario.drill import Step
from simulator.words import say

JUST_BEFORE_S = 5.0
"""What was moved within so long before a limit was passed belongs to it."""
TURN_GRACE_S = 2.0
"""When a step has just begun, hands still come to rest from the one before."""
PLUMBING = "plumb the tips"


def out_of_turn(
    recording: Recording, end: int | None, before: Readings, after: Readings, amounts: Amounts
) -> Iterator[Cause]:
    """Moves that were another's or nobody's in the step that was on: the move itself is the deed.

    Args:
        recording: the lift, a drill or not.
        end: the unit whose moves are looked at, 0 nose, 1 tail; none for both.
        before: when all was well.
        after: when it no longer was.
        amounts: how numbers are written.
    """
    at = _step_at(recording, after.time_s)
    if at is None or after.time_s <= at.since_s + TURN_GRACE_S:
        return
    rested_s = at.since_s + TURN_GRACE_S if at.since_s else 0.0
    start = recording.at(max(rested_s, min(before.time_s, after.time_s - JUST_BEFORE_S)))
    lay = after.load.ground_N > 0.0
    for one, done in enumerate(deeds(recording, start, after)):
        if not moved(done) or end not in (None, one):
            continue
        hoisted = abs(done.line_up_m) >= MOVED_M and not after.units[one].slack
        key = "" if _may_move(at.step, recording.rig.unit_names[one]) else "not_its_move"
        key = key or ("plumbing_only" if at.step.work == PLUMBING and hoisted else "")
        if key:
            words = deed_words(done, amounts)
            said = say(
                f"finding.{key}",
                unit=unit_name(recording, one),
                did=words,
                number=at.number,
                title=amounts.told(at.step.title),
            )
            yield Cause(said, "early" if key == "plumbing_only" or lay else "out of turn", one)


class StepOn(NamedTuple):
    """A drill's step that was on."""

    number: int
    """From 1."""
    step: Step
    since_s: float
    until_s: float = 0.0


def steps_on(recording: Recording) -> list[StepOn]:
    """The steps of the drill as they were on, one after another; none where the lift was no drill."""
    drill = recording.description.drill if recording.description else None
    if drill is None:
        return []
    return recording.once("steps of the drill", lambda: _steps_on(recording, drill.steps))


def _steps_on(recording: Recording, steps: tuple[Step, ...]) -> list[StepOn]:
    began = [(0, 0.0)]
    for event in recording.events:
        number = event.fields.get("number")
        if event.kind == "step" and isinstance(number, int) and 1 <= number <= len(steps):
            began.append((number - 1, event.step / recording.head.steps_per_s))
    ends = [*(since_s for _, since_s in began[1:]), recording.length_s]
    return [StepOn(index + 1, steps[index], since_s, until_s)
            for (index, since_s), until_s in zip(began, ends, strict=True)]  # fmt: skip


def _step_at(recording: Recording, time_s: float) -> StepOn | None:
    """The step of the drill that was on; none where the lift was no drill."""
    on = steps_on(recording)
    return on[bisect_right(on, time_s, key=lambda one: one.since_s) - 1] if on else None


def _may_move(step: Step, unit: str) -> bool:
    """Whether it is this unit's move in a step."""
    return step.moves in ("both", unit)

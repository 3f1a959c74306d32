"""A gust that a drill sends with a step: the load sways of it, in a re-run as well, and not of a step without one."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from simulator.attempt import Attempt
from simulator.recording import spans
from simulator.recording.headless import run_operators
from simulator.recording.memory import Memory
from simulator.scenario.description import Description
from tests.drill.lessons import coarser, drill, pair

HOLD = "Hold"
LONGEST_S = 60.0


def lift(gust_mps: float | None = None) -> Description:
    """Raise level up to the end of its hold, its gust as shipped or another."""
    described = coarser(drill("raise_level"))
    assert described.drill is not None
    steps = described.drill.steps
    held = next(place for place, step in enumerate(steps) if step.title == HOLD)
    hold = steps[held] if gust_mps is None else replace(steps[held], gust_mps=gust_mps)
    return replace(described, drill=replace(described.drill, steps=(*steps[:held], hold)))


@cache
def swayed(gust_mps: float | None = None) -> tuple[float, float, Memory]:
    """The most sway before the hold and in it, with an able pair."""
    described = lift(gust_mps)
    attempt = Attempt(described, pair(described), in_bulk=True)
    memory = Memory(attempt)
    most = {False: 0.0, True: 0.0}

    def look(now: object) -> None:
        held, readings = attempt.session, attempt.readings
        assert held is not None and described.drill is not None
        in_hold = held.index == len(described.drill.steps) - 1
        if readings.load.ground_N <= 0.0:
            most[in_hold] = max(most[in_hold], readings.load.sway_m)

    attempt.observers.append(look)
    run_operators(attempt, longest_s=LONGEST_S)
    assert attempt.session is not None and attempt.session.done
    return most[False], most[True], memory


def test_the_load_sways_of_the_gust_and_of_nothing_else() -> None:
    before_m, in_hold_m, _ = swayed()
    assert before_m < 0.05 < 0.15 < in_hold_m < drill("raise_level").limits.sway_caution_m
    assert swayed(0.0)[1] < 0.05


def test_a_re_run_has_the_same_gust() -> None:
    recording = swayed()[2].recording()
    assert recording.description is not None
    seconds = recording.seconds
    assert spans.same_seconds(recording.description, seconds, name="a gust", jobs=1) == len(seconds)
    assert len(spans.spans(seconds, recording.description.drill)) == 1
    still = recording.description.drill
    assert still is not None
    calm = replace(still, steps=tuple(replace(step, gust_mps=0.0) for step in still.steps))
    other = replace(recording.description, drill=calm)
    assert spans.same_seconds(other, seconds, name="no gust", jobs=1) < len(seconds)

"""The drill of a turn in the air: what the coach says along it, and an end that turns alone loses points for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simulator.attempt import Attempt
from simulator.drill.coach_turn import TurnCoach
from simulator.drill.partner import Partner
from simulator.drill.steering import Aim
from simulator.drill.turning_over import KEEP_PER_S
from simulator.engine.commands import Commands, still
from simulator.words import say
from tests.drill.lessons import coarser, drill, pair, session

pytestmark = pytest.mark.long


def test_the_coach_says_very_slowly_a_light_load_then_settle_then_slowly_and_an_end_alone_is_told_and_costs() -> None:
    described = coarser(drill("turn_over"))
    attempt = Attempt(described, pair(described), in_bulk=True)
    said: list[str] = []
    while not attempt.ended and attempt.readings.time_s < 400.0:
        attempt.advance(still(attempt.rig), attempt.every)
        held = session(attempt)
        if held.step.work == "turn" and held.prompt is not None and held.prompt.sentence not in said[-1:]:
            said.append(held.prompt.sentence)
    held = session(attempt)
    assert held.done and held.passed and held.score.together > 90.0, held.account()
    lightly, settle, slowly = (say(f"coach.turn_{key}") for key in ("lightly", "settle", "slowly"))
    assert said.index(lightly) < said.index(settle) < len(said) - 1 - said[::-1].index(slowly)


def test_one_end_that_turns_alone_is_marked() -> None:
    described = coarser(drill("turn_over"))
    attempt = Attempt(described, pair(described), in_bulk=True)
    while session(attempt).step.work != "turn":
        attempt.advance(still(attempt.rig), attempt.every)
    attempt.operators = [None, None]
    nose, tail = attempt.rig.units
    until = attempt.readings.time_s + 12.0
    while attempt.readings.time_s < until and not attempt.ended:
        attempt.advance(Commands(nose.hands(turn=0.4), tail.hands()), attempt.every)
    assert abs(attempt.readings.load.ends_differ_m) > 0.1
    rules = {loss.rule for loss in session(attempt).losses}
    assert "one end ahead of the other in the turn" in rules
    assert not any(isinstance(operator, Partner) for operator in attempt.operators)


def asked_to_turn(attempt: Attempt, up_mps: float = 0.0) -> dict[int, Aim]:
    """What hands in a turn want: line 1 out and line 2 in, and the nose's both up or down besides."""
    alike = {end: Aim((0.0, 0.0, 0.0), 0.0, more_up_mps=(-0.05, 0.05)) for end in range(len(attempt.rig.units))}
    return {**alike, 0: replace(alike[0], hook_up_mps=up_mps)}


@pytest.mark.parametrize(("off_m", "sign"), [(0.2, 1), (-0.2, -1)])
def test_an_end_that_left_its_height_in_a_turn_is_told_back_by_how_far_it_is_off(off_m: float, sign: int) -> None:
    attempt = Attempt(drill("turn_over"))
    held, coach = session(attempt), TurnCoach(attempt.description)
    draft = coach.order(attempt.readings, asked_to_turn(attempt, off_m * KEEP_PER_S), held.progress)
    said = draft.said(us=False)
    signal, reason = said.signal, said.reason
    assert signal is not None and (signal.unit, signal.function, signal.sign) == ("nose", "hoist", sign)
    assert signal.distance_m == pytest.approx(0.2) and reason == say("coach.why_turn_level", off="0.20 m")


def test_a_load_that_was_too_light_once_is_turned_at_that_pace_to_the_end() -> None:
    """A pace that changes makes it rock: nose up and down by turns, until a line goes slack and snatches."""
    attempt = Attempt(drill("turn_over"))
    held, coach, now = session(attempt), TurnCoach(attempt.description), attempt.readings
    paces = []
    for pull_N in (60e3, 20e3, 60e3):
        lines = tuple(line._replace(line_load_N=pull_N, line_stiffness_N_per_m=4e5) for line in now.lines)
        signal = coach.order(now._replace(lines=lines), asked_to_turn(attempt), held.progress).said(us=False).signal
        assert signal is not None and signal.function == "turn"
        paces.append(signal.pace)
    assert paces == ["slow", "very_slow", "very_slow"]

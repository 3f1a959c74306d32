"""The drill of a turn in the air: what the coach says along it, and an end that turns alone loses points for it."""

from __future__ import annotations

import pytest

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
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

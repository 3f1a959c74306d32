"""Moments that nobody looks at, taken in one go in bulk: the lift is the one that is looked at in every reading."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from simulator.attempt import Attempt
from simulator.drill.clumsy import operator_of
from simulator.engine.commands import Commands, Hands
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of


class Pulls:
    """Hands that pull the same levers all the time."""

    def __init__(self, hands: Hands) -> None:
        self._hands = hands

    def command(self, readings: Readings) -> Hands:
        """What they do now."""
        return self._hands


def shipped(name: str) -> Description:
    return load(find_scenario(name))


def landed() -> Attempt:
    described = shipped("practice_yard")
    hands = [operator_of(described, 0, "able"), operator_of(described, 1, "a little clumsy", seed=2)]
    return Attempt(described, hands, in_bulk=True)


def pulled_over() -> Attempt:
    """Lines heaved at a load that is far too heavy, booms let down: a unit tips, or a rope parts."""
    described = shipped("tank_on_side")
    heavy = replace(described, trailer=replace(described.trailer, hidden_mass_factor=2.0))
    hands = [unit.hands(hoist=1.0, elevation=-0.5, telescope=1.0) for unit in rig_of(heavy).units]
    return Attempt(heavy, [Pulls(one) for one in hands], in_bulk=True)


@pytest.mark.parametrize("begun", [pytest.param(landed, marks=pytest.mark.long_in_plain), pulled_over])
def test_unseen_moments_change_nothing(begun: Callable[[], Attempt]) -> None:
    unseen, seen = begun(), begun()
    moments: list[int] = []
    seen.observers.append(lambda now: moments.append(now.step))
    for attempt in (unseen, seen):
        run_operators(attempt, longest_s=400.0)
    assert len(moments) > 100 and unseen.ended
    assert unseen.state_hash == seen.state_hash
    assert repr(unseen.readings) == repr(seen.readings)
    assert (unseen.incidents, unseen.events, unseen.changes) == (seen.incidents, seen.events, seen.changes)


def test_what_ends_a_lift_between_looks_ends_it_there() -> None:
    """The incident's own moment, not that of the next look."""
    attempt = pulled_over()
    run_operators(attempt, longest_s=400.0)
    ended = attempt.incidents[0].time_s
    assert 0.0 <= attempt.readings.time_s - ended < 1.0 / attempt.description.engine.readings_per_s


@pytest.mark.long_in_plain
@pytest.mark.parametrize("odd", [1, 7, 240, 1001])
def test_so_many_steps_as_are_asked_for(odd: int) -> None:
    """Commands that change at steps which are no moment of the steady rate."""
    described = shipped("tank_on_side")
    unseen, seen = (Attempt(described, in_bulk=True) for _ in range(2))
    seen.observers.append(lambda now: None)
    for pull in (0.3, -0.2, 0.5):
        hands = Commands(*(unit.hands(hoist=-abs(pull), slew=pull) for unit in rig_of(described).units))
        for attempt in (unseen, seen):
            attempt.advance(hands, odd)
    assert unseen.simulation.step_count == 3 * odd
    assert unseen.state_hash == seen.state_hash and repr(unseen.readings) == repr(seen.readings)

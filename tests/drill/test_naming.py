"""Naming the load after the hold: who reads the loads rightly goes on or sets down, and who goes on past them fails."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import inf, nan

import pytest

from simulator.attempt import Attempt
from simulator.drill.naming import NEEDLESS, WENT_ON, WRONG_END, WRONG_WEIGHT, Answer, answer_from, drawn_load
from simulator.drill.partner import Partner
from simulator.drill.scales import Scales
from simulator.engine.commands import still
from simulator.events import Event
from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.places import find_scenario
from simulator.recording.again import WholeLift
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.reader import load
from tests.demo import with_trailer
from tests.drill.lessons import coarser

HOLDS, TOO_HEAVY, TOO_FAR = (1.1, -0.4), (1.5, 0.0), (1.2, -1.3)
"""Mass factor and place along of three of the drill's loads."""


def drill(mass_factor: float, along_m: float) -> Description:
    """The drill with one of its loads, whatever its seed."""
    shipped = load(find_scenario("read_the_load"))
    assert shipped.drill is not None
    (one,) = [one for one in shipped.drill.loads if (one.mass_factor, one.cg_m[0]) == (mass_factor, along_m)]
    return coarser(replace(shipped, drill=replace(shipped.drill, loads=(one,))))


@cache
def asked(mass_factor: float, along_m: float) -> Attempt:
    """Driven to where the pair is asked; nobody has answered yet."""
    lift = drill(mass_factor, along_m)
    attempt = Attempt(lift, [Partner(lift, 0), Partner(lift, 1)], in_bulk=True)
    while not attempt.ended and (attempt.session is None or not attempt.session.asks):
        attempt.advance(still(attempt.rig), attempt.every)
    return attempt


def lost(attempt: Attempt, answer: Answer) -> dict[str, float]:
    """Rules and points of what is wrong with an answer, the lift left as it is."""
    assert attempt.session is not None
    return {one.rule: one.points for one in attempt.session._told.wrong(answer)}


@pytest.mark.parametrize("hidden", [HOLDS, TOO_FAR], ids=["goes on", "sets down"])
def test_automatic_operators_read_the_load_and_pass(hidden: tuple[float, float]) -> None:
    lift = drill(*hidden)
    attempt = Attempt(lift, [Partner(lift, 0), Partner(lift, 1)], in_bulk=True)
    run_operators(attempt, longest_s=300.0)
    session = attempt.session
    assert session is not None and session.passed and not attempt.incidents
    (said,) = [event for event in attempt.events if event.kind == "answer"]
    assert said.what == ("named_goes_on" if hidden == HOLDS else "named_sets_down")
    true_N = hidden[0] * stated_mass_kg(lift.trailer) * STANDARD_GRAVITY_MPS2
    assert said.fields["weight_N"] == pytest.approx(true_N, rel=0.01) and said.fields["heavy"] == "nose"
    assert attempt.readings.load.height_over_bed_m > 0.4 if hidden == HOLDS else attempt.readings.load.ground_N > 0.0


def test_a_right_answer_costs_nothing_and_each_wrong_part_its_points() -> None:
    attempt = asked(*HOLDS)
    assert attempt.session is not None
    right = attempt.session.by_the_loads()
    assert right.goes_on and right.heavy == "nose" and lost(attempt, right) == {}
    assert lost(attempt, right._replace(weight_N=1.02 * right.weight_N)) == {}
    assert lost(attempt, right._replace(weight_N=1.15 * right.weight_N)) == {"weight named wrongly": WRONG_WEIGHT}
    assert lost(attempt, right._replace(heavy="tail")) == {"heavy end named wrongly": WRONG_END}
    assert lost(attempt, right._replace(goes_on=False)) == {"set down a load that holds": NEEDLESS}


def test_what_is_said_is_judged_by_readings_and_never_by_what_is_hidden() -> None:
    """Another load hidden in the description that scales and judge are given: the same readings, the same words."""
    attempt = asked(*HOLDS)
    assert attempt.session is not None
    blind = Scales(with_trailer(attempt.description, hidden_cg_m=(9.0, 0.0, 0.0), hidden_mass_factor=0.5))
    scales = attempt.session.scales
    blind.reading, blind.errors, blind.found = scales.reading, scales.errors, scales.found
    from simulator.drill.naming import Told

    assert Told(blind._description, blind).by_the_loads() == attempt.session.by_the_loads()


def test_to_go_on_with_a_load_that_does_not_hold_fails_the_drill() -> None:
    attempt = asked(*TOO_HEAVY)
    session = attempt.session
    assert session is not None and not session.by_the_loads().goes_on
    assert session.rechecked is not None and "rigging" in session.rechecked.check.refused_for
    assert lost(attempt, session.by_the_loads()) == {}
    assert WENT_ON in lost(attempt, session.by_the_loads()._replace(goes_on=True))


def test_who_says_down_and_lifts_on_fails_too() -> None:
    """The last to ask for this lift: it goes on from there."""
    attempt = asked(*TOO_HEAVY)
    session = attempt.session
    assert session is not None
    attempt.answer(session.by_the_loads())
    assert not session.failed_by
    attempt.operators[:] = [None, None]
    up = tuple(unit.hands(hoist=0.5) for unit in attempt.rig.units)
    for _ in range(600):
        attempt.advance(type(still(attempt.rig))(*up), attempt.every)
        if session.scales.state == "went on":
            break
    assert [loss.rule for loss in session.failed_by] == [WENT_ON]


def test_an_answer_has_its_time_and_its_bounds() -> None:
    attempt = asked(*HOLDS)
    early = Attempt(drill(*HOLDS))
    with pytest.raises(ValueError, match="before the load was weighed"):
        early.answer(Answer(1e5, "nose", goes_on=True))
    for weight_N in (nan, inf, 0.0, -1.0):
        with pytest.raises(ValueError, match="allowed: a weight in N"):
            attempt.answer(Answer(weight_N, "nose", goes_on=True))
    with pytest.raises(ValueError, match="allowed: nose, tail, even"):
        attempt.answer(Answer(1e5, "left", goes_on=True))  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="a lift without a drill"):
        Attempt(load(find_scenario("practice_yard"))).answer(Answer(1e5, "nose", goes_on=True))


def test_each_seed_draws_one_of_the_loads_and_the_same_one_again() -> None:
    lift = load(find_scenario("read_the_load"))
    assert lift.drill is not None
    drawn = [drawn_load(replace(lift, seed=seed)) for seed in range(40)]
    kinds = {(one.trailer.hidden_mass_factor, one.trailer.hidden_cg_m) for one in drawn}
    assert kinds == {(one.mass_factor, one.cg_m) for one in lift.drill.loads}
    assert drawn[3] == drawn_load(replace(lift, seed=3)) == drawn_load(drawn[3])


def test_an_answer_is_said_again_when_a_recording_is_driven_on_from() -> None:
    """The last to ask for this lift."""
    lift = asked(*HOLDS)
    said = lift.session.by_the_loads() if lift.session else None
    assert said is not None and lift.session is not None and answer_from(said.happening()) == said
    for fields in ({}, {"weight_N": 1e5, "heavy": "left"}, {"weight_N": nan, "heavy": "nose"}):
        with pytest.raises(ValueError, match=r"an answer|allowed"):
            WholeLift(lift).act(Event(0, "answer", "named_goes_on", fields))  # type: ignore[arg-type]
    for _ in range(2):  # the second time nobody asks any more
        WholeLift(lift).act(Event(0, *said.happening()))
    assert lift.session.progress.goes_on is True and not lift.session.failed_by

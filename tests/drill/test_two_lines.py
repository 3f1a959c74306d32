"""Two lines find the center: one after the other, so that the load settles; then the heavy side is named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simulator.attempt import Attempt
from simulator.drill.agreed_path import agreement
from simulator.drill.naming import SIDES, WRONG_SIDE, Answer, answer_from
from simulator.drill.own_means import OwnMeans
from simulator.engine.commands import Commands, still
from simulator.mechanics.weighing_lift import HeavySide, tells_across
from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.drill import HiddenLoad
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from tests.drill.lessons import Heard, coarser, drill, pair, session

pytestmark = pytest.mark.long


def hiding(along_m: float, across_m: float, mass: float = 1.0) -> Description:
    """The drill with this load hidden in it."""
    shipped = coarser(drill("two_line_centering"))
    assert shipped.drill is not None
    one = HiddenLoad(mass_factor=mass, cg_m=(along_m, across_m, 0.0))
    return replace(shipped, drill=replace(shipped.drill, loads=(one,)))


WEIGHED_S = 10.0
"""The gauges are read over a sway of the load that hangs still."""


def to_the_question(described: Description) -> tuple[Attempt, Heard]:
    """Driven by able operators until it is asked what the load is."""
    attempt = Attempt(described, pair(described), in_bulk=True)
    heard = Heard(attempt)
    while session(attempt).step.work != "name the load" and not attempt.ended:
        attempt.advance(still(attempt.rig), attempt.every)
    asked_s = attempt.readings.time_s
    while session(attempt).scales.found is None and attempt.readings.time_s < asked_s + WEIGHED_S:
        attempt.advance(still(attempt.rig), attempt.every)  # it hung still for less than a sway
    return attempt, heard


@pytest.mark.parametrize(("along_m", "across_m", "side"), [(0.6, 0.25, "road"), (-0.5, -0.3, "ravine")])
def test_line_2_waits_for_line_1_and_the_load_is_found_and_comes_free_without_sway(
    along_m: float, across_m: float, side: str
) -> None:
    attempt, heard = to_the_question(hiding(along_m, across_m))
    held = session(attempt)
    steps = [step.work for step in held.drill.steps]
    first = [now for now, _, index in heard.rows if index == steps.index("take line 1")]
    assert first[-1].lines[1].hook_load_N > 4e3 and all(now.lines[2].slack for now in first)
    found = held.scales.found
    assert found is not None
    assert abs(found.cg_m[0] - along_m) < found.spread_m[0] and abs(found.cg_m[1] - across_m) < found.spread_m[1] < 0.1
    assert held.by_the_loads().side == side
    assert attempt.readings.load.sway_m < 0.1 and not held.losses


def test_a_load_in_the_middle_has_no_heavy_side_and_a_wrong_side_costs_its_points() -> None:
    attempt, _ = to_the_question(hiding(0.3, 0.0))
    assert session(attempt).by_the_loads().side == "even"
    attempt, _ = to_the_question(hiding(0.3, 0.3))
    held = session(attempt)
    right = held.by_the_loads()
    attempt.answer(right._replace(side="ravine"))
    assert {loss.rule: loss.points for loss in held.losses} == {"heavy side named wrongly": WRONG_SIDE}


def test_both_lines_taken_at_once_cost_points() -> None:
    """A bad way on purpose: both up in the step of line 1."""
    described = hiding(0.3, 0.2)
    attempt = Attempt(described, pair(described), in_bulk=True)
    while session(attempt).step.work != "take line 1" and not attempt.ended:
        attempt.advance(still(attempt.rig), attempt.every)
    attempt.operators = [None, None]
    nose, tail = attempt.rig.units
    while session(attempt).step.work == "take line 1" and attempt.readings.time_s < 120.0:
        attempt.advance(Commands(nose.hands(), tail.hands(both=0.3)), attempt.every)
        if attempt.readings.lines[2].hook_load_N > 5e3:
            break
    assert "both lines taken at once" in {loss.rule for loss in session(attempt).losses}


@pytest.mark.parametrize("side", [None, *SIDES])
def test_an_answer_comes_back_from_its_event_with_its_side(side: HeavySide | None) -> None:
    given = Answer(1.2e5, "nose", True, side)
    assert answer_from(given.happening()) == given


def test_only_lines_that_lie_apart_across_tell_a_side() -> None:
    assert tells_across(drill("two_line_centering")) and tells_across(load(find_scenario("four_lines")))
    assert not tells_across(drill("read_the_load"))


@pytest.mark.parametrize(("tail_kN", "more_kN"), [((20.0, 26.0), 3.0), ((26.0, 20.0), 0.0), ((23.0, 23.0), 1.5)])
def test_lines_that_twist_a_stiff_load_are_told_from_lines_that_bear_a_side_of_it(
    tail_kN: tuple[float, float], more_kN: float
) -> None:
    """The nose's lines bear 26 and 20 kN. A center of gravity to one side loads both ends alike, and that is no twist;
    by hand, of the rest half the difference is too much on the one and too little on the other."""
    lift = load(find_scenario("four_lines"))
    rig, agreed = rig_of(lift), agreement(lift)
    now = Attempt(lift).readings
    loads = [1e3 * one for one in (26.0, 20.0, *tail_kN)]
    lines = tuple(line._replace(hook_load_N=one) for line, one in zip(now.lines, loads, strict=True))
    now = now._replace(lines=lines, load=now.load._replace(ground_N=0.0, sway_period_s=6.0))
    means = OwnMeans(rig.units[0], rig.units)
    for _ in range(200):
        means.see(now, agreed, 0.5)
    assert means.twisted_N == pytest.approx((1e3 * more_kN, -1e3 * more_kN), abs=1.0)
    lying = now._replace(load=now.load._replace(ground_N=1e3))
    means.see(lying, agreed, 0.5)
    assert means.twisted_N == (0.0, 0.0), "on the ground nothing is made even"

"""The stop limits of a summary are the debrief's own, and a bad lift without a drill is condemned in words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from simulator.attempt import Attempt
from simulator.drill.clumsy import operator_of
from simulator.places import find_scenario
from simulator.recording.counted import counted
from simulator.recording.headless import run_operators
from simulator.recording.memory import Memory
from simulator.report.lift.debrief import LiftFinding, debrief
from simulator.report.lift.judged import spells
from simulator.report.lift.stops_passed import StopsPassed
from simulator.report.lift.summary import Summary
from simulator.scenario.drill import HiddenLoad
from simulator.scenario.judged_limits import judged_rows
from simulator.scenario.reader import load
from simulator.script import summed_up
from tests.drill.lessons import coarser, drill, pair, session
from tests.report.lifts import Times, made_up, tank

ROWS = judged_rows(tank().limits)
LONG_S = 100.0
STOPPED = "passed a stop limit, and would be stopped there"


def lift(way: str) -> tuple[Summary, Memory]:
    """The practice yard, both units driven in one way, for so long."""
    described = load(find_scenario("practice_yard"))
    attempt = Attempt(described, [operator_of(described, end, way) for end in range(2)], in_bulk=True)
    memory = Memory(attempt)
    return summed_up(attempt, lambda: run_operators(attempt, longest_s=LONG_S)), memory


@pytest.mark.parametrize("seed", range(12))
def test_it_tells_what_spells_tell_of_readings_that_come_and_go(seed: int) -> None:
    """Steps between calm, caution and stop, each held for a random while of 0.1 s to 4 s."""
    draw = np.random.default_rng(seed)
    edges = np.cumsum(draw.choice([0.1, 0.2, 0.3, 0.5, 1.0, 4.0], 60))
    row = ROWS[int(draw.integers(len(ROWS)))]
    top = row.stop if np.isfinite(row.stop) else 2.0 * row.caution
    sizes = [row.caution * (0.5 if row.rising else 2.0), 0.5 * (row.caution + top), top + 0.01 * (top - row.caution)]
    held = draw.choice(sizes, 61, p=[0.6, 0.3, 0.1])

    def course(time_s: Times) -> Times:
        return np.asarray(held[np.searchsorted(edges, time_s)])

    recording = made_up({row.key: course})
    seen, values = StopsPassed(ROWS), {one.key: counted(recording, one.key) for one in ROWS}
    for place, time_s in enumerate(recording.time_s.tolist()):
        seen(time_s, {key: of[place] for key, of in values.items() if np.isfinite(of[place])})
    told = {one.judged.key for one in spells(recording, tank().limits) if one.level == "stop"}
    assert {one.key for one in seen} == told


def test_a_lift_without_a_drill_that_is_driven_badly_is_condemned_in_words() -> None:
    summary, memory = lift("slews only")
    said = "\n".join(summary.lines())
    assert (
        "not landed after" in said and "passed a stop limit, and would be stopped there: nose unit, off plumb" in said
    )
    told = debrief(memory.recording())
    assert "before the load was landed" in told.heading and told.first_fault.startswith("It went wrong at")
    assert {one.key for one in told.findings if one.level == "stop"} == {one.key for one in summary.past_stop}
    assert [row["reading"] for row in summary.as_json()["past_stop"]] == [one.key for one in summary.past_stop]


def test_of_an_able_pair_no_stop_limit_is_told() -> None:
    summary, _ = lift("able")
    assert summary.past_stop == () and "stop limit" not in "\n".join(summary.lines())


def test_the_taught_way_to_find_the_center_line_by_line_passes_no_stop_limit() -> None:
    """Line 1 bears alone and leans by itself until line 2 bears too: that is what the lesson asks for, not a lean of
    the boom, and the debrief of who did as taught says of no reading that it was past a stop."""
    shipped = coarser(drill("two_line_centering"))
    assert shipped.drill is not None
    hidden = HiddenLoad(mass_factor=1.05, cg_m=(-0.3, 0.0, 0.0))
    described = replace(shipped, drill=replace(shipped.drill, loads=(hidden,)))
    attempt = Attempt(described, pair(described), in_bulk=True)
    memory = Memory(attempt)
    run_operators(attempt)
    held = session(attempt)
    assert held.passed and held.result()[0].together > 95.0
    assert [one for one in debrief(memory.recording()).findings if one.level != "caution"] == []


@pytest.mark.parametrize(("cause", "goes_first"), [("moves", False), ("leaning", True)])
def test_a_stop_that_nothing_explains_stands_back_behind_a_fault_that_cost_points(cause: str, goes_first: bool) -> None:
    _, memory = lift("able")
    told = debrief(memory.recording())
    stop = LiftFinding(1, 10.0, "stop", "tail unit", "off plumb", "no single move stands out", "off", cause, 1)
    cost = LiftFinding(
        2, 20.0, "caution", "load", "steps not done", "the tail unit stopped", "", "stopped alone", 1, 9.0
    )
    first = replace(told, findings=(stop, cost)).first_fault
    assert ("off plumb" in first) is goes_first and ("steps not done" in first) is not goes_first
    met = stop._replace(level="incident", cause="")
    assert "off plumb" in replace(told, findings=(met, cost)).first_fault, "what was met comes first"
    assert "off plumb" in replace(told, findings=(stop,)).first_fault, "unless there is nothing else"

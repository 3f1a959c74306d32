"""The cause that is named is the fault that was driven, and by the unit that drove it: real drills, one fault each."""

from __future__ import annotations

from functools import cache

import pytest

from simulator.attempt import Attempt
from simulator.drill.clumsy import Clumsy
from simulator.drill.partner import Partner
from simulator.drill.ways import Fault
from simulator.readings import as_words
from simulator.recording.headless import run_operators
from simulator.recording.memory import Memory
from simulator.report.lift.debrief import Debrief, debrief
from simulator.report.lift.lost_points import lost_in
from simulator.telling.account import NOT_DONE
from tests.drill.lessons import coarser, drill

pytestmark = pytest.mark.long


@cache
def told_of(name: str, fault: Fault | None, end: int, longest_s: float) -> Debrief:
    """The debrief of a drill with a fault in one seat, driven for so long at half the rate."""
    described = coarser(drill(name))
    seats: list[Partner | Clumsy] = [Partner(described, place) for place in range(len(described.units))]
    if fault is not None:
        seats[end] = Clumsy(described, end, fault=fault)
    attempt = Attempt(described, list(seats), in_bulk=True)
    memory = Memory(attempt)
    run_operators(attempt, longest_s=longest_s)
    return debrief(memory.recording())


CASES: tuple[tuple[str, Fault, int, float, set[str]], ...] = (
    ("set_down", "stops alone", 0, 70.0, {"stopped alone"}),
    ("set_down", "stops alone", 1, 70.0, {"stopped alone"}),
    ("set_down", "goes on alone", 0, 45.0, {"went on alone", "out of turn"}),
    ("set_down", "goes on alone", 1, 45.0, {"went on alone", "out of turn"}),
    ("set_down", "chases sway", 1, 60.0, {"chased"}),
    ("plumb_tips", "hoists early", 0, 30.0, {"leaning", "early"}),
    ("plumb_tips", "hoists straight on", 1, 30.0, {"leaning", "early"}),
)


@pytest.mark.parametrize(("name", "fault", "end", "longest_s", "kinds"), CASES)
def test_the_first_cause_is_the_fault_and_no_innocent_unit_is_blamed(
    name: str, fault: Fault, end: int, longest_s: float, kinds: set[str]
) -> None:
    told = told_of(name, fault, end, longest_s)
    causes = [(one.cause, one.by) for one in sorted(told.findings, key=lambda one: one.time_s) if one.cause != "moves"]
    assert causes and causes[0][0] in kinds
    assert {by for _, by in causes} <= {end, None}
    assert told.first_fault != "No reading passed a stop limit, and nothing was met."


@pytest.mark.parametrize(("name", "fault", "end", "longest_s", "kinds"), CASES)
def test_no_point_is_lost_without_a_finding(
    name: str, fault: Fault, end: int, longest_s: float, kinds: set[str]
) -> None:
    told = told_of(name, fault, end, longest_s)
    lost = lost_in(told.recording)
    assert lost and kinds
    words = " ".join(one.what for one in told.findings)
    keys = {as_words(one.key) for one in told.findings if one.key}
    for one in lost:
        assert one.reading in keys or one.rule in words or (one.rule == NOT_DONE and "not done" in words), one


def test_an_able_pair_has_no_finding() -> None:
    told = told_of("set_down", None, 0, 60.0)
    assert told.findings == () and lost_in(told.recording) == []


TURNS: tuple[tuple[Fault, int, set[str]], ...] = (
    ("turns alone", 0, {"turned alone"}),
    ("out faster than in", 1, {"out faster than in"}),
    ("rushes the corner", 0, {"rushed the corner"}),
    ("turns low", 1, {"turned low"}),
    ("turns near the lane", 1, {"turned near the lane"}),
    ("turns while swaying", 0, {"turned swaying", "chased"}),
)


@pytest.mark.parametrize(("fault", "end", "kinds"), TURNS)
def test_a_fault_of_a_turn_is_named_first_costs_points_and_is_laid_to_who_did_it(
    fault: Fault, end: int, kinds: set[str]
) -> None:
    """On loads drawn by lot: `tools/fault_against_taught.py --drills turn_and_land`."""
    told = told_of("turn_and_land", fault, end, 130.0)
    causes = [(one.cause, one.by) for one in told.findings if one.cause != "moves"]
    assert causes and causes[0][0] in kinds and causes[0][1] in (end, None)
    assert sum(lost.points for lost in lost_in(told.recording) if lost.rule != NOT_DONE) > 5.0


def test_a_turn_as_it_is_taught_has_no_cause_of_a_turn() -> None:
    told = told_of("turn_and_land", None, 0, 130.0)
    assert not {one.cause for one in told.findings} - {"moves"}
    assert sum(lost.points for lost in lost_in(told.recording) if lost.rule != NOT_DONE) == 0.0

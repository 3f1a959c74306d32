"""Advice goes with a finding's own cause, and with what it is about only where no cause stands out."""

from __future__ import annotations

from typing import get_args

import pytest

from simulator.report.lift.cause import Kind
from simulator.report.lift.debrief import debrief
from simulator.report.lift.debrief_lines import debrief_lines
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import judged_rows
from simulator.telling.next_time import next_time
from simulator.words import say
from tests.report.lifts import hoisted, made_up, ramp


def test_each_cause_and_each_reading_that_is_judged_has_its_own_advice() -> None:
    causes = [kind for kind in get_args(Kind) if kind != "moves"]
    said = [next_time("stop", "load.pitch_rad", cause) for cause in causes]
    said += [next_time("stop", row.key, "moves") for row in judged_rows(Limits()) if row.end in (None, 0)]
    assert all(said) and len(set(said)) == len(said)


@pytest.mark.parametrize(("key", "cause"), [("load.sway_m", "moves"), ("load.sway_m", ""), ("load.sway_m", "chased")])
def test_advice_for_a_sway_says_how_to_stop_one(key: str, cause: str) -> None:
    said = next_time("caution", key, cause)
    assert "set it down" in said and "wait it out" in said.lower() and "end of a swing" in said


def test_points_that_no_reading_tells_get_no_advice_for_an_incident() -> None:
    assert next_time("caution", "", "moves") == ""
    assert next_time("incident", "", "") == say("next_time.incident")


def test_an_end_that_was_hoisted_alone_is_told_to_look_at_the_other_and_not_to_level() -> None:
    """Nose line in at 0.05 m/s from 10 s on, the load pitching: the cause is the hoisting, not the pitch."""
    pitching = {"load.pitch_rad": ramp(10.0, 0.005), **hoisted("nose", ramp(10.0, -0.05, 10.0))}
    told = debrief(made_up(pitching))
    assert told.findings[0].cause == "went on alone"
    assert told.next_time == say("debrief.next_time", words=say("next_time.went_on_alone"))
    assert told.next_time in debrief_lines(told)
    assert debrief(made_up({})).next_time == ""

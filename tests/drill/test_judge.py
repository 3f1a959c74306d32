"""Conditions, steps and points on readings set by hand: every expected number is worked out beside it."""

from __future__ import annotations

from typing import Any

import pytest

from simulator.drill.conditions import Held, holds
from simulator.drill.judge import Judge, Loss, grade, not_done
from simulator.drill.marks import RULES, SPELL_S, standing_marks
from simulator.drill.progress import Progress
from simulator.drill.session import Session
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.readings import Readings
from simulator.scenario.description import Limits
from simulator.scenario.drill import Comparison, Condition, Drill, Limit, Mark, Step
from simulator.scenario.judged_limits import judged_rows
from tests.drill.lessons import STILL_READINGS, at, with_drill

DT = 0.1
LONG = Condition(reading="time_s", comparison=">=", value=1e6, change=True)
MOVES = UnitCommands(hoist=0.5)
BETWEEN_RAD = (Limits().off_plumb_caution_rad + Limits().off_plumb_stop_rad) / 2.0


def step(title: str = "one", **more: Any) -> Step:
    return Step(**{"title": title, "work": "wait", "until": (LONG,)} | more)


def exercise(*steps: Step, **more: Any) -> Drill:
    return Drill(aim="a test", steps=steps or (step(),), standing_marks=False, **more)


def judged(drill: Drill, moments: list[Readings], commands: Commands = STILL, *, stopped: bool = False) -> Judge:
    """A judge who has seen these moments, one step of the drill all along."""
    judge, progress = Judge(drill, Limits()), Progress(drill, moments[0])
    for now in moments:
        judge.see(now, commands, progress, stopped=stopped)
    return judge


def seconds(count: float, **load_now: Any) -> list[Readings]:
    return [at(DT * index, **load_now) for index in range(round(count / DT) + 1)]


@pytest.mark.parametrize(
    ("reading", "comparison", "value", "expected"),
    [
        (2.0, "<", 2.0, False), (2.0, "<=", 2.0, True), (2.0, ">", 1.9, True), (2.0, ">=", 2.1, False),
        (2.0, "within", 2.0, True), (-2.0, "within", 2.0, True), (-2.0, "within", 1.9, False),
        (-2.0, "beyond", 1.9, True), (2.0, "beyond", 2.0, False), (-2.0, ">", 1.9, False),
    ],
)  # fmt: skip
def test_comparisons(reading: float, comparison: Comparison, value: float, expected: bool) -> None:
    condition = Condition(reading="load.pitch_rad", comparison=comparison, value=value)
    assert holds(condition, at(0.0, pitch_rad=reading), STILL_READINGS) is expected


def test_change_looks_at_what_came_since_the_step_began() -> None:
    condition = Condition(reading="nose.hook_z_m", comparison=">", value=0.5, change=True)
    began = at(10.0, nose={"hook_z_m": 3.0})
    assert not holds(condition, at(11.0, nose={"hook_z_m": 3.4}), began)
    assert holds(condition, at(11.0, nose={"hook_z_m": 3.6}), began)


def test_a_hold_starts_anew_after_a_break() -> None:
    held = Held([Condition(reading="load.sway_m", comparison="<", value=0.1, hold_s=1.0)])
    sways = [0.0] * 6 + [0.2] + [0.0] * 11
    answers = [held.see(at(DT * i, sway_m=sway), STILL_READINGS)[0] for i, sway in enumerate(sways)]
    assert answers == [False] * 17 + [True]  # broken at 0.6 s, held from 0.7 s: 1 s later is 1.7 s


@pytest.mark.parametrize(("match", "ends_at_s"), [("all", 2.0), ("any", 1.0)])
def test_all_or_any_of_the_conditions_end_a_step(match: str, ends_at_s: float) -> None:
    until = tuple(Condition(reading="time_s", comparison=">=", value=value, change=True) for value in (1.0, 2.0))
    drill = exercise(step(until=until, match=match), step("two"))
    progress = Progress(drill, STILL_READINGS)
    ended = next(now.time_s for now in seconds(3.0) if progress.see(now))
    assert ended == pytest.approx(ends_at_s)
    assert (progress.index, progress.passed_by) == (1, {0})


def test_what_comes_next_may_be_named() -> None:
    now = Condition(reading="time_s", comparison=">=", value=0.0)
    drill = exercise(step("a", until=(now,), next="c"), step("b"), step("c", until=(now,), next="end"))
    progress = Progress(drill, STILL_READINGS)
    assert progress.see(at(0.0)) and progress.step.title == "c"
    assert progress.see(at(0.1)) and progress.done
    assert not progress.see(at(0.2))
    assert [loss.step for loss in not_done(drill, progress.passed_by, 1.0)] == ["b"]


def test_points_by_the_second_once_and_their_most() -> None:
    """0.3 m of sway for 5 s: 2 a second make 10; once makes 7; 4 a second with at most 6 make 6."""
    marks = (
        Mark(reading="load.sway_m", comparison=">", value=0.2, why="by the second", points=2.0),
        Mark(reading="load.sway_m", comparison=">", value=0.2, why="once", points=7.0, per="once", who="nose"),
        Mark(reading="load.sway_m", comparison=">", value=0.2, why="most", points=4.0, most=6.0, who="tail"),
        Mark(reading="load.sway_m", comparison=">", value=0.4, why="never", points=50.0),
    )
    judge = judged(exercise(marks=marks), seconds(5.0, sway_m=0.3))
    lost = {loss.rule: loss for loss in judge.kept.losses}
    assert lost["by the second"].points == pytest.approx(10.0)
    assert (lost["once"].points, lost["most"].points) == (pytest.approx(7.0), pytest.approx(6.0))
    assert "never" not in lost
    mark = grade(judge.kept.losses)
    assert mark == pytest.approx((100.0 - 10.0 - 7.0, 100.0 - 10.0 - 6.0, 100.0 - 10.0 - 7.0 - 6.0))


def test_every_point_lost_names_its_reading_its_time_and_its_rule() -> None:
    mark = Mark(reading="load.sway_m", comparison=">", value=0.2, why="sways", points=2.0)
    moments = [*seconds(1.0), *(at(1.0 + DT * i, sway_m=0.2 + 0.01 * i) for i in range(1, 11))]
    (loss,) = judged(exercise(step("here"), marks=(mark,)), moments).kept.losses
    assert (loss.rule, loss.reading, loss.step, loss.who) == ("sways", "load.sway_m", "here", "both")
    assert (loss.time_s, loss.until_s, loss.value) == (pytest.approx(1.1), pytest.approx(2.0), pytest.approx(0.3))
    assert "sways" in str(loss) and "load.sway_m" in str(loss) and "1.1 s" in str(loss)


def test_a_mark_counts_only_while_its_conditions_hold() -> None:
    free = Condition(reading="load.ground_N", comparison="<=", value=0.0)
    mark = Mark(reading="load.sway_m", comparison=">", value=0.2, why="sways", points=2.0, only_while=(free,))
    assert judged(exercise(marks=(mark,)), seconds(5.0, sway_m=0.3)).kept.losses == []
    (loss,) = judged(exercise(marks=(mark,)), seconds(5.0, sway_m=0.3, ground_N=0.0)).kept.losses
    assert loss.points == pytest.approx(10.0)


@pytest.mark.parametrize(("moves", "out"), [("both", False), ("nose", False), ("tail", True), ("none", True)])
def test_a_move_in_somebody_elses_step_is_out_of_turn(moves: str, out: bool) -> None:
    """Hands on for 5 s, the first of them allowed: 3 points, and 1 for each of 4 s less the moment it began."""
    judge = judged(exercise(step(moves=moves)), seconds(5.0), Commands(MOVES, UnitCommands()))
    expected = RULES.out_of_turn + RULES.out_of_turn_per_s * (5.0 - RULES.turn_grace_s - DT) if out else 0.0
    assert sum(loss.points for loss in judge.kept.losses if loss.who == "nose") == pytest.approx(expected, abs=0.11)
    assert judge.kept.steps[0][0].out_of_turn == int(out)
    assert not [loss for loss in judge.kept.losses if loss.who == "tail"]


def test_touches_close_together_are_one_move() -> None:
    drill = exercise(step(moves="none"))
    judge, progress = Judge(drill, Limits()), Progress(drill, STILL_READINGS)
    for index, now in enumerate(seconds(20.0)):
        touches = (20 <= index < 60 and index % 4 < 2) or 120 <= index < 130
        judge.see(now, Commands(UnitCommands(), MOVES) if touches else STILL, progress)
    assert judge.kept.steps[0][1].out_of_turn == 2


def test_a_move_under_a_stop_order_costs_after_the_hands_had_time_to_let_go() -> None:
    tail_moves = Commands(UnitCommands(), MOVES)
    assert not judged(exercise(), seconds(RULES.stop_grace_s), tail_moves, stopped=True).kept.losses
    (loss,) = judged(exercise(), seconds(10.0), tail_moves, stopped=True).kept.losses
    assert (loss.who, loss.points, loss.rule) == ("tail", RULES.hard_fail, "moved under a stop order") and loss.fails


def test_an_incident_takes_everything_and_steps_not_done_their_even_share() -> None:
    drill = exercise(*(step(title) for title in "abcd"))
    judge, progress = Judge(drill, Limits()), Progress(drill, STILL_READINGS)
    judge.see(at(0.0), STILL, progress, incidents=1)
    assert grade(judge.kept.losses) == (0.0, 0.0, 0.0)
    assert grade(not_done(drill, {0, 1, 2}, 9.0)) == (75.0, 75.0, 75.0)


@pytest.mark.parametrize(
    ("nose", "load_now", "rule", "per_s"),
    [
        ({"slack": False, "mean_off_plumb_rad": BETWEEN_RAD}, {}, "loaded line off plumb", 2.0),
        ({"slack": False, "off_plumb_rad": 0.2}, {}, None, 0.0),
        ({"slack": True, "mean_off_plumb_rad": 0.06}, {}, None, 0.0),
        ({"capacity_used": 0.9}, {}, "little capacity left", 1.0),
        ({"tandem_used": 1.01}, {}, "over the share for two units", 1.0),
        ({"least_float_share": 0.2}, {}, "light float", 1.0),
        ({"head_room_m": 1.4}, {}, "little head room", 1.0),
        ({"rope_left_m": 7.0}, {}, "little rope left", 1.0),
        ({"ground_used": 0.95}, {}, "ground near its bearing", 1.0),
        ({}, {"yaw_rad": -0.1, "ground_N": 0.0}, "hanging load turned across its lines", 1.0),
        ({}, {"pitch_rad": -0.06, "ground_N": 0.0}, "hanging load out of level", 1.0),
        ({}, {"pitch_rad": -0.06}, None, 0.0),
        ({}, {"sway_m": 0.6, "ground_N": 0.0}, "hanging load sways", 2.0),
        ({}, {"lane_room_m": 0.5}, "load near the live lane", 5.0),
    ],
)
def test_standing_marks_come_from_the_scenarios_limits(
    nose: dict[str, Any], load_now: dict[str, Any], rule: str | None, per_s: float
) -> None:
    """Limits left at their defaults. Off plumb is judged by its mean over a sway, as window and debrief do."""
    drill = Drill(aim="a test", steps=(step(),))
    moments = [at(DT * i, nose=nose, **load_now) for i in range(round((2.0 + SPELL_S) / DT) + 1)]
    judge = judged(drill, moments)
    assert [loss.rule for loss in judge.kept.losses] == ([rule] if rule else [])
    assert sum(loss.points for loss in judge.kept.losses) == pytest.approx(2.0 * per_s)


def test_each_reading_that_is_judged_costs_points() -> None:
    """One list for drill, debrief and window: no reading of it is left out, and none is charged beside it."""
    rows = {row.key for row in judged_rows(Limits())}
    charged = {mark.reading for mark in standing_marks(Limits())}
    assert charged - {"load.vz_mps"} == rows


def test_figures_of_a_step() -> None:
    """Off plumb 1 degree for 2 s, then 3 for 1 s, line loaded: worst 3, mean 5/3; sway counts one period after."""
    rows = [*([0.01] * 20), *([0.03] * 10)]
    moments = [at(0.0, sway_m=0.9)]
    for index, angle in enumerate(rows, 1):
        nose = {"slack": False, "off_plumb_rad": angle, "hook_load_N": 1e4}
        moments.append(at(DT * index, nose=nose, sway_m=0.9, ground_N=0.0, sway_period_s=2.0))
    figures = judged(exercise(), moments).kept.steps[0][0]
    assert figures.worst_off_plumb_rad == pytest.approx(0.03)
    assert figures.mean_off_plumb_rad == pytest.approx(0.05 / 3.0)
    assert figures.time_s == pytest.approx(3.0)


def test_sway_and_dynamic_load_of_a_load_that_hangs() -> None:
    """Free for 6 s, sway period 2 s: 4 s count, half of them at 20 kN and half at 30 kN: peak over mean 1.2."""
    moments = [
        at(DT * i, sway_m=0.9 if i < 20 else 0.05, ground_N=0.0, sway_period_s=2.0,
           nose={"hook_load_N": 2e4 if i <= 40 else 3e4})
        for i in range(61)
    ]  # fmt: skip
    figures = judged(exercise(), moments).kept.steps[0][0]
    assert figures.sway_m == pytest.approx(0.05)
    assert figures.peak_hook_load_N == 3e4
    assert figures.dynamic == pytest.approx(1.2, abs=0.02)


def test_sway_before_a_whole_period_has_hung_free_is_the_beds_doing() -> None:
    moments = [at(DT * i, sway_m=0.5, ground_N=0.0, sway_period_s=2.0) for i in range(20)]
    assert judged(exercise(), moments).kept.steps[0][0].sway_m == 0.0


def test_a_limit_raises_a_caution_while_it_holds_and_calls_a_stop_each_time_it_comes() -> None:
    limits = (
        Limit(reading="load.sway_m", comparison=">", value=0.1, say="sways"),
        Limit(reading="load.sway_m", comparison=">", value=0.3, say="sways far", at="stop"),
    )
    session = Session(with_drill(exercise(limits=limits)), STILL_READINGS)
    called, cautions = [], []
    for index, sway in enumerate([0.0, 0.2, 0.4, 0.4, 0.2, 0.4, 0.0]):
        session.see(at(DT * index, sway_m=sway), STILL)
        called.append(session.stop_reached)
        cautions.append([caution.text for caution in session.cautions])
    assert called == ["", "", "load.sway_m", "", "", "load.sway_m", ""]
    assert cautions[:3] == [[], ["sways"], ["sways", "sways far"]]
    assert cautions[-1] == []


def test_grades_do_not_fall_below_nothing() -> None:
    loss = Loss(400.0, "both", "a", "b", "c", 0.0, 0.0, 0.0)
    assert grade([loss]) == (0.0, 0.0, 0.0)

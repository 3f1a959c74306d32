"""Works in another order than shipped drills have them: turns that alternate, a load put back where it came from."""

from __future__ import annotations

from dataclasses import replace
from math import radians
from typing import Any

import pytest

from simulator.attempt import Attempt
from simulator.drill.coach import Coach
from simulator.drill.partner import Partner
from simulator.drill.progress import Progress
from simulator.readings import PartGap
from simulator.scenario.drill import Comparison, Condition, Drill, Seat, Step, Work
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump
from simulator.words import say
from tests.drill.lessons import at, coarser, drill, driven, pair, session, with_drill
from tests.drill.test_coach import BEARING, TAIL_TIP, TIP


def until(reading: str, comparison: Comparison, value: float, *, change: bool = False) -> Condition:
    return Condition(reading=reading, comparison=comparison, value=value, change=change)


def step(title: str, work: Work, *ends: Condition, moves: Seat = "both") -> Step:
    return Step(title=title, work=work, until=ends, moves=moves)


PLUMB = step("plumb", "plumb the tips", *(replace(until(f"{end}.off_plumb_rad", "<", radians(0.6)), hold_s=1.0)
                                          for end in ("nose", "tail")))  # fmt: skip
SLACK_OUT = step("slack", "take slack", *(until(f"{end}.hook_load_N", ">", 4e3) for end in ("nose", "tail")))
OFF = step("off", "lift off", until("load.ground_N", "<=", 0.0), until("load.height_over_bed_m", ">=", 0.1))
SLACK = tuple(until(f"{end}.slack", ">=", 1.0) for end in ("nose", "tail"))


def lesson(*steps: Step, name: str = "plumb_tips", **more: Any) -> Attempt:
    exercise = Drill(aim="a test", steps=steps, **({"longest_s": 240.0} | more))
    described = coarser(with_drill(exercise, name=name))
    return driven(described, pair(described), longest_s=exercise.longest_s)


def test_turns_that_alternate_and_a_load_put_back_where_it_came_from() -> None:
    """Nose up, tail up, down onto the bed: the tips stay over the bed, and no line ends up leaning."""
    seats: tuple[Seat, Seat] = ("nose", "tail")
    turns = [step(f"{end} {number}", "raise", until(f"{end}.hook_z_m", ">", 0.1, change=True), moves=end)
             for number in (1, 2) for end in seats]  # fmt: skip
    attempt = lesson(PLUMB, SLACK_OUT, OFF, *turns, step("put it back", "lower", *SLACK))
    held, now = session(attempt), attempt.readings
    assert held.done and not attempt.incidents
    assert now.load.ground_N > 0.0 and now.load.road_N == 0.0
    assert all(abs(unit.tip_y_m - unit.hook_y_m) < 0.3 for unit in now.units)
    assert not held.failed_by and held.result()[0].together > 85.0


def test_a_load_is_hauled_back_off_the_road_to_where_it_lay() -> None:
    """Up, across to the landing, back to where a step says it is to go, and down onto the bed there."""
    described = drill("carry_across")
    back_m = described.trailer.start.y_m
    over = described.landing.y_m - 0.1
    back = Step(title="back", work="cross", until=(until("load.y_m", "<", back_m + 0.1),), to_y_m=back_m)
    settled = replace(until("load.sway_m", "<", 0.2), hold_s=2.0)
    attempt = lesson(
        PLUMB, SLACK_OUT, OFF, step("up", "raise", until("load.height_over_road_m", ">=", 1.8)),
        step("over", "cross", until("load.y_m", ">", over)), back, step("still", "steady", settled),
        step("down", "lower", *SLACK),
        name="carry_across", longest_s=500.0,
    )  # fmt: skip
    held, now = session(attempt), attempt.readings
    assert held.done and not attempt.incidents and not held.failed_by
    assert now.load.y_m == pytest.approx(back_m, abs=0.3) and now.load.ground_N > 0.0 and now.load.road_N == 0.0


@pytest.mark.parametrize(("work", "good"), [("cross", True), ("raise", False)])
def test_a_place_may_be_named_where_the_load_is_carried_across(work: str, good: bool) -> None:
    text = dump(drill("carry_across")).replace('work = "cross"', f'work = "{work}"\nto_y = "-5 m"')
    if good:
        exercise = parse_text(text, "a drill").drill
        assert exercise is not None and {step.to_y_m for step in exercise.steps} == {None, -5.0}
    else:
        with pytest.raises(BrokenScenario, match='only with work = "cross"'):
            parse_text(text, "a drill")


@pytest.mark.parametrize(("lean_deg", "lets_down"), [(0.2, True), (0.9, True), (1.1, False), (4.0, False)])
def test_nothing_more_is_let_down_where_the_ground_pushes_the_load_aside(lean_deg: float, lets_down: bool) -> None:
    """Away from the landing place, onto ground that bears: past its caution of 1 deg a line says it is no place."""
    described = with_drill(Drill(aim="a test", steps=(step("down", "lower", *SLACK),)))
    lean = {"off_plumb_rad": radians(lean_deg), "slack": False}
    moments = [at(t, nose=TIP | BEARING | lean, tail=TAIL_TIP | BEARING, ground_N=1e4) for t in (0.0, 0.1, 0.2)]
    partner = Partner(described, 0)
    partner.follow(moments[0], 0)
    hoist = [partner.command(now)[0] for now in moments[1:]]
    assert all((pulled < 0.0) is lets_down for pulled in hoist), hoist


def test_a_step_that_does_not_end_names_what_keeps_it() -> None:
    """Everything is done that hands can do, and the pitch is not what the step asks for: that is said."""
    exercise = Drill(aim="a test", steps=(step("one", "hold", until("load.pitch_rad", "within", radians(1.0))),))
    described = with_drill(exercise)
    moments = [
        at(0.1 * i, nose=TIP | BEARING, tail=TAIL_TIP | BEARING, ground_N=0.0, pitch_rad=0.05) for i in range(30)
    ]
    coach, progress = Coach(described), Progress(exercise, moments[0])
    for now in moments:
        coach.see(now, progress)
    assert coach.prompt.kind == "hold"
    assert "load pitch" in coach.prompt.reason and say("coach.condition_within") in coach.prompt.reason
    assert "1.00" in coach.prompt.reason


@pytest.mark.parametrize(
    ("to_y_m", "length_m", "beyond"), [(9.0, 14.5, False), (14.0, 13.0, False), (14.0, 14.5, True)]
)
def test_a_place_out_of_reach_is_told_once_the_boom_is_at_its_end(to_y_m: float, length_m: float, beyond: bool) -> None:
    """Both tips on their way over the road; the boom is 14.5 m long at most, and 14 m across asks for more."""
    far = Step(title="far", work="cross", until=(until("load.y_m", ">", 100.0),), to_y_m=to_y_m)
    exercise = Drill(aim="a test", steps=(far,))
    described = with_drill(exercise)
    out = {"tip_y_m": 7.0, "hook_y_m": 7.0, "boom_length_m": length_m, "elevation_rad": 0.4, "slew_rad": 0.9}
    hook_m = {"hook_z_m": described.path.belly_over_road_m + 2.45}
    moments = [at(0.1 * i, nose=TIP | BEARING | out | hook_m, tail=TAIL_TIP | BEARING | out | hook_m, ground_N=0.0)
               for i in range(30)]  # fmt: skip
    coach, progress = Coach(described), Progress(exercise, moments[0])
    for now in moments:
        coach.see(now, progress)
    assert ("out of reach" in coach.prompt.reason) is beyond
    assert (coach.prompt.kind == "hold") is beyond


@pytest.mark.parametrize("key", ["landing", "to_y"])
@pytest.mark.parametrize(("y_m", "good"), [(8.7, True), (8.8, False)])
def test_no_drill_carries_a_load_where_it_takes_points_for_being(key: str, y_m: float, good: bool) -> None:
    """Lane at 12 m, caution 2 m before it, half of 2.5 m of platform: up to 8.75 m."""
    described = drill("carry_across")
    if key == "landing":
        text = dump(replace(described, landing=replace(described.landing, y_m=y_m)))
    else:
        text = dump(described).replace('work = "cross"', f'work = "cross"\nto_y = {y_m}')
    if good:
        parse_text(text, "a drill")
    else:
        with pytest.raises(BrokenScenario, match=r"up to 8\.75 m where a drill carries the load there"):
            parse_text(text, "a drill")


@pytest.mark.parametrize(
    ("meets", "state", "lets_down"),
    [("tail unit deck", "close", False), ("tail unit deck", "clears", True), ("slope's edge", "close", True)],
)
def test_a_load_is_not_let_down_onto_a_unit(meets: str, state: str, lets_down: bool) -> None:
    """Away from the landing place, hanging level: what is close below a part decides."""
    described = with_drill(Drill(aim="a test", steps=(step("down", "lower", *SLACK),)))
    hook = {"hook_z_m": 4.0, "slack": False}
    gaps = (PartGap("platform", 0.2, meets, state),)
    moments = [
        at(t, nose=TIP | BEARING | hook, tail=TAIL_TIP | BEARING | hook, ground_N=0.0, height_over_bed_m=2.0)
        for t in (0.0, 1.0, 1.1)
    ]
    partner = Partner(described, 0)
    partner.follow(moments[0], 0)
    hoist = [partner.command(now._replace(gaps=gaps))[0] for now in moments[1:]]
    assert all((pulled < 0.0) is lets_down for pulled in hoist), hoist

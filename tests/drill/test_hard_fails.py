"""What fails a drill whatever its points, on readings set by hand, and that stop authority costs nothing."""

from __future__ import annotations

from dataclasses import replace
from math import radians, sqrt
from typing import Any

import pytest

from simulator.attempt import Attempt
from simulator.drill.hard_fails import OFF_PAPERS_SHARE, SNATCH_SHARE
from simulator.drill.judge import Loss, summed
from simulator.drill.session import Session
from simulator.drill.taking_weight import HELD_S, LAY_S, WENT_ON_M
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.readings import PartGap, Readings
from simulator.scenario.description import Description, Limits
from simulator.scenario.drill import Condition, Drill, Mark, Step
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.telling.account import account_words
from tests.drill.lessons import at, drill, with_drill

DT = 0.05
BEARS, HARDLY = {"slack": False, "hook_load_N": 50e3}, {"slack": False, "hook_load_N": 2e3}
ENDS = Condition(reading="time_s", comparison=">=", value=1.0, change=True)
LONG = replace(ENDS, value=1e6)
MOVES = UnitCommands(hoist=0.5)
LIFTS = Commands(MOVES, MOVES)


def leaning(now: float, mean: float) -> dict[str, float]:
    """Off plumb so many times the stop, now and in the mean of a sway."""
    stop_rad = Limits().off_plumb_stop_rad
    return {"off_plumb_rad": now * stop_rad, "mean_off_plumb_rad": mean * stop_rad}


def lesson(*steps: Step, **more: Any) -> Description:
    """A drill that is passed by waiting for a second, whatever happens meanwhile."""
    return with_drill(Drill(aim="a test", steps=steps or (Step(title="one", work="wait", until=(ENDS,)),), **more))


def seen(described: Description, moments: list[tuple[Readings, Commands]], *, stopped: bool = False) -> Session:
    session = Session(described, moments[0][0])
    for now, asked in moments:
        session.see(now, asked, stopped=stopped)
    return session


def weight_N(described: Description) -> float:
    return stated_mass_kg(described.trailer) * STANDARD_GRAVITY_MPS2


@pytest.mark.parametrize(
    ("good", "bad", "rule"),
    [
        ({"capacity_used": 0.80, "slack": False}, {"capacity_used": 1.01, "slack": False}, "over capacity"),
        ({"least_float_share": 0.11}, {"least_float_share": 0.09}, "float about to lift"),
        ({"head_room_m": 0.6}, {"head_room_m": 0.0}, "two-blocked"),
        ({"rope_left_m": 4.5}, {"rope_left_m": 0.0}, "rope past its end"),
        ({"ground_used": 0.89}, {"ground_used": 1.01}, "ground over its bearing"),
        ({**leaning(1.9, 1.9), **BEARS}, {**leaning(2.1, 2.1), **BEARS}, "dragged far out of plumb"),
        ({**leaning(0.5, 9.0), **BEARS}, {**leaning(9.0, 2.1), **BEARS}, "dragged far out of plumb"),
        ({**leaning(9.0, 9.0), **HARDLY}, {**leaning(2.1, 9.0), **BEARS}, "dragged far out of plumb"),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_one_moment_of_it_fails_a_drill_that_is_done_with_points_to_spare(
    good: dict[str, Any], bad: dict[str, Any], rule: str
) -> None:
    """The scenario's stop limits: 100 % of capacity, 15 % x 0.67 of a resting load; bearing 1, travel ends 0."""
    described = lesson(pass_points=0.0)
    assert seen(described, [(at(DT * i, nose=good), STILL) for i in range(30)]).passed
    moments = [(at(DT * i, nose=bad if i == 10 else good), STILL) for i in range(30)]
    session = seen(described, moments)
    assert session.done and not session.passed
    assert [(loss.rule, loss.who) for loss in session.failed_by] == [(rule, "nose")]
    assert session.account()[0].fields["state"] == "failed"
    (line,) = (one for one in summed(session.losses) if one.fields["rule"] == rule)
    assert line.fields["fails"] == 1 and "fails the drill" in account_words(line, "{:.2f} {}".format)


@pytest.mark.parametrize(("asks_s", "fails"), [(0.9, False), (1.2, True)])
def test_a_lever_held_more_than_a_second_after_a_stop_order(asks_s: float, fails: bool) -> None:
    described = lesson(Step(title="one", work="wait", until=(LONG,)), pass_points=0.0)
    moments = [(at(DT * i), LIFTS if DT * i <= asks_s else STILL) for i in range(60)]
    session = seen(described, moments, stopped=True)
    assert {loss.who for loss in session.failed_by} == ({"nose", "tail"} if fails else set())


def test_a_stop_held_for_long_costs_nothing() -> None:
    """90 s of a stop order in a step with a mark on time, on a load that sways: not a point, and the time rests."""
    slow = Mark(reading="time_s", comparison=">", value=5.0, change=True, why="slow", points=0.5)
    step = Step(title="one", work="raise", until=(LONG,), marks=(slow,))
    described = lesson(step, longest_s=60.0)
    began = at(0.0)
    session = Session(described, began)
    for index in range(round(90.0 / DT)):
        session.see(at(DT * index, sway_m=0.9, ground_N=0.0), STILL, stopped=True)
    assert session.losses == [] and not session.over
    for index in range(round(90.0 / DT), round(110.0 / DT)):
        session.see(at(DT * index), STILL)
    (loss,) = session.losses
    # 20 s of the step, 5 of them free: 15 s at half a point, less what it takes to notice.
    assert loss.rule == "slow" and loss.points == pytest.approx(0.5 * 15.0, abs=0.1)


def hanging(z_m: float, load_N: float, **more: Any) -> dict[str, Any]:
    return {"nose": {"hook_load_N": load_N, "slack": False}, "tail": {"hook_load_N": load_N, "slack": False},
            "ground_N": 0.0, "z_m": z_m} | more  # fmt: skip


@pytest.mark.parametrize(
    ("off", "held_s", "fails"),
    [(1.2, 0.0, True), (0.8, 0.0, True), (1.2, HELD_S + 0.2, False), (1.2, HELD_S - 0.5, True), (1.01, 0.0, False)],
)
def test_lifted_on_past_a_weight_that_is_not_the_papers(off: float, held_s: float, fails: bool) -> None:
    """Half the stated weight times `off` on each line, lifted 0.1 m, held so long, and on: a tenth is the limit."""
    described = lesson(Step(title="one", work="raise", until=(LONG,)), pass_points=0.0)
    each_N = 0.5 * off * weight_N(described)
    moments, time_s, z_m = [(at(0.0), STILL)], 0.0, 0.0
    for lasts_s, speed, asked in ((1.0, 0.1, LIFTS), (held_s, 0.0, STILL), (WENT_ON_M / 0.1 + 1.0, 0.1, LIFTS)):
        for _ in range(round(lasts_s / DT)):
            time_s, z_m = time_s + DT, z_m + speed * DT
            moments.append((at(time_s, **hanging(z_m, each_N)), asked))
    failed = seen(described, moments).failed_by
    assert bool(failed) is fails
    if fails:
        assert abs(failed[0].value - (off - 1.0)) < 1e-6 and abs(failed[0].value) > OFF_PAPERS_SHARE


@pytest.mark.parametrize(("lies_s", "fails"), [(0.2, False), (LAY_S + 0.2, True)])
def test_a_bounce_takes_no_hold_back(lies_s: float, fails: bool) -> None:
    """A fifth too heavy, held as long as asked, then on the ground for so long, and lifted on."""
    described = lesson(Step(title="one", work="raise", until=(LONG,)), pass_points=0.0)
    each_N = 0.6 * weight_N(described)
    moments, time_s, z_m = [(at(0.0), STILL)], 0.0, 0.1
    for lasts_s, speed, ground_N in ((HELD_S + 0.5, 0.0, 0.0), (lies_s, 0.0, 5.0), (WENT_ON_M / 0.1 + 1.0, 0.1, 0.0)):
        for _ in range(round(lasts_s / DT)):
            time_s, z_m = time_s + DT, z_m + speed * DT
            moments.append((at(time_s, **hanging(z_m, each_N, ground_N=ground_N)), LIFTS if speed else STILL))
    assert bool(seen(described, moments).failed_by) is fails


@pytest.mark.parametrize(("share", "fails", "costs"), [(0.05, False, False), (0.18, False, True), (0.30, True, False)])
def test_a_snatch_is_the_shock_of_a_ramp_on_a_mass_and_a_spring(share: float, fails: bool, costs: bool) -> None:
    """A pull that grows at R on mass m over spring k ends R sqrt(m / k) higher than without: so is R chosen here."""
    described = lesson(Step(title="one", work="take slack", until=(LONG,)), pass_points=0.0)
    mass_kg, k = stated_mass_kg(described.trailer) / 2.0, 1.2e6
    share_N = mass_kg * STANDARD_GRAVITY_MPS2
    rate = share * share_N / sqrt(mass_kg / k)
    slack_N = described.limits.slack_N
    moments = [(at(DT * i), STILL) for i in range(20)]
    for index in range(round(share_N / rate / 0.001)):
        load_N = slack_N + rate * 0.001 * index
        nose = {"hook_load_N": load_N, "slack": False, "line_stiffness_N_per_m": k}
        moments.append((at(1.0 + 0.001 * index, nose=nose), LIFTS))
    session = seen(described, moments)
    assert bool(session.failed_by) is fails
    rules = {loss.rule: loss for loss in session.losses}
    assert ("line taken up fast" in rules) is costs
    for loss in rules.values():
        assert loss.value == pytest.approx(share, rel=0.02)
    assert (share > SNATCH_SHARE) is fails


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("over", [True, False])
def test_leaving_the_ground_with_a_line_that_leans(end: int, over: bool) -> None:
    """The lean when the ground let go, against the stop limit; that it leans back once it is free does not help."""
    described = lesson(Step(title="one", work="lift off", until=(LONG,)), pass_points=0.0)
    stop = described.limits.off_plumb_stop_rad
    leans = {"off_plumb_rad": stop + radians(0.1 if over else -0.1), "slack": False, "hook_load_N": 5e4}
    plumb = {"off_plumb_rad": 0.0, "slack": False, "hook_load_N": 5e4}
    names = ("nose", "tail")
    lies = {names[end]: leans, names[1 - end]: plumb}
    moments = [(at(DT * i, **lies), LIFTS) for i in range(40)]
    moments += [(at(2.0 + DT * i, nose=plumb, tail=plumb, ground_N=0.0), LIFTS) for i in range(20)]
    failed = seen(described, moments).failed_by
    assert [(loss.who, loss.rule) for loss in failed] == (
        [(names[end], "left the ground out of plumb")] if over else []
    )


def test_a_bounce_is_no_lift_off() -> None:
    described = lesson(Step(title="one", work="lift off", until=(LONG,)))
    leans = {"off_plumb_rad": 0.5, "slack": False, "hook_load_N": 5e4}
    moments = [(at(DT * i, nose=leans, ground_N=0.0 if i % 4 == 3 else 1e4), STILL) for i in range(100)]
    assert not seen(described, moments).failed_by


def lost(session: Session) -> dict[str, Loss]:
    return {loss.rule: loss for loss in session.losses}


@pytest.mark.parametrize(("vy", "state", "rule"), [
    (0.1, "close", "carried across close to what it passes"), (0.1, "not clear", "carried across not clear"),
    (0.1, "clears", None), (0.0, "close", None), (0.1, "to raise", None),
])  # fmt: skip
def test_gaps_count_while_the_load_is_carried_across(vy: float, state: str, rule: str | None) -> None:
    described = lesson(Step(title="one", work="cross", until=(LONG,)))
    gaps = (PartGap("belly", 0.1, "deck", state),)
    moments = [(at(DT * i, ground_N=0.0, vy_mps=vy)._replace(gaps=gaps), STILL) for i in range(40)]
    assert set(lost(seen(described, moments))) == ({rule} if rule else set())


@pytest.mark.parametrize(("work", "moves", "asked", "early"), [
    ("plumb the tips", "both", LIFTS, True), ("plumb the tips", "both", STILL, False),
    ("take slack", "both", LIFTS, False), ("lighten", "tail", Commands(MOVES, UnitCommands()), True),
    ("lighten", "nose", Commands(MOVES, UnitCommands()), False),
])  # fmt: skip
def test_early_weight_in_every_drill(work: Any, moves: Any, asked: Commands, early: bool) -> None:
    """The nose line goes from slack to 5 kN on a load that lies: early while plumbing, or in the tail's turn."""
    described = lesson(Step(title="one", work=work, moves=moves, until=(LONG,)))
    bears = {"hook_load_N": 5e3, "slack": False}
    moments = [(at(DT * i, nose=bears if i > 10 else {}), asked if i > 5 else STILL) for i in range(40)]
    losses = lost(seen(described, moments))
    assert ("early weight" in losses) is early
    assert not early or losses["early weight"].who == "nose"


@pytest.mark.parametrize(("mps", "fast"), [(-0.03, False), (-0.2, True)])
def test_landing_fast_costs_once(mps: float, fast: bool) -> None:
    described = lesson(Step(title="one", work="lower", until=(LONG,)))
    moments = [(at(DT * i, ground_N=0.0, vz_mps=mps, height_over_bed_m=0.02), STILL) for i in range(40)]
    assert ("landed fast" in lost(seen(described, moments))) is fast


def test_a_step_back_takes_a_fail_back_too() -> None:
    described = lesson(Step(title="one", work="wait", until=(LONG,)))
    session = seen(described, [(at(DT * i, nose={"head_room_m": 0.0}), STILL) for i in range(10)])
    assert session.failed_by
    session.back_to(0, at(1.0))
    session.see(at(1.0 + DT), STILL)
    assert not session.failed_by


def test_full_line_up_from_slack_fails_the_set_down_drill_when_it_is_driven() -> None:
    """Both levers full over from a slack line: the engine's own pull, not readings set by hand."""
    attempt = Attempt(drill("set_down"))
    full = Commands(UnitCommands(hoist=1.0), UnitCommands(hoist=1.0))
    while attempt.readings.time_s < 8.0 and not attempt.ended:
        attempt.advance(full, attempt.every)
    assert attempt.session is not None
    assert "snatched from slack" in {loss.rule for loss in attempt.session.failed_by}

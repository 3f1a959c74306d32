"""Centering: as it is taught, as it should not be done, and on loads drawn by lot (model.md effect 5)."""

from __future__ import annotations

from dataclasses import replace
from math import nan

import pytest

from simulator.drill.clumsy import HOISTING, SHOWS_S
from simulator.drill.partner import Partner
from simulator.drill.ways import Fault
from simulator.readings import Readings
from tests.draws import drawn
from tests.drill.lessons import drill, faulty, session, taught
from tools.centering_draws import outcome

pytestmark = pytest.mark.long
HIDDEN = ("ground_x_N", "ground_y_N", "ground_roll_Nm", "ground_pitch_Nm", "ground_yaw_Nm", "other_x_N", "other_y_N",
          "other_z_N", "other_roll_Nm", "other_pitch_Nm", "other_yaw_Nm")  # fmt: skip
"""Readings about the true CG or of what pushes unseen: nobody on the site has them."""
MOST_TAUGHT_M, LEAST_STRAIGHT_M = 0.08, 0.40
GOOD, POOR = 85.0, 50.0


def lost(attempt_points: list[tuple[str, float]], rules: tuple[str, ...]) -> float:
    return sum(points for rule, points in attempt_points if rule in rules)


def points(
    name: str, nose: Fault | None, tail: Fault | None, longest_s: float
) -> tuple[float, list[tuple[str, float]]]:
    """The score together, and what each rule took."""
    grade, losses = session(faulty(name, nose, tail, longest_s)).result()
    return grade.together, [(loss.rule, loss.points) for loss in losses]


def test_the_taught_method_leaves_almost_no_sway_and_the_score_says_so() -> None:
    attempt, _ = taught()
    held = session(attempt)
    assert held.done and not attempt.incidents and held.passed
    sways = [figures[0].sway_m for figures in held.judge.kept.steps.values()]
    assert 0.0 < max(sways) < MOST_TAUGHT_M
    assert min(held.result()[0]) > GOOD


def test_the_tail_waits_whenever_the_load_moves() -> None:
    """While the ground carries part of it and it slides, no line goes up: rope speeds come down within a ramp."""
    _, heard = taught()
    moving_s = 0.0
    for now, _, index in heard.rows:
        load = now.load
        slides = load.ground_N > 0.0 and (load.vx_mps**2 + load.vy_mps**2) ** 0.5 > 0.012
        moving_s = moving_s + 1.0 / 60.0 if slides else 0.0
        if index == 3 and moving_s > 0.5:
            assert now.tail.hoist_speed_mps < 0.01


def test_one_line_after_the_other() -> None:
    """The nose line bears while the tail's is slack, and the nose stands still while the tail lifts."""
    _, heard = taught()
    assert any(not now.nose.slack and now.tail.slack for now, _, index in heard.rows if index == 1)
    assert all(now.tail.slack for now, _, index in heard.rows if index <= 2)
    tail_step = [now for now, began, index in heard.rows if index == 3 and now.time_s > began.time_s + 2.0]
    assert tail_step and max(abs(now.nose.hoist_speed_mps) for now in tail_step) < 1e-6


def test_the_coach_goes_along_and_speaks_to_the_one_whose_turn_it_is() -> None:
    _, heard = taught()
    said = {
        index: [text for _, step, kind, text in heard.prompts if step == index and kind == "move"] for index in (1, 3)
    }
    assert said[1] and all(text.startswith("Nose unit") for text in said[1])
    assert said[3] and all(text.startswith("Tail unit") for text in said[3])
    assert {kind for _, index, kind, _ in heard.prompts if index == 5} == {"hold"}
    assert heard.prompts[-1][2] == "done"
    assert len(heard.prompts) < 40


def test_the_center_of_gravity_is_told_from_the_loads_and_compared_with_the_truth() -> None:
    """Hidden 0.8 m toward the tail unit: the papers are that far out, the loads are not."""
    held = session(taught()[0])
    assert held.center is not None
    assert held.center.from_loads_m == pytest.approx(held.center.true_m, abs=0.01)
    assert held.center.spread_m < 0.2
    assert held.center.true_m - held.center.stated_m == pytest.approx(0.8, abs=1e-9)
    assert held.prompt is not None and f"{held.center.true_m:.2f} m" in held.prompt.sentence


def test_hoisting_straight_on_leaves_it_swaying_and_the_score_says_so() -> None:
    attempt = faulty("centering", "hoists straight on", "hoists straight on", 25.0)
    assert attempt.readings.load.ground_N == 0.0 and attempt.readings.load.sway_m > LEAST_STRAIGHT_M
    score, rules = points("centering", "hoists straight on", "hoists straight on", 25.0)
    assert score < POOR
    assert lost(rules, ("came free swaying", "hanging load sways")) > 30.0


@pytest.mark.parametrize(
    ("name", "nose", "tail", "longest_s", "rules"),
    [
        ("centering", "stays out of plumb", "stays out of plumb", 30.0,
         ("loaded line off plumb", "loaded line far off plumb", "weight taken before the tips were plumb")),
        ("centering", None, "hoists early", 25.0,
         ("weight taken before the tips were plumb", "loaded line off plumb", "loaded line far off plumb")),
        ("carry_across", "slews only", "slews only", 55.0, ("loaded line off plumb", "loaded line far off plumb")),
        ("centering", "chases sway", "chases sway", 66.0,
         ("moved out of turn", "came free swaying", "lever turned straight back", "lever pulled to and fro")),
        ("raise_level", "stops alone", "goes on alone", 60.0,
         ("not level", "hanging load out of level", "hanging load far out of level", "went on ahead of the other")),
    ],
    ids=["tips out of plumb", "before the other has slack out", "slews only", "chases sway", "one stops alone"],
)  # fmt: skip
def test_typical_faults_score_low_by_their_own_rules(
    name: str, nose: Fault | None, tail: Fault | None, longest_s: float, rules: tuple[str, ...]
) -> None:
    """Not only for steps left undone: what the fault itself does costs more than half of the points."""
    score, taken = points(name, nose, tail, longest_s)
    assert score < POOR
    assert lost(taken, rules) > 100.0 - POOR


@pytest.mark.parametrize("seed", range(1, 1 + drawn(4, 24)))
def test_loads_drawn_by_lot_come_free_still_and_are_weighed_right(seed: int) -> None:
    """CG up to 1 m off, 0.7 to 1.3 of the stated mass, bed and tips drawn; at half the rate of steps.

    `tools/centering_draws.py` drives many more, at the full rate.
    """
    one = outcome(seed, steps_per_s=120)
    assert one.good, one
    assert abs(one.cg_error_m) < 0.15 and one.sway_m < MOST_TAUGHT_M and one.score > GOOD


def masked(now: Readings) -> Readings:
    return now._replace(load=now.load._replace(**dict.fromkeys(HIDDEN, nan)))


@pytest.mark.parametrize("end", [0, 1])
def test_the_partner_sees_no_hidden_data(end: int) -> None:
    """The same hands on readings without what is hidden, and with another CG and mass hidden in the lift."""
    described = drill("centering")
    trailer = replace(described.trailer, hidden_cg_m=(-0.9, 0.1, 0.0), hidden_mass_factor=0.7)
    seeing, other = Partner(described, end), Partner(replace(described, trailer=trailer), end)
    moved, steps_began = 0, {}
    for now, began, index in taught()[1].rows:
        seeing.follow(began, index)
        other.follow(steps_began.setdefault(index, masked(began)), index)
        hands = seeing.command(now)
        assert other.command(masked(now)) == hands
        moved += any(hands)
    assert moved > 300


@pytest.mark.parametrize("fault", HOISTING)
def test_hands_that_hoist_out_of_turn_come_round_and_the_drill_goes_on(fault: Fault) -> None:
    """It is shown and costs points first; then the line is let down, plumbed, and the step ends."""
    attempt = faulty("plumb_tips", None, fault, 140.0)
    held = session(attempt)
    assert held.done and not attempt.incidents
    (began_s,) = [event.step * attempt.simulation.model.dt for event in attempt.events if event.kind == "step"]
    assert began_s > SHOWS_S
    assert lost(points("plumb_tips", None, fault, 140.0)[1], ("weight taken while plumbing",)) > 20.0

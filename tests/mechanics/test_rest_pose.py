"""Rest poses by least energy: against scipy on random bodies, against closed forms, and against the plan's own hang."""

from __future__ import annotations

from math import degrees, hypot
from pathlib import Path

import numpy as np
import pytest

from simulator.mechanics.line_path import Bridle, Straight
from simulator.mechanics.rest_pose import SECTION, Line, Rest, pose_of, rest, rest_unstretched
from simulator.plan.hanging import hang, load_of
from simulator.scenario.reader import load as scenario
from tests.draws import drawn
from tests.mechanics.hung_bodies import (
    Case,
    Lowest,
    least_energy,
    lowest_unstretched,
    nearest_rest,
    nudged,
    random_case,
)

pytestmark = pytest.mark.long

CASES, SEARCHED = 200, drawn(40, 200)
"""Random bodies, and from how many of them scipy looks for the lowest rest from afar."""
SCENARIOS = Path(__file__).parents[2] / "scenarios"
NEAR_M, NEAR_DEG, NEAR_SHARE = 1e-3, 0.01, 1e-3
W = 2e5


def assert_rests_there(found: Rest, lowest: Lowest, case: Case, i: int) -> None:
    assert found.pose.cg_m == pytest.approx(lowest.q[:3], abs=NEAR_M), i
    assert lowest.off_deg(found.pose.turn) < NEAR_DEG, i
    assert found.pulls_N == pytest.approx(lowest.pulls_N, abs=NEAR_SHARE * case.weight_N), i


@pytest.mark.parametrize("bridles", [False, True], ids=["single points", "bridles among them"])
def test_agrees_with_newtons_balance_and_scipys_least_energy(bridles: bool) -> None:
    rng = np.random.default_rng(217 + bridles)
    some_slack = others = 0
    for i in range(CASES):
        case = random_case(rng, bridles=bridles)
        found = rest(case.weight_N, case.lines, falls=True)
        assert found.settled and found.stable, i
        assert_rests_there(found, nearest_rest(case, found.pose), case, i)
        some_slack += any(found.slack)
        if i < SEARCHED:
            lowest = least_energy(case)
            if lowest.off_deg(found.pose.turn) > 1.0:  # some have two rests, one load line slack in each
                lowest, others = least_energy(case, nudged(found.pose, rng)), others + 1
            assert_rests_there(found, lowest, case, i)
    assert some_slack > CASES / 20 and others < SEARCHED / 20


def test_lines_that_do_not_stretch_agree_with_scipys_constrained_minimum() -> None:
    rng = np.random.default_rng(227)
    for i in range(CASES):
        case = random_case(rng, bridles=False)
        found = rest_unstretched(case.weight_N, case.lines, falls=True)
        lowest = lowest_unstretched(case, found.pose, rng)
        assert found.stable, i
        assert found.pose.cg_m == pytest.approx(lowest.q[:3], abs=NEAR_M), i
        assert lowest.off_deg(found.pose.turn) < NEAR_DEG, i


def test_one_line_hangs_plumb_through_the_cg_and_may_spin() -> None:
    pick = (2.0, 0.5, 1.0)
    found = rest(W, [Line((1.0, 2.0, 10.0), 4.0, 1e6, Straight(pick, 1.5))], start=pose_of((1.5, 2.0, 3.0)))
    below = 5.5 + W / 1e6 + hypot(*pick)
    assert found.pose.cg_m == pytest.approx((1.0, 2.0, 10.0 - below), abs=1e-7)
    assert found.stable and found.least_stiffness_N_per_m == pytest.approx(0.0, abs=1e-3 * W)
    assert found.pulls_N == pytest.approx((W,), rel=1e-9)


def test_two_lines_from_one_tip_hold_by_the_triangle_of_forces() -> None:
    lines = [Line((0.0, 0.0, 10.0), 6.0, 1e9, Straight((x, 0.0, 1.0))) for x in (-2.0, 2.0)]
    found = rest(W, lines)
    assert found.pulls_N == pytest.approx((W / 2.0 / (36.0 - 4.0) ** 0.5 * 6.0,) * 2, rel=1e-3)
    assert found.pose.pitch_rad == pytest.approx(0.0, abs=1e-9)


def test_a_cg_beside_its_picks_rolls_under_them() -> None:
    lines = [Line((x, 0.0, 500.0), 490.0, 1e9, Straight((x, -0.3, 1.1))) for x in (-5.0, 5.0)]
    assert rest(W, lines).pose.roll_rad == pytest.approx(-np.arctan2(0.3, 1.1), abs=1e-3)


def test_pendulum_stiffness_is_weight_over_length() -> None:
    # Along and across: a body on two plumb lines of length l moves as if on a spring of W / l. Nothing is softer here.
    lines = [Line((x, y, 20.0), 16.0, 1e9, Straight((x, y, 4.0))) for x in (-5.0, 5.0) for y in (-2.0, 2.0)]
    assert rest(W, lines).least_stiffness_N_per_m == pytest.approx(W / 16.0, rel=1e-3)


def on_two_plumb_lines(cg_over_picks_m: float) -> list[Line]:
    return [Line((x, 0.0, 20.0), 10.0, 1e9, Straight((x, 0.0, -cg_over_picks_m))) for x in (-5.0, 5.0)]


def test_a_cg_over_its_two_picks_stands_on_a_knifes_edge_and_falls_when_let() -> None:
    start = pose_of((0.0, 0.0, 10.5))
    edge = rest(W, on_two_plumb_lines(0.5), start=start)
    assert edge.settled and not edge.stable and edge.least_stiffness_N_per_m < 0.0
    assert edge.pose.roll_rad == pytest.approx(0.0, abs=1e-9)
    fallen = rest(W, on_two_plumb_lines(0.5), start=start, falls=True)
    assert fallen.stable and abs(degrees(fallen.pose.roll_rad)) == pytest.approx(180.0, abs=1e-4)
    assert fallen.pose.cg_m[2] == pytest.approx(9.5, abs=1e-3)


def test_lines_that_meet_near_one_tip_hold_a_cg_over_their_picks() -> None:
    # Two lines across from one tip: a triangle with its CG under the tip, held although the CG is over the picks. Two
    # plumb lines are a parallelogram, which moves across and does not roll; one of them alone would turn over.
    def across(sheaves_y_m: tuple[float, ...]) -> list[Line]:
        return [Line((0.0, y, 8.0), 7.0, 1e9, Straight((0.0, 1.0 if y > 0 else -1.0, -0.3))) for y in sheaves_y_m]

    for sheaves in ((-0.1, 0.1), (-1.0, 1.0)):
        found = rest(W, across(sheaves), free=SECTION)
        assert found.stable and found.pulls_N[0] == pytest.approx(found.pulls_N[1], rel=1e-9)
        assert found.pose.roll_rad == pytest.approx(0.0, abs=1e-9)
    alone = rest(W, across((0.1,)), start=pose_of((0.0, 0.0, 2.0)), free=SECTION)
    assert alone.pose.turn[2] @ (0.0, 1.0, -0.3) == pytest.approx(hypot(1.0, 0.3), abs=1e-6)


@pytest.mark.parametrize("name", ["tank_on_side", "box_on_wheels"])
def test_the_plans_hang_on_two_plumb_lines_is_the_pose_of_least_energy(name: str) -> None:
    load = load_of(scenario(SCENARIOS / f"{name}.toml"))
    hanging = hang(load, 0.0, load.roll_rad)
    lines = []
    for hook, share, pick, at in zip(
        hanging.hooks_m, hanging.shares, load.trailer.picks, load.body.picks_m, strict=True
    ):
        path = Bridle if pick.pivot == "bridle_across" else Straight
        x, y, z = np.subtract(at, load.body.cg_m)
        stretch = share * load.weight_N / 1e7
        lines.append(Line((hook[0], hook[1], hook[2] + 7.0), 7.0 - stretch, 1e7, path((x, y, z), pick.height_m)))
    found = rest(load.weight_N, lines)
    assert found.pose.roll_rad == pytest.approx(load.roll_rad, abs=1e-5)
    assert found.pose.pitch_rad == pytest.approx(0.0, abs=1e-5)
    assert found.pulls_N == pytest.approx([share * load.weight_N for share in hanging.shares], rel=1e-4)


def test_nothing_holds_a_body_whose_lines_are_all_long() -> None:
    falling = rest(W, [Line((0.0, 0.0, 10.0), 1e4, 1e6, Straight((0.0, 0.0, 1.0)))], start=pose_of((0.0, 0.0, 0.0)))
    assert not falling.settled and not falling.stable and falling.slack == (True,)


def test_a_pose_tells_the_angles_it_was_made_of() -> None:
    pose = pose_of((0.0, 0.0, 0.0), 0.3, -0.7, 2.5)
    assert (pose.pitch_rad, pose.yaw_rad, pose.roll_rad) == pytest.approx((0.3, -0.7, 2.5))

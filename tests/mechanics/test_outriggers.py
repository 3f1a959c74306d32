"""Four floats that only push: worked cases, and what must hold for any set-up."""

from __future__ import annotations

from itertools import pairwise
from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from simulator.mechanics.outriggers import Footing, frame, solve, solve_many
from simulator.readings import FLOAT_NAMES
from tests.mechanics.setups import FEWER, PROPERTY, Setup, setups

# Rigid pile cap formula, in any foundation text (read in a secondary copy); mathematics. Feet and pounds throughout:
# reactions do not depend on the unit, nor on the springs' common stiffness.
LEGS = ((10.0, 9.0), (10.0, -9.0), (-10.0, 9.0), (-10.0, -9.0))
R_A_LB = 44000.0 * 19.0 / 35.0
TENTH_LB = 0.05


def reactions(places: tuple[tuple[float, float], ...], weight: float, u: float, v: float) -> tuple[float, ...]:
    return solve(frame(places, (1.0,) * 4), weight, weight * u, weight * v).reactions_N


def test_float_order_is_that_of_the_readings() -> None:
    signs = {"tailboard": 1.0, "cab": -1.0, "road": 1.0, "ravine": -1.0}
    for name, (u, v) in zip(FLOAT_NAMES, LEGS, strict=True):
        end, side = name.split("_")
        assert (np.sign(u), np.sign(v)) == (signs[end], signs[side])


def test_worked_1_resultant_off_center() -> None:
    assert reactions(LEGS, 90000.0, 3.0, 2.0) == pytest.approx((34250.0, 24250.0, 20750.0, 10750.0), abs=TENTH_LB)


@pytest.mark.parametrize(
    ("slew_deg", "expected"),
    [
        (0.0, (37608.6, 37608.6, 8334.3, 8334.3)),
        (45.0, (44821.5, 21821.4, 24121.4, 1121.4)),
        (90.0, (39234.9, 6707.9, 39234.9, 6707.9)),
        (135.0, (24121.4, 1121.4, 44821.5, 21821.4)),
        (180.0, (8334.3, 8334.3, 37608.6, 37608.6)),
    ],
)
def test_worked_2_full_truck(slew_deg: float, expected: tuple[float, ...]) -> None:
    weight = 62000.0 + 6000.0 + R_A_LB
    moment = 6000.0 * 10.0 + R_A_LB * 22.0
    slew = radians(slew_deg)
    found = solve(frame(LEGS, (1.0,) * 4), weight, moment * cos(slew), moment * sin(slew))
    assert found.reactions_N == pytest.approx(expected, abs=0.1)
    assert not any(found.off) and not found.tips


def test_worked_2_first_lift_off_at_45_degrees() -> None:
    def far_is_off(load: float) -> bool:
        weight, moment = 68000.0 + load, (60000.0 + load * 22.0) * cos(radians(45.0))
        return solve(frame(LEGS, (1.0,) * 4), weight, moment, moment).off == (False, False, False, True)

    assert not far_is_off(25849.50 - 0.01)
    assert far_is_off(25849.50 + 0.01)


def test_worked_3_a_leg_lifts_and_statics_takes_over() -> None:
    legs = ((3.0, 2.0), (3.0, -2.0), (-3.0, 2.0), (-3.0, -2.0))
    pile_cap = frame(legs, (1.0,) * 4).share
    assert [a * 100.0 + b * 200.0 + c * 100.0 for a, b, c in pile_cap] == pytest.approx(
        [54.1667, 29.1667, 20.8333, -4.1667], abs=5e-5
    )
    found = solve(frame(legs, (1.0,) * 4), 100.0, 200.0, 100.0)
    assert found.reactions_N == pytest.approx((58.3333, 25.0, 16.6667, 0.0), abs=5e-5)
    assert found.off == (False, False, False, True) and not found.tips


def test_worked_3_as_tips_when_the_resultant_leaves_the_outline() -> None:
    legs = ((3.0, 2.0), (3.0, -2.0), (-3.0, 2.0), (-3.0, -2.0))
    assert not solve(frame(legs, (1.0,) * 4), 100.0, 0.0, 100.0 * 1.9999).tips
    assert solve(frame(legs, (1.0,) * 4), 100.0, 0.0, 100.0 * 2.0001).tips


def balance_error(setup: Setup, found: tuple[float, ...]) -> float:
    """Largest error of the three balances, as a share of weight times a length of 1 m or of the floats' spread."""
    weight, toward_u, toward_v = setup.load
    spread = max(abs(c) for place in setup.places for c in place)
    sums = (
        sum(found) - weight,
        (sum(r * u for r, (u, _) in zip(found, setup.places, strict=True)) - toward_u) / spread,
        (sum(r * v for r, (_, v) in zip(found, setup.places, strict=True)) - toward_v) / spread,
    )
    return max(abs(value) for value in sums) / weight


@PROPERTY
@given(setups())
def test_vertical_and_both_moments_balance_unless_it_tips(setup: Setup) -> None:
    found = solve(setup.frame, *setup.load)
    assert all(r >= 0.0 for r in found.reactions_N)
    assert found.off == tuple(r == 0.0 for r in found.reactions_N)
    if found.tips:
        assert sum(found.reactions_N) == pytest.approx(setup.vertical_N, rel=1e-9)
    else:
        assert balance_error(setup, found.reactions_N) < 1e-9


@PROPERTY
@given(setups(ragged=0.0))
def test_tips_exactly_when_the_resultant_is_outside_the_rectangle(setup: Setup) -> None:
    (front, side), (back, _) = setup.places[0], setup.places[3]
    outside = max(setup.at[0] - front, back - setup.at[0], abs(setup.at[1]) - side)
    assume(abs(outside) > 1e-9)
    assert solve(setup.frame, *setup.load).tips == (outside > 0.0)


@PROPERTY
@given(setups(), st.tuples(*[st.floats(0.0, 0.05)] * 4))
def test_each_spring_pushes_by_its_own_sink_and_a_lifted_float_hangs_clear(
    setup: Setup, settled_m: tuple[float, float, float, float]
) -> None:
    """The conditions that single out the one answer: R = k max(0, sink - settlement) at every float."""
    for settled in (None, settled_m):
        found = solve(setup.frame, *setup.load, settled_m=settled)
        if found.tips:
            continue
        for i, (u, v) in enumerate(setup.places):
            sink = found.sink_m + found.lean_u_rad * u + found.lean_v_rad * v - (settled[i] if settled else 0.0)
            assert found.reactions_N[i] == pytest.approx(
                setup.stiffness[i] * max(0.0, sink), rel=1e-6, abs=1e-7 * setup.vertical_N
            )


@PROPERTY
@given(setups())
def test_a_mirrored_set_up_mirrors(setup: Setup) -> None:
    swap = (1, 0, 3, 2)
    mirrored = Setup(
        tuple((setup.places[i][0], -setup.places[i][1]) for i in swap),
        tuple(setup.stiffness[i] for i in swap),
        setup.vertical_N,
        (setup.at[0], -setup.at[1]),
    )
    here, there = solve(setup.frame, *setup.load), solve(mirrored.frame, *mirrored.load)
    assert there.reactions_N == pytest.approx([here.reactions_N[i] for i in swap], abs=1e-9 * setup.vertical_N)
    assert there.tips == here.tips
    if not here.tips:
        assert there.lean_v_rad == pytest.approx(-here.lean_v_rad, abs=1e-9)


@FEWER
@given(setups(ragged=0.0, equal=True, spread=0.9), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_past_the_middle_moving_the_load_outward_never_raises_the_lightest_float(
    setup: Setup, du: float, dv: float
) -> None:
    """Equal springs; the resultant, and its move, on the boom's side of the middle both along and across."""
    middle = sum(u for u, _ in setup.places) / 4.0
    side_u, side_v = np.sign(setup.at[0] - middle), np.sign(setup.at[1])
    weight = setup.vertical_N
    lightest = []
    for out in np.linspace(0.0, 3.0, 12):
        u, v = setup.at[0] + side_u * du * out, setup.at[1] + side_v * dv * out
        lightest.append(min(solve(setup.frame, weight, weight * u, weight * v).reactions_N))
    assert all(later <= sooner + 1e-9 * weight for sooner, later in pairwise(lightest))


@FEWER
@given(setups(), st.floats(0.0, 6.2832))
def test_away_from_the_stiffness_center_the_least_loaded_spring_only_unloads(setup: Setup, bearing: float) -> None:
    """Any springs, each float against its own stiffness, along any line out of the stiffness center."""
    total = sum(setup.stiffness)
    cu, cv = (sum(k * place[i] for k, place in zip(setup.stiffness, setup.places, strict=True)) / total for i in (0, 1))
    weight = setup.vertical_N
    least = []
    for out in np.linspace(0.0, 4.0, 12):
        found = solve(setup.frame, weight, weight * (cu + out * cos(bearing)), weight * (cv + out * sin(bearing)))
        if found.tips:
            break
        least.append(min(r / k for r, k in zip(found.reactions_N, setup.stiffness, strict=True)))
    assert least[0] == pytest.approx(weight / total)
    assert all(later <= sooner + 1e-9 * least[0] for sooner, later in pairwise(least))


@FEWER
@given(setups(spread=0.6), st.integers(0, 3), st.floats(1e3, 5e4))
def test_load_over_a_corner_unloads_the_opposite_one(setup: Setup, corner: int, extra_N: float) -> None:
    u, v = setup.places[corner]
    weight, toward_u, toward_v = setup.load
    before = solve(setup.frame, *setup.load)
    after = solve(setup.frame, weight + extra_N, toward_u + extra_N * u, toward_v + extra_N * v)
    assume(not any(before.off) and not any(after.off))
    assert after.reactions_N[3 - corner] < before.reactions_N[3 - corner]
    assert after.reactions_N[corner] > before.reactions_N[corner]


def test_square_to_the_side_both_far_floats_go_together_with_tipping() -> None:
    """Consistency check of the worked truck: far legs reach 0 at the tipping load from moments, 42,461.538 lb."""

    def at(load: float) -> Footing:
        return solve(frame(LEGS, (1.0,) * 4), 68000.0 + load, 0.0, 60000.0 + load * 22.0)

    tipping = (62000.0 * 9.0 - 6000.0 * 1.0) / 13.0
    assert tipping == pytest.approx(42461.538, abs=5e-4)
    below, on, above = at(tipping - 0.1), at(tipping), at(tipping + 0.1)
    assert (below.off, below.tips) == ((False,) * 4, False)
    assert on.reactions_N == pytest.approx((55230.769, 0.0, 55230.769, 0.0), abs=TENTH_LB)
    assert (on.off, on.tips) == ((False, True, False, True), False)
    assert above.tips


@FEWER
@given(setups(spread=0.5), st.floats(0.0, 6.2832))
def test_a_float_is_light_before_it_is_off_and_off_no_later_than_the_unit_tips(setup: Setup, bearing: float) -> None:
    weight, seen = setup.vertical_N, []
    for out in np.linspace(0.0, 12.0, 60):
        u, v = setup.at[0] + out * cos(bearing), setup.at[1] + out * sin(bearing)
        seen.append(solve(setup.frame, weight, weight * u, weight * v))
    assert seen[-1].tips
    first_tip = next(i for i, found in enumerate(seen) if found.tips)
    assert any(seen[first_tip].off) and all(found.tips for found in seen[first_tip:])
    assert all(sum(found.off) <= 1 for found in seen[:first_tip])


def test_resultant_on_an_edge_and_on_a_corner_is_carried_by_those_floats_alone() -> None:
    """Lever arms; whatever the springs."""
    soft = frame(LEGS, (3.0, 1.0, 0.2, 7.0))
    on_edge = solve(soft, 100.0, 100.0 * 2.5, 900.0)
    assert on_edge.reactions_N == pytest.approx((62.5, 0.0, 37.5, 0.0), abs=1e-10)
    assert on_edge.off == (False, True, False, True) and not on_edge.tips
    for corner, (u, v) in enumerate(LEGS):
        found = solve(soft, 100.0, 100.0 * u, 100.0 * v)
        assert found.reactions_N[corner] == pytest.approx(100.0) and sum(found.off) == 3 and not found.tips


def test_nothing_on_it_stands_and_a_net_lift_tips() -> None:
    legs = frame(LEGS, (1.0,) * 4)
    empty, lifted, turned = solve(legs, 0.0, 0.0, 0.0), solve(legs, -1.0, 0.0, 0.0), solve(legs, 0.0, 1.0, 0.0)
    assert empty.reactions_N == (0.0,) * 4 and not empty.tips
    assert lifted.tips and lifted.reactions_N == (0.0,) * 4
    assert turned.tips


def test_a_settled_float_sheds_load_along_its_diagonal() -> None:
    """One float of four equal ones sinking by g unloads its diagonal by k g / 4 each; the other diagonal takes it."""
    found = solve(frame(LEGS, (2.0,) * 4), 100.0, 0.0, 0.0, settled_m=(6.0, 0.0, 0.0, 0.0))
    assert found.reactions_N == pytest.approx((22.0, 28.0, 28.0, 22.0))


def test_floats_that_are_no_convex_outline_are_refused() -> None:
    for places in (
        ((0, 0), (1, 0), (1, 1), (0, 1)),
        ((1, 1), (1, -1), (-1, 1), (0.9, 0.9)),
        ((1, 0), (2, 0), (3, 0), (4, 0)),
    ):
        with pytest.raises(ValueError, match="convex outline"):
            frame(places, (1.0,) * 4)


def test_many_at_once_are_the_same_as_one_by_one() -> None:
    draw = np.random.default_rng(1)
    floats = frame(((2.8, 3.5), (2.6, -3.4), (-4.2, 3.5), (-4.0, -3.6)), (8e6, 5e6, 2e6, 9e6))
    weight = draw.uniform(1e5, 1e6, 3000)
    u, v = weight * draw.uniform(-6.0, 4.0, 3000), weight * draw.uniform(-4.5, 4.5, 3000)
    u[:2], v[:2] = (2.8 * weight[0], 0.0), (3.5 * weight[0], 0.0)
    many = solve_many(floats, weight, u, v)
    ones = [solve(floats, *load) for load in zip(weight.tolist(), u.tolist(), v.tolist(), strict=True)]
    assert many.tips.tolist() == [one.tips for one in ones]
    assert 0 < many.tips.sum() < 3000 and many.off.any(axis=1).sum() > many.tips.sum()
    np.testing.assert_allclose(many.reactions_N, [one.reactions_N for one in ones], atol=1e-6)
    np.testing.assert_array_equal(many.off, [one.off for one in ones])
    stands = ~many.tips
    for name in ("sink_m", "lean_u_rad", "lean_v_rad"):
        expected = np.array([getattr(one, name) for one in ones])
        np.testing.assert_allclose(getattr(many, name)[stands], expected[stands], atol=1e-12)

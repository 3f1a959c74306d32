"""How the tip gives: against the float solve itself, and a cantilever."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.boom_section import base_inertia_m4, bend_of, tip_give_m_per_N
from simulator.mechanics.footing import pull_load, stand
from simulator.mechanics.lean import (
    along_m_per_N,
    boom_compliance,
    displacement_m,
    frame_compliance,
    tip_compliance,
    world_axes,
)
from simulator.mechanics.outriggers import frame, solve
from tests.mechanics.demo_set import NOSE_UNIT
from tests.mechanics.setups import FEWER, Setup, setups

BOOM, BEND = NOSE_UNIT.boom, bend_of(NOSE_UNIT)
meters = st.floats(-9.0, 9.0)


@FEWER
@given(setups(spread=0.3), meters, meters, st.floats(2.0, 15.0), st.tuples(*[st.floats(-2e4, 2e4)] * 3))
def test_frame_compliance_is_the_difference_of_two_float_solves(
    setup: Setup, u: float, v: float, z: float, force: tuple[float, float, float]
) -> None:
    """A body that sinks w and leans (a, b) moves a point at (u, v, z) by (a z, b z, -(w + a u + b v))."""
    level = stand(NOSE_UNIT)
    extra = pull_load(level, (u, v, z), force)
    before = solve(setup.frame, *setup.load)
    after = solve(setup.frame, *(a + b for a, b in zip(setup.load, extra, strict=True)))
    assume(not any(before.off) and not any(after.off))
    w, a, b = (x - y for x, y in zip(after[2:], before[2:], strict=True))
    moved = displacement_m(frame_compliance(setup.frame, (u, v, z)), force)
    assert moved == pytest.approx((a * z, b * z, -(w + a * u + b * v)), rel=1e-6, abs=1e-9)


@FEWER
@given(setups(), meters, meters, st.floats(2.0, 15.0))
def test_frame_compliance_is_symmetric_and_never_negative(setup: Setup, u: float, v: float, z: float) -> None:
    matrix = np.array(frame_compliance(setup.frame, (u, v, z))).reshape(3, 3)
    np.testing.assert_array_equal(matrix, matrix.T)
    values = np.linalg.eigvalsh(matrix)
    assert values[0] >= -1e-9 * values[-1]


def test_pull_straight_down_over_the_stiffness_center_sinks_four_springs() -> None:
    floats = frame(((3.0, 2.0), (3.0, -2.0), (-3.0, 2.0), (-3.0, -2.0)), (8e6,) * 4)
    assert displacement_m(frame_compliance(floats, (0.0, 0.0, 9.0)), (0.0, 0.0, -32e3)) == pytest.approx((0, 0, -1e-3))


@pytest.mark.parametrize("length_m", [14.5, 7.25])
def test_boom_bends_square_to_itself_as_a_cantilever(length_m: float) -> None:
    """None along the boom; square to it, in both planes, by its sections' give."""
    elevation, slew = radians(40.0), radians(-65.0)
    matrix = boom_compliance(bend_of(NOSE_UNIT), BoomPose(length_m, elevation, slew))
    along = (cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation))
    upward = (-sin(elevation) * cos(slew), -sin(elevation) * sin(slew), cos(elevation))
    sideways = (-sin(slew), cos(slew), 0.0)
    give = tip_give_m_per_N(BOOM, NOSE_UNIT.boom_kg, length_m)
    assert displacement_m(matrix, along) == pytest.approx((0.0, 0.0, 0.0), abs=1e-20)
    for square in (upward, sideways):
        assert displacement_m(matrix, square) == pytest.approx([give * part for part in square], rel=5e-4)
        assert along_m_per_N(matrix, square) == pytest.approx(give, rel=5e-4)


def test_one_section_is_a_plain_cantilever() -> None:
    """A boom drawn in rests on its foot section alone: l^3 / (3 E I), I of a square tube."""
    inertia = base_inertia_m4(BOOM, 5500.0)
    plate = 0.55 / 2.0 - (0.55**4 - 12.0 * inertia) ** 0.25 / 2.0
    assert 0.012 < plate < 0.018
    assert tip_give_m_per_N(BOOM, 5500.0, 6.7) == pytest.approx(6.7**3 / (3.0 * 205e9 * inertia), rel=1e-9)


def test_the_usual_boom_is_as_stiff_as_its_mass_allows() -> None:
    """5.5 t of 0.55 m boxes at 14.5 m: 13 mm of plate all along would be 2.7e5 N/m, thicker at the foot up to 3.8e5."""
    stiffness = 1.0 / tip_give_m_per_N(BOOM, 5500.0, 14.5)
    assert 2.6e5 < stiffness < 3.8e5
    lengths = [6.7 + 0.1 * i for i in range(79)]
    gives = [tip_give_m_per_N(BOOM, 5500.0, length) for length in lengths]
    assert gives == sorted(gives)
    assert 1.0 / tip_give_m_per_N(BOOM, 11000.0, 14.5) > 1.5 * stiffness


def test_a_stated_stiffness_holds_at_the_longest_and_keeps_the_shape() -> None:
    stated = replace(BOOM, tip_stiffness_N_per_m=1.2e6)
    assert tip_give_m_per_N(stated, 5500.0, 14.5) == pytest.approx(1.0 / 1.2e6)
    shape = [tip_give_m_per_N(stated, 5500.0, at) / tip_give_m_per_N(BOOM, 5500.0, at) for at in (6.7, 9.0, 14.5)]
    assert shape == pytest.approx([shape[0]] * 3)


def test_tip_compliance_adds_both_and_world_axes_only_change_signs() -> None:
    floats, pose, tip = stand(NOSE_UNIT).frame, BoomPose(11.0, 0.6, -1.1), (3.6, -7.0, 8.8)
    both = np.array(tip_compliance(floats, BEND, pose, tip))
    parts = np.array(frame_compliance(floats, tip)) + np.array(boom_compliance(BEND, pose))
    np.testing.assert_allclose(both, parts, rtol=1e-15)
    flip = np.diag([-1.0, 1.0, 1.0])
    turned = np.array(world_axes(-1.0, tip_compliance(floats, BEND, pose, tip))).reshape(3, 3)
    np.testing.assert_array_equal(turned, flip @ both.reshape(3, 3) @ flip)
    assert world_axes(1.0, tuple(both)) == tuple(both)

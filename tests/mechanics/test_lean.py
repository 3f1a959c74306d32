"""How the tip gives: against the float solve itself, and a cantilever."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from simulator.mechanics.boom import BoomPose
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

BOOM = NOSE_UNIT.boom
metres = st.floats(-9.0, 9.0)


@FEWER
@given(setups(spread=0.3), metres, metres, st.floats(2.0, 15.0), st.tuples(*[st.floats(-2e4, 2e4)] * 3))
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
@given(setups(), metres, metres, st.floats(2.0, 15.0))
def test_frame_compliance_is_symmetric_and_never_negative(setup: Setup, u: float, v: float, z: float) -> None:
    matrix = np.array(frame_compliance(setup.frame, (u, v, z))).reshape(3, 3)
    np.testing.assert_array_equal(matrix, matrix.T)
    values = np.linalg.eigvalsh(matrix)
    assert values[0] >= -1e-9 * values[-1]


def test_pull_straight_down_over_the_stiffness_centre_sinks_four_springs() -> None:
    floats = frame(((3.0, 2.0), (3.0, -2.0), (-3.0, 2.0), (-3.0, -2.0)), (8e6,) * 4)
    assert displacement_m(frame_compliance(floats, (0.0, 0.0, 9.0)), (0.0, 0.0, -32e3)) == pytest.approx((0, 0, -1e-3))


@pytest.mark.parametrize("length_m", [14.5, 7.25])
def test_boom_bends_square_to_itself_as_a_cantilever(length_m: float) -> None:
    """None along the boom; square to it, in both planes, F / k with k growing as the cube of longest over length."""
    elevation, slew = radians(40.0), radians(-65.0)
    matrix = boom_compliance(BOOM, BoomPose(length_m, elevation, slew))
    along = (cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation))
    upward = (-sin(elevation) * cos(slew), -sin(elevation) * sin(slew), cos(elevation))
    sideways = (-sin(slew), cos(slew), 0.0)
    give = (length_m / 14.5) ** 3 / 1.2e6
    assert displacement_m(matrix, along) == pytest.approx((0.0, 0.0, 0.0), abs=1e-20)
    for square in (upward, sideways):
        assert displacement_m(matrix, square) == pytest.approx([give * part for part in square])
        assert along_m_per_N(matrix, square) == pytest.approx(give)


def test_tip_compliance_adds_both_and_world_axes_only_change_signs() -> None:
    floats, pose, tip = stand(NOSE_UNIT).frame, BoomPose(11.0, 0.6, -1.1), (3.6, -7.0, 8.8)
    both = np.array(tip_compliance(floats, BOOM, pose, tip))
    parts = np.array(frame_compliance(floats, tip)) + np.array(boom_compliance(BOOM, pose))
    np.testing.assert_allclose(both, parts, rtol=1e-15)
    flip = np.diag([-1.0, 1.0, 1.0])
    turned = np.array(world_axes(-1.0, tip_compliance(floats, BOOM, pose, tip))).reshape(3, 3)
    np.testing.assert_array_equal(turned, flip @ both.reshape(3, 3) @ flip)
    assert world_axes(1.0, tuple(both)) == tuple(both)

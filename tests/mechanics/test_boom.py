"""Boom geometry: rows worked by hand (mathematics), and the inverse by round trip."""

from __future__ import annotations

from dataclasses import replace
from math import acos, cos, degrees, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.mechanics.boom import BoomPose, boom_pose, reach_m, tip_m
from simulator.scenario.unit import Unit
from tests.mechanics.demo_set import NOSE_UNIT, UNITS

FOOT_M = 0.3048


def unit(back_ft: float, height_ft: float) -> Unit:
    boom = replace(NOSE_UNIT.boom, foot_pin_back_m=back_ft * FOOT_M, foot_pin_height_m=height_ft * FOOT_M)
    return replace(NOSE_UNIT, slew_axis_x_m=0.0, boom=boom)


def tip_ft(made: Unit, length_ft: float, elevation_deg: float, slew_deg: float = 0.0) -> tuple[float, ...]:
    pose = BoomPose(length_ft * FOOT_M, radians(elevation_deg), radians(slew_deg))
    return tuple(value / FOOT_M for value in tip_m(made, pose))


@pytest.mark.parametrize(
    ("length_ft", "elevation_deg", "reach_ft", "height_ft"),
    [
        (40, 60, 20.000000, 34.641016),
        (40, 45, 28.284271, 28.284271),
        (30, 30, 25.980762, 15.000000),
        (50, 70, 17.101007, 46.984631),
    ],
)
def test_reach_and_height_from_the_foot(
    length_ft: float, elevation_deg: float, reach_ft: float, height_ft: float
) -> None:
    x, y, z = tip_ft(unit(0.0, 0.0), length_ft, elevation_deg)
    assert (x, y, z) == pytest.approx((reach_ft, 0.0, height_ft), abs=5e-7)


def test_foot_set_back_and_raised() -> None:
    """L = 40 ft, 55 degrees, foot 3 ft back and 8 ft up."""
    x, _, z = tip_ft(unit(3.0, 8.0), 40, 55)
    assert (x, z) == pytest.approx((19.943057, 40.766082), abs=5e-7)
    assert reach_m(unit(3.0, 8.0), 40 * FOOT_M, radians(55)) / FOOT_M == pytest.approx(19.943057, abs=5e-7)


@pytest.mark.parametrize(
    ("slew_deg", "drawn_ft"), [(30, 17.271194), (60, 9.971529), (90, 0.0), (120, -9.971529), (180, -19.943057)]
)
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_side_view_draws_reach_times_cosine_of_slew(slew_deg: float, drawn_ft: float, side: float) -> None:
    x, y, z = tip_ft(unit(3.0, 8.0), 40, 55, side * slew_deg)
    assert (x, z) == pytest.approx((drawn_ft, 40.766082), abs=5e-7)
    assert y == pytest.approx(side * 19.943057 * sin(radians(slew_deg)), abs=5e-7)


def test_eight_feet_further_at_the_same_height() -> None:
    """From 40 ft at 60 degrees: 44.542115 ft at 51.051724 degrees, 4.542 ft more and not 12."""
    plain = unit(0.0, 0.0)
    x, y, z = tip_m(plain, BoomPose(40 * FOOT_M, radians(60), 0.0))
    pose = boom_pose(plain, (x + 8 * FOOT_M, y, z))
    assert pose.length_m / FOOT_M == pytest.approx(44.542115, abs=5e-7)
    assert degrees(pose.elevation_rad) == pytest.approx(51.051724, abs=5e-7)


def test_trade_rule_holds_at_one_elevation() -> None:
    """8 ft of reach for 12 ft of boom at acos(8 / 12) alone; the tip rises 8.944272 ft (common practice, no source)."""
    elevation = acos(8 / 12)
    assert degrees(elevation) == pytest.approx(48.189685, abs=5e-7)
    short, long = (tip_ft(unit(3.0, 8.0), length, degrees(elevation)) for length in (30, 42))
    assert long[0] - short[0] == pytest.approx(8.0, rel=1e-6)
    assert long[2] - short[2] == pytest.approx(8.944272, abs=5e-7)


@given(st.floats(3.0, 40.0), st.floats(-0.15, 1.5), st.floats(-pi + 0.01, pi - 0.01), st.sampled_from([0, 1]))
def test_inverse_finds_the_boom_again(length: float, elevation: float, slew: float, end: int) -> None:
    made = unit(3.0, 8.0)
    if reach_m(made, length, elevation) < 0.05:
        return
    pose = boom_pose(made, tip_m(made, BoomPose(length, elevation, slew)))
    assert pose == pytest.approx((length, elevation, slew), abs=1e-9)


@given(st.floats(-30.0, 30.0), st.floats(-30.0, 30.0), st.floats(0.0, 40.0), st.sampled_from([0, 1]))
def test_inverse_puts_the_tip_there(x: float, y: float, z: float, end: int) -> None:
    unit = UNITS[end]
    pose = boom_pose(unit, (x, y, z))
    assert tip_m(unit, pose) == pytest.approx((x, y, z), abs=1e-9)
    assert pose.length_m > 0.0
    reach = hypot(x - unit.slew_axis_x_m, y)
    assert reach_m(unit, pose.length_m, pose.elevation_rad) == pytest.approx(reach, abs=1e-9)


def test_units_face_each_other() -> None:
    """The nose unit's tailboard looks along +x, the tail unit's along -x; slew toward the road is +y for both."""
    assert tuple(unit.facing for unit in UNITS) == (1.0, -1.0)
    pose = BoomPose(10.0, radians(50), radians(20))
    nose, tail = (tip_m(replace(unit, slew_axis_x_m=0.0), pose) for unit in UNITS)
    assert nose == pytest.approx((-tail[0], tail[1], tail[2]))
    reach = 10.0 * cos(radians(50)) - NOSE_UNIT.boom.foot_pin_back_m
    assert nose[0] == pytest.approx(reach * cos(radians(20)))
    assert nose[1] > 0.0

"""Tipping load, rating table, capacity used."""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi

import numpy as np
import pytest

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.footing import Stand, footing, own_axes, own_load, own_load_many, stand
from simulator.mechanics.rating import (
    allowed_load_N,
    capacity_used,
    rated_load_many,
    rated_load_N,
    tipping_load_many,
    tipping_load_N,
)
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2 as G
from simulator.scenario.unit import Floats, Rating, Unit
from tests.mechanics.demo_set import NOSE_UNIT

FT, LB = 0.3048, 0.45359237
LBF = LB * G
R_A_LB, R_B_LB = 44000.0 * 19.0 / 35.0, 44000.0 * 16.0 / 35.0
NOTHING_KG = 1e-9


def truck(weight_lb: float, across_ft: float, end_ft: float, boom_cg_ft: float, load_ft: float) -> tuple[Stand, Unit]:
    """A worked truck: weight on the slew axis, a 6,000-lb level boom, no superstructure."""
    floats = Floats(end_ft * FT, end_ft * FT, across_ft * FT)
    unit = replace(
        NOSE_UNIT,
        floats=floats,
        boom=replace(NOSE_UNIT.boom, foot_pin_back_m=0.0),
        carrier_kg=weight_lb * LB,
        carrier_cg_m=0.0,
        superstructure_kg=NOTHING_KG,
        boom_kg=6000.0 * LB,
        boom_cg_share=boom_cg_ft / load_ft,
    )
    return stand(unit), unit


def tipping_lb(on: Stand, load_ft: float, slew_rad: float) -> float:
    pose = BoomPose(load_ft * FT, 0.0, slew_rad)
    tip = (load_ft * FT * np.cos(slew_rad), load_ft * FT * np.sin(slew_rad), 3.0)
    return tipping_load_N(on, own_load(on, pose), tip) / LBF


# Rated load as a share of tipping load: 85 % with or without outriggers (29 CFR 1910.180(c)(1), SAE J765; row names
# read in a state adoption, 85 % in a summary). The rows themselves are statics about a tipping line.
@pytest.mark.parametrize("slew_rad", [pi / 2.0, -pi / 2.0])
def test_85_percent_worked_row(slew_rad: float) -> None:
    on, unit = truck(80000.0, 9.0, 40.0, 9.0 + 8.0, 9.0 + 15.0)
    tipping = tipping_lb(on, 24.0, slew_rad)
    assert tipping == pytest.approx(44800.0, rel=1e-6)
    assert allowed_load_N(unit, 24.0 * FT, 24.0 * FT, tipping * LBF) / LBF == pytest.approx(38080.0, rel=1e-6)
    for load, share in ((R_A_LB, 0.627251), (R_B_LB, 0.528211)):
        assert capacity_used(load * LBF, unit, 24.0 * FT, 24.0 * FT, tipping * LBF) == pytest.approx(share, abs=5e-7)
    assert R_A_LB / tipping == pytest.approx(0.533163, abs=5e-7)


def test_tipping_of_the_worked_truck_over_side_and_end() -> None:
    """Check values 13: from moments alone, and the float solve agrees at that load to 0.1 lb."""
    on, unit = truck(62000.0, 9.0, 10.0, 10.0, 22.0)
    side, end = tipping_lb(on, 22.0, pi / 2.0), tipping_lb(on, 22.0, 0.0)
    assert (side, end) == pytest.approx((42461.538, 51666.667), abs=5e-4)
    assert [allowed_load_N(unit, 22 * FT, 22 * FT, p * LBF) / LBF for p in (side, end)] == pytest.approx(
        (36092.308, 43916.667), abs=5e-4
    )
    pose, tip = BoomPose(22.0 * FT, 0.0, pi / 2.0), (0.0, 22.0 * FT, 3.0)
    found = footing(on, pose, tip, (0.0, 0.0, -side * LBF))
    assert [r / LBF for r in found.reactions_N] == pytest.approx((55230.769, 0.0, 55230.769, 0.0), abs=0.1)


@pytest.mark.parametrize("level", [(0.0, 0.0), (0.017, -0.02), (-0.01, 0.015)])
def test_tipping_load_is_where_the_float_solve_starts_to_tip(level: tuple[float, float]) -> None:
    unit = replace(NOSE_UNIT, level_along_rad=level[0], level_across_rad=level[1])
    on, tipped = stand(unit), 0
    for slew in np.linspace(-1.7, 1.7, 41):
        pose = BoomPose(11.0, 0.6, float(slew))
        x, y, z = tip_m(unit, pose)
        tip = own_axes(unit.facing, (x - unit.slew_axis_x_m, y, z))
        tipping = tipping_load_N(on, own_load(on, pose), tip)
        assert not footing(on, pose, tip, (0.0, 0.0, -tipping * (1.0 - 1e-9))).tips
        assert footing(on, pose, tip, (0.0, 0.0, -tipping * (1.0 + 1e-9))).tips
        tipped += 1
    assert tipped == 41


def test_no_load_tips_it_inside_its_floats_and_it_may_tip_by_itself() -> None:
    on = stand(NOSE_UNIT)
    own = own_load(on, BoomPose(7.7, 1.0, 0.0))
    assert tipping_load_N(on, own, (2.5, 0.0, 9.0)) == inf
    heavy = stand(replace(NOSE_UNIT, carrier_cg_m=9.0))
    assert tipping_load_N(heavy, own_load(heavy, BoomPose(7.7, 1.0, 0.0)), (9.0, 0.0, 9.0)) == 0.0
    one, none = np.array([1.0]), np.array([0.0])
    many = own_load_many(heavy, 7.7 * one, one, none)
    assert tipping_load_many(heavy, many, (9.0 * one, none, 9.0 * one)).tolist() == [0.0]
    assert capacity_used(1.0, NOSE_UNIT, 7.7, 9.0, 0.0) == inf
    assert capacity_used(0.0, NOSE_UNIT, 7.7, 9.0, 0.0) == 0.0


TABLE = Rating((8.0, 11.0, 14.0), (3.0, 6.0, 9.0), ((30e3, 28e3, 25e3), (18e3, 17e3, 16e3), (0.0, 9e3, 8e3)))


@pytest.mark.parametrize(
    ("boom_m", "radius_m", "rated_kg"),
    [
        (8.0, 3.0, 30e3),
        (7.0, 1.0, 30e3),
        (8.0, 3.01, 18e3),
        (8.01, 3.0, 28e3),
        (9.0, 6.5, 9e3),
        (8.0, 8.0, 0.0),
        (14.0, 9.0, 8e3),
        (14.1, 5.0, 0.0),
        (12.0, 9.1, 0.0),
    ],
)
def test_table_is_taken_at_the_next_larger_radius_and_next_longer_boom(
    boom_m: float, radius_m: float, rated_kg: float
) -> None:
    assert rated_load_N(TABLE, boom_m, radius_m) == rated_kg * G
    assert rated_load_many(TABLE, np.array([boom_m]), np.array([radius_m])).tolist() == [rated_kg * G]


def test_capacity_is_the_smaller_of_table_and_tipping_share() -> None:
    unit = replace(NOSE_UNIT, rating=TABLE)
    assert capacity_used(9e3 * G, unit, 8.0, 4.0, 20e3 * G) == pytest.approx(9.0 / 17.0)
    assert capacity_used(9e3 * G, unit, 8.0, 4.0, 30e3 * G) == pytest.approx(9.0 / 18.0)
    assert capacity_used(9e3 * G, unit, 8.0, 8.0, 30e3 * G) == inf


def test_many_at_once_are_the_same_as_one_by_one() -> None:
    on, draw = stand(replace(NOSE_UNIT, level_across_rad=0.01)), np.random.default_rng(3)
    length, elevation, slew = draw.uniform(7, 14, 300), draw.uniform(0.2, 1.0, 300), draw.uniform(-1.7, 1.7, 300)
    u, v, z = draw.uniform(-9, 9, (3, 300))
    tipping = tipping_load_many(on, own_load_many(on, length, elevation, slew), (u, v, z))
    assert np.isinf(tipping).any() and np.isfinite(tipping).any()
    for i in range(300):
        pose = BoomPose(float(length[i]), float(elevation[i]), float(slew[i]))
        one = tipping_load_N(on, own_load(on, pose), (float(u[i]), float(v[i]), float(z[i])))
        assert tipping[i] == pytest.approx(one, rel=1e-9)

"""Weights and line pull to floats: the demo stations, laws, level errors, resting loads."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, hypot, inf, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.mechanics.boom import BoomPose, reach_m, tip_m
from simulator.mechanics.footing import (
    CARRIER_CG_HEIGHT_M,
    SUPERSTRUCTURE_CG_HEIGHT_M,
    footing,
    least_float,
    own_axes,
    own_load,
    own_load_many,
    pull_load,
    resting_loads,
    stand,
    together,
)
from simulator.mechanics.hoist_line import head_room_m, rope_for_m
from simulator.mechanics.outriggers import solve, solve_many
from simulator.mechanics.rating import capacity_used, tipping_load_N
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2 as G
from simulator.scenario.unit import Rating, Unit
from tests.mechanics.demo_set import LINE_LOAD_T, NOSE_UNIT, STATIONS, UNITS, Station
from tests.mechanics.setups import FEWER

TRAILER_HEIGHT_M, RIGGING_HEIGHT_M = 2.6, 2.3


def own_tip(unit: Unit, tip: tuple[float, float, float]) -> tuple[float, float, float]:
    return own_axes(unit.facing, (tip[0] - unit.slew_axis_x_m, tip[1], tip[2]))


@pytest.mark.parametrize("row", STATIONS, ids=lambda row: f"{row.end} y{row.y_m} belly{row.belly_m}")
def test_station_table_to_its_printed_rounding(row: Station) -> None:
    """Invented numbers, worked through elsewhere by another program."""
    unit, pose, line_load = UNITS[row.end], row.pose, LINE_LOAD_T * 1000.0 * G
    tip = own_tip(unit, row.tip_m)
    on = stand(unit)
    found = footing(on, pose, tip, (0.0, 0.0, -line_load))
    tipping = tipping_load_N(on, own_load(on, pose), tip)
    line = row.tip_m[2] - row.belly_m - TRAILER_HEIGHT_M - RIGGING_HEIGHT_M
    assert [r / G / 1000.0 for r in found.reactions_N] == pytest.approx(row.floats_t, abs=0.0501)
    used = capacity_used(line_load, unit, pose.length_m, hypot(tip[0], tip[1]), tipping)
    assert 100.0 * used == pytest.approx(row.of_85_percent_tip, abs=0.501)
    assert reach_m(unit, pose.length_m, pose.elevation_rad) == pytest.approx(row.reach_m, abs=0.00501)
    assert (pose.length_m, degrees(pose.elevation_rad), degrees(pose.slew_rad)) == pytest.approx(
        (row.boom_m, row.elevation_deg, row.slew_deg), abs=0.0501
    )
    assert head_room_m(unit.hoist, line) == pytest.approx(row.head_room_m, abs=0.0501)
    assert rope_for_m(unit.hoist, line, pose.length_m) == pytest.approx(row.rope_out_m, abs=0.0501)


def test_resting_floats_are_those_of_the_demo_set_and_the_block_adds_its_lever_share() -> None:
    """Printed 5.7 t and 13.3 t without the block; with it each end's pair gains by statics."""
    on, pose = stand(NOSE_UNIT), BoomPose(7.7, radians(60.0), 0.0)
    bare = [r / G / 1000.0 for r in solve(on.frame, *own_load(on, pose)).reactions_N]
    assert bare == pytest.approx((5.7, 5.7, 13.3, 13.3), abs=0.0501)
    resting = [r / G / 1000.0 for r in resting_loads(on, NOSE_UNIT, pose.length_m, pose.elevation_rad)]
    reach = 7.7 * cos(radians(60.0)) - 1.2
    tailboard, cab = 0.15 * (reach + 4.2) / 7.0, 0.15 * (2.8 - reach) / 7.0
    assert [a - b for a, b in zip(resting, bare, strict=True)] == pytest.approx((tailboard, tailboard, cab, cab))


def test_landing_leg_pick_a_float_is_up_well_under_capacity() -> None:
    """The demo set's lesson: 16.9 t on the nose line, whose pick by statics is 9.83 m from the tail's."""
    pick_x = 6.0 - 26.0 * 6.2 / (16.9 - 0.5)
    row = Station(0, -8.0, -12.0, 0, 0, 0, 0, (0, 0, 0, 0), 0, 0, 0)
    unit, on = NOSE_UNIT, stand(NOSE_UNIT)
    tip = own_tip(unit, (pick_x, row.y_m, 9.3))
    reach = hypot(tip[0], tip[1])
    pose = BoomPose(hypot(reach + 1.2, 6.7), np.arctan2(6.7, reach + 1.2), np.arctan2(tip[1], tip[0]))
    assert tip_m(unit, pose) == pytest.approx((pick_x, -8.0, 9.3))
    found = footing(on, pose, tip, (0.0, 0.0, -16900.0 * G))
    tipping = tipping_load_N(on, own_load(on, pose), tip)
    assert found.off == (False, False, True, False) and not found.tips
    assert capacity_used(16900.0 * G, unit, pose.length_m, reach, tipping) < 0.85


def test_over_capacity_with_every_float_down() -> None:
    """The two alarms are independent the other way too: a low rating, a firm stand."""
    unit = replace(NOSE_UNIT, rating=Rating((15.0,), (12.0,), ((10000.0,),)))
    on, pose, tip = stand(unit), BoomPose(7.7, radians(60.0), 0.0), (2.65, 0.0, 9.27)
    assert not any(footing(on, pose, tip, (0.0, 0.0, -13500.0 * G)).off)
    tipping = tipping_load_N(on, own_load(on, pose), tip)
    assert tipping == inf
    assert capacity_used(13500.0 * G, unit, 7.7, 2.65, tipping) == pytest.approx(1.35)


def test_reach_over_the_slope_unloads_the_road_side() -> None:
    """model.md, effect 10."""
    on, unit, before = stand(NOSE_UNIT), NOSE_UNIT, (inf, inf)
    for length in np.linspace(9.0, 13.0, 9):
        pose = BoomPose(float(length), radians(35.0), radians(-90.0))
        found = footing(on, pose, own_tip(unit, tip_m(unit, pose)), (0.0, 0.0, -13500.0 * G)).reactions_N
        assert found[0] < before[0] and found[2] < before[1]
        before = found[0], found[2]


def test_a_level_pull_overturns_by_its_height() -> None:
    on = stand(NOSE_UNIT)
    load = pull_load(on, (3.0, -2.0, 9.0), (1000.0, -500.0, 0.0))
    assert load == pytest.approx((0.0, 9000.0, -4500.0))


forces = st.tuples(*[st.floats(-2e5, 2e5)] * 3)
slopes = st.floats(-0.05, 0.05)


@FEWER
@given(slopes, slopes, st.floats(7.0, 14.0), st.floats(0.1, 1.0), st.floats(-1.7, 1.7), forces)
def test_level_errors_turn_every_weight_and_pull(
    along: float, across: float, length: float, elevation: float, slew: float, force: tuple[float, float, float]
) -> None:
    """Against r x F in three dimensions, all forces turned by a rotation matrix (u, v, z right-handed)."""
    unit = replace(NOSE_UNIT, level_along_rad=along, level_across_rad=across)
    on, pose = stand(unit), BoomPose(length, elevation, slew)
    boom = np.array([cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation)])
    foot = np.array([-1.2 * cos(slew), -1.2 * sin(slew), 2.6])
    tip = foot + length * boom
    at = [
        np.array([-3.0, 0.0, CARRIER_CG_HEIGHT_M]),
        np.array([-1.7 * cos(slew), -1.7 * sin(slew), SUPERSTRUCTURE_CG_HEIGHT_M]),
        foot + 0.42 * length * boom,
        tip,
    ]
    down = np.array([sin(along), -sin(across), -np.sqrt(1.0 - sin(along) ** 2 - sin(across) ** 2)])
    weights = [21000.0 * G * down, 11500.0 * G * down, 5500.0 * G * down]
    # To first order the pull turns like a weight does: components along the slopes swap with the one down.
    turn = np.array([[-down[2], 0.0, -down[0]], [0.0, -down[2], -down[1]], [down[0], down[1], -down[2]]])
    pulls = [*weights, turn @ np.array(force)]
    moment = np.sum([np.cross(arm, pull) for arm, pull in zip(at, pulls, strict=True)], axis=0)
    load = together(own_load(on, pose), pull_load(on, tuple(tip), force))
    assert load == pytest.approx((-sum(p[2] for p in pulls), moment[1], -moment[0]), rel=1e-9, abs=1e-3)
    assert abs(np.linalg.norm(turn @ np.array(force)) - np.linalg.norm(force)) <= 3e-3 * np.linalg.norm(force) + 1e-9


def test_ravine_side_low_loads_the_ravine_floats_and_cross_fall_adds_to_it() -> None:
    pose = BoomPose(8.0, radians(55.0), 0.0)
    level = solve(stand(NOSE_UNIT).frame, *own_load(stand(NOSE_UNIT), pose)).reactions_N
    fallen = stand(NOSE_UNIT, cross_fall_rad=0.02)
    same = stand(replace(NOSE_UNIT, level_across_rad=0.02))
    low = solve(fallen.frame, *own_load(fallen, pose)).reactions_N
    assert low[1] > level[1] and low[3] > level[3] and low[0] < level[0] and low[2] < level[2]
    assert own_load(fallen, pose) == own_load(same, pose)
    nose_down = stand(replace(NOSE_UNIT, level_along_rad=0.02))
    tail = solve(nose_down.frame, *own_load(nose_down, pose)).reactions_N
    assert tail[0] > level[0] and tail[2] < level[2]


def test_the_tail_unit_stands_as_the_nose_unit_does() -> None:
    """The same pose and pull, seen in each unit's own axes, give the same floats."""
    force = (8000.0, -3000.0, -120e3)
    pose = BoomPose(11.0, radians(40.0), radians(-60.0))
    found = []
    for unit in UNITS:
        world = own_axes(unit.facing, force)
        tip = own_tip(unit, tip_m(unit, pose))
        found.append(footing(stand(unit), pose, tip, own_axes(unit.facing, world)).reactions_N)
    assert found[0] == pytest.approx(found[1], rel=1e-12)


def test_soft_ground_under_one_float_is_in_the_frame() -> None:
    soft = replace(NOSE_UNIT.floats, soft_float_share=(1.0, 0.25, 1.0, 0.5))
    assert stand(replace(NOSE_UNIT, floats=soft)).frame.stiffness_N_per_m == (8e6, 2e6, 8e6, 4e6)


def test_least_float_is_the_lightest_by_its_share_of_resting_load() -> None:
    assert least_float((50.0, 40.0, 60.0, 90.0), (50.0, 50.0, 130.0, 130.0)) == (2, 60.0 / 130.0)
    assert least_float((0.0, 40.0, 60.0, 90.0), (0.0, 50.0, 100.0, 100.0)) == (2, 0.6)
    assert least_float((1.0, 1.0, 1.0, 1.0), (0.0, 0.0, 0.0, 0.0)) == (0, 0.0)


def test_many_at_once_are_the_same_as_one_by_one() -> None:
    draw, on = np.random.default_rng(2), stand(replace(NOSE_UNIT, level_along_rad=0.01, level_across_rad=-0.02))
    length, elevation, slew = draw.uniform(7, 14, 200), draw.uniform(0.2, 1.0, 200), draw.uniform(-1.7, 1.7, 200)
    (u, v, z), (fu, fv, fz) = draw.uniform(-8, 9, (3, 200)), draw.uniform(-1e5, 1e5, (3, 200))
    loads = together(own_load_many(on, length, elevation, slew), pull_load(on, (u, v, z), (fu, fv, fz)))
    many = solve_many(on.frame, *loads)
    for i in range(200):
        pose = BoomPose(float(length[i]), float(elevation[i]), float(slew[i]))
        one = footing(on, pose, (float(u[i]), float(v[i]), float(z[i])), (float(fu[i]), float(fv[i]), float(fz[i])))
        assert many.reactions_N[i] == pytest.approx(one.reactions_N, abs=1e-6) and many.tips[i] == one.tips

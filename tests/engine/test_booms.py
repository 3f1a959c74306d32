"""Effects of where booms stand: 4 (a pick further inboard), 7 (booms too close), 8 (one boom stops), 9 (rope)."""

from __future__ import annotations

from dataclasses import replace
from math import asin, atan, cos, degrees, hypot, radians, sin, tan

import numpy as np
import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.mechanics.boom import boom_pose, reach_m
from simulator.mechanics.hoist_line import rope_for_m
from simulator.scenario.description import Description
from simulator.scenario.trailer import Trailer
from simulator.scenario.unit import UnitStart
from tests.demo import with_line, with_unit
from tests.engine.minimum import at_rest, hangs_of
from tests.engine.scenes import (
    BOOM,
    FOOT_M,
    HOIST,
    UNITS,
    Vector,
    block,
    come_to_rest,
    describe,
    hung,
    run,
    shares_N,
    with_hoist,
)
from tests.mechanics.demo_set import NOSE_UNIT

REAL_ROPE = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15})
INBOARD_M = 8 * FOOT_M


# Effect 4: moving the nose pick 8 ft inboard, from x = -6.4 m, tip at 9.3 m.


def boom_ft(y_m: float, pick_x_m: float) -> float:
    """Boom length for a tip over the pick, 9.3 m up."""
    return boom_pose(NOSE_UNIT, (pick_x_m, y_m, 9.3)).length_m / FOOT_M


def reach_at_m(y_m: float, pick_x_m: float) -> float:
    return hypot(pick_x_m - NOSE_UNIT.slew_axis_x_m, y_m)


@pytest.mark.parametrize(("y_m", "held_ft", "height_ft"), [(0.0, 12.0, 4.8), (-8.0, 5.2, 2.9)])
def test_a_pick_8_ft_inboard_costs_boom(y_m: float, held_ft: float, height_ft: float) -> None:
    """With elevation held at acos(8 / 12) (common practice, no source) and at constant tip height (mathematics).

    Over the ravine reach is a hypotenuse and grows by less than the pick moves.
    """
    more_reach = reach_at_m(y_m, -6.4 + INBOARD_M) - reach_at_m(y_m, -6.4)
    elevation = radians(48.189685)
    assert more_reach / cos(elevation) / FOOT_M == pytest.approx(held_ft, abs=0.05)
    assert boom_ft(y_m, -6.4 + INBOARD_M) - boom_ft(y_m, -6.4) == pytest.approx(height_ft, abs=0.05)


def test_telescoping_at_48_degrees_carries_a_tip_8_ft_for_12_ft() -> None:
    """Driven over the tailboard, the line slack: tip 8 ft out, boom 12 ft longer, tip 8.944 ft up."""
    elevation, reach = radians(48.189685), 3.0
    length = (reach + BOOM.foot_pin_back_m) / cos(elevation)
    start = UnitStart(length, elevation, 0.0)
    rope = rope_for_m(HOIST, 130.0, length)
    lift = with_line(with_unit(lying_block(), 0, start=start), 0, rope_out_m=rope)
    simulation = Simulation(lift)
    began = simulation.state.booms[0]
    while simulation.state.booms[0].tip[0] - began.tip[0] < INBOARD_M:
        simulation.step(Commands(UnitCommands(telescope=1.0), UnitCommands()))
    now = simulation.state.booms[0]
    assert (now.drives.length_m - began.drives.length_m) / FOOT_M == pytest.approx(12.0, abs=0.01)
    assert (now.tip[2] - began.tip[2]) / FOOT_M == pytest.approx(8.944, abs=0.01)


def lying_block() -> Description:
    return describe(block(), ((-6.0, 0.0, 12.0), (6.0, 0.0, 12.0)), (130.0, 130.0))


@pytest.mark.parametrize("y_m", [0.0, -8.0])
def test_a_pick_8_ft_inboard_loads_its_unit_more(y_m: float) -> None:
    """W b / s with the shorter span: the same at both places. Here 48.4 % becomes 60.2 %."""
    nose = []
    for pick in (-6.4, -6.4 + INBOARD_M):
        simulation = hung(block(picks_x_m=(pick, 6.0)), y_m=y_m, units=REAL_ROPE)
        run(simulation, 4.0)
        nose.append(simulation.state.lines[0].hook_load_N / simulation.model.weight_N)
    assert nose == pytest.approx([6.0 / 12.4, 6.0 / (12.4 - INBOARD_M)], rel=2e-3)
    assert nose[1] - nose[0] > 0.11


# Effect 7: units whose tailboards are too close cannot bring their tips over the picks.


LONG_M = 14.6
PICKS_M = ((-6.4, 6.0), (-5.5, 5.4))
"""Usual picks of the demo set."""


def nearest_to_own_unit(gap_share: float, picks_m: tuple[float, float]) -> Simulation:
    """A load hung over the tailboards of units so far apart, each tip as near over its pick as its boom can.

    Booms of the demo set, tips at 9.3 m; the shortest reach is at the highest elevation.
    """
    boom = replace(BOOM, lowest_rad=0.0, highest_rad=NOSE_UNIT.boom.highest_rad)
    tips: list[Vector] = []
    units = []
    for end, (pick, way) in enumerate(zip(picks_m, (1.0, -1.0), strict=True)):
        axis = -way * (gap_share * LONG_M / 2.0 + NOSE_UNIT.tailboard_m)
        units.append(replace(REAL_ROPE[end], slew_axis_x_m=axis, boom=boom))
        length = (9.3 - boom.foot_pin_height_m) / sin(boom.highest_rad)
        least = reach_m(units[end], length, boom.highest_rad)
        tips.append((axis + way * max(least, way * (pick - axis)), 0.0, 9.3))
    trailer = block(picks_x_m=picks_m, pick_over_cg_m=0.1, size_m=(LONG_M, 2.6, 2.6))
    description = describe(trailer, (tips[0], tips[1]), (4.0, 4.0), units=(units[0], units[1]))
    simulation = Simulation(description)
    m = simulation.state.motion
    simulation.place(m._replace(x=(tips[0][0] + tips[1][0] - sum(picks_m)) / 2.0, y=0.0, z=9.3 - 4.0 - 0.1))
    come_to_rest(simulation)
    return simulation


def angles_deg(simulation: Simulation) -> tuple[float, float]:
    """Off plumb along: toward the tail unit positive."""
    nose, tail = (degrees(atan(-unit.hang.ux / unit.hang.uz)) for unit in simulation.state.lines)
    return nose, tail


@pytest.mark.parametrize("picks_m", PICKS_M)
def test_three_quarters_of_the_trailer_keeps_lines_plumb(picks_m: tuple[float, float]) -> None:
    """Gap 0.75 x 14.6 m (common practice, no source)."""
    assert angles_deg(nearest_to_own_unit(0.75, picks_m)) == pytest.approx((0.0, 0.0), abs=0.05)


@pytest.mark.parametrize("picks_m", PICKS_M)
def test_half_of_the_trailer_splays_them(picks_m: tuple[float, float]) -> None:
    """Both tips stand inboard of their picks: the lines lean outward, to where the load's energy is least."""
    simulation = nearest_to_own_unit(0.5, picks_m)
    nose, tail = angles_deg(simulation)
    rest = at_rest(hangs_of(simulation))
    for end, unit in enumerate(simulation.state.lines):
        assert unit.hook_load_N == pytest.approx(rest.pulls_N[end], rel=0.005)
    assert nose < -3.0 and tail > 3.0
    overhang = [abs(pick) - abs(u.tip[0]) for pick, u in zip(picks_m, simulation.state.booms, strict=True)]
    lean = degrees(asin(sum(overhang) / 2.0 / simulation.state.lines[0].hang.distance_m))
    assert (tail - nose) / 2.0 == pytest.approx(lean, rel=0.02)


# Effect 8: one boom goes on 2 m while the other has stopped.


@pytest.mark.parametrize("pick_over_cg_m", [0.0, 1.2])
def test_angles_grow_in_inverse_ratio_of_the_loads(pick_over_cg_m: float) -> None:
    """R_A tan A = R_B tan B; loads change by W h tan(pitch) / span alone, and the angle is plain to see."""
    trailer: Trailer = block(picks_x_m=(-4.9, 6.2), pick_over_cg_m=pick_over_cg_m)
    simulation = hung(trailer, hang_m=11.0, tip_z_m=14.0, units=REAL_ROPE)
    plumb = shares_N(trailer, 24000.0)
    began = simulation.state.booms[0]
    goal_x = began.tip[0] - 2.0
    while simulation.state.booms[0].tip[0] > goal_x + 1e-3:
        simulation.step(Commands(level_in(simulation, goal_x), UnitCommands()))
    for _ in range(240):
        simulation.step(STILL)
    come_to_rest(simulation)
    lines, m = simulation.state.lines, simulation.state.motion
    assert lines[0].sheave == pytest.approx((goal_x, 0.0, began.tip[2]), abs=0.02)
    pulls = [line.hook_load_N * np.array([line.hang.ux, line.hang.uy, line.hang.uz]) for line in lines]
    nose, tail = angles_deg(simulation)
    assert tan(radians(nose)) / -tan(radians(tail)) == pytest.approx(pulls[1][2] / pulls[0][2], rel=1e-3)
    assert nose > 3.5 and tail < -3.5
    # Moments about the CG of the pitched box: W h tan(pitch) / span to the end that is high, and the side pulls' own.
    shift = (simulation.model.weight_N * pick_over_cg_m / 11.1 - pulls[0][0]) * tan(m.pitch)
    assert pulls[0][2] == pytest.approx(plumb[0] + shift, rel=2e-4)
    assert pulls[1][2] == pytest.approx(plumb[1] - shift, rel=2e-4)
    loads = [float(np.linalg.norm(pull)) for pull in pulls]
    assert loads == pytest.approx(plumb, rel=0.03)


def level_in(simulation: Simulation, goal_x_m: float) -> UnitCommands:
    """Telescope and elevation that draw the nose tip back at its height, hoist that keeps the line's length."""
    drives, boom, hoist = simulation.state.booms[0].drives, BOOM, HOIST
    speed = -min(0.1, 0.5 * (simulation.state.booms[0].tip[0] - goal_x_m) + 0.01)
    length_mps, turn_radps = speed * cos(drives.elevation_rad), -speed * sin(drives.elevation_rad) / drives.length_m
    return UnitCommands(
        -length_mps / hoist.speed_mps,
        length_mps / boom.telescope_speed_mps,
        turn_radps / boom.elevation_speed_radps,
    )


# Effect 9: telescoping takes up line; a deep ravine takes up rope.


def test_telescoping_lifts_a_hung_load_until_the_block_meets_its_stop() -> None:
    """The hook rises by dL / n against the sheave; the drives stop both before they touch."""
    hoist = {"rope_EA_N": 15.3e6, "damping_ratio": 0.15}
    simulation = hung(block(), hang_m=1.9, units=with_hoist(hoist))
    both = Commands(UnitCommands(telescope=1.0), UnitCommands(telescope=1.0))
    began = simulation.state
    run(simulation, 20.0, both)
    ended = simulation.state
    grew = [now.drives.length_m - was.drives.length_m for was, now in zip(began.booms, ended.booms, strict=True)]
    for was, now, grown in zip(began.lines, ended.lines, grew, strict=True):
        assert now.line_m == pytest.approx(HOIST.block_and_stop_m, abs=3e-3)
        assert was.line_m - now.line_m == pytest.approx(grown / HOIST.parts, abs=1e-9)
        sheave_to_hook = now.hang.distance_m - now.hook_load_N / now.stiffness
        assert sheave_to_hook == pytest.approx(now.line_m, abs=0.01)


def test_a_deep_ravine_uses_up_rope() -> None:
    """The drum's last usable rope leaves the hook (R - L - R_0) / n below the sheave, and no deeper."""
    simulation = hung(block(), hang_m=10.0, units=with_hoist({"usable_rope_m": 45.0, "speed_mps": 2.0}))
    run(simulation, 14.0, Commands(UnitCommands(hoist=-1.0), UnitCommands(hoist=-1.0)))
    for end, (now, boom) in enumerate(zip(simulation.state.lines, simulation.state.booms, strict=True)):
        hoist = UNITS[end].hoist
        deepest = (45.0 - boom.drives.length_m - hoist.to_boom_foot_m) / hoist.parts
        assert now.line_m == pytest.approx(deepest, abs=3e-3)
        assert now.hang.distance_m == pytest.approx(deepest, abs=0.05)

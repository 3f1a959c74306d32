"""A load turned over on four lines, in the engine: angles and shares, what slackens, what its slings press, energy."""

from __future__ import annotations

import json
from math import atan2, cos, degrees, pi, sin

import numpy as np
import pytest

from simulator.engine.commands import still
from simulator.engine.instruments import Instruments
from simulator.engine.moving import Body, Line
from simulator.engine.round_load import lay
from simulator.engine.simulation import Simulation
from simulator.engine.sling_ways import way_round
from simulator.engine.slung import OFF, RoundNumbers
from simulator.engine.state import state_from, state_hash
from simulator.mechanics.matrix import rotation
from simulator.mechanics.section import box
from simulator.mechanics.sling import Sling
from simulator.mechanics.taut_string import ways_round
from simulator.mechanics.turning import Station, turn, turns_to
from simulator.scenario.rig import rig_of
from tests.draws import drawn
from tests.engine.scenes import come_to_rest, kinetic_J
from tests.engine.turned import HALF_M, Point, box_part, haul, hung, lift, the_box, the_shell, trailer
from tests.mechanics.test_sling import random_section as random_outline
from tests.mechanics.test_sling import sheave_round
from tests.mechanics.test_turning import BOX, on_two_lines

NEAR_DEG, NEAR_SHARE = 0.5, 0.01
CASES = 100


def turned_deg(simulation: Simulation) -> float:
    """Road side down: the top comes up."""
    return -degrees(simulation.state.motion.roll)


def shares(simulation: Simulation) -> list[float]:
    """Each line's pull over the weight."""
    return [line.hook_load_N / simulation.model.weight_N for line in simulation.state.lines]


def by_number(simulation: Simulation) -> tuple[float, float]:
    """Line 1 of both ends and line 2 of both ends, over the weight."""
    nose_1, nose_2, tail_1, tail_2 = shares(simulation)
    return nose_1 + tail_1, nose_2 + tail_2


def line_of(simulation: Simulation, sling: Sling, sheave: tuple[float, float, float]) -> tuple[Line, RoundNumbers]:
    """A line of a lift, its sheave there and this sling on it."""
    line = simulation.moving.units[0].lines[0]
    line.sheave_x, line.sheave_y, line.sheave_z = sheave
    first = OFF if len(sling.ways) > 1 else int(sling.ways[0].mirrored)
    pick = sling.ways[0].pick_m
    y = -pick[0] if sling.ways[0].mirrored else pick[0]
    own = RoundNumbers((sling.x_m, y, pick[1]), sling.sling_m, 0.3, first)
    line.way = first
    return line, own


def test_each_step_lays_the_sling_as_the_taut_string_says() -> None:
    """Random outlines, picks, sheaves and attitudes: laid, distance, direction and place of the pull."""
    rng, simulation = np.random.default_rng(181), hung(lift(the_box()))
    body: Body = simulation.moving.body
    bears = 0
    for i in range(CASES):
        discs, _, pick = random_outline(rng)
        both = ways_round(discs, pick)
        some = (both, both[:1], both[1:])[i % 3]
        sling = Sling(float(rng.uniform(-3.0, 3.0)), some, 1.5)
        body.x, body.y, body.z = (float(value) for value in rng.uniform(-2.0, 2.0, 3))
        body.matrix = rotation(*(float(value) for value in rng.uniform(-1.2, 1.2, 3)))
        turn_to = np.array(body.matrix).reshape(3, 3)
        at = np.array([rng.uniform(-6.0, 6.0), *sheave_round(rng)])
        wanted = sling.run(at)
        x, y, z = np.array([body.x, body.y, body.z]) + turn_to @ at
        line, own = line_of(simulation, sling, (float(x), float(y), float(z)))
        own.ways = [way_round(way) for way in both]
        lay(line, own, body)
        assert line.laid_m == pytest.approx(wanted.laid_m, abs=1e-9), i
        assert line.distance_m == pytest.approx(wanted.laid_m + wanted.free_m - 1.5, abs=1e-9), i
        assert (line.ux, line.uy, line.uz) == pytest.approx(turn_to @ np.array(wanted.toward), abs=1e-9), i
        assert line.arm_m == pytest.approx(turn_to @ np.array(wanted.leaves_m), abs=1e-8), i
        bears += line.laid_m > 0.0
    assert 0.3 < bears / CASES < 0.95


@pytest.mark.long_in_plain
def test_the_box_turns_as_it_was_worked_out() -> None:
    """From least energy and from Newton's balance, with lines that do not stretch (own calculation)."""
    simulation = hung(lift(the_box()))
    for amount, (angle, first, second) in BOX.items():
        haul(simulation, amount)
        come_to_rest(simulation)
        assert turned_deg(simulation) == pytest.approx(angle, abs=NEAR_DEG), amount
        assert by_number(simulation) == pytest.approx((first, second), abs=NEAR_SHARE), amount
        motion = simulation.state.motion
        assert degrees(abs(motion.pitch)) < 0.01 and degrees(abs(motion.yaw)) < 0.01


@pytest.mark.long_in_plain
def test_a_round_shell_turns_as_it_was_worked_out() -> None:
    simulation = hung(lift(the_shell()))
    come_to_rest(simulation)
    start = turned_deg(simulation)
    for amount, angle in zip((0.4, 0.8, 1.2, 1.6, 2.0, 2.4), (15.1, 29.5, 43.8, 58.8, 75.0, 92.0), strict=True):
        haul(simulation, amount)
        come_to_rest(simulation)
        assert turned_deg(simulation) - start == pytest.approx(angle, abs=NEAR_DEG), amount
        assert (simulation.state.slung[0].laid_m > 0.0) == (angle > 71.0), "line 1 bears at 71 degrees"


def test_both_lines_on_the_upper_edges_turn_it_until_one_is_slack() -> None:
    """At atan(half width / half height), 45 degrees for a square, 0.97 m of line; and no further."""
    simulation = hung(lift(the_box(upper_edges=True)))
    haul(simulation, 0.93)
    come_to_rest(simulation)
    first, second = by_number(simulation)
    assert first > 0.005 and second > 0.9
    haul(simulation, 1.05)
    come_to_rest(simulation)
    assert by_number(simulation)[0] == 0.0
    slack_at = turned_deg(simulation)
    assert slack_at == pytest.approx(degrees(atan2(HALF_M, HALF_M)), abs=0.3)
    haul(simulation, 1.5)
    come_to_rest(simulation)
    assert turned_deg(simulation) == pytest.approx(slack_at, abs=0.05)


def test_one_end_a_tenth_faster_yaws_the_load() -> None:
    """Yaw is the tell-tale, 7 degrees in the end (own calculation); lines unload crosswise, and pitch says nothing."""
    simulation = hung(lift(the_box()))
    haul(simulation, 2.4, ends=(1.0, 0.9))
    come_to_rest(simulation)
    assert abs(degrees(simulation.state.motion.yaw)) == pytest.approx(7.0, abs=0.5)
    assert abs(degrees(simulation.state.motion.pitch)) < 1.0
    nose_1, nose_2, tail_1, tail_2 = shares(simulation)
    assert max(nose_1, tail_2) < 0.13 and min(nose_2, tail_1) > 0.38


def section_and_load(rng: np.random.Generator) -> tuple[list[Station], Simulation, list[float]]:
    """A random section by least energy, and the same in the engine."""
    y, z = float(rng.uniform(0.9, 1.6)), float(rng.uniform(0.9, 1.8))
    cg: Point = float(rng.uniform(-0.3, 0.3)), float(rng.uniform(-0.3, 0.3))
    up = float(rng.uniform(7.0, 10.0))
    ours = on_two_lines(box(2.0 * y, 2.0 * z), (y, z), (y, -z), cg, up_m=up)
    load = trailer((box_part(2.0 * y, 2.0 * z),), (y, z), (y, -z), cg, slings_m=(3.0, 2.0 * (y + z) + 0.6))
    amounts = [0.3, 1.0, 1.7]
    return turn(ours, amounts), hung(lift(load, up_m=up)), amounts


@pytest.mark.long_in_plain
@pytest.mark.long
def test_random_sections_turn_as_least_energy_has_it() -> None:
    """Pose, loads, and whether it gets there; taut ropes, so that angles come within half a degree."""
    rng, got_there, tried = np.random.default_rng(186), 0, drawn(4, 30)
    for i in range(tried):
        stations, simulation, amounts = section_and_load(rng)
        for amount, station in zip(amounts, stations, strict=True):
            if not station.holds:
                break
            haul(simulation, amount)
            come_to_rest(simulation)
            assert turned_deg(simulation) == pytest.approx(-degrees(station.turned_rad), abs=NEAR_DEG), i
            assert by_number(simulation) == pytest.approx(station.shares, abs=NEAR_SHARE), i
            assert simulation.state.motion.z == pytest.approx(float(station.rest.pose.cg_m[2]), abs=0.02), i
        else:
            got_there += 1
    assert got_there > tried / 3


@pytest.mark.long_in_plain
def test_no_energy_comes_from_slings_that_come_to_bear_and_go_off_again() -> None:
    """A box that is nearly turned, pushed sideways: its straight line comes to bear on the outline and goes off
    it again with every swing, and the energy stays within half a percent of what the push gave."""
    described = lift(the_box(), steps_per_s=960)
    simulation = hung(described)
    haul(simulation, 2.40)
    come_to_rest(simulation)
    simulation.place(simulation.state.motion._replace(vy=1.5))
    simulation.step(still(rig_of(described)))
    first, given, ways = energy_J(simulation), kinetic_J(simulation), set()
    for _ in range(960 * 10):
        simulation.step(still(rig_of(described)))
        ways.add(simulation.state.slung[0].way == OFF)
        assert abs(energy_J(simulation) - first) < 0.005 * given
    assert ways == {True, False}, "line 1 bore and went off"


def energy_J(simulation: Simulation) -> float:
    """Motion, height and stretch of all lines."""
    state, moving = simulation.state, simulation.moving
    stretch = sum(
        0.5 * line.stiffness * max(0.0, line.distance_m - line.length_m) ** 2
        for unit in moving.units
        for line in unit.lines
    )
    return kinetic_J(simulation) + simulation.model.weight_N * state.motion.z + stretch


def test_a_lift_goes_on_from_a_kept_state_in_mid_turn() -> None:
    simulation = hung(lift(the_box()))
    haul(simulation, 2.5)
    kept = simulation.state
    assert kept.slung[0].way != OFF, "line 1 bears"
    again = state_from(json.loads(json.dumps(kept)))
    assert state_hash(again) == state_hash(kept)
    simulation.run(still(simulation.model.rig), 500)
    other = hung(lift(the_box()))
    other.restore(again)
    other.run(still(other.model.rig), 500)
    assert other.state_hash == simulation.state_hash


def test_what_is_read_of_a_turn() -> None:
    """Laid sling, hook off the load, the push at a corner by 2 T sin(turn / 2), how far it is turned, by ends."""
    simulation = hung(lift(the_box()))
    haul(simulation, 0.4)
    come_to_rest(simulation)
    read = Instruments(simulation.model).read(simulation.state)
    first, second = read.lines[:2]
    assert (first.laid_m, first.hook_off_m, first.squeeze_N) == (0.0, simulation.model.lines[0].numbers.rigging_m, 0.0)
    assert second.laid_m == pytest.approx(2.0 * HALF_M) and second.hook_off_m == pytest.approx(6.5 - 2.0 * HALF_M)
    line, motion = simulation.state.lines[1], simulation.state.motion
    along_floor = -cos(motion.roll), -sin(motion.roll)  # the way the sling lies on: toward less y
    turn_rad = pi - atan2(line.hang.uz, line.hang.uy) + motion.roll
    assert cos(turn_rad) == pytest.approx(along_floor[0] * line.hang.uy + along_floor[1] * line.hang.uz, abs=1e-3)
    assert second.squeeze_N == pytest.approx(2.0 * second.hook_load_N * sin(turn_rad / 2.0), rel=1e-3)
    assert second.shell_pressure_Pa == 0.0 and read.units[0].squeeze_N == second.squeeze_N
    assert read.load.turned_rad == motion.roll, "not to be set down turned"
    assert read.units[0].turn_m == pytest.approx(0.4, abs=1e-3) and read.load.ends_differ_m == pytest.approx(0.0)
    assert abs(read.load.twist_Nm) < 1.0
    haul(simulation, 0.5, ends=(1.0, 0.0))
    come_to_rest(simulation)
    read = Instruments(simulation.model).read(simulation.state)
    assert read.load.ends_differ_m == pytest.approx(0.1, abs=1e-3)
    assert read.load.twist_Nm < -1e3, "the first end turns it road side down"


def test_the_pressure_on_a_shell_is_the_pull_over_radius_and_width() -> None:
    simulation = hung(lift(the_shell()))
    come_to_rest(simulation)
    line = Instruments(simulation.model).read(simulation.state).lines[1]
    assert line.laid_m > 1.0 and line.shell_pressure_Pa == pytest.approx(line.hook_load_N / (1.3 * 0.3), rel=1e-3)


def test_a_hook_is_where_its_sling_ends() -> None:
    """On the free part of the line, so far from where it leaves the load as is not laid."""
    simulation = hung(lift(the_box()))
    haul(simulation, 1.2)
    line, body = simulation.moving.units[0].lines[1], simulation.moving.body
    hook = np.array([line.hook_x, line.hook_y, line.hook_z])
    leaves = np.array([body.x, body.y, body.z]) + np.array(line.arm_m)
    assert np.linalg.norm(hook - leaves) == pytest.approx(6.5 - line.laid_m)
    sheave = np.array([line.sheave_x, line.sheave_y, line.sheave_z])
    assert np.linalg.norm(sheave - hook) == pytest.approx(line.distance_m)


def test_how_far_a_rig_turns_is_the_same_at_rest_and_driven() -> None:
    limit = turns_to(on_two_lines(box(2.6, 2.6), (1.3, 1.3), (-1.3, 1.3), round_it=False), 4.0)
    assert limit.slack == (True, False) and -degrees(limit.turned_rad) == pytest.approx(45.0, abs=0.3)

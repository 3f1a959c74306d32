"""Two lines on a unit, and one unit alone: against one line, against statics, and against least energy by scipy."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, sin
from random import Random

import numpy as np
import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, still
from simulator.engine.instruments import Instruments
from simulator.engine.line_leans import weights_over_cg
from simulator.engine.model import build
from simulator.engine.moving import Line as MovingLine
from simulator.engine.simulation import Simulation
from simulator.engine.state import Motion
from simulator.mechanics.boom import BoomPose, boom_pose
from simulator.mechanics.footing import footing, own_axes, own_load_of, pull_load, stand
from simulator.mechanics.hoist_line import rope_for_m
from simulator.mechanics.outriggers import solve
from simulator.places import find_scenario
from simulator.scenario.description import Description, Engine, Landing, Path
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Pick, Trailer
from simulator.scenario.unit import Line, Unit
from tests.demo import demo_unit
from tests.engine.lifts import HANDS, LIFT, driven
from tests.engine.minimum import at_rest, hangs_of
from tests.engine.scenes import BOOM, DEEP, FLOATS, HOIST, block, come_to_rest

SOFT_HOIST = replace(HOIST, rope_EA_N=15.3e6, damping_ratio=0.15)


def halved(lift: Description) -> Description:
    """Every line as two of half the stiffness and half the block, one beside the other, to one pick."""
    units = []
    for unit in lift.units:
        hoist = unit.hoist
        half = replace(hoist, rope_EA_N=hoist.rope_EA_N / 2.0, block_kg=hoist.block_kg / 2.0,
                       stall_line_pull_N=hoist.stall_line_pull_N / 2.0)  # fmt: skip
        line = replace(unit.lines[0], hoist=half, shares_pick=True)
        units.append(replace(unit, lines=(line, line)))
    return replace(lift, units=tuple(units))


def test_two_lines_of_half_the_stiffness_are_one_line() -> None:
    """Real rope, soft floats, wind and ground: pose and loads to rounding, all the way through every function."""
    one, two = driven(LIFT), Simulation(halved(LIFT))
    for steps, hands in HANDS:
        doubled = Commands(*((hoist, hoist, *boom) for hoist, *boom in hands))
        for _ in range(steps):
            two.step(doubled)
    assert two.state.motion == pytest.approx(one.state.motion, abs=1e-6, rel=1e-6)
    ours, theirs = one.state.lines, two.state.lines
    assert [line.hook_load_N for line in ours if line.hook_load_N > 1e4], "the load hangs"
    for place, line in enumerate(ours):
        pair = theirs[2 * place : 2 * place + 2]
        assert sum(half.hook_load_N for half in pair) == pytest.approx(line.hook_load_N, abs=1e-3)
        assert sum(half.stiffness for half in pair) == pytest.approx(line.stiffness, rel=1e-9)
        assert sum(half.damper for half in pair) == pytest.approx(line.damper, rel=1e-9)
    for was, now in zip(one.state.booms, two.state.booms, strict=True):
        assert now.stance.floats_N == pytest.approx(was.stance.floats_N, abs=1e-2)
        assert now.stance.capacity_used == pytest.approx(was.stance.capacity_used, rel=1e-9)
        assert now.lean == pytest.approx(was.lean, abs=1e-9)


PICKS = ((-6.0, -1.2), (-6.0, 1.2), (6.0, -1.2), (6.0, 1.2))
ACROSS = (-0.3, 0.3)


def frame(at: tuple[tuple[float, float], ...] = PICKS, *, over_cg_m: float = 1.0, rigging_m: float = 1.0) -> Trailer:
    """A box with a pick for each line, rigging in line with each rope."""
    made = block()
    picks = tuple(
        Pick(f"pick {i}", (x, y, 1.3 + over_cg_m), "single_point", rigging_m, 0.0) for i, (x, y) in enumerate(at)
    )
    return replace(made, picks=picks)


def two_lines(name: str, picks: tuple[str, str], tip: tuple[float, float, float], lines_m: tuple[float, float],
              unit: Unit | None = None) -> Unit:  # fmt: skip
    """A unit with its tip there and two lines so long."""
    made = unit or demo_unit(
        name, -12.0 if name != "tail" else 12.0, boom=BOOM, hoist=SOFT_HOIST, floats=FLOATS, carrier_kg=1e6
    )
    pose = boom_pose(made, tip)
    lines = tuple(
        Line(pick, rope_for_m(made.hoist, long, pose.length_m), made.hoist, across)
        for pick, across, long in zip(picks, ACROSS, lines_m, strict=True)
    )
    start = replace(made.start, boom_length_m=pose.length_m, elevation_rad=pose.elevation_rad, slew_rad=pose.slew_rad)
    return replace(made, lines=lines, start=start)


def scene(trailer: Trailer, *units: Unit, steps_per_s: int = 240) -> Description:
    return Description("test", "invented", DEEP, units, trailer, Path(1.8, 9.3, leader=units[0].name), Landing(6.6),
                       engine=Engine(steps_per_s=steps_per_s, footing_every_steps=240))  # fmt: skip


def four_lines(draw: Random) -> Simulation:
    """Tips, lengths and CG drawn; the load put level under its tips, just not hanging."""
    tips = [
        (side * draw.uniform(5.4, 6.6), draw.uniform(-0.5, 0.5), 12.0 + draw.uniform(-0.2, 0.2)) for side in (-1, 1)
    ]
    lines = [tuple(8.0 + draw.uniform(-0.01, 0.01) for _ in range(2)) for _ in range(2)]
    trailer = replace(frame(over_cg_m=draw.uniform(0.5, 1.5)), hidden_cg_m=(draw.uniform(-0.5, 0.5), 0.0, 0.0))
    nose = two_lines("nose", ("pick 0", "pick 1"), tips[0], lines[0])  # type: ignore[arg-type]
    tail = two_lines("tail", ("pick 2", "pick 3"), tips[1], lines[1])  # type: ignore[arg-type]
    simulation = Simulation(scene(trailer, nose, tail))
    under_the_sheaves(simulation)
    return simulation


def under_the_sheaves(simulation: Simulation) -> None:
    lines, models = simulation.state.lines, simulation.model.lines
    sheaves, picks = np.array([line.sheave for line in lines]), np.array([of.pick_m for of in models])
    x, y, _ = sheaves.mean(axis=0) - picks.mean(axis=0)
    drop = min(line.line_m for line in lines) + models[0].pick.height_m
    simulation.place(Motion(float(x), float(y), float(sheaves[:, 2].min() - drop - picks[:, 2].max()), 0.0, 0.0, 0.0))


@pytest.mark.parametrize("seed", range(6))
def test_four_lines_hang_at_least_energy(seed: int) -> None:
    """Structure that does not give: pose to 1 mm and 0.01 degrees, pulls to 0.1 % of the weight."""
    simulation = four_lines(Random(seed))
    come_to_rest(simulation)
    rest, m = at_rest(hangs_of(simulation)), simulation.state.motion
    assert np.array(m[:3]) == pytest.approx(rest.at_m, abs=1e-3)
    turned = [degrees(value) for value in (m.pitch, m.yaw, m.roll)]
    assert turned == pytest.approx(np.degrees(rest.pitch_yaw_roll_rad), abs=0.01)
    pulls = [line.hook_load_N for line in simulation.state.lines]
    assert pulls == pytest.approx(list(rest.pulls_N), abs=1e-3 * simulation.model.weight_N)


def soft_units() -> tuple[Unit, Unit]:
    """Units that bend and lean on soft floats; line 1 of the nose unit a hand shorter."""
    made = {
        name: demo_unit(name, boom=replace(BOOM, tip_stiffness_N_per_m=1.2e6, longest_m=16.0), hoist=SOFT_HOIST)
        for name in ("nose", "tail")
    }
    return (
        two_lines("nose", ("pick 0", "pick 1"), (-6.0, -3.0, 12.0), (7.99, 8.01), made["nose"]),
        two_lines("tail", ("pick 2", "pick 3"), (6.0, -3.0, 12.0), (8.0, 8.0), made["tail"]),
    )


def soft_pair() -> Simulation:
    """Four lines on soft units, at rest."""
    simulation = Simulation(replace(scene(frame(), *soft_units()), engine=Engine()))
    under_the_sheaves(simulation)
    simulation.run(still(simulation.model.rig), 240 * 60)
    return simulation


@pytest.fixture(scope="module")
def at_rest_on_soft_units() -> Simulation:
    return soft_pair()


def test_structure_gives_once_for_all_its_lines(at_rest_on_soft_units: Simulation) -> None:
    """Rope stretch of each line by Hooke plus the tip's drop along the sum of the pulls is what each line is stretched;
    with the lean, the sheaves are where bending and the floats' sink put them."""
    state, model = at_rest_on_soft_units.state, at_rest_on_soft_units.model
    for unit, boom in zip(model.units, state.booms, strict=True):
        lines = [state.lines[line.rig.place] for line in model.lines_of(unit)]
        pulls = [line.hook_load_N * np.array([line.hang.ux, line.hang.uy, line.hang.uz]) for line in lines]
        below = [of.numbers.below_sheave_N for of in model.lines_of(unit)]
        pulls = [pull * (1.0 + b / line.hook_load_N) for pull, b, line in zip(pulls, below, lines, strict=True)]
        whole = sum(pulls)
        size = float(np.linalg.norm(whole))
        drop = boom.stance.give_m_per_N * size
        for line, of in zip(lines, model.lines_of(unit), strict=True):
            along = whole / size @ np.array([line.hang.ux, line.hang.uy, line.hang.uz])
            rope = line.rope_out_m / (of.line.hoist.rope_EA_N * of.line.hoist.parts**2) * line.hook_load_N
            # block and rigging sag the structure too, but are there before the line is stretched: common to all
            hung = drop * (1.0 - sum(below) / size)
            assert line.hang.distance_m - line.line_m == pytest.approx(rope + hung * along, rel=1e-3)
        lean = np.array(boom.lean)
        assert abs(float(whole @ lean)) / size < 1e-3 * float(np.linalg.norm(lean)), "square to the sum"


def test_floats_answer_to_the_sum_each_pull_at_its_own_sheave(at_rest_on_soft_units: Simulation) -> None:
    """Reactions of the two pulls put on the frame one by one, with the footing's own hand calculation."""
    state, model = at_rest_on_soft_units.state, at_rest_on_soft_units.model
    for unit, boom in zip(model.units, state.booms, strict=True):
        on, slew = stand(unit.unit), boom.drives.slew_rad
        x, y, z = (a + b for a, b in zip(boom.tip, boom.given, strict=True))  # as it leans
        out = unit.unit.facing * (x - unit.unit.slew_axis_x_m) * cos(slew) + y * sin(slew) + on.foot_pin_back_m
        load = np.array(own_load_of(on, out, z - on.foot_pin_height_m, cos(slew), sin(slew)))
        for of in model.lines_of(unit):
            line, across = state.lines[of.rig.place], of.line.across_m
            sheave = (x - unit.unit.facing * sin(slew) * across, y + cos(slew) * across, z)
            u, v, _ = own_axes(unit.unit.facing, (sheave[0] - unit.unit.slew_axis_x_m, sheave[1], z))
            pull = -(line.hook_load_N + of.numbers.below_sheave_N)
            force = own_axes(unit.unit.facing, (pull * line.hang.ux, pull * line.hang.uy, pull * line.hang.uz))
            load += np.array(pull_load(on, (u, v, z), force))
        assert boom.stance.floats_N == pytest.approx(solve(on.frame, *load).reactions_N, rel=1e-4)
        pose = BoomPose(*boom.drives[:3])
        middle = footing(on, pose, (unit.unit.facing * (x - unit.unit.slew_axis_x_m), y, z), (0.0, 0.0, 0.0))
        assert boom.stance.floats_N != pytest.approx(middle.reactions_N, rel=1e-2), "the pulls count"


def test_a_unit_reads_as_the_sum_or_the_worst_of_its_lines(at_rest_on_soft_units: Simulation) -> None:
    simulation = at_rest_on_soft_units
    instruments = Instruments(simulation.model)
    instruments.watch(simulation.moving)
    readings = instruments.read(simulation.state)
    first, second = readings.lines[:2]
    nose = readings.units[0]
    assert nose.hook_load_N == first.hook_load_N + second.hook_load_N
    assert nose.head_room_m == min(first.head_room_m, second.head_room_m)
    assert nose.rope_out_m == max(first.rope_out_m, second.rope_out_m)
    assert min(first.hook_x_m, second.hook_x_m) <= nose.hook_x_m <= max(first.hook_x_m, second.hook_x_m)
    assert first.off_plumb_across_rad * second.off_plumb_across_rad < 0.0, "each line leans its own way"
    assert abs(nose.off_plumb_across_rad) < 0.2 * abs(first.off_plumb_across_rad), "their sum hardly leans"
    assert sum(unit.share for unit in readings.units) == pytest.approx(1.0)


@pytest.mark.long_in_plain
def test_a_slack_line_leaves_its_neighbor_alone() -> None:
    """One line let out: the other is the only one, with the stiffness a single line has."""
    simulation = soft_pair()
    rig = rig_of(simulation.description)
    hands = [rig.units[0].hands(hoist_1=-1.0), rig.units[1].hands()]
    for _ in range(240 * 12):
        simulation.run(Commands(*hands), 1)
    simulation.run(still(rig), 240 * 6)
    first, second = simulation.state.lines[:2]
    assert first.hook_load_N == 0.0 and second.hook_load_N > 1e4
    hoist, give = simulation.model.lines[1].line.hoist, simulation.state.booms[0].stance.give_m_per_N
    alone = 1.0 / (second.rope_out_m / (hoist.rope_EA_N * hoist.parts**2) + give * second.part**2)
    beside = 1.0 / (1.0 / alone + give)
    assert second.stiffness == pytest.approx(alone, rel=2e-3) and second.stiffness > 1.02 * beside


def levers(*more: str) -> tuple[Simulation, list[MovingLine]]:
    """A lone unit with two lines and these levers besides."""
    unit = replace(two_lines("yard", ("pick 0", "pick 1"), (0.0, -3.0, 12.0), (8.0, 8.0)), levers=more)  # type: ignore[arg-type]
    lone = Simulation(scene(frame(((-0.6, 0.0), (0.6, 0.0))), unit))
    return lone, lone.moving.units[0].lines


def test_both_and_turn_add_to_the_hoists_and_are_cut_at_full() -> None:
    lone, lines = levers("both", "turn")
    unit = rig_of(lone.description).units[0]
    for pulled, expected in (
        ({"both": 0.5}, (0.5, 0.5)),
        ({"turn": 0.5}, (-0.5, 0.5)),
        ({"both": 0.5, "turn": 0.25, "hoist_1": 0.1}, (0.35, 0.75)),
        ({"both": 1.0, "hoist_2": 1.0}, (1.0, 1.0)),
        ({"both": 1.0, "turn": 1.0}, (0.0, 1.0)),
    ):
        lone.step(Commands(unit.hands(**pulled)))
        assert tuple(line.hoist.asked for line in lines) == pytest.approx(expected)


def test_telescoping_takes_up_both_lines_and_stops_at_the_first_block() -> None:
    unit = two_lines("yard", ("pick 0", "pick 1"), (0.0, -3.0, 12.0), (1.6, 3.0))
    lone = Simulation(scene(frame(((-0.6, 0.0), (0.6, 0.0))), unit))
    began, rig = lone.state.lines, rig_of(lone.description)
    for _ in range(240 * 30):
        lone.step(Commands(rig.units[0].hands(telescope=1.0)))
    lines, stop, parts = lone.state.lines, unit.hoist.block_and_stop_m, unit.hoist.parts
    assert lines[0].line_m == pytest.approx(stop, abs=5e-3) and lines[0].line_m >= stop - 1e-9
    grown = lone.state.booms[0].drives.length_m - unit.start.boom_length_m
    for was, now in zip(began, lines, strict=True):
        assert was.line_m - now.line_m == pytest.approx(grown / parts, abs=1e-9)


@pytest.mark.long_in_plain
def test_a_lone_unit_s_lines_splay_and_share_by_a_lever_s_rule() -> None:
    """CG 0.25 m off the middle between picks 1.2 m apart: the lines' plumb parts balance it about the CG."""
    trailer = replace(frame(((-0.6, 0.0), (0.6, 0.0)), over_cg_m=1.5), hidden_cg_m=(0.25, 0.0, 0.0))
    simulation = Simulation(scene(trailer, two_lines("yard", ("pick 0", "pick 1"), (0.0, -3.0, 12.0), (8.0, 8.0))))
    under_the_sheaves(simulation)
    come_to_rest(simulation)
    lines, m, weight = simulation.state.lines, simulation.state.motion, simulation.model.weight_N
    pulls = [line.hook_load_N * np.array([line.hang.ux, line.hang.uy, line.hang.uz]) for line in lines]
    assert sum(pulls) == pytest.approx(np.array([0.0, 0.0, weight]), abs=1e-4 * weight)
    arms = [np.array(line.hang.hook) - np.array(m[:3]) for line in lines]
    turning = sum(np.cross(arm, pull) for arm, pull in zip(arms, pulls, strict=True))
    assert turning == pytest.approx(np.zeros(3), abs=1e-3 * weight)
    assert lines[1].hook_load_N > lines[0].hook_load_N > 0.1 * weight


def test_the_reference_of_sway_hangs_over_the_cg() -> None:
    assert weights_over_cg([-6.0, 6.0]) == [0.5, 0.5]
    assert weights_over_cg([-4.0, 6.0]) == pytest.approx([0.6, 0.4])
    assert weights_over_cg([-4.0, 6.0, -4.0, 6.0]) == pytest.approx([0.3, 0.2, 0.3, 0.2])
    assert weights_over_cg([0.0, 0.0]) == [0.5, 0.5]
    assert weights_over_cg([1.7]) == [1.0]


def test_a_lone_unit_loads_hangs_drives_and_is_judged() -> None:
    """Off the ground on two lines by the commands of one seat; readings, gaps and marks are of one unit."""
    lift = lone_lift()
    attempt = Attempt(lift)
    unit = rig_of(lift).units[0]
    assert [reading.slack for reading in attempt.readings.lines] == [True, True]
    attempt.advance(Commands(unit.hands(hoist_1=0.5, hoist_2=0.5)), 240 * 20)
    readings = attempt.readings
    assert readings.load.ground_N == 0.0 and not any(line.slack for line in readings.lines)
    assert readings.units[0].share == pytest.approx(1.0)
    assert readings.units[0].tandem_used == readings.units[0].capacity_used, "no mark for a lift by two"
    assert readings.gaps and not attempt.incidents
    attempt.stop()
    attempt.acknowledge(0)
    assert not attempt.stopped, "its only seat has heard"


def lone_lift() -> Description:
    """The short half of a load before one unit that stands by itself."""
    lift = replace(LIFT, trailer=replace(LIFT.trailer, start=replace(LIFT.trailer.start, x_m=0.0)))
    half = replace(lift.trailer.parts[0], outline_m=((-2.0, 1.4), (2.0, 1.4), (2.0, 4.0), (-2.0, 4.0)))
    picks = tuple(
        replace(lift.trailer.picks[0], name=name, at_m=(x, 1.3, 2.0)) for name, x in (("front", -1.0), ("rear", 1.0))
    )
    cargo = replace(lift.trailer.cargo, mass_kg=3000.0, cg_m=(0.0, 0.0, 2.2), size_m=(3.0, 1.4, 1.6))
    trailer = replace(lift.trailer, parts=(half,), cargo=cargo, picks=picks, hidden_cg_m=(0.0, 0.0, 0.0))
    made = demo_unit("yard", -9.075)
    pose = boom_pose(made, (0.0, -8.5, 11.0))
    lines = tuple(Line(pick, 50.0, made.hoist, across) for pick, across in (("front", -0.3), ("rear", 0.3)))
    start = replace(made.start, boom_length_m=pose.length_m, elevation_rad=pose.elevation_rad, slew_rad=pose.slew_rad)
    unit = replace(made, lines=lines, start=start)
    return replace(lift, units=(unit,), trailer=trailer, path=replace(lift.path, leader="yard"))


def test_each_damper_has_its_part_of_the_load() -> None:
    """The trailer's mass over the number of the lift's lines."""
    two, four = build(LIFT), build(halved(LIFT))
    assert {line.numbers.share_kg for line in two.lines} == {two.body.mass_kg / 2.0}
    assert {line.numbers.share_kg for line in four.lines} == {four.body.mass_kg / 4.0}


def test_the_hook_of_two_lines_is_their_middle_and_does_not_jump_with_their_loads() -> None:
    """Lines that bounce take load from each other: what is read as the unit's hook height stays where it is."""
    attempt = Attempt(load(find_scenario("turn_over")))
    nose, tail = attempt.rig.units
    while attempt.readings.lines[0].hook_load_N < 8e3 and attempt.readings.time_s < 20.0:
        attempt.advance(Commands(nose.hands(hoist_1=0.2), tail.hands()), attempt.every)
    one, other = (attempt.readings.lines[line.place] for line in nose.lines)
    assert one.hook_load_N > 2.0 * other.hook_load_N and abs(one.hook_z_m - other.hook_z_m) > 0.5
    assert attempt.readings.units[0].hook_z_m == pytest.approx((one.hook_z_m + other.hook_z_m) / 2.0, abs=1e-12)

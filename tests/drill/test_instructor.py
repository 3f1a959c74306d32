"""Stop orders, and the instructor's hand: each act does what it says, and a re-run does it again, bit for bit."""

from __future__ import annotations

import json
from math import hypot, nan

import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import KINDS, Instruction, changed, from_fields
from simulator.drill.partner import Partner
from simulator.engine.changes import carried_over, slipped
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.model import build
from simulator.engine.simulation import Simulation
from simulator.events import Fields
from simulator.scenario.rig import TWO_BY_ONE
from simulator.world import World
from tests.drill.lessons import drill, pair, session
from tests.engine.scenes import block, come_to_rest, hung, shares_N

HANDS = Commands(UnitCommands(slew=0.4), UnitCommands(telescope=0.4))


def advance(attempt: Attempt, seconds: float, commands: Commands = STILL) -> None:
    attempt.advance(commands, round(seconds / attempt.simulation.model.dt))


def is_still(attempt: Attempt) -> bool:
    return all(
        abs(unit.hoist_speed_mps) + abs(unit.telescope_speed_mps) + abs(unit.slew_speed_radps) < 1e-9
        for unit in attempt.readings.units
    )


def test_a_stop_from_anyone_stops_both_units_until_both_have_acknowledged() -> None:
    """The duty to obey a stop from anyone: 29 CFR 1926.1417(y)."""
    attempt = Attempt(drill("plumb_tips"))
    advance(attempt, 2.0, HANDS)
    assert not is_still(attempt)
    attempt.stop(by="a bystander")
    advance(attempt, 3.0, HANDS)
    assert is_still(attempt) and attempt.stopped
    assert session(attempt).prompt is not None and session(attempt).coach.prompt.kind == "stop"
    attempt.acknowledge(0)
    advance(attempt, 1.0, HANDS)
    assert is_still(attempt) and attempt.acknowledged == {0}
    attempt.acknowledge(1)
    advance(attempt, 1.0, HANDS)
    assert not attempt.stopped and not is_still(attempt)
    assert [loss.who for loss in session(attempt).losses] == ["nose", "tail"], "both went on pulling under the stop"


def test_a_new_stop_wants_new_acknowledgements() -> None:
    attempt = Attempt(drill("plumb_tips"))
    attempt.stop()
    attempt.acknowledge(0)
    attempt.stop()
    attempt.acknowledge(1)
    assert attempt.stopped and attempt.acknowledged == {1}


def test_the_partner_stops_on_a_stop_order_and_says_so_with_the_other_seat() -> None:
    described = drill("plumb_tips")
    attempt = Attempt(described, [None, Partner(described, 1)])
    advance(attempt, 2.0)
    assert attempt.readings.tail.slew_speed_radps != 0.0
    attempt.stop(by="the nose operator")
    advance(attempt, 3.0)
    assert is_still(attempt) and not session(attempt).losses
    attempt.acknowledge(0)
    assert not attempt.stopped
    advance(attempt, 1.0)
    assert attempt.readings.tail.slew_speed_radps != 0.0


def test_a_stop_is_counted_for_both_seats_and_holds_the_step() -> None:
    described = drill("plumb_tips")
    attempt = Attempt(described, pair(described))
    advance(attempt, 1.0)
    attempt.stop()
    advance(attempt, 1.0)
    assert [figures.stops for figures in session(attempt).judge.kept.steps[0]] == [1, 1]
    assert session(attempt).index == 0


@pytest.mark.parametrize("kind", KINDS)
def test_an_instruction_is_fields_and_back(kind: str) -> None:
    given = Instruction(kind, 0.1 + 0.2, 1, 2.5)  # type: ignore[arg-type]
    one = given.happening(TWO_BY_ONE)
    assert from_fields(one.fields) == given
    assert one.kind == "instructor" and "tail" in (one.fields.get("unit"), one.fields.get("line"))
    assert from_fields(json.loads(json.dumps(dict(one.fields)))) == given, "and out of a file"


def fields(act: object, amount: object, place: object, lasts_s: object) -> Fields:
    return {"act": act, "amount": amount, "place": place, "lasts_s": lasts_s}  # type: ignore[dict-item]


@pytest.mark.parametrize(
    "given", [{"act": "gust"}, {}, fields("dance", 1, 0, 0), fields("gust", "x", 0, 0), fields("gust", 1, 2, 0)]
)
def test_fields_that_are_no_instruction_are_refused(given: Fields) -> None:
    with pytest.raises(ValueError):
        from_fields(given)


def test_pause_and_coach() -> None:
    attempt = Attempt(drill("plumb_tips"))
    attempt.instruct(Instruction("hide coach"))
    assert session(attempt).prompt is None
    attempt.instruct(Instruction("show coach"))
    attempt.instruct(Instruction("pause"))
    assert session(attempt).prompt is not None and attempt.is_paused
    attempt.instruct(Instruction("go on"))
    assert not attempt.is_paused
    assert [event.kind for event in attempt.events] == ["instructor"] * 4


def test_a_step_back_takes_world_and_points_back_and_lets_time_go_on() -> None:
    described = drill("plumb_tips")
    attempt = Attempt(described, pair(described))
    started = attempt.readings
    while session(attempt).index == 0:
        attempt.advance(STILL, attempt.every)
    held, second = session(attempt), attempt.readings
    for _ in range(60):
        attempt.operators[0] = None
        attempt.advance(Commands(UnitCommands(slew=1.0), UnitCommands()), attempt.every * 2)
    assert held.losses and attempt.readings.nose.slew_rad != second.nose.slew_rad
    at_s = attempt.simulation.time_s
    attempt.instruct(Instruction("step back", -1))
    assert not held.losses and held.index == 1
    assert attempt.readings.nose.slew_rad == second.nose.slew_rad
    attempt.instruct(Instruction("step back", 0))
    assert held.index == 0 and held.progress.passed_by == set()
    assert attempt.readings.nose.slew_rad == started.nose.slew_rad
    assert attempt.simulation.time_s == at_s
    attempt.operators[0] = Partner(described, 0)
    while not attempt.ended:
        attempt.advance(STILL, attempt.every)
    assert held.passed and held.result()[0].together == 100.0


ACTS = (
    Instruction("gust", 9.0, lasts_s=1.0),
    Instruction("cargo shifts", 0.5),
    Instruction("soft float", 0.3, 1),
    Instruction("line slips", 0.15, 0),
    Instruction("bed holds", 20e3),
    Instruction("step back", 0.0),
    Instruction("gust", 5.0, lasts_s=2.0),
)


def test_a_re_run_with_the_same_acts_at_the_same_steps_is_the_same_lift() -> None:
    """Commands and events are all there is to it: no operator and no judge is asked again."""
    described = drill("set_down")
    attempt = Attempt(described, pair(described))
    for act in ACTS:
        advance(attempt, 1.3)
        attempt.instruct(act)
    advance(attempt, 2.0)
    again, acts = Attempt(described), [event for event in attempt.events if event.kind == "instructor"]
    changes = dict(attempt.changes)
    given = STILL
    for step in range(attempt.simulation.state.step):
        for event in acts:
            if event.step == step:
                again.instruct_again(event.fields)
        given = changes.get(step, given)
        again.advance(given, 1)
    assert again.state_hash == attempt.state_hash
    assert len(acts) == len(ACTS)


def test_a_gust_pushes_by_the_square_of_its_speed_and_lets_go() -> None:
    """q = 0.613 V^2 (ASCE 7, SI) on the area seen from the side, drag 1.3 (a choice, no source)."""
    described = drill("plumb_tips")
    attempt = Attempt(described)
    attempt.instruct(Instruction("gust", 8.0, lasts_s=1.0))
    advance(attempt, 0.5)
    area = 11.0 * 1.6
    assert attempt.readings.load.other_y_N == pytest.approx(0.613 * 8.0**2 * 1.3 * area, rel=1e-9)
    advance(attempt, 1.0)
    assert attempt.readings.load.other_y_N == 0.0


def test_shifted_cargo_shows_in_the_loads() -> None:
    """W b / s and W a / s with the CG 0.7 m further on; the trailer itself stays where it was."""
    simulation = hung(block(rigging_m=1.0, pick_over_cg_m=0.5))
    was, before = simulation.model, simulation.state
    now = build(changed(was.description, Instruction("cargo shifts", 0.7)))
    simulation.change(now, carried_over(was, now, before))
    assert simulation.state.motion.x == pytest.approx(before.motion.x + 0.7)
    assert [line.hang.hook for line in simulation.state.lines] == [line.hang.hook for line in before.lines]
    come_to_rest(simulation, still_J=1e-3)
    expected = shares_N(now.description.trailer, now.body.mass_kg)
    loads = [line.hook_load_N for line in simulation.state.lines]
    assert loads[1] > loads[0]
    assert loads == pytest.approx(expected, rel=5e-3)


def test_a_turning_load_keeps_its_turning_and_its_points_their_speed() -> None:
    simulation = hung(block())
    m = simulation.state.motion
    spinning = Simulation(simulation.description)
    spinning.place(m._replace(oy=0.1, pitch_rate=0.1, ly=0.1 * simulation.model.body.inertia_kg_m2[4], vz=0.2))
    was = spinning.model
    now = build(changed(was.description, Instruction("cargo shifts", 0.7)))
    after = carried_over(was, now, spinning.state).motion
    assert (after.oy, after.pitch_rate) == (0.1, 0.1)
    assert after.vz == pytest.approx(0.2 - 0.1 * 0.7)  # omega x r: nose goes up, the new CG lies toward the tail
    assert after.ly == pytest.approx(0.1 * now.body.inertia_kg_m2[4])


def test_a_slipped_line_is_longer_by_the_rope_over_its_parts() -> None:
    attempt = Attempt(drill("plumb_tips"))
    before = attempt.readings
    attempt.instruct(Instruction("line slips", 0.30, 1))
    advance(attempt, 0.1)
    parts = attempt.description.units[1].hoist.parts
    assert attempt.readings.tail.line_length_m - before.tail.line_length_m == pytest.approx(0.30 / parts)
    assert attempt.readings.nose.line_length_m == before.nose.line_length_m
    assert slipped(attempt.simulation.state, 0, 0.0) == attempt.simulation.state


@pytest.mark.parametrize("place", range(4))
def test_each_of_four_lines_slips_alone(place: int) -> None:
    world = World(drill("four_lines"))
    simulation = world.simulation
    before = [line.rope_out_m for line in simulation.state.lines]
    given = Instruction("line slips", 0.30, place).happening(simulation.model.rig)
    world.instruct_again(given.fields)
    slip_m = [line.rope_out_m - was for line, was in zip(simulation.state.lines, before, strict=True)]
    assert slip_m == pytest.approx([0.30 if line == place else 0.0 for line in range(4)])
    assert given.fields["line"] == simulation.model.rig.lines[place].name


@pytest.mark.parametrize(("kind", "amount"), [("line slips", 0.3), ("soft float", 0.5)])
def test_a_unit_or_line_that_this_lift_has_not_is_refused_in_a_sentence(kind: str, amount: float) -> None:
    attempt = Attempt(drill("plumb_tips"))
    before = attempt.state_hash
    with pytest.raises(ValueError, match="allowed: 0 to 1, such as"):
        attempt.instruct(Instruction(kind, amount, 2))  # type: ignore[arg-type]
    assert attempt.state_hash == before and [event.kind for event in attempt.events].count("instructor") == 0


def test_a_soft_float_carries_less() -> None:
    attempt = Attempt(drill("plumb_tips"))
    before, weight = attempt.readings.nose.float_tailboard_road_N, sum(attempt.readings.nose.floats_N)
    attempt.instruct(Instruction("soft float", 0.2, 0))
    advance(attempt, 0.2)
    assert attempt.readings.nose.float_tailboard_road_N < 0.9 * before
    assert sum(attempt.readings.nose.floats_N) == pytest.approx(weight, rel=1e-6)


def test_a_hold_of_the_bed_takes_hold_where_the_load_lies_and_lets_go_at_its_pull() -> None:
    """Lying still it pulls nothing; a gust it holds against is pushed back by just as much; a stronger one frees it."""
    attempt = Attempt(drill("plumb_tips"))
    attempt.instruct(Instruction("bed holds", 15e3))
    advance(attempt, 0.5)
    load = attempt.readings.load
    assert attempt.simulation.state.hold_at is not None
    assert hypot(load.other_x_N, load.other_y_N, load.other_z_N) < 100.0
    attempt.instruct(Instruction("bed holds", 1e-3))
    attempt.instruct(Instruction("gust", 10.0, lasts_s=1.0))
    advance(attempt, 0.5)
    assert attempt.simulation.state.hold_at is None


def test_the_very_lift_described_is_left_as_it_was() -> None:
    described = drill("plumb_tips")
    attempt = Attempt(described)
    for act in ACTS:
        attempt.instruct(act)
    assert attempt.description == described == drill("plumb_tips")
    hashed = Attempt(described).state_hash
    attempt.simulation.reset()
    assert attempt.state_hash == hashed


@pytest.mark.parametrize(
    "given",
    [fields("soft float", 0, 0, 0), fields("gust", nan, 0, 6), fields("line slips", 1e308, 1, 0),
     fields("gust", 3, 2, 6), fields("x", 1, 0, 0), fields("line slips", 0.1, 4, 0), fields("soft float", 0.5, -1, 0)],
)  # fmt: skip
def test_a_wild_instruction_is_refused_in_a_sentence(given: Fields) -> None:
    with pytest.raises(ValueError, match="allowed"):
        from_fields(given)

"""Operators, judge and coach of lifts that are no pair with a line each: two lines a unit, and one unit alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from math import degrees, radians
from pathlib import Path
from typing import NamedTuple

import pytest

from simulator.attempt import Attempt
from simulator.drill.agreed_path import agreement
from simulator.drill.clumsy import operator_of
from simulator.drill.instruction import Instruction
from simulator.drill.maneuvers import Hands
from simulator.drill.own_lines import SLACK_OUT_N, high_m, off_m, plumb_tip_m, share_of_way
from simulator.drill.partner import Partner
from simulator.drill.session import Session
from simulator.drill.steering import Aim, steer
from simulator.drill.voice_signals import spoken
from simulator.drill.ways import WAYS
from simulator.engine.commands import still
from simulator.mechanics.weighing import Errors, weigh
from simulator.mechanics.weighing_lift import ends_of, reading_of
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.recording.keep import start_recording
from simulator.recording.lift_file import read
from simulator.recording.replay import check
from simulator.scenario.description import Description
from simulator.scenario.drill import Condition, Drill, Step, Work
from simulator.scenario.measures import TONNE_N
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.script import run
from tests.demo import with_line
from tests.drill.lessons import coarser

NEVER = Condition(reading="time_s", comparison=">=", value=1e6, change=True)
LONE = Path(__file__).with_name("lone_unit.toml")


@lru_cache
def four_lines() -> Description:
    return load(find_scenario("four_lines"))


@lru_cache
def lone_unit() -> Description:
    return load(LONE)


class Lifted(NamedTuple):
    """A lift driven to its end by automatic operators, and all readings that went by."""

    attempt: Attempt
    seen: list[Readings]

    @property
    def hanging(self) -> Iterator[Readings]:
        """Those of a load that has hung for ten seconds and more."""
        since_s = next(now.time_s for now in self.seen if now.load.ground_N <= 0.0) + 10.0
        return (now for now in self.seen if now.load.ground_N <= 0.0 and now.time_s > since_s)


def lifted(described: Description) -> Lifted:
    half = coarser(described)
    attempt, seen = Attempt(half, [Partner(half, unit.place) for unit in rig_of(half).units], in_bulk=True), []
    attempt.observers.append(seen.append)
    run_operators(attempt, longest_s=400.0)
    return Lifted(attempt, seen)


@pytest.fixture(scope="module")
def uneven() -> Lifted:
    """The four-line lift with one line a hand's breadth shorter than its neighbor, and the CG beside the middle."""
    shorter = with_line(four_lines(), 0, 1, rope_out_m=four_lines().units[0].lines[0].rope_out_m - 0.3)
    return lifted(replace(shorter, trailer=replace(shorter.trailer, hidden_cg_m=(0.2, 0.25, 0.0))))


@pytest.fixture(scope="module")
def alone() -> Lifted:
    return lifted(lone_unit())


def test_four_lines_are_landed_though_they_begin_uneven(uneven: Lifted) -> None:
    assert uneven.attempt.readings.load.landed and not uneven.attempt.incidents


def test_the_load_hangs_level_across_and_along_by_four_lines(uneven: Lifted) -> None:
    """Within 2 degrees; all four bear, and no unit's sum of pulls leans more than its caution while it hangs."""
    limits, crossing = four_lines().limits, [now for now in uneven.hanging if now.load.y_m > -5.0]
    assert max(abs(degrees(now.load.roll_rad)) for now in crossing) < 2.0
    assert max(abs(degrees(now.load.pitch_rad)) for now in crossing) < 2.0
    assert min(line.hook_load_N for now in crossing for line in now.lines) > SLACK_OUT_N
    assert max(unit.mean_off_plumb_rad for now in crossing for unit in now.units) < limits.off_plumb_caution_rad


def test_a_load_beside_its_middle_is_borne_by_the_lines_on_that_side(uneven: Lifted) -> None:
    """The CG stands 0.25 m toward the road of the middle: the road-side lines bear more."""
    loads = [[line.hook_load_N for line in now.lines] for now in uneven.hanging]
    road, ravine = (sum(sum(one[place] for place in places) for one in loads) for places in ((0, 2), (1, 3)))
    assert road > 1.05 * ravine


def test_one_unit_alone_lands_its_load_on_its_two_lines(alone: Lifted) -> None:
    attempt = alone.attempt
    assert attempt.readings.load.landed and not attempt.incidents
    assert len(attempt.readings.units) == 1 and len(attempt.readings.lines) == 2
    assert max(abs(degrees(now.load.pitch_rad)) for now in alone.hanging) < 3.0
    assert all(line.slack for line in attempt.readings.lines)


def test_a_lone_units_tip_stands_over_the_cg_and_not_over_the_middle_of_its_picks(alone: Lifted) -> None:
    """By the papers: the cargo and the post stand to the front, so the CG is -0.4 m from the middle of the frame."""
    by_hand_m = -(600.0 * 0.6 + 400.0 * 2.1) / 3000.0
    assert by_hand_m == pytest.approx(-0.4)
    agreed, start = agreement(lone_unit()), lone_unit().trailer.start
    assert agreed.tips_x_m == pytest.approx((start.x_m,)), "the stated CG lies at the start's x"
    assert agreed.picks_m[0][0] + agreed.picks_m[1][0] == pytest.approx(-2.0 * by_hand_m)
    assert agreed.span_m == 0.0 and agreed.hook_rise_m(0.3) == 0.0


def steadiest(moments: list[Readings]) -> Readings:
    """In the middle of the second in which the pulls change least."""
    sums = [sum(line.line_load_N for line in one.lines) for one in moments]
    middles = range(30, len(moments) - 30)
    return moments[min(middles, key=lambda at: max(sums[at - 30 : at + 30]) - min(sums[at - 30 : at + 30]))]


def test_two_lines_say_what_a_lone_load_weighs_and_where(alone: Lifted) -> None:
    """Splayed lines of one unit, each at its own angle: 3.0 t with the CG where the papers have it."""
    lift, now = lone_unit(), steadiest(list(alone.hanging))
    leans = {
        line.name: (one.off_plumb_along_rad, one.off_plumb_across_rad)
        for line, one in zip(rig_of(lift).lines, now.lines, strict=True)
    }
    loads = [one.line_load_N for one in now.lines]
    reading = reading_of(lift, loads, leans_rad=leans, pitch_rad=now.load.pitch_rad, yaw_rad=now.load.yaw_rad,
                         roll_rad=now.load.roll_rad)  # fmt: skip
    found = weigh([reading], Errors(), ends_of(lift))
    assert found.weight_N == pytest.approx(3.0 * TONNE_N, rel=0.01), now.load.sway_m
    assert found.cg_m[0] == pytest.approx(0.0, abs=0.03)


@pytest.mark.parametrize("described", [four_lines(), lone_unit()], ids=["four lines", "alone"])
@pytest.mark.parametrize("way", WAYS)
def test_every_way_of_driving_answers_a_value_a_lever(described: Description, way: str) -> None:
    attempt = Attempt(described)
    operators = [operator_of(described, unit.place, way) for unit in attempt.rig.units]
    for _ in range(5):
        hands = [one.command(attempt.readings) for one in operators]
        assert [len(one) for one in hands] == [len(unit.levers) for unit in attempt.rig.units]
        attempt.advance(still(attempt.rig), 240)


@pytest.fixture(scope="module")
def begun() -> Readings:
    """The four-line lift as it begins."""
    return Attempt(four_lines()).readings


def test_both_lines_count_alike_until_both_bear(begun: Readings) -> None:
    """Hooks at y -5.6 and -7.6 under sheaves 0.3 m to either side: the middle, and by loads 3 to 1 a quarter."""
    unit = rig_of(four_lines()).units[0]
    one, two = begun.lines[:2]
    first_y, second_y = (line.hook_y_m - line.tip_y_m for line in (one, two))
    tip_y = begun.units[0].tip_y_m

    def plumb_y(*loads_N: float) -> float:
        lines = [line._replace(hook_load_N=load) for line, load in zip((one, two), loads_N, strict=True)]
        return plumb_tip_m(begun._replace(lines=(*lines, *begun.lines[2:])), unit)[1]

    assert plumb_y(0.0, 0.0) == pytest.approx(tip_y + (first_y + second_y) / 2.0)
    assert plumb_y(9e3, 1e3) == pytest.approx(tip_y + (first_y + second_y) / 2.0), "one line does not bear"
    assert plumb_y(15e3, 5e3) == pytest.approx(tip_y + 0.75 * first_y + 0.25 * second_y)


def test_lines_that_lean_apart_hold_the_tip_near_where_it_is(begun: Readings) -> None:
    """Drops of 10 m under 20 kN a line: two lines that lean by 1 in 10 at 2 MN/m give 20 kN/m each beside 2 kN/m."""
    plumb = begun.lines[0]._replace(hook_x_m=0.0, tip_x_m=0.0, hook_y_m=0.0, tip_y_m=0.0, sheave_to_hook_m=10.0,
                                    hook_load_N=20e3, line_stiffness_N_per_m=2e6)  # fmt: skip
    assert share_of_way((plumb, plumb)) == 1.0
    assert share_of_way((plumb._replace(hook_x_m=-1.0), plumb._replace(hook_x_m=1.0))) == pytest.approx(4.0 / 44.0)


def test_a_line_that_bears_waits_for_its_neighbor(begun: Readings) -> None:
    lines = (begun.lines[0]._replace(hook_load_N=2.0 * SLACK_OUT_N), *begun.lines[1:])
    hands = Hands(four_lines(), 0)
    aim = hands.aim("take slack", begun._replace(lines=lines))
    assert aim is not None and aim.hooks_up_mps[0] == 0.0 and aim.hooks_up_mps[1] > 0.0
    unit = rig_of(four_lines()).units[0]
    given = dict(zip((lever.key for lever in unit.levers), steer(four_lines().units[0], unit, begun, aim), strict=True))
    assert given["hoist_1"] == 0.0 and given["hoist_2"] > 0.0 and given["both"] == 0.0


def test_the_side_that_is_high_goes_up_slower(begun: Readings) -> None:
    """Road side up 3 degrees at picks 1 m either side of the middle: 0.052 m up and as much down."""
    unit = rig_of(four_lines()).units[0]
    rolled = begun._replace(load=begun.load._replace(roll_rad=radians(3.0), pitch_rad=0.0, yaw_rad=0.0, ground_N=0.0))
    assert high_m(rolled, unit, agreement(four_lines())) == pytest.approx((0.0523, -0.0523), abs=2e-4)
    hands = Hands(four_lines(), 0)
    hands.begin(begun)
    aim = hands.aim("cross", rolled)
    assert aim is not None and aim.more_up_mps[0] < 0.0 < aim.more_up_mps[1]


def test_each_line_is_steered_by_its_own_winch(begun: Readings) -> None:
    unit = rig_of(four_lines()).units[1]
    here = begun.units[1]
    aim = Aim((here.tip_x_m, here.tip_y_m, here.tip_z_m), hook_up_mps=0.05, more_up_mps=(0.05, 0.0))
    given = unit.hands(hoist_1=0.4, hoist_2=0.2)
    assert steer(four_lines().units[1], unit, begun, aim)[:2] == pytest.approx(given[:2], abs=0.02)
    assert off_m(begun, unit) < 0.3


def test_a_line_slips_by_its_own_place_and_no_other_line_is_there() -> None:
    attempt = Attempt(four_lines())
    before = [line.rope_out_m for line in attempt.readings.lines]
    attempt.instruct(Instruction("line slips", 0.2, 3))
    attempt.advance(still(attempt.rig), attempt.every)
    slipped = [line.rope_out_m - was for line, was in zip(attempt.readings.lines, before, strict=True)]
    assert slipped == pytest.approx([0.0, 0.0, 0.0, 0.2])
    with pytest.raises(ValueError, match="line slips: given line 4, allowed: 0 to 3"):
        attempt.instruct(Instruction("line slips", 0.2, 4))
    with pytest.raises(ValueError, match="soft float: given unit 2, allowed: 0 to 1"):
        attempt.instruct(Instruction("soft float", 0.5, 2))


def test_a_script_seats_one_operator_a_unit() -> None:
    assert run(lone_unit(), [None], longest_s=2.0).last is not None
    with pytest.raises(ValueError, match=r"operators: given 2, allowed: 1 in a list \(yard\)"):
        run(lone_unit(), [None, None], longest_s=2.0)


def lesson(described: Description, seat: str) -> Description:
    """A short drill on a lift: one unit takes its slack and lifts off, all others look on."""
    first, free = described.units[0].name, Condition(reading="load.ground_N", comparison="<=", value=0.0, hold_s=3.0)
    lines = [line.name for line in rig_of(described).units[0].lines]
    bear = tuple(Condition(reading=f"{name}.slack", comparison="<", value=1.0) for name in lines)
    steps = (
        Step(title="slack", work="take slack", moves=seat, until=bear),
        Step(title="lift", work="lift off", moves=seat, until=(free,)),
        Step(title="hold", work="hold", moves="none", until=(replace(free, reading="time_s", change=True,
                                                                     comparison=">=", value=8.0),)),
    )  # fmt: skip
    is_plumb = Condition(reading=f"{first}.off_plumb_rad", comparison="<", value=0.01, hold_s=1.0)
    plumb = Step(title="plumb", work="plumb the tips", moves=seat, until=(is_plumb,))
    return replace(described, drill=Drill(aim="a test", steps=(plumb, *steps)))


@pytest.mark.parametrize("seat", ["yard", "both"])
def test_a_lone_unit_is_judged_and_both_means_that_unit(seat: str, tmp_path: Path) -> None:
    """Driven through a drill by its operator, recorded, read back and run again; its seat has points of its own."""
    described = coarser(lesson(lone_unit(), seat))
    attempt = Attempt(described, [Partner(described, 0)])
    with start_recording(attempt, tmp_path, "2031-04-05 06:07", ("Ada",)) as recorder:
        run_operators(attempt, longest_s=120.0)
    session = attempt.session
    assert session is not None and session.done and not session.failed_by
    told = session.as_json()
    assert set(told["score"]) == {"yard", "together"} and told["score"]["yard"] > 85.0
    assert all(len(step["figures"]) == 1 for step in told["steps"])
    assert session.account()[0].fields["state"] == "passed" and "of_yard" in session.account()[0].fields
    assert session.center is not None
    recording = read(recorder.path)
    assert recording.rig.line_names == ("yard_1", "yard_2")
    assert check(recording, jobs=1).same


def test_the_coach_of_a_lone_unit_speaks_to_nobody_else() -> None:
    described = lesson(lone_unit(), "yard")
    attempt = Attempt(described)
    session = attempt.session
    assert session is not None and session.prompt is not None
    for _ in range(30):
        attempt.advance(still(attempt.rig), 24)
        for text in (session.prompt.sentence, session.prompt.reason):
            assert not any(word in text.lower() for word in ("both", "other", "nose", "tail")), text
    assert session.prompt.mover == "yard" and session.prompt.sentence.startswith("Unit: ")
    attempt.stop()
    attempt.advance(still(attempt.rig), 240)
    assert "oth" not in session.prompt.sentence


def test_the_coach_names_the_one_line_that_is_to_go() -> None:
    """Line 1 bears, line 2 hangs slack: line 2 up until it bears."""
    described = lesson(four_lines(), "nose")
    drill = described.drill
    assert drill is not None
    described = replace(described, drill=replace(drill, steps=drill.steps[1:]))
    now = Attempt(described).readings
    unit = now.units[0]
    plumb = tuple(
        line._replace(hook_x_m=line.tip_x_m, hook_y_m=line.tip_y_m, hook_load_N=load)
        for line, load in zip(now.lines, (6e3, 0.0, 0.0, 0.0), strict=True)
    )
    now = now._replace(lines=plumb, units=(unit._replace(hook_x_m=unit.tip_x_m, hook_y_m=unit.tip_y_m), now.units[1]))
    session = Session(described, now)
    session.see(now, still(rig_of(described)))
    prompt = session.prompt
    assert prompt is not None and prompt.signal is not None
    assert (prompt.signal.unit, prompt.signal.line, prompt.signal.sign) == ("nose", 2, 1)
    assert spoken(prompt.signal) == "Nose unit: line 2 up, until it carries load, slow; line, stop."


@pytest.mark.parametrize("work", ["raise", "cross", "steady"])
def test_a_load_that_came_up_leaning_is_brought_level_in_whatever_comes_after(begun: Readings, work: str) -> None:
    """12 degrees on a bank are 0.21 m at a pick 1 m out: after a minute at 5 mm/s it is to hang level."""
    leaning = begun._replace(load=begun.load._replace(roll_rad=radians(12.0), pitch_rad=0.0, yaw_rad=0.0, ground_N=0.0))
    hands = Hands(four_lines(), 0)
    hands.begin(leaning)
    first = last = hands.aim(work, leaning)
    for tick in range(1, 601):
        last = hands.aim(work, leaning._replace(time_s=leaning.time_s + 0.1 * tick))
    assert first is not None and last is not None
    assert first.more_up_mps == pytest.approx((0.0, 0.0), abs=1e-9)
    assert last.more_up_mps[0] < 0.0 < last.more_up_mps[1]


def test_a_line_that_went_slack_is_taken_up_before_the_load_is_lifted_on(begun: Readings) -> None:
    lines = (begun.lines[0]._replace(hook_load_N=5.0 * SLACK_OUT_N), *begun.lines[1:])
    lies = begun._replace(lines=lines, load=begun.load._replace(ground_N=1e5))
    aim = Hands(four_lines(), 0).aim("lift off", lies)
    assert aim is not None and aim.hooks_up_mps[0] == 0.0 and aim.hooks_up_mps[1] > 0.0


@pytest.mark.parametrize("beside_m", [-0.3, 0.0, 0.3])
def test_tips_of_picks_beside_the_center_stand_over_the_center_itself(beside_m: float) -> None:
    """One line an end: the load rolls until its center of gravity hangs under the line between the two picks."""
    lift = load(find_scenario("practice_yard"))
    picks = tuple(replace(pick, at_m=(pick.at_m[0], beside_m, pick.at_m[2])) for pick in lift.trailer.picks)
    agreed = agreement(replace(lift, trailer=replace(lift.trailer, picks=picks)))
    assert agreed.tip_y_over_reference_m == pytest.approx((0.0, 0.0), abs=1e-9)
    skew = (replace(picks[0], at_m=(picks[0].at_m[0], beside_m - 0.2, picks[0].at_m[2])), picks[1])
    nose, tail = agreement(replace(lift, trailer=replace(lift.trailer, picks=skew))).tip_y_over_reference_m
    assert tail - nose == pytest.approx(0.2)
    (first_x, *_), (last_x, *_) = agreed.picks_m
    assert nose + (tail - nose) * first_x / (first_x - last_x) == pytest.approx(0.0, abs=1e-9)


def test_each_end_keeps_its_own_height_in_a_turn() -> None:
    """One degree of pitch at picks 3.6 m out is 0.063 m: the low end goes up and the high one down, alike."""
    lift = load(find_scenario("turn_over"))
    now = Attempt(lift).readings
    level = now._replace(load=now.load._replace(pitch_rad=0.0, roll_rad=0.0, sway_m=0.0, ground_N=0.0))
    pitched = level._replace(load=level.load._replace(pitch_rad=radians(1.0)))
    keeps = []
    for end in (0, 1):
        hands = Hands(lift, end)
        hands.begin(level)
        aim = hands.aim("turn", pitched)
        assert aim is not None
        keeps.append(sum(aim.hooks_up_mps) / 2.0)
    assert keeps[0] == pytest.approx(-keeps[1], abs=1e-9) and abs(keeps[0]) > 0.01
    assert keeps[0] < 0.0, "pitched up at the nose, which comes down"


@pytest.mark.parametrize(("work", "charged"), [("take line 2", False), ("center", True)])
def test_a_line_that_bears_alone_may_lean_while_lines_are_taken_one_by_one(work: Work, charged: bool) -> None:
    described = four_lines()
    exercise = Drill(aim="a test", steps=(Step(title="one", work=work, until=(NEVER,)),))
    now = Attempt(described).readings
    leans = {"slack": False, "mean_off_plumb_rad": radians(4.0), "off_plumb_rad": radians(4.0)}
    now = now._replace(units=tuple(unit._replace(**leans) for unit in now.units))
    session = Session(replace(described, drill=exercise), now)
    for tick in range(60):
        session.see(now._replace(time_s=now.time_s + tick / 10.0), still(rig_of(described)))
    rules = {loss.rule for loss in session.losses if "off plumb" in loss.rule}
    assert bool(rules) is charged, session.losses

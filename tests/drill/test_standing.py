"""What is charged in every drill: one end that goes on ahead of the other, and levers pulled to and fro."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest

from simulator.drill.agreed_path import agreement
from simulator.drill.session import Session
from simulator.engine.commands import Commands, UnitCommands
from simulator.scenario.drill import Condition, Drill, Seat, Step, Work
from tests.drill.lessons import at, drill, with_drill

DT = 0.1
LONG = Condition(reading="time_s", comparison=">=", value=1e6, change=True)
STILL_HANDS = UnitCommands()


def rules(session: Session) -> dict[str, Seat]:
    return {loss.rule: loss.who for loss in session.losses}


def lesson(work: Work) -> Session:
    return Session(with_drill(Drill(aim="a test", steps=(Step(title="one", work=work, until=(LONG,)),))), at(0.0))


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize(
    ("work", "began_m", "ahead_m", "pull", "costs"),
    [
        ("raise", 0.0, 0.30, 0.5, True),
        ("raise", 0.0, 0.15, 0.5, False),
        ("raise", 0.0, 0.30, 0.0, False),
        ("raise", 0.35, 0.36, 0.5, False),
        ("raise", -0.30, 0.05, 0.5, False),
        ("lower", 0.0, -0.30, -0.5, True),
        ("lower", 0.0, 0.30, -0.5, False),
        ("cross", 0.0, 0.30, 0.5, False),
    ],
    ids=["ahead", "a little", "hands off", "lay so", "levels it", "down ahead", "behind", "in a crossing"],
)
def test_going_on_ahead_of_the_other(
    end: int, work: Work, began_m: float, ahead_m: float, pull: float, costs: bool
) -> None:
    """Hooks at the heights agreed for a level load, one of them so much higher at first and later."""
    described = with_drill(Drill(aim="a test", steps=(Step(title="one", work=work, until=(LONG,)),)))
    over = agreement(described).hook_over_belly_m

    def hooks(more_m: float) -> dict[str, dict[str, float]]:
        heights = [over[place] + (more_m if place == end else 0.0) for place in (0, 1)]
        return {name: {"hook_z_m": height} for name, height in zip(("nose", "tail"), heights, strict=True)}

    hands = [UnitCommands(hoist=pull) if place == end else STILL_HANDS for place in (0, 1)]
    session = Session(described, at(0.0, ground_N=0.0, **hooks(began_m)))
    for index in range(1, 30):
        session.see(at(DT * index, ground_N=0.0, **hooks(ahead_m)), Commands(*hands))
    assert rules(session) == ({"went on ahead of the other": ("nose", "tail")[end]} if costs else {})


@pytest.mark.parametrize(("every_s", "pull", "ground_N", "costs"), [
    (2.0, 0.5, 0.0, True), (2.0, 0.05, 0.0, False), (2.0, 0.5, 1e5, False), (8.0, 0.5, 0.0, False),
])  # fmt: skip
def test_a_lever_to_and_fro_while_the_load_hangs(every_s: float, pull: float, ground_N: float, costs: bool) -> None:
    """Period 6 s: turns 2 s apart are three within two periods, turns 8 s apart are two."""
    session = lesson("steady")
    for index in range(1, 400):
        way = 1.0 if int(DT * index / every_s) % 2 == 0 else -1.0
        session.see(at(DT * index, ground_N=ground_N), Commands(STILL_HANDS, UnitCommands(slew=way * pull)))
    found = rules(session)
    assert ("lever turned straight back" in found) is (pull > 0.1)
    found.pop("lever turned straight back", None)
    assert found == ({"lever pulled to and fro": "tail"} if costs else {})


@pytest.mark.parametrize(("rests_s", "points"), [(1.0, 5.5), (6.0, 0.0)])
def test_a_lever_turned_straight_back_costs_a_little(rests_s: float, points: float) -> None:
    """Two seconds half over one way, a rest, two seconds the other way: pulled too far if the rest is short."""
    session = lesson("plumb the tips")
    for index in range(1, 120):
        time_s = DT * index
        way = 1.0 if time_s < 2.0 else -1.0 if 2.0 + rests_s < time_s < 4.0 + rests_s else 0.0
        session.see(at(time_s), Commands(UnitCommands(slew=0.5 * way), STILL_HANDS))
    assert sum(loss.points for loss in session.losses) == points


@pytest.mark.parametrize(
    ("moves", "ground_N", "went_m", "costs"),
    [("none", 0.0, 0.25, True), ("nose", 0.0, 0.25, True), ("none", 0.0, 0.15, False), ("none", 1e4, 0.25, False),
     ("tail", 0.0, 0.25, False), ("both", 0.0, 0.25, False)],
    ids=["in a hold", "in the other's turn", "a little", "it lies", "its turn", "both move"],
)  # fmt: skip
def test_an_end_of_a_hanging_load_moved_out_of_turn(moves: Seat, ground_N: float, went_m: float, costs: bool) -> None:
    """Tail pulls its hoist lever for a second, and its hook comes up by so much."""
    drawn = Drill(aim="a test", steps=(Step(title="one", work="hold", moves=moves, until=(LONG,)),))
    session = Session(with_drill(drawn), at(0.0, ground_N=ground_N))
    for index in range(1, 40):
        hands = Commands(STILL_HANDS, UnitCommands(hoist=0.5) if 15 < index < 25 else STILL_HANDS)
        tail = {"hook_z_m": went_m if index > 25 else 0.0}
        session.see(at(DT * index, ground_N=ground_N, tail=tail), hands)
    rule = "moved its end of the load out of turn"
    assert [(loss.who, loss.points) for loss in session.losses if loss.rule == rule] == [("tail", 30.0)] * costs


@pytest.mark.parametrize(("lean_deg", "points"), [(0.1, 0.0), (0.24, 0.0), (0.375, 6.0), (0.5, 12.0), (0.9, 12.0)])
def test_a_tip_left_beside_its_hook_costs_by_how_far(lean_deg: float, points: float) -> None:
    """What counts as plumb is 0.5 deg: from half of that on points grow evenly, by our own rule."""
    soon = Condition(reading="time_s", comparison=">=", value=1.0, change=True)
    steps = (Step(title="plumb", work="plumb the tips", until=(soon,)), Step(title="wait", work="wait", until=(LONG,)))
    session = Session(with_drill(Drill(aim="a test", steps=steps)), at(0.0))
    tail = {"off_plumb_rad": radians(lean_deg), "slack": True}
    for index in range(1, 30):
        hands = UnitCommands(slew=0.5) if index < 5 else STILL_HANDS
        session.see(at(DT * index, tail=tail), Commands(STILL_HANDS, hands))
    lost = session.losses
    assert sum(loss.points for loss in lost) == pytest.approx(points, abs=0.001)
    assert [(loss.rule, loss.who, loss.step) for loss in lost] == (
        [("tip left beside its hook", "tail", "wait")] if points else []
    )


def test_hands_that_fumble_more_always_lose_more_and_never_more_than_the_most() -> None:
    """A turn of a full lever costs 11 of 66 points; the next costs the same share of what is left to lose."""
    lost = []
    for turns in (1, 2, 10, 60):
        session = lesson("plumb the tips")
        for index in range(1, 20 * (turns + 1)):
            way = 1.0 if index // 20 % 2 == 0 else -1.0
            session.see(at(DT * index), Commands(UnitCommands(slew=way), STILL_HANDS))
        lost.append(sum(loss.points for loss in session.losses))
    assert lost[:2] == pytest.approx([11.0, 11.0 + 11.0 * (1.0 - 11.0 / 66.0)])
    assert lost == sorted(lost) and lost[2] < lost[3] < 66.0


@pytest.mark.parametrize(
    ("touches", "charged"),
    [(1, set()), (2, {"lever turned straight back", "lever pulled to and fro"})],
    ids=["single", "more of them each way"],
)
@pytest.mark.parametrize("pull", [1.0, 1.0 / 3.0], ids=["key", "slow key"])
def test_touches_of_a_key_take_back_what_was_too_much_and_a_chase_in_touches_is_one(
    pull: float, touches: int, charged: set[str]
) -> None:
    """Touches of a fifth of a second of full way, as many one way as the other, again and again while it hangs."""
    session = lesson("steady")
    each_s, gap_s = 0.2 / pull, 0.4
    for index in range(1, 1200):
        number, into_s = divmod(index * DT / 2.0, each_s + gap_s)
        way = 1.0 if int(number) // touches % 2 == 0 else -1.0
        hands = UnitCommands(slew=way * pull if into_s < each_s - 1e-9 else 0.0)
        session.see(at(index * DT / 2.0, ground_N=0.0), Commands(STILL_HANDS, hands))
    assert set(rules(session)) == charged


def test_a_drill_may_turn_the_standing_marks_off_but_not_what_fails_it() -> None:
    described = drill("plumb_tips")
    exercise = Drill(aim="a test", steps=(Step(title="one", work="wait", until=(LONG,)),), standing_marks=False)
    session = Session(replace(described, drill=exercise), at(0.0))
    for index in range(1, 20):
        session.see(at(DT * index, nose={"head_room_m": 1.0, "capacity_used": 1.2, "slack": False}),
                    Commands(STILL_HANDS, STILL_HANDS))  # fmt: skip
    assert [loss.rule for loss in session.losses] == ["over capacity"] and session.failed_by

"""One voice: what the coach says, in which order, when it says to wait, and the hand calculation behind it."""

from __future__ import annotations

import re
from dataclasses import replace
from math import atan, degrees, pi, radians, sin, tan

import pytest

from simulator.drill.coach import LEAST_HOIST_MPS, SWAY_M, Coach
from simulator.drill.conditions import WELL_PLUMB
from simulator.drill.maneuvers import SLACK_OUT_N, Hands
from simulator.drill.progress import Progress
from simulator.drill.slack import slack_ups_mps
from simulator.drill.voice_signals import Signal, spoken
from simulator.engine.commands import FUNCTIONS
from simulator.mechanics.boom import BoomPose, tip_m
from simulator.readings import LineReadings, Readings
from simulator.scenario.drill import Condition, Drill, Seat, Step, Work
from simulator.scenario.flat import Flat
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import PAIR
from simulator.words import say
from tests.drill.lessons import at, with_drill

DT = 1.0 / 60.0
TIP = {"tip_x_m": -4.2, "tip_y_m": -6.0, "tip_z_m": 9.0, "hook_x_m": -4.2, "hook_y_m": -6.0, "hook_z_m": 2.15,
       "boom_length_m": 10.99, "elevation_rad": 0.62, "slew_rad": -0.89}  # fmt: skip
TAIL_TIP = TIP | {"tip_x_m": 4.2, "hook_x_m": 4.2}
BEARING = {"hook_load_N": 5e4, "line_load_N": 5.5e4, "slack": False}
LONG = Condition(reading="time_s", comparison=">=", value=1e6, change=True)


def coached(work: Work, moments: list[Readings], *, moves: Seat = "both", stopped: bool = False) -> Coach:
    """A coach who has seen these moments of one step."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work=work, moves=moves, until=(LONG,)),))
    coach, progress = Coach(with_drill(exercise)), Progress(exercise, moments[0])
    for now in moments:
        coach.see(now, progress, stopped=stopped)
    return coach


def moments(nose: dict[str, float], tail: dict[str, float], *, count: int = 120, **load_now: float) -> list[Readings]:
    return [at(DT * index, nose=TIP | nose, tail=TAIL_TIP | tail, **load_now) for index in range(count)]


@pytest.mark.parametrize("unit", ["nose", "tail", "both"])
@pytest.mark.parametrize("function", FUNCTIONS)
@pytest.mark.parametrize("sign", [1, -1])
def test_a_signal_names_unit_then_function_and_direction_then_distance_and_speed_then_stop(
    unit: str, function: str, sign: int
) -> None:
    """29 CFR 1926.1421(b); that the unit comes first, 1926.1419(m), is from memory, not confirmed."""
    text = spoken(Signal(unit, function, sign, 0.4, "slow"))  # type: ignore[arg-type]
    parts = [say(f"coach.voice_{unit}"), say(f"control.said_{function}_{'up' if sign > 0 else 'down'}"), "0.4 m",
             say("coach.voice_slow"), say(f"coach.voice_stop_{function}")]  # fmt: skip
    places = [text.index(part) for part in parts[:-1]] + [text.rindex(parts[-1])]
    assert places == sorted(places) and len(set(places)) == 5
    assert text.startswith(parts[0]) and text.rstrip(".").endswith("stop")


def test_distances_in_feet_too() -> None:
    """0.61 m are 2 ft (exactly 0.3048 m each), said to the half foot."""
    assert "2 ft" in spoken(Signal("nose", "slew", 1, 2.0 * 0.3048, "slow"), us=True)


@pytest.mark.parametrize(("away", "unit"), [(0.5, "nose"), (0.5, "tail")])
@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_tip_off_plumb_across_is_slewed_the_way_its_hook_lies(away: float, unit: str, way: float) -> None:
    off = {"hook_y_m": -6.0 + way * away}
    coach = coached("plumb the tips", moments(off if unit == "nose" else {}, off if unit == "tail" else {}))
    signal = coach.prompt.signal
    assert signal is not None and signal.unit == unit
    assert signal.distance_m == pytest.approx(away)
    assert coach.prompt.mover == unit
    # At -51 degrees of slew the tip goes across by slew and by boom length; either way it goes toward the hook.
    toward = {"slew": way, "telescope": -way, "elevation": way}[signal.function]
    assert signal.sign == toward


def test_the_reason_is_the_hand_calculation() -> None:
    """0.5 m off on 6.85 m of line: atan(0.5 / 6.85) = 4.2 degrees; 55 kN pull 55 * 0.5 / 6.85 = 4.0 kN, 0.41 t."""
    coach = coached("plumb the tips", moments(BEARING | {"hook_y_m": -5.5}, {}))
    reason = coach.prompt.reason
    assert f"{degrees(atan(0.5 / 6.85)):.1f} deg" in reason and "0.50 m" in reason and "6.8 m" in reason
    assert f"{55.0 * 0.5 / 6.85 / STANDARD_GRAVITY_MPS2:.2f} t" in reason


@pytest.mark.parametrize(("us", "said"), [(False, ("0.04 t", "0.41 t")), (True, ("90 lb", "900 lb"))])
def test_the_reason_speaks_the_unit_of_the_readouts(us: bool, said: tuple[str, ...]) -> None:
    """A pull as the weight it would hold; a pound is 0.45359237 kg, exactly (NIST SP 811, App. B)."""
    coach = coached("take slack", moments({"hook_load_N": 400.0}, {"hook_load_N": 300.0}))
    coach.us = us
    assert SLACK_OUT_N == 4000.0, "89.9 lb and 899 lb"
    assert all(text in coach.prompt.reason for text in said) and "kN" not in coach.prompt.reason


@pytest.mark.parametrize("limit_deg", [1.0, 0.4])
@pytest.mark.parametrize("asked_deg", [None, 0.5])
def test_a_tip_that_counts_as_plumb_is_left_alone(limit_deg: float, asked_deg: float | None) -> None:
    """On any length of line: where a tip that is left costs nothing of what the lift's limit calls plumb, or the step's
    own end where that asks for more."""
    until = [LONG]
    if asked_deg is not None:
        until.append(Condition(reading="nose.off_plumb_rad", comparison="<", value=radians(asked_deg)))
    exercise = Drill(aim="a test", steps=(Step(title="one", work="take slack", until=tuple(until)),))
    described = with_drill(exercise)
    described = replace(described, limits=replace(described.limits, plumb_rad=radians(limit_deg)))
    bound_deg = WELL_PLUMB * min(limit_deg, asked_deg or limit_deg)
    for drop_m in (4.0, 18.4):
        for share, function in ((0.95, "hoist"), (1.05, "")):
            off_m = drop_m * tan(radians(share * bound_deg))
            nose = {"hook_z_m": TIP["tip_z_m"] - drop_m, "hook_y_m": TIP["hook_y_m"] + off_m}
            seen = moments(nose, {})
            coach, progress = Coach(described), Progress(exercise, seen[0])
            for now in seen:
                coach.see(now, progress)
            signal = coach.prompt.signal
            assert signal is not None and (signal.function == "hoist") is bool(function)


def test_sway_about_plumb_gives_no_order_for_the_boom() -> None:
    """A hook that goes 0.5 m each way over its sway period has its mean under the tip."""
    swaying = [
        at(DT * i, nose=TIP | BEARING | {"hook_y_m": -6.0 + 0.5 * sin(2.0 * pi * DT * i / 6.0)},
           tail=TAIL_TIP | BEARING, ground_N=1e5)
        for i in range(721)
    ]  # fmt: skip
    coach = coached("plumb the tips", swaying)
    assert coach.prompt.kind == "hold" and coach.prompt.signal is None


def test_it_says_wait_while_the_load_slides_on_the_bed() -> None:
    coach = coached("center", moments(BEARING, BEARING, vy_mps=0.03), moves="tail")
    assert (coach.prompt.kind, coach.prompt.sentence) == ("wait", say("coach.drill_wait_bed"))
    assert "0.030 m/s" in coach.prompt.reason and "0.012 m/s" in coach.prompt.reason
    still = coached("center", moments(BEARING, BEARING, vy_mps=0.005), moves="tail")
    assert still.prompt.kind == "move" and still.prompt.mover == "tail"


def test_it_says_wait_while_the_hanging_load_sways() -> None:
    much = coached("raise", moments(BEARING, BEARING, ground_N=0.0, sway_m=1.5 * SWAY_M))
    assert much.prompt.kind == "wait" and "0.15 m" in much.prompt.reason and "6.0 s" in much.prompt.reason
    little = coached("raise", moments(BEARING, BEARING, ground_N=0.0, sway_m=0.5 * SWAY_M))
    assert little.prompt.kind == "move" and little.prompt.mover == "both"


@pytest.mark.parametrize(("height_m", "key"), [(0.3, "coach.drill_settle_sway"), (3.0, "coach.drill_wait_sway")])
def test_a_sway_near_the_ground_is_set_down(height_m: float, key: str) -> None:
    coach = coached("hold", moments(BEARING, BEARING, ground_N=0.0, sway_m=0.4, height_over_bed_m=height_m))
    assert coach.prompt.sentence == say(key)
    for way in ("set it down", "wait", "slowly, at the end of its swing"):
        assert way in coach.prompt.reason


@pytest.mark.parametrize(("height_m", "pace"), [(2.0, "steady"), (0.3, "very_slow"), (0.01, "very_slow")])
def test_a_load_comes_down_very_slow_near_the_ground(height_m: float, pace: str) -> None:
    """And the slower pace is said when the height asks for it, not when the same order would be repeated."""
    low = {"ground_N": 0.0, "height_over_road_m": height_m, "height_over_bed_m": height_m}
    high = {"ground_N": 0.0, "height_over_road_m": 2.0, "height_over_bed_m": 2.0}
    before = moments(BEARING, BEARING, count=round(8.0 / DT), **high)
    after = [now._replace(time_s=now.time_s + 8.0) for now in moments(BEARING, BEARING, count=round(1.2 / DT), **low)]
    signal = coached("lower", before + after).prompt.signal
    assert signal is not None and (signal.function, signal.sign, signal.pace) == ("hoist", -1, pace)
    assert say(f"coach.voice_{pace}") in spoken(signal)


def test_an_order_down_onto_a_waiting_deck_says_so_with_what_is_left_to_it() -> None:
    """1.3 m over the road and 0.4 m over a deck that is 0.9 m high."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work="lower", until=(LONG,)),))
    lift = with_drill(exercise)
    lift = replace(lift, landing=replace(lift.landing, flat=Flat(0.9, 12.0, 2.6)))
    now = moments(BEARING, BEARING, ground_N=0.0, height_over_road_m=1.3, height_over_bed_m=0.4)
    coach, progress = Coach(lift), Progress(exercise, now[0])
    for one in now:
        coach.see(one, progress)
    assert "line down, 0.4 m to the deck" in coach.prompt.sentence
    assert coach.prompt.signal is not None and coach.prompt.signal.distance_m == pytest.approx(0.4)


def test_a_load_that_comes_to_stand_is_let_down_and_no_line_brought_plumb() -> None:
    """A line that goes slack hangs where it likes: waiting for it would leave the other end bearing for ever."""
    slack = {"hook_load_N": 0.0, "line_load_N": 0.0, "slack": True, "hook_y_m": -5.9}
    coach = coached("lower", moments(BEARING, slack, ground_N=1e5, road_N=1e5))
    signal = coach.prompt.signal
    assert signal is not None and (signal.function, signal.sign) == ("hoist", -1)


@pytest.mark.parametrize(("sway_m", "kind"), [(1.5 * SWAY_M, "move"), (0.6, "wait")])
def test_a_small_sway_is_not_waited_for_without_end(sway_m: float, kind: str) -> None:
    """Period 6 s: past four of them the work goes on, but never past the lift's own caution."""
    still = moments(BEARING, BEARING, count=round(26.0 / DT), ground_N=0.0, sway_m=sway_m)
    assert coached("raise", still[: round(20.0 / DT)]).prompt.kind == "wait"
    assert coached("raise", still).prompt.kind == kind


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("slew_deg", [-50.0, 50.0])
@pytest.mark.parametrize("off_m", [0.5, -0.5])
@pytest.mark.parametrize("low", [True, False])
def test_a_tip_off_its_line_in_a_crossing_is_never_slewed_back(
    end: int, slew_deg: float, off_m: float, low: bool
) -> None:
    """The telescope or the elevation brings it onto the line, whichever also brings the tip nearer to its height:
    the tip's derivatives are taken from the boom's own geometry."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work="cross", until=(LONG,)),))
    described = with_drill(exercise)
    agreed = Hands(described, end).agreed
    y = 6.0 if slew_deg > 0.0 else -6.0
    z = described.path.tip_height_m + (-0.5 if low else 0.5)
    hook_z = described.path.belly_over_road_m
    seats = []
    for place in (0, 1):
        x = agreed.tips_x_m[place] + (off_m if place == end else 0.0)
        seats.append({"tip_x_m": x, "hook_x_m": x, "tip_y_m": y, "hook_y_m": y, "tip_z_m": z, "slack": False,
                      "hook_z_m": hook_z + agreed.hook_over_belly_m[place], "slew_rad": radians(slew_deg),
                      "boom_length_m": 11.0, "elevation_rad": 0.62, "hook_load_N": 5e4})  # fmt: skip
    coach, progress = Coach(described), Progress(exercise, at(0.0, nose=seats[0], tail=seats[1], ground_N=0.0))
    for index in range(120):
        coach.see(at(DT * index, nose=seats[0], tail=seats[1], ground_N=0.0), progress)
    signal = coach.prompt.signal
    assert signal is not None and signal.unit == PAIR[end] and signal.function in ("telescope", "elevation")
    unit, pose = described.units[end], BoomPose(11.0, 0.62, radians(slew_deg))
    moved = pose._replace(
        length_m=11.0 + (0.01 * signal.sign if signal.function == "telescope" else 0.0),
        elevation_rad=0.62 + (0.001 * signal.sign if signal.function == "elevation" else 0.0),
    )
    before, after = tip_m(unit, pose), tip_m(unit, moved)
    assert (after[0] - before[0]) * off_m < 0.0
    assert (after[2] > before[2]) is low


def test_a_tip_off_its_line_in_a_crossing_is_brought_all_the_way_onto_it() -> None:
    """Not left at the edge of too far, with a line that leans: it goes on until it has passed its line."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work="cross", until=(LONG,)),))
    described = with_drill(exercise)
    agreed = Hands(described, 0).agreed

    def functions(*offs_m: float) -> list[str]:
        said: list[str] = []
        coach, progress = Coach(described), Progress(exercise, at(0.0, ground_N=0.0))
        for second, off_m in enumerate(offs_m):
            seats = [
                {"tip_x_m": x + (off_m if place == 0 else 0.0), "tip_y_m": -6.0, "slack": False, "hook_load_N": 5e4,
                 "tip_z_m": described.path.tip_height_m + 0.5, "slew_rad": -0.9,
                 "hook_z_m": described.path.belly_over_road_m + agreed.hook_over_belly_m[place]}
                for place, x in enumerate(agreed.tips_x_m)
            ]  # fmt: skip
            for index in range(round(2.0 / DT)):
                coach.see(at(2.0 * second + DT * index, nose=seats[0], tail=seats[1], ground_N=0.0), progress)
            said.append(coach.prompt.signal.function if coach.prompt.signal else coach.prompt.kind)
        return said

    assert functions(0.1, 0.25, 0.1, 0.02, -0.02) == ["slew", "telescope", "telescope", "telescope", "slew"]


def test_stop_goes_before_everything_and_comes_at_once() -> None:
    coach = coached("center", moments(BEARING, BEARING, vy_mps=0.03), stopped=True)
    assert (coach.prompt.kind, coach.prompt.sentence) == ("stop", say("coach.drill_stop"))
    assert coached("plumb the tips", moments({"hook_y_m": -5.0}, {}, count=2), stopped=True).prompt.kind == "stop"


def test_in_a_step_that_nobody_moves_in_it_says_hold() -> None:
    assert coached("hold", moments({"hook_y_m": -5.5}, {}), moves="none").prompt.kind == "hold"


def test_why_nobody_moves_is_told_by_whether_the_load_hangs() -> None:
    lies = coached("wait", moments({}, {}), moves="none")
    hangs = coached("hold", moments(BEARING, BEARING, ground_N=0.0), moves="none")
    has_done = coached("plumb the tips", moments({}, {}))
    assert [one.prompt.kind for one in (lies, hangs, has_done)] == ["hold"] * 3
    keys = ("why_hold_lies", "why_hold", "why_hold_done")
    reasons = [one.prompt.reason for one in (lies, hangs, has_done)]
    assert reasons == [say(f"coach.{key}") for key in keys]
    assert "hangs still" in reasons[1] and not any("hangs still" in one for one in (reasons[0], reasons[2]))


def test_only_the_seat_whose_turn_it_is_gets_an_order() -> None:
    off = {"hook_y_m": -5.0}
    assert coached("plumb the tips", moments(off, off | {"hook_y_m": -4.0}), moves="nose").prompt.mover == "nose"
    assert coached("plumb the tips", moments(off, off | {"hook_y_m": -4.0})).prompt.mover == "tail"


def test_a_line_is_taken_up_until_it_bears() -> None:
    coach = coached("take slack", moments({}, {}))
    assert coach.prompt.sentence.startswith(f"{say('coach.voice_both')}: {say('control.said_hoist_up')}")
    assert say("coach.voice_until_it_bears") in coach.prompt.sentence
    one = coached("take slack", moments(BEARING, {}))
    assert one.prompt.mover == "tail"


def test_an_order_is_not_said_again_while_it_stays_the_same() -> None:
    exercise = Drill(aim="a test", steps=(Step(title="one", work="plumb the tips", until=(LONG,)),))
    near = [at(DT * i, nose=TIP | {"hook_y_m": -5.0 - 0.001 * i}, tail=TAIL_TIP) for i in range(300)]
    coach, progress, said = Coach(with_drill(exercise)), Progress(exercise, near[0]), []
    for now in near:
        coach.see(now, progress)
        if not said or said[-1] != coach.prompt.sentence:
            said.append(coach.prompt.sentence)
    assert len(said) == 1


def test_every_word_of_the_coach_is_in_the_file_of_words() -> None:
    from pathlib import Path

    import simulator.drill

    folder = Path(next(iter(simulator.drill.__path__)))
    said = re.compile(r'(?:say|words)\(\s*"(coach\.\w+)"')
    keys = {key for path in folder.glob("*.py") for key in said.findall(path.read_text("utf-8"))}
    assert len(keys) > 15
    for key in keys:
        assert say(key)


def test_orders_are_short() -> None:
    assert all(len(spoken(Signal("both", function, -1, 11.5, "steady"))) < 80 for function in FUNCTIONS)


def test_a_line_that_bears_ends_its_order_at_once() -> None:
    """Told to take slack until the line bears, the unit whose line does is not told to pull on for a second."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work="take slack", until=(LONG,)),))
    seen = moments({}, {}, count=70)
    bears = [at(DT * (70 + i), nose=TIP | BEARING, tail=TAIL_TIP) for i in range(8)]
    coach, progress = Coach(with_drill(exercise)), Progress(exercise, seen[0])
    for now in seen:
        coach.see(now, progress)
    assert coach.prompt.mover == "both"
    for now in bears:
        coach.see(now, progress)
    assert coach.prompt.mover == "tail"


@pytest.mark.parametrize(("off_m", "pace"), [(0.08, "very_slow"), (0.5, "slow")])
def test_a_tip_near_its_place_goes_there_very_slowly(off_m: float, pace: str) -> None:
    coach = coached("plumb the tips", moments({"hook_y_m": -6.0 + off_m}, {}))
    signal = coach.prompt.signal
    assert signal is not None and signal.function != "hoist" and signal.pace == pace


@pytest.mark.parametrize(("tip_z_m", "room_m", "is_boom"), [(9.0, 1.6, True), (9.0, 4.0, False), (9.9, 1.6, False)])
def test_a_low_tip_goes_up_before_the_hook_takes_its_head_room(tip_z_m: float, room_m: float, is_boom: bool) -> None:
    """Only where head room would be short with the hook at its agreed height, and the tip is lower than agreed."""
    exercise = Drill(aim="a test", steps=(Step(title="one", work="raise", until=(LONG,)),))
    described = with_drill(exercise)
    described = replace(described, path=replace(described.path, tip_height_m=9.9))
    now = BEARING | {"tip_z_m": tip_z_m, "head_room_m": room_m}
    seen = moments(now, now, ground_N=0.0)
    coach, progress = Coach(described), Progress(exercise, seen[0])
    for one in seen:
        coach.see(one, progress)
    signal = coach.prompt.signal
    assert signal is not None and (signal.function != "hoist") is is_boom
    if is_boom:
        assert (signal.function, signal.sign) in (("elevation", 1), ("telescope", 1))


@pytest.mark.parametrize(("slack_m", "asked"), [(0.003, True), (0.0015, False)])
def test_a_line_round_the_load_is_told_on_until_it_is_snug(slack_m: float, asked: bool) -> None:
    """Between an order's least speed and snug there is no gap where nobody is told anything."""
    up, _ = slack_ups_mps((_line(slack_m), _line(0.1)))
    assert (up > LEAST_HOIST_MPS) is asked


@pytest.mark.parametrize("laid_m", [0.0, 2.0])
def test_of_two_lines_that_come_to_bear_the_one_ahead_waits(laid_m: float) -> None:
    """Straight or round the load, a line by itself leans: neither bears before both are snug, nor much before both."""
    first, last = slack_ups_mps((_line(0.0, laid_m), _line(0.01, laid_m)))
    assert first == 0.0 and last > 0.0, "snug, and its neighbor is not"
    first, last = slack_ups_mps((_line(-0.002, laid_m, 1500.0), _line(-0.001, laid_m, 500.0)))
    assert first == 0.0 and last > 0.0, "ahead by 1 kN"
    first, last = slack_ups_mps((_line(-0.002, laid_m, 1500.0), _line(-0.002, laid_m, 1200.0)))
    assert first > 0.0 and last > 0.0, "alike"
    first, last = slack_ups_mps((_line(-0.01, laid_m, 5300.0), _line(-0.01, laid_m, 4200.0)))
    assert first == 0.0 and last > 0.0, "the slack is out of both, and one bears much less"
    assert slack_ups_mps((_line(-0.01, laid_m, 4500.0), _line(-0.01, laid_m, 4200.0))) == (0.0, 0.0), "even enough"
    assert slack_ups_mps((_line(0.0, laid_m), _line(0.01, laid_m)), only=1)[0] > 0.0, "asked to take line 1 alone"


def _line(slack_m: float, laid_m: float = 2.0, hook_load_N: float = 0.0) -> LineReadings:
    zero = dict.fromkeys(LineReadings._fields, 0.0)
    given = {"line_length_m": 8.0 + slack_m, "sheave_to_hook_m": 8.0, "laid_m": laid_m, "hook_load_N": hook_load_N}
    return LineReadings(**zero | given)  # type: ignore[arg-type]

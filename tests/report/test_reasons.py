"""Who did what: each plain fault, made up of closed forms, is told by the move that it was."""

from math import radians, sin
from typing import Any

import numpy as np
import pytest

from simulator.engine.commands import Commands, UnitCommands
from simulator.events import Happening
from simulator.places import find_scenario
from simulator.recording.recorded import minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief import debrief
from simulator.report.lift.lost_points import Lost
from simulator.report.lift.reasons import points_why
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.words import say
from tests.report.lifts import PER_S, Course, Times, asked, hoisted, made_up, noted, ramp, tank

SPAN_M = 12.4


def pitched_by(rise_m: Any) -> Course:
    """Pitch of a load whose nose pick is raised so far under picks `SPAN_M` apart."""
    return lambda time_s: np.arcsin(rise_m(time_s) / SPAN_M)


def why(courses: dict[str, Course], **more: Any) -> str:
    """The reason of the one finding."""
    (one,) = debrief(made_up(courses, **more)).findings
    return one.why


def test_a_boom_lowered_alone_lets_its_end_down_by_its_length_times_the_sine() -> None:
    """From 0.8 rad down by 0.1 rad over 10 s with 9 m of boom: the hook goes down 9 (sin 0.8 - sin 0.7) m."""

    def elevation(time_s: Times) -> Times:
        return 0.8 - 0.01 * np.clip(time_s - 10.0, 0.0, 10.0)

    told = why(
        {
            "nose.elevation_rad": elevation,
            "load.pitch_rad": lambda time_s: -np.arcsin(9.0 * (sin(0.8) - np.sin(elevation(time_s))) / SPAN_M),
        }
    )
    assert (
        "nose unit let its end down alone, boom down" in told
        and "line" not in told
        and "extend" not in told
        and "retract" not in told
    )


def test_line_let_out_for_what_the_telescope_takes_in_is_no_fault_of_that_end() -> None:
    """Out by D while the winch pays out D (n sin(elevation) + 1): the hook stays; the other end's lowering is told."""
    parts, out = tank().units[0].hoist.parts, ramp(10.0, 0.2)
    told = why(
        {
            "nose.boom_length_m": lambda time_s: 9.0 + out(time_s),
            "nose.rope_out_m": lambda time_s: 40.0 + out(time_s) * (parts * sin(0.8) + 1.0),
            **hoisted("tail", ramp(10.0, 0.1, 10.0)),
            "load.pitch_rad": pitched_by(ramp(10.0, 0.1)),
        }
    )
    assert "tail unit" in told.partition("(")[0] and "the nose unit's 0.00 m" in told
    assert "nose unit let line out" not in told


@pytest.mark.parametrize("tail_stops_s", [14.0, 18.0])
def test_who_stopped_while_the_other_went_on_is_named_with_the_time(tail_stops_s: float) -> None:
    """Both hoist from 8 s; one stops, the other goes on at 0.1 m a second."""
    up = UnitCommands(hoist=0.5)
    hands = ((8.0, asked(nose=up, tail=up)), (tail_stops_s, asked(nose=up)))
    told = why(
        {
            **hoisted("nose", ramp(8.0, -0.1, 10.0)),
            **hoisted("tail", lambda time_s: 10.0 - 0.1 * np.clip(time_s - 8.0, 0.0, tail_stops_s - 8.0)),
            "load.pitch_rad": pitched_by(ramp(tail_stops_s, 0.1)),
        },
        hands=hands,
    )
    assert f"tail unit stopped at {minutes(tail_stops_s)} while the nose unit went on" in told


def test_a_lever_to_and_fro_within_a_sway_is_a_chase_and_a_slow_one_is_none() -> None:
    swaying: dict[str, Course] = {"load.sway_m": ramp(10.0, 0.1), "load.sway_period_s": 6.0}

    def pulled(every_s: float) -> tuple[tuple[float, Commands], ...]:
        count = int(30.0 / every_s)
        return tuple((4.0 + n * every_s, asked(tail=UnitCommands(slew=0.8 * (-1.0) ** n))) for n in range(count))

    told = why(swaying, hands=pulled(2.0))
    assert "tail unit chased the sway: its slew went to and fro" in told and "nose unit" not in told
    assert "chased" not in why(swaying, hands=pulled(7.0))
    touched = tuple(
        (time_s, asked(tail=UnitCommands(slew=0.1 * (-1.0) ** n))) for n, (time_s, _) in enumerate(pulled(2.0))
    )
    assert "chased" not in why(swaying, hands=touched)


def test_a_load_lifted_as_it_lay_was_not_leveled() -> None:
    lay_rad = radians(4.0)
    until_free = {"load.ground_N": lambda time_s: 5e4 * (time_s < 15.0)}
    slack = {f"{end}.slack": lambda time_s: 1.0 * (time_s < 11.0) for end in ("nose", "tail")}
    told = why({"load.pitch_rad": lay_rad, **until_free, **slack})
    assert "came free as it had lain, pitched 4.0 deg" in told
    # One that lay level and was lifted by one end is that end's doing.
    told = why({"load.pitch_rad": pitched_by(ramp(11.0, 0.25)), **until_free, **slack,
                **hoisted("nose", ramp(11.0, -0.25, 10.0))})  # fmt: skip
    assert "nose unit took line in while the tail unit stood" in told and "lain" not in told


def test_a_load_that_hung_askew_for_a_while_is_explained_by_what_was_done_then() -> None:
    """It comes free at 4 degrees as the nose hoists more, rocks less and less until 30 s; then the tail lowers."""

    def nose_up(time_s: Times) -> Times:
        return 0.15 * np.clip(time_s - 8.0, 0.0, 10.0)

    def tail_up(time_s: Times) -> Times:
        return 0.12 * np.clip(time_s - 8.0, 0.0, 10.0) - 0.1 * np.maximum(0.0, time_s - 30.0)

    told = why(
        {
            **hoisted("nose", lambda time_s: 10.0 - nose_up(time_s)),
            **hoisted("tail", lambda time_s: 10.0 - tail_up(time_s)),
            "load.pitch_rad": lambda time_s: (
                radians(4.0)
                - radians(0.05) * np.cos(time_s - 30.0) * np.maximum(0.2, (45.0 - time_s) / 30.0)
                + 0.1 * np.maximum(0.0, time_s - 30.0) / SPAN_M
            ),
            "load.ground_N": lambda time_s: 5e4 * (time_s < 8.0),
            **{f"{end}.slack": lambda time_s: 1.0 * (time_s < 8.0) for end in ("nose", "tail")},
        }
    )
    assert told.startswith(f"since {minutes(30.0)}: tail unit let line out while the nose unit stood")


def test_capacity_is_explained_by_what_was_done_once_the_line_had_the_load() -> None:
    """The line takes 12 t until 12 s, which uses 60 %; from 20 s the telescope goes out, and the radius with it."""
    out = ramp(20.0, 0.1)
    told = why(
        {
            "tail.line_load_N": lambda time_s: 118e3 * np.clip((time_s - 8.0) / 4.0, 0.0, 1.0),
            "tail.capacity_used": lambda time_s: 0.6 * np.clip((time_s - 8.0) / 4.0, 0.0, 1.0) + 0.2 * out(time_s),
            "tail.load_radius_m": lambda time_s: 8.0 + out(time_s),
            "tail.boom_length_m": lambda time_s: 9.0 + out(time_s),
            "load.ground_N": lambda time_s: 5e4 * (time_s < 12.0),
        }
    )
    assert told.startswith(f"since {minutes(20.0)}: tail unit's load radius grew from 8.00 m to 10.00 m (extend")
    assert "line load" not in told


def test_a_tip_that_went_square_to_the_lean_is_no_cause_of_it() -> None:
    """Telescoped out at 60 degrees of slew the tip goes along and further across; the lines lean along alone."""
    leans = {
        f"nose.mean_off_plumb_{way}": rise
        for way, rise in {
            "rad": ramp(12.0, 0.01),
            "along_rad": ramp(12.0, -0.01),
            "across_rad": ramp(12.0, 0.002),
        }.items()
    }
    out: dict[str, Course] = {
        "tail.boom_length_m": ramp(10.0, 0.2, 9.0),
        "tail.tip_x_m": ramp(10.0, -0.07),
        "tail.tip_y_m": ramp(10.0, -0.12),
    }
    told = why({**leans, **out})
    assert "along the road, toward the nose unit" in told and "ravine" not in told
    turned: dict[str, Course] = {
        "nose.mean_off_plumb_along_rad": ramp(12.0, 0.002),
        "nose.mean_off_plumb_across_rad": ramp(12.0, 0.01),
    }
    told = why({**leans, **turned, **out})
    assert "tail unit's tip went" in told and "toward the ravine" in told and "along the road" not in told


def test_a_boom_on_a_slack_line_pulls_nothing_out_of_plumb() -> None:
    """The tail takes 0.1 m a second in and its line leans; the nose slews after its hook, its line slack or not."""
    courses: dict[str, Course] = {
        **hoisted("tail", ramp(10.0, -0.1, 20.0)),
        "tail.mean_off_plumb_rad": ramp(10.0, 0.004),
        "nose.slew_rad": ramp(10.0, -0.01, -1.2),
        "nose.tip_x_m": ramp(10.0, -0.1),
        "load.ground_N": 5e4,
    }
    blamed = "nose unit, slew"
    assert blamed in why(courses)
    told = why({**courses, "nose.slack": 1.0})
    assert blamed not in told and "tail unit's hook was moved up" in told


def test_a_line_that_leans_because_the_other_took_the_load_leaning_is_told_so() -> None:
    """The tail line is loaded at 10 s with 5 degrees; the nose line at 14 s, plumb, and leans from then on."""
    lean: dict[str, Course] = {"tail.off_plumb_rad": radians(5.0), "tail.mean_off_plumb_rad": radians(0.8)}
    told = why(
        {
            **lean,
            "tail.slack": lambda time_s: 1.0 * (time_s < 10.0),
            "nose.slack": lambda time_s: 1.0 * (time_s < 14.0),
            "nose.mean_off_plumb_rad": ramp(14.0, 0.01),
        },
        length_s=19,
    )
    assert "tail unit had taken the load at 00:10.0 while its line leaned 5.0 deg" in told


def test_a_load_that_came_free_of_leaning_lines_swayed_for_that() -> None:
    courses: dict[str, Course] = {
        "load.ground_N": lambda time_s: 5e4 * (time_s < 15.0),
        "load.sway_m": lambda time_s: 0.8 * (time_s > 12.0),
        "load.sway_period_s": 6.0,
        "nose.off_plumb_rad": radians(3.0),
        "tail.off_plumb_rad": radians(1.0),
    }
    assert "came free with the nose line leaning 3.0 deg and the tail line leaning 1.0 deg" in why(courses)


def test_a_mean_over_a_sway_is_explained_by_what_was_done_a_sway_before() -> None:
    """Slewed from 10 s to 14 s; the mean over 8 s only begins to pass calm when the move is over."""
    slew: Course = lambda time_s: -1.0 + 0.05 * np.clip(time_s - 10.0, 0.0, 4.0)  # noqa: E731
    courses: dict[str, Course] = {
        "tail.slew_rad": slew,
        "tail.tip_y_m": lambda time_s: 0.3 * np.clip(time_s - 10.0, 0.0, 4.0),
        "tail.mean_off_plumb_rad": ramp(13.0, 0.006),
        "load.sway_period_s": 8.0,
    }
    assert "tail unit's tip went" in why(courses, length_s=24)


def test_where_nothing_was_moved_no_move_is_blamed() -> None:
    assert say("finding.no_move") in why({"load.pitch_rad": ramp(12.0, 0.01)})


def centering() -> Description:
    return load(find_scenario("centering"))


def hoisting_at(begin_s: float) -> dict[str, Course]:
    """The tail line is taken in from then on, loaded from a second later, and leans."""
    return {
        **hoisted("tail", ramp(begin_s, -0.1, 10.0), centering()),
        "tail.slack": lambda time_s: 1.0 * (time_s < begin_s + 1.5),
        "nose.slack": 1.0,
        "tail.off_plumb_rad": radians(5.8),
        "tail.mean_off_plumb_rad": radians(5.8),
        "load.ground_N": 5e4,
    }


def test_a_line_taken_in_in_a_step_for_the_tips_is_the_deed_itself() -> None:
    told = why(hoisting_at(12.0), description=centering(), length_s=20)
    title = centering().drill.steps[0].title  # type: ignore[union-attr]
    assert f"tail unit hoisted in step 1, {title}, which is for the tips alone (line in 0.1" in told
    assert "took the load while its line leaned 5.8 deg and the nose line was still slack" in told
    assert "nose unit stopped" not in told and "stood" not in told


@pytest.mark.parametrize(("number", "is_its_move"), [(2, False), (4, True)])
def test_a_move_in_the_others_step_is_told_as_that(number: int, is_its_move: bool) -> None:
    drill = centering().drill
    assert drill is not None and drill.steps[number - 1].moves == ("tail" if is_its_move else "nose")
    events = (noted(2 * PER_S, "step", f"{number}: {drill.steps[number - 1].title}"),)
    told = why(hoisting_at(12.0), description=centering(), length_s=20, events=events)
    title = drill.steps[number - 1].title
    said = f"tail unit moved in step {number}, {title}, while it was not its move (line in 0.1"
    assert (said in told) is not is_its_move


@pytest.mark.parametrize(("lead_m", "end"), [(0.3, 0), (-0.3, 1)])
def test_the_end_that_is_ahead_in_a_turn_turned_alone(lead_m: float, end: int) -> None:
    """The first unit's turn less the last one's, by its sign, whichever line leans more."""
    told = Happening("account", "lost", {"points": 40.0, "who": "both", "rule": "one end ahead in the turn"})
    lost = Lost(40.0, "both", "one end ahead in the turn", "load ends differ", 20.0, False, told)

    def leads(time_s: Times) -> Times:
        return lead_m * (time_s > 19.0)

    first, *_ = points_why(made_up({"load.ends_differ_m": leads}), lost, 20.0, Amounts(), ())
    assert (first.kind, first.end) == ("turned alone", end)

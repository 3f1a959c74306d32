"""What a debrief finds in lifts made up of closed forms: what, when, and by whose move."""

import csv
from dataclasses import replace
from math import acos, cos, degrees, floor, radians, sqrt, tan
from pathlib import Path

import numpy as np
import pytest

from simulator.events import Event
from simulator.places import find_scenario
from simulator.readings import CHANNELS
from simulator.recording.noticed import AGAIN
from simulator.recording.recorded import minutes
from simulator.recording.telemetry import write_csv
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief import Debrief, debrief
from simulator.report.lift.debrief_lines import debrief_lines
from simulator.report.lift.judged import spells
from simulator.report.lift.onset import CALM_SHARE
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import judged_rows
from simulator.scenario.reader import load
from simulator.scenario.retold import retold
from simulator.words import say
from tests.report.lifts import RATE, Course, Times, hoisted, made_up, noted, ramp, tank

SAMPLE_S = 1.0 / RATE


def last_sample(time_s: float) -> float:
    """The last sample not after a time."""
    return floor(time_s * RATE) / RATE


def only(told: Debrief, level: str = "stop") -> str:
    (one,) = [one for one in told.findings if one.level == level]
    return one.why


def test_a_calm_lift_has_no_finding() -> None:
    told = debrief(made_up({}))
    assert told.findings == ()
    assert told.first_fault == "No reading passed a stop limit, and nothing was met."


@pytest.mark.parametrize("row", judged_rows(Limits()), ids=lambda row: row.key)
def test_each_reading_passes_its_limits_when_its_ramp_does(row) -> None:  # type: ignore[no-untyped-def]
    """Good at 10 s, past caution at 20 s; the ramp reaches the stop limit where a straight line does."""
    description = tank()
    row = next(one for one in judged_rows(description.limits) if one.key == row.key)
    start = 0.0 if row.rising else 2.0 * row.caution
    rate = (row.caution - start) / 10.0
    recording = made_up({row.key: ramp(10.0, rate, start)}, length_s=60)
    (spell,) = [one for one in spells(recording, description.limits) if one.judged.key == row.key]
    stop_s = 10.0 + (row.stop - start) / rate
    if stop_s < 60.0:
        assert (spell.level, spell.limit) == ("stop", row.stop)
        assert spell.begin_s == pytest.approx(stop_s, abs=2.0 * SAMPLE_S)
        assert spell.past_s == pytest.approx(60.0 - stop_s, rel=0.02, abs=3.0 * SAMPLE_S)
    else:
        assert spell.level == "caution"
        assert spell.begin_s == pytest.approx(20.0, abs=2.0 * SAMPLE_S)
    assert spell.worst == pytest.approx(start + rate * 50.0, rel=1e-3, abs=1e-3)
    assert spell.worst_s == pytest.approx(60.0, abs=SAMPLE_S)


def test_a_slack_line_has_no_angle_and_a_load_on_the_bed_no_pitch() -> None:
    leaning = {"nose.mean_off_plumb_rad": radians(20.0), "load.pitch_rad": radians(20.0), "load.sway_m": 3.0}
    assert len(debrief(made_up(leaning)).findings) == 3
    assert debrief(made_up({**leaning, "nose.slack": 1.0, "load.ground_N": 5e4})).findings == ()


def test_two_short_breaks_are_one_spell() -> None:
    def wavering(time_s: Times) -> Times:
        return np.where((time_s > 10.0) & (time_s < 20.0) & (time_s % 5.0 < 3.0), 0.95, 0.4)

    (one,) = debrief(made_up({"tail.capacity_used": wavering})).findings
    assert one.level == "caution" and one.who == "tail unit"


def test_the_unit_that_hoisted_alone_is_named_and_the_one_that_stood() -> None:
    """From 12 s the nose hook alone goes up 0.2 m a second under picks 12.4 m apart: sin(pitch) = rise over span."""
    courses = {
        **hoisted("nose", ramp(12.0, -0.2, 10.0)),
        "load.pitch_rad": lambda time_s: np.arcsin(0.2 * np.maximum(0.0, time_s - 12.0) / 12.4),
    }
    told = debrief(made_up(courses, length_s=30, pair=("Ada", "Ben")))
    (one,) = told.findings
    assert one.time_s == pytest.approx(12.0 + 12.4 * np.sin(tank().limits.pitch_stop_rad) / 0.2, abs=2 * SAMPLE_S)
    calm_s = last_sample(12.0 + 12.4 * np.sin(CALM_SHARE * tank().limits.pitch_caution_rad) / 0.2)
    risen_m = 0.2 * (one.time_s - calm_s)
    assert one.why == (
        f"since {minutes(calm_s)}: nose unit took line in while the tail unit stood (nose line in {risen_m:.2f} "
        "m, tail line 0.00 m)"
    )
    assert told.first_fault.startswith("It went wrong at") and "while the tail unit stood" in told.first_fault


def test_a_boom_drawn_in_lets_its_end_down_and_is_no_hoisting() -> None:
    """1 m of boom drawn in lets 1/n m of n-part line out: the hook goes down, and nobody touched a winch."""
    drawn_m, parts = 1.0, tank().units[0].hoist.parts
    courses = {
        "nose.boom_length_m": lambda time_s: 9.0 - drawn_m * np.clip((time_s - 10.0) / 8.0, 0.0, 1.0),
        "nose.line_length_m": lambda time_s: 10.0 + drawn_m / parts * np.clip((time_s - 10.0) / 8.0, 0.0, 1.0),
        "nose.hook_z_m": lambda time_s: -1.0 - 1.2 * np.clip((time_s - 10.0) / 8.0, 0.0, 1.0),
        "load.pitch_rad": lambda time_s: -0.12 * np.clip((time_s - 10.0) / 8.0, 0.0, 1.0),
    }
    (one,) = debrief(made_up(courses, length_s=30)).findings
    assert "nose unit let its end down alone, retract" in one.why
    assert "line" not in one.why.replace("retract", "")


def test_a_line_that_took_the_load_leaning_is_named() -> None:
    lean_rad = tank().limits.off_plumb_stop_rad + 0.02
    courses = {
        "tail.slack": lambda time_s: (time_s < 12.0) * 1.0,
        "tail.off_plumb_rad": lean_rad,
        "tail.mean_off_plumb_rad": lean_rad,
        "tail.line_length_m": ramp(10.0, -0.1, 10.0),
    }
    (one,) = debrief(made_up(courses, length_s=30)).findings
    assert f"tail unit took the load while its line leaned {np.degrees(lean_rad):.1f} deg" in one.why


def test_hoisting_together_blames_nobody() -> None:
    both = {**hoisted("nose", ramp(12.0, -0.2, 10.0)), **hoisted("tail", ramp(12.0, -0.2, 10.0))}
    told = debrief(made_up({**both, "load.pitch_rad": ramp(12.0, 0.01)}))
    assert say("finding.no_move") in only(told) and "stood" not in only(told)


def test_slewing_without_the_telescope_is_named_with_what_it_needed() -> None:
    """A boom of constant length turned from 60 to 50 degrees: its tip goes r (cos 50 - cos 60) along the road."""
    unit = tank().units[0]
    elevation, length_m = 0.7, 11.0
    reach_m = length_m * cos(elevation) - unit.boom.foot_pin_back_m

    def slew(time_s: Times) -> Times:
        return np.radians(-60.0 + np.clip(time_s - 10.0, 0.0, 10.0))

    def along(time_s: Times) -> Times:
        return unit.slew_axis_x_m + reach_m * np.cos(slew(time_s))

    courses = {
        "nose.slew_rad": slew,
        "nose.reach_m": reach_m,
        "nose.elevation_rad": elevation,
        "nose.boom_length_m": length_m,
        "nose.tip_x_m": along,
        "nose.mean_off_plumb_rad": lambda time_s: np.arctan((along(time_s) - along(np.zeros(1))) / 10.0),
    }
    (one,) = debrief(made_up(courses)).findings

    def turned_rad(off_plumb_rad: float) -> float:
        """Slew at which the tip has gone so far, over a line of 10 m."""
        return acos(0.5 + 10.0 * tan(off_plumb_rad) / reach_m)

    def time_of_s(off_plumb_rad: float) -> float:
        return 70.0 - degrees(turned_rad(off_plumb_rad))

    limits = tank().limits
    calm_s = last_sample(time_of_s(CALM_SHARE * limits.off_plumb_caution_rad))
    at_calm, at_stop = radians(70.0 - calm_s), radians(70.0 - one.time_s)
    needed_m = (reach_m * cos(at_calm) / cos(at_stop) + unit.boom.foot_pin_back_m) / cos(elevation) - length_m
    assert "nose unit slewed" in one.why and "without the boom length to match" in one.why
    assert f"it changed +0.00 m, needed {needed_m:+.2f} m" in one.why
    assert "toward the tail unit" in one.why
    assert one.time_s == pytest.approx(time_of_s(limits.off_plumb_stop_rad), abs=SAMPLE_S)


def test_the_tip_that_crossed_alone_is_named_and_one_that_only_gave_way_is_not() -> None:
    """A tip goes across by slewing; under load alone it gives way, and that is nobody's move."""
    leans = {"tail.tip_y_m": ramp(10.0, 0.1), "nose.mean_off_plumb_rad": ramp(10.0, 0.01)}
    told = debrief(made_up({**leans, "tail.slew_rad": ramp(10.0, 0.02, -1.2)}))
    assert "tail unit's tip went" in only(told) and "toward the road, the nose unit's only 0.00 m" in only(told)
    assert say("finding.no_move") in only(debrief(made_up(leans)))


def test_a_growing_load_radius_is_named_for_capacity_and_floats() -> None:
    courses = {"nose.load_radius_m": ramp(10.0, 0.2, 6.0), "nose.capacity_used": ramp(10.0, 0.04, 0.4)}
    (one,) = debrief(made_up(courses)).findings
    reached_m = 6.0 + 0.2 * (one.time_s - 10.0)
    assert f"nose unit's load radius grew from 6.00 m to {reached_m:.2f} m" in one.why


def test_an_incident_is_told_with_the_moves_before_it() -> None:
    text = "axle group meets tail unit jack, x +6.1, y -3.6: at 0.04 m/s"
    recording = made_up(
        {"nose.slew_rad": ramp(20.0, radians(0.5), -1.0)}, events=(noted(30 * 240, "incident", text),), how="incident"
    )
    told = debrief(recording)
    (one,) = told.findings
    assert (one.level, one.time_s, one.what) == ("incident", 30.0, text)
    assert "nose unit: slew 5.0 deg toward the road; tail unit: stood still" in one.why
    assert told.heading.startswith("Ended by an incident after 00:40.0")


def test_a_load_that_comes_back_to_the_bed_is_one_finding() -> None:
    events = tuple(Event(step, "load", AGAIN) for step in (2400, 2600, 4000))
    assert [one.time_s for one in debrief(made_up({}, events=events)).findings] == [10.0]


def test_worst_values_stand_under_their_seat_with_their_time() -> None:
    def peak(time_s: Times) -> Times:
        return 120e3 + 9806.65 * np.maximum(0.0, 2.0 - np.abs(time_s - 17.0))

    told = debrief(made_up({"tail.line_load_N": peak}, pair=("Ada", "Ben")))
    row = next(row for row in told.worst if row.label == say("worst.line_load_N"))
    assert row.cells == ("12.2 t at 00:00.0", "14.2 t at 00:17.0")
    assert told.seats == ("nose unit (left seat, Ada)", "tail unit (right seat, Ben)")
    us = debrief(told.recording, Amounts("us"))
    assert f"{100.0 * round(120e3 / 9.80665 / 0.45359237 / 100.0):,.0f} lb" in us.worst[0].cells[0]


def test_the_least_of_a_falling_reading_is_found() -> None:
    def valley(time_s: Times) -> Times:
        return 6.0 - 2.0 * np.sqrt(np.maximum(0.0, 1.0 - (time_s - 9.0) ** 2))

    told = debrief(made_up({"nose.head_room_m": valley}))
    assert next(row for row in told.worst if row.label == say("worst.head_room_m")).cells[0] == "4.00 m at 00:09.0"


def test_a_cause_that_was_told_is_named_by_its_number() -> None:
    limits = tank().limits
    courses = {
        **hoisted("nose", ramp(12.0, -0.2, 10.0)),
        "load.pitch_rad": ramp(12.0, 0.02 * limits.pitch_stop_rad),
        "load.sway_m": ramp(12.0, 0.02 * limits.sway_stop_m),
    }
    # The same share of both stop limits a second, and the same share of caution in stop: both pass together.
    assert limits.pitch_caution_rad / limits.pitch_stop_rad == pytest.approx(limits.sway_caution_m / limits.sway_stop_m)
    told = debrief(made_up(courses, length_s=80))
    first, second = told.findings
    assert "took line in" in first.why and second.why == "as no. 1"


def test_lines_for_the_terminal_name_both_lifts() -> None:
    told = debrief(made_up({"load.pitch_rad": ramp(12.0, 0.02)}, notes=("made-up.lift: it breaks off",)))
    lines = debrief_lines(told, debrief(made_up({})))
    assert lines.count("made-up.lift: it breaks off") == 1
    assert sum(line.startswith(retold(tank().title, us=False)) for line in lines) == 2
    assert all("\n" not in line for line in lines)


def test_the_spreadsheet_has_a_unit_in_each_heading_and_every_sample(tmp_path: Path) -> None:
    recording = made_up({"load.y_m": ramp(0.0, 1.0 / sqrt(2.0))}, length_s=5)
    write_csv(recording, tmp_path / "out.csv", caution="take care")
    with (tmp_path / "out.csv").open(encoding="utf-8-sig", newline="") as file:
        head, *rows, last = csv.reader(file)
    assert last == ["take care"]
    assert head == [f"{channel.name} [{channel.unit}]" for channel in CHANNELS]
    assert len(rows) == 5 * RATE + 1
    place = head.index("load.y_m [m]")
    for row in rows:
        assert float(row[place]) == pytest.approx(float(row[1]) / sqrt(2.0), abs=1e-4)


def test_a_reading_that_hovers_at_its_limit_is_one_finding_and_one_that_grazes_it_none() -> None:
    """Head room 1 cm to either side of the limit every 10 s; then half a second within a centimeter under it."""
    limit_m = tank().limits.head_room_caution_m

    def hovers(time_s: Times) -> Times:
        return limit_m + np.where(time_s < 10.0, 3.0, 0.01 * np.sign(np.sin(time_s * np.pi / 5.0) - 0.1))

    (one,) = debrief(made_up({"nose.head_room_m": hovers}, length_s=60)).findings
    assert one.what.startswith("head room under") and one.time_s == pytest.approx(10.0, abs=6.0)

    def grazes(depth_m: float) -> Course:
        return lambda time_s: limit_m + np.where((time_s >= 10.0) & (time_s <= 10.5), -depth_m, 3.0)

    assert debrief(made_up({"nose.head_room_m": grazes(0.005 * limit_m)})).findings == ()
    assert len(debrief(made_up({"nose.head_room_m": grazes(0.05 * limit_m)})).findings) == 1


@pytest.mark.parametrize(("short_s", "said"), [(0, "The drill's time ran out after"), (10, "Ended before")])
def test_a_drill_that_ran_out_of_time_is_not_called_left(short_s: int, said: str) -> None:
    lift = load(find_scenario("centering"))
    assert lift.drill is not None
    lift = replace(lift, drill=replace(lift.drill, longest_s=30.0))
    told = debrief(made_up({"load.ground_N": 5e4}, description=lift, length_s=30 - short_s))
    assert told.heading.startswith(said)


def test_a_stage_that_begins_with_a_step_of_the_drill_is_told_by_the_step() -> None:
    """At 240 steps a second: 24 are 0.1 s, 72 are 0.3 s."""
    events = (
        noted(1, "stage", "nose unit: wait"),
        noted(480, "step", "2: Nose: lighten your end"),
        noted(504, "stage", "nose unit: lighten"),
        noted(504, "stage", "tail unit: lighten"),
        noted(552, "stage", "tail unit: hoists early"),
    )
    course = debrief(made_up({}, events=events)).course
    assert [words for _, words in course] == [
        "nose unit: wait", "step 2: Nose: lighten your end", "tail unit: hoists early"
    ]  # fmt: skip


def test_a_stage_in_the_course_names_its_unit() -> None:
    events = (noted(480, "stage", "nose unit: take slack"), noted(1440, "stage", "tail unit: take slack"))
    course = debrief(made_up({}, events=events)).course
    assert [words for _, words in course] == ["nose unit: take slack", "tail unit: take slack"]

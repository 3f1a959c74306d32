"""The views while a load is turned over: swapped by key or by the step, the gauge, panels and strip, at every size."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pygame
import pytest

from simulator import words
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.regions import SCENE
from simulator.window.kit.seen import seen_of
from simulator.window.readouts.alerts import Watched, look, watch_list
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.readouts import Readouts
from simulator.window.readouts.turning import Turning, gauge_look, line_rows, strip_look
from simulator.window.readouts.turning_panels import GAUGE, TurnPanelLook, TurnStripLook, on_gauge
from simulator.window.scene.inset_plan import PlanView
from simulator.window.scene.turn_view import TurnView
from simulator.window.screens import drive as drive_module
from simulator.window.screens.lift_picture import draw_still
from tests.window.inside import panel_look
from tests.window.rigs import four_lines, hanging, lone_unit, with_line
from tests.window.test_drive import frames, open_program, tap
from tests.window.test_rigs import LIFTS, SIZES, Lift, bad
from tests.window.within import panels_outside


def turning_readings(turned_deg: float = 12.0, **load_changes: float) -> tuple[Description, Readings]:
    """The frame of the yard over the road, rolled; its road side down is the way of line 1 out."""
    description = four_lines()
    readings = hanging(description, height_m=1.4, y_m=6.2)
    load = readings.load._replace(roll_rad=-radians(turned_deg), height_over_road_m=1.4, **load_changes)
    return description, readings._replace(load=load)


# Swapping ---------------------------------------------------------------------------------------------------------


def test_a_key_swaps_the_views_and_swaps_them_back() -> None:
    shown, drive = open_program("two", four_lines())
    frames(shown, 3)
    assert not drive.readouts.is_across
    tap(shown, pygame.K_F3)
    frames(shown, 20)
    assert drive.readouts.is_across
    assert isinstance(panel_look(drive.readouts, "left"), TurnPanelLook)
    tap(shown, pygame.K_F3)
    frames(shown, 20)
    assert not drive.readouts.is_across and not isinstance(panel_look(drive.readouts, "left"), TurnPanelLook)


def test_views_swap_by_themselves_when_the_step_is_the_turn_and_the_key_still_works(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    turns = False
    monkeypatch.setattr(drive_module, "turns_it_over", lambda lift: turns)
    shown, drive = open_program("two", four_lines())
    frames(shown, 3)
    turns = True
    frames(shown, 3)
    assert drive.readouts.is_across
    tap(shown, pygame.K_F3)
    frames(shown, 3)
    assert not drive.readouts.is_across, "who swaps them back in the turn keeps them so"
    tap(shown, pygame.K_F3)
    turns = False
    frames(shown, 3)
    assert not drive.readouts.is_across, "and after the turn they are as before"


def test_other_units_of_measure_leave_the_views_as_they_are() -> None:
    shown, drive = open_program("two", four_lines())
    tap(shown, pygame.K_F3)
    tap(shown, pygame.K_F2)
    frames(shown, 20)
    assert drive.readouts.is_across and drive.system == "us"
    (row, *_) = panel_look(drive.readouts, "left").lines
    assert row.speed.unit == words.say("measure.foot_per_s")


# Gauge ------------------------------------------------------------------------------------------------------------


def test_the_gauge_tells_how_far_it_is_turned_and_the_next_corner() -> None:
    description, readings = turning_readings(12.0, yaw_rad=radians(2.0))
    found = gauge_look(Turning(description), readings)
    assert (found.text, found.corner_deg, found.slow_from_deg) == ("12", 90, 85)
    assert [(needle.side, needle.degrees) for needle in found.needles] == [(0, 12.0), (1, 12.0)]
    assert found.differ == words.say("turn.ends_alike") and found.differ_level is Level.GOOD
    assert "2.0" in found.yaw and "85" in found.words


def test_near_the_corner_it_says_slowly() -> None:
    description, readings = turning_readings(86.0)
    assert gauge_look(Turning(description), readings).words == words.say("turn.now_slowly", corner=90, stop=85)


@pytest.mark.parametrize(("unit", "where", "side"), [(0, "left", 0), (1, "right", 1)])
def test_an_end_whose_lines_have_run_further_is_ahead(unit: int, where: str, side: int) -> None:
    """Line 1 out and line 2 in by 0.08 m beyond the other end; picks 1.0 m to either side: 0.16 / 2.0 rad, 4.6 deg."""
    description, readings = turning_readings(12.0)
    first, second = readings.lines[2 * unit], readings.lines[2 * unit + 1]
    readings = with_line(readings, 2 * unit, line_length_m=first.sheave_to_hook_m + 0.08)
    readings = with_line(readings, 2 * unit + 1, line_length_m=second.sheave_to_hook_m - 0.08)
    found = gauge_look(Turning(description), readings)
    own, other = (needle.degrees for needle in sorted(found.needles, key=lambda one: one.side != side))
    assert own - other == pytest.approx(4.6, abs=0.7)
    assert where in found.differ and found.differ_level is Level.CAUTION, "word and triangle, not color alone"


def test_an_end_on_slack_lines_has_no_needle() -> None:
    description, readings = turning_readings(12.0)
    readings = with_line(with_line(readings, 0, slack=True), 1, slack=True)
    assert [needle.side for needle in gauge_look(Turning(description), readings).needles] == [1]


def test_zero_lies_left_and_a_quarter_turn_stands_up() -> None:
    """Road is on the left as in the section: the load's road side goes down as the needle goes up and over."""
    left, up, right = on_gauge(0.0, 10.0), on_gauge(90.0, 10.0), on_gauge(180.0, 10.0)
    assert left[0] < up[0] < right[0] and up[1] < left[1] == pytest.approx(right[1])


# Panels and strip -------------------------------------------------------------------------------------------------


def watched(description: Description, readings: Readings) -> Watched:
    """What is in caution or stop."""
    return look(watch_list(description.limits, (), rig=rig_of(description)), readings, Watched())


def test_a_panel_says_load_way_speed_and_key_of_each_line() -> None:
    """Two parts of line: the rope's 0.36 m/s at the drum is 0.18 m/s of line."""
    description, readings = turning_readings()
    readings = with_line(with_line(readings, 0, hoist_speed_mps=-0.36), 1, hoist_speed_mps=0.36)
    left, right = seen_of(description).units
    level = watched(description, readings)
    rows = line_rows(readings, left, level, "metric", Labels(), description)
    assert [(row.way, row.way_word, row.speed.text, row.key) for row in rows] == [
        (-1, "out", "0.18", "F"), (1, "in", "0.18", "T"),
    ]  # fmt: skip
    still = line_rows(readings, right, level, "metric", Labels(), description)
    assert [(row.way, row.way_word, row.key) for row in still] == [(0, "still", "J"), (0, "still", "Y")]
    assert rows[0].load.value.text == "1.5"


def test_a_line_that_runs_the_other_way_shows_that_ways_key() -> None:
    description, readings = turning_readings()
    readings = with_line(readings, 0, hoist_speed_mps=0.2)
    row, _ = line_rows(readings, seen_of(description).units[0], Watched(), "metric", Labels(), description)
    assert (row.way, row.key) == (1, "R")


def test_the_strip_sums_lines_and_names_the_lightest() -> None:
    description, readings = turning_readings()
    readings = with_line(readings, 2, line_load_N=0.5 * readings.lines[2].line_load_N)
    lines_1, lines_2, lightest, pressed, gap = strip_look(Turning(description), readings, Watched(), "metric")
    assert (lines_1.value.value.text, lines_2.value.value.text) in (("2.2", "3.0"), ("2.3", "3.0"))
    assert "43" in lines_1.words and "57" in lines_2.words
    assert lightest.words.startswith("right 1") and "33" in lightest.words, "a third of its end"
    assert pressed.words == words.say("turn.none_lies")
    bears = with_line(readings, 1, squeeze_N=2.0 * 9806.65)
    column = strip_look(Turning(description), bears, Watched(), "metric")[3]
    assert (column.value.value.text, column.words) == ("2.0", words.say("turn.at_corner", line="left 2"))
    assert gap.words == readings.gaps[0].part
    slack = with_line(readings, 1, slack=True, line_load_N=0.0)
    column = strip_look(Turning(description), slack, watched(description, slack), "metric")[2]
    assert (column.value.value.text, column.value.level, column.words) == ("SLACK", Level.CAUTION, "left 2")


def test_the_strip_says_how_a_sling_presses_on_a_shell_and_what_the_shell_bears() -> None:
    """As the engine reads it: a round shell has a pressure and no corner. The tank's is stated to bear 300 kPa."""
    description = load(find_scenario("turn_over_tank"))
    readings = hanging(description, height_m=1.4, y_m=6.2)
    right_2 = with_line(with_line(readings, 1, shell_pressure_Pa=120e3), 3, shell_pressure_Pa=143e3)
    turning = Turning(description)
    column = strip_look(turning, right_2, Watched(), "metric")[3]
    assert (column.value.value.joined, column.words) == (
        "143 kPa",
        words.say("turn.bears", line="right 2", value="300"),
    )
    assert column.value.level is Level.GOOD
    column = strip_look(turning, right_2, Watched(), "us")[3]
    assert (column.value.value.joined, column.words) == ("20.7 psi", "right 2, bears 43.5"), "by 6894.757 Pa"
    over = with_line(right_2, 1, shell_pressure_Pa=301e3)
    assert strip_look(turning, over, Watched(), "metric")[3].value.level is Level.STOP
    corner = with_line(right_2, 0, squeeze_N=100e3)
    column = strip_look(turning, corner, Watched(), "metric")[3]
    assert column.words == "left 1, bears 15.3", "100 of 150 kN is more than 143 of 300 kPa; 150 kN are 15.3 t"
    part = replace(description.trailer.parts[0], may_bear_Pa=None)
    unknown = replace(description, trailer=replace(description.trailer, parts=(part, *description.trailer.parts[1:])))
    column = strip_look(Turning(unknown), right_2, Watched(), "metric")[3]
    assert column.words == words.say("turn.on_shell", line="right 2")


def test_hidden_loads_stay_hidden_with_the_views_swapped() -> None:
    description, readings = turning_readings()
    rows = Readouts(description, readings, "metric")
    rows.is_across, rows.shows_loads = True, False
    rows.follow(readings, 0.0, at_rest(seen_of(description)))
    panel = panel_look(rows, "left")
    assert {row.load.value.text for row in panel.lines} == {panel.panel.line_load.value.text} != {"1.5"}
    assert not isinstance(panel_look(rows, "strip"), TurnStripLook)


@pytest.mark.parametrize("lift", [four_lines, lone_unit])
@pytest.mark.parametrize("size", [*SIZES, (1366, 768)])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.usefixtures("any_words")
def test_swapped_panels_stay_in_their_regions(
    screen: pygame.Surface, lift: Lift, size: tuple[int, int], system: str
) -> None:
    description = lift()
    assert panels_outside(description, bad(description), size, system, is_across=True) == []


@pytest.mark.parametrize("lift", LIFTS)
@pytest.mark.parametrize("size", SIZES)
def test_words_have_room_with_the_views_swapped(
    screen: pygame.Surface, cut_short: list[str], lift: Lift, size: tuple[int, int]
) -> None:
    description = lift()
    for readings in (hanging(description), bad(description), hanging(description, height_m=-3.0, y_m=-7.0)):
        for system in ("metric", "us"):
            draw_still(Canvas(pygame.Surface(size)), description, readings, system, is_across=True)  # type: ignore[arg-type]
    assert cut_short == []


# The scene --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("turned_deg", [0.0, 45.0, 90.0])
@pytest.mark.parametrize(("y_m", "height_m"), [(6.2, 1.4), (6.2, 0.2), (0.0, 2.0), (-7.0, -6.0)])
def test_load_tips_and_decks_lie_between_the_roses_and_over_the_gauge(
    screen: pygame.Surface, turned_deg: float, y_m: float, height_m: float
) -> None:
    description = four_lines()
    readings = hanging(description, height_m=height_m, y_m=y_m)
    readings = readings._replace(
        load=readings.load._replace(roll_rad=-radians(turned_deg), height_over_road_m=height_m)
    )
    view = TurnView(description)
    view.draw(Canvas(pygame.Surface((1920, 1080))), readings)
    corners = [view.section.at(y_m + across, height_m + up) for across in (-1.3, 1.3) for up in (0.0, 1.2)]
    tips = [view.section.at(unit.tip_y_m, unit.tip_z_m) for unit in readings.units]
    decks = [view.section.at(across, 1.35) for across in (-3.5, 3.5)]
    for x, y in (*corners, *tips, *decks):
        assert SCENE.x + 296.0 < x < SCENE.right - 296.0
        assert SCENE.y < y < GAUGE.y


def test_road_is_on_the_left_as_in_the_section_inset() -> None:
    description, _ = turning_readings()
    view = TurnView(description)
    assert view.section.at(6.0, 0.0)[0] < view.section.at(-6.0, 0.0)[0]


def test_the_picture_stands_still_while_the_load_turns_in_one_place(screen: pygame.Surface) -> None:
    description, readings = turning_readings(0.0)
    view, canvas, seen = TurnView(description), Canvas(pygame.Surface((1280, 720))), set()
    for deg in range(0, 91, 10):
        now = readings._replace(load=readings.load._replace(roll_rad=-radians(deg)))
        view.draw(canvas, now)
        seen.add(view.section.framing)
    assert len(seen) == 1


def test_a_sling_under_the_load_is_drawn_round_it() -> None:
    """A pick at the lower ravine edge with its sheave far on the road side: the sling bends at a corner."""
    description, readings = turning_readings(60.0)
    assert all(len(spots) == 1 for spots in TurnView(description).section.sling_spots(hanging(description)))
    trailer = description.trailer
    low = tuple(replace(pick, at_m=(pick.at_m[0], pick.at_m[1], 0.0), sling_length_m=3.0) for pick in trailer.picks)
    bent = replace(description, trailer=replace(trailer, picks=low))
    turned = readings._replace(load=readings.load._replace(roll_rad=-radians(85.0)))
    assert any(len(spots) > 1 for spots in TurnView(bent).section.sling_spots(turned))


@pytest.mark.parametrize("turned_deg", [0.0, 45.0, 90.0])
def test_from_above_the_load_keeps_its_breadth_however_far_it_is_turned(
    screen: pygame.Surface, turned_deg: float
) -> None:
    """At no angle is it drawn edge on: its least extent across stays over a meter."""
    description = load(find_scenario("turn_over_tank"))
    readings = hanging(description, height_m=1.4, y_m=6.2)
    readings = readings._replace(load=readings.load._replace(roll_rad=-radians(turned_deg)))
    view = PlanView(description)
    spots = view._draw_load(Canvas(screen), readings)
    across = max(y for _, y in spots) - min(y for _, y in spots)
    meter = abs(view.at(0.0, 1.0)[1] - view.at(0.0, 0.0)[1])
    assert across > meter

"""Two lines a unit, and one unit alone: panels, words, rose, scene and screens follow the rig of the lift."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from math import radians
from pathlib import Path

import pygame
import pytest

from simulator import words
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import BINDINGS, Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import badge
from simulator.window.kit.levels import Level
from simulator.window.kit.seen import layout_of, seen_of
from simulator.window.readouts.alert_words import alert_look, as_seen
from simulator.window.readouts.alerts import Watched, look, watch_list
from simulator.window.readouts.coach_words import Situation, at_rest, call
from simulator.window.readouts.fix_chips import advise
from simulator.window.readouts.overlay import Overlay
from simulator.window.readouts.readouts import Readouts
from simulator.window.readouts.rose import Trail, on_rose, rose_look
from simulator.window.readouts.rose_tag import tag_look
from simulator.window.readouts.stop_band import SeatHears, StopLook, draw_stop_band
from simulator.window.scene import side_view
from simulator.window.scene.camera import Camera
from simulator.window.scene.side_view import SideView
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.window.screens.lift_picture import draw_still
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, partners, people, unit_moves
from simulator.window.shell.lifts_on_offer import Offer
from simulator.window.shell.sounds import share_of_work
from tests.window.inside import panel_look
from tests.window.key_table import key_table
from tests.window.rigs import alone_with_one_line, four_lines, hanging, lone_unit, with_line
from tests.window.sample import calm_readings, sample_description
from tests.window.within import panels_outside

LIFTS = [four_lines, lone_unit, alone_with_one_line]
SIZES = [(1920, 1080), (1280, 720), (3840, 2160)]
OF_A_PAIR = re.compile(r"\b(left|right|both|together|partner|other unit)\b", re.IGNORECASE)
"""Words of a lift by two units; `both` lines of one unit are meant where two lines hang on it."""
OF_WHAT_IS_LEFT = {"ROPE LEFT", "caution: little room left"}
OF_TWO_LINES = {
    "BOTH LINES", "Both", "Both up", "Both down", "Both lines up, down", "both lines; 1, 2 each",
    "Left shoulder held: line 1. Right: line 2. Menu: pause.",
}  # fmt: skip
Lift = Callable[[], Description]


def anything(place: int, pose: object) -> bool:
    """A unit may stand anyhow."""
    return True


def bad(description: Description) -> Readings:
    """Everything that a line can be at once."""
    readings = hanging(description)
    first, *_ = readings.units
    readings = readings.with_unit(0, first._replace(stall=True, capacity_used=1.03, tipping=True))
    for line in rig_of(description).lines:
        readings = with_line(
            readings, line.place, slack=line.number == 1, stall=line.number == 2, line_load_N=2e5, head_room_m=0.4,
            rope_left_m=3.0,
        )  # fmt: skip
    return readings


def watched(description: Description, readings: Readings) -> Watched:
    """What is in caution or stop."""
    return look(watch_list(description.limits, (), rig=rig_of(description)), readings, Watched())


# Panels -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("lift", LIFTS)
@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.usefixtures("any_words")
def test_a_panel_of_any_rig_stays_in_its_region(
    screen: pygame.Surface, lift: Lift, size: tuple[int, int], system: str
) -> None:
    description = lift()
    assert panels_outside(description, bad(description), size, system) == []


@pytest.mark.parametrize("lift", LIFTS)
@pytest.mark.parametrize("size", SIZES)
def test_shipped_words_have_room_in_every_rig(
    screen: pygame.Surface, cut_short: list[str], lift: Lift, size: tuple[int, int]
) -> None:
    description = lift()
    for readings in (hanging(description), bad(description)):
        for system in ("metric", "us"):
            draw_still(Canvas(pygame.Surface(size)), description, readings, system)  # type: ignore[arg-type]
    KeysScreen(description, labels=Labels(), is_paused=True).draw(Canvas(pygame.Surface(size)))
    SeatCheck(Choice(description, "two")).frame(Canvas(pygame.Surface(size)), 0.0)
    assert cut_short == []


def test_a_panel_lists_its_units_lines_with_their_own_words_and_marks() -> None:
    description = four_lines()
    readings = with_line(hanging(description), 1, slack=True, line_load_N=0.0)
    readings = with_line(with_line(readings, 2, head_room_m=1.2), 3, stall=True, rope_left_m=3.0)
    rows = Readouts(description, readings, "metric")
    rows.follow(readings, 0.0, at_rest(seen_of(description)))
    left, right = panel_look(rows, "left"), panel_look(rows, "right")
    assert [(line.number, line.word) for line in left.lines] == [(1, ""), (2, "SLACK")]
    assert [(line.number, line.word) for line in right.lines] == [(1, ""), (2, "STALL")]
    assert left.lines[1].load.level is Level.CAUTION
    assert (right.lines[0].head_room.level, right.lines[1].head_room.level) == (Level.CAUTION, Level.GOOD)
    assert (right.lines[0].rope_left.level, right.lines[1].rope_left.level) == (Level.GOOD, Level.STOP)
    assert left.share.text == "50", "one slack line of two does not hide the share"


# Alerts, coach ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("field", "value", "said"), [
    ("head_room_m", 0.3, "Right line 2, head room 0.3 m."), ("rope_left_m", 3.0, "Right line 2, 3 m of rope left."),
    ("slack", True, "Right line 2 is slack."), ("stall", True, "Right line 2, winch at its limit."),
])  # fmt: skip
def test_an_alert_of_one_of_two_lines_names_it(field: str, value: float, said: str) -> None:
    description = four_lines()
    readings = with_line(hanging(description), 3, **{field: value})
    alert = alert_look(watched(description, readings), readings, seen_of(description), "metric")
    assert alert is not None and alert.text.startswith(said[:20]) and "line 2" in alert.text
    alone = lone_unit()
    readings = with_line(hanging(alone), 1, **{field: value})
    alert = alert_look(watched(alone, readings), readings, seen_of(alone), "metric")
    assert alert is not None and alert.text.startswith("Line 2")


def test_a_slack_line_while_its_twin_bears_is_taken_up_by_its_own_key() -> None:
    description = four_lines()
    readings = with_line(hanging(description), 3, slack=True, line_load_N=0.0)
    advice = advise(description, readings, anything)
    assert [(row.kind, row.lever, row.sign) for row in advice] == [("leave", "", 0), ("control", "hoist_2", 1)]
    seen = seen_of(description)
    tag = tag_look(readings, seen.units[1], advice[1], Level.GOOD, Labels(), plumb_rad=radians(1.0), sign=1.0)
    assert (tag.chip, tag.key) == ("LINE 2 UP", "Y")
    said = call(readings, watched(description, readings), advice, (Level.GOOD,) * 2, at_rest(seen), seen)
    assert said.mover == "right" and "line 2 up" in said.prompt
    on_bed = readings._replace(load=readings.load._replace(ground_N=5e4))
    assert {row.kind for row in advise(description, on_bed, anything)} == {"leave"}, "there a line may be slack"


def test_a_lean_is_judged_while_one_of_two_lines_still_bears() -> None:
    description = four_lines()
    readings = with_line(hanging(description), 0, slack=True)
    leaning = readings.units[0]._replace(slack=True, mean_off_plumb_rad=radians(5.0))
    readings = readings._replace(units=(leaning, *readings.units[1:]))
    assert watched(description, readings).level("nose.off_plumb") is Level.STOP
    loose = with_line(readings, 1, slack=True)
    assert watched(description, loose).level("nose.off_plumb") is Level.GOOD


def situations(seen_lift: Description) -> list[Situation]:
    """Every state of the coach strip."""
    rest = at_rest(seen_of(seen_lift))
    moving = rest._replace(moving=tuple(True for _ in rest.moving))
    return [rest, moving, moving._replace(automatic=moving.moving), rest._replace(is_stopped=True, stopped_by="x"),
            rest._replace(has_ended=True)]  # fmt: skip


@pytest.mark.parametrize("lift", [lone_unit, alone_with_one_line])
def test_nothing_is_said_of_a_pair_where_one_unit_stands_alone(lift: Lift, said: list[str]) -> None:
    description, seen = lift(), seen_of(lift())
    pygame.font.init()
    for readings in (hanging(description), bad(description), hanging(description, sway_m=0.7)):
        for now in situations(description):
            rows = Readouts(description, readings, "metric")
            rows.follow(readings, 0.0, now)
            canvas = Canvas(pygame.Surface((1280, 720)))
            rows.draw_due(canvas, most=99)
            overlay = Overlay(description, canvas)
            overlay.renew(rows, Labels())
    draw_stop_band(canvas, StopLook((SeatHears(seen.units[0], False, False, "Shift"),)))
    SeatCheck(Choice(description, "two")).frame(canvas, 0.0)
    KeysScreen(description, labels=Labels(), is_paused=True).draw(canvas)
    paired = {one for one in said if OF_A_PAIR.search(one.replace("left.", ""))} - OF_WHAT_IS_LEFT
    assert paired <= (OF_TWO_LINES if lift is lone_unit else set())


def test_a_unit_alone_is_named_without_a_side_and_by_any_name() -> None:
    seen = seen_of(lone_unit())
    assert as_seen("rescue unit tailboard", seen) == "unit tailboard"
    assert as_seen("Rescue unit: slew.", seen) == "Unit: slew."
    assert seen.units[0].line_said("rescue_2") == "Line 2"
    assert seen_of(four_lines()).units[1].line_said("tail_1", inside=True) == "right line 1"


def test_a_unit_alone_stands_on_the_side_of_its_cab() -> None:
    description = lone_unit()
    turned = replace(description, units=(replace(description.units[0], tailboard_toward="nose"),))
    mirrored = replace(description, site=replace(description.site, nose_seen_from_ravine="right"))
    assert [seen_of(one).units[0].side for one in (description, turned, mirrored)] == [0, 1, 1]
    for one in (description, turned):
        layout = layout_of(seen_of(one))
        assert {region.x for region in (*layout.panels, layout.section)} == {8.0, 1576.0}
        assert layout.section.x == layout.plan.x and layout.panels[0].h > 800.0, "no column is half empty"


# Rose, scene ------------------------------------------------------------------------------------------------------


def test_a_rose_has_a_numbered_dot_for_each_of_two_lines_and_none_for_one() -> None:
    description = four_lines()
    readings = with_line(hanging(description), 1, slack=True)
    unit = rig_of(description).units[0]
    rose = rose_look(unit, readings, Trail(), 1.0, Level.GOOD)
    now = [readings.lines[line.place] for line in unit.lines]
    assert [(dot.number, dot.slack) for dot in rose.lines] == [(1, False), (2, True)]
    wanted = [on_rose(line.off_plumb_along_rad, line.off_plumb_across_rad, 1.0) for line in now]
    assert [dot.hook for dot in rose.lines] == wanted and wanted[0] != wanted[1] != rose.hook
    one = rig_of(sample_description()).units[0]
    assert rose_look(one, calm_readings(), Trail(), 1.0, Level.GOOD).lines == ()


@pytest.mark.parametrize("lift", LIFTS)
def test_every_line_is_drawn_from_its_own_sheave_to_its_hook(
    screen: pygame.Surface, monkeypatch: pytest.MonkeyPatch, lift: Lift
) -> None:
    drawn: list[tuple[object, object]] = []
    monkeypatch.setattr(side_view, "draw_line", lambda canvas, tip, hook, *_: drawn.append((tip, hook)))
    description, readings = lift(), hanging(lift())
    camera = Camera()
    camera.follow(0.0, readings)
    view = SideView(description)
    view.draw(Canvas(screen), camera, readings)
    wanted = zip(view.sheaves_on_screen(camera, readings), view.hooks_on_screen(camera, readings), strict=True)
    assert sorted(drawn) == sorted(wanted)  # type: ignore[type-var]
    assert len({tip for tip, _ in drawn}) == len(readings.lines)


@pytest.mark.parametrize("lift", LIFTS)
@pytest.mark.parametrize("size", SIZES)
def test_a_picture_of_any_rig_shows_each_units_color(screen: pygame.Surface, lift: Lift, size: tuple[int, int]) -> None:
    canvas = Canvas(pygame.Surface(size))
    draw_still(canvas, lift(), hanging(lift()), "us")
    colors = {tuple(canvas.surface.get_at((x, y)))[:3] for x in range(0, size[0], 4) for y in range(0, size[1], 4)}
    from simulator.window.kit.palette import CAUTION, SIDES, STOP

    sides = seen_of(lift()).sides
    assert [SIDES[side].main in colors for side in range(len(SIDES))] == [side in sides for side in range(len(SIDES))]
    assert not {CAUTION, STOP} & colors, "a calm lift is a calm screen"


# Screens ----------------------------------------------------------------------------------------------------------


def test_one_unit_alone_has_one_seat_whoever_sits_down(screen: pygame.Surface) -> None:
    alone = lone_unit()
    assert [people(who, alone) for who in ("two", "left", "right", "demo")] == [("left",), ("left",), ("left",), ()]
    assert partners(alone, "two") == [None]
    start = StartScreen((Offer(alone), Offer(four_lines())), Desk())
    assert [row.who for row in start.who_rows] == ["two", "demo"] and start.seats == ("left",)
    start.lift = 1
    assert [row.who for row in start.who_rows] == ["two", "left", "right", "demo"]
    start.who, start.lift = 3, 0
    assert start.who_row.who == "demo", "the last of fewer rows"
    start.frame(Canvas(screen), 0.0)


def test_badges_are_for_units_that_have_another_beside_them(
    screen: pygame.Surface, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[int] = []

    def noting(canvas: Canvas, side: int, *place: float, **how: bool) -> None:
        drawn.append(side)
        badge(canvas, side, *place, **how)

    for room in ("readouts.panels", "readouts.coach_strip"):
        monkeypatch.setattr(f"simulator.window.{room}.badge", noting)
    draw_still(Canvas(screen), lone_unit(), hanging(lone_unit()))
    assert drawn == []
    draw_still(Canvas(screen), four_lines(), hanging(four_lines()))
    assert set(drawn) == {0, 1}


def test_shipped_lifts_are_seen_as_they_were() -> None:
    """The first unit left, or right where the site says so."""
    description = load(find_scenario("practice_yard"))
    assert [(unit.name, unit.side) for unit in seen_of(description).units] == [("nose", 0), ("tail", 1)]
    mirrored = sample_description(nose_seen="right")
    assert [(unit.name, unit.side) for unit in seen_of(mirrored).units] == [("tail", 0), ("nose", 1)]


def test_the_readmes_table_of_keys_is_made_from_the_levers() -> None:
    rows = key_table()
    assert len(rows) == len({row.lever for row in BINDINGS}) == 8
    assert "\n".join(rows) in (Path(words.__file__).parents[1] / "README.md").read_text(encoding="utf-8")


def test_a_load_that_is_turned_is_heard_though_its_lines_mean_speed_is_none() -> None:
    description = four_lines()
    speed = description.units[0].lines[0].hoist.speed_mps
    turned = with_line(with_line(hanging(description), 0, hoist_speed_mps=-speed), 1, hoist_speed_mps=speed)
    assert turned.units[0].hoist_speed_mps == 0.0
    assert share_of_work(description, turned) >= 0.3 > share_of_work(description, hanging(description)) == 0.0
    assert unit_moves(description, turned, seen_of(description).units[0])


def test_no_module_of_the_window_counts_units_or_lines() -> None:
    """The rig does: nothing writes the two units' names as attributes, or the other end as one less this."""
    counts = re.compile(r"\.(nose|tail)\b|\b1 - (end|unit|side|seat|place)\b|\(0, 1\)|END_NAMES|\bPAIR\b")
    found = [
        f"{path.name}: {line.strip()}"
        for path in (Path(words.__file__).parent / "window").rglob("*.py")
        for line in path.read_text(encoding="utf-8").splitlines()
        if counts.search(line)
    ]
    assert found == []

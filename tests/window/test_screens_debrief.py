"""The debrief: events in time, the scrubber, replay, and driving on from a moment."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pygame
import pytest

from simulator.attempt import Attempt
from simulator.scenario.description import Limits
from simulator.scenario.faults import listed
from simulator.window import program
from simulator.window.kit.canvas import Canvas
from simulator.window.loop import Program
from simulator.window.review import worst_rows as worst_rows_room
from simulator.window.review.charts import charts, ticks
from simulator.window.review.looking_back import LookBack, Replayed
from simulator.window.review.moments import at_or_before
from simulator.window.screens.cards import PauseCard, SummaryCard
from simulator.window.screens.debrief_screen import CONTROLS, DebriefScreen
from simulator.window.screens.debrief_view import FOOT, draw_event_card, foot_keys
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.replay_screen import ReplayScreen, drive_on
from simulator.window.screens.replay_screen import replay as replay_from
from simulator.window.screens.sentences import LinesScreen
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, begin_attempt
from simulator.words import say
from tests.window.inside import kept_of
from tests.window.screens import (
    LONG_S,
    Found,
    driven,
    frames,
    mouse,
    open_small,
    show_debrief,
    show_lift,
    tap,
    two_findings,
    yard,
)


class Worst(NamedTuple):
    """A worst value that no lift here comes to."""

    value: float


def looked_back() -> tuple[Program, DebriefScreen]:
    """The short lift in the debrief."""
    shown = open_small(tell=two_findings, begin=begin_attempt)
    show_debrief(shown, LookBack(driven()[0], None, two_findings, shown.desk))
    assert isinstance(shown.screen, DebriefScreen)
    return shown, shown.screen


def test_arrows_go_from_event_to_event_and_stay_at_the_ends() -> None:
    shown, debrief = looked_back()
    tap(shown, pygame.K_HOME)
    seen = []
    for _ in range(len(debrief.moments) + 3):
        tap(shown, pygame.K_RIGHT)
        seen.append(debrief.at_s)
    assert sorted({one.time_s for one in debrief.moments}) == sorted(set(seen))
    tap(shown, pygame.K_LEFT)
    assert debrief.at_s < seen[-1]
    assert debrief.moment == debrief.moments[at_or_before(debrief.moments, debrief.at_s)]


AMOUNTS = ("value", "most", "least", "slewed", "changed", "needed", "before", "after")
LONGEST_DID = "line out 123.45 ft, telescope out 12.34 ft, boom down 12.3 deg, slew 12.3 deg toward the ravine"


def longest(key: str) -> str:
    """A cause with the longest units, amounts and moves put in."""
    values = dict.fromkeys(AMOUNTS, "-123.45 ft") | dict.fromkeys(("went", "stood", "unit", "toward"), "right unit")
    more = {"lines": "right line in 123.45 ft, left line 123.45 ft", "did": LONGEST_DID, "stood_did": LONGEST_DID}
    rest = {
        "when": "12:34.5",
        "number": 12,
        "title": "Both: up until the trailer is clear of the slope's edge",
        "other": "right line",
        "line": "right line",
        "turns": 123,
        "lasts": 45,
        "function": "elevation",
        "leans": listed([say("finding.leaned", line="right line", lean="12.3 deg")] * 2, last=say("finding.and")),
    }
    return say("finding.since", when="12:34.5", cause=say(key, **values, **more, **rest))


CAUSES = ("one_hoisted_in", "one_end_down", "stopped", "further", "one_crossed_ravine", "tip_along", "off_its_line",
          "radius_grew", "load_grew")  # fmt: skip
REASONS = ("leaning_other_slack", "other_leaning", "plumbing_only", "not_its_move", "chased", "lay_so", "came_free")


@pytest.mark.parametrize("key", [*(f"deed.{one}" for one in CAUSES), *(f"finding.{one}" for one in REASONS)])
def test_nothing_on_the_event_card_is_cut(key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """At 1280 x 720, the smallest window, with the longest words: all that is said is said whole and in the card."""
    what = "off plumb over 12.3 deg (caution limit), worst 12.3 deg at 12:34.5, past it for 1234 s"
    found = Found(3.0, "stop", "nose unit", what, f"{longest(key)}; {longest('deed.further')}", "nose.head_room_m")
    shown = open_small(tell=two_findings, begin=begin_attempt)
    show_debrief(shown, LookBack(driven()[0], None, lambda *_: (found,), shown.desk))
    said: list[tuple[str, float]] = []
    draw = Canvas.text

    def looked_at(canvas: Canvas, text: str, x: float, y: float, size: float, **look: Any) -> Any:
        said.append((text, y))
        weight, room = look.get("weight", "semibold"), look.get("width") or 1e9
        assert canvas.text_width(text, size, weight=weight) <= room + 0.5, text
        return draw(canvas, text, x, y, size, **look)

    monkeypatch.setattr(Canvas, "text", looked_at)
    assert isinstance(shown.screen, DebriefScreen)
    draw_event_card(shown.canvas, shown.screen)
    assert max(y for _, y in said) <= FOOT
    text = " ".join(one for one, _ in said)
    assert longest(key).partition(" (")[0][1:] in text


def test_the_foot_says_what_left_and_right_do_where_the_keyboard_is() -> None:
    _, debrief = looked_back()
    for focus, control in enumerate(CONTROLS):
        debrief.focus = focus
        does = foot_keys(debrief)[-1]
        assert does == (
            "key.left_right",
            {"track": "debrief.by_second", "speed": "debrief.speed"}.get(control, "debrief.event"),
        )


def test_it_opens_at_the_worst_moment() -> None:
    _, debrief = looked_back()
    assert debrief.at_s == 3.0


def test_the_track_is_the_scrubber_for_the_mouse_and_for_keys() -> None:
    shown, debrief = looked_back()
    frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 232.0 + 1136.0 / 4.0, 884.0)
    assert debrief.at_s == pytest.approx(LONG_S / 4.0, abs=0.02)
    mouse(shown, pygame.MOUSEMOTION, 232.0 + 1136.0 / 2.0, 400.0)
    assert debrief.at_s == pytest.approx(LONG_S / 2.0, abs=0.02)
    mouse(shown, pygame.MOUSEBUTTONUP, 800.0, 400.0)
    mouse(shown, pygame.MOUSEMOTION, 1368.0, 884.0)
    assert debrief.at_s == pytest.approx(LONG_S / 2.0, abs=0.02)
    while debrief.control != "track":
        tap(shown, pygame.K_TAB)
    before = debrief.at_s
    tap(shown, pygame.K_RIGHT)
    assert debrief.at_s == pytest.approx(before + 1.0)


def test_every_control_can_be_reached_by_tab_and_the_speeds_by_arrows() -> None:
    shown, debrief = looked_back()
    reached = set()
    for _ in CONTROLS:
        reached.add(debrief.control)
        tap(shown, pygame.K_TAB)
    assert reached == set(CONTROLS)
    while debrief.control != "speed":
        tap(shown, pygame.K_TAB)
    tap(shown, *[pygame.K_RIGHT] * 9)
    assert debrief.back.speed == 8.0
    tap(shown, *[pygame.K_LEFT] * 9)
    assert debrief.back.speed == 0.25


def test_a_replay_shows_the_stored_samples_and_goes_straight_between_them() -> None:
    recording, _ = driven()
    row = len(recording.time_s) // 2
    before, after = float(recording.time_s[row]), float(recording.time_s[row + 1])
    stored = recording.readings_of(recording.table[row])
    lift = Replayed(recording, before)
    assert lift.readings.nose == stored.nose and lift.readings.load == stored.load
    last = Replayed(recording, float(recording.time_s[-1]))
    assert last.readings.load == recording.readings_of(recording.table[-1]).load
    lift.go_to((before + after) / 2.0)
    rope = recording.column("nose.rope_out_m")
    assert lift.readings.nose.rope_out_m == pytest.approx((rope[row] + rope[row + 1]) / 2.0)


@pytest.mark.parametrize("speed", [0.5, 2.0])
def test_a_replay_runs_at_its_speed_and_halts_at_the_end(speed: float) -> None:
    shown, debrief = looked_back()
    debrief.back.speed = speed
    tap(shown, pygame.K_HOME, pygame.K_SPACE)
    replay = shown.screen
    assert isinstance(replay, ReplayScreen) and replay.is_playing
    frames(shown, 30)
    assert replay.lift.time_s == pytest.approx(0.5 * speed, abs=0.05)
    replay.lift.go_to(LONG_S - 0.01)
    frames(shown, 4)
    assert not replay.is_playing and replay.lift.time_s == LONG_S


def test_a_replay_halts_jumps_and_goes_back_to_the_debrief_at_its_time() -> None:
    shown, debrief = looked_back()
    shown.show(replay_from(debrief.back, 0.0))
    replay = shown.screen
    assert isinstance(replay, ReplayScreen)
    tap(shown, pygame.K_SPACE)
    frames(shown, 5)
    assert replay.lift.time_s == 0.0
    tap(shown, pygame.K_RIGHT)
    assert replay.lift.time_s == replay.moments[0].time_s or replay.moments[0].time_s == 0.0
    mouse(shown, pygame.MOUSEBUTTONDOWN, 330.0 + 850.0 / 2.0, 1058.0)
    assert replay.lift.time_s == pytest.approx(LONG_S / 2.0, abs=0.02)
    tap(shown, pygame.K_ESCAPE)
    assert isinstance(shown.screen, DebriefScreen)
    assert shown.screen.at_s == pytest.approx(LONG_S / 2.0, abs=0.02)


def test_driving_on_starts_from_the_very_state_and_waits_for_the_people() -> None:
    recording, hashes = driven()
    shown, debrief = looked_back()
    debrief.at_s = 3.0
    while debrief.control != "drive_on":
        tap(shown, pygame.K_TAB)
    tap(shown, pygame.K_RETURN)
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    assert drive.lift.state_hash == hashes[3]
    frames(shown, 5)
    assert isinstance(drive.over, PauseCard) and drive.lift.state_hash == hashes[3]
    tap(shown, pygame.K_RETURN)
    frames(shown, 10)
    assert drive.lift.readings.time_s > 3.0
    assert kept_of(shown) is not None
    again = kept_of(shown).recording(shown.desk)
    assert again.head.parent is not None and again.head.parent.name == recording.name
    assert again.head.parent.step == 3 * recording.head.steps_per_s


def test_a_lift_that_is_recorded_is_looked_back_on_from_its_file(tmp_path: Path) -> None:
    shown = open_small(tell=two_findings, begin=begin_attempt)
    shown.desk.keeps_lifts = True
    shown.desk.settings = replace(shown.desk.settings, recordings=str(tmp_path))
    for is_gone in (False, True):
        show_lift(shown, Choice(yard(), "two"))
        frames(shown, 90)
        assert kept_of(shown) is not None and kept_of(shown).memory is None and shown.desk.recorder is not None
        if is_gone:
            shown.desk.recorder.path.unlink()
        assert isinstance(shown.screen, DriveScreen)
        leads = shown.screen.look_back().screen
        assert leads is not None
        shown.show(leads)
        if is_gone:
            assert isinstance(shown.screen, StartScreen) and isinstance(shown.screen.over, LinesScreen)
        else:
            assert isinstance(shown.screen, DebriefScreen)
            assert shown.screen.back.recording.length_s == pytest.approx(1.5, abs=0.1)


def test_escape_on_the_way_leaves_it() -> None:
    shown, debrief = looked_back()
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_ESCAPE, scancode=0, mod=0, unicode=""))
    shown.show(drive_on(debrief.back, 3.0))
    assert isinstance(shown.screen, DebriefScreen) and shown.screen.at_s == 3.0


def test_a_recording_without_a_scenario_is_shown_and_says_why_it_cannot_be_driven() -> None:
    shown = open_small()
    bare = replace(driven()[0], description=None)
    show_debrief(shown, LookBack(bare, None, two_findings, shown.desk))
    frames(shown, 1)
    tap(shown, pygame.K_SPACE)
    assert isinstance(shown.screen, DebriefScreen) and not shown.screen.can_replay
    assert isinstance(shown.screen, DebriefScreen)
    shown.show(drive_on(shown.screen.back, 1.0))
    assert isinstance(shown.screen, DebriefScreen) and "cannot be driven on" in shown.screen.fault
    frames(shown, 1)


def test_a_recording_without_samples_is_shown() -> None:
    shown = open_small()
    empty = replace(driven()[0], seconds=(), notes=("no second of the lift was saved",))
    show_debrief(shown, LookBack(empty, None, two_findings, shown.desk))
    frames(shown, 1)
    tap(shown, pygame.K_SPACE, pygame.K_RIGHT)
    frames(shown, 1)
    assert isinstance(shown.screen, DebriefScreen)


def test_a_lift_that_is_ended_leads_over_its_summary_to_its_debrief_and_again() -> None:
    shown = open_small(tell=two_findings, begin=begin_attempt, desk=Desk())
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 8, 0.1)
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    time_s = drive.lift.readings.time_s
    tap(shown, pygame.K_ESCAPE, pygame.K_UP, pygame.K_UP, pygame.K_RETURN)
    assert isinstance(drive.over, SummaryCard)
    tap(shown, pygame.K_RETURN)
    debrief = shown.screen
    assert isinstance(debrief, DebriefScreen)
    assert time_s > 0.1 and debrief.back.recording.length_s == pytest.approx(time_s)
    while debrief.control != "again":
        tap(shown, pygame.K_TAB)
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, DriveScreen) and shown.screen.lift.readings.time_s == 0.0


def test_the_front_door_opens_on_a_recording() -> None:
    assert program.run_debrief(driven()[0], at_s=1.0, tell=two_findings, most_frames=2) == 0
    assert not pygame.display.get_init()


@pytest.mark.parametrize("size", [(1280, 720), (1920, 1080), (3840, 2160)])
@pytest.mark.parametrize("system", ["metric", "us"])
def test_no_worst_value_is_cut(monkeypatch: pytest.MonkeyPatch, system: Any, size: tuple[int, int]) -> None:
    """Neither a label nor a value of a heavy lift, at any size."""
    heavy = {"line_load_N": 225e3, "mean_off_plumb_rad": 0.21, "capacity_used": 1.23, "least_float_share": 0.0,
             "head_room_m": -10.52, "sway_m": 10.55}  # fmt: skip
    monkeypatch.setattr(worst_rows_room, "worst", lambda _, key: Worst(heavy[key.rpartition(".")[2]]))
    desk = Desk()
    desk.change(units=system)
    screen = DebriefScreen(LookBack(driven()[0], None, two_findings, desk))
    assert {label.label for label in screen.worst} >= {f"Line tension, {'lb' if system == 'us' else 't'}"}
    assert screen.worst[1].cells[0][0] == ("50,600" if system == "us" else "22.9")
    cut: list[str] = []
    fitted = Canvas.fitted

    def watched(self: Canvas, text: str, *rest: Any, **more: Any) -> tuple[str, float]:
        found = fitted(self, text, *rest, **more)
        cut.extend([text] if found[0] != text else [])
        return found

    monkeypatch.setattr(Canvas, "fitted", watched)
    screen.frame(Canvas(pygame.Surface(size)), 0.0)
    assert not cut


def test_the_tension_axis_is_in_pounds_with_thousands_apart() -> None:
    us = charts(driven()[0], Limits(), "us")[0]
    assert us.unit == "lb" and us.ticks[1] >= 500.0
    metric = charts(driven()[0], Limits(), "metric")[0]
    most_lb, most_t = (max(float(np.nanmax(row.values)) for row in one.series) for one in (us, metric))
    assert most_lb == pytest.approx(most_t * 2204.62, rel=1e-4)
    assert ticks(61000.0) == (0.0, 20000.0, 40000.0, 60000.0)
    assert ticks(1.0e6)[-1] <= 1.0e6 and len(ticks(1.0e6)) >= 2

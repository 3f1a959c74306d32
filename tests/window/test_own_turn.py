"""The turn of a lift of two people's own, the keys of an order in it, and what stands over its gauge in a replay."""

from __future__ import annotations

from math import radians

import pygame
import pytest

from simulator import words
from simulator.attempt import Attempt
from simulator.drill.prompts import Prompt
from simulator.drill.voice_signals import Signal
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.scenario.reader import load
from simulator.window.hands.bindings import Labels, find_binding, seat_of
from simulator.window.kit.canvas import Canvas
from simulator.window.readouts.fix_chips import advise
from simulator.window.readouts.turning_panels import GAUGE
from simulator.window.review.looking_back import LookBack
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.drive_words import situation_of, with_signal_keys
from simulator.window.screens.replay_screen import ReplayScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, begin_attempt
from simulator.window.shell.own_turn import OwnTurn
from tests.window.rigs import hanging
from tests.window.screens import driven, open_small, show_lift, two_findings, yard
from tests.window.test_drive import frames, open_program


def over_its_place(turned_deg: float, *, time_s: float = 0.0, **load_changes: float) -> Readings:
    """The tank of the flagship hanging still over its place on the road, turned over so far."""
    description = load(find_scenario("turn_over_tank"))
    now = hanging(description, height_m=1.4, y_m=description.landing.y_m)
    changes = {"turned_rad": radians(turned_deg), "sway_m": 0.05, "roll_rate_radps": 0.0, "ground_N": 0.0}
    return now._replace(time_s=time_s, load=now.load._replace(**(changes | load_changes)))  # type: ignore[arg-type]


def test_two_people_see_the_turn_without_a_step_that_tells_of_it() -> None:
    """In a lift of their own nobody says which step it is: where and how the load hangs does."""
    shown, drive = open_program("two", load(find_scenario("turn_over_tank")))
    keys = drive.readouts.seen.units
    lift = drive.lift

    def at(readings: Readings) -> str:
        lift.readings = readings._replace(time_s=lift.readings.time_s, step=lift.readings.step)  # type: ignore[misc]
        frames(shown, 30)
        return situation_of(drive).prompt

    assert at(over_its_place(0.0, y_m=-5.0)) == "" and not drive.readouts.is_across
    swaying = at(over_its_place(0.0, sway_m=0.4))
    assert drive.readouts.is_across and swaying == words.say("coach.stage_steady")
    turning = at(over_its_place(40.0))
    assert drive.readouts.is_across and turning.startswith(words.say("coach.turn_together"))
    labels = [Labels().of(find_binding("turn", 1).scancode(seat_of(unit))) for unit in keys]
    assert all(label in turning for label in labels), "with the key of each seat"
    assert at(over_its_place(86.0)).startswith(words.say("coach.turn_slowly"))
    over = at(over_its_place(89.5))
    frames(shown, 150)
    over = at(over_its_place(89.5))
    assert not drive.readouts.is_across and over == words.say("coach.stage_lower")
    assert at(over_its_place(60.0)) != over and drive.readouts.is_across, "it is turned back: it is to be turned again"


@pytest.mark.parametrize(
    ("signal", "keys"),
    [
        (Signal("both", "turn", 1, 0.0, "slow"), "5 and 6."),
        (Signal("tail", "turn", 1, 0.0, "very_slow"), "6."),
        (Signal("nose", "hoist", -1, 0.15, "very_slow"), "Z."),
        (Signal("tail", "hoist", 1, 0.15, "very_slow"), "The period key."),
        (Signal("nose", "slew", 1, 0.15, "very_slow"), ""),
        (None, ""),
    ],
)  # fmt: skip
def test_an_order_in_the_turn_has_the_keys_of_what_it_asks_for(
    monkeypatch: pytest.MonkeyPatch, signal: Signal | None, keys: str
) -> None:
    """Not those that turn the load where a height is to be kept, nor another seat's."""
    shown = open_small(begin=begin_attempt)  # type: ignore[arg-type]
    show_lift(shown, Choice(load(find_scenario("turn_and_land")), "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt) and drive.lift.session is not None
    monkeypatch.setattr(DriveScreen, "turns", True)
    monkeypatch.setattr(type(drive.lift.session), "prompt", Prompt("move", "both", "An order.", "", signal))
    assert with_signal_keys(drive, "An order.") == f"An order. {keys}".strip()


def test_a_load_that_is_set_down_is_slacked_off_and_no_tip_is_moved() -> None:
    """While lines still pay out it has not landed: nobody is told to bring tips over picks, as before the lift."""
    description = load(find_scenario("turn_over_tank"))
    shown, drive = open_program("two", description)
    now = over_its_place(90.0, ground_N=2e5, road_N=2e5)
    units = tuple(
        unit._replace(slack=True, off_plumb_rad=0.03, off_plumb_across_rad=0.03, mean_off_plumb_rad=0.03)
        for unit in now.units
    )
    lines = tuple(line._replace(slack=True, hook_load_N=0.0, line_load_N=3e3) for line in now.lines)
    down = now._replace(units=units, lines=lines)
    assert {row.kind for row in advise(description, down, lambda *_: True)} == {"slack"}
    began = down._replace(load=down.load._replace(y_m=description.trailer.start.y_m, road_N=0.0))
    assert "control" in {row.kind for row in advise(description, began, lambda *_: True)}
    drive.lift.readings = down  # type: ignore[misc]
    frames(shown, 3)
    assert situation_of(drive).prompt == words.say("coach.stage_slack_off")


def test_a_load_that_is_not_turned_over_never_swaps_the_views() -> None:
    description = load(find_scenario("tank_on_side"))
    now = hanging(description, height_m=1.4, y_m=description.landing.y_m)
    turn = OwnTurn(description)
    turn.see(now._replace(load=now.load._replace(ground_N=0.0)))
    assert not (turn.is_on or turn.is_done or turn.waits)


def test_the_event_just_passed_leaves_a_replays_gauge_free(monkeypatch: pytest.MonkeyPatch) -> None:
    recording, _ = driven()
    desk = Desk()
    back = LookBack(recording, Choice(yard(), "two"), two_findings, desk)
    screen = ReplayScreen(back, desk, at_s=1.0)
    canvas = Canvas(pygame.Surface((1280, 720)))
    screen.renew(canvas)
    flags: list[float] = []
    monkeypatch.setattr("simulator.window.screens.replay_screen.draw_flag", lambda _, __, x, y, size: flags.append(y))
    for is_across in (False, True):
        screen.drive.readouts.is_across = is_across
        screen.frame(canvas, 0.0)
    assert flags[0] > GAUGE.y and flags[-1] + 24.0 < GAUGE.y

"""The seat check: what arrives lights up, what is missing is named, and nobody has to stay."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pygame
import pytest

from simulator.scenario.description import Description
from simulator.window.hands.bindings import bindings_of, find_binding, seat_of, seats_of
from simulator.window.hands.gamepads import Gamepad
from simulator.window.hands.key_check import MISSING_S, TOGETHER_S, KeyCheck, held_together, rounds_of
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.seen import SEEN_BY_TWO, seen_of
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.lift import Choice, Who
from simulator.words import say
from tests.window.inside import show
from tests.window.rigs import four_lines, lone_unit
from tests.window.screens import open_small, post, sit_down, tap, yard


def hold_all(keys: KeyCheck) -> None:
    """Everything that is asked for goes down."""
    for row in keys.asked:
        keys.press(row.scancode)


def test_four_keys_down_together_end_a_round_and_all_rounds_end_the_check() -> None:
    keys = KeyCheck(rounds_of(SEEN_BY_TWO, ("left", "right")))
    for turn in range(2):
        assert (keys.turn, len(keys.asked), keys.done) == (turn, 4, False)
        hold_all(keys)
        assert not keys.pass_time(0.9 * TOGETHER_S)
        assert keys.pass_time(0.2 * TOGETHER_S)
        keys.let_go()
    assert keys.done and keys.asked == ()


@pytest.mark.parametrize("place", range(4))
def test_the_one_key_that_does_not_arrive_is_named(place: int) -> None:
    keys = KeyCheck(rounds_of(SEEN_BY_TWO, ("left", "right")))
    asked = keys.asked
    for row in (*asked[:place], *asked[place + 1 :]):
        keys.press(row.scancode)
    assert not keys.pass_time(0.9 * MISSING_S) and keys.missing is None
    assert keys.pass_time(0.2 * MISSING_S)
    assert keys.missing == asked[place]
    keys.press(asked[place].scancode)
    assert keys.missing is None


def test_keys_let_go_are_not_together() -> None:
    keys = KeyCheck(rounds_of(SEEN_BY_TWO, ("left",)))
    first, second = keys.asked
    keys.press(first.scancode)
    keys.release(first.scancode)
    keys.press(second.scancode)
    keys.pass_time(10.0 * TOGETHER_S)
    assert keys.turn == 0 and keys.seen == {first.scancode, second.scancode}


@pytest.mark.parametrize(("who", "seats"), [("two", {"left", "right"}), ("left", {"left"}), ("right", {"right"})])
def test_only_seats_with_people_are_asked(screen: pygame.Surface, who: Who, seats: set[str]) -> None:
    assert {row.seat for row in SeatCheck(Choice(yard(), who)).keys.asked} == seats


def test_keys_light_up_on_the_screen_and_go_out() -> None:
    shown = open_small()
    show(shown, SeatCheck(Choice(yard(), "two")))
    check = shown.screen
    assert isinstance(check, SeatCheck)
    shown.frame(0.02)
    x, y = (round(v) for v in shown.canvas.to_px(520.0, 225.0))
    pale = shown.surface.get_at((x, y))
    post(pygame.KEYDOWN, pygame.K_q, pygame.KSCAN_Q)
    shown.take_events()
    shown.frame(0.02)
    lit = shown.surface.get_at((x, y))
    post(pygame.KEYUP, pygame.K_q, pygame.KSCAN_Q)
    shown.take_events()
    shown.frame(0.02)
    assert lit != pale and shown.surface.get_at((x, y)) == pale
    assert pygame.KSCAN_Q in check.keys.seen


def test_enter_goes_on_to_the_lift_and_escape_back_to_the_start() -> None:
    shown = open_small()
    sit_down(shown, Choice(yard(), "two"))
    tap(shown, pygame.K_ESCAPE)
    assert isinstance(shown.screen, StartScreen) and shown.screen.choice == Choice(yard(), "two")
    sit_down(shown, Choice(yard(), "left"))
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, DriveScreen) and shown.screen.choice.who == "left"


def test_a_demonstration_has_no_seat_to_check() -> None:
    shown = open_small()
    sit_down(shown, Choice(yard(), "demo"))
    assert isinstance(shown.screen, DriveScreen)


def test_a_seat_with_a_gamepad_is_not_asked_for_keys(screen: pygame.Surface, monkeypatch: pytest.MonkeyPatch) -> None:
    pad = Gamepad(None, "right")  # type: ignore[arg-type]
    monkeypatch.setattr("simulator.window.screens.seat_check.find_gamepads", lambda seats: {"right": pad})
    check = SeatCheck(Choice(yard(), "two"))
    assert {row.scancode for row in check.keys.asked} == {
        find_binding(lever, sign).left for lever, sign in held_together(SEEN_BY_TWO.units[0].unit)[0]
    }


def words_of(lift: Description) -> list[set[str]]:
    """What the seats are asked to hold, round by round."""
    seen = seen_of(lift)
    return [{row.word for row in row_of_keys} for row_of_keys in rounds_of(seen, seats_of(seen))]


def test_the_check_asks_for_what_is_held_together_in_earnest() -> None:
    """With two lines, both up at once; where a load is turned, one key and the slow key, each seat its own."""
    assert words_of(yard()) == [{"hoist_up", "slew_down"}, {"elevation_up", "telescope_up"}]
    assert words_of(four_lines()) == [
        {"both_up", "slew_down"}, {"elevation_up", "telescope_up"}, {"turn_up", "slow"},
    ]  # fmt: skip
    lone = lone_unit()
    bare = replace(lone, units=(replace(lone.units[0], levers=()),))
    assert words_of(bare) == [
        {"hoist_1_up", "slew_down"}, {"elevation_up", "telescope_up"}, {"hoist_1_up", "hoist_2_up"},
        {"hoist_1_down", "hoist_2_up", "slow"},
    ]  # fmt: skip


@pytest.mark.parametrize("lift", [yard, four_lines, lone_unit])
def test_every_lever_has_its_row_with_both_keys(lift: Callable[[], Description], said: list[str]) -> None:
    pygame.font.init()
    check = SeatCheck(Choice(lift(), "two"))
    check.frame(Canvas(pygame.Surface((1280, 720))), 0.0)
    for unit in check.seen.units:
        for row in bindings_of(unit.unit):
            # On the keyboard it may stand on two lines; in the row it is whole.
            assert say(f"keycap.{row.word}") in said
            assert said.count(check.labels.of(row.scancode(seat_of(unit)))) >= 2

"""Stop orders, the coach's units, a clumsy partner: keys are pressed in the window, the lift's state is read."""

from __future__ import annotations

from dataclasses import replace

import pygame
import pytest

from simulator.drill.clumsy import Clumsy
from simulator.drill.partner import Partner
from simulator.drill.ways import WAYS
from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.window.hands.gamepads import Gamepad
from simulator.window.readouts.alert_words import as_seen
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.drive_keys import stop_look
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.lift import Who, begin_attempt, partners
from simulator.words import say
from tests.window.screens import classroom, frames, key, open_small, post, show_start, tap

SPACE, LEFT, RIGHT = pygame.KSCAN_SPACE, pygame.KSCAN_LSHIFT, pygame.KSCAN_RSHIFT


# The stop order --------------------------------------------------------------------------------------------------


def test_the_stop_key_holds_both_until_each_seat_has_pressed_its_own_slow_key() -> None:
    shown, drive, lift = classroom()
    post(pygame.KEYDOWN, pygame.K_a, pygame.KSCAN_A)
    frames(shown, 30)
    assert lift.readings.nose.slew_speed_radps != 0.0
    key(shown, SPACE)
    frames(shown, 60)
    assert lift.stopped and lift.readings.nose.slew_speed_radps == 0.0
    key(shown, LEFT)
    assert lift.stopped and lift.acknowledged == {0}
    heard = [seat.has_heard for seat in stop_look(drive).seats]
    assert heard == [True, False]
    key(shown, LEFT)
    assert lift.stopped, "one seat cannot speak for the other"
    key(shown, RIGHT)
    assert not lift.stopped
    assert [event.what for event in lift.events if event.kind == "stop order"][-1] == "lifted"


def test_a_slow_key_held_from_before_is_no_answer_and_space_does_not_lift_the_stop() -> None:
    shown, _, lift = classroom()
    for scancode in (LEFT, RIGHT):
        post(pygame.KEYDOWN, pygame.K_x, scancode)
    frames(shown, 2)
    key(shown, SPACE)
    frames(shown, 5)
    assert lift.stopped and not lift.acknowledged
    key(shown, SPACE)
    assert lift.stopped


def test_a_lever_held_through_the_stop_moves_nothing_until_it_is_pressed_anew() -> None:
    shown, _, lift = classroom()
    key(shown, SPACE)
    post(pygame.KEYDOWN, pygame.K_r, pygame.KSCAN_R)
    frames(shown, 10)
    for scancode in (LEFT, RIGHT):
        key(shown, scancode)
    frames(shown, 30)
    assert not lift.stopped and lift.readings.nose.hoist_speed_mps == 0.0
    post(pygame.KEYUP, pygame.K_r, pygame.KSCAN_R)
    post(pygame.KEYDOWN, pygame.K_r, pygame.KSCAN_R)
    frames(shown, 30)
    assert lift.readings.nose.hoist_speed_mps > 0.0


@pytest.mark.parametrize(("who", "own", "other"), [("left", LEFT, RIGHT), ("right", RIGHT, LEFT)])
def test_one_person_says_it_once_and_the_automatic_operator_by_itself(who: Who, own: int, other: int) -> None:
    shown, drive, lift = classroom(who)
    key(shown, SPACE)
    seats = stop_look(drive).seats
    assert [bool(seat.key) for seat in seats] == [who == "left", who == "right"]
    assert as_seen(lift.called_by, drive.readouts.seen) == say("stop.by_operator", unit=f"{who} unit")
    key(shown, other)
    assert lift.stopped
    key(shown, own)
    assert not lift.stopped


def test_in_a_demonstration_either_slow_key_lets_both_go_on_and_takes_no_unit_over() -> None:
    shown, _, lift = classroom("demo")
    key(shown, SPACE)
    assert lift.stopped
    key(shown, RIGHT)
    assert not lift.stopped and all(operator is not None for operator in lift.operators)


def test_a_gamepads_buttons_call_and_answer_for_their_own_seat(monkeypatch: pytest.MonkeyPatch) -> None:
    class Stick:
        """At rest."""

        def __init__(self, number: int) -> None:
            self.number = number

        def get_instance_id(self) -> int:
            return self.number

        def get_numaxes(self) -> int:
            return 0

        def get_numbuttons(self) -> int:
            return 0

    shown, drive, lift = classroom()
    drive.seats.pads = {"left": Gamepad(Stick(3), "left"), "right": Gamepad(Stick(4), "right")}  # type: ignore[arg-type]

    def button(number: int, pad: int) -> None:
        pygame.event.post(pygame.event.Event(pygame.JOYBUTTONDOWN, instance_id=pad, button=number))
        frames(shown, 2)

    button(0, 4)
    assert lift.stopped and lift.called_by == say("stop.by_operator", unit="tail unit")
    button(5, 3)
    assert lift.stopped and lift.acknowledged == {0}
    button(4, 3)
    assert lift.stopped
    button(4, 4)
    assert not lift.stopped


# The coach's units -----------------------------------------------------------------------------------------------


def test_the_coach_speaks_feet_as_soon_as_feet_are_chosen_and_meters_again() -> None:
    shown, _, lift = classroom()
    frames(shown, 70)
    session = lift.session
    assert session is not None and session.prompt is not None
    assert " m, " in session.prompt.sentence and " m " in session.prompt.reason
    tap(shown, pygame.K_F2)
    assert " ft, " in session.prompt.sentence and " ft " in session.prompt.reason
    assert " m, " not in session.prompt.sentence
    tap(shown, pygame.K_F2)
    assert " m, " in session.prompt.sentence


# A clumsy partner ------------------------------------------------------------------------------------------------


def test_a_clumsy_partner_is_chosen_on_the_start_screen_and_drives() -> None:
    shown = open_small(begin=begin_attempt)
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen)
    tap(shown, pygame.K_TAB, pygame.K_RIGHT)
    assert start.choice is not None and start.choice.partner == "able", "two people have no partner"
    tap(shown, pygame.K_DOWN, pygame.K_RIGHT, pygame.K_RIGHT)
    frames(shown, 1)
    assert start.choice is not None and (start.choice.who, start.choice.partner) == ("left", "clumsy")
    tap(shown, pygame.K_RETURN, pygame.K_RETURN)
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    kinds = {type(operator) for operator in drive.lift.operators}
    assert kinds == {Clumsy, type(None)}


@pytest.mark.parametrize("partner", WAYS)
def test_every_way_to_drive_has_words_and_an_operator(partner: str) -> None:
    description = load(find_scenario("plumb_tips"))
    assert say(f"start.partner_{partner.replace(' ', '_')}")
    nose, tail = partners(description, "demo", partner)
    assert isinstance(nose, Partner) and isinstance(tail, Partner if partner == "able" else Clumsy)


def chips(drive: DriveScreen) -> set[str]:
    """What the two chips say, as kinds of advice."""
    return {row.kind for row in drive.readouts.advice}


def test_chips_order_nothing_under_a_stop_order_and_in_a_step_that_somebody_else_moves_in() -> None:
    shown, drive, lift = classroom()
    frames(shown, 12)
    assert chips(drive) == {"control"}, "both tips are to be brought over their picks"
    key(shown, SPACE)
    frames(shown, 12)
    assert lift.stopped and chips(drive) == {"hold"}
    for scancode in (LEFT, RIGHT):
        key(shown, scancode)
    frames(shown, 12)
    assert chips(drive) == {"control"}
    session = lift.session
    assert session is not None
    for moves, kinds in (("none", ["hold", "hold"]), ("nose", ["control", "hold"]), ("tail", ["hold", "control"])):
        steps = (replace(session.step, moves=moves), *session.drill.steps[1:])
        session.progress.drill = replace(session.drill, steps=steps)
        frames(shown, 12)
        assert [row.kind for row in drive.readouts.advice] == kinds

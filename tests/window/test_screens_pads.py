"""Gamepads in menus, unplugging, focus, tap to hold; a recording that stops; sounds; broken files to choose from."""

from __future__ import annotations

from pathlib import Path

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import FUNCTIONS, STILL
from simulator.recording.lift_file import read
from simulator.recording.settings import Settings
from simulator.window.hands.bindings import STOP_KEY, Seat
from simulator.window.hands.gamepads import Gamepad, PadKeys, layout_of, seat_of_each
from simulator.window.hands.seats import Seats
from simulator.window.screens.cards import PauseCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, begin_attempt
from tests.window.inside import leave_lift
from tests.window.sample import sample_description
from tests.window.screens import CountingLift, frames, mouse, open_small, show_lift, show_start, tap, yard

HOIST = FUNCTIONS.index("hoist")


def event(kind: int, **values: object) -> pygame.event.Event:
    """A gamepad's event."""
    return pygame.event.Event(kind, {"instance_id": 0, **values})


class FakeJoystick:
    """Its right stick is pushed up: line up."""

    def get_numaxes(self) -> int:
        return 6

    def get_axis(self, number: int) -> float:
        return -1.0 if number == 4 else 0.0

    def get_numbuttons(self) -> int:
        return 0


def test_a_mapping_of_the_library_is_read_and_what_it_lacks_is_not_there() -> None:
    mapping = {"leftx": "a0", "lefty": "a1~", "righty": "a3", "righttrigger": "b9", "a": "b1", "start": "b7",
               "dpup": "h0.1", "platform": "Linux"}  # fmt: skip
    layout = layout_of(mapping)
    assert (layout.left_x, layout.left_y, layout.right_y, layout.stop, layout.menu) == (0, 1, 3, 1, 7)
    assert layout.right_trigger == layout.up == layout.view == -1


def test_buttons_are_keys_in_menus_and_stop_pause_help_while_driving() -> None:
    keys = PadKeys()

    def pressed(button: int, *, in_menu: bool) -> int | None:
        return keys.key_of(event(pygame.JOYBUTTONDOWN, button=button), in_menu=in_menu)

    assert [pressed(n, in_menu=True) for n in (0, 1, 6, 7)] == [
        pygame.K_RETURN, pygame.K_ESCAPE, pygame.K_F1, pygame.K_ESCAPE,
    ]  # fmt: skip
    assert [pressed(n, in_menu=False) for n in (0, 1, 6, 7)] == [pygame.K_SPACE, None, pygame.K_F1, pygame.K_ESCAPE]


def test_the_left_stick_and_the_cross_are_arrows_once_for_each_push() -> None:
    keys = PadKeys()
    pushes = [keys.key_of(event(pygame.JOYAXISMOTION, axis=1, value=v), in_menu=True)
              for v in (0.3, 0.7, 0.9, 0.5, 0.2, 0.8, -0.9)]  # fmt: skip
    assert pushes == [None, pygame.K_DOWN, None, None, None, pygame.K_DOWN, pygame.K_UP]
    assert keys.key_of(event(pygame.JOYHATMOTION, hat=0, value=(1, 0)), in_menu=True) == pygame.K_RIGHT
    assert keys.key_of(event(pygame.JOYHATMOTION, hat=0, value=(0, 1)), in_menu=True) == pygame.K_UP
    assert keys.key_of(event(pygame.JOYHATMOTION, hat=0, value=(0, 1)), in_menu=False) is None
    assert keys.key_of(event(pygame.JOYAXISMOTION, axis=3, value=1.0), in_menu=True) is None


def test_a_lift_is_begun_paused_and_stopped_by_gamepad_alone() -> None:
    shown = open_small()
    show_start(shown, None)
    for button in (0, 0):
        pygame.event.post(event(pygame.JOYBUTTONDOWN, button=button))
        shown.take_events()
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    pygame.event.post(event(pygame.JOYBUTTONDOWN, button=0))
    shown.take_events()
    assert drive.lift.stopped
    pygame.event.post(event(pygame.JOYBUTTONDOWN, button=7))
    shown.take_events()
    assert isinstance(drive.over, PauseCard)
    pygame.event.post(event(pygame.JOYBUTTONDOWN, button=0))
    shown.take_events()
    assert drive.over is None and drive.lift.stopped


@pytest.mark.parametrize(("numbers", "before", "after"), [
    ([5], {}, {"right": 5}),
    ([5, 6], {}, {"left": 5, "right": 6}),
    ([5], {"left": 5, "right": 6}, {"left": 5}),
    ([6], {"left": 5, "right": 6}, {"right": 6}),
    ([6, 7], {"right": 6}, {"right": 6, "left": 7}),
    ([6, 7, 8], {"left": 8, "right": 6}, {"left": 8, "right": 6}),
    ([], {"left": 5}, {}),
])  # fmt: skip
def test_nobodys_gamepad_changes_hands_when_another_comes_or_goes(
    numbers: list[int], before: dict[Seat, int], after: dict[Seat, int]
) -> None:
    assert seat_of_each(numbers, ("left", "right"), before) == after


def test_one_person_has_the_gamepad_whichever_the_seat() -> None:
    assert seat_of_each([5], ("left",), {}) == {"left": 5}
    assert seat_of_each([5], ("right",), {}) == {"right": 5}


def test_an_unplugged_gamepad_stops_its_unit_and_pauses(monkeypatch: pytest.MonkeyPatch) -> None:
    found = {"right": Gamepad(FakeJoystick(), "right")}  # type: ignore[arg-type]
    monkeypatch.setattr("simulator.window.screens.drive.find_gamepads", lambda seats, before=None: dict(found))
    shown = open_small()
    show_lift(shown, Choice(sample_description(), "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, CountingLift)
    frames(shown, 40)
    assert drive.lift.given[-1][1][HOIST] == 1.0
    found.clear()
    pygame.event.post(pygame.event.Event(pygame.JOYDEVICEREMOVED, instance_id=0))
    frames(shown, 2)
    assert isinstance(drive.over, PauseCard) and drive.pace.paused
    assert drive.seats.commands(0.0) == STILL
    tap(shown, pygame.K_ESCAPE)
    frames(shown, 2)
    assert drive.lift.given[-1] == STILL


def test_a_stick_does_nothing_while_the_window_has_no_focus(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.pads["right"] = Gamepad(FakeJoystick(), "right")  # type: ignore[arg-type]
    assert seats.commands(1.0)[1][HOIST] == 1.0
    seats.take_event(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    assert seats.commands(1.0) == STILL
    seats.take_event(pygame.event.Event(pygame.WINDOWFOCUSGAINED))
    assert seats.commands(1.0)[1][HOIST] == 1.0


def tapped(seats: Seats, *scancodes: int) -> None:
    """Keys pressed and released one after the other."""
    for scancode in scancodes:
        for kind in (pygame.KEYDOWN, pygame.KEYUP):
            seats.take_event(pygame.event.Event(kind, scancode=scancode, key=pygame.K_x, mod=0, unicode=""))


def test_tap_to_hold_starts_stops_and_turns_round(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.tap_to_hold = True
    tapped(seats, pygame.KSCAN_R)
    assert seats.commands(1.0)[0][HOIST] == 1.0
    tapped(seats, pygame.KSCAN_R)
    assert seats.commands(1.0) == STILL
    tapped(seats, pygame.KSCAN_R, pygame.KSCAN_F)
    assert seats.commands(1.0)[0][HOIST] == -1.0
    tapped(seats, pygame.KSCAN_U)
    assert seats.commands(1.0)[1][HOIST] == 1.0
    tapped(seats, STOP_KEY)
    assert seats.commands(1.0) == STILL
    tapped(seats, pygame.KSCAN_R)
    seats.take_event(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    assert seats.commands(1.0) == STILL


def test_a_recording_that_stops_is_said_and_the_lift_goes_on(tmp_path: Path) -> None:
    """The folder of recordings is a file: nothing can be written from the beginning."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    desk = Desk(Settings(recordings=str(tmp_path / "file")), keeps_lifts=True)
    shown = open_small(desk=desk, begin=begin_attempt)
    show_lift(shown, Choice(yard(), "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    frames(shown, 6)
    assert drive.lift.readings.time_s > 0.0
    assert desk.recording_fault().startswith("Not recorded since 00:00: ")
    x, y = (round(v) for v in shown.canvas.to_px(960.0, 824.0))
    assert shown.surface.get_at((x, y))[:3] == (0xFF, 0xED, 0xB8)


def test_a_lift_is_recorded_with_the_pairs_names_as_they_sit(tmp_path: Path) -> None:
    settings = Settings(recordings=str(tmp_path), left_name="Ash", right_name="Robin")
    shown = open_small(desk=Desk(settings, keeps_lifts=True), begin=begin_attempt)
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 4, 0.1)
    leave_lift(shown)
    (path,) = tmp_path.glob("*.lift")
    recording = read(path)
    left_is_nose = yard().site.nose_seen_from_ravine == "left"
    assert recording.head.pair == (("Ash", "Robin") if left_is_nose else ("Robin", "Ash"))
    assert recording.length_s > 0.0 and recording.notes == ()


def test_the_mouse_alone_goes_in_and_out_of_every_screen() -> None:
    shown = open_small()
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen)
    for key in (pygame.K_F1, pygame.K_F2, pygame.K_r):
        tap(shown, key)
        frames(shown, 1)
        assert start.over is not None
        mouse(shown, pygame.MOUSEBUTTONDOWN, 1800.0, 45.0)
        assert start.over is None
    frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 1500.0, 950.0)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 1800.0, 60.0)
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 1700.0, 1058.0)
    assert isinstance(drive.over, PauseCard)
    frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 960.0, 350.0)
    assert drive.over is None

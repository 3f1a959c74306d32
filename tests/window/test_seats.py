"""Keys and gamepads to commands: places on the keyboard, ramp, creep, focus, and which seat drives which unit."""

from __future__ import annotations

import pygame
import pytest

from simulator.engine.commands import FUNCTIONS, STILL, UnitCommands
from simulator.window.hands.bindings import BINDINGS, SEATS, STOP_KEY, end_of_seat, find_binding
from simulator.window.hands.gamepads import DEAD_ZONE, Gamepad, PadState, respond
from simulator.window.hands.seats import Seats
from tests.demo import with_unit
from tests.window.sample import sample_description

HOIST, TELESCOPE = FUNCTIONS.index("hoist"), FUNCTIONS.index("telescope")

PLACES = {
    # As printed on the help screen: hoist up, down, telescope out, in, elevation up, down, slew road, ravine.
    "left": (pygame.KSCAN_R, pygame.KSCAN_F, pygame.KSCAN_E, pygame.KSCAN_Q, pygame.KSCAN_W, pygame.KSCAN_S,
             pygame.KSCAN_D, pygame.KSCAN_A),
    "right": (pygame.KSCAN_U, pygame.KSCAN_J, pygame.KSCAN_I, pygame.KSCAN_P, pygame.KSCAN_O, pygame.KSCAN_L,
              pygame.KSCAN_K, pygame.KSCAN_SEMICOLON),
}  # fmt: skip


def press(scancode: int, key: int = pygame.K_x) -> pygame.event.Event:
    """A key goes down."""
    return pygame.event.Event(pygame.KEYDOWN, scancode=scancode, key=key, mod=0, unicode="")


def release(scancode: int) -> pygame.event.Event:
    """A key comes up."""
    return pygame.event.Event(pygame.KEYUP, scancode=scancode, key=pygame.K_x, mod=0)


def full(seats: Seats, seconds: float = 1.0) -> tuple[UnitCommands, UnitCommands]:
    """Both units' commands after holding for longer than any ramp."""
    return seats.commands(seconds)


@pytest.mark.parametrize("seat", SEATS)
@pytest.mark.parametrize("place", range(8))
def test_each_key_drives_its_function_of_its_own_unit_only(screen: pygame.Surface, seat: str, place: int) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(PLACES[seat][place]))
    nose, tail = full(seats)
    mine, other = (nose, tail) if seat == "left" else (tail, nose)
    expected = dict.fromkeys(FUNCTIONS, 0.0)
    expected[FUNCTIONS[place // 2]] = 1.0 if place % 2 == 0 else -1.0
    assert mine._asdict() == expected
    assert other == UnitCommands()


def test_keys_go_by_place_not_by_letter(screen: pygame.Surface) -> None:
    """On a French keyboard the key at A's place says Q; it still slews the left unit toward the ravine."""
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_A, key=pygame.K_q))
    assert full(seats)[0].slew == -1.0
    assert seats.labels.of(pygame.KSCAN_A) == "Q"


def test_no_key_is_bound_twice() -> None:
    places = [row.scancode(seat) for row in BINDINGS for seat in SEATS]
    assert len(set(places)) == len(places) == 16
    assert {(row.function, row.sign) for row in BINDINGS} == {(name, sign) for name in FUNCTIONS for sign in (1, -1)}
    assert find_binding("slew", -1).left == pygame.KSCAN_A


def test_mirrored_site_gives_the_left_seat_the_tail_unit(screen: pygame.Surface) -> None:
    mirrored = sample_description(nose_seen="right")
    assert (end_of_seat(mirrored, "left"), end_of_seat(mirrored, "right")) == ("tail", "nose")
    seats = Seats(mirrored)
    seats.take_event(press(pygame.KSCAN_R))
    nose, tail = full(seats)
    assert (nose.hoist, tail.hoist) == (0.0, 1.0)


def test_release_stops_and_opposite_keys_cancel(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_W))
    seats.take_event(press(pygame.KSCAN_S))
    assert full(seats)[0].elevation == 0.0
    seats.take_event(release(pygame.KSCAN_S))
    assert full(seats)[0].elevation == 1.0
    seats.take_event(release(pygame.KSCAN_W))
    assert full(seats) == STILL


def test_ramp_reaches_full_command_in_its_time_and_not_before(screen: pygame.Surface) -> None:
    """A straight line of slope 1 / command_ramp_s, by hand: a quarter of the time gives a quarter of the command."""
    description = sample_description()
    ramp_s = description.units[0].command_ramp_s
    seats = Seats(description)
    seats.take_event(press(pygame.KSCAN_R))
    values = [seats.commands(ramp_s / 4.0)[0][HOIST] for _ in range(5)]
    assert values == pytest.approx([0.25, 0.5, 0.75, 1.0, 1.0])
    seats.take_event(release(pygame.KSCAN_R))
    assert seats.commands(ramp_s / 2.0)[0][HOIST] == pytest.approx(0.5)


def test_ramp_of_zero_is_immediate(screen: pygame.Surface) -> None:
    seats = Seats(with_unit(sample_description(), 0, command_ramp_s=0.0))
    seats.take_event(press(pygame.KSCAN_F))
    assert seats.commands(0.001)[0][HOIST] == -1.0


@pytest.mark.parametrize(("shift", "place"), [(pygame.KSCAN_LSHIFT, 0), (pygame.KSCAN_RSHIFT, 1)])
def test_shift_of_a_seat_creeps_its_unit_by_the_units_share(screen: pygame.Surface, shift: int, place: int) -> None:
    description = sample_description()
    share = description.units[place].creep_share
    seats = Seats(description)
    for scancode in (shift, pygame.KSCAN_E, pygame.KSCAN_I):
        seats.take_event(press(scancode))
    commands = seats.commands(1.0)
    crept, other = commands[place], commands[1 - place]
    assert crept[TELESCOPE] == pytest.approx(share)
    assert other[TELESCOPE] == 1.0


def test_lost_focus_lets_everything_go_until_keys_are_pressed_anew(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_R))
    full(seats)
    seats.take_event(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    assert seats.commands(0.0) == STILL
    assert full(seats) == STILL
    seats.take_event(press(pygame.KSCAN_R))
    assert full(seats)[0].hoist == 1.0


def test_stop_key_drops_both_units_at_once_without_a_ramp(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    for scancode in (pygame.KSCAN_R, pygame.KSCAN_U):
        seats.take_event(press(scancode))
    full(seats)
    seats.take_event(press(STOP_KEY))
    assert seats.commands(0.0) == STILL


def test_stick_response_is_dead_then_squared() -> None:
    """By hand: nothing to 0.15; half way through what remains a quarter; the end of travel is full command."""
    assert respond(DEAD_ZONE) == respond(-0.1) == 0.0
    assert DEAD_ZONE == 0.15
    assert respond(0.15 + 0.85 / 2.0) == pytest.approx(0.25)
    assert (respond(1.0), respond(-1.0)) == (1.0, -1.0)


class FakeJoystick:
    """Answers like a pygame joystick."""

    def __init__(self, axes: dict[int, float], buttons: tuple[int, ...] = ()) -> None:
        self.axes, self.buttons = axes, buttons

    def get_numaxes(self) -> int:
        return 6

    def get_axis(self, number: int) -> float:
        return self.axes.get(number, 0.0)

    def get_numbuttons(self) -> int:
        return 10

    def get_button(self, number: int) -> bool:
        return number in self.buttons


def pad(seat: str, axes: dict[int, float], buttons: tuple[int, ...] = ()) -> PadState:
    """A gamepad's state in a seat."""
    return Gamepad(FakeJoystick(axes, buttons), seat).state()  # type: ignore[arg-type]


def test_stick_pushed_away_from_the_other_truck_slews_toward_the_ravine() -> None:
    assert pad("left", {0: -1.0}).wanted.slew == -1.0
    assert pad("right", {0: 1.0}).wanted.slew == -1.0
    assert pad("right", {0: -1.0}).wanted.slew == 1.0


def test_other_sticks_triggers_and_buttons() -> None:
    state = pad("left", {1: -1.0, 4: 1.0, 5: 1.0, 2: -1.0}, (0, 4))
    assert state.wanted == UnitCommands(hoist=-1.0, telescope=1.0, elevation=1.0, slew=0.0)
    assert state.creep and state.stop


def test_trigger_never_moved_is_not_pressed() -> None:
    """SDL reports 0 for a trigger until it first moves, though it rests at -1."""
    assert pad("left", {}).wanted == UnitCommands()


def test_gamepad_and_keys_of_a_seat_add_up_within_full_command(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.pads["left"] = Gamepad(FakeJoystick({4: -1.0}), "left")  # type: ignore[arg-type]
    assert seats.touched("left") and not seats.touched("right")
    seats.take_event(press(pygame.KSCAN_R))
    assert full(seats)[0].hoist == 1.0

"""Keys and gamepads to commands: places on the keyboard, ramp, creep, focus, and which seat drives which unit."""

from __future__ import annotations

from collections.abc import Callable

import pygame
import pytest

from simulator.engine.commands import FUNCTIONS, STILL, Commands, UnitCommands
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import (
    CREEP,
    KEY_SHARES,
    SEATS,
    STOP_KEY,
    WHY_KEY,
    Seat,
    bindings_of,
    find_binding,
    seat_of,
)
from simulator.window.hands.gamepads import DEAD_ZONE, NOT_TOUCHED, Gamepad, PadState, lever_moves, respond
from simulator.window.hands.seats import Seats
from simulator.window.kit.seen import seen_of
from simulator.window.screens.drive_keys import BY_PLACE
from tests.demo import with_unit
from tests.window.rigs import alone_with_one_line, four_lines, lone_unit
from tests.window.sample import sample_description

HOIST, TELESCOPE, ELEVATION, SLEW = (FUNCTIONS.index(name) for name in ("hoist", "telescope", "elevation", "slew"))

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


def full(seats: Seats, seconds: float = 1.0) -> Commands:
    """All units' commands after holding for longer than any ramp."""
    return seats.commands(seconds)


@pytest.mark.parametrize("seat", SEATS)
@pytest.mark.parametrize("place", range(8))
def test_each_key_drives_its_function_of_its_own_unit_only(screen: pygame.Surface, seat: str, place: int) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(PLACES[seat][place]))
    left, right = full(seats)
    mine, other = (left, right) if seat == "left" else (right, left)
    expected = dict.fromkeys(FUNCTIONS, 0.0)
    expected[FUNCTIONS[place // 2]] = 1.0 if place % 2 == 0 else -1.0
    assert UnitCommands(*mine)._asdict() == expected
    assert other == UnitCommands()


def test_keys_go_by_place_not_by_letter(screen: pygame.Surface) -> None:
    """On a French keyboard the key at A's place says Q; it still slews the left unit toward the ravine."""
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_A, key=pygame.K_q))
    assert full(seats)[0][SLEW] == -1.0
    assert seats.labels.of(pygame.KSCAN_A) == "Q"


@pytest.mark.parametrize("lift", [sample_description, four_lines, lone_unit, alone_with_one_line])
def test_no_key_is_bound_twice_and_every_lever_has_two(lift: Callable[[], Description]) -> None:
    """Neither by two levers, nor by a lever and what else a key does while a lift is driven."""
    units = seen_of(lift()).units
    keys = [row.scancode(seat_of(unit)) for unit in units for row in bindings_of(unit.unit)]
    assert len(set(keys)) == len(keys) == 2 * len(rig_of(lift()).levers)
    assert not set(keys) & {*CREEP.values(), STOP_KEY, WHY_KEY, *BY_PLACE}
    assert find_binding("slew", -1).left == pygame.KSCAN_A


LINE_KEYS = {
    ("left", "hoist_1"): (pygame.KSCAN_R, pygame.KSCAN_F), ("left", "hoist_2"): (pygame.KSCAN_T, pygame.KSCAN_G),
    ("right", "hoist_1"): (pygame.KSCAN_U, pygame.KSCAN_J), ("right", "hoist_2"): (pygame.KSCAN_Y, pygame.KSCAN_H),
    ("left", "both"): (pygame.KSCAN_X, pygame.KSCAN_Z), ("right", "both"): (pygame.KSCAN_PERIOD, pygame.KSCAN_SLASH),
    ("left", "turn"): (pygame.KSCAN_5, pygame.KSCAN_4), ("right", "turn"): (pygame.KSCAN_6, pygame.KSCAN_7),
}  # fmt: skip
"""Up and down of what a second line brings, as the help screen of such a lift shows them."""


@pytest.mark.parametrize(("seat", "lever"), LINE_KEYS)
@pytest.mark.parametrize("sign", [1, -1])
def test_lines_and_their_common_levers_have_their_keys(
    screen: pygame.Surface, seat: Seat, lever: str, sign: int
) -> None:
    seats, rig = Seats(four_lines()), rig_of(four_lines())
    seats.take_event(press(LINE_KEYS[seat, lever][0 if sign > 0 else 1]))
    place = SEATS.index(seat)
    expected = [unit.hands() for unit in rig.units]
    expected[place] = rig.units[place].hands(**{lever: sign * KEY_SHARES.get(lever, 1.0)})
    assert full(seats) == Commands(*expected)


def test_one_unit_alone_has_one_seat_and_its_keys_alone_do_something(screen: pygame.Surface) -> None:
    seats = Seats(lone_unit())
    seats.take_event(press(pygame.KSCAN_U))
    assert full(seats) == Commands(rig_of(lone_unit()).units[0].hands())
    assert not seats.touched("right")
    seats.take_event(press(pygame.KSCAN_T))
    assert full(seats) == Commands(rig_of(lone_unit()).units[0].hands(hoist_2=1.0))
    assert seats.touched("left")


def test_mirrored_site_gives_the_left_seat_the_second_unit(screen: pygame.Surface) -> None:
    mirrored = sample_description(nose_seen="right")
    assert [(seat_of(unit), unit.name) for unit in seen_of(mirrored).units] == [("left", "tail"), ("right", "nose")]
    seats = Seats(mirrored)
    seats.take_event(press(pygame.KSCAN_R))
    assert [hands[HOIST] for hands in full(seats)] == [0.0, 1.0]


def test_release_stops_and_opposite_keys_cancel(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_W))
    seats.take_event(press(pygame.KSCAN_S))
    assert full(seats)[0][ELEVATION] == 0.0
    seats.take_event(release(pygame.KSCAN_S))
    assert full(seats)[0][ELEVATION] == 1.0
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
    assert commands[place][TELESCOPE] == pytest.approx(share)
    assert [hands[TELESCOPE] for n, hands in enumerate(commands) if n != place] == [1.0]


def test_lost_focus_lets_everything_go_until_keys_are_pressed_anew(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.take_event(press(pygame.KSCAN_R))
    full(seats)
    seats.take_event(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    assert seats.commands(0.0) == STILL
    assert full(seats) == STILL
    seats.take_event(press(pygame.KSCAN_R))
    assert full(seats)[0][HOIST] == 1.0


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
    assert pad("left", {0: -1.0}).slew == -1.0
    assert pad("right", {0: 1.0}).slew == -1.0
    assert pad("right", {0: -1.0}).slew == 1.0


def test_other_sticks_triggers_and_buttons() -> None:
    state = pad("left", {1: -1.0, 4: 1.0, 5: 1.0, 2: -1.0}, (0, 4))
    assert state == PadState(hoist=-1.0, telescope=1.0, elevation=1.0, left_shoulder=True, stop=True)
    assert lever_moves(state, FUNCTIONS).creep


TWO = ("hoist_1", "hoist_2", *FUNCTIONS[1:])


@pytest.mark.parametrize(("state", "levers", "wanted"), [
    (PadState(hoist=0.5), TWO, {"hoist_1": 0.5, "hoist_2": 0.5}),
    (PadState(hoist=0.5), (*TWO, "both"), {"both": 0.5}),
    (PadState(hoist=-0.5, left_shoulder=True), (*TWO, "both"), {"hoist_1": -0.5}),
    (PadState(hoist=0.2, right_shoulder=True), TWO, {"hoist_2": 0.2}),
    (PadState(hoist=0.2, turn=0.6), (*TWO, "both", "turn"), {"turn": 0.6}),
    (PadState(hoist=0.6, turn=0.2), (*TWO, "both", "turn"), {"both": 0.6}),
    (PadState(hoist=0.1, turn=0.6), TWO, {"hoist_1": 0.1, "hoist_2": 0.1}),
    (PadState(turn=0.6, right_shoulder=True), (*TWO, "turn"), {"hoist_2": 0.0}),
])  # fmt: skip
def test_a_right_stick_moves_both_lines_or_the_one_whose_shoulder_is_held_as_far_as_it_goes(
    state: PadState, levers: tuple[str, ...], wanted: dict[str, float]
) -> None:
    moves = lever_moves(state, levers)
    booms = {name: moves.moved.pop(name) for name in FUNCTIONS[1:]}
    assert moves.moved == wanted and not any(booms.values()) and not moves.creep


def test_a_stick_pushed_toward_the_other_unit_takes_line_2_in() -> None:
    assert pad("left", {3: 1.0}).turn == pad("right", {3: -1.0}).turn == 1.0


def test_trigger_never_moved_is_not_pressed() -> None:
    """SDL reports 0 for a trigger until it first moves, though it rests at -1."""
    assert pad("left", {}) == NOT_TOUCHED


def test_gamepad_and_keys_of_a_seat_add_up_within_full_command(screen: pygame.Surface) -> None:
    seats = Seats(sample_description())
    seats.pads["left"] = Gamepad(FakeJoystick({4: -1.0}), "left")  # type: ignore[arg-type]
    assert seats.touched("left") and not seats.touched("right")
    seats.take_event(press(pygame.KSCAN_R))
    assert full(seats)[0][HOIST] == 1.0

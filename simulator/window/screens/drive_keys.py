"""What keys do on the drive screen, beside the seats' own; a gamepad's buttons come as keys that know their gamepad."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pygame

from simulator.attempt import Attempt
from simulator.window.hands.bindings import CREEP, SEATS, STOP_KEY, WHY_KEY, Seat, seat_of, unit_of
from simulator.window.hands.gamepads import Gamepad, Pad
from simulator.window.readouts.stop_band import SeatHears, StopLook
from simulator.window.screens.cards import PauseCard, instructor_of, keys_of
from simulator.window.screens.drive_protocol import Driven
from simulator.window.screens.weigh_cards import AnswerCard, RecheckCard
from simulator.words import say

HEARD_KEYS: dict[Seat, str] = {"left": "stop.left_slow", "right": "stop.right_slow"}
SLOW_KEYS = (pygame.K_LSHIFT, pygame.K_RSHIFT)


def weigh(drive: Driven) -> None:
    """Re-check the rest of the path with what the load told, and show why; in a drill that asks, name the load."""
    if drive.weighing.asks and isinstance(drive.lift, Attempt):
        drive.cover(AnswerCard(drive.choice.description, drive.system, drive.weighing.say_to(drive.lift)))
    elif told := drive.weighing.recheck(drive.desk.recheck, drive.system, drive.readouts.as_seen):
        drive.cover(RecheckCard(told))


def slacken(drive: Driven) -> None:
    """Give the word to let out the holding line, if there is one that holds."""
    if isinstance(drive.lift, Attempt):
        drive.lift.slacken()


BY_KEY: dict[int, Callable[[Driven], object]] = {
    pygame.K_ESCAPE: lambda drive: drive.cover(PauseCard(drive)),
    pygame.K_F1: lambda drive: drive.cover(keys_of(drive)),
    pygame.K_TAB: lambda drive: drive.cover(instructor_of(drive)),
    pygame.K_F2: lambda drive: drive.change_units(),
    pygame.K_F3: lambda drive: drive.swap_views(),
    pygame.K_F4: lambda drive: slacken(drive),
    **dict.fromkeys((pygame.K_RETURN, pygame.K_KP_ENTER), weigh),
    **dict.fromkeys((pygame.K_MINUS, pygame.K_KP_MINUS), lambda drive: drive.pace.faster(-1)),
    **dict.fromkeys((pygame.K_PLUS, pygame.K_EQUALS, pygame.K_KP_PLUS), lambda drive: drive.pace.faster(+1)),
}
BY_PLACE: dict[int, Callable[[Driven], object]] = {
    pygame.KSCAN_V: lambda drive: drive.camera.zoom(-1),
    pygame.KSCAN_N: lambda drive: drive.camera.zoom(+1),
    pygame.KSCAN_B: lambda drive: drive.camera.automatic(),
    WHY_KEY: lambda drive: drive.prompt_cards.ask(),
    pygame.KSCAN_M: lambda drive: drive.desk.change(mute=not drive.desk.settings.mute),
}


def press(drive: Driven, event: pygame.event.Event) -> None:
    """Do what a key that went down stands for, if it does for anything."""
    if event.scancode == STOP_KEY:
        call_stop(drive, event)
        return
    deed = BY_PLACE.get(event.scancode) or BY_KEY.get(event.key)
    if deed is not None:
        deed(drive)


# The stop order --------------------------------------------------------------------------------------------------


def call_stop(drive: Driven, event: pygame.event.Event) -> None:
    """A stop from anyone: every unit holds. Pressed again, it is a new stop, to be heard anew."""
    drive.seats.let_go()
    drive.lift.stop(by=_caller(drive, seat_of_pad(event, drive.seats.pads)))


def hear_stop(drive: Driven, event: pygame.event.Event) -> bool:
    """Under a stop order the slow key of a seat says that it has heard; answers whether this was one.

    The slow key moves nothing by itself, lies under each seat's own hand, and has a gamepad's button.
    """
    if not drive.lift.stopped or event.type != pygame.KEYDOWN:
        return False
    seat = seat_of_slow_key(event, drive.seats.pads)
    unit = unit_of(drive.readouts.seen, seat) if seat is not None else None
    if unit is None:
        return event.key in SLOW_KEYS
    drive.lift.acknowledge(unit.place)
    _let_go_if_lifted(drive)
    return True


def _let_go_if_lifted(drive: Driven) -> None:
    """Nobody starts with a lever that was held through the stop: it is pressed anew."""
    if not drive.lift.stopped:
        drive.seats.let_go()


def stop_look(drive: Driven) -> StopLook:
    """What the band says now."""
    lift, units = drive.lift, drive.readouts.seen.units
    automatic = {unit: lift.operators[unit.place] is not None for unit in units}
    seats = []
    for unit, is_automatic in automatic.items():
        needs_key, seat = not is_automatic or all(automatic.values()), seat_of(unit)
        words = "stop.pad_slow" if seat in drive.seats.pads else HEARD_KEYS[seat]
        has_heard = unit.place in lift.acknowledged
        seats.append(SeatHears(unit, has_heard, is_automatic, say(words) if needs_key else ""))
    return StopLook(tuple(seats))


def _caller(drive: Driven, seat: Seat | None) -> str:
    """Who pressed it, if that can be known: a gamepad's seat, or the only person there is."""
    seen = drive.readouts.seen
    people = [unit for unit in seen.units if drive.lift.operators[unit.place] is None]
    unit = unit_of(seen, seat) if seat is not None else None
    if unit is None and len(people) == 1:
        unit = people[0]
    return say("stop.by_key") if unit is None else say("stop.by_operator", unit=f"{unit.name} unit")


def seat_of_pad(event: pygame.event.Event, pads: Mapping[Seat, Pad]) -> Seat | None:
    """Whose gamepad an event comes from."""
    instance = getattr(event, "instance_id", None)
    for seat, pad in pads.items():
        if instance is not None and isinstance(pad, Gamepad) and pad.joystick.get_instance_id() == instance:
            return seat
    return None


def seat_of_slow_key(event: pygame.event.Event, pads: Mapping[Seat, Pad]) -> Seat | None:
    """Whose slow key went down, by its place on the keyboard or by its gamepad."""
    for seat in SEATS:
        if CREEP[seat] == event.scancode:
            return seat
    return seat_of_pad(event, pads) if event.key in SLOW_KEYS else None

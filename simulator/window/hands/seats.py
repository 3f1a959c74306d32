"""The two seats: key events and gamepads to commands for both units."""

from __future__ import annotations

from typing import NamedTuple

import pygame

from simulator.engine.commands import FUNCTIONS, Commands, UnitCommands
from simulator.scenario.description import Description
from simulator.scenario.unit import Unit
from simulator.window.hands.bindings import BINDINGS, CREEP, SEATS, STOP_KEY, Labels, Seat, end_of_seat, find_binding
from simulator.window.hands.gamepads import NOT_TOUCHED, Pad, PadState


class SeatInput(NamedTuple):
    """What one seat asks for now, before any ramp: each function in [-1, 1], creep applied."""

    wanted: UnitCommands
    touched: bool


class Seats:
    """Keeps the set of pressed keys, ramps the commands, and says which seat was touched."""

    def __init__(self, description: Description) -> None:
        self.labels = Labels()
        self.pads: dict[Seat, Pad] = {}
        self.tap_to_hold = False
        """One tap starts a function, the next stops it."""
        self._pressed: set[int] = set()
        self._has_focus = True
        self._description = description
        self._ramped: dict[Seat, dict[str, float]] = {seat: dict.fromkeys(FUNCTIONS, 0.0) for seat in SEATS}

    def take_event(self, event: pygame.event.Event) -> None:
        """Follow presses and releases; losing the focus or the STOP key lets everything go."""
        if event.type == pygame.KEYDOWN:
            self.labels.learn(event.scancode, event.key)
            if event.scancode == STOP_KEY:
                self.let_go()
            elif self.tap_to_hold:
                self._tap(event.scancode)
            else:
                self._pressed.add(event.scancode)
        elif event.type == pygame.KEYUP and not self.tap_to_hold:
            self._pressed.discard(event.scancode)
        elif event.type == pygame.WINDOWFOCUSLOST:
            self._has_focus = False
            self.let_go()
        elif event.type == pygame.WINDOWFOCUSGAINED:
            self._has_focus = True

    def _tap(self, scancode: int) -> None:
        """Start what a key does, or stop it; the other way of the same function ends."""
        if scancode in self._pressed:
            self._pressed.discard(scancode)
            return
        for row in BINDINGS:
            for seat in SEATS:
                if row.scancode(seat) == scancode:
                    self._pressed.discard(find_binding(row.function, -row.sign).scancode(seat))
        self._pressed.add(scancode)

    def is_held(self, scancode: int) -> bool:
        """True while a key counts as held."""
        return scancode in self._pressed

    def let_go(self) -> None:
        """Stop both at once: nothing is held any more, until a key is pressed anew."""
        self._pressed.clear()
        for ramped in self._ramped.values():
            ramped.update(dict.fromkeys(FUNCTIONS, 0.0))

    def touched(self, seat: Seat) -> bool:
        """True while `seat` holds a function's key or moves its gamepad."""
        return self._read(seat).touched

    def commands(self, elapsed_s: float) -> Commands:
        """The commands of both units after `elapsed_s` more simulated seconds of what is held."""
        by_end = {end_of_seat(self._description, seat): self._ramp(seat, elapsed_s) for seat in SEATS}
        return Commands(by_end["nose"], by_end["tail"])

    def _ramp(self, seat: Seat, elapsed_s: float) -> UnitCommands:
        ramp_s = self._unit(seat).command_ramp_s
        most = elapsed_s / ramp_s if ramp_s > 0.0 else 2.0
        wanted, now = self._read(seat).wanted, self._ramped[seat]
        for function in FUNCTIONS:
            now[function] = _toward(now[function], getattr(wanted, function), most)
        return UnitCommands(**now)

    def _read(self, seat: Seat) -> SeatInput:
        # A stick that is held when the focus goes is not let go of by the system.
        pad = self.pads[seat].state() if seat in self.pads and self._has_focus else NOT_TOUCHED
        creeping = CREEP[seat] in self._pressed or pad.creep
        share = self._unit(seat).creep_share if creeping else 1.0
        values = {function: share * self._value(seat, function, pad) for function in FUNCTIONS}
        held = any(row.scancode(seat) in self._pressed for row in BINDINGS)
        return SeatInput(UnitCommands(**values), held or any(values.values()))

    def _value(self, seat: Seat, function: str, pad: PadState) -> float:
        keys = sum(row.sign for row in BINDINGS if row.function == function and row.scancode(seat) in self._pressed)
        moved: float = getattr(pad.wanted, function)
        return max(-1.0, min(1.0, keys + moved))

    def _unit(self, seat: Seat) -> Unit:
        nose, tail = self._description.units
        return nose if end_of_seat(self._description, seat) == "nose" else tail


def _toward(now: float, wanted: float, most: float) -> float:
    return now + max(-most, min(most, wanted - now))

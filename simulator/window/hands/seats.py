"""The seats: key events and gamepads to commands, a seat for each unit."""

from __future__ import annotations

from typing import NamedTuple

import pygame

from simulator.engine.commands import Commands, Hands
from simulator.scenario.description import Description
from simulator.window.hands.bindings import (
    CREEP,
    KEY_SHARES,
    STOP_KEY,
    Binding,
    Labels,
    Seat,
    bindings_of,
    find_binding,
    seat_of,
)
from simulator.window.hands.gamepads import NOT_TOUCHED, Pad, lever_moves
from simulator.window.kit.seen import SeenUnit, seen_of


class SeatInput(NamedTuple):
    """What one seat asks for now, before any ramp."""

    wanted: dict[str, float]
    """Each lever by its key, in [-1, 1], creep applied."""
    touched: bool


class Seats:
    """Keeps the set of pressed keys, ramps the commands, and says which seat was touched."""

    def __init__(self, description: Description) -> None:
        self.labels = Labels()
        self.pads: dict[Seat, Pad] = {}
        self.tap_to_hold = False
        """One tap starts a lever, the next stops it."""
        self._pressed: set[int] = set()
        self._has_focus = True
        self._units = description.units
        self._by_seat: dict[Seat, SeenUnit] = {seat_of(unit): unit for unit in seen_of(description).units}
        self._keys: dict[Seat, tuple[Binding, ...]] = {
            seat: tuple(bindings_of(seen.unit)) for seat, seen in self._by_seat.items()
        }
        self._ramped: dict[Seat, dict[str, float]] = {
            seat: {lever.key: 0.0 for lever in seen.unit.levers} for seat, seen in self._by_seat.items()
        }

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
        """Start what a key does, or stop it; the other way of the same lever ends."""
        if scancode in self._pressed:
            self._pressed.discard(scancode)
            return
        for seat, rows in self._keys.items():
            for row in rows:
                if row.scancode(seat) == scancode:
                    self._pressed.discard(find_binding(row.lever, -row.sign).scancode(seat))
        self._pressed.add(scancode)

    def is_held(self, scancode: int) -> bool:
        """True while a key counts as held."""
        return scancode in self._pressed

    def let_go(self) -> None:
        """Stop every unit at once: nothing is held any more, until a key is pressed anew."""
        self._pressed.clear()
        for ramped in self._ramped.values():
            ramped.update(dict.fromkeys(ramped, 0.0))

    def touched(self, seat: Seat) -> bool:
        """True while `seat` holds a lever's key or moves its gamepad."""
        return seat in self._by_seat and self._read(seat).touched

    def commands(self, elapsed_s: float) -> Commands:
        """The commands of all units after `elapsed_s` more simulated seconds of what is held."""
        hands: dict[int, Hands] = {}
        for seat in self._by_seat:
            seen = self._by_seat[seat]
            hands[seen.place] = seen.unit.hands(**self._ramp(seat, elapsed_s))
        return Commands(*(hands[place] for place in sorted(hands)))

    def _ramp(self, seat: Seat, elapsed_s: float) -> dict[str, float]:
        ramp_s = self._units[self._by_seat[seat].place].command_ramp_s
        most = elapsed_s / ramp_s if ramp_s > 0.0 else 2.0
        wanted, now = self._read(seat).wanted, self._ramped[seat]
        for lever in now:
            now[lever] = _toward(now[lever], wanted[lever], most)
        return now

    def _read(self, seat: Seat) -> SeatInput:
        # A stick that is held when the focus goes is not let go of by the system.
        state = self.pads[seat].state() if seat in self.pads and self._has_focus else NOT_TOUCHED
        by_pad = lever_moves(state, tuple(self._ramped[seat]))
        creeping = CREEP[seat] in self._pressed or by_pad.creep
        share = self._units[self._by_seat[seat].place].creep_share if creeping else 1.0
        keys = [row for row in self._keys[seat] if row.scancode(seat) in self._pressed]
        values = {
            lever: share * _most(_of_keys(lever, keys) + by_pad.moved.get(lever, 0.0)) for lever in self._ramped[seat]
        }
        return SeatInput(values, bool(keys) or any(values.values()))


def _of_keys(lever: str, keys: list[Binding]) -> float:
    """What the keys that are held ask of a lever."""
    return KEY_SHARES.get(lever, 1.0) * sum(row.sign for row in keys if row.lever == lever)


def _most(asked: float) -> float:
    return max(-1.0, min(1.0, asked))


def _toward(now: float, wanted: float, most: float) -> float:
    return now + max(-most, min(most, wanted - now))

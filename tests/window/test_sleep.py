"""A computer put to sleep in the middle of a lift: the lift waits, and no key held before goes on moving anything."""

from __future__ import annotations

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import STILL
from simulator.window.hands.bindings import BINDINGS
from simulator.window.loop import LONGEST_FRAME_S
from simulator.window.screens.cards import PauseCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.shell import display
from simulator.window.shell.display import NO_FRAME_SO_LONG_S
from simulator.window.shell.lift import Choice, begin_attempt
from tests.window.screens import open_small, show_lift, tap, yard

EIGHT_HOURS_S = 8 * 3600.0


class Wall:
    """The clock on the wall: a frame takes 1/60 s, but the one after `sleeps_at` frames takes a night."""

    def __init__(self, sleeps_at: int, sleeps_s: float) -> None:
        self._frames, self._sleeps_at, self._sleeps_s = 0, sleeps_at, sleeps_s

    def __call__(self) -> float:
        self._frames += 1
        return self._frames / 60.0 + (self._sleeps_s if self._frames > self._sleeps_at else 0.0)


@pytest.mark.parametrize(
    ("sleeps_s", "waits"), [(0.0, False), (NO_FRAME_SO_LONG_S - 0.5, False), (EIGHT_HOURS_S, True)]
)
def test_a_night_in_the_middle_of_a_lift(monkeypatch: pytest.MonkeyPatch, sleeps_s: float, waits: bool) -> None:
    shown = open_small(begin=begin_attempt)
    show_lift(shown, Choice(yard(), "two"))
    monkeypatch.setattr(display, "time", Wall(20, sleeps_s))
    up = next(row for row in BINDINGS if row.lever == "hoist" and row.sign > 0).scancode("left")
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=0, scancode=up, mod=0, unicode=""))
    shown.run(most_frames=30)
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    assert isinstance(drive.over, PauseCard) is waits
    if not waits:
        return
    slept_at_s = drive.lift.readings.time_s
    assert slept_at_s < 30 * LONGEST_FRAME_S, "the night is not made up for"
    tap(shown, pygame.K_RETURN)
    assert drive.over is None
    shown.run(most_frames=3)
    assert drive.lift.changes[-1][1] == STILL, "the key was let go of during the night"

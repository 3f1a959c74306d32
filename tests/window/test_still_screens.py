"""A screen on which nothing moves is drawn once, and shown again only when something has changed."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

import pygame
import pytest

from simulator.window.loop import Program
from simulator.window.review.looking_back import LookBack
from simulator.window.screens.cards import SummaryCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.replay_screen import SETTLES_S, ReplayScreen
from simulator.window.shell import display
from simulator.window.shell.lift import Choice
from tests.window.inside import renew
from tests.window.screens import (
    FRAME_S,
    driven,
    frames,
    mouse,
    open_small,
    show_debrief,
    show_lift,
    show_start,
    sit_down,
    tap,
    two_findings,
    yard,
)


def lift(shown: Program) -> DriveScreen:
    """Two people in the practice yard."""
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 3)
    assert isinstance(shown.screen, DriveScreen)
    return shown.screen


def over_lift(*keys: int) -> Callable[[Program], None]:
    """What keys lay over it."""

    def show(shown: Program) -> None:
        lift(shown)
        tap(shown, *keys)

    return show


def start(*keys: int) -> Callable[[Program], None]:
    """The start screen, or what keys lay over it."""

    def show(shown: Program) -> None:
        show_start(shown, None)
        tap(shown, *keys)

    return show


def ended(shown: Program) -> None:
    """The card at a lift's end."""
    drive = lift(shown)
    tap(shown, pygame.K_ESCAPE, pygame.K_UP, pygame.K_UP, pygame.K_RETURN)
    assert isinstance(drive.over, SummaryCard)


def debrief(shown: Program) -> None:
    """Looking back."""
    show_debrief(shown, LookBack(driven()[0], Choice(yard(), "two"), two_findings, shown.desk))


SCREENS: dict[str, tuple[Callable[[Program], None], int]] = {
    "start": (start(), pygame.K_RIGHT),
    "settings": (start(pygame.K_F2), pygame.K_DOWN),
    "keys": (start(pygame.K_F1), pygame.K_ESCAPE),
    "recordings": (start(pygame.K_r), pygame.K_ESCAPE),
    "seat check": (lambda shown: sit_down(shown, Choice(yard(), "two")), pygame.K_ESCAPE),
    "pause": (over_lift(pygame.K_ESCAPE), pygame.K_DOWN),
    "instructor": (over_lift(pygame.K_TAB), pygame.K_DOWN),
    "keys over a lift": (over_lift(pygame.K_F1), pygame.K_ESCAPE),
    "settings over a lift": (over_lift(pygame.K_ESCAPE, pygame.K_DOWN, pygame.K_DOWN, pygame.K_RETURN), pygame.K_DOWN),
    "the end": (ended, pygame.K_ESCAPE),
    "debrief": (debrief, pygame.K_TAB),
}
"""How it comes about, and a key that changes what is seen."""


@pytest.mark.parametrize("name", SCREENS)
def test_a_still_screen_is_drawn_once_until_something_happens(name: str) -> None:
    shown = open_small()
    show, key = SCREENS[name]
    show(shown)
    assert [shown.frame(FRAME_S) for _ in range(4)] == [True, False, False, False]
    mouse(shown, pygame.MOUSEMOTION, 5.0, 5.0)
    assert not shown.frame(FRAME_S), "nothing lies under the mouse"
    before = pygame.image.tobytes(shown.surface, "RGB")
    tap(shown, key)
    assert shown.frame(FRAME_S)
    assert pygame.image.tobytes(shown.surface, "RGB") != before


@pytest.mark.parametrize("name", SCREENS)
def test_a_still_screen_is_drawn_again_on_a_new_canvas(name: str) -> None:
    """The window was resized: the same picture as before, not what lies under it."""
    shown = open_small()
    SCREENS[name][0](shown)
    shown.frame(FRAME_S)
    before = pygame.image.tobytes(shown.surface, "RGB")
    renew(shown)
    assert shown.frame(FRAME_S)
    assert pygame.image.tobytes(shown.surface, "RGB") == before


def test_a_lift_is_drawn_in_every_frame() -> None:
    shown = open_small()
    lift(shown)
    assert all(shown.frame(FRAME_S) for _ in range(4))


def halted(drawn: list[bool]) -> None:
    """First frames, then none."""
    assert drawn[0] and not drawn[-1]
    assert sum(drawn) == pytest.approx(SETTLES_S / FRAME_S, abs=2)


def test_a_halted_replay_comes_to_rest_and_goes_on() -> None:
    shown = open_small()
    debrief(shown)
    tap(shown, pygame.K_HOME, pygame.K_SPACE)
    replay = shown.screen
    assert isinstance(replay, ReplayScreen)
    assert all(shown.frame(FRAME_S) for _ in range(10))
    tap(shown, pygame.K_SPACE)
    assert not replay.is_playing
    seconds = round((SETTLES_S + 1.0) / FRAME_S)
    halted([shown.frame(FRAME_S) for _ in range(seconds)])
    at_s = replay.lift.time_s
    tap(shown, pygame.K_UP)
    assert replay.lift.time_s != at_s
    halted([shown.frame(FRAME_S) for _ in range(seconds)])
    renew(shown)
    assert shown.frame(FRAME_S)
    tap(shown, pygame.K_HOME, pygame.K_SPACE)
    assert all(shown.frame(FRAME_S) for _ in range(10))


def test_a_glance_over_a_halted_replay_is_not_left_standing() -> None:
    shown = open_small()
    debrief(shown)
    tap(shown, pygame.K_HOME, pygame.K_SPACE, pygame.K_SPACE)
    replay = shown.screen
    assert isinstance(replay, ReplayScreen) and not replay.is_playing
    replay.drive.prompt_cards.ask()
    drawn = [shown.frame(0.1) for _ in range(200)]
    assert not replay.drive.prompt_cards.is_shown and not drawn[-1]
    assert sum(drawn) * 0.1 > 12.0


class Shown:
    """Counts how often a picture was shown."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.times = 0
        monkeypatch.setattr(pygame.display, "flip", self._flip)

    def _flip(self) -> None:
        self.times += 1


def test_the_loop_shows_only_what_is_new_or_was_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(display, "AGAIN_S", inf)
    shown, counted = open_small(), Shown(monkeypatch)
    show_start(shown, None)
    shown.run(most_frames=5)
    assert counted.times == 1
    pygame.event.post(pygame.event.Event(pygame.WINDOWEXPOSED))
    shown.run(most_frames=5)
    assert counted.times == 2
    show_lift(shown, Choice(yard(), "two"))
    shown.run(most_frames=5)
    assert counted.times == 7


def test_what_stands_still_is_shown_now_and_then(monkeypatch: pytest.MonkeyPatch) -> None:
    counted, presenting = Shown(monkeypatch), display.Presenting()
    for _ in range(round(10.0 * display.AGAIN_S / FRAME_S) + 5):
        presenting.frame(FRAME_S, is_new=False)
    assert counted.times == pytest.approx(10, abs=1)

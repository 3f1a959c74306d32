"""A pair that presses keys and reads readings passes a drill through the program's own frames."""

from __future__ import annotations

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.scenario.description import Description
from simulator.window.hands.bindings import CREEP, bindings_of, seat_of
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.loop import Program
from simulator.window.screens.cards import SummaryCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.shell.lift import Choice, begin_attempt
from tests.drill.lessons import coarser, drill, session
from tests.window.screens import open_small, post, show_lift, tap
from tools.key_hands import PairAtKeys

FRAME_S = 0.1
TWICE = 2.0
PASSING, GOOD = 70.0, 85.0
OF_HANDS = {row.scancode(seat_of(unit)) for unit in SEEN_BY_TWO.units for row in bindings_of(unit.unit)} | set(
    CREEP.values()
)


def open_lift(description: Description) -> tuple[Program, DriveScreen, Attempt]:
    """The program on a lift for two people, at twice the speed."""
    shown = open_small(begin=begin_attempt)  # type: ignore[arg-type]
    show_lift(shown, Choice(description, "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    tap(shown, pygame.K_EQUALS)
    assert drive.pace.speed == TWICE
    return shown, drive, drive.lift


NAMED = {"Return": pygame.K_RETURN, "Down": pygame.K_DOWN, "Left": pygame.K_LEFT, "Right": pygame.K_RIGHT}


def tap_named(shown: Program, name: str) -> None:
    """A key by its name, with the letter it prints."""
    letter = {"period": "."}.get(name, name if len(name) == 1 else "")
    key = NAMED.get(name, ord(letter) if letter else 0)
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, scancode=0, key=key, mod=0, unicode=letter))
    shown.take_events()


def driven_by_keys(description: Description, *, longest_s: float) -> tuple[DriveScreen, Attempt, set[int]]:
    """Drive it to its end; keys go down and up, and nothing else is done. Answers the keys that were used too."""
    shown, drive, attempt = open_lift(description)
    pair = PairAtKeys(description, attempt.readings)
    attempt.observers.append(pair.see)
    down: frozenset[int] = frozenset()
    used: set[int] = set()
    while not attempt.ended and attempt.readings.time_s < longest_s:
        wanted = pair.keys()
        for kind, keys in ((pygame.KEYUP, down - wanted), (pygame.KEYDOWN, wanted - down)):
            for scancode in sorted(keys):
                post(kind, pygame.K_x, scancode)
        down, used = wanted, used | wanted
        for name in pair.says():
            tap_named(shown, name)
        shown.take_events()
        shown.frame(FRAME_S)
    shown.frame(FRAME_S)
    return drive, attempt, used


@pytest.mark.long
@pytest.mark.parametrize(("name", "longest_s"), [("centering", 200.0), ("whole_lift", 600.0)])
def test_a_pair_at_the_keys_passes_the_drill(name: str, longest_s: float) -> None:
    """At half the rate of steps; in a real window and in real time `tools/drive_by_keys.py` does the same."""
    drive, attempt, used = driven_by_keys(coarser(drill(name)), longest_s=longest_s)
    held = session(attempt)
    assert held.done and not attempt.incidents, held.account()
    assert held.passed and held.result()[0].together > GOOD > PASSING == held.drill.pass_points
    assert used <= OF_HANDS and len(used) > 10
    assert attempt.operators == [None, None]
    assert isinstance(drive.over, SummaryCard)

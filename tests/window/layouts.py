"""The layout screen in a program that nobody sees, and hands for it."""

from __future__ import annotations

from pathlib import Path

import pygame

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.scenario.asked_numbers import System
from simulator.scenario.reader import load
from simulator.window.layout.grips import Grip
from simulator.window.loop import Program
from simulator.window.screens.layout_screen import LayoutScreen, lay_out
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice
from tests.window.screens import frames, open_small

FULL = (1920, 1080)


def open_layout(
    name: str | None = "box_on_wheels",
    *,
    system: System = "us",
    folder: Path | None = None,
    size: tuple[int, int] = FULL,
) -> tuple[Program, LayoutScreen]:
    """The screen on a shipped lift, or a new one, its first question answered; with a folder it keeps drafts."""
    desk = Desk(path=None if folder is None else folder / "settings.toml")
    desk.change(units=system)
    desk.lay = Bench
    shown = open_small(desk=desk, size=size)
    choice = None if name is None else Choice(load(find_scenario(name)), "two")
    shown.show(lay_out(choice))
    screen = shown.screen
    assert isinstance(screen, LayoutScreen)
    return shown, screen


def begun(shown: Program, screen: LayoutScreen, key: int = pygame.K_RETURN, letter: str = "") -> LayoutScreen:
    """The first question answered, and the first verdict there."""
    press(shown, key, letter)
    frames(shown, 1)
    return screen


def press(shown: Program, key: int, letter: str = "", mod: int = 0) -> None:
    """A key of the keyboard."""
    for kind in (pygame.KEYDOWN, pygame.KEYUP):
        pygame.event.post(pygame.event.Event(kind, key=key, scancode=0, mod=mod, unicode=letter))
        shown.take_events()


def write(shown: Program, text: str) -> None:
    """A text, key by key."""
    for letter in text:
        press(shown, ord(letter.lower()) if ord(letter) < 128 else 0, letter)


def place_of(shown: Program, screen: LayoutScreen, key: str, view: str = "above") -> tuple[Grip, tuple[float, float]]:
    """Where a grip is on the screen."""
    grip = next(one for one in screen.work.sheet.grips if one.key == key and one.view == view)
    return grip, screen.pictures.spot(grip)


def mouse(shown: Program, kind: int, x: float, y: float) -> None:
    """A mouse event at a place in design units."""
    px, py = shown.canvas.to_px(x, y)
    pygame.event.post(pygame.event.Event(kind, pos=(round(px), round(py)), button=1, buttons=(1, 0, 0), rel=(0, 0)))
    shown.take_events()


def drag(shown: Program, screen: LayoutScreen, key: str, dx: float, dy: float, view: str = "above") -> None:
    """A grip taken, moved in two strokes and let go."""
    _, (x, y) = place_of(shown, screen, key, view)
    mouse(shown, pygame.MOUSEBUTTONDOWN, x, y)
    for share in (0.5, 1.0):
        mouse(shown, pygame.MOUSEMOTION, x + share * dx, y + share * dy)
        frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONUP, x + dx, y + dy)

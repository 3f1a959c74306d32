"""The program's loop: one window, one screen at a time, events in, frames out; and pictures without a window."""

from __future__ import annotations

import os
from pathlib import Path

import pygame

from simulator.places import shipped_scenarios
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load
from simulator.window.canvas import Canvas
from simulator.window.layout import SMALLEST_WINDOW
from simulator.window.lift import Begin, Choice, begin_attempt
from simulator.window.measures_shown import System
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.screen import Go, Screen
from simulator.window.screens.start import StartScreen
from simulator.words import say

FRAMES_PER_S = 60
LONGEST_FRAME_S = 0.25
WINDOW_SHARE = 0.9
"""Share of the desktop that a new window may take."""
FULL_SIZE = (1920, 1080)


class NoDisplay(RuntimeError):  # noqa: N818 - named by what is missing
    """No window can be opened; the message is a sentence for the user."""


def run_drive(
    description: Description | None,
    *,
    demo: bool = False,
    units: System = "metric",
    begin: Begin = begin_attempt,
    most_frames: int | None = None,
) -> int:
    """Open the window and stay in it until it is closed.

    Args:
        description: the lift to drive; without one the start screen offers the shipped lifts.
        demo: automatic operators drive both units; any key of a seat takes that unit over.
        units: metres and tonnes, or feet and thousand pounds.
        begin: starts a lift; the front door may attach a recorder there.
        most_frames: stop after so many frames.

    Returns:
        0, or 1 if a lift driven last ended by an incident.

    Raises:
        NoDisplay: there is no screen, or no lift to offer.
    """
    surface = open_window()
    try:
        program = Program(surface, units, begin)
        if description is None:
            program.show_start(None)
        else:
            program.show_lift(Choice(description, "demo" if demo else "two"))
        return program.run(most_frames)
    finally:
        pygame.quit()


def open_window() -> pygame.Surface:
    """A resizable window, as large as the desktop comfortably allows.

    Raises:
        NoDisplay: there is no screen.
    """
    try:
        pygame.display.init()
        pygame.font.init()
        sizes = pygame.display.get_desktop_sizes() or [FULL_SIZE]
        share = min(1.0, WINDOW_SHARE * min(sizes[0][0] / FULL_SIZE[0], sizes[0][1] / FULL_SIZE[1]))
        size = [max(least, round(share * full)) for least, full in zip(SMALLEST_WINDOW, FULL_SIZE, strict=True)]
        if os.environ.get("SDL_VIDEODRIVER") == "dummy":
            size = list(FULL_SIZE)
        surface = pygame.display.set_mode((size[0], size[1]), pygame.RESIZABLE)
    except pygame.error as error:
        pygame.quit()
        raise NoDisplay(say("program.no_display", reason=str(error))) from error
    pygame.display.set_caption(say("program.name"))
    pygame.joystick.init()
    return surface


def shipped_lifts() -> tuple[Description, ...]:
    """The shipped lifts that can be read, the easiest first."""
    found = []
    for path in shipped_scenarios():
        try:
            found.append(load(path))
        except BrokenScenario:
            continue
    return tuple(sorted(found, key=lambda row: (row.difficulty, row.title)))


class Program:
    """The window, its present screen, and the way between screens."""

    def __init__(self, surface: pygame.Surface, system: System, begin: Begin) -> None:
        self.surface, self.system, self._begin = surface, system, begin
        self.canvas = Canvas(surface)
        self.screen: Screen | None = None
        self.exit_code = 0
        self._lifts: tuple[Description, ...] | None = None
        self._is_full = False
        self._windowed = surface.get_size()

    def show_start(self, chosen: Choice | None) -> None:
        """The start screen.

        Raises:
            NoDisplay: there is no lift to offer.
        """
        if self._lifts is None:
            self._lifts = shipped_lifts()
        offered = self._lifts
        if chosen and chosen.description not in offered:
            offered = (chosen.description, *offered)
        if not offered:
            raise NoDisplay(say("program.no_lifts"))
        self._show(StartScreen(offered, self.system, chosen=chosen))

    def show_lift(self, choice: Choice) -> None:
        """A lift from time zero."""
        self._show(DriveScreen(choice, self.system, begin=self._begin))

    def _show(self, screen: Screen) -> None:
        self.canvas.clear()
        screen.renew(self.canvas)
        self.screen = screen

    def run(self, most_frames: int | None = None) -> int:
        """Frames until the window is closed."""
        clock = pygame.time.Clock()
        elapsed_s, frames = 1.0 / FRAMES_PER_S, 0
        while self.take_events() and (most_frames is None or frames < most_frames):
            self.frame(elapsed_s)
            pygame.display.flip()
            elapsed_s = min(LONGEST_FRAME_S, clock.tick(FRAMES_PER_S) / 1000.0)
            frames += 1
        return self.exit_code

    def frame(self, elapsed_s: float) -> None:
        """One frame of the present screen."""
        if self.screen is not None:
            self.screen.frame(self.canvas, elapsed_s)

    def take_events(self) -> bool:
        """Answer what has happened; False when the program should end."""
        goes_on = True
        for event in pygame.event.get():
            goes_on = self._take_event(event) and goes_on
        return goes_on

    def _take_event(self, event: pygame.event.Event) -> bool:
        if event.type == pygame.QUIT:
            return False
        if event.type == pygame.VIDEORESIZE and not self._is_full:
            self._resize((event.w, event.h))
        elif event.type == pygame.KEYDOWN and event.key == pygame.K_F11:
            self._toggle_full()
        elif self.screen is not None:
            return self._go(self.screen.take_event(event))
        return True

    def _go(self, go: Go) -> bool:
        """Follow a screen's wish; False when the program should end."""
        if isinstance(self.screen, DriveScreen) and go.to in ("start", "lift", "quit"):
            self.exit_code = 1 if getattr(self.screen.lift, "incidents", None) else 0
        if go.to == "start":
            self.show_start(self.screen.choice if isinstance(self.screen, DriveScreen) else None)
        elif go.to == "lift" and go.choice is not None:
            self.show_lift(go.choice)
        return go.to != "quit"

    def _toggle_full(self) -> None:
        self._is_full = not self._is_full
        if self._is_full:
            self._windowed = self.surface.get_size()
            self.surface = pygame.display.set_mode((0, 0), pygame.FULLSCREEN)
        else:
            self.surface = pygame.display.set_mode(self._windowed, pygame.RESIZABLE)
        self._renew()

    def _resize(self, size: tuple[int, int]) -> None:
        wanted = max(size[0], SMALLEST_WINDOW[0]), max(size[1], SMALLEST_WINDOW[1])
        if wanted != size:
            pygame.display.set_mode(wanted, pygame.RESIZABLE)
        self.surface = pygame.display.get_surface()
        self._renew()

    def _renew(self) -> None:
        self.canvas = Canvas(self.surface)
        self.canvas.clear()
        if self.screen is not None:
            self.screen.renew(self.canvas)


def render_still(
    description: Description,
    readings: Readings,
    path: Path,
    size: tuple[int, int] = FULL_SIZE,
    *,
    units: System = "metric",
) -> None:
    """Save one picture of the drive screen, without a window.

    Args:
        description: the lift.
        readings: the moment.
        path: a picture file, such as `.png`.
        size: in pixels.
        units: metres and tonnes, or feet and thousand pounds.
    """
    from simulator.window.still import draw_still

    pygame.font.init()
    surface = pygame.Surface(size)
    draw_still(Canvas(surface), description, readings, units)
    pygame.image.save(surface, str(path))

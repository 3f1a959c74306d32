"""What every screen can do, and where it may ask to go."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, NamedTuple, Protocol

import pygame

from simulator.window.canvas import Canvas
from simulator.window.lift import Choice

Destination = Literal[
    "stay", "back", "keys", "settings", "instructor", "why", "units", "again", "finish", "start", "seats", "lift",
    "debrief", "replay", "drive_on", "recording", "quit",
]  # fmt: skip


class Go(NamedTuple):
    """Where to go next."""

    to: Destination
    choice: Choice | None = None
    at_s: float = 0.0
    """The moment of a recorded lift."""
    path: Path | None = None
    """A recording."""


STAY = Go("stay")


class Screen(Protocol):
    """One screen of the program."""

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        ...

    def take_event(self, event: pygame.event.Event) -> Go:
        """Answer an event; places of the mouse are in design units."""
        ...

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Go on for `elapsed_s` on the wall and draw; False when nothing had to be drawn."""
        ...

    def renew(self, canvas: Canvas) -> None:
        """The window has a new size, or is shown again: draw everything anew."""
        ...


class StillScreen:
    """A screen that is drawn when something on it has changed, and else left alone."""

    _is_drawn = False

    def renew(self, canvas: Canvas) -> None:
        """Draw it again."""
        self._is_drawn = False

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed."""
        if self._is_drawn:
            return False
        self.draw(canvas)
        self._is_drawn = True
        return True

    def draw(self, canvas: Canvas) -> None:
        """Draws all of it."""
        raise NotImplementedError

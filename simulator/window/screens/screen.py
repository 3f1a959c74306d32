"""What every screen can do, and where it may ask to go."""

from __future__ import annotations

from typing import Literal, NamedTuple, Protocol

import pygame

from simulator.window.canvas import Canvas
from simulator.window.lift import Choice


class Go(NamedTuple):
    """Where to go next."""

    to: Literal["stay", "back", "keys", "again", "finish", "start", "lift", "quit"]
    choice: Choice | None = None


STAY = Go("stay")


class Screen(Protocol):
    """One screen of the program."""

    def take_event(self, event: pygame.event.Event) -> Go:
        """Answer an event."""
        ...

    def frame(self, canvas: Canvas, elapsed_s: float) -> None:
        """Go on for `elapsed_s` on the wall and draw."""
        ...

    def renew(self, canvas: Canvas) -> None:
        """The window has a new size, or is shown again: draw everything anew."""
        ...

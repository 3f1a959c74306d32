"""What every screen can do, where it may ask to go, and the places on it that answer the mouse."""

from __future__ import annotations

from pathlib import Path
from typing import Generic, Literal, NamedTuple, Protocol, TypeVar

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.regions import Region
from simulator.window.shell.lift import Choice

What = TypeVar("What")


class Place(NamedTuple, Generic[What]):
    """A region and what a press there means."""

    region: Region
    what: What


class Spots(Generic[What]):
    """The places of one screen."""

    def __init__(self) -> None:
        self._places: list[Place[What]] = []

    def clear(self) -> None:
        """Forget them: the screen is drawn anew."""
        self._places.clear()

    def add(self, x: float, y: float, w: float, h: float, what: What) -> None:
        """Remember a place; later ones lie on top."""
        self._places.append(Place(Region(x, y, w, h), what))

    def at(self, pos: tuple[float, float]) -> What | None:
        """What lies there."""
        x, y = pos
        for region, what in reversed(self._places):
            if region.x <= x < region.right and region.y <= y < region.foot:
                return what
        return None


Destination = Literal[
    "stay", "back", "named", "keys", "settings", "instructor", "why", "units", "again", "finish", "start", "seats",
    "lift", "debrief", "replay", "drive_on", "recording", "quit",
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

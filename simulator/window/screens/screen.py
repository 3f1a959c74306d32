"""What every screen can do, what it may ask for next, and the places on it that answer the mouse."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, NamedTuple, Protocol, TypeVar

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.regions import Region
from simulator.window.review.looking_back import LookBack
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice

What = TypeVar("What")
ENTER_KEYS = (pygame.K_RETURN, pygame.K_KP_ENTER)


class MousePlace(NamedTuple, Generic[What]):
    """A region and what a press there means."""

    region: Region
    what: What


class Spots(Generic[What]):
    """The places of one screen."""

    def __init__(self) -> None:
        self._places: list[MousePlace[What]] = []

    def clear(self) -> None:
        """Forget them: the screen is drawn anew."""
        self._places.clear()

    def add(self, x: float, y: float, w: float, h: float, what: What) -> None:
        """Remember a place; later ones lie on top."""
        self._places.append(MousePlace(Region(x, y, w, h), what))

    def at(self, pos: tuple[float, float]) -> What | None:
        """What lies there."""
        x, y = pos
        for region, what in reversed(self._places):
            if region.x <= x < region.right and region.y <= y < region.foot:
                return what
        return None


class Screen(Protocol):
    """One screen of the program; `StillScreen` answers all but two of these for one that waits for its user."""

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

    def slept(self) -> None:
        """The computer has slept: a key let go meanwhile may never be told of."""
        return

    def leave(self) -> None:
        """Another screen comes, or the program ends."""
        return


class Cover(Screen, Protocol):
    """What may lie over another screen; it is done with when it answers `BACK`."""

    is_card: bool
    """It is drawn on a veil over the screen below, by `draw`; otherwise it fills the window, by `frame`."""

    def draw(self, canvas: Canvas) -> None:
        """Draws all of it."""
        ...


class Doors(NamedTuple):
    """The two screens that others lead back to, and so cannot import."""

    start: Callable[[Desk, Choice | None, Cover | None], Screen]
    """The start screen, with a lift chosen, and with something over it."""
    debrief: Callable[[LookBack, float | None, str], Screen]
    """The debrief of a lift, at a moment; why the lift could not be taken over there."""


class Shell(Protocol):
    """The program, as a screen that is made sees it."""

    desk: Desk
    doors: Doors

    def show_progress(self, share: float) -> bool:
        """Draw how far a re-run is; False when somebody wants it to end."""
        ...


class Go(NamedTuple):
    """What comes next. Where nothing is given, all stays."""

    screen: Callable[[Shell], Screen] | None = None
    """Makes the screen to go to."""
    over: Cover | None = None
    """Lies over the present screen from now on."""
    is_back: bool = False
    """What lies over the screen is taken away."""
    ends: bool = False
    """The program ends."""


STAY, BACK, QUIT = Go(), Go(is_back=True), Go(ends=True)


def to_start(choice: Choice | None, over: Cover | None = None) -> Go:
    """To the start screen, with this lift chosen."""
    return Go(lambda shell: shell.doors.start(shell.desk, choice, over))


def to_debrief(back: LookBack, at_s: float | None = None, fault: str = "") -> Go:
    """To the debrief."""
    return Go(lambda shell: shell.doors.debrief(back, at_s, fault))


class StillScreen(Screen):
    """A screen that is drawn when something on it has changed, and else left alone."""

    is_card = False
    _is_drawn = False

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        return True

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

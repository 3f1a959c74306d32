"""What the keys, the words and the cards of the drive screen need of it: they know it by this alone."""

from __future__ import annotations

from typing import Protocol

from simulator.window.hands.seats import Seats
from simulator.window.kit.measures_shown import System
from simulator.window.readouts.prompt_cards import PromptCards
from simulator.window.readouts.readouts import Readouts
from simulator.window.review.lift_extremes import LiftExtremes
from simulator.window.scene.camera import Camera
from simulator.window.screens.screen import Cover, Go
from simulator.window.screens.weigh_cards import Weighing
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, Lift
from simulator.window.shell.own_turn import OwnTurn
from simulator.window.shell.pace import Pace


class Driven(Protocol):
    """A lift on the screen."""

    choice: Choice
    lift: Lift
    seats: Seats
    pace: Pace
    camera: Camera
    readouts: Readouts
    extremes: LiftExtremes
    prompt_cards: PromptCards
    desk: Desk
    system: System
    weighing: Weighing
    own_turn: OwnTurn
    moved_s: list[float]
    """How long ago each unit moved, from left to right."""

    @property
    def turns(self) -> bool:
        """The load is to be turned over now."""
        ...

    def cover(self, card: Cover) -> None:
        """Pause, and lay this over the lift."""
        ...

    def sum_up(self) -> None:
        """Lay the summary over the lift."""
        ...

    def again(self) -> Go:
        """To the same lift from time zero."""
        ...

    def look_back(self) -> Go:
        """To the debrief of the lift as it was up to now."""
        ...

    def change_units(self) -> None:
        """Meters and tonnes, or feet and pounds."""
        ...

    def swap_views(self) -> None:
        """The section large and the side view in the inset, or back."""
        ...

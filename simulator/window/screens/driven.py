"""What the keys and the words of the drive screen need of it: they know it by this alone, and it imports them."""

from __future__ import annotations

from typing import Protocol

from simulator.window.hands.seats import Seats
from simulator.window.kit.measures_shown import System
from simulator.window.readouts.prompt_cards import PromptCards
from simulator.window.readouts.readouts import Readouts
from simulator.window.review.lift_extremes import LiftExtremes
from simulator.window.scene.camera import Camera
from simulator.window.screens.weighing import Weighing
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Lift
from simulator.window.shell.pace import Pace


class Driven(Protocol):
    """A lift on the screen."""

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
    moved_s: list[float]
    """How long ago each unit moved, from left to right."""

    def pause(self) -> None:
        """The pause menu."""
        ...

    def show_keys(self) -> None:
        """Keys and marks."""
        ...

    def show_instructor(self) -> None:
        """The instructor's panel."""
        ...

    def weigh(self) -> None:
        """Re-check the rest of the path with what the load told."""
        ...

    def change_units(self) -> None:
        """Meters and tonnes, or feet and pounds."""
        ...

    def swap_views(self) -> None:
        """The section large and the side view in the inset, or back."""
        ...

"""The few looks that window tests take behind public names, in one room."""

from __future__ import annotations

from typing import Any

from simulator.window.kit.canvas import Canvas
from simulator.window.loop import Program
from simulator.window.readouts.readouts import Readouts
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.screen import Screen


def show(shown: Program, screen: Screen) -> None:
    """Put a screen on, whatever leads to it."""
    shown.show(lambda _: screen)


def leave_lift(shown: Program) -> None:
    """As going elsewhere does."""
    assert shown.screen is not None
    shown.screen.leave()


def renew(shown: Program) -> None:
    """A new canvas."""
    shown._renew()


def kept_of(shown: Program) -> Any:
    """The lift that is driven, kept to be looked back on."""
    assert isinstance(shown.screen, DriveScreen)
    return shown.screen.kept


def panel_look(rows: Readouts, name: str) -> Any:
    """What a panel shows at the moment."""
    return rows._looks[name]


def draw_alone(rows: Readouts, canvas: Canvas, name: str) -> None:
    """One panel and nothing else."""
    rows._drawers[name](canvas, rows._looks[name])


def spots_of(screen: Any) -> Any:
    """Where the mouse finds something."""
    return screen.spots._places

"""The only thing that enters a step: what the two operators ask for."""

from __future__ import annotations

from math import isfinite
from numbers import Real
from typing import NamedTuple

FINEST_TOUCH = 1.0 / 4096.0
"""A hand moves a lever in steps of this: a command then is a short number in tracks and recordings."""
FUNCTIONS = ("hoist", "telescope", "elevation", "slew")
"""The four functions of a unit, in the order of track columns and stored state."""


class UnitCommands(NamedTuple):
    """One operator's commands in [-1, 1]; positive: hoist up, telescope out, elevation up, slew toward the road."""

    hoist: float = 0.0
    telescope: float = 0.0
    elevation: float = 0.0
    slew: float = 0.0


class Commands(NamedTuple):
    """Both operators' commands."""

    nose: UnitCommands = UnitCommands()
    tail: UnitCommands = UnitCommands()


def hands_given(hands: object) -> UnitCommands:
    """What an operator has answered, each command to the finest touch.

    Raises:
        ValueError: it is not the four commands of a unit.
    """
    if not isinstance(hands, tuple) or len(hands) != len(FUNCTIONS):
        may = f"UnitCommands, or a tuple of its {len(FUNCTIONS)} numbers ({', '.join(FUNCTIONS)})"
        raise ValueError(f"an operator's command: given {hands!r}, allowed: {may}, each -1 to 1")
    return UnitCommands(*(finest(command) for command in hands))


def finest(command: object) -> float:
    """A command to the finest touch.

    Raises:
        ValueError: it is no number.
    """
    if not isinstance(command, Real) or not isfinite(command):
        raise ValueError(f"a command: given {command!r}, allowed: -1 to 1")
    return round(float(command) / FINEST_TOUCH) * FINEST_TOUCH


STILL = Commands()
"""Nobody touches anything."""

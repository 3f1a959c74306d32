"""The only thing that enters a step: what the operators ask for, one value a lever, unit by unit in the rig's order."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from numbers import Real
from typing import NamedTuple

from simulator.scenario.rig import Rig, RigUnit

FINEST_TOUCH = 1.0 / 4096.0
"""A hand moves a lever in steps of this: a command then is a short number in tracks and recordings."""
FUNCTIONS = ("hoist", "telescope", "elevation", "slew")
"""The functions of a unit with one line, in the order of its levers."""

Hands = tuple[float, ...]
"""One operator's commands in [-1, 1], a value a lever; positive: hoist up, telescope out, elevation up, slew toward
the road. `RigUnit.hands` makes them by the levers' names."""


class UnitCommands(NamedTuple):
    """The hands on a unit with one line."""

    hoist: float = 0.0
    telescope: float = 0.0
    elevation: float = 0.0
    slew: float = 0.0


class Commands(tuple[Hands, ...]):
    """All operators' hands, a value a unit."""

    __slots__ = ()

    def __new__(cls, *hands: Sequence[float]) -> Commands:
        return tuple.__new__(cls, hands)

    def __getnewargs__(self) -> tuple[Sequence[float], ...]:
        """What a copy in another process is made of."""
        return tuple(self)


def still(rig: Rig) -> Commands:
    """Nobody touches anything."""
    return Commands(*(unit.hands() for unit in rig.units))


def hands_given(unit: RigUnit, hands: object) -> Hands:
    """What a unit's operator has answered, each command to the finest touch.

    Raises:
        ValueError: it is not the commands of that unit.
    """
    if not isinstance(hands, tuple) or len(hands) != len(unit.levers):
        may = f"a tuple of {len(unit.levers)} numbers ({', '.join(lever.key for lever in unit.levers)})"
        raise ValueError(f"an operator's command: given {hands!r}, allowed: {may}, each -1 to 1")
    return tuple([finest(command) for command in hands])


def finest(command: object) -> float:
    """A command to the finest touch.

    Raises:
        ValueError: it is no number.
    """
    if (type(command) is not float and not isinstance(command, Real)) or not isfinite(command):
        raise ValueError(f"a command: given {command!r}, allowed: -1 to 1")
    return round(float(command) / FINEST_TOUCH) * FINEST_TOUCH


STILL = Commands(UnitCommands(), UnitCommands())
"""Nobody touches anything, in a lift by two units with one line each."""

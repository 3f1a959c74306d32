"""The rig of one lift: its units, lines and levers, in order and by name. Nothing else in the house knows a count."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from simulator.scenario.kept_by_identity import kept_by_identity

if TYPE_CHECKING:
    from simulator.scenario.description import Description

NOSE, TAIL = "nose", "tail"
"""What the two units of a lift by two are called, in the order everything is built and stored."""
PAIR = (NOSE, TAIL)
MOST_UNITS, MOST_LINES = 2, 2
"""Units in a lift; lines on a unit."""
BOOM_FUNCTIONS = ("telescope", "elevation", "slew")
"""A unit's functions besides its hoists, in the order of its levers."""
BESIDES = ("both", "turn")
"""Levers that move a unit's two lines at once; a lift may ask for them, in any order."""
TAKEN_NAMES = ("both", "gap", "load", "step", "time")
"""What no unit is called: readings, seats and columns of tables have these names."""
LONGEST_NAME = 24
_NAME = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")


class RigLine(NamedTuple):
    """A line of the rig."""

    name: str
    """Its unit's name where it is the only one, else `nose_1`, `nose_2`."""
    place: int
    """Among all lines of the lift."""
    unit: int
    number: int
    """1 or 2 on its unit."""
    pick: int
    """Its pick's place in `trailer.picks`."""


class Lever(NamedTuple):
    """What a hand moves: a function of a unit or of its lines."""

    name: str
    """Track column: `nose_slew`, `nose_hoist`, `nose_1_hoist`, `nose_turn`."""
    key: str
    """The same without its unit: `slew`, `hoist`, `hoist_1`, `turn`."""
    unit: int
    function: str
    """hoist, telescope, elevation, slew, both, turn."""
    pulls: tuple[tuple[int, float], ...] = ()
    """Lines it moves, each with the way: 1 up with the lever, -1 down with it."""


class RigUnit(NamedTuple):
    """A unit of the rig."""

    name: str
    place: int
    """Among the units of the lift."""
    lines: tuple[RigLine, ...]
    levers: tuple[Lever, ...]

    def hands(self, **pulled: float) -> tuple[float, ...]:
        """Hands on its levers: what is named is pulled that far, all else left alone.

        Raises:
            ValueError: it has no such lever.
        """
        hands = tuple([pulled.pop(lever.key, 0.0) for lever in self.levers])
        for key in pulled:
            keys = ", ".join(lever.key for lever in self.levers)
            raise ValueError(f"a lever of the {self.name} unit: given {key}, allowed: {keys}")
        return hands


class Rig(NamedTuple):
    """Units, lines and levers of one lift."""

    units: tuple[RigUnit, ...]

    @property
    def lines(self) -> tuple[RigLine, ...]:
        """Every line, unit by unit."""
        return tuple(line for unit in self.units for line in unit.lines)

    @property
    def levers(self) -> tuple[Lever, ...]:
        """Every lever, unit by unit: hoists, telescope, elevation, slew, then those that move two lines at once."""
        return tuple(lever for unit in self.units for lever in unit.levers)

    @property
    def unit_names(self) -> tuple[str, ...]:
        """What the units are called."""
        return tuple(unit.name for unit in self.units)

    @property
    def line_names(self) -> tuple[str, ...]:
        """What the lines are called."""
        return tuple(line.name for line in self.lines)

    @property
    def lever_names(self) -> tuple[str, ...]:
        """What the levers are called."""
        return tuple(lever.name for lever in self.levers)


@kept_by_identity
@lru_cache(maxsize=64)
def rig_of(description: Description) -> Rig:
    """The rig of a lift."""
    picks = {pick.name: index for index, pick in enumerate(description.trailer.picks)}
    lines = tuple(
        (unit.name, tuple(picks[line.pick] for line in unit.lines), unit.levers) for unit in description.units
    )
    return rig(lines)


def is_unit_name(name: str) -> bool:
    """Whether a unit may be called so: its name stands in the names of readings and of columns of tables."""
    return len(name) <= LONGEST_NAME and name not in TAKEN_NAMES and _NAME.fullmatch(name) is not None


def rig(units: tuple[tuple[str, tuple[int, ...], tuple[str, ...]], ...]) -> Rig:
    """A rig from what names it.

    Args:
        units: for each unit its name, the pick of each of its lines, and its levers besides one a function.
    """
    found: list[RigUnit] = []
    for index, (name, picks, more) in enumerate(units):
        before = sum(len(unit.lines) for unit in found)
        names = [name] if len(picks) == 1 else [f"{name}_{number}" for number in range(1, len(picks) + 1)]
        lines = tuple(
            RigLine(called, before + at, index, at + 1, pick)
            for at, (called, pick) in enumerate(zip(names, picks, strict=True))
        )
        found.append(RigUnit(name, index, lines, _levers(name, index, lines, more)))
    return Rig(tuple(found))


def _levers(name: str, unit: int, lines: tuple[RigLine, ...], more: tuple[str, ...]) -> tuple[Lever, ...]:
    keys = ["hoist"] if len(lines) == 1 else [f"hoist_{line.number}" for line in lines]
    hoists = [
        Lever(f"{line.name}_hoist", key, unit, "hoist", ((line.place, 1.0),))
        for line, key in zip(lines, keys, strict=True)
    ]
    boom = [Lever(f"{name}_{function}", function, unit, function) for function in BOOM_FUNCTIONS]
    alike = tuple((line.place, 1.0) for line in lines)
    opposed = tuple((line.place, 1.0 if line.number > 1 else -1.0) for line in lines)
    besides = {"both": alike, "turn": opposed}
    return (*hoists, *boom, *(Lever(f"{name}_{one}", one, unit, one, besides[one]) for one in more))


TWO_BY_ONE = rig(((NOSE, (0,), ()), (TAIL, (1,), ())))
"""Two units with one line each: what files and recordings that name no rig are about."""

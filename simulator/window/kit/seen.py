"""How a lift's units are seen from the ravine: which stands left or right, what each is called, where it is shown."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, NamedTuple

from simulator.scenario.description import Description
from simulator.scenario.kept_by_identity import kept_by_identity
from simulator.scenario.rig import TWO_BY_ONE, RigUnit, rig_of
from simulator.window.kit.regions import PLAN_INSET, SECTION_INSET, UNIT_PANELS, Region, screen_sign
from simulator.words import known, say


class SeenUnit(NamedTuple):
    """A unit as it is seen."""

    unit: RigUnit
    side: int
    """0 left, 1 right: its panel, its seat, its color and its badge."""
    is_alone: bool = False
    """There is no other unit: it is called by no side."""

    @property
    def place(self) -> int:
        """Among the rig's units."""
        return self.unit.place

    @property
    def name(self) -> str:
        """As it is called in readings and files."""
        return self.unit.name

    @property
    def where(self) -> Literal["left", "right", "alone"]:
        """As its words begin in the file of words."""
        return "alone" if self.is_alone else "right" if self.side else "left"

    def said(self, what: str) -> str:
        """What it, or its only line, is called: `name`, `said`, `call`, `line`, `line_said`."""
        return say(f"unit.{self.where}_{what}")

    def line_said(self, line: str, *, inside: bool = False) -> str:
        """What one of its lines is called, by the line's name; `inside` a sentence."""
        end = "_said" if inside else ""
        number = next((one.number for one in self.unit.lines if one.name == line), 0)
        if len(self.unit.lines) < 2 or not number:
            return self.said(f"line{end}")
        return say(f"unit.{self.where}_line_nth{end}", number=number)


class Seen(NamedTuple):
    """All units of a lift as they are seen."""

    units: tuple[SeenUnit, ...]
    """From left to right."""
    sign: float = 1.0
    """-1 where the picture is mirrored: the trailer's tail end is seen left."""

    @property
    def is_alone(self) -> bool:
        """There is one unit only."""
        return len(self.units) < 2

    @property
    def sides(self) -> tuple[int, ...]:
        """Where there is a unit: 0 left, 1 right."""
        return tuple(one.side for one in self.units)

    def of(self, place: int) -> SeenUnit:
        """The unit at a place of the rig."""
        return next(one for one in self.units if one.place == place)

    def on(self, side: int) -> SeenUnit | None:
        """The unit that is seen on a side."""
        return next((one for one in self.units if one.side == side), None)

    def owner(self, name: str) -> SeenUnit | None:
        """The unit that is called so, or has a line that is."""
        for one in self.units:
            if name == one.name or name in (line.name for line in one.unit.lines):
                return one
        return None

    def begins(self, text: str) -> SeenUnit | None:
        """The unit that a text begins with."""
        return next((one for one in self.units if text.startswith(one.name)), None)

    def say(self, key: str, **values: object) -> str:
        """The text of a key; of `key_alone` where there is one unit only and the file of words has it."""
        return say(f"{key}_alone" if self.is_alone and known(f"{key}_alone") else key, **values)


def seen_from(units: tuple[RigUnit, ...], sides: tuple[int, ...], sign: float = 1.0) -> Seen:
    """Units, each with the side it is seen on."""
    rows = [SeenUnit(unit, side, len(units) < 2) for unit, side in zip(units, sides, strict=True)]
    return Seen(tuple(sorted(rows, key=lambda one: one.side)), sign)


@kept_by_identity
@lru_cache(maxsize=64)
def seen_of(description: Description) -> Seen:
    """The units of a lift; one alone is on the side where its cab is, as it would be beside another."""
    units, sign = rig_of(description).units, screen_sign(description)
    if len(units) < 2:
        return seen_from(units, tuple(int(unit.facing * sign < 0.0) for unit in description.units), sign)
    order = list(range(len(units)))
    return seen_from(units, tuple(order if sign > 0.0 else order[::-1]), sign)


SEEN_BY_TWO = seen_from(TWO_BY_ONE.units, tuple(range(len(TWO_BY_ONE.units))))
"""Of a recording that does not say what lift it is of."""
MIRRORED = seen_from(TWO_BY_ONE.units, tuple(reversed(range(len(TWO_BY_ONE.units)))), -1.0)
"""The same with the first unit on the right."""


def seen_in(description: Description | None) -> Seen:
    """The same; two units with the first one left where there is no description."""
    return SEEN_BY_TWO if description is None else seen_of(description)


class Layout(NamedTuple):
    """Where the panels of a lift stand."""

    panels: tuple[Region, ...]
    """In the order of `Seen.units`."""
    section: Region
    plan: Region


COLUMN_W, COLUMN_H = 336.0, 900.0
"""A column beside the scene, whole."""


def layout_of(seen: Seen) -> Layout:
    """Each unit's panel over its inset; one alone has its whole column, and the insets have the other."""
    if not seen.is_alone:
        return Layout(tuple(UNIT_PANELS[one.side] for one in seen.units), SECTION_INSET, PLAN_INSET)
    own, other = (UNIT_PANELS[side] for side in (seen.units[0].side, not seen.units[0].side))
    foot = SECTION_INSET.y
    return Layout(
        (Region(own.x, own.y, COLUMN_W, COLUMN_H),),
        Region(other.x, other.y, COLUMN_W, other.h),
        Region(other.x, foot, COLUMN_W, SECTION_INSET.h),
    )

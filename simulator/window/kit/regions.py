"""The window's regions in design units, and how the parts of a trailer lie from left to right."""

from __future__ import annotations

from typing import NamedTuple

from simulator.scenario.description import Description
from simulator.scenario.trailer import Part


class Region(NamedTuple):
    """A rectangle in design units."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.w

    @property
    def foot(self) -> float:
        """Its lower edge."""
        return self.y + self.h


COACH = Region(0, 0, 1920, 120)
UNIT_PANELS = (Region(8, 128, 336, 544), Region(1576, 128, 336, 544))
"""Seen left, seen right."""
SECTION_INSET = Region(8, 680, 336, 348)
PLAN_INSET = Region(1576, 680, 336, 348)
SCENE = Region(352, 128, 1216, 748)
LOAD_TABLE = Region(352, 884, 376, 144)
CLEARANCE = Region(736, 884, 832, 144)
CAUTION_LINE = Region(0, 1036, 1920, 44)
SMALLEST_WINDOW = (1280, 720)


def parts_as_seen(description: Description) -> tuple[str, ...]:
    """Names of the trailer's parts from left to right, as the side view shows them."""

    def middle(part: Part) -> float:
        xs = [x for x, _ in part.outline_m]
        return screen_sign(description) * (min(xs) + max(xs)) / 2.0

    return tuple(part.name for part in sorted(description.trailer.parts, key=middle))


def screen_sign(description: Description) -> float:
    """+1 where x grows to the right in the side view."""
    return 1.0 if description.site.nose_seen_from_ravine == "left" else -1.0

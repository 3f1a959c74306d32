"""Places that answer the mouse, remembered as they are drawn, in design units."""

from __future__ import annotations

from typing import Generic, NamedTuple, TypeVar

from simulator.window.layout import Region

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

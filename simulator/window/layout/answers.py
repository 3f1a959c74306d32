"""Whoever judges a lift for the layout screen: handed in by the front door."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Protocol

from simulator.scenario.asked_numbers import System
from simulator.scenario.description import Description
from simulator.telling.laid_out import Help, Judged, Spoke


class Bench(Protocol):
    """Whoever judges."""

    def new(self) -> Description:
        """A lift to begin with: every number of it is a stand-in."""
        ...

    def settled(self, description: Description) -> Description:
        """The same with its load as the slope lies under it, and its booms over the picks."""
        ...

    def judged(self, description: Description, *, is_quick: bool = False) -> Judged:
        """The whole path judged."""
        ...

    def declined(self, description: Description) -> str:
        """Why it is not driven at all; empty where it may be tried."""
        ...

    def helps(self, description: Description, judged: Judged) -> Iterator[tuple[Help, ...]]:
        """What would help, best first, after each trial."""
        ...

    def cases(self, description: Description, ranges: Mapping[str, tuple[float, float]]) -> tuple[int, int] | None:
        """In how many of how many cases a lift holds while weight and heavy end lie in their ranges; None: not for
        this kind of lift."""
        ...

    def room(self, judged: Judged, end: int) -> Iterator[Spoke]:
        """Where a unit's tip may stand, one spoke after another."""
        ...

    def print_sheet(self, judged: Judged, path: Path, assumed: tuple[str, ...] = ()) -> None:
        """Write the paper for the roadside; `assumed` are the numbers nobody gave, each with its value."""
        ...


MakeBench = Callable[[System], Bench]
"""Whoever judges, telling numbers in these units."""

"""Rigging hardware as tables by size: rated load, source, and how far each figure is confirmed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mark = Literal["S", "T", "R", "M", "P"]
MARK_WORDS: dict[Mark, str] = {
    "S": "stated in the scenario",
    "T": "read in the published text",
    "R": "read in a secondary copy",
    "M": "from memory, not confirmed",
    "P": "common practice, no source",
}
Kind = Literal["chain", "shackle", "sling", "rope"]


@dataclass(frozen=True, slots=True)
class Piece:
    """One size."""

    table: str
    size: str
    rated_N: float
    """One leg, straight and in line; of a rope its breaking strength."""
    mark: Mark
    diameter_m: float | None = None

    @property
    def name(self) -> str:
        """Table and size."""
        return f"{self.table} {self.size}"


@dataclass(frozen=True, slots=True)
class Table:
    """One kind of hardware, smallest size first."""

    name: str
    kind: Kind
    source: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Hardware:
    """All tables."""

    tables: tuple[Table, ...]

    def of(self, kind: Kind) -> tuple[Table, ...]:
        """The tables of one kind."""
        return tuple(table for table in self.tables if table.kind == kind)

    def named(self, name: str) -> Table | None:
        """A table by its name."""
        return next((table for table in self.tables if table.name == name), None)

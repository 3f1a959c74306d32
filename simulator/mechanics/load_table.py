"""A table of rated loads, asked at a radius and a boom length."""

from __future__ import annotations

from typing import Final

SAME_M: Final = 1e-9
"""A radius or length this little past a line of the table still counts as on it."""


class LoadTable:
    """Line load by radius (rows) and boom length (columns). Build it with `rating.table_of`."""

    __slots__ = ("lengths_m", "loads_N", "radii_m")

    def __init__(self, radii_m: list[float], lengths_m: list[float], loads_N: list[list[float]]) -> None:
        """Radii and lengths in rising order."""
        self.radii_m: list[float] = radii_m
        self.lengths_m: list[float] = lengths_m
        self.loads_N: list[list[float]] = loads_N

    def line_load_N(self, boom_length_m: float, load_radius_m: float) -> float:
        """At the next larger radius and next longer boom; 0 where the table has none."""
        row = _first_from(self.radii_m, load_radius_m - SAME_M)
        column = _first_from(self.lengths_m, boom_length_m - SAME_M)
        if row == len(self.radii_m) or column == len(self.lengths_m):
            return 0.0
        return self.loads_N[row][column]


def _first_from(rising: list[float], least: float) -> int:
    """Place of the first number that is not less; the count of them if there is none."""
    for place in range(len(rising)):
        if rising[place] >= least:
            return place
    return len(rising)

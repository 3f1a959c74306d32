"""A rule that ties values of a scenario together, broken."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import degrees
from typing import NamedTuple


class Breach(NamedTuple):
    """Values that do not fit each other."""

    keys: tuple[str, ...]
    """Dotted paths of the values involved; the first is the one to look at."""
    given: str
    allowed: str


Breaches = Iterator[Breach]


def angle(value_rad: float) -> str:
    """An angle in words, in both units that a file may use."""
    return f"{value_rad:.4g} rad ({degrees(value_rad):.4g} deg)"


def rising(values: tuple[float, ...]) -> bool:
    """True when each value is larger than the one before."""
    return all(a < b for a, b in pairwise(values))

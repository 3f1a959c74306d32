"""Numbers as they are spoken in a drill: meters and tonnes, or feet and pounds, whenever they are asked.

What is said is kept as words and SI amounts, and becomes a sentence only when it is read: so it follows the units of
whoever reads it, and changes with them.
"""

from __future__ import annotations

from collections.abc import Callable
from math import degrees
from typing import NamedTuple

from simulator.scenario.measures import METERS_PER_FOOT, POUND_N, TONNE_N
from simulator.words import say


class Amount(NamedTuple):
    """A number in SI with what it is measured in."""

    value: float
    unit: str
    """m, m/s, N, s, rad; anything else is left as it is."""
    decimals: int = 1

    def said(self, *, us: bool = False) -> str:
        """With its unit, in meters and tonnes or in feet and pounds."""
        if us and self.unit == "N":
            return _pounds(self.value, self.decimals)
        value, unit = SAID.get((self.unit, us), _as_it_is)(self.value, self.unit)
        return f"{value:.{self.decimals}f} {unit}".strip()


def _pounds(force_N: float, decimals: int) -> str:
    """As a weight with as much behind it as tonnes of so many decimals: hundreds for one, tens for two."""
    step = 10.0 ** max(0, 3 - decimals)
    return f"{step * round(force_N / POUND_N / step):,.0f} {say('measure.pound')}"


def _as_it_is(value: float, unit: str) -> tuple[float, str]:
    return value, "" if unit in ("1", "bool") else unit


def _degrees(value: float, _: str) -> tuple[float, str]:
    return degrees(value), say("measure.degree")


SAID: dict[tuple[str, bool], Callable[[float, str], tuple[float, str]]] = {
    ("N", False): lambda value, _: (value / TONNE_N, say("measure.tonne")),
    ("m", False): lambda value, _: (value, say("measure.meter")),
    ("m", True): lambda value, _: (value / METERS_PER_FOOT, say("measure.foot")),
    ("m/s", False): lambda value, _: (value, say("measure.meter_per_s")),
    ("m/s", True): lambda value, _: (value / METERS_PER_FOOT, say("measure.foot_per_s")),
    ("rad", False): _degrees,
    ("rad", True): _degrees,
}


class Words(NamedTuple):
    """A text of the file of words, with what is filled in."""

    key: str
    values: tuple[tuple[str, str | Amount], ...] = ()

    def said(self, *, us: bool = False) -> str:
        """As one sentence."""
        filled = {name: one.said(us=us) if isinstance(one, Amount) else one for name, one in self.values}
        return say(self.key, **filled) if self.key else ""


def words(key: str, **values: str | Amount) -> Words:
    """The text of `key` with `values` to fill in."""
    return Words(key, tuple(values.items()))

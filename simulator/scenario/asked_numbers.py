"""What a person is asked for: its kind, its range, an example in their own units, and values written in those units.

`typed_numbers` reads what they answer. Inside the program every number is SI.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, degrees, floor, isfinite, log10
from typing import Literal, NamedTuple

from simulator.scenario.measures import KILOGRAMS_PER_POUND, METERS_PER_FOOT, METERS_PER_S_PER_MPH, POUND_N, TONNE_N

System = Literal["metric", "us"]
SYSTEMS: tuple[System, System] = ("metric", "us")
Tons = Literal["short", "metric"]
"""Which ton a person means: 2,000 lb, or 1,000 kg."""
TONS_WORDS: dict[Tons, str] = {
    "short": "tons are short tons (2,000 lb)",
    "metric": "tons are metric tons (1,000 kg, 2,204.6 lb)",
}
Kind = Literal["length", "size", "mass", "force", "angle", "slope", "speed", "pressure", "time", "share", "count"]

DEGREE_RAD = 0.017453292519943295
INCH_M = METERS_PER_FOOT / 12.0
PSF_PA = POUND_N / METERS_PER_FOOT**2


class Plain(NamedTuple):
    """What a plain number means in one system."""

    name: str
    """As it is typed and written; empty for a bare number."""
    one: float
    """One of it in SI."""
    decimals: int
    """Of a value written in it."""


class OfKind(NamedTuple):
    """One kind of number."""

    words: str
    unit: str
    """SI."""
    metric: Plain
    us: Plain


_DEGREE, _SECOND, _BARE = Plain("deg", DEGREE_RAD, 2), Plain("s", 1.0, 2), Plain("", 1.0, 4)
KINDS: dict[Kind, OfKind] = {
    "length": OfKind("a length", "m", Plain("m", 1.0, 3), Plain("ft", METERS_PER_FOOT, 4)),
    "size": OfKind("a size", "m", Plain("mm", 0.001, 1), Plain("in", INCH_M, 4)),
    "mass": OfKind("a weight", "kg", Plain("t", 1000.0, 3), Plain("lb", KILOGRAMS_PER_POUND, 0)),
    "force": OfKind("a pull", "N", Plain("t", TONNE_N, 3), Plain("lb", POUND_N, 0)),
    "angle": OfKind("an angle", "rad", _DEGREE, _DEGREE),
    "slope": OfKind("a slope", "rad", _DEGREE, _DEGREE),
    "speed": OfKind("a speed", "m/s", Plain("m/s", 1.0, 2), Plain("mph", METERS_PER_S_PER_MPH, 1)),
    "pressure": OfKind("a pressure", "Pa", Plain("kPa", 1000.0, 2), Plain("psf", PSF_PA, 0)),
    "time": OfKind("a time", "s", _SECOND, _SECOND),
    "share": OfKind("a share", "1", _BARE, _BARE),
    "count": OfKind("a number", "1", _BARE, _BARE),
}


class Field(NamedTuple):
    """One number that is asked for."""

    name: str
    """As a person is asked for it; every refusal begins with it."""
    kind: Kind
    low: float
    """Least and most allowed, SI."""
    high: float
    example: float
    """A usual value, SI: each refusal shows one like it."""

    def plain(self, system: System) -> Plain:
        """What a plain number means."""
        return KINDS[self.kind].us if system == "us" else KINDS[self.kind].metric

    def allowed(self, system: System) -> str:
        """What may be typed, with an example and the range, in these units."""
        return f"{KINDS[self.kind].words} such as {self.examples(system)}; {self.span(system)}"

    def span(self, system: System) -> str:
        """Least and most, inside the range and of few digits."""
        plain = self.plain(system)
        if self.kind == "share":
            return f"{100.0 * self.low:,.10g} to {100.0 * self.high:,.10g}%"
        low, high = _rounded(self.low / plain.one, ceil), _rounded(self.high / plain.one, floor)
        return f"{low:,.10g} to {high:,.10g} {plain.name}".strip()

    def examples(self, system: System) -> str:
        """One or two ways to write a usual value."""
        plain = self.plain(system)
        usual = float(f"{self.example / plain.one:.2g}") * plain.one
        if self.kind == "length" and system == "us":
            step = INCH_M if abs(self.example) < 10.0 * METERS_PER_FOOT else METERS_PER_FOOT
            usual = round(self.example / step) * step
        usual = usual if self.low <= usual <= self.high else self.example
        if self.kind == "length" and system == "us":
            return f"{written(usual, self, system)} or {written(usual, self, system, words=True)}"
        if self.kind == "slope":
            return "1:1, 45% or 12 deg" if self.high >= 45.0 * DEGREE_RAD else "3% or 2 deg"
        return written(usual, self, system)


def written(value: float, field: Field, system: System, *, words: bool = False) -> str:
    """A value in a person's units, so that it reads back.

    Args:
        value: SI.
        field: what it is.
        system: whose units.
        words: feet and inches as `8 ft 6 in`, which stands in files; else `8' 6"`.
    """
    if not isfinite(value):
        return "none"
    if field.kind in ("mass", "force") and system == "metric":
        return _metric_weight(value / field.plain(system).one)
    if field.kind == "length" and system == "us":
        return _feet_and_inches(value, words=words)
    if field.kind == "share":
        return f"{_number(100.0 * value, 2)}%"
    plain = field.plain(system)
    amount = degrees(value) if plain.name == "deg" else value / plain.one
    return f"{_number(amount, plain.decimals)} {plain.name}".strip()


def _metric_weight(tonnes: float) -> str:
    return f"{_number(tonnes, 3)} t" if abs(tonnes) >= 1.0 else f"{_number(1000.0 * tonnes, 2)} kg"


def _feet_and_inches(value_m: float, *, words: bool) -> str:
    """To a hundredth of an inch."""
    sign = "-" if value_m < 0.0 else ""
    hundredths = round(abs(value_m) / INCH_M * 100.0)
    feet, rest = divmod(hundredths, 1200)
    inches = _number(rest / 100.0, 2)
    foot, inch = (" ft", " in") if words else ("'", '"')
    if rest == 0:
        return f"{sign if feet else ''}{feet:,}{foot}"
    return f"{sign}{feet:,}{foot} {inches}{inch}" if feet else f"{sign}{inches}{inch}"


def _number(value: float, decimals: int) -> str:
    """Thousands apart, no zeros at the end."""
    text = f"{value:,.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _rounded(value: float, inward: Callable[[float], int]) -> float:
    """To three digits, into the range."""
    if value == 0.0 or not isfinite(value):
        return value
    step = 10.0 ** (floor(log10(abs(value))) - 2)
    return inward(round(value / step, 6)) * step

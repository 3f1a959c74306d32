"""Numbers as the window shows them: meters and tonnes, or feet and pounds."""

from __future__ import annotations

from math import degrees, isfinite
from typing import Literal, NamedTuple

from simulator.scenario.measures import (
    METERS_PER_FOOT,
    POUND_N,
    PSI_PA,
    STANDARD_GRAVITY_MPS2,
    TONNE_N,
)
from simulator.words import say

System = Literal["metric", "us"]
MINUS = "\N{MINUS SIGN}"
NONE = "\N{EN DASH}"
DEGREE = "\N{DEGREE SIGN}"


class Shown(NamedTuple):
    """A value as text, and its unit."""

    text: str
    unit: str

    @property
    def joined(self) -> str:
        """Both, for a sentence."""
        return f"{self.text}{self.unit}" if self.unit == DEGREE else f"{self.text} {self.unit}".strip()


def number(value: float, decimals: int, *, signed: bool = False) -> str:
    """`value` rounded, with a true minus sign; a dash when there is no value; never minus zero."""
    if not isfinite(value):
        return NONE
    text = f"{abs(value):.{decimals}f}"
    is_zero = not text.strip("0.")
    sign = MINUS if value < 0.0 and not is_zero else "+" if signed else ""
    return sign + text


def _three_digits(value: float, most_decimals: int) -> int:
    """Decimals that keep three digits: 9.59, 10.8, 108."""
    size = abs(value) if isfinite(value) else 0.0
    decimals = 2 if size < 9.995 else 1 if size < 99.95 else 0
    return min(most_decimals, decimals)


POUNDS_STEP = 100.0
"""Pounds are told in hundreds, as tonnes are in tenths."""


def load(force_N: float, system: System) -> Shown:
    """A line load or a reaction as the weight it stands for: 12.9 t, 28,400 lb."""
    if system == "metric":
        return load_in_thousands(force_N, system)
    pounds = force_N / POUND_N
    text = f"{POUNDS_STEP * round(abs(pounds) / POUNDS_STEP):,.0f}" if isfinite(pounds) else NONE
    sign = MINUS if pounds < 0.0 and text not in ("0", NONE) else ""
    return Shown(sign + text, say("measure.pound"))


def load_in_thousands(force_N: float, system: System) -> Shown:
    """The same where there is room for three digits only: in tonnes, or in thousand pounds."""
    value = force_N / (TONNE_N if system == "metric" else 1000.0 * POUND_N)
    return Shown(number(value, _three_digits(value, 1)), load_heading(system))


def load_heading(system: System) -> str:
    """The unit over a column or an axis of such loads."""
    return say("measure.tonne" if system == "metric" else "measure.kilopound")


def mass(mass_kg: float, system: System) -> Shown:
    """A mass."""
    return load(mass_kg * STANDARD_GRAVITY_MPS2, system)


def length(length_m: float, system: System, *, decimals: int = 1, signed: bool = False) -> Shown:
    """A length, at most three digits and `decimals` decimals."""
    value = length_m if system == "metric" else length_m / METERS_PER_FOOT
    return Shown(
        number(value, _three_digits(value, decimals), signed=signed),
        say("measure.meter" if system == "metric" else "measure.foot"),
    )


def slow_speed(speed_mps: float, system: System) -> Shown:
    """How fast something came or moves."""
    value = speed_mps if system == "metric" else speed_mps / METERS_PER_FOOT
    return Shown(number(value, 2), say("measure.meter_per_s" if system == "metric" else "measure.foot_per_s"))


def pressure(pressure_Pa: float, system: System) -> Shown:
    """Of a sling on a shell."""
    value = pressure_Pa / (1000.0 if system == "metric" else PSI_PA)
    decimals = 0 if system == "metric" else _three_digits(value, 1)
    return Shown(number(value, decimals), say("measure.kilopascal" if system == "metric" else "measure.psi"))


def gap(gap_m: float, system: System) -> Shown:
    """A clearance: signed, three digits (`+1.16`, `-10.8`)."""
    return length(gap_m, system, decimals=2, signed=True)


def angle(angle_rad: float, *, decimals: int = 1) -> Shown:
    """The size of an angle in degrees."""
    return Shown(number(abs(degrees(angle_rad)), decimals), DEGREE)


def percent(share: float) -> Shown:
    """A share in whole percent."""
    return Shown(number(100.0 * share, 0), say("measure.percent"))


def seconds(time_s: float) -> Shown:
    """A period."""
    return Shown(number(time_s, 1), say("measure.second"))


def clock(time_s: float) -> str:
    """Minutes and seconds, `04:12`."""
    whole = max(0, int(time_s)) if isfinite(time_s) else 0
    return f"{whole // 60:02d}:{whole % 60:02d}"


def speed(times: float) -> str:
    """How fast simulated time goes: `1/2x`, `1x`."""
    return "\N{VULGAR FRACTION ONE HALF}x" if times == 0.5 else f"{times:g}x"

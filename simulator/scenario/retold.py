"""Texts that somebody wrote, such as a title or a story, with their amounts in the units of whoever reads them.

An amount that is written in both systems, such as `9.6 m (31 ft)`, is told as its half of the reader's own, to the
digit that it was written with; one that is written in the other system alone is worked out, to as many digits as it
has.
"""

from __future__ import annotations

import re

from simulator.scenario.measures import KILOGRAMS_PER_POUND, METERS_PER_FOOT, POUND_N, TONNE_N

NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?"
METRIC = rf"{NUMBER} (?:m/s|km/h|mm|cm|m|kN|kg|t)"
US = rf"(?:{NUMBER} ft {NUMBER} in|{NUMBER} (?:ft/s|mph|ft|in|lbf|lb))"
BEFORE, AFTER = r"(?<![\w.,])", r"(?![\w/])"
PAIR = re.compile(rf"{BEFORE}(?:({METRIC}) \(({US})\)|({US}) \(({METRIC})\))")
METRIC_ALONE = re.compile(rf"{BEFORE}({NUMBER}) (m/s|m|kN|t){AFTER}")
US_ALONE = re.compile(rf"{BEFORE}({NUMBER}) (ft/s|ft|lb)(?: ({NUMBER}) in)?{AFTER}")
LENGTH = re.compile(rf"{BEFORE}({NUMBER}) (m|ft){AFTER}")
TONNE_KG = 1000.0


def retold(text: str, *, us: bool) -> str:
    """The text in feet and pounds, or in meters and tonnes."""
    half = PAIR.sub(lambda found: (found[2] or found[3]) if us else (found[1] or found[4]), text)
    return METRIC_ALONE.sub(_in_us, half) if us else US_ALONE.sub(_in_metric, half)


def restated(text: str, was_m: float, now_m: float) -> str:
    """The text with a length that it states as it was stated as it is now, to the same digit in the same unit."""

    def again(found: re.Match[str]) -> str:
        one = METERS_PER_FOOT if found[2] == "ft" else 1.0
        decimals = _decimals(found[1])
        said = f"{was_m / one:,.{decimals}f}" == f"{_value(found[1]):,.{decimals}f}"
        return f"{now_m / one:,.{decimals}f} {found[2]}" if said else found[0]

    return LENGTH.sub(again, text)


def _value(number: str) -> float:
    return float(number.replace(",", ""))


def _decimals(number: str) -> int:
    return len(number.partition(".")[2])


def _in_us(found: re.Match[str]) -> str:
    """Weights and pulls in pounds, with as much behind them as tonnes of so many decimals."""
    value, decimals = _value(found[1]), _decimals(found[1])
    if found[2] in ("t", "kN"):
        force_N = value * (TONNE_N if found[2] == "t" else 1000.0)
        step = 10.0 ** max(0, 3 - decimals)
        return f"{step * round(force_N / POUND_N / step):,.0f} lb"
    return f"{value / METERS_PER_FOOT:.{decimals}f} {'ft/s' if found[2] == 'm/s' else 'ft'}"


def _in_metric(found: re.Match[str]) -> str:
    """A meter is three feet, so it has a digit more; pounds in kilograms, from a tonne on in tonnes to a tenth."""
    value, decimals = _value(found[1]), _decimals(found[1])
    if found[2] == "lb":
        mass_kg = value * KILOGRAMS_PER_POUND
        return f"{mass_kg / TONNE_KG:.1f} t" if mass_kg >= TONNE_KG else f"{mass_kg:.0f} kg"
    length_m = (value + _value(found[3] or "0") / 12.0) * METERS_PER_FOOT
    return f"{length_m:.{decimals + 1}f} {'m/s' if found[2] == 'ft/s' else 'm'}"

"""Numbers as people write them, to SI: `53'`, `8'6"`, `13 ft 6 in`, `53,000 lb`, `26 tons`, `1:1`, `45%`, `12 deg`.

A comma parts thousands and nothing else. `ton` alone is short or metric by what the person said before; where they have
said nothing it is refused, with the question. A slope such as 2:1 is refused too, since some say the level part first
and some the drop: `2H:1V`. Any other unit goes to the units library.
"""

from __future__ import annotations

import re
from math import atan, atan2, isfinite
from typing import NamedTuple

from simulator.scenario.asked_numbers import DEGREE_RAD, INCH_M, KINDS, PSF_PA, TONS_WORDS, Field, Kind, System, Tons
from simulator.scenario.measures import (
    KILOGRAMS_PER_POUND,
    METERS_PER_FOOT,
    METERS_PER_S_PER_MPH,
    STANDARD_GRAVITY_MPS2,
    parse,
)

LONGEST = 60
"""Letters that are looked at."""
SAME = 1e-9
"""Past an end of a range by this share of it is the sum's own rounding."""
TON_KG: dict[Tons, float] = {"short": 2000.0 * KILOGRAMS_PER_POUND, "metric": 1000.0}


class Read(NamedTuple):
    """A number that was understood."""

    value: float
    """SI."""
    tons: Tons | None = None
    """Which ton was meant, where a ton was; every output says so."""


class NotTaken(ValueError):  # noqa: N818 - it says what it is
    """Typed text that is no answer: the field, what was given, what is allowed."""

    def __init__(self, field: str, given: str, allowed: str) -> None:
        self.field, self.given, self.allowed = field, given, allowed
        super().__init__(f'{field}: given "{given}", allowed: {allowed}')


class WhichTons(NotTaken):
    """A ton, and nobody has said which."""


class _Odd(ValueError):  # noqa: N818 - it says what it is
    """Why a text is not understood; empty where there is nothing to say but the example."""


class _Ton(ValueError):  # noqa: N818 - it says what it is
    """A ton that is not told: short or metric."""


def read(text: str, field: Field, system: System, tons: Tons | None = None) -> Read:
    """What a person typed.

    Args:
        text: as typed.
        field: what was asked for.
        system: what a plain number means.
        tons: which ton they mean, if they have said so.

    Raises:
        WhichTons: it says tons and nobody has said which.
        NotTaken: it is no such number, or out of range.
    """
    given = text.strip()[:LONGEST]
    try:
        value, used = in_si(text, field.kind, plain=field.plain(system).name, tons=tons)
    except _Ton:
        raise WhichTons(field.name, given, "short tons (2,000 lb) or metric tons (2,204.6 lb): say which") from None
    except ValueError as why:
        raise NotTaken(field.name, given, ", ".join(filter(None, (field.allowed(system), str(why))))) from None
    edge = SAME * max(abs(field.low), abs(field.high))
    if not field.low - edge <= value <= field.high + edge:
        raise NotTaken(field.name, given, field.allowed(system))
    return Read(value, used)


def in_si(text: str, kind: Kind, *, plain: str = "", tons: Tons | None = None) -> Read:
    """One number of a kind, whatever its range.

    Args:
        text: as typed.
        kind: what it measures.
        plain: the unit of a number without one; empty: it must have one, but for a share or a count.
        tons: which ton is meant.

    Raises:
        ValueError: it is not understood; the text says why where there is more to say than an example.
    """
    if len(text) > LONGEST:
        raise _Odd(f"at most {LONGEST} letters")
    tidy = _tidy(text)
    if kind in ("length", "size") and (length := _feet_and_inches(tidy)) is not None:
        return Read(length)
    if kind == "slope" and (slope := _ratio(tidy)) is not None:
        return Read(slope)
    found = _NUMBER_AND_UNIT.fullmatch(tidy)
    if found is None:
        raise _Odd("a comma parts thousands only: 1.5, not 1,5" if re.search(r"\d,\d", tidy) else "")
    number = float(found["number"].replace(",", "")) * (-1.0 if found["sign"] == "-" else 1.0)
    if not isfinite(number):
        raise _Odd("")
    return _of_unit(number, " ".join((found["unit"] or plain).split()), kind, tons)


_FRACTIONS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
_SAME_MARK = str.maketrans({"’": "'", "‘": "'", "′": "'", "`": "'", "”": '"', "“": '"', "″": '"', "−": "-", "–": "-"})


def _tidy(text: str) -> str:
    """One kind of quotation mark, minus and space."""
    for mark, plain in _FRACTIONS.items():
        text = text.replace(mark, plain)
    return " ".join(text.translate(_SAME_MARK).replace("''", '"').split())


_WHOLE = r"(?:\d{1,3}(?:,\d{3})+|\d+)"
_NUMBER = rf"(?:{_WHOLE}(?:\.\d*)?|\.\d+)"
_NUMBER_AND_UNIT = re.compile(
    rf"(?P<sign>[-+]?) ?(?P<number>{_NUMBER}(?:[eE][-+]?\d{{1,2}})?) ?-?(?P<unit>[A-Za-zµ°%#][\w /^*.%°²]*)?", re.ASCII
)
_FEET = r"(?:'|feet|foot|ft)\.?"
_INCHES = r"(?:\"|inches|inch|in)\.?"
_INCH_NUMBER = rf"(?P<inches>{_NUMBER})?(?:(?(inches)[ -]|)(?P<top>\d{{1,2}})/(?P<bottom>\d{{1,2}}))?"
_FEET_AND_INCHES = re.compile(
    rf"(?P<sign>[-+]?) ?(?:(?P<feet>{_NUMBER}) ?{_FEET} ?-? ?)?(?:{_INCH_NUMBER} ?(?P<mark>{_INCHES})?)?", re.IGNORECASE
)


def _feet_and_inches(text: str) -> float | None:
    """Meters; None where the text is of another form.

    Raises:
        ValueError: feet and inches that are none, such as 8' 14".
    """
    found = _FEET_AND_INCHES.fullmatch(text)
    if found is None or (found["feet"] is None and found["mark"] is None):
        return None
    if (found["inches"] or found["top"]) is None:
        if found["mark"]:
            return None
        return _signed(found["sign"], _plain(found["feet"]) * METERS_PER_FOOT)
    inches = _plain(found["inches"] or "0") + _fraction(found["top"], found["bottom"], found["inches"])
    if found["feet"] is None:
        return _signed(found["sign"], inches * INCH_M)
    if "." in found["feet"]:
        raise _Odd("whole feet where inches follow")
    if inches >= 12.0:
        raise _Odd("less than 12 inches behind the feet")
    return _signed(found["sign"], (_plain(found["feet"]) * 12.0 + inches) * INCH_M)


def _plain(number: str) -> float:
    return float(number.replace(",", ""))


def _signed(sign: str, value: float) -> float:
    return -value if sign == "-" else value


def _fraction(top: str | None, bottom: str | None, before: str | None) -> float:
    if top is None or bottom is None:
        return 0.0
    if int(bottom) not in (2, 4, 8, 16, 32, 64) or not 0 < int(top) < int(bottom) or "." in (before or ""):
        raise _Odd('inches as 6 1/2"')
    return int(top) / int(bottom)


_RATIO = re.compile(rf"(?P<one>{_NUMBER}) ?(?P<of_one>[HV])? ?: ?(?P<two>{_NUMBER}) ?(?P<of_two>[HV])?", re.IGNORECASE)
_RISE_IN_RUN = re.compile(rf"(?P<rise>{_NUMBER}) in (?P<run>{_NUMBER})", re.IGNORECASE)


def _ratio(text: str) -> float | None:
    """The angle of 1:1, 2H:1V or 1 in 6; None where the text is of another form.

    Raises:
        ValueError: it does not say which part is level.
    """
    if found := _RISE_IN_RUN.fullmatch(text):
        return atan2(_plain(found["rise"]), _plain(found["run"]))
    found = _RATIO.fullmatch(text)
    if found is None:
        return None
    one, two = _plain(found["one"]), _plain(found["two"])
    letters = ((found["of_one"] or "") + (found["of_two"] or "")).upper()
    if one <= 0.0 or two <= 0.0:
        raise _Odd("both parts more than 0")
    if letters == "HV" or (not letters and one == two):
        return atan2(two, one)
    if letters == "VH":
        return atan2(one, two)
    raise _Odd("which part is level: 2H:1V is 2 out for 1 down")


_MASS: dict[str, float] = {
    **dict.fromkeys(("lb", "lbs", "pound", "pounds", "#"), KILOGRAMS_PER_POUND),
    **dict.fromkeys(("klb", "klbs", "kip", "kips"), 1000.0 * KILOGRAMS_PER_POUND),
    **dict.fromkeys(("kg", "kgs", "kilogram", "kilograms"), 1.0),
    **dict.fromkeys(("tonne", "tonnes", "metric ton", "metric tons"), 1000.0),
    **dict.fromkeys(("short ton", "short tons", "us ton", "us tons"), TON_KG["short"]),
}
_TONS = ("ton", "tons", "tn")
_FORCE = {
    **{name: one * STANDARD_GRAVITY_MPS2 for name, one in _MASS.items()},
    **dict.fromkeys(("lbf",), KILOGRAMS_PER_POUND * STANDARD_GRAVITY_MPS2),
}
_PER_CENT = dict.fromkeys(("%", "percent", "per cent"), 0.01)
_DEGREES = dict.fromkeys(("deg", "degree", "degrees", "°"), DEGREE_RAD)
_SPEED: dict[str, float] = {
    **dict.fromkeys(("mph", "mi/h", "miles an hour", "miles per hour"), METERS_PER_S_PER_MPH),
    **dict.fromkeys(("km/h", "kmh", "kph"), 1.0 / 3.6),
    **dict.fromkeys(("kt", "kts", "knot", "knots"), 1852.0 / 3600.0),
    **dict.fromkeys(("ft/s", "fps"), METERS_PER_FOOT),
    **dict.fromkeys(("ft/min", "fpm"), METERS_PER_FOOT / 60.0),
    "m/s": 1.0,
}
_LENGTH: dict[str, float] = {
    **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), 1.0),
    **dict.fromkeys(("yd", "yard", "yards"), 3.0 * METERS_PER_FOOT),
    **dict.fromkeys(("ft", "foot", "feet"), METERS_PER_FOOT),
    **dict.fromkeys(("in", "inch", "inches"), INCH_M),
    "cm": 0.01,
    "mm": 0.001,
}
_TIME = {**dict.fromkeys(("s", "sec", "second", "seconds"), 1.0), **dict.fromkeys(("min", "minute", "minutes"), 60.0)}
_UNITS: dict[Kind, dict[str, float]] = {
    "length": _LENGTH,
    "size": _LENGTH,
    "mass": _MASS,
    "force": _FORCE,
    "angle": _DEGREES,
    "slope": _DEGREES,
    "speed": _SPEED,
    "pressure": {"psf": PSF_PA, "psi": 144.0 * PSF_PA, "kpa": 1000.0},
    "time": _TIME,
    "share": _PER_CENT,
    "count": {},
}
"""One of each in SI, by its name in small letters. Exact: NIST SP 811, App. B."""


def _of_unit(number: float, unit: str, kind: Kind, tons: Tons | None) -> Read:
    """A number of a unit that was named.

    Raises:
        ValueError: it is of another kind, or no unit.
    """
    low = unit.lower().rstrip(".")
    weighs = kind in ("mass", "force")
    if not unit:
        if kind in ("share", "count"):
            return Read(number)
        raise _Odd("with its unit")
    if weighs and (low in _TONS or unit == "T"):
        if tons is None:
            raise _Ton(unit)
        return Read(number * TON_KG[tons] * (STANDARD_GRAVITY_MPS2 if kind == "force" else 1.0), tons)
    if weighs and unit == "t":
        return Read(number * 1000.0 * (STANDARD_GRAVITY_MPS2 if kind == "force" else 1.0))
    if kind == "slope" and low in _PER_CENT:
        return Read(atan(number / 100.0))
    if (one := _UNITS[kind].get(low)) is not None:
        return Read(number / 100.0 if low in _PER_CENT else number * one)
    return Read(_by_the_library(number, unit, kind))


def _by_the_library(number: float, unit: str, kind: Kind) -> float:
    """Any other unit.

    Raises:
        ValueError: it is of another kind, or no unit.
    """
    if kind == "count" or re.search(r"\btons?\b", unit, re.IGNORECASE):
        raise _Odd("")
    try:
        return parse(f"{number!r} {unit}", KINDS[kind].unit)
    except ValueError:
        raise _Odd("") from None


_A_TON = re.compile(r"\d\s*(?:(?i:tons?|tn)|T)\s*$")
_KIND_OF_UNIT: dict[str, Kind] = {"m": "length", "kg": "mass", "N": "force", "rad": "slope", "m/s": "speed"}


def parse_typed(text: str, unit: str) -> float:
    """A text in a scenario file, in the SI `unit`: a number and its unit, or as people write it with its unit.

    Raises:
        ValueError: it is no quantity, of another dimension, or a ton that does not say which.
    """
    kind = _KIND_OF_UNIT.get(unit)
    if kind in ("mass", "force") and _A_TON.search(text):
        raise ValueError(f"{text!r} does not say which ton")
    try:
        return parse(text, unit)
    except ValueError:
        if kind is None:
            raise
    return in_si(text, kind).value


def tons_note(tons: Tons | None) -> tuple[str, ...]:
    """What every output says once a ton was typed."""
    return () if tons is None else (TONS_WORDS[tons],)

"""Quantities: what a field of a scenario is measured in, which values it may take, and text such as "43 ft" to SI.

Inside the program every number is SI. A scenario file may give a plain number (SI) or text with a unit; the units
library (pint) is imported only when the first text is met.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from math import inf, isfinite, pi
from typing import TYPE_CHECKING, Annotated, Any

if TYPE_CHECKING:
    from pint import UnitRegistry

STANDARD_GRAVITY_MPS2 = 9.80665
"""Standard gravity (NIST SP 811, App. B; exact in SI)."""

METERS_PER_FOOT = 0.3048
KILOGRAMS_PER_POUND = 0.45359237
METERS_PER_S_PER_MPH = 0.44704
"""Exact: NIST SP 811, App. B."""

TONNE_N = 1000.0 * STANDARD_GRAVITY_MPS2
POUND_N = KILOGRAMS_PER_POUND * STANDARD_GRAVITY_MPS2
PSI_PA = POUND_N / (METERS_PER_FOOT / 12.0) ** 2
"""Weights of a tonne and of a pound: a force is told as the weight it would hold."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What a number means: its SI unit and the closed range it may lie in."""

    unit: str
    low: float = -inf
    high: float = inf
    example: str = ""

    @property
    def allowed(self) -> str:
        """The allowed values in words, for a fault."""
        if self.unit == "1":
            kind = "a number"
        else:
            kind = f'a number in {self.unit} or text such as "{self.example or "1 " + self.unit}"'
        if self.low == -inf and self.high == inf:
            return kind
        if self.high == inf:
            return f"{kind}, at least {self.low:g}"
        if self.low == -inf:
            return f"{kind}, at most {self.high:g}"
        return f"{kind}, {self.low:g} to {self.high:g}"

    def check(self, value: float) -> bool:
        """True when `value` (SI) is finite and in range."""
        return isfinite(value) and self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Names:
    """Text that has to be one of these names; a name without its ending is good where only one begins so."""

    known: tuple[str, ...]
    of_any: tuple[str, ...] = ()
    """What may stand behind anybody's name and a dot; who there is in a lift is a rule of its own."""

    def find(self, text: str) -> str | None:
        """The whole name that `text` stands for; None when there is none, or more than one."""
        owner, dot, what = text.rpartition(".")
        whole = _whole(text, self.known)
        if whole is not None or not dot or not _OWNER.fullmatch(owner):
            return whole
        field = _whole(what, self.of_any)
        return None if field is None else f"{owner}.{field}"

    def alike(self, name: str) -> str:
        """The known name of the same thing of somebody else, or the name itself."""
        ending = name[name.rfind(".") :]
        return name if name in self.known else next((one for one in self.known if one.endswith(ending)), name)


@dataclass(frozen=True, slots=True)
class MeasuredAs:
    """A number measured in what another key of its table names."""

    key: str
    measures: tuple[tuple[str, Measure], ...]
    names: Names

    def measure(self, text: object) -> Measure | None:
        """The measure that goes with the name given at `key`; None when that names nothing."""
        name = self.names.find(text) if isinstance(text, str) else None
        return None if name is None else dict(self.measures).get(self.names.alike(name))


NAME_ENDINGS = ("N", "m", "m2", "s", "rad", "radps", "mps", "Nm", "N_per_m", "N_s_per_m", "Pa")
"""Units that a name may end in."""

_OWNER = re.compile(r"[a-z][a-z0-9_]{0,40}")


def _whole(text: str, known: tuple[str, ...]) -> str | None:
    """The one of these that a text stands for, with its ending or without."""
    if text in known:
        return text
    longer = [name for name in known if name.startswith(f"{text}_") and name[len(text) + 1 :] in NAME_ENDINGS]
    return longer[0] if len(longer) == 1 else None


TINY = 1e-6
"""Smallest value taken as positive."""

Meters = Annotated[float, Measure("m", -1e4, 1e4, "12 ft")]
PositiveMeters = Annotated[float, Measure("m", TINY, 1e4, "12 ft")]
Length = Annotated[float, Measure("m", 0.0, 1e4, "12 ft")]
Kilograms = Annotated[float, Measure("kg", 0.0, 1e6, "26.5 t")]
PositiveKilograms = Annotated[float, Measure("kg", TINY, 1e6, "26.5 t")]
Angle = Annotated[float, Measure("rad", -3.2, 3.2, "35 deg")]
Elevation = Annotated[float, Measure("rad", -0.2, 1.55, "35 deg")]
Speed = Annotated[float, Measure("m/s", TINY, 100.0, "0.35 m/s")]
WindSpeed = Annotated[float, Measure("m/s", 0.0, 60.0, "20 mph")]
AngularSpeed = Annotated[float, Measure("rad/s", TINY, 10.0, "1.5 deg/s")]
Acceleration = Annotated[float, Measure("m/s^2", TINY, 100.0, "0.2 m/s^2")]
AngularAcceleration = Annotated[float, Measure("rad/s^2", TINY, 100.0, "0.5 deg/s^2")]
Force = Annotated[float, Measure("N", 0.0, 1e8, "12 kN")]
PositiveForce = Annotated[float, Measure("N", TINY, 1e10, "12 kN")]
PositiveMoment = Annotated[float, Measure("N*m", TINY, 1e12, "1500 kN*m")]
Stiffness = Annotated[float, Measure("N/m", 1.0, 1e12, "2 MN/m")]
Pressure = Annotated[float, Measure("Pa", TINY, 1e9, "2000 psf")]
Seconds = Annotated[float, Measure("s", 0.0, 1e6, "0.5 s")]
Share = Annotated[float, Measure("1", 0.0, 1.0)]
Ratio = Annotated[float, Measure("1", 0.0, 1e6)]


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Any]:
    import pint

    registry: UnitRegistry[Any]
    try:
        registry = pint.UnitRegistry(cache_folder=":auto:")
    except OSError:  # no folder to keep the parsed unit table in: slower, not wrong
        registry = pint.UnitRegistry()
    registry.define("psf = pound_force / foot ** 2 = _ = pounds_per_square_foot")
    registry.define("tonf = 1000 * kilogram * standard_gravity = _ = tonne_force")
    return registry


_LETTERS = r"[A-Za-zµμ°%]+(?:(?:\^|\*\*)-?[1-9])?"
_QUANTITY = re.compile(
    rf"\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{{1,3}})?\s*(?:{_LETTERS}(?:(?:\s*[*/]\s*|\s+){_LETTERS})*)?\s*"
)
"""One number and its unit. The units library would also work out sums, read "1,5" as 15 and raise towers of powers."""


COMMON: dict[tuple[str, str], float] = {
    **{(unit, unit): 1.0 for unit in ("m", "kg", "s", "N", "m/s")},
    ("", "1"): 1.0,
    ("t", "kg"): 1000.0,
    ("deg", "rad"): pi / 180.0,
    ("deg/s", "rad/s"): pi / 180.0,
    ("in", "m"): 0.0254,
    ("ft", "m"): 12 * 0.0254,
    ("mph", "m/s"): METERS_PER_S_PER_MPH,
    ("kN", "N"): 1000.0,
    ("kPa", "Pa"): 1000.0,
    ("MN/m", "N/m"): 1e6,
}
"""What scenario files mostly say, as factors to the last bit those of the units library: so a start need not wait for
it. Exact: NIST SP 811, App. B."""


def _common(text: str, unit: str) -> float | None:
    """A text in one of the common units; None when it is in another."""
    number, _, given = text.strip().partition(" ")
    factor = COMMON.get((given.strip(), unit))
    return None if factor is None else float(number) * factor


@lru_cache(maxsize=4096)
def parse(text: str, unit: str) -> float:
    """`text` with a unit, such as "43 ft", as a number in the SI `unit`.

    Raises:
        ValueError: the text is no quantity, or of another dimension.
    """
    if len(text) > 60 or not _QUANTITY.fullmatch(text):
        raise ValueError(f"{text!r} is not one number and a unit")
    if (common := _common(text, unit)) is not None:
        return common
    import pint

    try:
        quantity: Any = _registry().Quantity(text)
        if quantity.unitless and unit != "1":
            raise ValueError(f"{text!r} has no unit")
        return float(quantity.to("dimensionless" if unit == "1" else unit).magnitude)
    except (pint.errors.PintError, ArithmeticError, AttributeError, TypeError, AssertionError) as error:
        raise ValueError(f"{text!r} is not in {unit}") from error
    except Exception as error:  # pint's tokenizer raises tokenize and syntax errors for odd text
        raise ValueError(f"{text!r} is not a quantity") from error

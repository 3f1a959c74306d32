"""The tape-measure numbers a first scenario is made from: what is asked, in which unit, and what stands in for it."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor, log10
from typing import Literal, NamedTuple

from simulator.scenario.measures import KILOGRAMS_PER_POUND, parse
from simulator.scenario.soils import SOILS as NAMED

System = Literal["metric", "us"]
Answer = float | str
PLAIN_UNITS: dict[str, dict[str, str]] = {
    "metric": {"m": "m", "kg": "t", "rad": "deg", "1": "dimensionless"},
    "us": {"m": "ft", "kg": "lb", "rad": "deg", "1": "dimensionless"},
}
"""What a plain number means."""


class Soil(NamedTuple):
    """Ground under the floats."""

    allowable_Pa: float
    steepest_rad: float
    source: str


def _soil(name: str, source: str) -> Soil:
    """A soil with the numbers that every room has for it."""
    found = NAMED[name]
    return Soil(found["allowable_bearing"], found["steepest_angle"], source)


SOILS: dict[str, Soil] = {
    "rock": Soil(
        NAMED["crystalline bedrock"]["allowable_bearing"],
        1.4835,
        "IBC 2012 Table 1806.2, crystalline bedrock; a rock cut taken at 85 deg is an assumption",
    ),
    "gravel": _soil("sandy gravel", "IBC 2012 Table 1806.2, sandy gravel; 29 CFR 1926 Subpart P App. B, type C"),
    "sand": _soil("sand", "IBC 2012 Table 1806.2, sand, silty or clayey gravel; Subpart P App. B, type C"),
    "clay": _soil("clay", "IBC 2012 Table 1806.2, clay and silt; Subpart P App. B, type C"),
}
"""Read in secondary copies; the ground that is there is judged by a competent person."""


class Question(NamedTuple):
    """One number or choice."""

    key: str
    words: str
    unit: str
    """SI unit; empty for a choice."""
    default: Answer | None
    """None: worked out from the other answers."""
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()

    def allowed(self, system: System) -> str:
        """What may be answered, in words."""
        if self.choices:
            return " or ".join(self.choices)
        if self.unit == "1":
            return f"{self.low:g} to {self.high:g}"
        plain = PLAIN_UNITS[system][self.unit]
        one = _one(plain, self.unit)
        low, high = _rounded(self.low / one, ceil), _rounded(self.high / one, floor)
        return f"{low:.10g} to {high:.10g} {plain}, or a number with its unit"

    def usual(self, system: System) -> str:
        """What stands for no answer, in words."""
        if self.default is None or isinstance(self.default, str):
            return self.default or "worked out"
        if self.unit == "1":
            return f"{self.default:g}"
        plain = PLAIN_UNITS[system][self.unit]
        value = self.default / _one(plain, self.unit)
        return f"{round(value, 4 - len(str(int(value)))):.10g} {plain}"

    def read(self, text: str, system: System) -> Answer:
        """An answer in SI.

        Raises:
            ValueError: with what is allowed.
        """
        text = text.strip()
        if self.choices:
            if text not in self.choices:
                raise ValueError(self.allowed(system))
            return text
        try:
            plain = text.replace("+", "", 1).replace("-", "", 1).replace(".", "", 1).isdigit()
            value = parse(f"{text} {PLAIN_UNITS[system][self.unit]}" if plain and self.unit != "1" else text, self.unit)
        except ValueError as error:
            raise ValueError(self.allowed(system)) from error
        if not self.low <= value <= self.high:
            raise ValueError(self.allowed(system))
        return value


def _one(plain: str, unit: str) -> float:
    """One of a unit in SI; a range is shown with no wait for the units library."""
    return KILOGRAMS_PER_POUND if plain == "lb" else parse(f"1 {plain}", unit)


def _rounded(value: float, inward: Callable[[float], int]) -> float:
    """To three digits, into the range."""
    if value <= 0.0:
        return 0.0
    step = 10.0 ** (floor(log10(value)) - 2)
    return inward(round(value / step, 6)) * step


ATTITUDES = ("on_wheels", "top_to_ravine", "top_to_road")
QUESTIONS: tuple[Question, ...] = (
    Question(
        "nose_side",
        "Standing in the ravine and looking at the road, the trailer's nose is on the",
        "",
        "left",
        choices=("left", "right"),
    ),
    Question("attitude", "The trailer lies", "", "on_wheels", choices=ATTITUDES),
    Question("length", "Trailer length", "m", 13.2, 3.0, 30.0),
    Question("width", "Trailer width", "m", 2.6, 1.0, 5.0),
    Question("height", "Trailer height on its wheels", "m", 4.0, 1.0, 6.0),
    Question("weight", "Trailer weight with its load", "kg", 18e3, 500.0, 100e3),
    Question("cg_from_front", "Front end to center of gravity", "m", None, 0.5, 29.0),
    Question("nose_pick", "Front end to nose pick", "m", None, 0.0, 29.0),
    Question("tail_pick", "Rear end to tail pick", "m", None, 0.0, 29.0),
    Question("rigging_height", "Pick to hook, rigging tight", "m", 2.1, 0.3, 10.0),
    Question("depth", "Road down to the bed under the trailer", "m", 7.0, 0.3, 60.0),
    Question("trailer_out", "Middle of the road units out to the middle of the trailer", "m", 7.6, 2.0, 30.0),
    Question("edge_out", "Middle of the road units out to the slope's edge", "m", 4.65, 1.5, 20.0),
    Question("face_run", "Slope's edge out to its toe, level", "m", 0.65, 0.05, 30.0),
    Question("ground", "Ground under the floats", "", "gravel", choices=tuple(SOILS)),
    Question("gap", "Tailboard to tailboard", "m", None, 2.0, 40.0),
    Question("lane_out", "Middle of the road units to the lane that traffic still uses", "m", None, 3.0, 60.0),
    Question("unit_weight", "Weight of one unit", "kg", 38e3, 5e3, 120e3),
    Question("boom_longest", "Longest boom, foot pin to tip", "m", 14.5, 4.0, 40.0),
    Question("boom_shortest", "Shortest boom, foot pin to tip", "m", 6.7, 2.0, 30.0),
    Question("boom_highest", "Highest elevation", "rad", 1.0821, 0.5, 1.45),
    Question("deck_height", "Deck over the road", "m", 1.35, 0.5, 2.5),
    Question("float_spread", "Float to float across, middles of the pads", "m", 7.0, 2.0, 12.0),
    Question("pad_side", "Side of a square pad", "m", 0.75, 0.2, 3.0),
    Question("parts", "Parts of line", "1", 2.0, 1.0, 12.0),
    Question("rope", "Rope on the drum less two wraps", "m", 66.0, 10.0, 300.0),
)

"""A drill as data: steps, what is said, what ends a step, what raises a caution or a stop, what costs points.

Conditions name readings by the one table of channels, so every number that can be recorded can be asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from simulator.readings import CHANNELS, UnitReadings
from simulator.scenario.measures import Measure, MeasuredAs, Meters, Names, Seconds
from simulator.scenario.trailer import Vector

READING_NAMES = Names(tuple(channel.name for channel in CHANNELS), UnitReadings._fields)
_MEASURES = tuple(
    (channel.name, Measure("1", 0.0, 1.0) if channel.unit == "bool" else Measure(channel.unit)) for channel in CHANNELS
)

ReadingName = Annotated[str, READING_NAMES]
"""A channel's name, such as `nose.hook_load` or `nose_1.slack`, with or without what it is measured in."""
ReadingValue = Annotated[float, MeasuredAs("reading", _MEASURES, READING_NAMES)]
"""A number in the channel's unit, or text with a unit; 1 and 0 for yes and no."""
Points = Annotated[float, Measure("1", 0.0, 100.0)]
GustSpeed = Annotated[float, Measure("m/s", 0.0, 40.0)]
GustSeconds = Annotated[float, Measure("s", 0.1, 60.0)]
"""Of a gust that a drill sends: as an instructor's."""

Seat = str
"""A unit's name, `both` (of a lone unit: that unit) or `none`."""
EVERYBODY, NOBODY = "both", "none"
Comparison = Literal["<", "<=", ">", ">=", "within", "beyond"]
"""`within` and `beyond` look at the size alone, whichever way it points."""

Work = Literal[
    "wait",
    "plumb the tips",
    "take slack",
    "take line 1",
    "take line 2",
    "lighten",
    "center",
    "lift off",
    "hold",
    "name the load",
    "raise",
    "cross",
    "steady",
    "turn",
    "lower",
    "slack off",
]
"""What hands do in a step: the coach asks for it, and an automatic operator does it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One reading compared with a value."""

    reading: ReadingName
    """Which reading."""
    comparison: Comparison
    """How it is compared."""
    value: ReadingValue
    """With what."""
    hold_s: Seconds = 0.0
    """How long it has to hold without a break."""
    change: bool = False
    """True: not the reading itself, but how far it has come since the step began. `time` then is time in the step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Condition):
    """While it holds there is a caution; a stop is called each time it comes to hold."""

    say: str
    """What is said then."""
    at: Literal["caution", "stop"] = "caution"
    """Caution or stop."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(Condition):
    """While it holds, points are lost; once, or with every second."""

    why: str
    """What it is for."""
    points: Points
    """How many are lost."""
    per: Literal["once", "second"] = "second"
    """Once, or with every second."""
    who: Seat = EVERYBODY
    """Whose points; `both` takes them from the two of them together."""
    most: Points = 100.0
    """Points this mark takes in one step at most."""
    only_while: tuple[Condition, ...] = ()
    """Counted only while all of these hold too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the operator of one unit is told."""

    unit: str
    """Its name."""
    text: str
    """What is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a drill."""

    title: str
    """What the step is called."""
    work: Work
    """What hands do in it."""
    moves: Seat = EVERYBODY
    """Whose turn it is; a move by anyone else is out of turn."""
    to: tuple[Told, ...] = ()
    """What operators are told when the step begins; in a file `to = { nose = "...", tail = "..." }`."""
    until: tuple[Condition, ...]
    """What ends the step."""
    match: Literal["all", "any"] = "all"
    """Whether every condition of `until` has to hold, or one of them."""
    limits: tuple[Limit, ...] = ()
    """In this step."""
    marks: tuple[Mark, ...] = ()
    """In this step."""
    to_y_m: Meters | None = None
    """Of a step whose work is to cross: where across the road the load's middle is carried to; left out: the landing.
    A load is hauled back to where it came from, or carried anywhere inside the reach."""
    gust_mps: GustSpeed = 0.0
    """A gust that comes when the step begins: so much more than the wind that blows, and where it blows to."""
    gust_lasts_s: GustSeconds = 4.0
    """How long it lasts; about half a sway period puts most into the sway."""
    way_out: str | None = None
    """What the pair does from here if it has to give up."""
    next: str | None = None
    """Title of the step that follows; left out: the one below; `end`: none."""
    if_set_down: str | None = None
    """Of a step whose work is to name the load: title of the step that follows when the pair sets it down; left out:
    the drill ends there."""

    def told(self, unit: str) -> str:
        """What the operator of a unit is told; nothing if it is not named."""
        return next((one.text for one in self.to if one.unit == unit), "")


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenLoad:
    """A load that a drill may hide in the trailer."""

    mass_factor: Annotated[float, Measure("1", 0.5, 2.0)] = 1.0
    """True mass over stated mass."""
    cg_m: Vector = (0.0, 0.0, 0.0)
    """Added to the stated CG, in the trailer's own axes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """An exercise on a lift."""

    aim: str
    """What is learned."""
    steps: tuple[Step, ...]
    limits: tuple[Limit, ...] = ()
    """In every step."""
    marks: tuple[Mark, ...] = ()
    """In every step."""
    standing_marks: bool = True
    """Count the marks that come from the scenario's own [limits] as well."""
    pass_points: Points = 60.0
    """Points left that pass."""
    loads: tuple[HiddenLoad, ...] = ()
    """One of them is hidden in the trailer, drawn by the seed; none: the trailer's own hidden numbers hold."""
    longest_s: Seconds = 900.0
    """A drill not done by then is over."""

"""What the drive screen needs of a running lift, and how one is begun for the people who sit down."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple, Protocol

from simulator.attempt import Attempt, Operator
from simulator.drill.partner import STAGES, Partner
from simulator.engine.commands import Commands
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.unit import Unit
from simulator.window.bindings import SEATS, Seat, end_of_seat
from simulator.words import say, table

Who = Literal["two", "left", "right", "demo"]
"""Two people; one person in the left or right seat; nobody."""
MOVING_SHARE = 0.03
"""Share of a function's top speed from which a unit is said to move."""


class Lift(Protocol):
    """A running lift, such as `Attempt`."""

    operators: list[Operator | None]
    readings: Readings
    stopped: bool

    @property
    def ended(self) -> bool:
        """Landed, or an incident."""
        ...

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by so many fixed steps."""
        ...

    def stop(self) -> None:
        """Hold both units."""
        ...

    def resume(self) -> None:
        """Let both go on."""
        ...


Begin = Callable[[Description, list[Operator | None]], Lift]
"""Starts a lift with an automatic operator, or none, for nose and tail."""


class Choice(NamedTuple):
    """What was chosen on the start screen."""

    description: Description
    who: Who


def begin_attempt(description: Description, operators: list[Operator | None]) -> Lift:
    """The usual way to begin."""
    return Attempt(description, operators)


def partners(description: Description, who: Who) -> list[Operator | None]:
    """Automatic operators for the seats nobody sits in, nose and tail."""
    people: dict[Who, tuple[Seat, ...]] = {"two": SEATS, "left": ("left",), "right": ("right",), "demo": ()}
    taken = {end_of_seat(description, seat) for seat in people[who]}
    return [None if name in taken else Partner(description, end) for end, name in enumerate(("nose", "tail"))]


class Stage(NamedTuple):
    """Where an automatic operator is in its work."""

    number: int
    """From 1."""
    last: int
    title: str


def stage_of(operators: list[Operator | None]) -> Stage | None:
    """The stage of the first automatic operator; none if people have both units."""
    for operator in operators:
        if isinstance(operator, Partner):
            name = STAGES[operator.stage]
            title = table().get("stage." + name.replace(" ", "_"), name)
            return Stage(operator.stage + 1, len(STAGES), title)
    return None


def is_moving(unit: Unit, readings: UnitReadings) -> bool:
    """True while any of its functions runs."""
    boom = unit.boom
    shares = (
        readings.hoist_speed_mps / unit.hoist.speed_mps,
        readings.telescope_speed_mps / boom.telescope_speed_mps,
        readings.elevation_speed_radps / boom.elevation_speed_radps,
        readings.slew_speed_radps / boom.slew_speed_radps,
    )
    return any(abs(share) > MOVING_SHARE for share in shares)


def ended_words(lift: Lift) -> str:
    """How a lift ended, in one sentence."""
    if lift.readings.load.landed:
        return say("summary.landed")
    incidents = getattr(lift, "incidents", [])
    if incidents:
        return str(incidents[0].why)
    return say("summary.not_landed")

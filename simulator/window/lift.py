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
from simulator.window.alert_words import as_seen
from simulator.window.bindings import SEATS, Seat, end_of_seat
from simulator.window.looks import capital
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


def people(who: Who) -> tuple[Seat, ...]:
    """The seats that people sit in."""
    taken: dict[Who, tuple[Seat, ...]] = {"two": SEATS, "left": ("left",), "right": ("right",), "demo": ()}
    return taken[who]


def partners(description: Description, who: Who) -> list[Operator | None]:
    """Automatic operators for the seats nobody sits in, nose and tail."""
    taken = {end_of_seat(description, seat) for seat in people(who)}
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


class DrillShown(NamedTuple):
    """What the coach strip shows of a drill."""

    stage: Stage
    prompt: str
    score: str


def drill_shown(lift: Lift) -> DrillShown | None:
    """The drill that is driven, if one is."""
    session = lift.session if isinstance(lift, Attempt) else None
    if session is None:
        return None
    stage = Stage(session.index + 1, len(session.drill.steps), session.step.title)
    return DrillShown(stage, session.prompt.sentence if session.prompt else "", f"{session.score.together:.0f}")


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


def ended_words(lift: Lift, ends: tuple[int, int]) -> str:
    """How a lift ended, in one sentence; `ends` are the units seen left and right."""
    if lift.readings.load.landed:
        return say("summary.landed")
    incidents = getattr(lift, "incidents", [])
    if incidents:
        return capital(as_seen(f"{incidents[0].what}: {incidents[0].why}.", ends))
    return say("summary.not_landed")

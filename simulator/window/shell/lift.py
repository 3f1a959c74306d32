"""What the drive screen needs of a running lift, and how one is begun for the people who sit down."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple, Protocol

from simulator.attempt import Attempt, Operator
from simulator.drill.amounts import retold
from simulator.drill.clumsy import operator_of
from simulator.drill.instruction import Instruction
from simulator.drill.judge import Loss, worst_said
from simulator.drill.partner import STAGES, Partner
from simulator.drill.session import Caution, Session
from simulator.engine.commands import Commands
from simulator.events import Happening
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import END_NAMES, Description
from simulator.scenario.unit import Unit
from simulator.window.hands.bindings import SEATS, Seat, end_of_seat
from simulator.window.kit.measures_shown import System
from simulator.window.readouts.event_words import event_text
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
    called_by: str
    """Who called the stop order."""
    acknowledged: set[int]
    """The ends whose operator has heard it."""
    is_paused: bool
    """By the instructor."""
    hidden: frozenset[str]
    """What the instructor has hidden: coach, roses, loads."""

    @property
    def ended(self) -> bool:
        """Landed, or an incident."""
        ...

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by so many fixed steps."""
        ...

    def stop(self, *, by: str = "") -> None:
        """A stop order: both units hold until both have acknowledged."""
        ...

    def acknowledge(self, end: int) -> None:
        """A seat has heard the stop order."""
        ...

    def instruct(self, what: Instruction) -> None:
        """The instructor's hand."""
        ...


class OutOfReach:
    """A lift that nobody can stop or change any more: it is only shown."""

    operators: list[Operator | None]

    def __init__(self, operators: list[Operator | None] | None = None) -> None:
        self.operators = operators or [None, None]
        self.stopped = self.is_paused = False
        self.called_by = ""
        self.acknowledged: set[int] = set()
        self.hidden: frozenset[str] = frozenset()

    @property
    def stage(self) -> Stage | None:
        """The step it shows, if that is known."""
        return None

    def stop(self, *, by: str = "") -> None:
        """What is past cannot be stopped."""

    def acknowledge(self, end: int) -> None:
        """Nothing was stopped."""

    def instruct(self, what: Instruction) -> None:
        """Nor changed."""


Begin = Callable[[Description, list[Operator | None]], Lift]
"""Starts a lift with an automatic operator, or none, for nose and tail."""


class Choice(NamedTuple):
    """What was chosen on the start screen."""

    description: Description
    who: Who
    partner: str = "able"
    """How the seat that nobody sits in is driven, of `drill.clumsy.WAYS`; in a demonstration the right one."""


def begin_attempt(description: Description, operators: list[Operator | None]) -> Lift:
    """The usual way to begin."""
    return Attempt(description, operators)


def people(who: Who) -> tuple[Seat, ...]:
    """The seats that people sit in."""
    taken: dict[Who, tuple[Seat, ...]] = {"two": SEATS, "left": ("left",), "right": ("right",), "demo": ()}
    return taken[who]


def partners(description: Description, who: Who, partner: str = "able") -> list[Operator | None]:
    """Automatic operators for the seats nobody sits in, nose and tail.

    Args:
        description: the lift.
        who: who sits at the controls.
        partner: how the seat beside one person is driven, of `drill.clumsy.WAYS`; in a demonstration the right one.
    """
    taken = {end_of_seat(description, seat) for seat in people(who)}
    other = end_of_seat(description, "left" if who == "right" else "right")
    return [
        None if name in taken else operator_of(description, end, partner if name == other else "able")
        for end, name in enumerate(END_NAMES)
    ]


class Stage(NamedTuple):
    """Where an automatic operator is in its work."""

    number: int
    """From 1."""
    last: int
    title: str


def stage_of(lift: Lift) -> Stage | None:
    """The step of a lift that is only shown, or the stage of the first automatic operator; none if people have both."""
    if isinstance(lift, OutOfReach) and lift.stage is not None:
        return lift.stage
    for operator in lift.operators:
        if isinstance(operator, Partner):
            name = STAGES[operator.stage]
            title = table().get("stage." + name.replace(" ", "_"), name)
            return Stage(operator.stage + 1, len(STAGES), title)
    return None


def stage_prompt(lift: Lift, ends: tuple[int, ...] = (0, 1), moving: tuple[bool, ...] = (True, True)) -> str:
    """What a person beside an automatic operator is asked to do at its stage; of a demonstration, that it is one.

    Args:
        lift: the lift.
        ends: the units seen left and right.
        moving: which of them move; an automatic one that rests has done its part, and only the person is asked.
    """
    if all(operator is not None for operator in lift.operators):
        return say("coach.demo_prompt")
    for end, operator in enumerate(lift.operators):
        if isinstance(operator, Partner):
            stage, side = STAGES[operator.stage].replace(" ", "_"), ends.index(end)
            alone = table().get(f"coach.alone_{stage}", "")
            if alone and not moving[side]:
                return alone.format(side=say(("unit.left_call", "unit.right_call")[1 - side]))
            return table().get(f"coach.stage_{stage}", "")
    return ""


class DrillShown(NamedTuple):
    """What the coach strip shows of a drill."""

    stage: Stage
    prompt: str
    score: str
    cautions: tuple[Caution, ...]


def drill_shown(lift: Lift) -> DrillShown | None:
    """The drill that is driven, if one is."""
    session = lift.session if isinstance(lift, Attempt) else None
    if session is None:
        return None
    stage = Stage(session.index + 1, len(session.drill.steps), session.title)
    prompt = session.prompt.sentence if session.prompt else ""
    cautions = session.cautions if session.coach_shown and not session.done else ()
    return DrillShown(stage, prompt, f"{session.score.together:.0f}", cautions)


def is_off_turn(lift: Lift, end: int) -> bool:
    """True in a step of a drill that somebody else moves in, or nobody, and when the drill is done."""
    session = lift.session if isinstance(lift, Attempt) else None
    return session is not None and (session.done or session.step.moves not in ("both", END_NAMES[end]))


def score_words(session: Session, ends: tuple[int, int]) -> str:
    """A drill's points; `ends` are the units seen left and right."""
    nose, tail, together = session.result()[0]
    seats = nose, tail
    left, right = (f"{seats[end]:.0f}" for end in ends)
    return say("judge.points", left=left, right=right, together=f"{together:.0f}")


def losses_shown(session: Session, ends: tuple[int, int], *, us: bool, most: int = 3) -> tuple[str, ...]:
    """What cost most, each with the worst value it came to in the user's units."""
    groups: dict[tuple[str, str, str], list[Loss]] = {}
    for loss in session.result()[1]:
        groups.setdefault((loss.rule, loss.who, loss.reading), []).append(loss)
    rows = sorted(groups.values(), key=lambda same: -sum(loss.points for loss in same))
    return tuple(_lost(same, ends, us=us) for same in rows[:most])


def _lost(same: list[Loss], ends: tuple[int, int], *, us: bool) -> str:
    first, points = same[0], f"{sum(loss.points for loss in same):.0f}"
    side = "both" if first.who == "both" else ("left", "right")[ends.index(END_NAMES.index(first.who))]
    values = {"points": points, "who": say(f"judge.{side}"), "rule": retold(first.rule, us=us)}
    if first.reading.partition(".")[0] not in (*END_NAMES, "load") or first.reading.endswith(".commands"):
        return say("judge.loss_plain", **values)
    worst = max((loss.value for loss in same), key=abs)
    return say("judge.loss", worst=worst_said(first.reading, worst, us=us), **values)


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


def incident_of(lift: Lift) -> Happening | None:
    """What ended a lift; none if nothing did."""
    incidents = getattr(lift, "incidents", [])
    return incidents[0].happening if incidents else None


def ended_words(lift: Lift, ends: tuple[int, int], system: System) -> str:
    """How a lift ended, in one sentence; `ends` are the units seen left and right."""
    if lift.readings.load.landed:
        return say("summary.landed")
    incident = incident_of(lift)
    return f"{event_text(incident, ends, system)}." if incident else say("summary.not_landed")

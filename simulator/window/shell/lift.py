"""What the drive screen needs of a running lift, and how one is begun for the people who sit down."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, NamedTuple, Protocol

from simulator.attempt import Attempt, Operator
from simulator.drill.clumsy import operator_of
from simulator.drill.instruction import Instruction
from simulator.drill.judge import Loss, worst_said
from simulator.drill.partner import Partner
from simulator.drill.session import Caution, Session
from simulator.engine.commands import Commands
from simulator.events import Happening
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.window.hands.bindings import Seat, seat_of, seats_of
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen, SeenUnit, seen_of
from simulator.window.readouts.event_texts import event_text
from simulator.words import known, say

Who = Literal["two", "left", "right", "demo"]
"""Somebody in every seat; one person in the left or right seat; nobody."""
MOVING_SHARE = 0.03
"""Share of a function's top speed from which a unit is said to move."""


class Lift(Protocol):
    """A running lift, such as `Attempt`."""

    operators: list[Operator | None]
    stopped: bool
    called_by: str
    """Who called the stop order."""
    acknowledged: set[int]
    """The units, by place, whose operator has heard it."""
    is_paused: bool
    """By the instructor."""
    hidden: frozenset[str]
    """What the instructor has hidden: coach, roses, loads."""

    @property
    def readings(self) -> Readings:
        """Of the last moment."""
        ...

    @property
    def ended(self) -> bool:
        """Landed, or an incident."""
        ...

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by so many fixed steps."""
        ...

    def stop(self, *, by: str = "") -> None:
        """A stop order: every unit holds until all seats have acknowledged."""
        ...

    def acknowledge(self, place: int) -> None:
        """The seat of a unit has heard the stop order."""
        ...

    def instruct(self, what: Instruction) -> None:
        """The instructor's hand."""
        ...


class OutOfReach:
    """A lift that nobody can stop or change any more: it is only shown."""

    operators: list[Operator | None]

    def __init__(self, operators: list[Operator | None] | None = None) -> None:
        self.operators = [] if operators is None else operators
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

    def acknowledge(self, place: int) -> None:
        """Nothing was stopped."""

    def instruct(self, what: Instruction) -> None:
        """Nor changed."""


Begin = Callable[[Description, list[Operator | None]], Lift]
"""Starts a lift with an automatic operator, or none, for each unit."""


class Choice(NamedTuple):
    """What was chosen on the start screen."""

    description: Description
    who: Who
    partner: str = "able"
    """How the seat that nobody sits in is driven, of `drill.clumsy.WAYS`; in a demonstration the right one."""


def begin_attempt(description: Description, operators: list[Operator | None]) -> Lift:
    """The usual way to begin."""
    return Attempt(description, operators)


def people(who: Who, description: Description) -> tuple[Seat, ...]:
    """The seats that people sit in; of one unit alone there is one, whoever sits down."""
    if who == "demo":
        return ()
    seats = seats_of(seen_of(description))
    return tuple(seat for seat in seats if who in ("two", seat)) or seats


def partners(description: Description, who: Who, partner: str = "able") -> list[Operator | None]:
    """Automatic operators for the seats nobody sits in, unit by unit.

    Args:
        description: the lift.
        who: who sits at the controls.
        partner: how the seat beside one person is driven, of `drill.clumsy.WAYS`; in a demonstration the right one.
    """
    taken, units = people(who, description), seen_of(description).units
    beside = "left" if who == "right" else "right"
    operators: list[Operator | None] = [None] * len(units)
    for unit in units:
        if seat_of(unit) not in taken:
            way = partner if unit.is_alone or seat_of(unit) == beside else "able"
            operators[unit.place] = operator_of(description, unit.place, way)
    return operators


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
            name = operator.stages[operator.stage]
            title = known("stage." + name.replace(" ", "_"), name)
            return Stage(operator.stage + 1, len(operator.stages), title)
    return None


def turns_it_over(lift: Lift) -> bool:
    """The step of the drill, or the stage of an automatic operator, is the turn of the load in the air."""
    session = lift.session if isinstance(lift, Attempt) else None
    if session is not None:
        return not session.done and session.step.work.startswith("turn")
    stages = [operator.stages[operator.stage] for operator in lift.operators if isinstance(operator, Partner)]
    return any(stage.startswith("turn") for stage in stages)


def is_told_by_step(lift: Lift) -> bool:
    """A drill's step or an automatic operator's stage says what is done now."""
    has_session = isinstance(lift, Attempt) and lift.session is not None
    return has_session or any(isinstance(operator, Partner) for operator in lift.operators)


def stage_prompt(lift: Lift, seen: Seen, moving: tuple[bool, ...], *, onto_deck: bool = False) -> str:
    """What a person beside an automatic operator is asked to do at its stage; of a demonstration, that it is one.

    Args:
        lift: the lift.
        seen: how its units are seen.
        moving: which of them move, from left to right; an automatic one that rests has done its part, and only the
            person is asked.
        onto_deck: a flat trailer waits for the load.
    """
    if all(operator is not None for operator in lift.operators):
        return say("coach.demo_prompt")
    for place, operator in enumerate(lift.operators):
        if isinstance(operator, Partner):
            stage, own = operator.stages[operator.stage].replace(" ", "_"), seen.of(place)
            person = next((unit for unit in seen.units if lift.operators[unit.place] is None), None)
            stage += "_flat" if stage == "lower" and onto_deck else ""
            alone = known(f"coach.alone_{stage}", "")
            if alone and person is not None and not moving[seen.units.index(own)]:
                return alone.format(side=person.said("call"))
            return seen.say(f"coach.stage_{stage}") if known(f"coach.stage_{stage}") else ""
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


def is_off_turn(lift: Lift, unit: str) -> bool:
    """True in a step of a drill that somebody else moves in, or nobody, and when the drill is done."""
    session = lift.session if isinstance(lift, Attempt) else None
    return session is not None and (session.done or session.step.moves not in ("both", unit))


def score_words(session: Session, seen: Seen) -> str:
    """A drill's points."""
    grade = session.result()[0]
    points = {unit.where: f"{grade[unit.place]:.0f}" for unit in seen.units}
    return seen.say("judge.points", together=f"{grade.together:.0f}", **points)


def losses_shown(session: Session, seen: Seen, *, us: bool, most: int = 3) -> tuple[str, ...]:
    """What cost most, each with the worst value it came to in the user's units."""
    groups: dict[tuple[str, str, str], list[Loss]] = {}
    for loss in session.result()[1]:
        groups.setdefault((loss.rule, loss.who, loss.reading), []).append(loss)
    rows = sorted(groups.values(), key=lambda same: -sum(loss.points for loss in same))
    return tuple(_lost(same, seen, us=us) for same in rows[:most])


def _lost(same: list[Loss], seen: Seen, *, us: bool) -> str:
    first, points = same[0], f"{sum(loss.points for loss in same):.0f}"
    unit = seen.owner(first.who)
    who = "both" if unit is None else unit.where
    values = {"points": points, "who": say(f"judge.{who}"), "rule": retold(first.rule, us=us)}
    owner = first.reading.partition(".")[0]
    if (owner != "load" and seen.owner(owner) is None) or first.reading.endswith(".commands"):
        return say("judge.loss_plain", **values)
    worst = max((loss.value for loss in same), key=abs)
    return say("judge.loss", worst=worst_said(first.reading, worst, us=us), **values)


def unit_moves(description: Description, readings: Readings, seen: SeenUnit) -> bool:
    """True while any function of a unit runs, or any of its lines."""
    unit, now = description.units[seen.place], readings.units[seen.place]
    lines = zip(unit.lines, (readings.lines[line.place] for line in seen.unit.lines), strict=True)
    boom = unit.boom
    shares = (
        *(at.hoist_speed_mps / line.hoist.speed_mps for line, at in lines),
        now.telescope_speed_mps / boom.telescope_speed_mps,
        now.elevation_speed_radps / boom.elevation_speed_radps,
        now.slew_speed_radps / boom.slew_speed_radps,
    )
    return any(abs(share) > MOVING_SHARE for share in shares)


def incident_of(lift: Lift) -> Happening | None:
    """What ended a lift; none if nothing did."""
    incidents = getattr(lift, "incidents", [])
    return incidents[0].happening if incidents else None


def landed_words(description: Description) -> str:
    """On what it was set down."""
    return say("summary.landed" if description.landing.flat is None else "summary.landed_flat")


def ended_words(lift: Lift, seen: Seen, system: System) -> str:
    """How a lift ended that has not landed, in one sentence."""
    incident = incident_of(lift)
    return f"{event_text(incident, seen, system)}." if incident else say("summary.not_landed")

"""One lift, from time zero to its end: commands go in, readings come out to whoever looks on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

from simulator.drill.instruction import SHOWN_OR_HIDDEN, SLACKEN, Instruction, from_fields, refuse_wild
from simulator.drill.naming import Answer, answer_from, drawn_load
from simulator.drill.session import Session
from simulator.engine.command_log import Given
from simulator.engine.commands import Commands, Hands, hands_given, still
from simulator.engine.incidents import Incident
from simulator.engine.surroundings import LOOKS_PER_S, Surroundings
from simulator.events import Event, Fields, Happening
from simulator.readings import Gaps, Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.world import World


class Operator(Protocol):
    """Somebody's hands, by readings alone."""

    def command(self, readings: Readings) -> Hands:
        """What they do now."""
        ...


Observer = Callable[[Readings], None]
ANSWERED_S, PERSON_ANSWERS_S = 3.0, 30.0
"""Automatic operators name their load after so long; beside a person, who is to do it, after so long."""
LIFTED = "lifted"
"""What is noted when a stop order ends."""


class Witness(Protocol):
    """Somebody who sees all of a lift, such as a recorder."""

    def on_readings(self, readings: Readings) -> None:
        """Readings, at the steady rate."""
        ...

    def on_commands(self, step: int, commands: Commands) -> None:
        """Other commands hold from `step` on."""
        ...

    def on_event(self, event: Event) -> None:
        """Something happened."""
        ...


@dataclass
class Attempt:
    """A running lift. `operators` may hold an automatic operator for each unit; people have the others.

    `in_bulk`: nobody looks between readings, and steps are taken many at a time, to the same bits.
    """

    description: Description
    operators: list[Operator | None] = field(default_factory=list)
    in_bulk: bool = False

    def __post_init__(self) -> None:
        self.description = drawn_load(self.description)
        self.rig = rig_of(self.description)
        self.operators.extend([None] * (len(self.rig.units) - len(self.operators)))
        if len(self.operators) > len(self.rig.units):
            given, names = len(self.operators), ", ".join(self.rig.unit_names)
            raise ValueError(f"operators: given {given}, allowed: up to {len(self.rig.units)}, one a unit ({names})")
        self.world = World(self.description, in_bulk=self.in_bulk)
        self.simulation = self.world.simulation
        self.every = self.world.every
        """Steps from one set of readings to the next."""
        self.observers: list[Observer] = []
        self._changes = Given(self.rig)
        self.witnesses: list[Witness] = []
        self.events: list[Event] = []
        """Incidents, stop orders, an automatic operator's stages, and what others noted."""
        self.stopped = False
        self.acknowledged: set[int] = set()
        """Seats that have said they heard the stop order."""
        self.called_by = ""
        """Who called the last stop order, if they said."""
        self.hidden: frozenset[str] = frozenset()
        """What the instructor has hidden from the pair: coach, roses, loads."""
        self.is_paused = False
        """The instructor's pause: whoever advances the lift looks at it."""
        self._incidents_noted, self._is_tied = 0, self.simulation.moving.holding.is_tied
        self._doing = [""] * len(self.rig.units)
        self.watchers: list[tuple[Observer, int]] = []
        """Observers at rates of their own, each with its steps from one look to the next."""
        self._still = self._given = self._asked = still(self.rig)
        self._hands: list[Hands | None] = [None] * len(self.rig.units)
        self._gave: tuple[Commands | None, list[Hands | None]] = None, []  # people and operators, when last asked
        self.ask_every = self.every * self.description.engine.asked_every
        """Steps from one question to automatic operators to the next."""
        self._readings: Readings | None = None
        """Of the last moment at the steady rate, once somebody has asked for them."""
        self._begin_to_look()
        has_drill = self.description.drill is not None
        self.session: Session | None = Session(self.description, self.readings) if has_drill else None
        """The drill, if the lift has one."""

    @property
    def changes(self) -> list[tuple[int, Commands]]:
        """Every change of commands, with the step from which it held."""
        return list(self._changes)

    @property
    def incidents(self) -> list[Incident]:
        """What ended the lift, if anything did."""
        return self.simulation.incidents

    @property
    def readings(self) -> Readings:
        """Of the last moment at the steady rate."""
        if self._readings is None:
            self._readings = self.world.read(self._gaps)
        return self._readings

    @property
    def ended(self) -> bool:
        """Landed, or an incident; in a drill the drill's end, not the landing."""
        if self.session is not None:
            return bool(self.incidents) or self.session.over
        return bool(self.incidents) or (self._may_have_landed and self.readings.load.landed)

    @property
    def asked_per_s(self) -> float:
        """How often automatic operators are asked."""
        return self.description.engine.steps_per_s / self.ask_every

    @property
    def state_hash(self) -> str:
        """Hash of the engine's state."""
        return self.simulation.state_hash

    def watch_closely(self, observer: Observer, per_s: float) -> None:
        """Show `observer` readings at its own rate, up to every step."""
        self.watchers.append((observer, max(1, round(self.description.engine.steps_per_s / max(per_s, 1e-3)))))
        observer(self.readings)

    def stop(self, *, by: str = "") -> None:
        """A stop order from anyone: all units hold until all seats have acknowledged, or `resume`."""
        if not self.stopped:
            units = {"units": len(self.rig.units)}
            called = Happening("stop order", "stop_called", {"by": by, **units}) if by else None
            self.note(called or Happening("stop order", "stop", units))
            if self.session is not None:
                self.session.judge.stop_called(self.readings, reached=self.session.stop_reached)
        self.stopped, self.called_by = True, by
        self.acknowledged.clear()

    def acknowledge(self, end: int) -> None:
        """A seat has heard the stop order; an automatic operator in the other seat says so too."""
        if self.stopped:
            self.acknowledged |= {end} | {i for i, operator in enumerate(self.operators) if operator is not None}
            if self.acknowledged >= set(range(len(self.rig.units))):
                self.resume()

    def resume(self) -> None:
        """The stop order is lifted."""
        if self.stopped:
            self.note(Happening("stop order", LIFTED))
        self.stopped = False

    def answer(self, given: Answer) -> None:
        """The pair names its load, and says whether it goes on; noted with its step.

        Raises:
            ValueError: an answer that no load could have, or nobody asked.
        """
        if self.session is None:
            raise ValueError("an answer: given in a lift without a drill, allowed: in a step that names the load")
        self.session.answer(given)
        self.note(given.happening())

    def answer_again(self, event: Event) -> None:
        """Say again what an event of the kind `answer` holds; nothing where nobody asks any more.

        Raises:
            ValueError: it says nothing that a pair can say.
        """
        if self.session is not None and self.session.asks:
            self.answer(answer_from(event.happening))

    def instruct(self, what: Instruction) -> None:
        """The instructor's hand: done now, and noted with its step, so that it can be done again at the same one."""
        refuse_wild(what, self.rig)
        if what.kind == SLACKEN and not self.simulation.holds_by_a_line:
            return
        self.note(what.happening(self.rig))
        if what.kind in ("pause", "go on"):
            self.is_paused = what.kind == "pause"
        elif what.kind == "stop":
            self.stop(by="the instructor")
        elif what.kind == "step back":
            self._step_back(what)
        elif what.kind in SHOWN_OR_HIDDEN:
            self._show_or_hide(what)
        else:
            self.world.instruct(what)

    def instruct_again(self, fields: Fields) -> None:
        """Do again what an event of the kind `instructor` holds.

        Raises:
            ValueError: it says nothing that an instructor can do.
        """
        self.instruct(from_fields(fields, self.rig))

    def _show_or_hide(self, what: Instruction) -> None:
        """Coach, roses or loads: the lift itself is the same."""
        verb, _, thing = what.kind.partition(" ")
        self.hidden = self.hidden - {thing} if verb == "show" else self.hidden | {thing}
        if self.session is not None:
            self.session.coach_shown = "coach" not in self.hidden

    def _step_back(self, what: Instruction) -> None:
        """World and drill back to the start of a step; time goes on."""
        if self.session is not None and self.world.instruct(what):
            self._readings = None
            self.stopped = False
            self.session.back_to(self.world.drill_step, self.readings)

    def note(self, what: Happening, *, step: int | None = None) -> None:
        """Remember something that happened at `step`, or now, and tell the witnesses."""
        event = Event(self.simulation.state.step if step is None else step, *what)
        self.events.append(event)
        for witness in self.witnesses:
            witness.on_event(event)

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by `steps` steps; `commands` are the people's, automatic operators give their own."""
        while steps > 0:
            steps -= self._go_on(commands, steps)

    def advance_to_end(self, commands: Commands, steps: int) -> None:
        """The same, up to the very readings that end the lift."""
        while steps > 0 and not self.ended:
            steps -= self._go_on(commands, steps)

    def _go_on(self, commands: Commands, most: int) -> int:
        """Up to where somebody looks, at most so many steps; how many were taken."""
        step = self.simulation.step_count
        if step % self.every == 0 and most < self.every:
            _ = self.readings  # read off before it is left for a moment that is not at the steady rate
        if step % self.ask_every == 0:
            self._ask_operators()
        self._give(commands)
        taken = count = min(most, self._looked_at(step) - step)
        if count > self.every:
            taken = self.world.step_watched(self._given, count - count % self.every)
        else:
            self.world.step(self._given, count)
        self._show(step + taken)
        return taken

    def _looked_at(self, step: int) -> int:
        """The next step at which somebody looks; in bulk that need not be the next moment at the steady rate."""
        rates = [self.every]
        if self.in_bulk and step % self.every == 0 and not (self.session or self.observers or self.witnesses):
            rates = [self.ask_every, self._look_every]
        rates += [every for _, every in self.watchers]
        return step + min([every - step % every for every in rates])

    def _show(self, step: int) -> None:
        """A step that somebody looks at, to whoever does."""
        if step % self.every == 0:
            self._look()
        for observer, every in self.watchers:
            if step % every == 0:
                observer(self.readings if step % self.every == 0 else self.world.read(self._gaps))

    def _ask_operators(self) -> None:
        """Automatic operators look at the newest readings and move their hands."""
        self._slacken_once_hung()
        self._hands = [None if one is None else self._asked_of(end, one) for end, one in enumerate(self.operators)]
        for end, operator in enumerate(self.operators):
            doing = str(getattr(operator, "doing", ""))
            if doing and doing != self._doing[end]:
                self.note(Happening("stage", "stage", {"unit": self.rig.units[end].name, "doing": doing}))
            self._doing[end] = doing

    def _note_a_line_that_let_go(self) -> None:
        """The holding line was pulled harder than it holds."""
        line = self.description.site.holding_line
        if line is not None and self._is_tied and not self.simulation.moving.holding.is_tied:
            self.note(Happening("holding line", "slipped", {"pull_N": line.holds_N}))
        self._is_tied = self.simulation.moving.holding.is_tied

    def slacken(self) -> None:
        """The word is given to let out the holding line."""
        self.instruct(Instruction(SLACKEN))

    def _slacken_once_hung(self) -> None:
        """An automatic operator gives the word as the load has come off the ground."""
        if self.description.site.holding_line is None or not any(self.operators) or self.stopped:
            return
        if self.readings.load.ground_N <= 0.0:
            self.slacken()

    def _asked_of(self, end: int, operator: Operator) -> Hands:
        """What an automatic operator's hands do; nothing under a stop order."""
        if self.stopped:
            return self._still[end]
        follow = getattr(operator, "follow", None)
        if self.session is not None and follow is not None:
            follow(self.session.progress.began, self.session.index)
        return hands_given(self.rig.units[end], operator.command(self.readings))

    def _give(self, people: Commands) -> None:
        """Whoever has a seat gives its commands; a stop order gives none."""
        if people is not self._gave[0] or self._hands is not self._gave[1]:
            self._gave, self._asked = (people, self._hands), people
            if any(hands is not None for hands in self._hands):
                each = zip(people, self._hands, strict=True)
                self._asked = Commands(*[one if hands is None else hands for one, hands in each])
        given = self._still if self.stopped else self._asked
        if given is not self._given and given != self._given:
            self._refuse_other_levers(given)
            self._changes.add(self.simulation.step_count, given)
            self._given = given
            for witness in self.witnesses:
                witness.on_commands(self.simulation.step_count, given)

    def _refuse_other_levers(self, given: Commands) -> None:
        """Stop commands for another rig.

        Raises:
            ValueError: another number of units than the lift has, or of values than a unit has levers.
        """
        levers = [len(unit.levers) for unit in self.rig.units]
        if [len(hands) for hands in given] != levers:
            names = "; ".join(", ".join(lever.name for lever in unit.levers) for unit in self.rig.units)
            raise ValueError(f"commands: given {list(map(list, given))}, allowed: one value a lever ({names})")

    def _begin_to_look(self) -> None:
        """Readings, gaps and contacts of time zero."""
        self._surroundings = Surroundings(self.description)
        self._look_every = self.every * max(1, round(self.description.engine.readings_per_s / LOOKS_PER_S))
        self._gaps: Gaps = ()
        self._sample()
        self._look_round()

    def _sample(self) -> None:
        """Take the moment into what is averaged; it is read off when somebody asks."""
        self.world.watch()
        self._readings = None
        self._may_have_landed = self.world.may_have_landed

    def _look_round(self) -> None:
        """Something met ends the lift; gaps of this moment are measured when somebody asks."""
        now = self.readings
        self._gaps = self._surroundings.gaps(now)
        self._readings = now._replace(gaps=self._gaps)
        self.incidents.extend(self._surroundings.look(now))

    def _look(self) -> None:
        step = self.simulation.step_count
        self._sample()
        if step % self._look_every == 0 or len(self.incidents) > self._incidents_noted:
            self._look_round()
        for incident in self.incidents[self._incidents_noted :]:
            self.note(incident.happening, step=round(incident.time_s / self.simulation.model.dt))
        self._incidents_noted = len(self.incidents)
        self._note_a_line_that_let_go()
        if self.session is not None:
            self._hold_session(self.session)
        for observer in self.observers:
            observer(self.readings)
        for witness in self.witnesses[:]:
            witness.on_readings(self.readings)

    def _hold_session(self, session: Session) -> None:
        """Show the drill this moment."""
        if session.see(self.readings, self._asked, stopped=self.stopped, incidents=len(self.incidents)):
            self.world.begin_drill_step(session.index)
            self.note(Happening("step", "step", {"number": session.index + 1, "title": session.step.title}))
        if session.stop_reached:
            self.stop(by="a limit of the drill")
        if session.asks and any(self.operators) and not self.stopped:
            waits_s = ANSWERED_S if all(self.operators) else PERSON_ANSWERS_S
            if self.readings.time_s - session.progress.began.time_s >= waits_s:
                self.answer(session.by_the_loads())

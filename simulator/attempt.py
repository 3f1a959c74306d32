"""One lift, from time zero to its end: commands go in, readings come out to whoever looks on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.incidents import Incident
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.engine.surroundings import LOOKS_PER_S, Surroundings
from simulator.readings import Readings
from simulator.scenario.description import END_NAMES, Description


class Operator(Protocol):
    """Somebody's hands, by readings alone."""

    def command(self, readings: Readings) -> UnitCommands:
        """What they do now."""
        ...


Observer = Callable[[Readings], None]
FINEST_TOUCH = 1.0 / 4096.0
"""An automatic hand moves its levers in steps of this: a command then is a short number in tracks and recordings."""


class Event(NamedTuple):
    """Something worth remembering of a lift."""

    step: int
    kind: str
    text: str


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
    """A running lift. `operators` may hold an automatic operator for either unit; a person has the other."""

    description: Description
    operators: list[Operator | None] = field(default_factory=lambda: [None, None])

    def __post_init__(self) -> None:
        self.simulation = Simulation(self.description)
        self.instruments = Instruments(self.simulation.model)
        engine = self.description.engine
        self.every = max(1, round(engine.steps_per_s / engine.readings_per_s))
        """Steps from one set of readings to the next."""
        self.observers: list[Observer] = []
        self.changes: list[tuple[int, Commands]] = []
        """Every change of commands, with the step from which it held."""
        self.witnesses: list[Witness] = []
        self.events: list[Event] = []
        """Incidents, stop orders, an automatic operator's stages, and what others noted."""
        self.stopped = False
        self._incidents_noted = 0
        self._doing = ["", ""]
        self._close: tuple[Observer, int] | None = None
        self._given: Commands = STILL
        self._hands: tuple[UnitCommands | None, UnitCommands | None] = (None, None)
        self.instruments.watch(self.simulation.state)
        self._surroundings = Surroundings(self.description)
        self._look_every = max(1, round(engine.readings_per_s / LOOKS_PER_S))
        self.readings: Readings = self.instruments.read(self.simulation.state)
        self._look_round()

    @property
    def incidents(self) -> list[Incident]:
        """What ended the lift, if anything did."""
        return self.simulation.incidents

    @property
    def ended(self) -> bool:
        """Landed, or an incident."""
        return bool(self.incidents) or self.readings.load.landed

    @property
    def state_hash(self) -> str:
        """Hash of the engine's state."""
        return self.simulation.state_hash

    def watch_closely(self, observer: Observer, per_s: float) -> None:
        """Show `observer` readings at its own rate, up to every step."""
        self._close = observer, max(1, round(self.description.engine.steps_per_s / max(per_s, 1e-3)))
        observer(self.readings)

    def stop(self) -> None:
        """A stop order: both units hold until `resume`."""
        if not self.stopped:
            self.note("stop order", "both units hold")
        self.stopped = True

    def resume(self) -> None:
        """The stop order is lifted."""
        if self.stopped:
            self.note("stop order", "lifted")
        self.stopped = False

    def note(self, kind: str, text: str, *, step: int | None = None) -> None:
        """Remember something that happened at `step`, or now, and tell the witnesses."""
        event = Event(self.simulation.state.step if step is None else step, kind, text)
        self.events.append(event)
        for witness in self.witnesses:
            witness.on_event(event)

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by `steps` steps; `commands` are the people's, automatic operators give their own."""
        for _ in range(steps):
            step = self.simulation.state.step
            if step % self.every == 0:
                self._ask_operators()
            self._give(commands)
            self.simulation.step(self._given)
            if (step + 1) % self.every == 0:
                self._look()
            if self._close is not None and (step + 1) % self._close[1] == 0:
                self._close[0](self.instruments.read(self.simulation.state, self.readings.gaps))

    def _ask_operators(self) -> None:
        """Automatic operators look at the newest readings and move their hands."""
        nose, tail = (
            None if operator is None else _touched(operator.command(self.readings)) for operator in self.operators
        )
        self._hands = nose, tail
        for end, operator in enumerate(self.operators):
            doing = str(getattr(operator, "doing", ""))
            if doing and doing != self._doing[end]:
                self.note("stage", f"{END_NAMES[end]} unit: {doing}")
            self._doing[end] = doing

    def _give(self, people: Commands) -> None:
        """Whoever has a seat gives its commands; a stop order gives none."""
        nose, tail = self._hands
        asked = Commands(people.nose if nose is None else nose, people.tail if tail is None else tail)
        given = STILL if self.stopped else asked
        if given != self._given:
            self.changes.append((self.simulation.state.step, given))
            self._given = given
            for witness in self.witnesses:
                witness.on_commands(self.simulation.state.step, given)

    def _look_round(self) -> None:
        """Measure the gaps; something met ends the lift."""
        gaps, hits = self._surroundings.look(self.readings)
        self.readings = self.readings._replace(gaps=gaps)
        self.incidents.extend(hits)

    def _look(self) -> None:
        state = self.simulation.state
        self.instruments.watch(state)
        self.readings = self.instruments.read(state, self.readings.gaps)
        if state.step // self.every % self._look_every == 0:
            self._look_round()
        for incident in self.incidents[self._incidents_noted :]:
            text = f"{incident.what}, {incident.where}: {incident.why}"
            self.note("incident", text, step=round(incident.time_s / self.simulation.model.dt))
        self._incidents_noted = len(self.incidents)
        for observer in self.observers:
            observer(self.readings)
        for witness in self.witnesses[:]:
            witness.on_readings(self.readings)


def _touched(hands: UnitCommands) -> UnitCommands:
    """Commands to the finest touch."""
    return UnitCommands(*(round(value / FINEST_TOUCH) * FINEST_TOUCH for value in hands))

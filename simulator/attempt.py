"""One lift, from time zero to its end: commands go in, readings come out to whoever looks on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Incident, Simulation
from simulator.readings import Readings
from simulator.scenario.description import Description


class Operator(Protocol):
    """Somebody's hands, by readings alone."""

    def command(self, readings: Readings) -> UnitCommands:
        """What they do now."""
        ...


Observer = Callable[[Readings], None]


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
        self.stopped = False
        self._close: tuple[Observer, int] | None = None
        self._given: Commands = STILL
        self._hands: tuple[UnitCommands | None, UnitCommands | None] = (None, None)
        self.instruments.watch(self.simulation.state)
        self.readings: Readings = self.instruments.read(self.simulation.state)

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
        self.stopped = True

    def resume(self) -> None:
        """The stop order is lifted."""
        self.stopped = False

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
        nose, tail = (None if operator is None else operator.command(self.readings) for operator in self.operators)
        self._hands = nose, tail

    def _give(self, people: Commands) -> None:
        """Whoever has a seat gives its commands; a stop order gives none."""
        nose, tail = self._hands
        asked = Commands(people.nose if nose is None else nose, people.tail if tail is None else tail)
        given = STILL if self.stopped else asked
        if given != self._given:
            self.changes.append((self.simulation.state.step, given))
            self._given = given

    def _look(self) -> None:
        state = self.simulation.state
        self.instruments.watch(state)
        self.readings = self.instruments.read(state)
        for observer in self.observers:
            observer(self.readings)

"""One lift, from time zero to its end: commands from people or partners go in, readings come out to whoever looks on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

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


class Change(NamedTuple):
    """From this step on, these commands."""

    step: int
    commands: Commands


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
        self._every = max(1, round(engine.steps_per_s / engine.readings_per_s))
        self.observers: list[Observer] = []
        self.track: list[Change] = []
        self.stopped = False
        self._given: Commands = STILL
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

    def stop(self) -> None:
        """A stop order: both units hold until `resume`."""
        self.stopped = True

    def resume(self) -> None:
        """The stop order is lifted."""
        self.stopped = False

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by `steps` steps; `commands` are the people's, automatic operators give their own."""
        for _ in range(steps):
            if self.simulation.state.step % self._every == 0:
                self._give(commands)
            self.simulation.step(self._given)
            if self.simulation.state.step % self._every == 0:
                self._look()

    def _give(self, people: Commands) -> None:
        """Commands for the steps to the next readings."""
        if self.stopped:
            given = STILL
        else:
            nose, tail = self.operators
            given = Commands(
                people.nose if nose is None else nose.command(self.readings),
                people.tail if tail is None else tail.command(self.readings),
            )
        if given != self._given:
            self.track.append(Change(self.simulation.state.step, given))
            self._given = given

    def _look(self) -> None:
        state = self.simulation.state
        self.instruments.watch(state)
        self.readings = self.instruments.read(state)
        for observer in self.observers:
            observer(self.readings)

"""A person who does what the coach says and nothing else: no rose, no figure, only the one order for the unit."""

from __future__ import annotations

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import FUNCTIONS, UnitCommands
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description

PULLS = {"very_slow": 0.1, "slow": 1.0 / 3.0, "steady": 0.6}
"""How far a lever is pulled for an order, by its pace: for a slow one as the slow key does, for a very slow one as a
stick just off its rest."""


class Obedient:
    """Pulls the lever that is named, as long as it is named."""

    def __init__(self, name: str) -> None:
        self._name = name
        self.attempt: Attempt | None = None

    def command(self, readings: Readings) -> UnitCommands:
        assert self.attempt is not None and self.attempt.session is not None
        prompt = self.attempt.session.prompt
        signal = None if prompt is None else prompt.signal
        if signal is None or signal.unit not in (self._name, "both"):
            return UnitCommands()
        pull = signal.sign * PULLS[signal.pace]
        return UnitCommands(**{name: pull for name in FUNCTIONS if name == signal.function})


def beside_partner(described: Description, end: int, *, longest_s: float) -> Attempt:
    """The drill with an obedient person in one seat and the automatic partner in the other."""
    person = Obedient(described.units[end].name)
    seats = [person if place == end else Partner(described, place) for place in range(len(described.units))]
    attempt = person.attempt = Attempt(described, list(seats))
    run_operators(attempt, longest_s=longest_s)
    return attempt

"""A person who does what the coach says and nothing else: no rose, no figure, only the one order for the unit."""

from __future__ import annotations

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.drill.voice_signals import Signal
from simulator.engine.commands import Hands
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.rig import RigUnit, rig_of

PULLS = {"very_slow": 0.1, "slow": 1.0 / 3.0, "steady": 0.6}
"""How far a lever is pulled for an order, by its pace: for a slow one as the slow key does, for a very slow one as a
stick just off its rest."""


class Obedient:
    """Pulls the lever that is named, as long as it is named; `reach`: how far, over what others do."""

    def __init__(self, unit: RigUnit, reach: float = 1.0) -> None:
        self._unit, self._reach = unit, reach
        self.attempt: Attempt | None = None

    def command(self, readings: Readings) -> Hands:
        assert self.attempt is not None and self.attempt.session is not None
        prompt = self.attempt.session.prompt
        signal = None if prompt is None else prompt.signal
        if signal is None or signal.unit not in (self._unit.name, "both"):
            return self._unit.hands()
        return self._unit.hands(**{self._lever(signal): signal.sign * self._reach * PULLS[signal.pace]})

    def _lever(self, signal: Signal) -> str:
        """One line by its own lever; both by the one that moves them alike."""
        if signal.function == "hoist" and len(self._unit.lines) > 1:
            return f"hoist_{signal.line}" if signal.line else "both"
        return signal.function


def beside_partner(described: Description, end: int, *, longest_s: float, reach: float = 1.0) -> Attempt:
    """The drill with an obedient person in one seat and the automatic partner in the other."""
    person = Obedient(rig_of(described).units[end], reach)
    seats = [person if place == end else Partner(described, place) for place in range(len(described.units))]
    attempt = person.attempt = Attempt(described, list(seats), in_bulk=True)
    run_operators(attempt, longest_s=longest_s)
    return attempt

"""What is charged in every drill beside the limits of readings, put together for the judge."""

from __future__ import annotations

from typing import NamedTuple

from simulator.drill.agreed_path import agreement
from simulator.drill.cases import Case, ToAndFro, of_early_weight, of_gaps, of_pace, of_plumbing, of_taking
from simulator.drill.own_lines import hook_z_m
from simulator.drill.progress import Progress
from simulator.drill.taking_weight import Happening, TakingWeight
from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.drill import Step
from simulator.scenario.rig import rig_of


class Seen(NamedTuple):
    """What one moment brought."""

    happened: list[Happening]
    cases: list[Case]


class Standing:
    """Looks at a lift from moment to moment."""

    def __init__(self, description: Description) -> None:
        self._limits = description.limits
        self._taking = TakingWeight(description)
        self._agreed, self._rig = agreement(description), rig_of(description)
        self.forget()

    def forget(self) -> None:
        """Begin anew, as after a step back."""
        self._taking.forget()
        self._levers = ToAndFro(self._rig)
        self._began: Readings | None = None
        self._moved: set[int] = set()

    def ended(self, now: Readings, step: Step) -> list[Case]:
        """What a step that is over leaves behind."""
        return list(of_plumbing(now, step, self._moved, self._limits, self._rig))

    def see(self, now: Readings, asked: Commands, at: Progress) -> Seen:
        """Take in a moment."""
        if at.began is not self._began:
            self._began, self._moved = at.began, set()
        self._moved |= {end for end, hands in enumerate(asked) if any(hands)}
        happened = self._taking.see(now, asked)
        cases = [
            *of_gaps(now, at.step),
            *of_taking(happened, self._limits, self._rig),
            *of_early_weight(now, at.began, at.step, self._moved, self._rig),
            *of_pace(self._ahead_m(at.began), self._ahead_m(now), asked, at.step, self._rig),
            *self._levers.see(now, asked),
        ]
        return Seen(happened, cases)

    def _ahead_m(self, now: Readings) -> float:
        """The first hook's height over the last one's, less what it is with the load level."""
        first, last = (hook_z_m(now, self._rig.units[place]) for place in (0, -1))
        return first - last - self._agreed.hook_rise_m(0.0)

"""What is charged in every drill beside the limits of readings, put together for the judge."""

from __future__ import annotations

from typing import NamedTuple

from simulator.drill.agreed_path import agreement
from simulator.drill.cases import (
    Case,
    ToAndFro,
    of_early_weight,
    of_gaps,
    of_moving_alone,
    of_pace,
    of_plumbing,
    of_taking,
)
from simulator.drill.own_lines import hook_z_m
from simulator.drill.progress import Progress
from simulator.drill.taking_weight import Happening, TakingWeight
from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of

LEFT_S = 0.5
"""Hands that have been off for so long have left a tip where it is; others are still at it. Our choice, no source."""


class Seen(NamedTuple):
    """What one moment brought."""

    happened: list[Happening]
    cases: list[Case]


class Standing:
    """Looks at a lift from moment to moment."""

    _taking: TakingWeight
    _levers: ToAndFro
    _began: Readings | None
    _moved: set[int]
    _moved_s: list[float]
    _work: str
    _plumbed: set[int]
    """Tips whose plumbing is over, and whose hands are not yet off them."""

    def __init__(self, description: Description) -> None:
        self._limits = description.limits
        self._taking = TakingWeight(description)
        self._agreed, self._rig = agreement(description), rig_of(description)
        self.forget()

    def forget(self) -> None:
        """Begin anew, as after a step back."""
        self._taking.forget()
        self._levers = ToAndFro(self._rig)
        self._began, self._work = None, ""
        self._moved, self._plumbed = set(), set()
        self._moved_s = [0.0] * len(self._rig.units)

    def see(self, now: Readings, asked: Commands, at: Progress) -> Seen:
        """Take in a moment."""
        if at.began is not self._began:
            if self._work == "plumb the tips":
                self._plumbed = {end for end in self._moved if now.units[end].slack}
            self._began, self._moved, self._work = at.began, set(), at.step.work
        for end, hands in enumerate(asked):
            if any(hands):
                self._moved.add(end)
                self._moved_s[end] = now.time_s
        left = [end for end in self._plumbed if self._is_left(now, end)]
        self._plumbed -= set(left)
        happened = self._taking.see(now, asked)
        cases = [
            *of_plumbing(now, left, self._limits, self._rig),
            *of_gaps(now, at.step),
            *of_taking(happened, self._limits, self._rig),
            *of_early_weight(now, at.began, at.step, self._moved, self._rig),
            *of_moving_alone(now, at.began, at.step, self._moved, self._rig),
            *of_pace(self._ahead_m(at.began), self._ahead_m(now), asked, at.step, self._rig),
            *self._levers.see(now, asked),
        ]
        return Seen(happened, cases)

    def _is_left(self, now: Readings, end: int) -> bool:
        """Hands are off a tip, or its line takes weight: where it stands now it was left."""
        return not now.units[end].slack or now.time_s - self._moved_s[end] >= LEFT_S

    def _ahead_m(self, now: Readings) -> float:
        """The first hook's height over the last one's, less what it is with the load level."""
        first, last = (hook_z_m(now, self._rig.units[place]) for place in (0, -1))
        return first - last - self._agreed.hook_rise_m(0.0)

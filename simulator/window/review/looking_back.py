"""A lift looked back on: what was kept of it, playing it from stored readings, and taking it over at a moment."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from simulator.attempt import Attempt
from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.recording.head import Parent
from simulator.recording.lift_file import read
from simulator.recording.memory import Memory
from simulator.recording.recorded import Recording
from simulator.recording.replay import CannotReplay, take_over
from simulator.recording.seconds import Second
from simulator.window.protocols import Tell, ToldFinding
from simulator.window.review.moments import spans
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, Lift, OutOfReach, Stage, partners
from simulator.words import say

OnTheWay = Callable[[float], bool]
"""Told how far a re-run is; False breaks it off."""


class _BrokenOff(Exception):  # noqa: N818 - somebody broke it off; no error
    """Somebody pressed Esc on the way."""


class KeptLift(NamedTuple):
    """A lift that is driven, and what remembers it."""

    attempt: Attempt
    choice: Choice
    memory: Memory | None
    """Where there is no file of it: a lift of hours would fill a computer's memory for nothing."""

    @staticmethod
    def of(
        lift: Lift, choice: Choice, desk: Desk, *, parent: Parent | None = None, before: Sequence[Second] = ()
    ) -> KeptLift | None:
        """Begin to remember a lift, and to record it if lifts are recorded; only an attempt can be."""
        if not isinstance(lift, Attempt):
            return None
        recorder = desk.record(lift, parent=parent, before=before)
        if recorder is not None and recorder.stopped_at_s is None:
            return KeptLift(lift, choice, None)
        memory = Memory(lift, pair=desk.pair(choice.description), parent=parent, before=before)
        return KeptLift(lift, choice, memory)

    def recording(self, desk: Desk) -> Recording:
        """The lift as it was up to now, or up to when it could no longer be recorded; it is over for its operators.

        Raises:
            BrokenRecording: its file is not there any more.
        """
        if self.memory is not None:
            return self.memory.recording(say("debrief.this_lift"))
        assert desk.recorder is not None
        return read(desk.recorder.path)


class LookBack:
    """A recording with what was found in it, and who drove."""

    def __init__(self, recording: Recording, choice: Choice | None, tell: Tell, desk: Desk) -> None:
        self.recording, self.desk = recording, desk
        self.choice = choice
        if choice is None and recording.description is not None:
            self.choice = Choice(recording.description, "two")
        self.speed = 1.0
        """At which it plays."""
        self._tell = tell
        self._told: dict[str, Sequence[ToldFinding]] = {}
        self.fault = ""
        """Why the lift could not be taken over."""

    @property
    def findings(self) -> Sequence[ToldFinding]:
        """What went wrong, in the units of the desk."""
        units = self.desk.settings.units
        if units not in self._told:
            self._told[units] = self._tell(self.recording, units)
        return self._told[units]

    def take_over(self, at_s: float, on_the_way: OnTheWay) -> KeptLift | None:
        """The lift at a moment, to be driven on; none, with `fault` saying why, if that cannot be."""
        self.fault = ""
        choice = self.choice
        if choice is None:
            self.fault = say("debrief.no_scenario")
            return None
        step = min(round(at_s * self.recording.head.steps_per_s), self.recording.whole_until_step)
        operators = partners(choice.description, choice.who, choice.partner)
        kept: list[KeptLift] = []

        def begin(attempt: Attempt, before: Sequence[Second]) -> None:
            parent = Parent(self.recording.name, step)
            kept.extend(filter(None, [KeptLift.of(attempt, choice, self.desk, parent=parent, before=before)]))

        try:
            attempt = take_over(
                self.recording, step, begin=begin, followers=[one for one in operators if one is not None],
                progress=_watched(on_the_way),
            )  # fmt: skip
        except CannotReplay as broken:
            self.fault = str(broken)
            return None
        except _BrokenOff:
            return None
        attempt.operators = operators
        return kept[0]


def _watched(on_the_way: OnTheWay) -> Callable[[float], None]:
    def progress(share: float) -> None:
        if not on_the_way(share):
            raise _BrokenOff

    return progress


class Replayed(OutOfReach):
    """Time goes on with the steps that the window asks for; between two samples the readings go straight."""

    def __init__(self, recording: Recording, at_s: float = 0.0) -> None:
        self.recording = recording
        units = recording.description.units if recording.description is not None else ()
        super().__init__([None for _ in units])
        self._steps = spans(recording)
        self.ended = False
        self.time_s = at_s
        self.readings: Readings = self._read()

    @property
    def is_at_end(self) -> bool:
        """Nothing comes after."""
        return self.time_s >= self.recording.length_s

    @property
    def stage(self) -> Stage | None:
        """The recorded step at this moment."""
        for one in reversed(self._steps):
            if one.begin_s <= self.time_s and one.number:
                return Stage(one.number, one.last, one.title)
        return None

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on by so many steps."""
        self.go_to(self.time_s + steps / self.recording.head.steps_per_s)

    def go_to(self, time_s: float) -> None:
        """To a moment."""
        self.time_s = min(max(0.0, time_s), self.recording.length_s)
        self.readings = self._read()

    def _read(self) -> Readings:
        """At a sample that very sample."""
        times, table = self.recording.time_s, self.recording.table
        near = self.recording.at(self.time_s)
        before = max(0, int(np.searchsorted(times, self.time_s, side="right")) - 1)
        after = min(before + 1, len(times) - 1)
        span_s = float(times[after] - times[before])
        share = max(0.0, (self.time_s - float(times[before])) / span_s) if 0.0 < span_s < 1.0 else 0.0
        a, b = table[before], table[after]
        with np.errstate(invalid="ignore"):
            between = np.where(np.isfinite(a) & np.isfinite(b), a + share * (b - a), a)
        return self.recording.readings_of(between, near.gaps)._replace(time_s=self.time_s)

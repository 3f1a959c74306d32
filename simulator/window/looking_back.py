"""A lift looked back on: what was kept of it while it was driven, what it came to, and taking it over at a moment."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from simulator.attempt import Attempt
from simulator.recording.head import Parent
from simulator.recording.memory import Memory
from simulator.recording.reader import read
from simulator.recording.recorded import Recording
from simulator.recording.replay import CannotReplay, take_over
from simulator.window.desk import Desk
from simulator.window.lift import Choice, Lift, partners
from simulator.window.told import Finding, Tell
from simulator.words import say

OnTheWay = Callable[[float], bool]
"""Told how far a re-run is; False breaks it off."""


class _BrokenOff(Exception):  # noqa: N818 - somebody broke it off; no error
    """Somebody pressed Esc on the way."""


class Kept(NamedTuple):
    """A lift that is driven, and what remembers it."""

    attempt: Attempt
    choice: Choice
    memory: Memory | None
    """Where there is no file of it: a lift of hours would fill a computer's memory for nothing."""

    @staticmethod
    def of(lift: Lift, choice: Choice, desk: Desk, *, parent: Parent | None = None) -> Kept | None:
        """Begin to remember a lift, and to record it if lifts are recorded; only an attempt can be."""
        if not isinstance(lift, Attempt):
            return None
        recorder = desk.record(lift, parent=parent)
        if recorder is not None and recorder.stopped_at_s is None:
            return Kept(lift, choice, None)
        return Kept(lift, choice, Memory(lift, pair=desk.pair(choice.description), parent=parent))

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
        self._told: dict[str, Sequence[Finding]] = {}
        self.fault = ""
        """Why the lift could not be taken over."""

    @property
    def findings(self) -> Sequence[Finding]:
        """What went wrong, in the units of the desk."""
        units = self.desk.settings.units
        if units not in self._told:
            self._told[units] = self._tell(self.recording, units)
        return self._told[units]

    def take_over(self, at_s: float, on_the_way: OnTheWay) -> Kept | None:
        """The lift at a moment, to be driven on; none, with `fault` saying why, if that cannot be."""
        self.fault = ""
        choice = self.choice
        if choice is None:
            self.fault = say("debrief.no_scenario")
            return None
        step = min(round(at_s * self.recording.head.steps_per_s), self.recording.whole_until_step)
        operators = partners(choice.description, choice.who, choice.partner)
        kept: list[Kept] = []

        def begin(attempt: Attempt) -> None:
            parent = Parent(self.recording.name, step)
            kept.extend(filter(None, [Kept.of(attempt, choice, self.desk, parent=parent)]))

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

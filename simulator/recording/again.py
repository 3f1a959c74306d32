"""What was done in a recording, done again to an attempt: commands, stop orders, the instructor's hand."""

from __future__ import annotations

from simulator.attempt import LIFTED, Attempt
from simulator.engine.commands import STILL
from simulator.recording.recorded import Recording, minutes
from simulator.recording.seconds import Second
from simulator.scenario.faults import one_line

ACTS = ("stop order", "instructor")
"""Kinds of events that are done again in a re-run."""


class CannotReplay(Exception):  # noqa: N818 - says what it is
    """A recording that cannot be re-run, or not that far; the message is one sentence."""


class Drive:
    """Does to an attempt what was done in a recording: commands, stop orders, the instructor's hand."""

    def __init__(self, recording: Recording, attempt: Attempt) -> None:
        self._attempt, self._name = attempt, recording.name
        self._acts = [event for second in recording.seconds for event in second.events if event[1] in ACTS]
        self._changes = [*recording.changes, (recording.whole_until_step, STILL)]
        self._commands = STILL
        self._next_act = self._next_change = 0

    def through(self, second: Second) -> None:
        """To the end of a second, with all that was done in it.

        Raises:
            CannotReplay: what stands in the file cannot be done.
        """
        acts = sum(kind in ACTS for _, kind, _ in second.events) + self._next_act
        self.to(second.end_step, acts=acts)

    def to(self, step: int, *, acts: int = 0) -> None:
        """Go on to a step, until so many acts are done.

        Raises:
            CannotReplay: what stands in the file cannot be done.
        """
        try:
            self._go_to(step)
            while self._next_act < acts:
                self._act()
        except (ArithmeticError, LookupError, ValueError) as error:
            at = minutes(self._attempt.simulation.time_s)
            raise CannotReplay(
                f"{self._name}: at {at} something stands in it that cannot be done again ({one_line(str(error))}); "
                "stored readings can be shown"
            ) from error

    def _go_to(self, step: int) -> None:
        simulation = self._attempt.simulation
        while (now := simulation.state.step) < step:
            while self._next_act < len(self._acts) and self._acts[self._next_act][0] <= now:
                self._act()
            while self._changes[self._next_change][0] <= now and self._next_change < len(self._changes) - 1:
                self._commands = self._changes[self._next_change][1]
                self._next_change += 1
            later = [step]
            if self._next_act < len(self._acts):
                later.append(self._acts[self._next_act][0])
            if self._changes[self._next_change][0] > now:
                later.append(self._changes[self._next_change][0])
            self._attempt.advance(self._commands, min(later) - now)

    def _act(self) -> None:
        """The next stop order or instruction. What the lift does of itself is done already, and harmless again."""
        _, kind, text = self._acts[self._next_act]
        self._next_act += 1
        if kind == "instructor":
            self._attempt.instruct_again(text)
        elif text == LIFTED:
            self._attempt.resume()
        else:
            self._attempt.stop()

"""What was done in a recording, done again to a bare world or to an attempt: commands and acts at their very steps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol

from simulator.attempt import LIFTED, Attempt
from simulator.engine.commands import Commands, still
from simulator.events import Event
from simulator.recording.recorded import changes_in, minutes
from simulator.recording.seconds import Second
from simulator.scenario.faults import one_line
from simulator.world import World

ACTS = ("stop order", "instructor", "step", "answer")
"""Kinds of events that are done again in a re-run."""


class CannotReplay(Exception):  # noqa: N818 - says what it is
    """A recording that cannot be re-run, or not that far; the message is one sentence."""


class LiftAgain(Protocol):
    """What a recording is done again to."""

    world: World

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on."""
        ...

    def act(self, event: Event) -> None:
        """Do again what an event of one of `ACTS` holds."""
        ...


class BareLift:
    """The world alone: the drill's steps begin when the recording says so, a stop order is in the commands given."""

    def __init__(self, world: World, look: Callable[[], object] | None = None) -> None:
        """`look` is called at the steady rate of readings."""
        self.world, self._look = world, look

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on."""
        if self._look is None:
            self.world.step(commands, steps)
            return
        while steps > 0:
            count = min(steps, self.world.every - self.world.simulation.step_count % self.world.every)
            self.world.step(commands, count)
            steps -= count
            if self.world.simulation.step_count % self.world.every == 0:
                self._look()

    def act(self, event: Event) -> None:
        """Begin a step of the drill, or do what the instructor did."""
        number = event.fields.get("number")
        if event.kind == "step" and isinstance(number, int):
            self.world.begin_drill_step(number - 1)
        elif event.kind == "instructor":
            self.world.instruct_again(event.fields)


class WholeLift:
    """An attempt: its drill finds its own steps; what the lift does of itself is done already, and harmless again."""

    def __init__(self, attempt: Attempt) -> None:
        self.world, self._attempt = attempt.world, attempt

    def advance(self, commands: Commands, steps: int) -> None:
        """Go on."""
        self._attempt.advance(commands, steps)

    def act(self, event: Event) -> None:
        """Give or lift a stop order, name the load, or do what the instructor did."""
        if event.kind == "instructor":
            self._attempt.instruct_again(event.fields)
        elif event.kind == "answer":
            self._attempt.answer_again(event)
        elif event.kind == "stop order" and event.what == LIFTED:
            self._attempt.resume()
        elif event.kind == "stop order":
            self._attempt.stop(by=str(event.fields.get("by", "")))


class UnjudgedLift(WholeLift):
    """An attempt whose drill stands aside: steps of the drill and answers are noted as the recording has them.

    Not for a lift in which the instructor stepped back: that goes by the drill's own memory of its steps.
    """

    def act(self, event: Event) -> None:
        """The same, and begin a step of the drill."""
        number = event.fields.get("number")
        if event.kind == "step" and isinstance(number, int):
            self.world.begin_drill_step(number - 1)
        if event.kind in ("step", "answer"):
            self._attempt.note(event.happening)
        else:
            super().act(event)


class DriveAgain:
    """Does to a lift what was done in a recording."""

    def __init__(self, seconds: Sequence[Second], lift: LiftAgain, name: str = "") -> None:
        """`seconds` follow one another, and the lift stands at the start of the first; `name` is their recording's."""
        self._lift, self._name = lift, name
        self._acts = [event for second in seconds for event in second.events if event.kind in ACTS]
        nothing = still(lift.world.simulation.model.rig)
        self._changes = [*changes_in(seconds), (seconds[-1].end_step if seconds else 0, nothing)]
        self._commands = nothing
        self._next_act = self._next_change = 0

    def through(self, second: Second) -> None:
        """To the end of a second, with all that was done in it.

        Raises:
            CannotReplay: what stands in the file cannot be done.
        """
        acts = sum(event.kind in ACTS for event in second.events) + self._next_act
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
            at = minutes(self._lift.world.simulation.time_s)
            raise CannotReplay(
                f"{self._name}: at {at} something stands in it that cannot be done again ({one_line(str(error))}); "
                "stored readings can be shown"
            ) from error

    def _go_to(self, step: int) -> None:
        simulation = self._lift.world.simulation
        while (now := simulation.step_count) < step:
            while self._next_act < len(self._acts) and self._acts[self._next_act].step <= now:
                self._act()
            while self._changes[self._next_change][0] <= now and self._next_change < len(self._changes) - 1:
                self._commands = self._changes[self._next_change][1]
                self._next_change += 1
            later = [step]
            if self._next_act < len(self._acts):
                later.append(self._acts[self._next_act].step)
            if self._changes[self._next_change][0] > now:
                later.append(self._changes[self._next_change][0])
            self._lift.advance(self._commands, min(later) - now)

    def _act(self) -> None:
        """The next act."""
        event = self._acts[self._next_act]
        self._next_act += 1
        self._lift.act(event)

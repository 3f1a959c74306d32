"""What the tests of screens share: a program without a screen, posted events, and a short recorded lift."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

import pygame

from simulator.attempt import Attempt, Operator
from simulator.drill.instruction import Instruction
from simulator.engine.commands import Commands, UnitCommands
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.memory import Memory
from simulator.recording.recorded import Recording
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.window.loop import Program
from simulator.window.program import DOORS
from simulator.window.protocols import Check, Tell, nothing_told
from simulator.window.review.looking_back import LookBack
from simulator.window.screens import seat_check
from simulator.window.screens.drive import DriveScreen, drive
from simulator.window.screens.start_screen import start
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Begin, Choice, OutOfReach, Who, begin_attempt
from simulator.window.shell.lifts_on_offer import shipped_lifts
from tests.window.sample import calm_readings

FRAME_S = 1 / 60
SMALL = (1280, 720)
STOP_AT_S = 2.0
LONG_S = 4.0


class CountingLift(OutOfReach):
    """A lift that only counts: time goes on, nothing moves."""

    def __init__(self, description: Description, operators: list[Operator | None]) -> None:
        super().__init__(operators)
        parts = {part.name for part in description.trailer.parts}
        calm, rig = calm_readings(), rig_of(description)
        gaps = tuple(gap for gap in calm.gaps if gap.part in parts)
        lines = tuple(calm.lines[line.unit] for line in rig.lines)
        units = calm.units[: len(rig.units)]
        self.readings: Readings = calm._replace(time_s=0.0, step=0, units=units, lines=lines, gaps=gaps)
        self.ended = False
        self.given: list[Commands] = []
        self._per_s = description.engine.steps_per_s

    def advance(self, commands: Commands, steps: int) -> None:
        self.given.append(commands)
        step = self.readings.step + steps
        self.readings = self.readings._replace(step=step, time_s=step / self._per_s)

    def stop(self, *, by: str = "") -> None:
        self.stopped, self.called_by = True, by

    def acknowledge(self, end: int) -> None:
        self.acknowledged.add(end)
        self.stopped = self.acknowledged < {0, 1}

    def instruct(self, what: Instruction) -> None:
        self.is_paused = what.kind == "pause"


def open_small(
    *,
    desk: Desk | None = None,
    tell: Tell = nothing_told,
    check: Check | None = None,
    begin: Begin = CountingLift,
    size: tuple[int, int] = SMALL,
) -> Program:
    """A program on a window that nobody sees."""
    pygame.display.init()
    pygame.font.init()
    desk = desk or Desk()
    desk.begin, desk.tell, desk.check = begin, tell, check
    shown = Program(pygame.display.set_mode(size), desk, DOORS)
    pygame.event.clear()
    return shown


def show_start(shown: Program, chosen: Choice | None) -> None:
    """The start screen."""
    shown.show(lambda shell: start(shell.desk, chosen))


def sit_down(shown: Program, choice: Choice) -> None:
    """The seat check, or of a demonstration the lift."""
    shown.show(seat_check.sit_down(choice))


def show_lift(shown: Program, choice: Choice) -> None:
    """A lift from time zero."""
    shown.show(drive(choice))


def show_debrief(shown: Program, back: LookBack) -> None:
    """The debrief of a lift."""
    shown.show(lambda shell: shell.doors.debrief(back, None, ""))


def post(kind: int, key: int = 0, scancode: int = 0, unicode: str = "") -> None:
    """Put a key event into the queue."""
    pygame.event.post(pygame.event.Event(kind, scancode=scancode, key=key, mod=0, unicode=unicode))


def tap(shown: Program, *keys: int, scancode: int = 0, unicode: str = "") -> None:
    """Press and release keys, each seen by the program."""
    for key in keys:
        for kind in (pygame.KEYDOWN, pygame.KEYUP):
            post(kind, key, scancode, unicode)
            shown.take_events()


def mouse(shown: Program, kind: int, x: float, y: float) -> None:
    """A mouse event at a place in design units."""
    px, py = shown.canvas.to_px(x, y)
    pygame.event.post(pygame.event.Event(kind, pos=(round(px), round(py)), button=1, buttons=(1, 0, 0), rel=(0, 0)))
    shown.take_events()


def frames(shown: Program, count: int, elapsed_s: float = FRAME_S) -> None:
    """Events and frames."""
    for _ in range(count):
        shown.take_events()
        shown.frame(elapsed_s)


class Found(NamedTuple):
    """A finding as a report tells it."""

    time_s: float
    level: str
    who: str
    what: str
    why: str
    key: str
    cause: str = ""


FINDINGS = (
    Found(1.0, "caution", "nose unit", "off plumb over 2.0 deg (caution limit), worst 2.5 deg", "it slewed",
          "nose.mean_off_plumb_rad"),
    Found(3.0, "stop", "load", "sway over 1.0 m (stop limit), worst 1.2 m", "it was not settled", "load.sway_m"),
)  # fmt: skip


def two_findings(recording: Recording, units: str) -> Sequence[Found]:
    """The same two, whatever the lift."""
    return FINDINGS


@cache
def yard() -> Description:
    """The lightest shipped lift."""
    return shipped_lifts()[0]


@cache
def driven() -> tuple[Recording, dict[int, str]]:
    """Four seconds of hoisting with a stop order in them, and the state's hash at each whole second."""
    attempt = Attempt(yard())
    memory = Memory(attempt, pair=("Ash", "Robin"))
    per_s, hashes = yard().engine.steps_per_s, {}
    up = Commands(UnitCommands(hoist=1.0), UnitCommands(hoist=0.5))
    for second in range(1, round(LONG_S) + 1):
        attempt.advance(up, per_s)
        hashes[second] = attempt.state_hash
        if second == round(STOP_AT_S):
            attempt.stop()
            attempt.resume()
    return memory.recording("short.lift"), hashes


def classroom(who: Who = "two", name: str = "plumb_tips") -> tuple[Program, DriveScreen, Attempt]:
    """A drill in the program, with the real lift behind it."""
    shown = open_small(begin=begin_attempt)
    show_lift(shown, Choice(load(find_scenario(name)), who))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    frames(shown, 6)
    return shown, drive, drive.lift


def key(shown: Program, scancode: int, code: int = 0) -> None:
    """Press and release a key by its place, and let two frames pass."""
    tap(shown, code, scancode=scancode)
    frames(shown, 2)

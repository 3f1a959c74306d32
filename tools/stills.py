"""Pictures of every screen from lifts really driven, good and bad, at four sizes and in both systems of units.

`python tools/stills.py [NAME ...]` writes them to build/stills/, or to the folder STILLS_IN names; with names, only
those states, or `screens` for all that is no state of a lift. The four named `1-start` to `4-landed` are those to show
to a class. Those in `FOR_EYES` come also in gray and as eyes see them that tell red from green, or blue from yellow,
badly.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
sys.path.insert(0, str(Path(__file__).parents[1]))

import pygame
from stills_eyes import EYES, as_seen_by
from stills_screens import desk_for, other_screens
from stills_states import STATES, Is, State

from simulator.attempt import Attempt, Operator
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL, Commands
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.keep import start_recording
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System
from simulator.window.screens.drive import DriveScreen
from simulator.window.shell.lift import Choice, OutOfReach

FOLDER = Path(os.environ.get("STILLS_IN", Path(__file__).parents[1] / "build" / "stills"))
SIZES = ((1920, 1080), (3840, 2160), (1366, 768), (1280, 720))
SYSTEMS: tuple[System, ...] = ("metric", "us")
FRAME_S = 0.1
SEEN_S = 10.0
"""How long a screen has looked on when its picture is taken: a whole sway, so that the roses show it."""
LONGEST_S = 120.0
"""A bad state that has not come by then is reported, not pictured."""
FOR_EYES = ("start", "debrief", "2-half-way", "plumb-stop", "floats", "not-clear", "turn-0", "turn-45", "turn-88",
            "spreader", "onto-flat")  # fmt: skip
LOOKED_BACK_ON = "incident"
"""The state whose lift is recorded, for debrief and replay."""
STAMP = "2025-03-01 14:20:00"


class Seen(OutOfReach):
    """A lift that goes through readings once taken, as a screen sees them."""

    def __init__(self, moments: Sequence[Readings], operators: list[Operator | None], attempt: Attempt) -> None:
        self._moments = list(moments)
        super().__init__(operators)
        self.readings, self.incidents = self._moments[0], attempt.incidents

    @property
    def ended(self) -> bool:
        """At the last moment of a lift that has ended."""
        return len(self._moments) == 1 and (bool(self.incidents) or self.readings.load.landed)

    def advance(self, commands: Commands, steps: int) -> None:
        """The next moment, once a frame."""
        if len(self._moments) > 1:
            self._moments.pop(0)
        self.readings = self._moments[0]


def driven(state: State, *, folder: Path | None = None) -> tuple[Description, Seen] | None:
    """Drives a lift to its moment, and records it into `folder`; None if the moment never comes."""
    description = state.change(load(find_scenario(state.lift)))
    attempt = Attempt(description, [Partner(description, 0), Partner(description, 1)])
    recorder = start_recording(attempt, folder, STAMP, ("Ash", "Robin")) if folder else None
    moments = [attempt.readings]

    def go(hands: Callable[[float], Commands], until: Is, longest_s: float) -> bool:
        start_s = attempt.readings.time_s
        while not until(attempt.readings):
            if attempt.ended or attempt.readings.time_s > start_s + longest_s:
                return attempt.ended
            attempt.advance(hands(attempt.readings.time_s - start_s), round(FRAME_S * description.engine.steps_per_s))
            moments.append(attempt.readings)
        return True

    arrived = go(lambda _: STILL, state.good_until, 1200.0)
    if arrived and state.until is not None:
        attempt.operators = [None, None]
        arrived = go(state.hands, state.until, LONGEST_S)
    if recorder is not None:
        recorder.close()
    operators = list(attempt.operators)
    return (description, Seen(moments[-round(SEEN_S / FRAME_S) :], operators, attempt)) if arrived else None


def views(
    description: Description, seen: Seen, system: System, size: tuple[int, int]
) -> Iterator[tuple[str, pygame.Surface]]:
    """The drive screen at the moment; after a lift has ended, without and with its summary."""
    canvas = Canvas(pygame.Surface(size))
    lift = Seen(seen._moments, seen.operators, seen)  # type: ignore[arg-type]
    screen = DriveScreen(Choice(description, "two"), system, begin=lambda *_: lift, desk=desk_for(system))
    screen.renew(canvas)
    while len(lift._moments) > 1:
        screen.advance(FRAME_S)
        screen.draw(canvas, FRAME_S)
    screen.renew(canvas)
    yield "", canvas.surface
    if lift.ended:
        screen.frame(canvas, 0.0)
        yield "-summary", canvas.surface


def save(name: str, system: System, surface: pygame.Surface) -> None:
    """One picture: state, units, width; at its largest also for other eyes."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    pygame.image.save(surface, str(FOLDER / f"{name}-{system}-{surface.get_width()}.png"))
    if name in FOR_EYES and surface.get_size() == SIZES[0]:
        for eye in EYES:
            pygame.image.save(as_seen_by(eye, surface), str(FOLDER / f"{name}-{system}-{eye}.png"))


def save_screens() -> None:
    """All that is no state of a lift."""
    with TemporaryDirectory() as folder:
        driven(next(row for row in STATES if row.name == LOOKED_BACK_ON), folder=Path(folder))
        for system in SYSTEMS:
            for size in SIZES:
                for name, surface in other_screens(system, size, Path(folder)):
                    save(name, system, surface)


def main(names: Sequence[str]) -> int:
    """Draws all, or those named; 1 when a state could not be reached."""
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode(SIZES[0])
    code = 0
    if not names or "screens" in names:
        save_screens()
    for state in (row for row in STATES if not names or row.name in names):
        found = driven(state)
        if found is None:
            print(f"{state.name}: never came", file=sys.stderr)
            code = 1
            continue
        for system in SYSTEMS:
            for size in SIZES:
                for tail, surface in views(*found, system, size):
                    save(state.name + tail, system, surface)
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

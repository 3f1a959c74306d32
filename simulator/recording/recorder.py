"""The recorder: writes a lift as it happens, a frame each second (see `layout`), and never gets in its way.

A frame is handed to the operating system as soon as its second is over, so a program that is killed loses at most the
second it was in. When nothing more can be written the lift goes on, and the recorder says since when and why.
"""

from __future__ import annotations

import os
import platform
from collections.abc import Callable, Sequence
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np

from simulator.attempt import Attempt
from simulator.compiled import runs
from simulator.engine.commands import Commands, still
from simulator.events import Event
from simulator.readings import Channel, Readings, channels_of
from simulator.recording.counted import sample_every, tips
from simulator.recording.head import Parent, rig_as_json
from simulator.recording.kept_memory import Onlookers
from simulator.recording.layout import END, HEAD, LAYOUT, MAGIC, SECOND, frame, from_json
from simulator.recording.noticed import Noticing
from simulator.recording.seconds import Second, second_content
from simulator.recording.telemetry import row
from simulator.recording.whole_numbers import places, to_whole
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.scenario.toml_writer import dump

Begin = Callable[[bytes], BinaryIO]
"""Makes a new file that is never seen without its first bytes."""
STATE_EVERY_S = 10
"""So often the engine's whole state is kept."""
MEMORY_EVERY_S = 20
"""And so often what drill and automatic operators remember, which takes more room."""


@cache
def versions() -> dict[str, str]:
    """What wrote a recording: enough to say why a lift may come out otherwise elsewhere.

    States come of Python's floats, the functions of its libm and pymunk's own build, and of nothing else.
    """
    libc = " ".join(platform.libc_ver()).strip() or platform.release()  # on Linux its libm has the same version
    found = {"python": platform.python_version(), "computer": f"{platform.system()} {platform.machine()}"}
    found |= {"libm": libc, "engine": "compiled" if runs() else "plain Python"}
    for package in ("slopepick", "numpy", "pymunk"):
        try:
            found[package] = metadata.version(package)
        except metadata.PackageNotFoundError:
            found[package] = "not installed as a package"
    return found


def head(
    description: Description, stamp: str, pair: tuple[str, ...], parent: Parent | None, begins: int
) -> dict[str, Any]:
    """The head of a recording."""
    return {
        "layout": LAYOUT,
        "title": description.title,
        "scenario": dump(description),
        "seed": description.seed,
        "stamp": stamp,
        "versions": versions(),
        "pair": list(pair),
        "parent": None if parent is None else list(parent),
        "steps_per_s": description.engine.steps_per_s,
        "begins": begins,
        "units": rig_as_json(rig_of(description)),
        "channels": [[one.name, one.unit, places(one)] for one in _channels(description)],
    }


def _channels(description: Description) -> tuple[Channel, ...]:
    rig = rig_of(description)
    return channels_of(rig.unit_names, rig.line_names)


def _first_bytes(attempt: Attempt, stamp: str, pair: tuple[str, ...], parent: Parent | None, begins: int) -> bytes:
    """With the head twice."""
    value = head(attempt.description, stamp, pair, parent, begins)
    return MAGIC + 2 * frame(HEAD, from_json(value))


def _how(attempt: Attempt) -> str:
    """One of `head.ENDINGS`."""
    if attempt.incidents:
        return "incident"
    if attempt.readings.load.landed:
        return "landed"
    return "done" if attempt.session is not None and attempt.session.done else "left"


class Recorder:
    """A witness of an attempt that writes all it sees. Close it, or use it as a context."""

    def __init__(
        self,
        attempt: Attempt,
        file: BinaryIO | Begin,
        *,
        stamp: str = "",
        pair: tuple[str, ...] = (),
        parent: Parent | None = None,
        before: Sequence[Second] = (),
    ) -> None:
        """Begin to record.

        Args:
            attempt: at its present step; commands it was given before that are kept too.
            file: open for writing bytes, empty; or what makes one, never seen without its first bytes.
            stamp: when, in words of the caller, who has a clock.
            pair: names of the operators, unit by unit.
            parent: the recording it goes on from.
            before: the parent's seconds from time zero to the present step, all of them, kept as they are.
        """
        first = _first_bytes(attempt, stamp, pair, parent, 0 if before else attempt.simulation.step_count)
        opened = file(first) if callable(file) else file
        self.stopped_at_s: float | None = None
        """Since when nothing more could be written; none while all is well."""
        self.why = ""
        """Why not, in words."""
        self.path = Path(str(getattr(opened, "name", "")))
        self._attempt, self._file = attempt, opened
        self._is_closed, self._said = False, dict[str, Any]()
        self._second = attempt.description.engine.steps_per_s
        self._every = sample_every(self._second, attempt.every)
        self._noticing = Noticing(attempt.description)
        self._begin, self._held = 0, still(attempt.rig)
        self._places = np.array([places(channel) for channel in _channels(attempt.description)], np.int64)
        self._changes: list[tuple[int, Commands]] = [] if before else list(attempt.changes)
        self._events: list[Event] = [] if before else list(attempt.events)
        self._rows = list[list[float]]()
        self._onlookers = Onlookers(attempt)
        self._start(b"" if callable(file) else first, before)

    def _start(self, first: bytes, before: Sequence[Second]) -> None:
        """Write what is known already, and look on from here."""
        self._write(first)
        if self.stopped_at_s is None:
            self._attempt.witnesses.append(self)
        for second in before:
            self._write(frame(SECOND, second_content(second)))
            self._begin, self._held = second.end_step, second.changes[-1][1]
        self.on_readings(self._attempt.readings)
        self._onlookers.begin()

    def on_commands(self, step: int, commands: Commands) -> None:
        """Commands that hold from `step` on."""
        self._changes.append((step, commands))

    def on_event(self, event: Event) -> None:
        """Something happened."""
        self._events.append(event)

    def on_readings(self, readings: Readings) -> None:
        """Sample, and write the second when it is over, or the lift is."""
        if self._is_closed or self._said or self.stopped_at_s is not None:
            return
        self._events += self._noticing.look(readings)
        is_due = readings.step % self._every == 0 and (readings.step > self._begin or not self._begin)
        if is_due or tips(readings):
            self._rows.append(row(readings, self._attempt.rig))
        if readings.step >= (self._begin // self._second + 1) * self._second:
            self._write_second()
        if self._attempt.ended:
            self._write_end()

    def close(self, *, score: str | None = None, text: str = "") -> None:
        """The lift is over for its operators: write what is left, and how it ended."""
        if self._is_closed:
            return
        if self.stopped_at_s is None:
            self._write_end(score=score, text=text)
        self._is_closed = True
        self._look_away()
        self._let_go()

    def __enter__(self) -> Recorder:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _write_second(self) -> None:
        step = self._attempt.simulation.state.step
        if step <= self._begin:
            return
        values = np.array(self._rows, np.float64).reshape(-1, len(self._places))
        changes = ((self._begin, self._held), *self._changes)
        events = tuple(event._replace(fields=dict(event.fields)) for event in self._events)
        samples, gaps = to_whole(values, self._places), tuple(self._attempt.readings.gaps)
        state = self._attempt.simulation.state if step % (STATE_EVERY_S * self._second) == 0 else None
        is_due = step % (MEMORY_EVERY_S * self._second) == 0 and not self._attempt.incidents
        memory = self._onlookers.memory() if is_due else ""
        second = Second(self._begin, step, self._attempt.state_hash, changes, samples, events, gaps, state, memory)
        self._write(frame(SECOND, second_content(second)))
        self._begin, self._held = step, changes[-1][1]
        self._changes, self._events, self._rows = [], [], []

    def _write_end(self, *, score: str | None = None, text: str = "") -> None:
        self._write_second()
        session = self._attempt.session
        if session is not None and score is None:
            kept = session.result()[0]
            each = zip(self._attempt.rig.unit_names, kept.units, strict=True)
            score = f"{kept.together:.0f} ({', '.join(f'{name} {points:.0f}' for name, points in each)})"
        end = {
            "how": _how(self._attempt),
            "text": text,
            "step": self._attempt.simulation.state.step,
            "score": score,
            "account": [] if session is None else [(one.what, dict(one.fields)) for one in session.account()],
            "events": [event._replace(fields=dict(event.fields)) for event in self._events],
        }
        if end != self._said:
            self._said = end
            self._write(frame(END, from_json(end)))

    def _write(self, data: bytes) -> None:
        """All of it and at once, or never again."""
        if self.stopped_at_s is not None:
            return
        try:
            self._file.write(data)
            self._file.flush()
        except (OSError, ValueError) as error:
            self.give_up((error.strerror if isinstance(error, OSError) else None) or str(error))

    def give_up(self, why: str) -> None:
        """Nothing more can be written; the lift goes on."""
        self.stopped_at_s, self.why = self._attempt.simulation.time_s, why
        self._look_away()
        self._let_go()

    def _look_away(self) -> None:
        if self in self._attempt.witnesses:
            self._attempt.witnesses.remove(self)
        self._onlookers.leave()

    def _let_go(self) -> None:
        """Close the file; a full disk may complain once more, and somebody may have deleted it meanwhile."""
        try:
            if self.stopped_at_s is None and self.path.name and not self._is_there():
                self.stopped_at_s, self.why = self._attempt.simulation.time_s, "its file was deleted"
            self._file.close()
        except (OSError, ValueError) as error:
            if self.stopped_at_s is None:
                self.stopped_at_s, self.why = self._attempt.simulation.time_s, str(error)

    def _is_there(self) -> bool:
        try:
            return os.path.samestat(os.fstat(self._file.fileno()), self.path.stat())
        except FileNotFoundError:
            return False

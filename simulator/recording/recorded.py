"""A recording in memory: what was read of a file, and every way to ask it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from simulator.events import Event
from simulator.readings import CHANNELS, LoadReadings, PartGap, Readings, UnitReadings, lines_of
from simulator.recording.head import Ending, Head
from simulator.recording.seconds import Change, Second
from simulator.recording.whole_numbers import Real, Whole, to_real
from simulator.scenario.description import Description

NAMES = tuple(channel.name for channel in CHANNELS)
_YES_NO = np.array([channel.unit == "bool" for channel in CHANNELS])
_TIME, _STEP = NAMES.index("time_s"), NAMES.index("step")
T = TypeVar("T")
_UNIT, _LOAD = len(UnitReadings._fields), len(LoadReadings._fields)


def minutes(time_s: float) -> str:
    """A time as people say it: 02:05.3."""
    tenths = round(max(0.0, time_s) * 10.0)
    return f"{tenths // 600:02d}:{tenths % 600 / 10.0:04.1f}"


def changes_in(seconds: Sequence[Second]) -> list[Change]:
    """Every change of commands in some seconds, with the step from which it held."""
    found: list[Change] = []
    for second in seconds:
        for step, commands in second.changes:
            if not found or found[-1][1] != commands:
                found.append((step, commands))
    return found


@dataclass(frozen=True)
class Recording:
    """A lift that was kept."""

    path: Path
    head: Head
    description: Description | None
    """None if this program cannot read the scenario in it; `notes` says so."""
    seconds: tuple[Second, ...]
    ending: Ending | None
    notes: tuple[str, ...] = ()
    """What is wrong with the file, a sentence each."""

    @property
    def name(self) -> str:
        """Its file's name."""
        return self.path.name

    @property
    def how(self) -> str:
        """How it ended; `broken off` without an end mark."""
        return self.ending.how if self.ending else "broken off"

    @property
    def length_s(self) -> float:
        """Time of its last step."""
        return self.seconds[-1].end_step / self.head.steps_per_s if self.seconds else 0.0

    @cached_property
    def whole(self) -> tuple[Second, ...]:
        """The seconds from time zero on with none missing: every command in them is known, so they can be re-run."""
        ends = (0, *(second.end_step for second in self.seconds))
        count = next((i for i, second in enumerate(self.seconds) if second.begin_step != ends[i]), len(self.seconds))
        return self.seconds[:count]

    @property
    def whole_until_step(self) -> int:
        """Where the last of these ends."""
        return self.whole[-1].end_step if self.whole else 0

    @cached_property
    def changes(self) -> list[Change]:
        """Every change of commands that was saved, with the step from which it held."""
        return changes_in(self.seconds)

    @cached_property
    def events(self) -> list[Event]:
        """All events by step."""
        found = [event for second in self.seconds for event in second.events]
        return sorted(found, key=lambda event: event.step)

    @cached_property
    def stored(self) -> Whole:
        """All samples as they were stored: a row a sample, columns as in `head.channels`."""
        empty = np.zeros((0, len(self.head.channels)), np.int64)
        return np.vstack([empty, *(second.samples for second in self.seconds)])

    @cached_property
    def table(self) -> Real:
        """All samples, a column for each of `CHANNELS`; not a number where the file has no such channel."""
        return self._in_order(self.stored)

    def column(self, name: str) -> Real:
        """One channel over all samples, taken out of them when it is first asked for; not a number where it is not."""
        return self.once(f"column {name}", lambda: self._column(name))

    def once(self, what: str, make: Callable[[], T]) -> T:
        """What follows from this recording alone and is asked for again and again: made the first time, then kept.

        Args:
            what: a name of its own for it.
            make: makes it. What it gives is shared, so nobody may change it.
        """
        if what not in self._kept:
            self._kept[what] = make()
        found: T = self._kept[what]
        return found

    @cached_property
    def _kept(self) -> dict[str, Any]:
        return {}

    def _column(self, name: str) -> Real:
        if name == "time_s":
            return np.asarray(self._steps / self.head.steps_per_s)
        if name not in self.head.channels:
            return np.full(len(self._steps), np.nan)
        place = self.head.channels.index(name)
        return to_real(self._stored_column(place), np.array(self.head.decimals[place]))

    def _stored_column(self, place: int) -> Whole:
        """One column of `stored` without the others."""
        return np.concatenate([np.zeros(0, np.int64), *(second.samples[:, place] for second in self.seconds)])

    @property
    def time_s(self) -> Real:
        """Times of all samples."""
        return self.column("time_s")

    def at(self, time_s: float) -> Readings:
        """The stored readings nearest to a time.

        Raises:
            LookupError: no sample was saved.
        """
        steps = self._steps
        if not len(steps):
            raise LookupError(f"{self.name}: no readings were saved")
        step = time_s * self.head.steps_per_s
        after = int(np.searchsorted(steps, step))
        row = min((one for one in (after - 1, after) if 0 <= one < len(steps)), key=lambda one: abs(steps[one] - step))
        owner = int(np.searchsorted(self._row_ends, row, side="right"))
        second = self.seconds[owner]
        samples = second.samples[row - int(self._row_ends[owner])][None]
        return as_readings(self._in_order(samples)[0], second.gaps)

    @cached_property
    def _row_ends(self) -> Whole:
        """Samples up to the end of each second."""
        return np.cumsum([len(second.samples) for second in self.seconds], dtype=np.int64)

    @cached_property
    def _steps(self) -> Real:
        """Step of each sample, without unpacking the rest."""
        place = self.head.channels.index("step")
        return self._stored_column(place) / 10.0 ** self.head.decimals[place]

    def _in_order(self, samples: Whole) -> Real:
        """Stored samples as values in the order of `CHANNELS`."""
        values = to_real(samples, np.array(self.head.decimals))
        table = values[:, self._places]
        table[:, self._places < 0] = np.nan
        table[:, _TIME] = table[:, _STEP] / self.head.steps_per_s
        return table

    @cached_property
    def _places(self) -> Whole:
        """Where each of `CHANNELS` stands among the stored columns; -1 where it does not."""
        place = {name: i for i, name in enumerate(self.head.channels)}
        return np.array([place.get(name, -1) for name in NAMES])


def as_readings(row: Real, gaps: tuple[PartGap, ...] = ()) -> Readings:
    """A row of the table as readings."""
    values = [
        bool(value == 1.0) if yes_no else float(value) for value, yes_no in zip(row.tolist(), _YES_NO, strict=True)
    ]
    nose, tail = (UnitReadings(*values[2 + end * _UNIT : 2 + (end + 1) * _UNIT]) for end in (0, 1))  # type: ignore[arg-type]
    load = LoadReadings(*values[2 + 2 * _UNIT : 2 + 2 * _UNIT + _LOAD])  # type: ignore[arg-type]
    return Readings(int(values[0]), values[1], (nose, tail), lines_of((nose, tail)), load, gaps)

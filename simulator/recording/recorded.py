"""A recording in memory: what was read of a file, and every way to ask it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from simulator.events import Event
from simulator.readings import (
    Channel,
    Gaps,
    LineReadings,
    LoadReadings,
    Readings,
    UnitReadings,
    channels_of,
    line_of,
)
from simulator.recording.head import Ending, Head
from simulator.recording.seconds import Change, Second
from simulator.recording.whole_numbers import Kept, Real, Whole, to_real
from simulator.scenario.description import Description
from simulator.scenario.rig import Rig, rig_of

T = TypeVar("T")
_MOMENT = ("step", "time_s")
"""The channels that stand first in every table, as in `channels_of`."""


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

    @cached_property
    def rig(self) -> Rig:
        """Its units, lines and levers; with no scenario their names alone, each line to a pick of its own."""
        return self.head.rig if self.description is None else rig_of(self.description)

    @cached_property
    def channels(self) -> tuple[Channel, ...]:
        """The readings of such a lift, in the order of `table`; the file may lack some, and have others beside them."""
        return channels_of(self.rig.unit_names, self.rig.line_names)

    @property
    def how(self) -> str:
        """How it ended; `broken off` without an end mark."""
        return self.ending.how if self.ending else "broken off"

    @property
    def ran_out(self) -> bool:
        """A drill that was neither done nor left: its time was over."""
        drill = self.description.drill if self.description else None
        return drill is not None and self.how == "left" and self.length_s >= drill.longest_s - 0.05

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
        found += self.ending.events if self.ending else ()
        return sorted(found, key=lambda event: event.step)

    @cached_property
    def stored(self) -> Whole:
        """All samples as they were stored: a row a sample, columns as in `head.channels`."""
        empty = np.zeros((0, len(self.head.channels)), np.int64)
        return np.vstack([empty, *(second.samples for second in self.seconds)])

    @cached_property
    def table(self) -> Real:
        """All samples, a column for each of `channels`; not a number where the file has no such channel."""
        return self._in_order(self.stored)

    def blocks(self) -> Iterator[Real]:
        """The rows of `table`, a second at a time: of hours all of them at once would fill the memory."""
        return (self._in_order(second.samples) for second in self.seconds)

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
        return self.readings_of(self._in_order(samples)[0], second.gaps)

    def readings_of(self, row: Real, gaps: Gaps = ()) -> Readings:
        """A row of the table, or one made of several, as readings."""
        return as_readings(row, self.rig, gaps)

    @cached_property
    def _row_ends(self) -> Whole:
        """Samples up to the end of each second."""
        return np.cumsum([len(second.samples) for second in self.seconds], dtype=np.int64)

    @cached_property
    def _steps(self) -> Real:
        """Step of each sample, without unpacking the rest."""
        place = self.head.channels.index("step")
        return self._stored_column(place) / 10.0 ** self.head.decimals[place]

    def _in_order(self, samples: Kept) -> Real:
        """Stored samples as values in the order of `channels`."""
        values = to_real(samples, np.array(self.head.decimals))
        table = values[:, self._places]
        table[:, self._places < 0] = np.nan
        step, time = map(_MOMENT.index, _MOMENT)
        table[:, time] = table[:, step] / self.head.steps_per_s
        return table

    @cached_property
    def _places(self) -> Whole:
        """Where each of `channels` stands among the stored columns; -1 where it does not."""
        place = {name: i for i, name in enumerate(self.head.channels)}
        return np.array([place.get(name, -1) for name in (one.name for one in self.channels)])


def as_readings(row: Real, rig: Rig, gaps: Gaps = ()) -> Readings:
    """A row of the table of a lift on this rig as readings."""
    channels = channels_of(rig.unit_names, rig.line_names)
    values = [
        bool(value == 1.0) if channel.unit == "bool" else value
        for channel, value in zip(channels, row.tolist(), strict=True)
    ]
    rest = iter(values[len(_MOMENT) :])
    units = tuple(UnitReadings(*islice(rest, len(UnitReadings._fields))) for _ in rig.units)
    lines = tuple(
        line_of(units[line.unit])
        if line.name in rig.unit_names
        else LineReadings(*islice(rest, len(LineReadings._fields)))
        for line in rig.lines
    )
    load = LoadReadings(*islice(rest, len(LoadReadings._fields)))
    return Readings(int(values[0]), float(values[1]), units, lines, load, gaps)

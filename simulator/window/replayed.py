"""A recorded lift that plays: it answers like a running one, from stored readings alone."""

from __future__ import annotations

import numpy as np

from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.recording.recorded import Recording, as_readings
from simulator.window.lift import OutOfReach, Stage
from simulator.window.moments import spans


class Replayed(OutOfReach):
    """Time goes on with the steps that the window asks for; between two samples the readings go straight."""

    def __init__(self, recording: Recording, at_s: float = 0.0) -> None:
        self.recording = recording
        super().__init__()
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
        times = self.recording.time_s
        near = self.recording.at(self.time_s)
        after = int(np.clip(np.searchsorted(times, self.time_s), 1, max(1, len(times) - 1)))
        if len(times) < 2:
            return near
        a, b = self.recording.table[after - 1], self.recording.table[after]
        span_s = float(times[after] - times[after - 1])
        share = min(1.0, max(0.0, (self.time_s - float(times[after - 1])) / span_s)) if 0.0 < span_s < 1.0 else 0.0
        with np.errstate(invalid="ignore"):
            between = np.where(np.isfinite(a) & np.isfinite(b), a + share * (b - a), a)
        return as_readings(between, near.gaps)._replace(time_s=self.time_s)

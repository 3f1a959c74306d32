"""Telemetry: every channel of the readings as a CSV, at any rate up to every step."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import TextIO

from simulator.files.writing import text_beside
from simulator.readings import CHANNELS, Readings


class Telemetry:
    """An observer that writes one row each time it is shown readings. Use it as a context.

    The file is written beside its place and is there when the lift is over. Where it cannot be written the lift goes
    on, and `stopped` says why there is none.
    """

    def __init__(self, path: Path, *, caution: str) -> None:
        self.stopped = ""
        """Why there is no file; empty while all is well."""
        self._caution = caution
        self._open, self._path = ExitStack(), path
        self._parts: tuple[str, ...] | None = None
        self._file: TextIO | None = None

    def __call__(self, readings: Readings) -> None:
        """Write a row with every digit; the first brings the header, with a column for each part's gap."""
        with self._or_stop(readings.time_s):
            if self._file is not None:
                self._write(self._file, readings)

    def _write(self, file: TextIO, readings: Readings) -> None:
        rows = csv.writer(file)
        if self._parts is None:
            self._parts = tuple(gap.part for gap in readings.gaps)
            rows.writerow([channel.name for channel in CHANNELS] + [f"gap.{part}_m" for part in self._parts])
        rows.writerow([repr(value) for value in row(readings)])

    def __enter__(self) -> Telemetry:
        with self._or_stop(0.0):
            self._file = self._open.enter_context(text_beside(self._path))
            self._file.write(f"# {self._caution}\n")
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:
        # Whatever ended the lift, the rows up to there are whole.
        with self._or_stop(None):
            self._open.close()

    @contextmanager
    def _or_stop(self, time_s: float | None) -> Iterator[None]:
        """The lift goes on whatever becomes of the file."""
        try:
            yield
        except OSError as error:
            at = "" if time_s is None else f" at {time_s:.0f} s"
            self.stopped = f"{self._path}: given a file that cannot be written{at} ({error.strerror or error})"
            self.stopped += ", allowed: a file on a disk with room; the lift went on without it"
            self._file = None
            with suppress(OSError):
                self._open.__exit__(type(error), error, error.__traceback__)


def row(readings: Readings) -> list[float]:
    """All channels in the order of `CHANNELS`, then each part's gap."""
    return [float(readings.step), readings.time_s, *(float(value) for unit in readings.units for value in unit),
            *map(float, readings.load), readings.to_raise_m, readings.raise_short_m, readings.slope_room_m,
            *(gap.gap_m for gap in readings.gaps)]  # fmt: skip

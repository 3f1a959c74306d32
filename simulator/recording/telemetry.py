"""Every channel of the readings as a CSV: as a lift happens, at up to every step, or as a recording keeps it."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import TextIO

from simulator.files.writing import text_beside
from simulator.readings import Readings, channels_of
from simulator.recording.recorded import Recording
from simulator.scenario.rig import Rig


def write_csv(recording: Recording, path: Path, *, caution: str) -> None:
    """Every channel, a row a sample; the header names each with its unit, the last line is the caution."""
    decimals = [channel.decimals + 1 if channel.unit not in ("bool",) else 0 for channel in recording.channels]
    with text_beside(path, encoding="utf-8-sig") as file:
        rows = csv.writer(file)
        rows.writerow([f"{channel.name} [{channel.unit}]" for channel in recording.channels])
        for block in recording.blocks():
            for row in block.tolist():
                rows.writerow([f"{value:.{places}f}" for value, places in zip(row, decimals, strict=True)])
        rows.writerow([caution])


class Telemetry:
    """Writes one row each time an observer of its is shown readings. Use it as a context.

    The file is written beside its place and is there when the lift is over; each row stands there at once, for whoever
    reads along. Where it cannot be written the lift goes on, and `stopped` says why there is none.
    """

    def __init__(self, path: Path, *, caution: str) -> None:
        """
        Args:
            path: the file, written over if it is there.
            caution: first line of the file.
        """
        self.stopped = ""
        """Why there is no file; empty while all is well."""
        self._caution = caution
        self._open, self._path = ExitStack(), path
        self._names: list[str] = []
        self._file: TextIO | None = None

    def observer(self, rig: Rig) -> Callable[[Readings], None]:
        """Of a lift on this rig. It writes a row with every digit.

        The first brings the header, with a column for each part's gap; so does that of a later lift with other columns.
        """

        def see(readings: Readings) -> None:
            with self._or_stop(readings.time_s):
                if self._file is not None:
                    self._write(self._file, readings, rig)

        return see

    def _write(self, file: TextIO, readings: Readings, rig: Rig) -> None:
        rows = csv.writer(file)
        names = [channel.name for channel in channels_of(rig.unit_names, rig.line_names)]
        names += [f"gap.{gap.part}_m" for gap in readings.gaps]
        if names != self._names:
            rows.writerow(names)
            self._names = names
        gaps = (gap.gap_m for gap in readings.gaps)
        rows.writerow([repr(value) for value in (*row(readings, rig), *gaps)])
        file.flush()

    def __enter__(self) -> Telemetry:
        with self._or_stop(0.0):
            self._file = self._open.enter_context(text_beside(self._path))
            self._file.write(f"# {self._caution}\n")
            self._file.flush()  # a program that is killed leaves no empty file
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


def row(readings: Readings, rig: Rig) -> list[float]:
    """All channels of a lift on this rig, in the order of `channels_of`."""
    units = [float(value) for unit in readings.units for value in unit]
    own = zip(rig.lines, readings.lines, strict=True)
    lines = [float(value) for line, now in own if line.name not in rig.unit_names for value in now]
    round_it = readings.to_raise_m, readings.raise_short_m, readings.slope_room_m
    return [float(readings.step), readings.time_s, *units, *lines, *map(float, readings.load), *round_it]

"""Telemetry: every channel of the readings as a CSV, at any rate up to every step."""

from __future__ import annotations

import csv
from pathlib import Path
from types import TracebackType

from simulator.readings import CHANNELS, Readings


class Telemetry:
    """An observer that writes one row, at once, each time it is shown readings. Use it as a context."""

    def __init__(self, path: Path, *, caution: str) -> None:
        self._parts: tuple[str, ...] | None = None
        self._file = path.open("w", newline="", encoding="utf-8", buffering=1)
        self._file.write(f"# {caution}\n")
        self._rows = csv.writer(self._file)

    def __call__(self, readings: Readings) -> None:
        """Write a row with every digit; the first brings the header, with a column for each part's gap."""
        if self._parts is None:
            self._parts = tuple(gap.part for gap in readings.gaps)
            self._rows.writerow([channel.name for channel in CHANNELS] + [f"gap.{part}_m" for part in self._parts])
        self._rows.writerow([repr(value) for value in row(readings)])

    def __enter__(self) -> Telemetry:
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:
        self._file.close()


def row(readings: Readings) -> list[float]:
    """All channels in the order of `CHANNELS`, then each part's gap."""
    return [float(readings.step), readings.time_s, *(float(value) for unit in readings.units for value in unit),
            *map(float, readings.load), readings.to_raise_m, readings.raise_short_m, readings.slope_room_m,
            *(gap.gap_m for gap in readings.gaps)]  # fmt: skip

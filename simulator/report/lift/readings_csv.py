"""The stored readings of a recording as a table for a spreadsheet."""

from __future__ import annotations

import csv
from pathlib import Path

from simulator.files.writing import text_beside
from simulator.recording.recorded import Recording


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

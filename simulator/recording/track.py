"""Command tracks: a CSV of what both operators asked for and when, each row held until the next."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from math import isfinite
from pathlib import Path
from typing import NamedTuple

from simulator.engine.commands import FUNCTIONS, Commands, UnitCommands
from simulator.files.bounds import FAULTS, LIFT_S, TRACK_BYTES
from simulator.files.reading import Unreadable, text_of
from simulator.files.writing import text_beside

COLUMNS = ("t_s", *(f"{end}_{function}" for end in ("nose", "tail") for function in FUNCTIONS))
"""The header of a track file."""
REMARK = "#"
"""A line that starts so is not read."""


class Change(NamedTuple):
    """From this moment on, these commands."""

    time_s: float
    commands: Commands


class BrokenTrack(Exception):  # noqa: N818 - it says what it is: a track that cannot be used
    """A track file that cannot be used; `faults` lists every reason."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def write(path: Path, track: Iterable[Change], *, caution: str) -> None:
    """Write a track with every digit, so that it drives the very same lift again."""
    with text_beside(path) as file:
        file.write(f"{REMARK} {caution}\n")
        rows = csv.writer(file)
        rows.writerow(COLUMNS)
        for change in track:
            rows.writerow([repr(change.time_s), *map(repr, change.commands[0]), *map(repr, change.commands[1])])


def read(path: Path) -> list[Change]:
    """The track in a file.

    Raises:
        BrokenTrack: no such file, no text, wrong columns, numbers out of [-1, 1], times that do not rise; all faults.
    """
    try:
        lines = text_of(path, TRACK_BYTES, "a CSV track").splitlines()
    except Unreadable as error:
        raise BrokenTrack([f"{path}: {error}"]) from error
    numbered = [(i, line) for i, line in enumerate(lines, 1) if line.strip() and not line.startswith(REMARK)]
    header = ",".join(COLUMNS)
    if not numbered or numbered[0][1].replace(" ", "") != header:
        given = numbered[0][1][:80] if numbered else "nothing"
        raise BrokenTrack([f"{path}: header: given {given}, allowed: {header}"])
    faults: list[str] = []
    track: list[Change] = []
    for number, line in numbered[1:]:
        row = _row(f"{path}: line {number}", line, faults)
        if row is not None and row.time_s < (track[-1].time_s if track else 0.0):
            faults.append(f"{path}: line {number}: t_s: given {row.time_s:g}, allowed: at least {_last(track):g}")
        track += [] if row is None else [row]
        if len(faults) > FAULTS:
            faults.append(f"{path}: given still more of the kind, allowed: none")
            break
    if not track and not faults:
        faults.append(f"{path}: given no rows, allowed: at least one row under the header")
    if faults:
        raise BrokenTrack(faults)
    return track


def _row(where: str, line: str, faults: list[str]) -> Change | None:
    cells = [cell.strip().strip('"') for cell in line.split(",")]
    if len(cells) != len(COLUMNS):
        faults.append(f"{where}: given {len(cells)} values, allowed: {len(COLUMNS)}")
        return None
    values = []
    for name, cell in zip(COLUMNS, cells, strict=True):
        low, high = (0.0, LIFT_S) if name == "t_s" else (-1.0, 1.0)
        try:
            value = float(cell)
        except ValueError:
            value = float("nan")
        if not isfinite(value) or not low <= value <= high:
            faults.append(f"{where}: {name}: given {cell.strip()[:40] or 'nothing'}, allowed: {low:g} to {high:g}")
        values.append(value)
    half = 1 + len(FUNCTIONS)
    return Change(values[0], Commands(UnitCommands(*values[1:half]), UnitCommands(*values[half:])))


def _last(track: list[Change]) -> float:
    return track[-1].time_s if track else 0.0

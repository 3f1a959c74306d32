"""Command tracks: a CSV of what both operators asked for and when, each row held until the next."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from math import isfinite
from pathlib import Path
from typing import NamedTuple

from simulator.engine.commands import Commands
from simulator.files.bounds import FAULTS, LIFT_S, TRACK_BYTES
from simulator.files.reading import Unreadable, text_of
from simulator.files.writing import text_beside
from simulator.scenario.faults import cut, listed
from simulator.scenario.rig import Rig

TIME = "t_s"
REMARK = "#"
"""A line that starts so is not read."""


class CommandChange(NamedTuple):
    """From this moment on, these commands."""

    time_s: float
    commands: Commands


def columns(rig: Rig) -> tuple[str, ...]:
    """The header of a track file: time, then every lever in the rig's order."""
    return (TIME, *rig.lever_names)


class BrokenTrack(Exception):  # noqa: N818 - it says what it is: a track that cannot be used
    """A track file that cannot be used; `faults` lists every reason."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def write(path: Path, track: Iterable[CommandChange], rig: Rig, *, caution: str) -> None:
    """Write a track with every digit, so that it drives the very same lift again."""
    with text_beside(path) as file:
        file.write(f"{REMARK} {caution}\n")
        rows = csv.writer(file)
        rows.writerow(columns(rig))
        for change in track:
            rows.writerow([repr(change.time_s), *(repr(pulled) for hands in change.commands for pulled in hands)])


def read(path: Path, rig: Rig) -> list[CommandChange]:
    """The track in a file. Its columns may stand in any order.

    Raises:
        BrokenTrack: no such file, no text, a lever that the rig lacks or one that is missing, numbers out of [-1, 1],
            times that do not rise; all faults.
    """
    try:
        lines = text_of(path, TRACK_BYTES, "a CSV track").splitlines()
    except Unreadable as error:
        raise BrokenTrack([f"{path}: {error}"]) from error
    numbered = [(i, line) for i, line in enumerate(lines, 1) if line.strip() and not line.startswith(REMARK)]
    given = _cells(numbered[0][1]) if numbered else []
    if wrong := header_faults(given, rig):
        where = f"{path}: line {numbered[0][0]}: " if numbered else f"{path}: "
        raise BrokenTrack([where + one for one in wrong])
    faults: list[str] = []
    track: list[CommandChange] = []
    for number, line in numbered[1:]:
        row = _row(f"{path}: line {number}", line, given, rig, faults)
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


def header_faults(given: Sequence[str], rig: Rig) -> list[str]:
    """What is wrong with a header for a lift on this rig."""
    wanted = columns(rig)
    allowed = f"allowed: {','.join(wanted)}"
    unknown = [cut(name) for name in given if name not in wanted][:FAULTS]
    missing = [name for name in wanted if name not in given]
    twice = [name for name in wanted if given.count(name) > 1]
    if not given or len(unknown) == len(given):
        return [f"header: given {cut(','.join(given)) or 'nothing'}, {allowed}"]
    said = (
        [f"header: given {listed(unknown, last='and')}, which this lift has no lever for, {allowed}"] if unknown else []
    )
    said += [f"header: given no column for {listed(missing, last='and')}, {allowed}"] if missing else []
    return said + ([f"header: given {listed(twice, last='and')} twice, {allowed}"] if twice else [])


def _cells(line: str) -> list[str]:
    return [cell.strip().strip('"') for cell in line.split(",")]


def _row(where: str, line: str, names: list[str], rig: Rig, faults: list[str]) -> CommandChange | None:
    cells = _cells(line)
    if len(cells) != len(names):
        faults.append(f"{where}: given {len(cells)} values, allowed: {len(names)}")
        return None
    values: dict[str, float] = {}
    for name, cell in zip(names, cells, strict=True):
        low, high = (0.0, LIFT_S) if name == TIME else (-1.0, 1.0)
        try:
            value = float(cell)
        except ValueError:
            value = float("nan")
        if not isfinite(value) or not low <= value <= high:
            faults.append(f"{where}: {name}: given {cell.strip()[:40] or 'nothing'}, allowed: {low:g} to {high:g}")
        values[name] = value
    hands = (tuple(values[lever.name] for lever in unit.levers) for unit in rig.units)
    return CommandChange(values[TIME], Commands(*hands))


def _last(track: list[CommandChange]) -> float:
    return track[-1].time_s if track else 0.0

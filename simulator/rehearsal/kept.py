"""The file of a run's rows: what was asked in its first line, then a line for each draw, only ever added to.

A run that was interrupted, or killed, goes on from it. The last line is dropped where it was cut off; a line that
cannot be read is passed over, and its draw is driven again.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, BinaryIO

from simulator.files.plain_text import cut_to, one_line
from simulator.files.record_lines import added_to, whole_lines
from simulator.files.terminal import finite
from simulator.files.writing import Refused
from simulator.recording.kept_memory import sources
from simulator.recording.recorder import versions
from simulator.rehearsal.driven import DrawRow, Job, row_of
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.lots import drawn
from simulator.scenario.toml_writer import dump


@cache
def program() -> dict[str, str]:
    """Versions by name, and a digest of all sources of the program; compiled or not makes no difference to a lift."""
    return {**versions(), "sources": sources()}


def difference(own: dict[str, str], other: dict[str, str]) -> str:
    """What differs between two programs, in words; empty where nothing does."""
    names = [name for name in {**own, **other} if own.get(name) != other.get(name)]
    return ", ".join(f"{name} {other.get(name, 'none')} there, {own.get(name, 'none')} here" for name in names)


NAME = "draws.jsonl"
FORM = "slopepick rehearsal"
LAYOUT = 1
TOLD_LETTERS = 200


def asked_of(job: Job) -> dict[str, Any]:
    """All that the rows of a run depend on; how many there are is not among it."""
    lots = {name: value for name, value in job.lots._asdict().items() if name != "ways"}
    return {
        FORM: LAYOUT,
        "scenario": job.lift.title,
        "scenario's numbers": sha256(dump(job.lift).encode()).hexdigest()[:16],
        **lots,
        "operators": job.lots.ways,
        "causes": job.told is not None,
        **{f"program: {name}": version for name, version in program().items()},
    }


class KeptRows:
    """The rows of a run in its folder. Use it as a context."""

    def __init__(self, folder: Path, job: Job) -> None:
        """Open the file, or begin it.

        Raises:
            Refused: what stands there is of a run with other settings, or no such file.
            OSError: it cannot be made, read or written.
        """
        self.path = folder / NAME
        self._job, self._limits = job, len(limits_of(job.lift))
        self._asked = json.loads(json.dumps(asked_of(job)))
        if folder.exists() and not folder.is_dir():
            raise Refused(f"{one_line(str(folder))}: given a file, allowed: a folder, new or of the same run")
        folder.mkdir(exist_ok=True)
        if self.path.exists():
            self._refuse_another()
        self._file: BinaryIO = added_to(self.path, json.dumps(self._asked).encode())

    def _refuse_another(self) -> None:
        there = _read(next(whole_lines(self.path), b""))
        if there.get(FORM) != LAYOUT:
            given = f"a file that is no rehearsal of layout {LAYOUT}"
            raise Refused(f"{one_line(str(self.path))}: given {given}, allowed: a new folder, or one of the same run")
        other = [
            f"{name} {_told(there.get(name))} there, {_told(value)} now"
            for name, value in self._asked.items()
            if there.get(name) != value
        ]
        if other:
            may = "the same settings to go on with it, or a folder of its own for this run"
            raise Refused(f"{one_line(str(self.path))}: given a run with {'; '.join(other)}, allowed: {may}")

    def rows(self) -> Iterator[DrawRow]:
        """All that were driven, in the order in which they came; a draw that stands there twice comes once."""
        seen: set[int] = set()
        for line in whole_lines(self.path):
            kept = _read(line)
            if "draw" not in kept:
                continue
            try:
                row = row_of(kept)
            except (KeyError, TypeError, ValueError):
                continue
            if row.number not in seen and self._is_own(row):
                seen.add(row.number)
                yield row

    def _is_own(self, row: DrawRow) -> bool:
        """As this run would have drawn it, with a value a limit."""
        is_whole = len(row.values) == (0 if row.ended == "cannot begin" else self._limits)
        return is_whole and row.draw == drawn(self._job.lift, self._job.lots, row.number)

    def add(self, row: DrawRow) -> None:
        """Keep a row, at once.

        Raises:
            OSError: it cannot be written.
        """
        line = json.dumps(finite(row.as_json()), allow_nan=False, separators=(",", ":")).encode() + b"\n"
        try:
            self._file.write(line)
            self._file.flush()
        except OSError as error:
            raise OSError(error.errno, error.strerror or str(error), str(self.path)) from error

    def __enter__(self) -> KeptRows:
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()


def _read(line: bytes) -> dict[str, Any]:
    """An object of JSON; nothing where there is none."""
    try:
        found = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _told(value: object) -> str:
    return "none" if value is None else cut_to(value if isinstance(value, str) else json.dumps(value), TOLD_LETTERS)

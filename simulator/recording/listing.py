"""The list of a folder's recordings. What was looked into before is kept in an index, so that thousands are no wait."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from importlib import metadata
from pathlib import Path
from typing import Any, NamedTuple

from simulator.files.bounds import INDEX_BYTES
from simulator.files.reading import Unreadable, bytes_of
from simulator.files.writing import write_whole
from simulator.recording.settings import cache_folder

ENDING = ".lift"
"""How the names of recordings end."""
NOSE_RIGHT = '\nnose_seen_from_ravine = "right"\n'
"""As a recording writes its scenario: to read each whole would take a list too long."""
FEWEST_INDEXED = 100
"""Fewer new files than this are looked into again the next time: that is quicker than to write an index."""


class RecordingEntry(NamedTuple):
    """One file of the folder."""

    path: Path
    title: str = ""
    stamp: str = ""
    pair: tuple[str, ...] = ()
    score: str | None = None
    length_s: float = 0.0
    how: str = "broken off"
    """landed, done, incident, left, broken off, unreadable"""
    fault: str = ""
    """What is wrong with it, a sentence."""
    nose_seen: str = "left"
    """Where its nose unit is seen from the ravine."""

    @property
    def name(self) -> str:
        """The file's name."""
        return self.path.name

    @property
    def ended_well(self) -> bool:
        """The load was landed, or the drill done."""
        return self.how in ("landed", "done")


class _Mark(NamedTuple):
    """By what it is known that a file is the one that was looked into."""

    size: int
    changed_ns: int


_Known = dict[str, tuple[_Mark, RecordingEntry]]


def list_recordings(folder: Path) -> list[RecordingEntry]:
    """All recordings of a folder, newest first; a folder that is not there has none."""
    listing = Listing(folder)
    while listing.look():
        pass
    return listing.entries


class Listing:
    """A folder's list as it grows: all that the index knows at once, then file by file, the newest files first."""

    def __init__(self, folder: Path, index: Path | None = None) -> None:
        """Begin a list.

        Args:
            folder: of recordings; one that is not there has none.
            index: file of what is known; left out: one for this folder among what the program keeps for speed.
        """
        self._folder, self._index = folder, index or _index_of(folder)
        marks = dict(_marks(folder))
        known = _read_index(self._index, folder) if len(marks) >= FEWEST_INDEXED else {}
        self._known: _Known = {
            name: known[name] for name, mark in marks.items() if name in known and known[name][0] == mark
        }
        new = [(mark, name) for name, mark in marks.items() if name not in self._known]
        self._left = sorted(new, key=lambda one: one[0].changed_ns)
        self._new = len(new)

    @property
    def left(self) -> int:
        """How many files were not looked into yet."""
        return len(self._left)

    @property
    def entries(self) -> list[RecordingEntry]:
        """All that is known so far, newest first."""
        rows = sorted(
            self._known.values(), key=lambda one: (one[1].stamp, one[0].changed_ns, one[1].name), reverse=True
        )
        return [entry for _, entry in rows]

    def look(self) -> bool:
        """Look into one more file; False when there is none left. After the last, what was learned is kept."""
        if not self._left:
            return False
        mark, name = self._left.pop()
        self._known[name] = mark, _entry(self._folder / name)
        if not self._left and self._new >= FEWEST_INDEXED:
            _write_index(self._index, self._known)
        return True


def _marks(folder: Path) -> Iterator[tuple[str, _Mark]]:
    try:
        with os.scandir(folder) as files:
            for file in files:
                if file.name.endswith(ENDING):
                    yield file.name, _mark(file)
    except OSError:
        return


def _mark(file: os.DirEntry[str]) -> _Mark:
    try:
        found = file.stat()
    except OSError:
        return _Mark(-1, 0)
    return _Mark(found.st_size, found.st_mtime_ns)


def _entry(path: Path) -> RecordingEntry:
    from simulator.recording.glance import glance  # a list of known files needs none of the reader
    from simulator.recording.lift_file import BrokenRecording

    try:
        seen = glance(path)
    except BrokenRecording as broken:
        return RecordingEntry(path, how="unreadable", fault=str(broken))
    head, ending = seen.head, seen.ending
    return RecordingEntry(
        path,
        head.title,
        head.stamp,
        head.pair,
        ending.score if ending else None,
        seen.length_s,
        ending.how if ending else "broken off",
        seen.fault,
        "right" if NOSE_RIGHT in head.scenario else "left",
    )


# The index ----------------------------------------------------------------------------------------------------------


def _index_of(folder: Path) -> Path:
    """One file a folder, beside nothing of the user's own."""
    place = sha256(os.path.abspath(folder).encode("utf-8", "surrogatepass")).hexdigest()[:16]
    return cache_folder() / f"recordings-{place}.json"


def _written_by() -> str:
    """Another version may read a file otherwise, so its index does not count."""
    try:
        return metadata.version("slopepick")
    except metadata.PackageNotFoundError:
        return "not installed"


def _write_index(path: Path, known: _Known) -> None:
    """Keep what is known; where that cannot be, it is looked up again the next time."""
    rows = {name: [*mark, *entry[1:]] for name, (mark, entry) in known.items()}
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps({"by": _written_by(), "files": rows}).encode("ascii"))


def _read_index(path: Path, folder: Path) -> _Known:
    """What an index knows; nothing if it is none, or another version's."""
    try:
        value = json.loads(bytes_of(path, INDEX_BYTES, "an index of recordings"))
        if value["by"] != _written_by():
            return {}
        return {name: _row(folder / name, *row) for name, row in value["files"].items()}
    except (Unreadable, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}


def _row(
    path: Path, size: int, changed_ns: int, title: str, stamp: str, pair: list[str], score: str | None, *more: Any
) -> tuple[_Mark, RecordingEntry]:
    """One file of an index.

    Raises:
        TypeError: it is none.
    """
    length_s, how, fault, nose_seen = more
    texts = (title, stamp, *pair, score or "", how, fault, nose_seen)
    numbers = (size, changed_ns, length_s)
    if not all(type(text) is str for text in texts) or not all(type(number) in (int, float) for number in numbers):
        raise TypeError(path.name)
    return _Mark(size, changed_ns), RecordingEntry(
        path, title, stamp, tuple(pair), score, length_s, how, fault, nose_seen
    )

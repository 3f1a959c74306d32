"""The folder of recordings: begin one under a name of its own, list them, delete one."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from functools import partial
from itertools import count
from pathlib import Path
from typing import BinaryIO

from simulator.attempt import Attempt
from simulator.files.writing import begun
from simulator.recording.glance import glance
from simulator.recording.head import Parent
from simulator.recording.reader import BrokenRecording
from simulator.recording.writer import Recorder

ENDING = ".lift"
"""How the names of recordings end."""
MOST_OF_ONE_NAME = 9999
NOSE_RIGHT = '\nnose_seen_from_ravine = "right"\n'
"""As a recording writes its scenario: to read each whole would take a list too long."""


def start_recording(
    attempt: Attempt, folder: Path, stamp: str, pair: tuple[str, ...] = (), *, parent: Parent | None = None
) -> Recorder:
    """Record an attempt into a new file of a folder.

    It never raises: where nothing can be written, the recorder has stopped from the beginning and says why.

    Args:
        attempt: at time zero, or anywhere.
        folder: made if it is not there.
        stamp: date and time, such as `2025-03-01 14:20`, from the caller's clock; stands in the file and its name.
        pair: names of nose and tail operator.
        parent: the recording that it goes on from.
    """
    name = f"{_plain(attempt.description.title)}_{_plain(stamp)}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return Recorder(attempt, partial(new_file, folder, name), stamp=stamp, pair=pair, parent=parent)
    except OSError as error:
        recorder = Recorder(attempt, io.BytesIO(), stamp=stamp, pair=pair, parent=parent)
        recorder.give_up(error.strerror or str(error))
        return recorder


def new_file(folder: Path, name: str, first: bytes) -> BinaryIO:
    """A file that was not there before and begins with some bytes; two programs at once get two files.

    Raises:
        OSError: none can be made.
    """
    for number in count(1):
        try:
            return begun(folder / f"{name}_{number}{ENDING}", first)
        except FileExistsError:
            if number >= MOST_OF_ONE_NAME:
                raise
    raise AssertionError("count() does not end")


def _plain(text: str) -> str:
    """Text for a file's name on any computer."""
    return re.sub(r"[^0-9a-z]+", "-", text.lower()).strip("-")[:40].strip("-") or "lift"


@dataclass(frozen=True)
class Entry:
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


LATEST = "latest"
"""The newest recording of a folder, whatever its name."""
MOST_NAMED = 4


def list_recordings(folder: Path) -> list[Entry]:
    """All recordings of a folder, newest first; a folder that is not there has none."""
    entries = [_entry(path) for path in folder.glob(f"*{ENDING}")]
    return sorted(entries, key=lambda entry: (entry.stamp, _changed_s(entry.path), entry.name), reverse=True)


def _entry(path: Path) -> Entry:
    try:
        seen = glance(path)
    except BrokenRecording as broken:
        return Entry(path, how="unreadable", fault=str(broken))
    head, ending = seen.head, seen.ending
    return Entry(
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


def _changed_s(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def find_recording(folder: Path, name: str) -> Path:
    """A recording by its path, or one of the folder by its name, by a beginning that only one name has, or `latest`.

    Raises:
        BrokenRecording: there is none, or more than one begins so.
    """
    given = Path(name)
    for path in (given, folder / given.name, folder / f"{given.name}{ENDING}"):
        if (path == given or given.name == name) and path.is_file():
            return path
    if name == LATEST and (kept := list_recordings(folder)):
        return kept[0].path
    begun = sorted(path for path in folder.glob(f"*{ENDING}") if name and path.name.startswith(name))
    if len(begun) == 1:
        return begun[0]
    if begun:
        names = ", ".join(path.name for path in begun[:MOST_NAMED]) + (", and more" if len(begun) > MOST_NAMED else "")
        raise BrokenRecording(f"{name}: given a beginning of {len(begun)} recordings, allowed: of one ({names})")
    raise BrokenRecording(
        f"{name}: given no such file, allowed: a recording, {LATEST}, or a name, or its beginning, in {folder}"
    )


def delete_recording(folder: Path, name: str) -> Path:
    """Delete a recording of the folder, and nothing else.

    Returns:
        What was deleted.

    Raises:
        BrokenRecording: no such recording in the folder.
        OSError: it cannot be deleted.
    """
    found = {entry.name: entry for entry in folder.glob(f"*{ENDING}")}
    path = found.get(name) or found.get(f"{name}{ENDING}")
    if path is None:
        raise BrokenRecording(f"{name}: given no such recording, allowed: one of those in {folder}")
    path.unlink()
    return path

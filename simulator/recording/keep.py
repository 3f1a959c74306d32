"""The folder of recordings: begin one under a name of its own, find one, delete one."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import BinaryIO

from simulator.attempt import Attempt
from simulator.files.writing import begun
from simulator.recording.head import Parent
from simulator.recording.lift_file import BrokenRecording
from simulator.recording.listing import ENDING, list_recordings
from simulator.recording.recorder import Recorder
from simulator.recording.seconds import Second


def start_recording(
    attempt: Attempt,
    folder: Path,
    stamp: str,
    pair: tuple[str, ...] = (),
    *,
    parent: Parent | None = None,
    before: Sequence[Second] = (),
) -> Recorder:
    """Record an attempt into a new file of a folder.

    It never raises: where nothing can be written, the recorder has stopped from the beginning and says why.

    Args:
        attempt: at time zero, or anywhere.
        folder: made if it is not there.
        stamp: date and time, such as `2025-03-01 14:20`, from the caller's clock; stands in the file and its name.
        pair: names of the operators, unit by unit.
        parent: the recording that it goes on from.
        before: its seconds up to where the attempt is.
    """
    begin = partial(Recorder, attempt, stamp=stamp, pair=pair, parent=parent, before=before)
    name = f"{_plain(attempt.description.title)}_{_plain(stamp)}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return begin(partial(new_file, folder, name))
    except OSError as error:
        recorder = begin(io.BytesIO())
        recorder.give_up(error.strerror or str(error))
        return recorder


def new_file(folder: Path, name: str, first: bytes) -> BinaryIO:
    """A file that was not there before and begins with some bytes; two programs at once get two files.

    However many there are of a name, the next number is found in few looks: doubling, then halving.

    Raises:
        OSError: none can be made.
    """

    def numbered(number: int) -> Path:
        return folder / f"{name}_{number}{ENDING}"

    taken = 0
    while True:
        free = 2 * taken or 1
        while numbered(free).exists():
            taken, free = free, 2 * free
        while free - taken > 1:
            middle = (taken + free) // 2
            taken, free = (middle, free) if numbered(middle).exists() else (taken, middle)
        try:
            return begun(numbered(free), first)
        except FileExistsError:  # made since, or a link that leads nowhere
            taken = free


def _plain(text: str) -> str:
    """Text for a file's name on any computer."""
    return re.sub(r"[^0-9a-z]+", "-", text.lower()).strip("-")[:40].strip("-") or "lift"


LATEST = "latest"
"""The newest recording of a folder, whatever its name."""
MOST_NAMED = 4


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

"""A quick look at a recording: its head and its end mark alone, whatever lies between them.

Damage in the middle is therefore not seen here; it is said when the recording is opened.
"""

from __future__ import annotations

import os
from pathlib import Path
from stat import S_ISREG
from typing import BinaryIO, NamedTuple

from simulator.files.bounds import LIFT_S
from simulator.recording.head import Ending, Head, ending_of, head_of
from simulator.recording.layout import END, HEAD, LAYOUT, MAGIC, Malformed, as_json, end_frame, frame_at, frame_size

MOST_OF_END = 1 << 13
"""An end mark lies within so many bytes of a file's end; a larger one is read with care."""
USUAL_HEAD, MOST_OF_HEAD = 1 << 14, 1 << 22
"""So much is read at once, and so much at most."""


class Glance(NamedTuple):
    """What a list of recordings shows of one."""

    head: Head
    ending: Ending | None
    length_s: float
    fault: str = ""


def glance(path: Path) -> Glance:
    """Look at a recording; one without a good head and end mark is read with care.

    Raises:
        BrokenRecording: nothing of it can be used.
    """
    seen = _quickly(path)
    if seen is not None:
        return seen
    from simulator.recording.lift_file import read

    recording = read(path)
    return Glance(recording.head, recording.ending, recording.length_s, " ".join(recording.notes))


def _quickly(path: Path) -> Glance | None:
    """None if anything is not as in a file that was written to its end."""
    try:
        if not S_ISREG(path.stat().st_mode):
            return None
        with path.open("rb", buffering=0) as file:
            contents = _head_of_file(file), _end_of_file(file)
        head_content, end_content = contents
        if head_content is None or end_content is None:
            return None
        value = as_json(head_content)
        if value.get("layout") not in range(1, LAYOUT + 1):
            return None
        head, ending = head_of(value), ending_of(as_json(end_content))
    except (OSError, ValueError, Malformed):
        return None
    length_s = ending.step / head.steps_per_s
    return Glance(head, ending, length_s) if length_s <= LIFT_S else None


def _head_of_file(file: BinaryIO) -> bytes | None:
    """Content of the first frame, if it is a good head."""
    data = file.read(USUAL_HEAD)
    size = frame_size(data, len(MAGIC))
    if not data.startswith(MAGIC) or not 0 < size < MOST_OF_HEAD:
        return None
    missing = len(MAGIC) + size - len(data)
    found = frame_at(data + (file.read(missing) if missing > 0 else b""), len(MAGIC))
    return found.content if found is not None and found.kind == HEAD else None


def _end_of_file(file: BinaryIO) -> bytes | None:
    """Content of the end mark that the file ends with."""
    size = file.seek(0, os.SEEK_END)
    file.seek(max(0, size - MOST_OF_END))
    found = end_frame(file.read(MOST_OF_END), END)
    return found.content if found is not None else None

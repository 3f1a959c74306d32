"""A quick look at a recording: head, length and end mark, without unpacking what lies between."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from simulator.recording.head import Ending, Head, ending_of, head_of
from simulator.recording.layout import END, HEAD, LAYOUT, MAGIC, SECOND, Malformed, as_json, frame_at, hop
from simulator.recording.reader import all_bytes, read
from simulator.recording.seconds import second_of


class Glance(NamedTuple):
    """What a list of recordings shows of one."""

    head: Head
    ending: Ending | None
    length_s: float
    fault: str = ""


def glance(path: Path) -> Glance:
    """Look at a recording; one that is not whole is read with care.

    Raises:
        BrokenRecording: nothing of it can be used.
    """
    data = all_bytes(path)
    seen = _quickly(data) if data.startswith(MAGIC) else None
    if seen is not None:
        return seen
    recording = read(path)
    return Glance(recording.head, recording.ending, recording.length_s, " ".join(recording.notes))


def _quickly(data: bytes) -> Glance | None:
    """None if anything is not as in a file that was written to its end."""
    places = list(hop(data))
    last = {kind: begin for kind, begin, _ in places}
    if not places or places[-1][2] != len(data) or END not in last or HEAD not in last:
        return None
    found = [frame_at(data, last[kind]) for kind in (HEAD, END, SECOND) if kind in last]
    contents = [one.content for one in found if one is not None]
    if len(contents) < len(found):
        return None
    try:
        value = as_json(contents[0])
        if value.get("layout") != LAYOUT:
            return None
        head, ending = head_of(value), ending_of(as_json(contents[1]))
        end_step = second_of(contents[2]).end_step if SECOND in last else 0
    except Malformed:
        return None
    return Glance(head, ending, end_step / head.steps_per_s)

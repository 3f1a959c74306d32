"""Opens any file as a recording: whole, broken off, damaged or foreign; what is wrong is said in a sentence each."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np

from simulator.files.bounds import EVENTS, LARGEST_READING, LIFT_S, RECORDING_BYTES
from simulator.files.reading import Unreadable, bytes_of
from simulator.recording.head import Ending, Head, ending_of, head_of, rig_as_json, written_by
from simulator.recording.layout import HEAD, LAYOUT, MAGIC, SECOND, Malformed, as_json, frames
from simulator.recording.recorded import Recording, minutes
from simulator.recording.seconds import Second, second_of
from simulator.recording.whole_numbers import ENDLESS, Kept
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario, cut, listed, one_line
from simulator.scenario.reader import parse_text
from simulator.scenario.rig import Rig, rig_of

MOST_STRANGERS = 3
"""So many of what a head does not name are told by name."""

KEPT = 4
"""End marks that are looked at."""


class _Contents(NamedTuple):
    """All good frames of a file. Seconds are unpacked one by one: the bytes of all at once would fill the memory."""

    head: Head | None
    """The first that can be used."""
    why_no_head: str
    seconds: list[Second]
    """Those that make sense and follow each other; others are not kept: a file may hold any number."""
    passed_over: int
    """Seconds that make none, come again, or stand before a head that names their levers."""
    ends: list[bytes]
    has_scraps: bool
    """Between good frames are bytes that are none; what breaks off at the very end is no damage."""


class BrokenRecording(Exception):  # noqa: N818 - says what it is
    """Nothing can be used of a file; the message is one sentence."""


def read(path: Path) -> Recording:
    """The recording in a file, with as much of it as can be saved.

    Raises:
        BrokenRecording: nothing of it can be used.
    """
    return read_data(all_bytes(path), path)


def read_data(data: bytes, path: Path) -> Recording:
    """The recording in some bytes; `path` is only the name it goes by.

    Raises:
        BrokenRecording: nothing of it can be used.
    """
    name = one_line(path.name or str(path))
    found = _contents(data, name)
    head = _head(found, data, name)
    notes: list[str] = []
    seconds = tuple(found.seconds)
    if not seconds:
        notes.append("no second of the lift was saved")
    _note_damage(notes, seconds, head, damaged=found.passed_over > 0 or found.has_scraps)
    ending = _ending(found.ends)
    if ending is None:
        end_s = seconds[-1].end_step / head.steps_per_s if seconds else 0.0
        notes.append(f"it breaks off at {minutes(end_s)} with no end mark; all that was written up to there was read")
    _note_strangers(notes, head)
    description = _description(head, notes)
    return Recording(path, head, description, seconds, ending, tuple(f"{name}: {note}" for note in notes))


def all_bytes(path: Path) -> bytes:
    """A file's content.

    Raises:
        BrokenRecording: there is none.
    """
    name = one_line(path.name or str(path))
    try:
        data = bytes_of(path, RECORDING_BYTES, "a recording")
    except Unreadable as error:
        raise BrokenRecording(f"{name}: {error}; nothing could be read of it") from error
    if not data:
        raise BrokenRecording(f"{name}: given an empty file, allowed: a recording; nothing could be read of it")
    return data


def _contents(data: bytes, name: str) -> _Contents:
    head: Head | None = None
    why = ""
    seconds: list[Second] = []
    ends: list[bytes] = []
    at, has_scraps, passed_over, events = len(MAGIC), False, 0, 0
    for frame in frames(data):
        has_scraps |= frame.begin > at
        at = frame.end
        if frame.kind == SECOND:
            second = _second(frame.content, head)
            if second is None or head is None or not _fits(seconds, second, head, events):
                passed_over += 1
                continue
            seconds.append(second)
            events += len(second.events)
        elif frame.kind != HEAD:
            ends.append(frame.content)
            # The last one counts; a bomb of them is not kept whole.
            del ends[:-KEPT]
        elif head is None:
            try:
                head = _head_of(frame.content, name)
            except Malformed as malformed:
                why = f" ({malformed})"
    return _Contents(head, why, seconds, passed_over, ends, has_scraps)


def _head_of(content: bytes, name: str) -> Head:
    value = as_json(content)
    layout = value.get("layout")
    if isinstance(layout, int) and layout > LAYOUT:
        raise BrokenRecording(
            f"{name}: given layout {layout}, written by a newer program (version {written_by(value)}), "
            f"allowed: up to layout {LAYOUT}; nothing was read of it"
        )
    return head_of(value)


def _second(content: bytes, head: Head | None) -> Second | None:
    try:
        return None if head is None else second_of(content, head.rig, layout=head.layout)
    except Malformed:
        return None


def _head(found: _Contents, data: bytes, name: str) -> Head:
    """The first head that can be used."""
    if found.head is not None:
        return found.head
    if found.passed_over or data.startswith(MAGIC[:8]):
        broken = f"a recording whose head is damaged{found.why_no_head}"
        raise BrokenRecording(f"{name}: given {broken}, allowed: one good head; nothing could be read without it")
    begins = "".join(chr(byte) if 32 <= byte < 127 else "." for byte in data[:16])
    raise BrokenRecording(
        f"{name}: given a file of another kind (it begins with {begins!r}), allowed: a recording; "
        "nothing was read of it"
    )


def _fits(seconds: list[Second], second: Second, head: Head, events: int) -> bool:
    """It has the head's columns, no more events than a lift may have with those before, and comes after them."""
    is_whole = second.samples.shape[1] == len(head.channels) and events + len(second.events) <= EVENTS
    return is_whole and _follows(seconds, second, head)


def _follows(seconds: list[Second], second: Second, head: Head) -> bool:
    """It comes after the one before, and its samples lie in it, one after another."""
    before = seconds[-1].end_step if seconds else 0
    # The first of a lift that was gone on with holds all up to there.
    longest = head.steps_per_s if seconds else max(head.steps_per_s, head.begins + head.steps_per_s)
    is_one = second.begin_step >= before and second.end_step - second.begin_step <= longest
    if not is_one or second.end_step > LIFT_S * head.steps_per_s:
        return False
    if not _are_readings(second.samples, head):
        return False
    place = head.channels.index("step")
    steps = second.samples[:, place] // 10 ** head.decimals[place]
    inside = bool(np.all((steps >= second.begin_step) & (steps <= second.end_step)))
    return inside and bool(np.all(np.diff(steps) > 0))


def _are_readings(samples: Kept, head: Head) -> bool:
    """Each is nothing, endless, or as large as a reading of a lift may be."""
    most = (LARGEST_READING * 10.0 ** np.array(head.decimals)).astype(np.int64)
    is_endless = (samples >= ENDLESS) | (samples <= -ENDLESS)
    return bool(np.all(is_endless | ((samples <= most) & (samples >= -most))))


def _note_damage(notes: list[str], seconds: tuple[Second, ...], head: Head, *, damaged: bool) -> None:
    """Which seconds are missing, and what that means."""
    per_s = head.steps_per_s
    ends = [0, *(second.end_step for second in seconds)]
    holes = [(end, second.begin_step) for end, second in zip(ends, seconds, strict=False) if second.begin_step > end]
    if holes:
        lost_s = sum(begin - end for end, begin in holes) / per_s
        where = ", ".join(minutes(end / per_s) for end, _ in holes[:4]) + (", and more" if len(holes) > 4 else "")
        until = minutes(holes[0][0] / per_s)
        notes.append(
            f"{lost_s:.0f} s are damaged (from {where}); the lift can be re-run up to {until} and is shown after that "
            "from stored readings"
        )
    elif damaged:
        notes.append("a part of the file is damaged, but no second of the lift that was saved")


def _ending(found: list[bytes]) -> Ending | None:
    """The last end mark that makes sense."""
    for content in reversed(found):
        try:
            return ending_of(as_json(content))
        except Malformed:
            continue
    return None


def _description(head: Head, notes: list[str]) -> Description | None:
    """The lift that it records, if this program can read it."""
    try:
        description = parse_text(head.scenario, "scenario in the recording")
    except BrokenScenario as broken:
        count = len(broken.faults)
        notes.append(
            f"the scenario in it cannot be used ({count} fault{'s' if count > 1 else ''}, first: {broken.faults[0]}); "
            "the lift is shown from stored readings and cannot be re-run"
        )
        return None
    if description.engine.steps_per_s != head.steps_per_s:
        notes.append(
            f"its scenario has {description.engine.steps_per_s} steps a second and its head {head.steps_per_s}; the "
            "lift is shown from stored readings and cannot be re-run"
        )
        return None
    if rig_as_json(rig_of(description)) != rig_as_json(head.rig):
        notes.append(
            f"its scenario has {_told(rig_of(description))} and its head {_told(head.rig)}; the lift is shown from "
            "stored readings and cannot be re-run"
        )
        return None
    return description


def _told(rig: Rig) -> str:
    """The names of a rig's lines and levers, as a phrase."""
    return f"the lines {listed(rig.line_names, last='and')} with the levers {listed(rig.lever_names, last='and')}"


def _note_strangers(notes: list[str], head: Head) -> None:
    """Readings of units or lines that the head does not name."""
    known = {*head.rig.unit_names, *head.rig.line_names, "load", ""}
    strangers = sorted({name.rpartition(".")[0] for name in head.channels} - known)
    if strangers:
        told = listed(map(cut, strangers[:MOST_STRANGERS]), last="and")
        more = " and more" if len(strangers) > MOST_STRANGERS else ""
        notes.append(
            f"it has readings of {told}{more}, and its head names the lines {listed(head.rig.line_names, last='and')}; "
            "those readings are not shown"
        )

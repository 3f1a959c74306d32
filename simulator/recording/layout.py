"""The layout of a recording, version 2: frames, one after another, only ever added at the end.

    file    = MAGIC, head frame, the same head frame again, a frame for each second, end frame
    frame   = kind (4 letters), bytes of content (u32), CRC-32 of kind, length and content (u32), content (zlib)

All numbers are little-endian. A frame whose CRC is wrong is passed over, and reading goes on at the next good one.

- `HEAD`: JSON object: `layout` (this version), `scenario` (its TOML text, every default written out), `title`, `seed`,
  `stamp` (when, as the caller put it), `versions` (program, python, libm, numpy, pymunk, engine, computer), `pair`
  (names of the operators, unit by unit), `parent` (null, or name and step of the recording it goes on from),
  `steps_per_s`, `begins` (step at which it begins), `units` (for each its name, its lines' names and its levers' names,
  in the rig's order; in layout 1 it is not there: two units, nose and tail, with one line each), `channels` (name, unit
  and decimals kept of each column; those of `readings.channels_of` for these units and lines). Written twice, so that
  no single fault loses it; a second before any head cannot be read.
- `SECO`, a second of the lift: its first and last step (u64 each), rows of commands, samples, channels, bytes of text
  (u32 each), the SHA-256 of the engine's state at its last step (32 bytes); then
    - rows of commands: step, then a column for each lever that the head names, as IEEE doubles (in layout 1 hoist,
      telescope, elevation, slew of nose and tail unit); the first row is what held at the first step; each number XOR
      the one above it, column after column, in byte planes;
    - samples: a row of all channels about 20 times a second, as whole numbers of the last decimal kept, each less the
      one above it, zigzag, column after column, in byte planes;
    - text: JSON object: `events`, a list of (step, kind, which, fields), see `simulator/events.py` (in layout 1: step,
      kind and a sentence, read by `older_events`); `gaps`, the trailer's clearances at the last step; `raising`, for
      each of them (it may be missing) height still missing, how much of it head room does not leave, level distance to
      the slope's face (null: none beside it); `state` (in every tenth second; it may be missing), the engine's whole
      state at the last step, list in list in the order of `engine/state.py` (booms, lines, load), every digit written.
      `memory` (in every twentieth second; it may be missing), text: what drill and automatic operators remembered at
      the last step, of use to the very program that wrote it (`kept_memory.py`).
      In layout 1 states, and so their hashes, had another order: they are not gone on from, and a re-run compares
      stored readings instead.
- `ENDS`: JSON object: `how` (landed, done, incident, left), `text`, `step`, `score` (text or null), `account` (a
  drill's: rows of which and fields; in layout 1 `lines` of text, read by `older_account`), `events` (what happened at
  the last step after its second was written). The last one counts.

Events of the kinds `stop order`, `instructor` and `answer` are done again in a re-run, at their step and in their
order; all others are there to be read.

A reader refuses a layout above its own. Whoever changes this layout adds one to `LAYOUT` and keeps reading the old one.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Iterator
from struct import Struct
from typing import Any, NamedTuple

from simulator.files.bounds import FRAMES, HEAD_BYTES, SEARCHES, SECOND_BYTES, UNPACKED_BYTES

MAGIC = b"\x89SLOPEPICK LIFT\r\n\x1a\n"
"""First bytes; the line ends show at once whether something took the file for text."""
LAYOUT = 2
HEAD, SECOND, END = b"HEAD", b"SECO", b"ENDS"
KINDS = (HEAD, SECOND, END)

MOST_BYTES = {HEAD: HEAD_BYTES, SECOND: SECOND_BYTES, END: HEAD_BYTES}
"""No frame holds more bytes than this, packed or unpacked; one that says so is broken."""

_FRAME = Struct("<4sII")
_ANY_KIND = re.compile(b"|".join(KINDS))


class FileFrame(NamedTuple):
    """One good frame."""

    kind: bytes
    content: bytes
    """Unpacked."""
    begin: int
    """Where in the file it begins."""
    end: int


class Malformed(Exception):  # noqa: N818 - says what the content is
    """A frame's content that is not what its kind promises."""


def frame(kind: bytes, content: bytes) -> bytes:
    """The bytes of a frame."""
    packed = zlib.compress(content)
    return _FRAME.pack(kind, len(packed), _crc(kind, packed)) + packed


def frames(data: bytes) -> Iterator[FileFrame]:
    """Every good frame of a file's bytes; what lies between them is passed over.

    Reading ends where a file holds more than any lift, packed or not, or keeps promising frames that are none.
    """
    at, count, unpacked, searched = 0, 0, 0, 0
    while (mark := _ANY_KIND.search(data, at)) is not None:
        found = frame_at(data, mark.start())
        if found is None:
            at = mark.start() + 1
            searched += _promised(data, mark.start())
        else:
            at, count, unpacked = found.end, count + 1, unpacked + len(found.content)
            yield found
        if count > FRAMES or unpacked > UNPACKED_BYTES or searched > SEARCHES * len(data):
            return


def _promised(data: bytes, at: int) -> int:
    """Bytes that were looked through for a frame that was none."""
    if len(data) - at < _FRAME.size:
        return _FRAME.size
    kind, length, _ = _FRAME.unpack_from(data, at)
    return _FRAME.size + (length if length <= min(MOST_BYTES[kind], len(data) - at) else 0)


def frame_size(data: bytes, at: int) -> int:
    """How many bytes a frame that begins at a place says it takes; 0 if none begins there."""
    if len(data) - at < _FRAME.size:
        return 0
    kind, length, _ = _FRAME.unpack_from(data, at)
    return _FRAME.size + length if kind in KINDS else 0


def end_frame(data: bytes, kind: bytes) -> FileFrame | None:
    """The good frame of a kind that the bytes end with, if they do."""
    at = data.rfind(kind)
    while at >= 0:
        if at + frame_size(data, at) == len(data) and (found := frame_at(data, at)) is not None:
            return found
        at = data.rfind(kind, 0, at)
    return None


def frame_at(data: bytes, at: int) -> FileFrame | None:
    """The frame that begins at a place, if one does and is good."""
    if len(data) - at < _FRAME.size:
        return None
    kind, length, crc = _FRAME.unpack_from(data, at)
    begin = at + _FRAME.size
    if kind not in KINDS or length > min(MOST_BYTES[kind], len(data) - begin):
        return None
    packed = data[begin : begin + length]
    if _crc(kind, packed) != crc:
        return None
    unpacker = zlib.decompressobj()
    try:
        content = unpacker.decompress(packed, MOST_BYTES[kind])
    except zlib.error:
        return None
    return FileFrame(kind, content, at, begin + length) if unpacker.eof else None


def _crc(kind: bytes, packed: bytes) -> int:
    return zlib.crc32(packed, zlib.crc32(kind + len(packed).to_bytes(4, "little")))


def as_json(content: bytes) -> dict[str, Any]:
    """A frame's JSON object.

    Raises:
        Malformed: it is none.
    """
    try:
        value = json.loads(content)
    except (ValueError, RecursionError) as error:
        raise Malformed("no JSON text") from error
    if not isinstance(value, dict):
        raise Malformed("no JSON object")
    return value


def from_json(value: dict[str, Any]) -> bytes:
    """A JSON object as a frame's content."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False).encode("utf-8", "replace")

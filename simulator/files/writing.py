"""Files that are written for a user: whole or not at all, never over what was read, and nothing of theirs is lost.

A file is written beside its place under a name of its own and renamed when it is whole. What stands there is replaced
only if it is a report of the same kind, by its mark, or with `--force`.
"""

from __future__ import annotations

import io
import os
import stat
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from itertools import combinations, count
from pathlib import Path
from typing import BinaryIO, NamedTuple, TextIO

from simulator.files.plain_text import one_line

_PARTS = count(1)
LOOKED_AT = 65_536
"""Bytes at each end of a file in which a report's mark stands."""


class Kind(NamedTuple):
    """A kind of report, and what tells one from any other file."""

    name: str
    mark: bytes
    """Stands near the beginning or the end of each that was written here."""


TELEMETRY = Kind("readings of a lift", b"\nstep,time_s,")
TRACK = Kind("command track", b"\nt_s,")
READINGS = Kind("table of readings", b"\xef\xbb\xbfstep [")
PAGE = Kind("debrief page", b"Slopepick debrief")
SHEET = Kind("plan sheet", b"Slopepick plan sheet")
REHEARSALS = Kind("page of rehearsals", b"Slopepick rehearsals")
REHEARSED = Kind("table of rehearsals", b"\ndraw,weight,")
COUNTED = Kind("rehearsals as JSON", b'"rehearsal": "')
STILL = Kind("picture of a lift", b"Slopepick picture")
SCENARIO = Kind("scenario", b"")
RECORDING = Kind("recording", b"")
"""No mark: one that is there is replaced with `--force` alone, or never."""


class Output(NamedTuple):
    """A file that a command was asked to write."""

    path: Path
    kind: Kind


class Refused(Exception):  # noqa: N818 - it says what happened
    """A file that is not written; the message is one sentence."""


def look_at(outputs: Sequence[Output], *, inputs: Iterable[Path] = (), force: bool = False) -> None:
    """Refuse what would destroy something, before any work is done.

    Args:
        outputs: all that the command will write.
        inputs: all that it reads; none of them is written over, not even with force, nor through a link.
        force: a file that is there may be replaced.

    Raises:
        Refused: with the first that may not be written.
    """
    read = [path for path in inputs if path.exists()]
    for path, kind in outputs:
        if any(_is_same(path, one) for one in read):
            raise _refused(path, "the file that is read", f"another file for the {kind.name}")
        if path.is_dir() or not path.absolute().parent.is_dir():
            raise _refused(path, "a folder" if path.is_dir() else "no such folder", "a file in a folder that is there")
        if not force and path.is_file() and not _is_report(path, kind):
            raise _refused(path, "a file that is there", f"a new file, a {kind.name} to renew, or --force")
    for (one, first), (other, second) in combinations(outputs, 2):
        if _is_same(one, other):
            raise _refused(other, "one file twice", f"a file of its own for the {first.name} and the {second.name}")


def _refused(path: Path, given: str, allowed: str) -> Refused:
    return Refused(f"{one_line(str(path))}: given {given}, allowed: {allowed}")


def _is_same(one: Path, other: Path) -> bool:
    """By name, or by a link of any kind."""
    if one.absolute() == other.absolute():
        return True
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        one_name, other_name = (os.path.normcase(os.path.realpath(path)) for path in (one, other))
        return one_name == other_name


def _is_report(path: Path, kind: Kind) -> bool:
    """True for a file with the mark of its kind, and for an empty one: it holds nothing that could be lost."""
    with path.open("rb") as file:
        first = file.read(LOOKED_AT)
        file.seek(max(0, path.stat().st_size - LOOKED_AT))
        return not first or (bool(kind.mark) and kind.mark in first + file.read(LOOKED_AT))


@contextmanager
def beside(path: Path) -> Iterator[BinaryIO]:
    """A file to write, renamed to `path` when all went well; else nothing is changed.

    Raises:
        OSError: it cannot be written; it names the file.
    """
    with _named(path):
        if path.exists() and not stat.S_ISREG(path.stat().st_mode):
            # A pipe or a device has no content to lose, and cannot be renamed to.
            with path.open("wb") as straight:
                yield straight
            return
        part = part_of(path)
        try:
            with part.open("xb") as file:
                yield file
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
        except BaseException:
            with suppress(OSError):
                part.unlink()
            raise


@contextmanager
def text_beside(path: Path, *, encoding: str = "utf-8") -> Iterator[TextIO]:
    """The same for text; line ends are written as they are."""
    with beside(path) as file:
        text = io.TextIOWrapper(file, encoding=encoding, errors="backslashreplace", newline="")
        yield text
        text.flush()
        text.detach()


def write_whole(path: Path, data: bytes) -> None:
    """A whole file at once.

    Raises:
        OSError: it cannot be written; it names the file.
    """
    with beside(path) as file:
        file.write(data)


def part_of(path: Path) -> Path:
    """Where a file is written before it is whole; another place each time."""
    return path.with_name(f"{path.name[:80]}.{os.getpid()}-{next(_PARTS)}.part")


def begun(path: Path, first: bytes) -> BinaryIO:
    """A file that was not there before, open for more at its end, and never there without its first bytes.

    Raises:
        FileExistsError: there is one.
        OSError: it cannot be made.
    """
    part = part_of(path)
    with _named(path):
        try:
            part.write_bytes(first)
            _moved(part, path)
        except BaseException:
            with suppress(OSError):
                part.unlink()
            raise
        return path.open("ab")


def _moved(part: Path, path: Path) -> None:
    """To a name that nobody has."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without links: look, then rename
        if os.path.lexists(path):
            raise FileExistsError(None, "File exists", str(path)) from None
        part.rename(path)
    else:
        part.unlink()


@contextmanager
def _named(path: Path) -> Iterator[None]:
    """A full disk does not say which file it was about."""
    try:
        yield
    except OSError as error:
        if error.filename is None or Path(str(error.filename)).name.endswith(".part"):
            raise OSError(error.errno, error.strerror or str(error), str(path)) from error
        raise

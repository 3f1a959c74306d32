"""A file of lines that is only ever added to, and of which a whole line is a whole record."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from simulator.files.writing import begun

LONGEST = 1_000_000
"""Bytes of a line; a longer one is no line of ours."""


def whole_lines(path: Path) -> Iterator[bytes]:
    """The lines of a file one after another, in little memory; one that was cut off at the end is left out.

    Raises:
        OSError: it cannot be read.
    """
    with path.open("rb") as file:
        while line := file.readline(LONGEST):
            if line.endswith(b"\n"):
                yield line[:-1]


def added_to(path: Path, first: bytes) -> BinaryIO:
    """A file open for more lines at its end: made with its first line, or rid of a last line that was cut off.

    Raises:
        OSError: it cannot be made or written.
    """
    if not path.exists():
        return begun(path, first + b"\n")
    with path.open("r+b") as file:
        file.truncate(_end_of_lines(file))
    return path.open("ab")


def _end_of_lines(file: BinaryIO) -> int:
    """Bytes up to the end of the last whole line."""
    end = file.seek(0, os.SEEK_END)
    while end:
        begin = max(0, end - LONGEST)
        file.seek(begin)
        if (last := file.read(end - begin).rfind(b"\n")) >= 0:
            return begin + last + 1
        end = begin
    return 0

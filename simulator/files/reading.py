"""Files of others, read: plain files only, and no more of them than is stated."""

from __future__ import annotations

import os
from pathlib import Path

from simulator.files.plain_text import cut_to

LONGEST_REASON = 60
LEAST_READ = 65_536
"""Bytes that are asked for even of a file that says it is empty, as some that the system makes do."""


class Unreadable(Exception):  # noqa: N818 - it says what the file is
    """A file that is not read; `given` and `allowed` say why."""

    def __init__(self, given: str, allowed: str) -> None:
        super().__init__(f"given {given}, allowed: {allowed}")
        self.given, self.allowed = given, allowed


def bytes_of(path: Path, most: int, what: str) -> bytes:
    """The content of a plain file.

    Args:
        path: of the file; a device or a pipe, which may never end, is not opened.
        most: bytes.
        what: kind of file, such as `a recording`, for the fault.

    Raises:
        Unreadable: there is none, or more than `most`.
    """
    try:
        if path.is_dir():
            raise Unreadable("a folder", what)
        if not path.exists():
            raise Unreadable("no such file", f"{what} that exists")
        if not path.is_file():
            raise Unreadable("no plain file", f"{what}, a plain file")
        with path.open("rb") as file:
            # As much room as is asked for is taken at once, whatever the file holds.
            size = os.fstat(file.fileno()).st_size
            data = file.read(min(most, max(size, LEAST_READ)) + 1)
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        given = f"a file that cannot be read ({cut_to(reason, LONGEST_REASON)})"
        raise Unreadable(given, "a file this user may read") from error
    if len(data) > most:
        raise Unreadable(f"a file of more than {most} bytes", f"{what} of at most {most} bytes")
    return data


def text_of(path: Path, most: int, what: str) -> str:
    """The text of a plain file saved as UTF-8.

    Raises:
        Unreadable: there is none, more than `most` bytes, or no text.
    """
    data = bytes_of(path, most, what)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise Unreadable(f"bytes in line {line} that are not UTF-8 text", "text saved as UTF-8") from error

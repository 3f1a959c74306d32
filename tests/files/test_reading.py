"""Files of others: plain ones, and no more of them than is stated."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from simulator.files.reading import Unreadable, bytes_of, text_of


def refused(path: Path, most: int = 10) -> str:
    with pytest.raises(Unreadable) as raised:
        bytes_of(path, most, "a thing")
    return str(raised.value)


def test_what_is_no_plain_file_is_not_opened(tmp_path: Path) -> None:
    assert "no such file" in refused(tmp_path / "missing")
    assert "a folder" in refused(tmp_path)
    assert "cannot be read" in refused(Path("a\0b")) or "no such file" in refused(Path("a\0b"))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names")
def test_a_pipe_and_a_device_are_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    assert "no plain file" in refused(tmp_path / "pipe")
    assert "no plain file" in refused(Path("/dev/zero"))


def test_no_more_than_stated(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x" * 10)
    assert bytes_of(path, 10, "a thing") == b"x" * 10
    path.write_bytes(b"x" * 11)
    assert refused(path) == "given a file of more than 10 bytes, allowed: a thing of at most 10 bytes"


def test_text_is_utf8(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes("\ufeffgrüß".encode())
    assert text_of(path, 100, "a thing") == "grüß"
    path.write_bytes(b"a\nb\xff")
    with pytest.raises(Unreadable, match="line 2"):
        text_of(path, 100, "a thing")

"""Files of others: plain ones, and no more of them than is stated."""

from __future__ import annotations

import os
import tracemalloc
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


def test_a_small_file_takes_little_room_whatever_it_might_have_held(tmp_path: Path) -> None:
    path = tmp_path / "small"
    path.write_bytes(b"x" * 1000)
    tracemalloc.start()
    try:
        assert bytes_of(path, 200_000_000, "a recording") == b"x" * 1000
        assert tracemalloc.get_traced_memory()[1] < 1_000_000
    finally:
        tracemalloc.stop()


def test_a_file_of_the_very_size_that_is_allowed_is_read_and_one_byte_more_is_not(tmp_path: Path) -> None:
    path = tmp_path / "full"
    path.write_bytes(b"x" * 100_000)
    assert len(bytes_of(path, 100_000, "a recording")) == 100_000
    with pytest.raises(Unreadable, match="more than 99999 bytes"):
        bytes_of(path, 99_999, "a recording")

"""Files that are written: never over what is read, nothing of somebody else's, whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

import pytest

from simulator.files.writing import (
    PAGE,
    TELEMETRY,
    TRACK,
    Output,
    Refused,
    begun,
    beside,
    look_at,
    text_beside,
    write_whole,
)

no_links = pytest.mark.skipif(sys.platform == "win32", reason="links need a right of their own there")
OURS = b"# caution\nt_s,nose_hoist\n0.0,0.0\n"


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "source.lift"
    path.write_bytes(b"a lift")
    return path


def test_a_new_file_and_a_report_of_the_kind_are_written(tmp_path: Path) -> None:
    look_at([Output(tmp_path / "new.csv", TRACK)])
    write_whole(tmp_path / "old.csv", OURS)
    look_at([Output(tmp_path / "old.csv", TRACK)])


@pytest.mark.parametrize("kind", [TELEMETRY, PAGE])
def test_a_report_of_another_kind_is_kept_unless_forced(tmp_path: Path, kind: object) -> None:
    write_whole(tmp_path / "old.csv", OURS)
    output = Output(tmp_path / "old.csv", kind)  # type: ignore[arg-type]
    with pytest.raises(Refused, match=r"old\.csv: given a file that is there, allowed: .*--force"):
        look_at([output])
    look_at([output], force=True)


def test_an_input_is_never_an_output(source: Path) -> None:
    for force in (False, True):
        with pytest.raises(Refused, match="given the file that is read"):
            look_at([Output(source, TRACK)], inputs=[source], force=force)


@no_links
@pytest.mark.parametrize("make", [Path.symlink_to, Path.hardlink_to])
def test_a_link_to_an_input_is_the_input(source: Path, make: object) -> None:
    link = source.with_name("link.csv")
    make(link, source)  # type: ignore[operator]
    with pytest.raises(Refused, match="given the file that is read"):
        look_at([Output(link, TRACK)], inputs=[source], force=True)


@no_links
def test_writing_to_a_link_leaves_what_it_points_to(source: Path) -> None:
    link = source.with_name("link.csv")
    link.symlink_to(source)
    write_whole(link, OURS)
    assert source.read_bytes() == b"a lift" and link.read_bytes() == OURS and not link.is_symlink()


def test_one_file_is_not_written_twice(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="one file twice"):
        look_at([Output(tmp_path / "a", TRACK), Output(tmp_path / "." / "a", TELEMETRY)])


def test_a_folder_and_a_missing_folder_are_told(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="given a folder"):
        look_at([Output(tmp_path, TRACK)])
    with pytest.raises(Refused, match="given no such folder"):
        look_at([Output(tmp_path / "missing" / "a", TRACK)])


def test_a_file_half_written_changes_nothing(source: Path) -> None:
    with pytest.raises(OSError, match="No space") as raised, beside(source) as file:
        file.write(b"half")
        raise OSError(errno.ENOSPC, "No space left on device")
    assert raised.value.filename == str(source)
    assert source.read_bytes() == b"a lift" and os.listdir(source.parent) == [source.name]


def test_text_keeps_its_line_ends(tmp_path: Path) -> None:
    with text_beside(tmp_path / "a") as file:
        file.write("a\r\nb\n")
    assert (tmp_path / "a").read_bytes() == b"a\r\nb\n"


def test_a_begun_file_has_its_first_bytes_and_takes_no_other_place(tmp_path: Path, source: Path) -> None:
    with begun(tmp_path / "new.lift", b"head") as file:
        assert (tmp_path / "new.lift").read_bytes() == b"head"
        file.write(b", and more")
    assert (tmp_path / "new.lift").read_bytes() == b"head, and more"
    with pytest.raises(FileExistsError):
        begun(source, b"head")
    assert source.read_bytes() == b"a lift"
    assert sorted(os.listdir(tmp_path)) == ["new.lift", "source.lift"]


def test_on_a_disk_without_links_too(tmp_path: Path, source: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    begun(tmp_path / "new.lift", b"head").close()
    assert (tmp_path / "new.lift").read_bytes() == b"head" and len(os.listdir(tmp_path)) == 2
    with pytest.raises(FileExistsError):
        begun(source, b"head")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a disk that is always full")
def test_a_full_disk_is_named() -> None:
    with pytest.raises(OSError, match="No space left") as raised:
        write_whole(Path("/dev/full"), b"x" * 100_000)
    assert raised.value.filename == "/dev/full"

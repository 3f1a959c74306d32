"""Nothing stops a lift: not a full disk, not a folder that cannot be written, not two programs at once."""

import errno
import io
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, UnitCommands
from simulator.recording.keep import delete_recording, find_recording, new_file, start_recording
from simulator.recording.lift_file import BrokenRecording, read
from simulator.recording.listing import list_recordings
from simulator.recording.recorder import Recorder
from simulator.scenario.description import Description
from tests.recording.conftest import Recorded

ROOT = Path(__file__).parents[2]
HANDS = Commands(UnitCommands(hoist=0.5), UnitCommands(hoist=0.25))


class Filling(io.BytesIO):
    """A disk with room for so many bytes."""

    def __init__(self, room: int) -> None:
        super().__init__()
        self.room = room
        self.kept = b""

    def write(self, data: bytes) -> int:  # type: ignore[override]
        fits = data[: self.room]
        self.room -= len(fits)
        self.kept += fits
        if len(fits) < len(data):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return len(data)


@pytest.fixture(scope="module")
def alone(described: Description) -> str:
    """The hash of a lift that nobody recorded."""
    attempt = Attempt(described)
    attempt.advance(HANDS, 1000)
    return attempt.state_hash


def test_a_disk_that_fills_up_ends_the_recording_and_not_the_lift(
    described: Description, alone: str, tmp_path: Path
) -> None:
    attempt, disk = Attempt(described), Filling(10**9)
    recorder = Recorder(attempt, disk)
    attempt.advance(HANDS, 600)
    disk.room = 20
    attempt.advance(HANDS, 400)
    recorder.close()
    assert attempt.state_hash == alone
    assert recorder.stopped_at_s == 3.0
    assert recorder.why == os.strerror(errno.ENOSPC)
    path = tmp_path / "full.lift"
    path.write_bytes(disk.kept)
    saved = read(path)
    assert saved.length_s == 2.0
    assert "breaks off at 00:02.0" in saved.notes[0]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_disk_that_is_full_from_the_beginning(described: Description, alone: str) -> None:
    attempt = Attempt(described)
    recorder = Recorder(attempt, Path("/dev/full").open("wb"))  # noqa: SIM115 - the recorder closes it
    attempt.advance(HANDS, 1000)
    recorder.close()
    assert attempt.state_hash == alone
    assert (recorder.stopped_at_s, recorder.why) == (0.0, os.strerror(errno.ENOSPC))


def test_a_folder_that_cannot_be_made(described: Description, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    attempt = Attempt(described)
    recorder = start_recording(attempt, tmp_path / "file" / "folder", "now")
    attempt.advance(HANDS, 10)
    assert recorder.stopped_at_s == 0.0 and recorder.why
    assert attempt.simulation.state.step == 10


def test_two_recorders_of_one_lift_write_two_whole_files(described: Description, tmp_path: Path) -> None:
    attempt = Attempt(described)
    first, second = (start_recording(attempt, tmp_path, "2031-04-05") for _ in range(2))
    attempt.advance(HANDS, 500)
    first.close()
    second.close()
    assert first.path != second.path
    one, two = read(first.path), read(second.path)
    assert one.notes == two.notes == ()
    assert [s.state_hash for s in one.seconds] == [s.state_hash for s in two.seconds]


def test_many_at_once_get_a_file_each(tmp_path: Path) -> None:
    def make(_: int) -> str:
        with new_file(tmp_path, "same", b"head") as file:
            return file.name

    with ThreadPoolExecutor(8) as pool:
        names = list(pool.map(make, range(40)))
    assert len(set(names)) == 40 == len(list(tmp_path.iterdir()))


def test_the_list_says_what_is_there_newest_first(lift: Recorded, tmp_path: Path) -> None:
    data = lift.path.read_bytes()
    (tmp_path / "a.lift").write_bytes(data)
    (tmp_path / "b.lift").write_bytes(data[: len(data) // 2])
    (tmp_path / "c.lift").write_bytes(b"no such thing")
    (tmp_path / "d.txt").write_bytes(data)
    entries = {entry.name: entry for entry in list_recordings(tmp_path)}
    assert set(entries) == {"a.lift", "b.lift", "c.lift"}
    whole = entries["a.lift"]
    assert (whole.title, whole.pair, whole.length_s, whole.how) == (
        lift.attempt.description.title, ("Ada", "Ben"), 20.0, "left"
    )  # fmt: skip
    assert not whole.fault and not whole.ended_well
    assert entries["b.lift"].how == "broken off" and "breaks off" in entries["b.lift"].fault
    assert entries["c.lift"].how == "unreadable" and "another kind" in entries["c.lift"].fault
    assert list_recordings(tmp_path)[-1].name == "c.lift"
    assert list_recordings(tmp_path / "none") == []


def test_newest_first(described: Description, tmp_path: Path) -> None:
    attempt = Attempt(described)
    for stamp in ("2031-04-05 09:00", "2032-01-01 08:00", "2031-04-05 10:00"):
        start_recording(attempt, tmp_path, stamp).close()
    assert [entry.stamp for entry in list_recordings(tmp_path)] == [
        "2032-01-01 08:00", "2031-04-05 10:00", "2031-04-05 09:00"
    ]  # fmt: skip


def test_only_what_is_in_the_folder_is_deleted(tmp_path: Path) -> None:
    folder = tmp_path / "kept"
    folder.mkdir()
    outside, inside = tmp_path / "other.lift", folder / "one.lift"
    for path in (outside, inside):
        path.write_bytes(b"x")
    for name in ("../other.lift", "..", "", "none", str(outside)):
        with pytest.raises(BrokenRecording, match="no such recording"):
            delete_recording(folder, name)
    assert delete_recording(folder, "one") == inside
    assert outside.exists() and not inside.exists()


def test_a_recording_is_found_by_path_and_by_name(lift: Recorded) -> None:
    folder = lift.path.parent
    for name in (str(lift.path), lift.path.name, lift.path.stem):
        assert find_recording(folder, name) == lift.path
    with pytest.raises(BrokenRecording, match="no such file"):
        find_recording(folder, "none")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_a_program_that_is_killed_loses_at_most_the_last_second() -> None:
    ran = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "kill_recordings.py"), "8", "3"], capture_output=True, text=True
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "killed while they recorded" in ran.stdout


def test_a_recording_is_found_by_its_beginning_and_the_newest_without_a_name(lift: Recorded, tmp_path: Path) -> None:
    data = lift.path.read_bytes()
    for name in ("a-lift_1.lift", "a-lift_2.lift", "b-lift.lift"):
        (tmp_path / name).write_bytes(data)
    assert find_recording(tmp_path, "b").name == "b-lift.lift"
    assert find_recording(tmp_path, "latest") == list_recordings(tmp_path)[0].path
    with pytest.raises(BrokenRecording, match=r"a beginning of 2 .*one \(a-lift_1.lift, a-lift_2"):
        find_recording(tmp_path, "a-")
    for name in ("c", "", "B"):
        with pytest.raises(BrokenRecording, match="no such file"):
            find_recording(tmp_path, name)
    with pytest.raises(BrokenRecording, match="no such file"):
        find_recording(tmp_path / "nothing-here", "latest")

"""The recording commands of the front door: sentences, exit codes, and nothing lost by accident."""

import csv
import io
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.recording.lift_file import read
from simulator.recording.replay import check
from tests.recording.conftest import Recorded

Said = pytest.CaptureFixture[str]


@pytest.fixture
def folder(lift: Recorded, tmp_path: Path) -> Path:
    """A folder with one recording in it."""
    (tmp_path / "one.lift").write_bytes(lift.path.read_bytes())
    return tmp_path


def test_the_list(folder: Path, capsys: Said) -> None:
    assert main(["recordings", "--folder", str(folder)]) == 0
    said = capsys.readouterr().out
    assert "one.lift" in said and "Ada and Ben; 2031-04-05 06:07; 00:20.0; ended before it was done; no score" in said
    assert main(["recordings", "--folder", str(folder / "none")]) == 0
    assert "no recordings in" in capsys.readouterr().out


@pytest.mark.parametrize(("answer", "is_kept"), [("n\n", True), ("\n", True), ("", True), ("y\n", False)])
def test_delete_asks(folder: Path, monkeypatch: pytest.MonkeyPatch, answer: str, is_kept: bool) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(answer))
    assert main(["recordings", "--folder", str(folder), "--delete", "one"]) == 0
    assert (folder / "one.lift").exists() is is_kept


def test_delete_without_asking_and_what_is_not_there(folder: Path, capsys: Said) -> None:
    assert main(["recordings", "--folder", str(folder), "--delete", "one.lift", "--yes"]) == 0
    assert main(["recordings", "--folder", str(folder), "--delete", "one.lift", "--yes"]) == 2
    assert capsys.readouterr().err.startswith("one.lift: given no such recording")


def test_the_users_own_folder_is_that_of_the_settings(
    folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: Said
) -> None:
    settings = tmp_path / "settings.toml"
    settings.write_text(f"recordings = '{folder}'\n", encoding="utf-8")
    monkeypatch.setattr("simulator.recording.settings.settings_path", lambda: settings)
    assert main(["recordings"]) == 0
    assert "one.lift" in capsys.readouterr().out


def test_debrief_writes_what_was_asked_for(folder: Path, capsys: Said) -> None:
    table = folder / "readings.csv"
    assert main(["debrief", "one", "--folder", str(folder), "--csv", str(table), "--units", "us"]) == 0
    said = capsys.readouterr().out
    assert "nose unit (left seat, Ada)" in said and " lb" in said
    assert "stop order: both units hold" in said
    with table.open(encoding="utf-8-sig", newline="") as file:
        assert next(csv.reader(file))[1] == "time_s [s]"


def test_a_track_of_a_span(folder: Path) -> None:
    out = folder / "span.csv"
    assert main(["track", "one", str(out), "--folder", str(folder), "--from", "0:05", "--to", "12.5"]) == 0
    assert out.read_text(encoding="utf-8").splitlines()[-1].startswith("7.5,")


@pytest.mark.parametrize("command", [["replay"], ["debrief"], ["track"]])
@pytest.mark.parametrize("content", [None, b"", b"nothing of ours"])
def test_what_is_no_recording_is_a_sentence_and_exit_code_2(
    tmp_path: Path, capsys: Said, command: list[str], content: bytes | None
) -> None:
    path = tmp_path / "x.lift"
    if content is not None:
        path.write_bytes(content)
    more = [str(tmp_path / "out.csv")] if command == ["track"] else []
    assert main([*command, str(path), *more]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "given" in said and "allowed" in said


def test_a_span_that_is_none_is_a_sentence(folder: Path, capsys: Said) -> None:
    out = folder / "x.csv"
    assert main(["track", "one", str(out), "--folder", str(folder), "--from", "9", "--to", "8"]) == 2
    assert "allowed: a span in 0 to 20 s" in capsys.readouterr().err
    assert not out.exists()


def test_record_keeps_a_lift_and_never_writes_over_one(folder: Path, tmp_path: Path, capsys: Said) -> None:
    track, kept = tmp_path / "track.csv", tmp_path / "kept.lift"
    assert main(["track", "one", str(track), "--folder", str(folder), "--to", "2.5"]) == 0
    drive = ["run", "practice_yard", "--commands", str(track), "--record", str(kept)]
    assert main(drive) == 1
    recording = read(kept)
    assert recording.length_s == 2.5 and recording.notes == () and recording.head.stamp
    assert check(recording).same
    before = kept.read_bytes()
    capsys.readouterr()
    assert main(drive) == 2
    assert capsys.readouterr().err == f"{kept}: given a file that is there, allowed: a new file for the recording\n"
    assert kept.read_bytes() == before


@pytest.mark.parametrize("name", ["latest", "on"])
def test_a_recording_goes_by_its_beginning_or_as_the_latest(folder: Path, capsys: Said, name: str) -> None:
    out = folder / "all.csv"
    assert main(["debrief", name, "--folder", str(folder)]) == 0
    assert main(["replay", name, "--folder", str(folder)]) == 0
    assert "one.lift" in capsys.readouterr().out
    assert main(["track", name, str(out), "--folder", str(folder)]) == 0
    assert out.exists()


def test_a_beginning_of_two_lists_both(folder: Path, capsys: Said) -> None:
    (folder / "once.lift").write_bytes((folder / "one.lift").read_bytes())
    for command in (["replay", "on"], ["debrief", "on"], ["look", "on"], ["track", "on", "x.csv"]):
        assert main([*command, "--folder", str(folder)]) == 2
        said = capsys.readouterr().err
        assert "once.lift, one.lift" in said and said.count("\n") == 1

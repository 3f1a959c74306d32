"""A folder of thousands: a new one gets its name in a few looks, and a list reads next to nothing of what it knows."""

import os
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, UnitCommands
from simulator.recording import glance, lift_file, listing
from simulator.recording.keep import new_file, start_recording
from simulator.recording.lift_file import read
from simulator.recording.listing import FEWEST_INDEXED, Listing, list_recordings
from simulator.scenario.description import Description
from tests.recording.conftest import Recorded

MANY = FEWEST_INDEXED + 20
FEW_LOOKS = 40
FIRST = b"first bytes"


@pytest.fixture
def looks(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Every question whether a file is there."""
    asked: list[Path] = []
    exists = Path.exists

    def noted(path: Path) -> bool:
        asked.append(path)
        return exists(path)

    monkeypatch.setattr(Path, "exists", noted)
    return asked


def test_the_ten_thousandth_of_a_name_is_recorded_too(
    described: Description, tmp_path: Path, looks: list[Path]
) -> None:
    with new_file(tmp_path, "practice-yard_2031", FIRST) as first:
        name = Path(first.name).name.replace("_1.lift", "")
    for number in range(2, 10_000):
        (tmp_path / f"{name}_{number}.lift").touch()
    looks.clear()
    with new_file(tmp_path, "practice-yard_2031", FIRST) as file:
        assert Path(file.name).name == f"{name}_10000.lift"
    assert len(looks) < FEW_LOOKS
    lift = described.title.lower().replace(": ", "-").replace(" ", "-")
    for path in tmp_path.iterdir():
        path.rename(tmp_path / path.name.replace("practice-yard", lift))
    attempt = Attempt(described)
    with start_recording(attempt, tmp_path, "2031") as recorder:
        attempt.advance(Commands(UnitCommands(hoist=0.5), UnitCommands()), 300)
    assert recorder.stopped_at_s is None
    assert read(recorder.path).length_s == 1.25


def test_a_name_whose_numbers_have_gaps_is_no_trouble(tmp_path: Path) -> None:
    for number in (1, 2, 3, 5, 8, 64):
        (tmp_path / f"a_{number}.lift").touch()
    made = []
    for _ in range(80):
        with new_file(tmp_path, "a", FIRST) as file:
            made.append(Path(file.name).name)
    assert len(set(made)) == 80
    assert len(list(tmp_path.iterdir())) == 86


def test_a_link_to_nowhere_is_no_endless_search(tmp_path: Path) -> None:
    try:
        (tmp_path / "a_1.lift").symlink_to(tmp_path / "none")
    except OSError:
        pytest.skip("no links here")
    with new_file(tmp_path, "a", FIRST) as file:
        assert Path(file.name).name == "a_2.lift"


@pytest.fixture
def folder(lift: Recorded, tmp_path: Path) -> Path:
    """Many recordings, one of them broken off, one no recording."""
    folder = tmp_path / "kept"
    folder.mkdir()
    data = lift.path.read_bytes()
    for number in range(MANY):
        (folder / f"{number:04}.lift").write_bytes(data)
    (folder / "0007.lift").write_bytes(data[: len(data) // 2])
    (folder / "0008.lift").write_bytes(b"no such thing")
    return folder


def _whole(folder: Path, index: Path) -> Listing:
    listing = Listing(folder, index)
    while listing.look():
        pass
    return listing


def test_of_a_whole_file_only_both_ends_are_read(lift: Recorded, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise AssertionError("all of it was read")

    monkeypatch.setattr(lift_file, "all_bytes", refused)
    seen = glance.glance(lift.path)
    assert (seen.length_s, seen.fault) == (20.0, "")
    assert seen.ending is not None and seen.ending.how == "left"


def test_what_was_listed_once_is_not_looked_into_again(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    index = tmp_path / "index.json"
    first = _whole(folder, index).entries
    assert len(first) == MANY
    assert {entry.how for entry in first} == {"left", "broken off", "unreadable"}
    looked: list[str] = []
    entry_of = listing._entry

    def noted(path: Path) -> listing.RecordingEntry:
        looked.append(path.name)
        return entry_of(path)

    monkeypatch.setattr(listing, "_entry", noted)
    again = Listing(folder, index)
    assert again.left == 0 and again.entries == first and looked == []
    # One is new, one gone, one another under the same name: only the new and the other are looked into.
    (folder / "new.lift").write_bytes((folder / "0000.lift").read_bytes())
    (folder / "0001.lift").unlink()
    (folder / "0008.lift").write_bytes(b"something else")
    now = {entry.name: entry for entry in _whole(folder, index).entries}
    assert sorted(looked) == ["0008.lift", "new.lift"]
    assert "0001.lift" not in now and now["new.lift"].how == "left"


@pytest.mark.parametrize("text", ["", "{", "[]", '{"by": 1}', '{"by": "%s", "files": {"0000.lift": [1, 2]}}',
                                  '{"by": "%s", "files": {"0000.lift": [1,2,3,4,5,6,7,8,9,10]}}'])  # fmt: skip
def test_an_index_that_is_none_is_passed_over(folder: Path, tmp_path: Path, text: str) -> None:
    index = tmp_path / "index.json"
    good = _whole(folder, index).entries
    index.write_text(text.replace("%s", listing._written_by()))
    assert _whole(folder, index).entries == good


def test_an_index_that_cannot_be_written_is_no_fault(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    assert len(_whole(folder, tmp_path / "file" / "index.json").entries) == MANY


def test_a_short_list_leaves_no_index(lift: Recorded, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(listing, "cache_folder", lambda: tmp_path / "cache")
    assert len(list_recordings(lift.path.parent)) >= 1
    assert not (tmp_path / "cache").exists()


def test_the_newest_files_are_looked_into_first(folder: Path, tmp_path: Path) -> None:
    os.utime(folder / "0050.lift", (2_000_000_000, 2_000_000_000))
    listing = Listing(folder, tmp_path / "index.json")
    listing.look()
    assert [entry.name for entry in listing.entries] == ["0050.lift"]

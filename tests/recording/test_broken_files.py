"""Files that are no recordings, or not whole: a sentence each, and all that can be saved is saved."""

import importlib.util
import json
import random
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from simulator.events import Event, Fields
from simulator.recording.again import CannotReplay
from simulator.recording.glance import glance
from simulator.recording.layout import END, HEAD, LAYOUT, MAGIC, SECOND, frame, frames
from simulator.recording.lift_file import BrokenRecording, read
from simulator.recording.replay import check
from simulator.recording.seconds import second_content, second_of
from tests.draws import drawn
from tests.recording.conftest import LENGTH_S, Recorded

Write = Callable[[bytes], Path]


def fuzz() -> ModuleType:
    """tools/fuzz_recordings.py, which is a script and no package."""
    spec = importlib.util.spec_from_file_location(
        "fuzz_recordings", Path(__file__).parents[2] / "tools" / "fuzz_recordings.py"
    )
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def with_head(data: bytes, **values: object) -> bytes:
    """The file with other values in both copies of its head."""
    first, second = [one for one in frames(data) if one.kind == HEAD]
    head = {**json.loads(first.content), **values}
    return MAGIC + 2 * frame(HEAD, json.dumps(head).encode()) + data[second.end :]


def refusal(path: Path) -> str:
    with pytest.raises(BrokenRecording) as broken:
        read(path)
    return str(broken.value)


def test_no_file_and_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none.lift").startswith("none.lift: given no such file, allowed: a recording")
    assert "a folder" in refusal(tmp_path)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "an empty file"),
        (b"%PDF-1.4 and more", "a file of another kind (it begins with '%PDF-1.4 and mor')"),
        (MAGIC, "a recording whose head is damaged"),
        (MAGIC + frame(HEAD, b"[]"), "no JSON object"),
        (frame(END, b"{}"), "a file of another kind"),
    ],
)
def test_what_is_no_recording_is_said(changed: Write, data: bytes, said: str) -> None:
    assert said in refusal(changed(data))


def test_a_newer_layout_is_refused(lift: Recorded, changed: Write) -> None:
    newer = with_head(lift.path.read_bytes(), layout=LAYOUT + 1, versions={"slopepick": "9.9"})
    said = f"given layout {LAYOUT + 1}, written by a newer program (version 9.9), allowed: up to layout {LAYOUT}"
    assert said in refusal(changed(newer))


def test_cut_anywhere_all_whole_seconds_are_saved(lift: Recorded, changed: Write) -> None:
    data = lift.path.read_bytes()
    ends = [one.end for one in frames(data) if one.kind == SECOND]
    begin = next(one.end for one in frames(data) if one.kind == HEAD)
    for cut in random.Random(5).sample(range(begin, len(data) - 1), 25):
        recording = read(changed(data[:cut]))
        assert len(recording.seconds) == sum(end <= cut for end in ends)
        assert recording.how == "broken off"
        assert any("breaks off" in note for note in recording.notes)


def test_a_damaged_second_is_lost_alone(lift: Recorded, changed: Write) -> None:
    data = bytearray(lift.path.read_bytes())
    hit = [one for one in frames(bytes(data)) if one.kind == SECOND][12]
    data[hit.begin + 40] ^= 4
    recording = read(changed(bytes(data)))
    assert len(recording.seconds) == LENGTH_S - 1
    (note,) = recording.notes
    assert "1 s are damaged (from 00:12.0); the lift can be re-run up to 00:12.0" in note
    found = check(recording)
    assert (found.seconds, found.same) == (12, True)
    assert "from there to 00:20.0 the stored readings go on" in found.sentences()
    assert recording.at(15.0).time_s == 15.0


def test_one_good_head_is_enough(lift: Recorded, changed: Write) -> None:
    data = lift.path.read_bytes()
    first, second = [one for one in frames(data) if one.kind == HEAD]
    for hit in (first, second):
        bad = bytearray(data)
        bad[hit.begin + 100] ^= 1
        recording = read(changed(bytes(bad)))
        assert len(recording.seconds) == LENGTH_S
        assert any("a part of the file is damaged" in note for note in recording.notes)
        bad[second.begin + 100] ^= 1 if hit is first else 0
        bad[first.begin + 100] ^= 0 if hit is first else 1
        assert "head is damaged" in refusal(changed(bytes(bad)))


def test_a_scenario_that_cannot_be_used_still_shows_its_readings(lift: Recorded, changed: Write) -> None:
    recording = read(changed(with_head(lift.path.read_bytes(), scenario='title = "x"\nboom = 3\n')))
    assert recording.description is None
    (note,) = recording.notes
    assert "the scenario in it cannot be used" in note and "cannot be re-run" in note
    assert recording.at(10.0).time_s == 10.0
    with pytest.raises(CannotReplay, match="stored readings can be shown"):
        check(recording)


def test_channels_of_another_program_are_matched_by_name(lift: Recorded, changed: Write) -> None:
    data = lift.path.read_bytes()
    channels = json.loads(next(one for one in frames(data) if one.kind == HEAD).content)["channels"]
    renamed = [["nose.weather", *row[1:]] if row[0] == "nose.line_load_N" else row for row in channels]
    recording = read(changed(with_head(data, channels=renamed)))
    now = recording.at(10.0)
    assert now.nose.line_load_N != now.nose.line_load_N
    assert now.tail.line_load_N == read(lift.path).at(10.0).tail.line_load_N


@pytest.mark.parametrize(
    "fields",
    [
        {"act": "gust", "amount": 1e8, "place": 0, "lasts_s": 5.0},
        {"act": "line slips", "amount": "nan", "place": 0, "lasts_s": 0.0},
        {"act": "line slips", "amount": 0.1, "place": 9, "lasts_s": 0.0},
        {"act": "soft float", "amount": 0.0, "place": 1, "lasts_s": 0.0},
        {"text": "dance"},
        {"act": "a", "amount": "b", "place": "c", "lasts_s": "d"},
    ],
)
@pytest.mark.filterwarnings("ignore::RuntimeWarning")  # numpy's, of a number that no instructor can give
def test_what_cannot_be_done_again_is_said(lift: Recorded, changed: Write, fields: Fields) -> None:
    data = lift.path.read_bytes()
    one = [frame for frame in frames(data) if frame.kind == SECOND][1]
    second = second_of(one.content)._replace(events=(Event(300, "instructor", "instructor", fields),))
    recording = read(changed(data[: one.begin] + frame(SECOND, second_content(second)) + data[one.end :]))
    assert recording.notes == () and recording.at(3.0).time_s == 3.0
    with pytest.raises(CannotReplay, match="cannot be done again"):
        check(recording)


def test_an_end_mark_behind_a_damaged_head_is_no_whole_file(lift: Recorded, changed: Write) -> None:
    """A list hops from frame to frame; the frames it then looks into may be damaged."""
    every = list(frames(lift.path.read_bytes()))
    data = bytearray(lift.path.read_bytes())
    data[every[1].begin + 60] ^= 16
    data[every[-1].begin + 20] ^= 16
    path = changed(bytes(data))
    assert glance(path).length_s == read(path).length_s == LENGTH_S
    assert glance(path).ending is None


def test_damaged_files_give_sentences_only(lift: Recorded, changed: Write) -> None:
    tool = fuzz()
    # Head, three seconds, end mark: small files are hit where it matters.
    every = list(frames(lift.path.read_bytes()))
    data = MAGIC + b"".join(frame(one.kind, one.content) for one in (*every[:5], every[-1]))
    chance = random.Random(11)
    came = [tool.examine(changed(tool.mutated(data, chance)[1])) for _ in range(drawn(100, 300))]
    assert {"refused", "saved with notes"} <= set(came)

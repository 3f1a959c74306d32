"""Files that ask for more than any lift needs: a sentence, within a bounded process, and never a wait."""

from __future__ import annotations

import json
import os
import struct
import sys
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, UnitCommands
from simulator.files.bounds import SCENARIO_DEPTH
from simulator.places import find_scenario
from simulator.recording.layout import HEAD, MAGIC, SECOND, FileFrame, frame, frames
from simulator.recording.lift_file import BrokenRecording, read_data
from simulator.recording.recorded import Recording
from simulator.recording.recorder import Recorder
from simulator.recording.replay import CannotReplay, check, track_of_recording
from simulator.recording.seconds import second_content, second_of
from simulator.report.lift.debrief import debrief
from simulator.report.lift.debrief_lines import debrief_lines
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
sys.path.append(str(Path(__file__).parents[2] / "tools"))
YARD = find_scenario("practice_yard").read_text(encoding="utf-8")
PART = '\n[[trailer.parts]]\nname = "p{}"\noutline = [[0, 0], [1, 0], [1, 1]]\nwidth = 1\n'


@pytest.fixture(autouse=True)
def _warm() -> None:
    load(find_scenario("practice_yard"))


@pytest.fixture(scope="module")
def lift() -> bytes:
    attempt, file = Attempt(load(find_scenario("practice_yard"))), _Kept()
    recorder, up = Recorder(attempt, file), UnitCommands(hoist=0.3)
    attempt.advance(Commands(up, up), 3 * 240)
    recorder.close()
    return file.getvalue()


class _Kept(BytesIO):
    def close(self) -> None:
        """Its bytes are asked for afterward."""


def bounded(work: Callable[[], str]) -> str:
    """In a process of 10 s; memory is bounded by the tools, whose process is smaller than that of the tests."""
    import bounded as tool

    return str(tool.bounded(work, memory_bytes=4_000_000_000))


def told(text: str) -> str:
    """What a scenario is answered with."""
    try:
        parse_text(text, "x.toml")
    except BrokenScenario as broken:
        return "\n".join(map(str, broken.faults))
    return "good"


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("a." * 20_000 + "a=1", f"at most {SCENARIO_DEPTH} names"),
        (f"[{'a.' * 20_000}a]", f"at most {SCENARIO_DEPTH} names"),
        ("a = " + "[" * 20_000 + "]" * 20_000, f"at most {SCENARIO_DEPTH}"),
        ("a = " + "{b=" * 20_000, f"at most {SCENARIO_DEPTH}"),
        ("\n".join(f"a{i} = 1" for i in range(60_000)), "at most 40000 keys"),
        ("\n".join(f"a{i} = 1" for i in range(5_000)), "more names that are not known"),
        ("[[units]]\n" * 5_000, "a list of at most 400"),
        (YARD + "".join(PART.format(i) for i in range(500)), "a list of at most 400"),
        (YARD.replace("settle = 4", "settle = 1e5"), "at most 125 s"),
        (YARD.replace('title = "', 'title = "' + "x" * 50_000), "at most 2000 letters"),
        (YARD.replace('title = "', 'title = "\\u001b]52;c;x\\u0007'), "no control characters"),
        ('a = """' + '\\"""' * 50_000, "TOML"),
        ("a = " + "1" * 100_000, "TOML"),
    ],
    ids=range(13),
)
def test_a_scenario_that_asks_for_too_much_is_a_sentence(text: str, part: str) -> None:
    said = bounded(lambda: told(text))
    assert not said.startswith("!"), said
    assert part in said
    assert len(said.splitlines()) <= 201 and all(line.isprintable() for line in said.splitlines())


def used(data: bytes) -> str:
    """Everything that is made of a recording, and what its notes say."""
    try:
        recording = read_data(data, Path("x.lift"))
    except BrokenRecording as broken:
        return str(broken)
    lines = [*recording.notes, *debrief_lines(debrief(recording))]
    for what in (track_of_recording, lambda one: check(one, jobs=1)):
        try:
            what(recording)  # type: ignore[operator]
        except CannotReplay as cannot:
            lines.append(str(cannot))
    assert all(line.isprintable() for line in lines)
    return "\n".join(lines)


def rebuilt(data: bytes, change: Callable[[FileFrame], bytes]) -> bytes:
    """Each frame's content another, under a CRC that is good."""
    return MAGIC + b"".join(frame(one.kind, change(one)) for one in frames(data))


def a_second(data: bytes, **other: object) -> bytes:
    first = next(one.begin for one in frames(data) if one.kind == SECOND)

    def change(one: FileFrame) -> bytes:
        return one.content if one.begin != first else second_content(second_of(one.content)._replace(**other))  # type: ignore[arg-type]

    return rebuilt(data, change)


def a_head(data: bytes, **other: object) -> bytes:
    return rebuilt(
        data, lambda one: one.content if one.kind != HEAD else json.dumps(json.loads(one.content) | other).encode()
    )


def packed(kind: bytes, content: bytes, length: int | None = None) -> bytes:
    body = zlib.compress(content)
    crc = zlib.crc32(body, zlib.crc32(kind + len(body).to_bytes(4, "little")))
    return struct.pack("<4sII", kind, len(body) if length is None else length, crc) + body


def test_bombs_and_empty_promises_are_passed_over(lift: bytes) -> None:
    for more in (
        packed(SECOND, bytes(63_000_000)) * 40,
        packed(HEAD, bytes(3_900_000)) * 2_000,
        b"".join(struct.pack("<4sII", SECOND, 12 * (60_000 - i), 0) for i in range(60_000)),
    ):
        said = bounded(lambda more=more: used(lift + more))
        assert not said.startswith("!"), said


def test_a_second_in_the_far_future_is_none(lift: bytes) -> None:
    def far(one: FileFrame) -> bytes:
        return one.content if one.kind != SECOND else one.content[:8] + struct.pack("<Q", 1 << 39) + one.content[16:]

    assert "no second of the lift was saved" in bounded(lambda: used(rebuilt(lift, far)))


@pytest.mark.parametrize(
    "text", ["x" * 50_000, " meets ,: at" * 5_000, "\x1b]52;c;x\x07", "$x^{$", "a\0b"], ids=range(5)
)
def test_whatever_an_event_says_is_plain_and_short(lift: bytes, text: str) -> None:
    said = bounded(lambda: used(a_second(lift, events=((1, "incident", text),) * 20)))
    assert not said.startswith("!"), said


def test_so_many_events_are_no_lift(lift: bytes) -> None:
    said = bounded(lambda: used(a_second(lift, events=((1, "stage", "x"),) * 20_000)))
    assert "1 s are damaged" in said


@pytest.mark.parametrize(
    "other",
    [
        {"scenario": "a." * 20_000 + "a=1"},
        {"title": "x" * 100_000, "stamp": "y" * 100_000, "pair": ["z" * 100_000] * 5},
        {"versions": {f"p{i}": "1" for i in range(100_000)}},
        {"begins": 1 << 62},
    ],
    ids=range(4),
)
def test_a_head_that_says_too_much(lift: bytes, other: dict[str, object]) -> None:
    said = bounded(lambda: used(a_head(lift, **other)))
    assert not said.startswith("!"), said
    assert all(len(line) < 2_000 for line in said.splitlines())


def test_a_reading_that_is_none_is_no_reading(lift: bytes) -> None:
    second = second_of(next(one.content for one in frames(lift) if one.kind == SECOND))
    for wild in (10**17, -(1 << 63), (1 << 59)):
        samples = second.samples.astype("int64")
        samples[0, 5] = wild

        def read_(samples: object = samples) -> Recording:
            return read_data(a_second(lift, samples=samples), Path("x.lift"))

        seconds = read_().seconds
        assert len(seconds) == (3 if wild == -(1 << 63) else 2)

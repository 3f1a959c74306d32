"""A recording re-run gives the same lift; where it does not, the place is named; and a lift can be gone on with."""

import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import Instruction
from simulator.drill.partner import Partner
from simulator.engine.commands import FUNCTIONS, STILL, Commands, UnitCommands
from simulator.engine.drives import Travel
from simulator.places import find_scenario
from simulator.recording.again import CannotReplay
from simulator.recording.head import Parent
from simulator.recording.headless import run_track, track_of
from simulator.recording.keep import start_recording
from simulator.recording.layout import SECOND, frame, frames
from simulator.recording.lift_file import read
from simulator.recording.recorder import Recorder, versions
from simulator.recording.replay import check, take_over, track_of_recording
from simulator.recording.seconds import Second, second_content, second_of
from simulator.scenario.description import Description
from simulator.scenario.reader import load, parse_text
from simulator.scenario.unit import Unit
from tests.recording.conftest import LENGTH_S, Recorded

HOIST = FUNCTIONS.index("hoist")


def replaced(data: bytes, number: int, change: Callable[..., object]) -> bytes:
    """A file's bytes with its second of that number changed."""
    one = [frame for frame in frames(data) if frame.kind == SECOND][number]
    content = second_content(change(second_of(one.content)))  # type: ignore[arg-type]
    return data[: one.begin] + frame(SECOND, content) + data[one.end :]


def test_a_fresh_process_comes_to_the_same_hashes(lift: Recorded) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "simulator", "replay", str(lift.path)], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert f"{LENGTH_S} s re-run, each with the same state" in ran.stdout


def test_another_command_is_found_where_it_was_given(lift: Recorded, changed: Callable[[bytes], Path]) -> None:
    """The nose line is let down at full speed from the start of the 10th second on, as far as the file says."""

    def let_down(second: Second) -> Second:
        (_, (_, tail)), *_ = second.changes
        return second._replace(changes=((second.begin_step, Commands(UnitCommands(hoist=-1.0), tail)),))

    data = replaced(lift.path.read_bytes(), 9, let_down)
    found = check(read(changed(data)))
    assert not found.same
    assert (found.seconds, found.hash_differs_at_s) == (9, 10.0)
    assert found.reading is not None and 9.0 < found.reading.time_s <= 10.0
    assert found.reading.channel.startswith("nose.")
    said = " ".join(found.sentences())
    assert "the state differs at 00:10.0" in said and "stored readings go on" in said


def test_another_stored_reading_is_named(lift: Recorded, changed: Callable[[bytes], Path]) -> None:
    place = read(lift.path).head.channels.index("tail.line_load_N")

    def heavier(second):  # type: ignore[no-untyped-def]
        samples = second.samples.astype("int64")
        samples[3, place] += 70
        return second._replace(samples=samples)

    recording = read(changed(replaced(lift.path.read_bytes(), 4, heavier)))
    assert check(recording).same
    found = check(recording, every_reading=True)
    assert found.hash_differs_at_s is None and found.reading is not None and not found.same
    assert found.reading.channel == "tail.line_load_N"
    assert found.reading.stored - found.reading.again == pytest.approx(7.0, abs=0.1)
    assert found.reading.time_s == pytest.approx(4.0 + 4 / 20)


@pytest.mark.parametrize("time_s", [-3.0, 0.0, 0.024, 0.026, 7.31, 12.0, 19.99, 500.0])
def test_the_nearest_sample_is_shown(lift: Recorded, time_s: float) -> None:
    recording = read(lift.path)
    nearest = min(recording.time_s, key=lambda one: abs(one - time_s))
    now = recording.at(time_s)
    assert now.time_s == nearest
    live = next(one for one in lift.seen if one.step == now.step)
    assert now.tail.slack is live.tail.slack
    assert now.nose.line_load_N == pytest.approx(live.nose.line_load_N, abs=0.051)
    assert now.load.z_m == pytest.approx(live.load.z_m, abs=0.51e-5)


def test_partners_that_looked_on_drive_the_very_same_lift_to_its_end(lift: Recorded, described: Description) -> None:
    partners = [Partner(described, 0), Partner(described, 1)]
    attempt = take_over(read(lift.path), 12 * 240, followers=partners)
    attempt.operators = list(partners)
    attempt.advance(STILL, (LENGTH_S - 12) * 240)
    assert attempt.state_hash == lift.attempt.state_hash


def test_a_lift_gone_on_with_names_its_parent_and_can_be_re_run(lift: Recorded, tmp_path: Path) -> None:
    kept: list[Recorder] = []
    parent = Parent(lift.path.name, 1000)

    def begin(attempt: Attempt, before: Sequence[Second]) -> None:
        kept.append(start_recording(attempt, tmp_path, "later", parent=parent, before=before))

    attempt = take_over(read(lift.path), 1000, begin=begin)
    assert attempt.simulation.state.step == 1000
    attempt.advance(Commands(UnitCommands(slew=0.3), UnitCommands(slew=0.3)), 290)
    kept[0].close()
    child = read(kept[0].path)
    assert child.head.parent == parent
    assert child.length_s == 1290 / 240
    assert child.head.begins == 0 and not child.notes
    was = read(lift.path)
    for one, other in zip(child.seconds[:4], was.seconds, strict=False):
        assert second_content(one) == second_content(other)
    steps, known = child.column("step"), was.column("step")
    assert list(steps[steps <= 1000]) == list(known[known <= 1000])
    assert [event for event in child.events if event.step <= 960] == [one for one in was.events if one.step <= 960]
    assert check(child, every_reading=True).same


def test_a_recording_begun_in_the_middle_holds_all_commands(lift: Recorded, tmp_path: Path) -> None:
    attempt = take_over(read(lift.path), 1000)
    with start_recording(attempt, tmp_path, "late") as recorder:
        attempt.advance(STILL, 300)
    child = read(recorder.path)
    assert child.head.begins == 1000 and child.column("step")[0] >= 1000
    assert check(child).same


def test_the_instructors_hand_is_done_again(described: Description, tmp_path: Path) -> None:
    attempt = Attempt(described)
    hands = Commands(UnitCommands(hoist=0.5), UnitCommands(hoist=0.5))
    with start_recording(attempt, tmp_path, "taught") as recorder:
        attempt.advance(hands, 400)
        attempt.instruct(Instruction("line slips", 0.2, end=1))
        attempt.advance(hands, 80)
        attempt.instruct(Instruction("gust", 8.0, lasts_s=0.7))
        attempt.instruct(Instruction("stop"))
        attempt.advance(hands, 180)
        attempt.resume()
        attempt.advance(hands, 181)
    recording = read(recorder.path)
    assert check(recording).same
    assert recording.seconds[-1].state_hash == attempt.state_hash


SECOND_STEP_S, THIRD_STEP_S = 8, 12
"""The drill is in its second or third step then; where they began is read off the lift."""
ACTS = (
    Instruction("gust", 6.0, lasts_s=0.7),
    Instruction("line slips", 0.05, end=1),
    Instruction("step back", -1.0),
    Instruction("cargo shifts", 0.3),
    Instruction("stop"),
    Instruction("soft float", 0.4, end=1),
    Instruction("gust", 5.0, lasts_s=30.0),
    Instruction("step back", 0.0),
    Instruction("hide coach"),
    Instruction("bed holds", 5e3),
    Instruction("step back", 5.0),
)
"""The last goes back to a step that has not begun: nothing is done."""


def test_a_drill_gone_back_in_is_the_same_lift_with_nobody_looking_on(tmp_path: Path) -> None:
    """Bare, the drill's steps begin where the recording says; every kind of act of the instructor is in it."""
    described = load(find_scenario("set_down"))
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    hashes: list[str] = []
    with start_recording(attempt, tmp_path, "drilled") as recorder:
        attempt.advance(STILL, THIRD_STEP_S * 240 + 37)
        assert attempt.session is not None and attempt.session.index == 2
        for act in ACTS:
            attempt.instruct(act)
            attempt.advance(STILL, 200)
            attempt.resume()
            hashes.append(attempt.state_hash)
        attempt.advance(STILL, 6 * 240 + 15)
    assert len(set(hashes)) == len(hashes)
    recording = read(recorder.path)
    assert sum(event.kind == "step" for event in recording.events) >= 3
    assert recording.seconds[-1].state_hash == attempt.state_hash
    assert check(recording).same and check(recording, every_reading=True).same


def test_a_step_of_the_drill_that_began_elsewhere_is_another_lift(tmp_path: Path) -> None:
    """What is gone back to is the moment in the file: moved to where the lift is, there is nothing to go back to."""
    described = load(find_scenario("set_down"))
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    with start_recording(attempt, tmp_path, "moved") as recorder:
        attempt.advance(STILL, (SECOND_STEP_S + 2) * 240)
        attempt.instruct(Instruction("step back", 1.0))
        attempt.advance(STILL, 240)
    began = next(event.step for event in attempt.events if event.kind == "step")
    assert 240 < began < SECOND_STEP_S * 240
    assert check(read(recorder.path)).same
    path = tmp_path / "moved.lift"
    path.write_bytes(replaced(recorder.path.read_bytes(), (began - 1) // 240, earlier_step))
    found = check(read(path))
    assert (found.same, found.seconds, found.hash_differs_at_s) == (False, SECOND_STEP_S + 2, SECOND_STEP_S + 3.0)


def earlier_step(second):  # type: ignore[no-untyped-def]
    """The second with its drill's step begun at its start."""
    events = tuple(event._replace(step=second.begin_step) if event.kind == "step" else event for event in second.events)
    assert events != second.events
    return second._replace(events=events)


def test_another_hash_alone_is_named_with_no_reading(lift: Recorded, changed: Callable[[bytes], Path]) -> None:
    data = replaced(lift.path.read_bytes(), 7, lambda second: second._replace(state_hash="0" * 64))
    found = check(read(changed(data)))
    assert (found.same, found.seconds, found.hash_differs_at_s, found.reading) == (False, 7, 8.0, None)
    said = " ".join(found.sentences())
    assert "no stored reading differs within 5 s" in said
    assert "recorded with this very program, Python, libm, pymunk" in said


@pytest.mark.parametrize("part", ["libm", "pymunk", "engine", "computer", "python", "numpy", "slopepick"])
def test_what_it_was_recorded_with_is_named_where_it_differs(
    part: str, lift: Recorded, changed: Callable[[bytes], Path]
) -> None:
    data = replaced(lift.path.read_bytes(), 0, lambda second: second._replace(state_hash="0" * 64))
    recording = read(changed(data))
    assert recording.head.versions == versions()
    other = replace(recording, head=replace(recording.head, versions={**versions(), part: "of another computer"}))
    said = [one for one in check(other, jobs=1).sentences() if one.startswith("recorded with")]
    assert said == [f"recorded with {part} of another computer, this is {versions()[part]}"]


def without_sway_damping(unit: Unit) -> Unit:
    lines = tuple(replace(line, hoist=replace(line.hoist, sway_damping_ratio=0.0)) for line in unit.lines)
    return replace(unit, lines=lines)


def test_numbers_of_units_that_an_older_program_did_not_know_are_named(described: Description, tmp_path: Path) -> None:
    """Sway does not die away by it, and its scenario says nothing of that: it is read with today's value."""
    attempt = Attempt(replace(described, units=tuple(map(without_sway_damping, described.units))))
    with start_recording(attempt, tmp_path, "older") as recorder:
        attempt.advance(Commands(UnitCommands(hoist=0.4), UnitCommands(hoist=0.4)), 6 * 240)
    recording = read(recorder.path)
    found = check(recording, jobs=1)
    assert found.same and found.new_in_units == ()
    lines = recording.head.scenario.splitlines(keepends=True)
    text = "".join(line for line in lines if not line.startswith("sway_damping_ratio = "))
    older = replace(
        recording, head=replace(recording.head, scenario=text), description=parse_text(text, "scenario of then")
    )
    found = check(older, jobs=1)
    assert not found.same and found.new_in_units == ("sway_damping_ratio",)
    said = "; ".join(found.sentences())
    assert "units have changed since: they have sway_damping_ratio, of which this recording says nothing" in said
    assert "recorded with this very program" not in said


def test_a_change_in_the_engine_is_named(lift: Recorded, monkeypatch: pytest.MonkeyPatch) -> None:
    """A winch that comes up to speed a tenth faster shows in the first second in which it is asked for, in the rope
    that is out or in what follows from it: the line's length under its sheave, or its stiffness, E A / length."""
    recording = read(lift.path)
    moving = next(step for step, commands in recording.changes if any(hands[HOIST] for hands in commands))

    def quicker(top: float, ramp: float, low: float, high: float) -> Travel:
        """A hoist's travel ends at no rope out."""
        return Travel(top, 1.1 * ramp if high == 0.0 else ramp, low, high)

    monkeypatch.setattr("simulator.engine.model.Travel", quicker)
    found = check(recording)
    assert found.hash_differs_at_s == moving // 240 + 1.0
    assert found.reading is not None and found.reading.time_s >= moving / 240
    assert any(word in found.reading.channel for word in ("hoist", "rope", "line_length", "line_stiffness"))


def test_a_track_of_a_recording_drives_it_again(lift: Recorded, described: Description) -> None:
    track = track_of_recording(read(lift.path))
    assert track == track_of(lift.attempt)
    again = Attempt(described)
    run_track(again, track[: next(i for i, row in enumerate(track) if row.time_s > 3.0) + 1])
    short = read(lift.path).at(again.readings.time_s)
    assert short.nose.rope_out_m == pytest.approx(again.readings.nose.rope_out_m, abs=1e-4)


def test_a_span_begins_at_zero_with_what_held_there(lift: Recorded) -> None:
    recording = read(lift.path)
    span = track_of_recording(recording, from_s=9.0, to_s=11.0)
    held = [commands for step, commands in recording.changes if step <= 9 * 240][-1]
    assert span[0].time_s == 0.0 and span[0].commands == held
    assert span[-1].time_s == 2.0
    inside = [step / 240 - 9.0 for step, _ in recording.changes if 9 * 240 < step < 11 * 240]
    assert [row.time_s for row in span[1:-1]] == pytest.approx(inside)


@pytest.mark.parametrize(("from_s", "to_s"), [(5.0, 5.0), (5.0, 4.0), (-1.0, 4.0), (0.0, 21.0)])
def test_a_span_that_is_none_is_refused(lift: Recorded, from_s: float, to_s: float) -> None:
    with pytest.raises(CannotReplay, match="allowed: a span in 0 to 20 s"):
        track_of_recording(read(lift.path), from_s=from_s, to_s=to_s)


@pytest.mark.parametrize("step", [-1, LENGTH_S * 240 + 1])
def test_nobody_takes_over_where_nothing_was_recorded(lift: Recorded, step: int) -> None:
    with pytest.raises(CannotReplay, match=f"given step {step}, allowed: 0 to {LENGTH_S * 240}"):
        take_over(read(lift.path), step)

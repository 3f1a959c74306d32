"""A re-run in spans over several processes says what one from time zero says; states kept in a file are exact."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.attempt import Attempt
from simulator.drill.instruction import Instruction
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.engine.state import State, state_from, state_hash
from simulator.places import find_scenario
from simulator.recording import spans
from simulator.recording.keep import start_recording
from simulator.recording.lift_file import read
from simulator.recording.recorded import Recording
from simulator.recording.replay import check
from simulator.recording.seconds import Second, second_content, second_of
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.recording.test_replay import replaced

LENGTH_S = 12


@pytest.fixture(scope="module")
def described() -> Description:
    return load(find_scenario("practice_yard"))


@pytest.fixture
def cut(described: Description, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Recording:
    """A lift with its state kept every other second, in spans of two."""
    monkeypatch.setattr("simulator.recording.recorder.STATE_EVERY_S", 2)
    monkeypatch.setattr(spans, "FEWEST_SECONDS", 2)
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    with start_recording(attempt, tmp_path, "cut") as recorder:
        attempt.advance(STILL, LENGTH_S * described.engine.steps_per_s)
    return read(recorder.path)


def with_second(recording: Recording, number: int, change: Callable[[Second], Second], folder: Path) -> Recording:
    """Read again with that second changed."""
    path = folder / "changed.lift"
    path.write_bytes(replaced(recording.path.read_bytes(), number, change))
    return read(path)


def test_spans_begin_at_states_that_were_kept(cut: Recording) -> None:
    found = spans.spans(cut.whole)
    assert [len(span.seconds) for span in found] == [2] * 6
    assert [span.state.step if span.state else 0 for span in found] == [span.seconds[0].begin_step for span in found]


def test_several_processes_say_what_one_says(cut: Recording) -> None:
    told: list[float] = []
    assert check(cut, jobs=2, progress=told.append) == check(cut, jobs=1)
    assert told[-1] == 1.0 and told == sorted(told) and len(told) == 6


@pytest.mark.parametrize("number", [0, 5, 6, 11])
def test_a_difference_is_found_where_it_is_whoever_looks(cut: Recording, tmp_path: Path, number: int) -> None:
    def otherwise(second: Second) -> Second:
        return second._replace(changes=((second.begin_step, Commands(UnitCommands(slew=0.5), UnitCommands())),))

    changed = with_second(cut, number, otherwise, tmp_path)
    shared, alone = check(changed, jobs=2), check(changed, jobs=1)
    assert shared == alone
    assert (shared.seconds, shared.hash_differs_at_s) == (number, number + 1.0)


def test_a_state_that_is_not_the_one_of_its_hash_is_not_begun_at(cut: Recording, tmp_path: Path) -> None:
    """Moved by a hair, and its hash as it was: the second is read, and re-run from the state before."""

    def moved(second: Second) -> Second:
        assert second.state is not None
        motion = second.state.motion
        return second._replace(state=second.state._replace(motion=motion._replace(x=motion.x + 1e-12)))

    changed = with_second(cut, 5, moved, tmp_path)
    assert [second.state is not None for second in changed.seconds] == [False, True] * 2 + [False] * 2 + [
        False,
        True,
    ] * 3
    assert [len(span.seconds) for span in spans.spans(changed.whole)] == [2, 2, 4, 2, 2]
    assert check(changed, jobs=2).same


def test_a_lift_that_an_instructor_has_changed_is_one_span(described: Description, tmp_path: Path) -> None:
    attempt = Attempt(described)
    with start_recording(attempt, tmp_path, "hand") as recorder:
        attempt.advance(STILL, 11 * 240)
        attempt.instruct(Instruction("gust", 4.0, lasts_s=2.0))
        attempt.advance(STILL, 240)
    recording = read(recorder.path)
    assert recording.seconds[9].state is not None
    assert len(spans.spans(recording.whole)) == 1
    assert check(recording, jobs=2).same


Lifts = tuple[Simulation, Simulation]


@pytest.fixture(scope="module")
def lifts() -> Lifts:
    """Twice the same lift."""
    description = load(find_scenario("tank_on_side"))
    return Simulation(description), Simulation(description)


@settings(max_examples=50)
@given(steps=st.integers(1, 40), hands=st.lists(st.floats(-1.0, 1.0), min_size=8, max_size=8))
def test_a_state_put_away_as_text_goes_on_to_the_same_bits(lifts: Lifts, steps: int, hands: list[float]) -> None:
    """Numbers written with all their digits; the lift gone on with from them is the lift that was never left."""
    simulation, other = lifts
    simulation.reset()
    commands = Commands(UnitCommands(*hands[:4]), UnitCommands(*hands[4:]))
    for _ in range(steps):
        simulation.step(commands)
    kept = state_from(json.loads(json.dumps(simulation.state)))
    assert kept == simulation.state and state_hash(kept) == simulation.state_hash
    other.restore(kept)
    for _ in range(30):
        simulation.step(commands)
        other.step(commands)
    assert other.state_hash == simulation.state_hash


def test_the_sign_of_a_zero_makes_no_other_state() -> None:
    motion = STATE.motion._replace(pitch=0.0, yaw=1e-300)
    same, other = motion._replace(pitch=-0.0), motion._replace(yaw=0.0)
    hashes = [state_hash(STATE._replace(motion=one)) for one in (motion, same, other)]
    assert hashes[0] == hashes[1] != hashes[2]


def places(value: Any, path: tuple[int, ...] = ()) -> list[tuple[int, ...]]:
    """The place of every part of a list of lists."""
    if not isinstance(value, list):
        return [path]
    return [path, *(place for i, part in enumerate(value) for place in places(part, (*path, i)))]


STATE: State = Simulation(load(find_scenario("practice_yard"))).state
PLAIN = json.loads(json.dumps(STATE))
BROKEN = st.sampled_from([None, "x", [], [1.0], {}, {"a": 1}, 10**400, float("inf"), float("nan"), True, [[[]]]])


@given(place=st.sampled_from(places(PLAIN)), value=BROKEN)
def test_what_is_no_state_is_refused_in_words(place: tuple[int, ...], value: Any) -> None:
    plain = json.loads(json.dumps([PLAIN]))
    at = plain
    for step in (0, *place[:-1]) if place else ():
        at = at[step]
    at[place[-1] if place else 0] = value
    try:
        found = state_from(plain[0])
    except ValueError as error:
        assert str(error)
    else:
        assert len(json.dumps(found, allow_nan=False)) > 0, "finite numbers only"


def test_the_file_keeps_the_state_of_every_tenth_second(described: Description, tmp_path: Path) -> None:
    attempt = Attempt(described)
    with start_recording(attempt, tmp_path, "kept") as recorder:
        attempt.advance(STILL, 10 * 240)
        state = attempt.simulation.state
        attempt.advance(STILL, 5 * 240)
    seconds = read(recorder.path).seconds
    assert [second.end_step for second in seconds if second.state is not None] == [2400]
    assert seconds[9].state == state
    assert second_of(second_content(seconds[9])).state == state

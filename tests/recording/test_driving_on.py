"""A lift driven on from what its drill and operators remembered is the lift that is re-run from the start."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from simulator.attempt import Attempt, Operator
from simulator.drill.clumsy import operator_of
from simulator.drill.partner import Partner
from simulator.drill.session import Session
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.files.remembered import Shelf
from simulator.places import find_scenario
from simulator.recording.again import CannotReplay
from simulator.recording.keep import start_recording
from simulator.recording.kept_memory import SHARED
from simulator.recording.lift_file import read, read_data
from simulator.recording.recorded import Recording
from simulator.recording.replay import take_over
from simulator.scenario.description import Description
from simulator.scenario.reader import load

PER_S = 240
EVERY_S, LENGTH_S, BY_HAND_S, STOPPED_S, LIFTED_S = 3, 36, 24, 28, 30
"""So often memory is kept here; so long two automatic operators and, from then, a person in the tail seat drive."""
MOMENTS_S = (3.0, 12.4, 25.0, 33.9)


@pytest.fixture(scope="module")
def drilled() -> Description:
    return load(find_scenario("whole_lift"))


def hands(chance: Random) -> Commands:
    """A person in both seats who pulls a lever now and then, in whoever's turn it is."""
    return Commands(*(UnitCommands(*(chance.choice((0.0, 0.0, 0.3, -0.3)) for _ in range(4))) for _ in range(2)))


def drive(attempt: Attempt, *, hands_off: bool = True) -> None:
    """Automatic at first, then a person in the tail seat, who loses points in others' turns; a stop order meanwhile."""
    chance = Random(5)
    attempt.advance(STILL, BY_HAND_S * PER_S)
    attempt.operators[1] = None
    for second in range(BY_HAND_S, LENGTH_S):
        if second == STOPPED_S:
            attempt.stop(by="nose")
        if second == LIFTED_S:
            attempt.resume()
        is_still = hands_off and STOPPED_S <= second < LIFTED_S
        attempt.advance(STILL if is_still else hands(chance), PER_S)


def recorded(attempt: Attempt, folder: Path, *, hands_off: bool = True) -> Recording:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("simulator.recording.recorder.MEMORY_EVERY_S", EVERY_S)
        with start_recording(attempt, folder, "on") as recorder:
            drive(attempt, hands_off=hands_off)
    return read(recorder.path)


def pair(drilled: Description) -> Attempt:
    return Attempt(drilled, [Partner(drilled, 0), Partner(drilled, 1)])


@pytest.fixture(scope="module")
def recording(drilled: Description, tmp_path_factory: pytest.TempPathFactory) -> Recording:
    attempt = pair(drilled)
    kept = recorded(attempt, tmp_path_factory.mktemp("on"))
    assert attempt.session is not None and attempt.session.losses
    return kept


def forgotten(kept: Recording) -> Recording:
    """The same with no memory in it, as older programs wrote it."""
    return replace(kept, seconds=tuple(second._replace(memory="") for second in kept.seconds))


def told(attempt: Attempt) -> list[object]:
    """All that the drill of an attempt knows at this moment, and what the attempt itself does."""
    shelf, session = Shelf(SHARED), attempt.session
    of_drill = None if session is None else (shelf.kept(session, Session), session.result(), session.account())
    said = None if session is None else (session.prompt, session.cautions, session.told)
    its_own = attempt.state_hash, attempt.events, attempt.changes, attempt.stopped, attempt.called_by
    return [of_drill, shelf.rows, said, its_own, attempt.readings, attempt.world.drill_step]


def remembered(operators: list[Partner]) -> list[object]:
    shelf = Shelf(SHARED)
    return [[shelf.kept(one, Partner) for one in operators], shelf.rows]


def numbers(kept: object) -> list[float]:
    """All of them, in their order; what is not there counts as a negative one."""
    if isinstance(kept, list):
        return [number for one in kept for number in numbers(one)]
    return [-1.0 if kept is None else float(kept)] if not isinstance(kept, str) else []


@pytest.mark.parametrize("at_s", MOMENTS_S)
def test_it_is_the_same_lift(recording: Recording, drilled: Description, at_s: float) -> None:
    """State, points, every number that the drill remembers, and what a person's operator has seen meanwhile; then both
    are driven on for as long as makes a difference, by an automatic operator and a person."""
    step, both, looked_on = round(at_s * PER_S), [], []
    for kept in (recording, forgotten(recording)):
        followers = [Partner(drilled, 0), Partner(drilled, 1)]
        attempt = take_over(kept, step, followers=followers)
        before = told(attempt)
        looked_on.append(remembered(followers[1:]))
        attempt.operators = [followers[0], None]
        chance = Random(7)
        for _ in range(8):
            attempt.advance(hands(chance), PER_S)
        both.append((before, told(attempt)))
    assert both[0] == both[1]
    # At the handover the one that drove was asked nothing, and one that looks on from the start saw that moment too.
    assert numbers(looked_on[0]) == pytest.approx(numbers(looked_on[1]), abs=1e-5)


def test_only_what_came_after_is_judged_again(recording: Recording, monkeypatch: pytest.MonkeyPatch) -> None:
    looks, see = [], Session.see

    def counted(session: Session, now, asked, **more) -> bool:  # type: ignore[no-untyped-def]
        looks.append(now.time_s)
        return see(session, now, asked, **more)

    monkeypatch.setattr(Session, "see", counted)
    take_over(recording, round(25.0 * PER_S))
    assert min(looks) > 24.0 and max(looks) <= 25.0
    looks.clear()
    take_over(forgotten(recording), round(25.0 * PER_S))
    assert min(looks) < 1.0


def test_the_automatic_pair_goes_on_as_it_did(drilled: Description, tmp_path: Path) -> None:
    """Hands that drove remember what they were at: the lift is the one that nobody broke off."""
    attempt = pair(drilled)
    with start_recording(attempt, tmp_path, "pair") as recorder:
        attempt.advance(STILL, 45 * PER_S)
    followers: list[Operator | None] = [Partner(drilled, 0), Partner(drilled, 1)]
    again = take_over(read(recorder.path), 40 * PER_S, followers=[one for one in followers if one is not None])
    again.operators = followers
    again.advance(STILL, 5 * PER_S)
    assert again.state_hash == attempt.state_hash
    assert again.session is not None and attempt.session is not None
    assert again.session.result() == attempt.session.result()


def test_what_hands_asked_for_under_a_stop_order_is_remembered(drilled: Description, tmp_path: Path) -> None:
    """Commands say no more than that nothing was given, so a re-run from the start cannot know it."""
    attempt = pair(drilled)
    kept, session = recorded(attempt, tmp_path, hands_off=False), attempt.session
    assert session is not None and any(loss.rule == "moved under a stop order" for loss in session.failed_by)
    again, older = (take_over(one, LENGTH_S * PER_S).session for one in (kept, forgotten(kept)))
    assert again is not None and again.result() == session.result()
    assert older is not None and older.result() != session.result()


def test_a_recorder_changes_nothing_of_the_lift(recording: Recording, drilled: Description) -> None:
    """Though an automatic operator looks on beside the person."""
    attempt = pair(drilled)
    drive(attempt)
    assert attempt.state_hash == recording.seconds[-1].state_hash


def with_memory(kept: Recording, change: Callable[[str], str]) -> Recording:
    seconds = (one._replace(memory=change(one.memory) if one.memory else "") for one in kept.seconds)
    return replace(kept, seconds=tuple(seconds))


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace('"of":"', '"of":"0'),
        lambda text: text[: len(text) // 2],
        lambda _: "[]",
        lambda _: "{}",
        lambda _: "[" * 100_000,
    ],
)
def test_what_is_no_memory_of_this_program_is_passed_over(recording: Recording, change: Callable[[str], str]) -> None:
    step = round(12.4 * PER_S)
    assert told(take_over(with_memory(recording, change), step)) == told(take_over(forgotten(recording), step))


def other_step(text: str) -> str:
    return json.dumps({**json.loads(text), "drill": [10_000, []]})


def no_readings(text: str) -> str:
    return json.dumps({**json.loads(text), "shared": []})


def a_word_for_a_number(text: str) -> str:
    kept = json.loads(text)
    kept["drill"][1][-1] = "long"
    return json.dumps(kept)


@pytest.mark.parametrize("change", [other_step, no_readings, a_word_for_a_number])
def test_memory_that_makes_no_sense_is_said(recording: Recording, change: Callable[[str], str]) -> None:
    with pytest.raises(CannotReplay, match=r"given no memory of this lift .* so it cannot be driven on from there"):
        take_over(with_memory(recording, change), round(12.4 * PER_S))


def test_hands_that_nobody_kept_the_memory_of_look_on_from_the_start(
    recording: Recording, drilled: Description
) -> None:
    step = round(12.4 * PER_S)
    both = [
        told(take_over(kept, step, followers=[operator_of(drilled, 0, "clumsy")]))
        for kept in (recording, forgotten(recording))
    ]
    assert both[0] == both[1]


def test_a_file_that_breaks_off_is_driven_on_from_its_last_whole_second(recording: Recording) -> None:
    data = recording.path.read_bytes()
    for part in (0.95, 0.7, 0.4):
        cut = read_data(data[: int(part * len(data))], recording.path)
        assert 0 < len(cut.whole) < len(recording.whole)
        step = cut.whole_until_step
        assert told(take_over(cut, step)) == told(take_over(forgotten(cut), step))


def test_what_was_driven_on_can_be_driven_on_again(recording: Recording, tmp_path: Path) -> None:
    """Its parent's seconds are in it as they were, and what comes after is remembered in it too."""
    recorders = []

    def begin(attempt: Attempt, before) -> None:  # type: ignore[no-untyped-def]
        recorders.append(start_recording(attempt, tmp_path, "child", before=before))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("simulator.recording.recorder.MEMORY_EVERY_S", EVERY_S)
        attempt = take_over(recording, round(10.5 * PER_S), begin=begin)
        attempt.advance(hands(Random(3)), round(9.5 * PER_S))
        recorders[0].close()
    child = read(recorders[0].path)
    assert [second.end_step // PER_S for second in child.seconds if second.memory] == [3, 6, 9, 12, 15, 18]
    step = 19 * PER_S
    assert told(take_over(child, step)) == told(take_over(forgotten(child), step))

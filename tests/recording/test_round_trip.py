"""What goes into a recording comes out of it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays

from simulator.readings import CHANNELS
from simulator.recording.layout import END, HEAD, SECOND, frame, frames
from simulator.recording.reader import read
from simulator.recording.telemetry import row
from simulator.recording.whole_numbers import pack, places, to_real, to_whole, unpack
from simulator.scenario.reader import parse_text
from tests.recording.conftest import LENGTH_S, LIFTED_S, STOPPED_S, Recorded

pytestmark = pytest.mark.xdist_group("recording")


def test_every_sample_is_within_half_of_the_last_decimal_kept(lift: Recorded) -> None:
    recording = read(lift.path)
    live = {now.step: now for now in lift.seen}
    steps = recording.column("step")
    assert len(steps) == 20 * LENGTH_S + 1
    half = 0.5 * 10.0 ** -np.array([places(channel) for channel in CHANNELS])
    for step, stored in zip(steps, recording.table, strict=True):
        values = np.array(row(live[int(step)])[: len(CHANNELS)])
        assert np.all(np.abs(stored - values) <= half * (1.0 + 1e-9) + 1e-12 * np.abs(values))


def test_commands_are_kept_to_the_last_bit_with_their_steps(lift: Recorded) -> None:
    given_ = [(step, commands) for step, commands in read(lift.path).changes if step or any(map(any, commands))]
    assert given_ == lift.attempt.changes


def test_each_second_ends_with_the_hash_of_its_state(lift: Recorded) -> None:
    recording = read(lift.path)
    assert [second.end_step for second in recording.seconds] == [240 * (i + 1) for i in range(LENGTH_S)]
    assert recording.seconds[-1].state_hash == lift.attempt.state_hash
    assert len({second.state_hash for second in recording.seconds}) == LENGTH_S


def test_head_and_ending(lift: Recorded) -> None:
    recording = read(lift.path)
    assert recording.notes == ()
    assert parse_text(recording.head.scenario, "again") == lift.attempt.description == recording.description
    assert (recording.head.pair, recording.head.stamp) == (("Ada", "Ben"), "2031-04-05 06:07")
    assert recording.head.seed == lift.attempt.description.seed
    assert {"python", "numpy", "pymunk", "slopepick"} <= set(recording.head.versions)
    assert recording.how == "left" and recording.ending is not None and recording.ending.text == "end of the hour"


def test_events_are_those_of_the_lift_and_what_was_noticed(lift: Recorded) -> None:
    events = read(lift.path).events
    assert set(lift.attempt.events) <= set(events)
    stops = [(step / 240, text) for step, kind, text in events if kind == "stop order"]
    assert stops == [(STOPPED_S, "both units hold"), (LIFTED_S, "lifted")]
    assert {kind for _, kind, _ in events} <= {"stop order", "stage", "load", "travel end", "slack"}


def test_the_gaps_of_a_second_are_those_at_its_end(lift: Recorded) -> None:
    recording = read(lift.path)
    live = {now.step: now for now in lift.seen}
    for second in recording.seconds:
        assert [gap.part for gap in second.gaps] == [gap.part for gap in live[second.end_step].gaps]
        for kept, was in zip(second.gaps, live[second.end_step].gaps, strict=True):
            assert kept.gap_m == pytest.approx(was.gap_m, abs=5e-5, nan_ok=True)


def test_frames_stand_in_the_order_that_is_documented(lift: Recorded) -> None:
    assert [one.kind for one in frames(lift.path.read_bytes())] == [HEAD, HEAD, *[SECOND] * LENGTH_S, END]


tables = arrays(np.int64, array_shapes(min_dims=2, max_dims=2, max_side=6), elements=st.integers(-(2**62), 2**62))


@given(tables)
def test_a_table_unpacks_to_itself(table: np.ndarray) -> None:
    assert np.array_equal(unpack(pack(table), *table.shape), table)


@given(st.floats(), st.integers(0, 6))
def test_any_number_comes_back_as_near_as_its_decimals_allow(value: float, decimals: int) -> None:
    places_ = np.array([decimals])
    back = float(to_real(to_whole(np.array([[value]]), places_), places_)[0, 0])
    if abs(value) * 10.0**decimals >= 2.0**60:
        assert back == np.copysign(np.inf, value)
    else:
        near = 0.5 * 10.0**-decimals + 1e-12 * abs(value)
        assert (np.isnan(value) and np.isnan(back)) or abs(back - value) <= near


@given(st.lists(st.tuples(st.sampled_from([HEAD, SECOND, END]), st.binary(max_size=60)), max_size=6), st.binary())
def test_frames_are_found_behind_anything(kept: list[tuple[bytes, bytes]], before: bytes) -> None:
    data = before + b"".join(frame(kind, content) for kind, content in kept)
    assert [(one.kind, one.content) for one in frames(data)][-len(kept) or len(kept) :] == kept

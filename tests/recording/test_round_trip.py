"""What goes into a recording comes out of it."""

import json
from dataclasses import replace
from struct import Struct

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays

from simulator.engine.commands import STILL
from simulator.readings import CHANNELS, PartGap
from simulator.recording.layout import END, HEAD, SECOND, frame, frames
from simulator.recording.lift_file import read
from simulator.recording.seconds import Second, second_content, second_of
from simulator.recording.telemetry import row
from simulator.recording.whole_numbers import NO_NUMBER, SHORT, kept, pack, places, to_real, to_whole, unpack
from simulator.scenario.reader import parse_text
from simulator.scenario.rig import TWO_BY_ONE
from tests.recording.conftest import LENGTH_S, LIFTED_S, STOPPED_S, Recorded


def test_every_sample_is_within_half_of_the_last_decimal_kept(lift: Recorded) -> None:
    recording = read(lift.path)
    live = {now.step: now for now in lift.seen}
    steps = recording.column("step")
    assert len(steps) == 20 * LENGTH_S + 1
    half = 0.5 * 10.0 ** -np.array([places(channel) for channel in CHANNELS])
    for step, stored in zip(steps, recording.table, strict=True):
        values = np.array(row(live[int(step)], TWO_BY_ONE))
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
    assert all(event in events for event in lift.attempt.events)
    stops = [(event.step / 240, event.what, dict(event.fields)) for event in events if event.kind == "stop order"]
    assert stops == [(STOPPED_S, "stop", {"units": 2}), (LIFTED_S, "lifted", {})]
    assert {event.kind for event in events} <= {"stop order", "stage", "load", "travel end", "slack"}


def test_the_gaps_of_a_second_are_those_at_its_end(lift: Recorded) -> None:
    recording = read(lift.path)
    live = {now.step: now for now in lift.seen}
    for second in recording.seconds:
        assert [gap.part for gap in second.gaps] == [gap.part for gap in live[second.end_step].gaps]
        for one, was in zip(second.gaps, live[second.end_step].gaps, strict=True):
            assert one.gap_m == pytest.approx(was.gap_m, abs=5e-5, nan_ok=True)


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


def test_a_second_saved_before_gaps_said_what_can_be_raised_goes_on_opening() -> None:
    gaps = (
        PartGap("box", -1.25, "deck", "cannot raise", 1.55, 0.4, 0.75),
        PartGap("legs", -2.0, "edge", "to raise", 2.3),
    )
    kept = second_of(second_content(Second(0, 240, "00" * 32, ((0, STILL),), np.zeros((1, 1), np.int64), (), gaps)))
    assert kept.gaps == gaps
    content = second_content(Second(0, 240, "00" * 32, ((0, STILL),), np.zeros((1, 1), np.int64), (), gaps))
    numbers = Struct("<QQIIII32s")
    *rest, letters, digest = numbers.unpack_from(content)
    text = json.loads(content[-letters:])
    del text["raising"]
    older = json.dumps(text).encode()
    body = content[numbers.size : -letters]
    old = second_of(numbers.pack(*rest, len(older), digest) + body + older)
    assert [gap[:4] for gap in old.gaps] == [gap[:4] for gap in gaps]
    assert {gap[4:] for gap in old.gaps} == {PartGap("", 0.0, "", "")[4:]}


def test_a_recording_with_fewer_channels_has_no_numbers_for_the_new_ones(lift: Recorded) -> None:
    """As one made before height to raise was a channel: its columns are named in its head."""
    recording = read(lift.path)
    new = {"to_raise_m", "raise_short_m", "slope_room_m"}
    kept = [i for i, name in enumerate(recording.head.channels) if name not in new]
    assert len(recording.head.channels) - len(kept) == len(new)
    head = replace(
        recording.head,
        channels=tuple(recording.head.channels[i] for i in kept),
        decimals=tuple(recording.head.decimals[i] for i in kept),
    )
    seconds = tuple(second._replace(samples=second.samples[:, kept]) for second in recording.seconds)
    older = replace(recording, head=head, seconds=seconds)
    assert all(np.isnan(older.column(name)).all() for name in new)
    assert not any(np.isnan(recording.column(name)).any() for name in new)
    now, then = recording.at(2.0), older.at(2.0)
    assert now == then and now.to_raise_m > 0.0


def test_numbers_are_kept_in_half_the_room_where_they_fit() -> None:
    most = SHORT
    fits = np.array([[most, -most], [0, 1]], np.int64)
    for table in (fits, np.add(fits, [[1, 0], [0, 0]]), fits * [[0, NO_NUMBER], [0, 0]]):
        short = kept(table)
        assert np.array_equal(short, table)
        assert short.dtype == (np.int32 if table is fits else np.int64)
        assert pack(short) == pack(table)
        decimals = np.array([2, 0])
        assert np.array_equal(to_real(short, decimals), to_real(table, decimals), equal_nan=True)

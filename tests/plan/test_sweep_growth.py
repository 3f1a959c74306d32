"""Ten million set-ups take no more memory than some thousands: what is drawn is judged, counted and forgotten."""

import tracemalloc

import numpy as np
import pytest

from simulator.plan import sweep as room
from simulator.plan.batch import CODES, Batch, Unknowns
from simulator.plan.sweep import SQUARE, Ranges, combinations, sweep
from tests.plan.variants import shipped

WIDE = Ranges((10e3, 45e3), (-3.0, 3.0), (0.0, 30.0), (6.0, 25.0))


@pytest.fixture
def rows_drawn(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many rows each chunk had that was drawn so far; judging is left out, it is the same for each."""
    drawn: list[int] = []
    chunks_of = room._chunks

    def noted(blocks):  # type: ignore[no-untyped-def]
        for chunk in chunks_of(blocks):
            drawn.append(len(chunk.mass_kg))
            yield chunk

    def unused(_: Batch, chunk: Unknowns) -> np.ndarray:  # type: ignore[type-arg]
        return np.zeros((len(chunk.mass_kg), len(CODES)))

    monkeypatch.setattr(room, "_chunks", noted)
    monkeypatch.setattr(room, "judge_many", unused)
    return drawn


def test_memory_does_not_grow_with_the_count(rows_drawn: list[int]) -> None:
    most_bytes = []
    for count in (2 * SQUARE, 20 * SQUARE):
        rows_drawn.clear()
        tracemalloc.start()
        found = list(sweep(shipped(), WIDE, count=count, jobs=1))[-1]
        most_bytes.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
        assert found.done == found.asked == found.held == sum(rows_drawn) == count
    # All rows at once would be ten times as much; a value for each chunk is kept by this test itself.
    assert most_bytes[1] < 2.0 * most_bytes[0]


def test_only_a_few_chunks_are_drawn_ahead_of_what_is_judged(rows_drawn: list[int]) -> None:
    for found in sweep(shipped(), WIDE, count=10**7, jobs=2):
        assert sum(rows_drawn) - found.done <= 2 * room.AHEAD * room.CHUNK
        if found.done >= 20 * room.CHUNK:
            break
    assert sum(rows_drawn) < 40 * room.CHUNK


def test_several_squares_are_each_evenly_spread(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "SQUARE", 400)
    rows = np.array(combinations(shipped(), WIDE, 16 + 1000, seed=3))
    assert rows.shape == (4, 1016)
    for first, last in ((16, 416), (416, 816), (816, 1016)):
        size = last - first
        for values, span in zip(rows[:, first:last], WIDE[:4], strict=True):
            assert span is not None
            low, high = span
            share = np.sort((values - low) / (high - low))
            assert np.abs(share - (np.arange(size) + 0.5) / size).max() <= 0.5 / size + 1e-12
    chunks = list(room._chunks(room._blocks(list(WIDE[:4]), 1016, 3)))  # type: ignore[arg-type]
    assert [len(chunk.mass_kg) for chunk in chunks] == [room.CHUNK, room.CHUNK, 16]
    assert (np.concatenate([np.array(chunk) for chunk in chunks], axis=1) == rows).all()

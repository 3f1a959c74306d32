"""The content of a second's frame, as `layout` describes it: written, and read with every number looked at."""

from __future__ import annotations

from itertools import accumulate, pairwise
from math import inf, isfinite, nan
from struct import Struct
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.engine.commands import Commands
from simulator.engine.state import State, state_from, state_hash
from simulator.events import Event
from simulator.files.bounds import CHANNELS, EVENTS, GAPS, LARGEST_READING, SAMPLES
from simulator.readings import PartGap
from simulator.recording.layout import LAYOUT, Malformed, as_json, from_json
from simulator.recording.stored_events import event_of, word
from simulator.recording.whole_numbers import BYTES, Kept, from_planes, kept, pack, planes, unpack
from simulator.scenario.rig import TWO_BY_ONE, Rig

_HEAD = Struct("<QQIIII32s")

STATES_OF_RIGS = 2
"""From this layout on a state holds booms and lines, and can be gone on from."""

Change = tuple[int, Commands]
"""From this step on, these commands."""


class Second(NamedTuple):
    """One second of a lift."""

    begin_step: int
    end_step: int
    state_hash: str
    changes: tuple[Change, ...]
    """The first is what held at the first step."""
    samples: Kept
    """One row a sample, one column a channel, as whole numbers of the last decimal kept."""
    events: tuple[Event, ...] = ()
    gaps: tuple[PartGap, ...] = ()
    state: State | None = None
    """The engine's state at its last step, where it was kept; the one of `state_hash`."""
    memory: str = ""
    """What drill and automatic operators remembered then, where it was kept; `kept_memory` reads it."""


def second_content(second: Second) -> bytes:
    """A second as a frame's content."""
    gaps, raising = [_plain(gap) for gap in second.gaps], [_raising(gap) for gap in second.gaps]
    state = {} if second.state is None else {"state": second.state}
    memory = {"memory": second.memory} if second.memory else {}
    text = from_json({"events": second.events, "gaps": gaps, "raising": raising, **state, **memory})
    rows, channels = second.samples.shape
    numbers = second.begin_step, second.end_step, len(second.changes), rows, channels, len(text)
    head = _HEAD.pack(*numbers, bytes.fromhex(second.state_hash))
    return head + _pack_changes(second.changes) + pack(second.samples) + text


def _plain(gap: PartGap) -> list[Any]:
    known = gap.gap_m == gap.gap_m and abs(gap.gap_m) != float("inf")
    return [gap.part, round(gap.gap_m, 4) if known else None, gap.meets, gap.state]


def _raising(gap: PartGap) -> list[float | None]:
    return [round(value, 4) if isfinite(value) else None for value in gap[4:]]


def second_of(content: bytes, rig: Rig = TWO_BY_ONE, *, layout: int = LAYOUT) -> Second:
    """The other way, every number looked at: a CRC says that bytes are as written, not that they make sense.

    Args:
        content: of its frame.
        rig: the one of the recording's head: a row of commands has a column a lever.
        layout: of the recording; in layout 1 events were sentences, and states those of another engine.

    Raises:
        Malformed: with what is wrong.
    """
    if len(content) < _HEAD.size:
        raise Malformed("a second without its head")
    begin, end, rows, samples, channels, letters, digest = _HEAD.unpack_from(content)
    at = _HEAD.size
    commands_end = at + rows * (1 + len(rig.levers)) * BYTES
    samples_end = commands_end + samples * channels * BYTES
    if samples_end + letters != len(content) or not rows or not 1 <= channels <= CHANNELS:
        raise Malformed("a second of another size than it says")
    if not begin < end or samples > SAMPLES:
        raise Malformed("a second that ends before it begins, or with more samples than it can have")
    changes = _unpack_changes(content[at:commands_end], rig, begin, end)
    table = unpack(content[commands_end:samples_end], samples, channels)
    text = as_json(content[samples_end:])
    events, gaps = _texts(text, end)
    state = _state(text, digest.hex(), rig) if layout >= STATES_OF_RIGS else None
    memory = str(text.get("memory", "")) if layout >= STATES_OF_RIGS else ""
    return Second(begin, end, digest.hex(), changes, kept(table), events, gaps, state, memory)


def _pack_changes(changes: tuple[Change, ...]) -> bytes:
    steps = np.array([step for step, _ in changes], np.uint64)
    hands = np.array([[pulled for hand in commands for pulled in hand] for _, commands in changes], np.float64)
    columns = np.vstack([steps, np.ascontiguousarray(hands.T).view(np.uint64)])
    columns[:, 1:] ^= columns[:, :-1].copy()
    return planes(columns.ravel())


def _unpack_changes(data: bytes, rig: Rig, begin: int, end: int) -> tuple[Change, ...]:
    numbers = from_planes(data).reshape(1 + len(rig.levers), -1)
    columns: NDArray[np.uint64] = np.bitwise_xor.accumulate(numbers, axis=1)
    steps = columns[0]
    hands = np.ascontiguousarray(columns[1:]).view(np.float64).T
    in_order = steps[0] == begin and steps[-1] < end and bool(np.all(steps[1:] >= steps[:-1]))
    if not in_order or not bool(np.all(np.abs(hands) <= 1.0)):
        raise Malformed("commands out of order or out of -1 to 1")
    ends = list(accumulate(len(unit.levers) for unit in rig.units))
    spans = list(pairwise((0, *ends)))
    given = [Commands(*(tuple(row[first:last]) for first, last in spans)) for row in hands.tolist()]
    return tuple(zip(steps.tolist(), given, strict=True))


def _state(text: dict[str, Any], digest: str, rig: Rig) -> State | None:
    """The state that was kept, if it is one of that rig and of that hash."""
    if "state" not in text:
        return None
    try:
        state = state_from(text["state"])
    except ValueError:
        return None
    fits = len(state.booms) == len(rig.units) and len(state.lines) == len(rig.lines)
    return state if fits and state_hash(state) == digest else None


def _texts(value: dict[str, Any], end: int) -> tuple[tuple[Event, ...], tuple[PartGap, ...]]:
    try:
        events = tuple(event_of(row) for row in value.get("events", ()))
        rows = [(word(part), gap, word(meets), word(state)) for part, gap, meets, state in value.get("gaps", ())]
        more = [(float(a), float(b), inf if c is None else float(c)) for a, b, c in value.get("raising", ())]
        gaps = tuple(
            PartGap(part, nan if gap is None else float(gap), meets, state, *(more[i] if i < len(more) else ()))
            for i, (part, gap, meets, state) in enumerate(rows)
        )
    except (AttributeError, TypeError, ValueError, OverflowError) as error:
        raise Malformed("events or gaps that are none") from error
    if not all(0 <= event.step <= end for event in events) or len(events) > EVENTS or len(gaps) > GAPS:
        raise Malformed("events after their second, or more of them or of gaps than a second can have")
    if any(abs(number) > LARGEST_READING for gap in gaps for number in (gap.gap_m, *gap[4:]) if isfinite(number)):
        raise Malformed("gaps that are none")
    return events, gaps

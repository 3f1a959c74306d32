"""Recordings for tests: made up of closed forms of time, or driven by hands that are written down.

Of either kind it is known what a debrief must find.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from simulator.attempt import Attempt
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.events import Event
from simulator.places import find_scenario
from simulator.readings import CHANNELS
from simulator.recording.head import Ending, Head
from simulator.recording.memory import Memory
from simulator.recording.older_events import happening_of
from simulator.recording.recorded import Recording
from simulator.recording.seconds import Second
from simulator.recording.whole_numbers import places, to_whole
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.toml_writer import dump

PER_S, RATE = 240, 20
DECIMALS = np.array([places(channel) for channel in CHANNELS])
Times = NDArray[np.float64]
Course = float | Callable[[Times], Times]

CALM: dict[str, Course] = {
    f"{end}.{name}": value
    for end in ("nose", "tail")
    for name, value in {
        "line_load_N": 120e3,
        "hook_load_N": 115e3,
        "capacity_used": 0.4,
        "least_float_share": 0.9,
        "ground_used": 0.3,
        "head_room_m": 6.0,
        "rope_left_m": 30.0,
        "line_length_m": 10.0,
        "sheave_to_hook_m": 10.0,
        "boom_length_m": 9.0,
        "elevation_rad": 0.8,
        "tip_z_m": 9.0,
        "hook_z_m": -1.0,
        "load_radius_m": 6.0,
    }.items()
} | {"load.lane_room_m": 5.0, "load.z_m": -3.0}
"""A lift in which nothing is wrong: the load hangs, nothing moves."""


@cache
def tank() -> Description:
    """A shipped lift, for its limits and booms."""
    return load(find_scenario("tank_on_side"))


NAMES = tuple(channel.name for channel in CHANNELS)
"""Of a lift by two units with one line each."""


def asked(*, nose: UnitCommands | None = None, tail: UnitCommands | None = None) -> Commands:
    """What both ask for."""
    return Commands(nose or UnitCommands(), tail or UnitCommands())


def driven(description: Description, hands: Sequence[tuple[float, Commands]], *, length_s: float) -> Recording:
    """A lift that the engine makes of hands: from when on what is asked."""
    attempt = Attempt(description, in_bulk=True)
    memory = Memory(attempt)
    for (begin_s, commands), (end_s, _) in pairwise([*hands, (length_s, STILL)]):
        attempt.advance(commands, round((end_s - begin_s) * description.engine.steps_per_s))
    return memory.recording()


def made_up(
    courses: Mapping[str, Course],
    *,
    length_s: int = 40,
    description: Description | None = None,
    events: tuple[Event, ...] = (),
    pair: tuple[str, ...] = (),
    how: str = "left",
    notes: tuple[str, ...] = (),
    hands: tuple[tuple[float, Commands], ...] = (),
) -> Recording:
    """A recording whose channels go as `courses` say, else as in `CALM`; `hands`: from when on what is asked."""
    lift = description or tank()
    channels = tuple((one.name, places(one)) for one in CHANNELS)
    head = Head(
        lift.title, dump(lift), 1, "2031-04-05", {}, pair, None, PER_S, 0, tuple(n for n, _ in channels),
        tuple(d for _, d in channels),
    )  # fmt: skip
    seconds = [_second(second, {**CALM, **courses}, events, hands) for second in range(length_s)]
    ending = Ending(how, step=length_s * PER_S)
    return Recording(Path("made-up.lift"), head, lift, tuple(seconds), ending, notes)


def _second(
    number: int,
    courses: Mapping[str, Course],
    events: tuple[Event, ...],
    hands: tuple[tuple[float, Commands], ...],
) -> Second:
    begin = number * PER_S
    steps = np.arange(begin + (PER_S // RATE if number else 0), begin + PER_S + 1, PER_S // RATE)
    time_s = steps / PER_S
    table = np.zeros((len(steps), len(NAMES)))
    table[:, NAMES.index("step")], table[:, NAMES.index("time_s")] = steps, time_s
    for name, course in courses.items():
        table[:, NAMES.index(name)] = course(time_s) if callable(course) else course
    inside = tuple(event for event in events if begin < event.step <= begin + PER_S)
    held = next((asked for from_s, asked in reversed(hands) if from_s <= number), STILL)
    inner = [(round(from_s * PER_S), asked) for from_s, asked in hands if number < from_s < number + 1]
    return Second(begin, begin + PER_S, "00" * 32, ((begin, held), *inner), to_whole(table, DECIMALS), inside)


def noted(step: int, kind: str, sentence: str) -> Event:
    """An event by the sentence that recordings of layout 1 kept of it."""
    return Event(step, *happening_of(kind, sentence))


def hoisted(end: str, line_m: Callable[[Times], Times], description: Description | None = None) -> dict[str, Course]:
    """A line that the winch alone makes `line_m` long: in n parts, n times as much rope is paid out."""
    units = (description or tank()).units
    parts = units[("nose", "tail").index(end)].hoist.parts
    return {f"{end}.line_length_m": line_m, f"{end}.rope_out_m": lambda time_s: 20.0 + parts * line_m(time_s)}


def ramp(begin_s: float, rate: float, start: float = 0.0) -> Callable[[Times], Times]:
    """Still until `begin_s`, then so much a second."""
    return lambda time_s: start + rate * np.maximum(0.0, time_s - begin_s)

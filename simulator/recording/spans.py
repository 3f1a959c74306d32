"""A re-run with nobody looking on, over all cores: in spans that begin at states which the recording keeps.

A span begins at a state whose hash is the one of the second before it. The span before comes to that same hash by its
own re-run, or the comparison ends there: so the spans together say no less than one re-run from time zero.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from os import cpu_count
from typing import NamedTuple

import numpy as np

from simulator.engine.state import State
from simulator.recording.again import BareLift, DriveAgain
from simulator.recording.seconds import Second
from simulator.scenario.description import Description
from simulator.scenario.drill import Drill
from simulator.world import World

Progress = Callable[[float], object]
"""Told which part, 0 to 1, is done."""
FEWEST_SECONDS = 30
"""A span of fewer is not worth beginning."""
_NO_SAMPLES = np.zeros((0, 1), np.int64)


class RerunSpan(NamedTuple):
    """Seconds that follow one another, and the state before the first; none at time zero."""

    state: State | None
    seconds: tuple[Second, ...]


def spans(seconds: Sequence[Second], drill: Drill | None = None) -> list[RerunSpan]:
    """Cut where a state is kept. What changes the lift itself, an instructor's hand or a gust of the drill's, goes with
    what was before it."""
    gusts = drill is not None and any(step.gust_mps for step in drill.steps)
    if gusts or any(event.kind == "instructor" for second in seconds for event in second.events):
        return [RerunSpan(None, tuple(seconds))]
    found: list[RerunSpan] = []
    first, state = 0, None
    for number, second in enumerate(seconds, 1):
        is_last = number == len(seconds)
        if is_last or (second.state is not None and number - first >= FEWEST_SECONDS):
            found.append(RerunSpan(state, tuple(seconds[first:number])))
            first, state = number, second.state
    return found


def same_seconds(
    description: Description,
    seconds: Sequence[Second],
    *,
    name: str,
    jobs: int | None = None,
    progress: Progress | None = None,
) -> int:
    """How many seconds, from the first on, come out with the very state whose hash was recorded.

    Args:
        description: of the lift.
        seconds: from time zero on, none missing.
        name: of the recording.
        jobs: processes; as many as there are cores when none is given. The result does not depend on it.
        progress: told how far it is.

    Raises:
        CannotReplay: something in it cannot be done again.
    """
    jobs, cut = jobs or cpu_count() or 1, spans(seconds, description.drill)
    is_short = jobs == 1 or len(cut) < 2 * jobs
    same = 0
    for count, of in _alone(description, seconds, name) if is_short else _shared(description, cut, name, jobs):
        same += count
        if progress:
            progress(same / len(seconds))
        if count < of:
            break
    return same


def _alone(description: Description, seconds: Sequence[Second], name: str) -> Iterator[tuple[int, int]]:
    """Second after second: how many of how many were the same."""
    for is_same in _compared(World(description, in_bulk=True), seconds, name):
        yield int(is_same), 1


def _shared(description: Description, cut: list[RerunSpan], name: str, jobs: int) -> Iterator[tuple[int, int]]:
    """Span after span, several at once."""
    bare = [
        RerunSpan(span.state, tuple(one._replace(samples=_NO_SAMPLES, gaps=()) for one in span.seconds)) for span in cut
    ]
    with ProcessPoolExecutor(jobs, initializer=_begin, initargs=(description, name)) as pool:
        try:
            for count, span in zip(pool.map(_same_in, bare), cut, strict=True):
                yield count, len(span.seconds)
        except (KeyboardInterrupt, GeneratorExit):
            pool.shutdown(cancel_futures=True)
            raise


_WORLD: list[tuple[World, str]] = []


def _begin(description: Description, name: str) -> None:
    """In each process: one world for all its spans, and leave stopping to the one who asked."""
    from signal import SIG_IGN, SIGINT, signal

    signal(SIGINT, SIG_IGN)
    _WORLD[:] = [(World(description, in_bulk=True), name)]


def _same_in(span: RerunSpan) -> int:
    world, name = _WORLD[0]
    if span.state is None:
        world.simulation.reset()
    else:
        world.simulation.restore(span.state)
    return sum(_compared(world, span.seconds, name))


def _compared(world: World, seconds: Sequence[Second], name: str) -> Iterator[bool]:
    """Re-run from where the world stands; whether each second's state is the same, up to the first that is not."""
    drive = DriveAgain(seconds, BareLift(world), name)
    for second in seconds:
        drive.through(second)
        is_same = world.simulation.state_hash == second.state_hash
        yield is_same
        if not is_same:
            return

"""Shipped lifts driven whole by the automatic operators: once a test run, kept on disk for whatever process asks."""

from __future__ import annotations

import pickle
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from filelock import FileLock

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import Commands
from simulator.engine.incidents import Incident
from simulator.engine.state import State, state_hash
from simulator.readings import Readings
from simulator.recording.headless import run_operators, track_of
from simulator.recording.track import CommandChange
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.draws import drawn

KEPT_PER_S, SEEN_PER_S, GAPS_PER_S = 10, 20, 2
PIECE_S, PIECES_PER_MIN = 0.1, drawn(12, 600)
"""Of every lift so many pieces can be driven again by themselves; 600 are the whole of it."""


class Piece(NamedTuple):
    """Some steps of a lift: where they begin, what is asked in them, the hash they come to."""

    at: State
    hands: tuple[tuple[Commands, int], ...]
    comes_to: str


class Pieces:
    """A watcher that keeps pieces of the lift it looks at, but for those in which it is changed, as by a gust."""

    def __init__(self, attempt: Attempt) -> None:
        per_s = attempt.description.engine.steps_per_s
        self._attempt = attempt
        self._length, self._apart = round(PIECE_S * per_s), round(60.0 / PIECES_PER_MIN * per_s)
        self._at: dict[int, State] = {}
        attempt.watchers.append((self, self._length))
        self(attempt.readings)

    def __call__(self, now: Readings) -> None:
        as_described = self._attempt.simulation.description == self._attempt.description  # no gust is on
        if as_described and now.step % self._apart in (0, self._length % self._apart):
            self._at[now.step] = self._attempt.simulation.state

    def all(self) -> Iterator[Piece]:
        """Those that came to their end."""
        per_s, track = self._attempt.description.engine.steps_per_s, track_of(self._attempt)
        rows = [(round(row.time_s * per_s), row.commands) for row in track]
        for step, state in self._at.items():
            until = step + self._length
            if step % self._apart == 0 and until in self._at:
                yield Piece(state, tuple(_between(rows, step, until)), state_hash(self._at[until]))


def _between(rows: list[tuple[int, Commands]], first: int, last: int) -> Iterator[tuple[Commands, int]]:
    """What is asked from one step to another, and for how many steps."""
    for (begin, commands), (end, _) in pairwise(rows):
        if begin < last and end > first:
            yield commands, min(end, last) - max(begin, first)


class Seen:
    """The worst of readings, twenty a second."""

    def __init__(self) -> None:
        self.worst_off_plumb_rad = 0.0
        self.least_float_share = 1.0
        self.least_head_room_m = 1e9

    def __call__(self, now: Readings) -> None:
        for unit in now.units:
            if not unit.slack:
                self.worst_off_plumb_rad = max(self.worst_off_plumb_rad, unit.off_plumb_rad)
            self.least_float_share = min(self.least_float_share, unit.least_float_share)
            self.least_head_room_m = min(self.least_head_room_m, unit.head_room_m)


class Demonstration(NamedTuple):
    """What is kept of a shipped lift."""

    description: Description
    track: list[CommandChange]
    readings: list[Readings]
    """Ten a second, two of them with gaps, and the last."""
    seen: Seen
    pieces: list[Piece]
    incidents: list[Incident]
    state_hash: str

    @property
    def landed(self) -> Readings:
        """At the end."""
        return self.readings[-1]

    @property
    def changes(self) -> dict[int, Commands]:
        """What is asked, by the step from which it holds."""
        per_s = self.description.engine.steps_per_s
        return {round(row.time_s * per_s): row.commands for row in self.track[:-1]}


def demonstrate(path: Path) -> Demonstration:
    """Drive a scenario file to its end."""
    described = load(path)
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    seen, kept, pieces = Seen(), [attempt.readings], Pieces(attempt)
    per_s = described.engine.steps_per_s

    def keep(now: Readings) -> None:
        kept.append(now if now.step % (per_s // GAPS_PER_S) == 0 else now._replace(gaps=()))

    attempt.watchers += [(seen, per_s // SEEN_PER_S), (keep, per_s // KEPT_PER_S)]
    run_operators(attempt, longest_s=900.0)
    if kept[-1] is not attempt.readings:
        kept.append(attempt.readings)
    return Demonstration(
        described, track_of(attempt), kept, seen, list(pieces.all()), attempt.incidents, attempt.state_hash
    )


class Demonstrations:
    """By scenario file; whoever asks first drives it, and others wait for the file."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    @lru_cache  # noqa: B019 - there is one in a process
    def __call__(self, path: Path) -> Demonstration:
        """What is kept of one."""
        kept = self._folder / f"{path.stem}.pickle"
        with FileLock(kept.with_suffix(".lock")):
            if not kept.exists():
                made = pickle.dumps(demonstrate(path))
                kept.write_bytes(made)
            return pickle.loads(kept.read_bytes())  # type: ignore[no-any-return]

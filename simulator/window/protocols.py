"""What the window is told by those who may judge: a debrief of a recording, and a set-up checked before driving."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple, Protocol

from simulator.mechanics.weighing import Errors, Reading
from simulator.recording.recorded import Recording
from simulator.scenario.description import Description
from simulator.window.kit.measures_shown import System


class ToldFinding(Protocol):
    """Something that went wrong in a lift."""

    @property
    def time_s(self) -> float:
        """When it began."""
        ...

    @property
    def level(self) -> str:
        """caution, stop, incident"""
        ...

    @property
    def who(self) -> str:
        """The unit, or the load."""
        ...

    @property
    def what(self) -> str:
        """What happened."""
        ...

    @property
    def why(self) -> str:
        """What led to it."""
        ...

    @property
    def key(self) -> str:
        """The channel it is about; none for an incident."""
        ...

    @property
    def cause(self) -> str:
        """What kind of fault is told first, such as `went on alone`; empty for none."""
        ...


Tell = Callable[[Recording, System], Sequence[ToldFinding]]
"""Finds what went wrong in a recording."""


class Verdict(NamedTuple):
    """What a check of a set-up came to."""

    is_within_limits: bool
    """No stated limit is passed, and nothing that is needed is missing."""
    lines: tuple[tuple[str, str], ...]
    """Level (good, caution, stop) and a sentence each, the worst first; then notes."""
    declined: str = ""
    """Why the lift is not driven at all; empty where it may be tried."""


Check = Callable[[Description, System], tuple[bool, tuple[tuple[str, str], ...], str]]
"""Judges a set-up before anyone drives; its answer is what a `Verdict` is made of."""


class ToldRecheck(NamedTuple):
    """What a load that was weighed means for the rest of the path."""

    do: str
    """go on, look first, move the picks, set down and think"""
    words: str
    """The same as it is said."""
    lines: tuple[tuple[str, str], ...]
    """Level (good, caution, stop, note) and a sentence each."""


Recheck = Callable[[Description, Reading, Errors, System], tuple[str, str, tuple[tuple[str, str], ...]]]
"""Judges the rest of the path with what was read; its answer is what a `Rechecked` is made of."""


def nothing_told(recording: Recording, system: System) -> Sequence[ToldFinding]:
    """Nobody was asked."""
    return ()

"""What a drill's account took points for, in numbers."""

from __future__ import annotations

from typing import NamedTuple

from simulator.events import Happening
from simulator.recording.recorded import Recording


class Lost(NamedTuple):
    """What one rule took of one seat."""

    points: float
    who: str
    """A unit's name, or both."""
    rule: str
    reading: str
    """In words, such as `nose hook load`."""
    first_s: float
    fails: bool
    told: Happening
    """As the recording keeps it."""


def lost_in(recording: Recording) -> list[Lost]:
    """What a drill's account took points for, by the time it first did."""
    account = recording.ending.account if recording.ending else ()
    return sorted((_lost(one) for one in account if one.what == "lost"), key=lambda one: one.first_s)


def _lost(one: Happening) -> Lost:
    fields = one.fields
    return Lost(
        float(fields["points"]),
        str(fields["who"]),
        str(fields["rule"]),
        str(fields.get("reading", "")),
        float(fields["first_s"]),
        bool(fields["fails"]),
        one,
    )

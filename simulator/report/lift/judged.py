"""Where in a recording a reading was past a limit: spells of caution and stop, from stored samples alone."""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.recording.counted import counted
from simulator.recording.recorded import Recording
from simulator.recording.whole_numbers import Real
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import Judged, judged_rows

Yes = NDArray[np.bool_]
MERGE_S = 3.0
"""Spells of one reading with less than this between them are one spell."""
SHORTEST_S = 0.3
BACK_SHARE = 0.05
"""A spell is over when the reading is back by so much of its limit: one that hovers at the limit is one spell."""
GRAZE_S, GRAZE_SHARE = 1.0, 0.01
"""What was past its limit for less than this, and by less than this share of it, only grazed it."""


class Spell(NamedTuple):
    """A time during which a reading was past a limit."""

    judged: Judged
    level: Literal["caution", "stop"]
    begin_s: float
    """When it passed the limit of its level."""
    past_s: float
    """For how long in all, up to the end of the spell."""
    worst: float
    worst_s: float

    @property
    def limit(self) -> float:
        """The limit that was passed."""
        return self.judged.stop if self.level == "stop" else self.judged.caution


def judged_values(recording: Recording, row: Judged) -> Real:
    """The reading as it is judged, a value a sample in SI; not a number while it is not.

    A slack line has no angle; on the bed the trailer lies as the bed lies, so pitch and sway count once it hangs.
    """
    return recording.once(f"counted {row.key}", lambda: counted(recording, row.key))


def spells(recording: Recording, limits: Limits) -> list[Spell]:
    """All spells past a limit, by the time they began."""
    time_s = recording.time_s
    found: list[Spell] = []
    for row in judged_rows(limits, recording.rig.unit_names):
        values = judged_values(recording, row)
        not_back = _past(values, row.caution * (1.0 + (-BACK_SHARE if row.rising else BACK_SHARE)), row)
        for first, last in _runs(_past(values, row.caution, row), not_back, time_s):
            found.append(_spell(row, values, time_s, first, last))
    found = [one for one in found if not _grazed(one)]
    return sorted(found, key=lambda spell: spell.begin_s)


def _past(values: Real, limit: float, row: Judged) -> Yes:
    with np.errstate(invalid="ignore"):
        return np.asarray(values >= limit if row.rising else values < limit)


def _grazed(spell: Spell) -> bool:
    row = spell.judged
    return spell.past_s < GRAZE_S and abs(spell.worst - row.caution) <= GRAZE_SHARE * abs(row.caution)


def _runs(past: Yes, not_back: Yes, time_s: Real) -> list[tuple[int, int]]:
    """First and last sample of each run, short breaks and those in which it was not back closed, short runs dropped."""
    at = np.flatnonzero(past)
    if not len(at):
        return []
    times_back = np.cumsum(~not_back)[at]
    breaks = np.flatnonzero((np.diff(time_s[at]) > MERGE_S) & (np.diff(times_back) > 0))
    firsts, lasts = at[np.r_[0, breaks + 1]], at[np.r_[breaks, len(at) - 1]]
    runs = zip(firsts.tolist(), lasts.tolist(), strict=True)
    return [(first, last) for first, last in runs if time_s[last] - time_s[first] >= SHORTEST_S]


def _spell(row: Judged, values: Real, time_s: Real, first: int, last: int) -> Spell:
    part = values[first : last + 1]
    worst = first + int(np.nanargmax(part) if row.rising else np.nanargmin(part))
    stops = _past(part, row.stop, row)
    past = stops if stops.any() else _past(part, row.caution, row)
    level: Literal["caution", "stop"] = "stop" if stops.any() else "caution"
    begin_s = float(time_s[first + int(np.argmax(past))])
    past_s = float(past.mean() * (time_s[last] - time_s[first]))
    return Spell(row, level, begin_s, past_s, float(values[worst]), float(time_s[worst]))

"""When a reading began to get worse: from then on it is asked what hands did."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

import numpy as np

from simulator.recording.counted import HANGS_N
from simulator.recording.recorded import Recording
from simulator.recording.whole_numbers import Real, Whole
from simulator.report.lift.judged import Spell, Yes, judged_values
from simulator.scenario.judged_limits import Judged

OFF_PLUMB, PITCH, SWAY, YAW = "off plumb", "pitch of the load", "sway", "yaw of the load"
UNDER_LOAD = ("capacity used", "lightest float", "ground bearing used")
"""What comes of line load and load radius."""
LONGEST_ONSET_S = 45.0
"""No cause is looked for further back than this."""
CALM_SHARE = 0.4
"""A rising reading is calm under this share of its caution limit, a falling one over `CALM_FACTOR` times it."""
CALM_FACTOR = 1.3
STEADY_SHARE = 0.1
"""A reading that was never calm held steady while it was within this share of the way from its best to its limit."""


def cause_s(recording: Recording, spell: Spell) -> float:
    """From when on to look for what hands did.

    A mean over a sway period comes after what it is the mean of, so it is looked for a period before; a pitch that was
    there when the load came free, from when it last lay with both lines slack.
    """
    row, onset_s, since_s = spell.judged, _onset_s(recording, spell), judged_since_s(recording, spell)
    earliest_s = max(0.0, spell.begin_s - LONGEST_ONSET_S)
    if row.label == PITCH and since_s > 0.0 and onset_s <= since_s:
        lay = last_before(recording, "both slack", lambda: _both_slack(recording), since_s)
        return max(earliest_s, float(recording.time_s[lay]) if lay >= 0 else 0.0)
    if row.label in (OFF_PLUMB, SWAY):
        period_s = recording.at(spell.begin_s).load.sway_period_s
        lag_s = period_s if isfinite(period_s) else 0.0
        return max(min(onset_s, since_s), onset_s - lag_s, earliest_s)
    return onset_s


def judged_since_s(recording: Recording, spell: Spell) -> float:
    """First moment from which the reading has been judged without a break until its spell; 0 from the start."""
    row = spell.judged
    gone = last_before(
        recording, f"{row.key} not judged", lambda: np.isnan(judged_values(recording, row)), spell.begin_s
    )
    return _after_s(recording, gone)


def last_before(recording: Recording, what: str, holds: Callable[[], Yes], time_s: float) -> int:
    """The last sample before a time at which something held; -1 if it never did.

    Found for all samples at once when it is first asked for, so that many questions of a long lift stay cheap.

    Args:
        recording: the lift.
        what: a name of its own for what held.
        holds: for each sample whether it did.
        time_s: samples from then on are not looked at.
    """
    place = int(np.searchsorted(recording.time_s, time_s)) - 1
    return int(recording.once(f"last {what}", lambda: _last_so_far(holds()))[place]) if place >= 0 else -1


def _last_so_far(yes: Yes) -> Whole:
    return np.maximum.accumulate(np.where(yes, np.arange(len(yes)), -1))


def _both_slack(recording: Recording) -> Yes:
    slacks = [recording.column(f"{name}.slack") for name in recording.rig.line_names]
    return np.asarray(np.minimum.reduce(slacks) == 1.0)


def _hung_since_s(recording: Recording, spell: Spell) -> float:
    """First moment from which the load has hung without a break until a spell; 0 if it did not hang then."""
    ground_N = recording.column("load.ground_N")
    if ground_N[int(np.searchsorted(recording.time_s, spell.begin_s))] >= HANGS_N:
        return 0.0
    return _after_s(recording, last_before(recording, "lies", lambda: ground_N >= HANGS_N, spell.begin_s))


def _after_s(recording: Recording, last: int) -> float:
    """Time of the sample after the last one; 0 where there is none."""
    return float(recording.time_s[last + 1]) if last >= 0 else 0.0


def _onset_s(recording: Recording, spell: Spell) -> float:
    """When it began to get worse: since it was last calm or not judged; if it held steady after that, since then.

    What a unit carries grows while its line takes the load, which is no fault: it is looked at from when the load hung.
    """
    row, time_s = spell.judged, recording.time_s
    values = judged_values(recording, row)
    until = int(np.searchsorted(time_s, spell.begin_s))
    rest = last_before(recording, f"{row.key} at rest", lambda: _calm(values, row) | np.isnan(values), spell.begin_s)
    earliest_s = spell.begin_s - LONGEST_ONSET_S
    if row.label in UNDER_LOAD:
        earliest_s = max(earliest_s, _hung_since_s(recording, spell))
    first = max(rest, 0, int(np.searchsorted(time_s, earliest_s)))
    if _calm(values[first : first + 1], row).any():
        return float(time_s[first])
    sign = 1.0 if row.rising else -1.0
    return float(time_s[first + _rise(sign * values[first : until + 1], sign * spell.limit)])


def _calm(values: Real, row: Judged) -> Yes:
    with np.errstate(invalid="ignore"):
        return np.asarray(values <= CALM_SHARE * row.caution if row.rising else values >= CALM_FACTOR * row.caution)


def _rise(badness: Real, limit: float) -> int:
    """Where the last rise to the limit began: at the foot of what left the steady part behind."""
    best = float(np.nanmin(badness))
    steady = int(np.flatnonzero(badness <= best + STEADY_SHARE * max(0.0, limit - best))[-1])
    falls = np.flatnonzero(~(np.diff(badness[: steady + 1]) > 0.0))
    return int(falls[-1]) + 1 if len(falls) else 0

"""Faults that show in what the levers were asked for, whether a limit was passed or not: a sway that is chased, a unit
that stops alone, one that goes on alone, a turn done badly. They are looked for in the whole lift, and explain what
happened meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from simulator.readings import Readings
from simulator.recording.counted import HANGS_N
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import Cause
from simulator.report.lift.lever_use import chases, last_moved_s, lever_called
from simulator.report.lift.moves import unit_name
from simulator.report.lift.turn_faults import turn_faults
from simulator.report.lift.turns import StepOn, steps_on
from simulator.scenario.drill import NOBODY
from simulator.scenario.judged_limits import AHEAD_M
from simulator.scenario.rig import MOST_UNITS
from simulator.words import say

TOGETHER = ("lift off", "raise", "cross", "lower")
"""Work that both units do at one pace."""
IDLE_S = 10.0
"""A unit that asks for nothing for so long, while there is work for it, has stopped."""
STOPPED_FIRST_S = 0.5
"""Who stops so long before the other stopped first; the other only waits for it."""
WENT_ON_M = 0.8
"""A tip or hook that goes so far on after the other has stopped goes on alone; a pair that waits for one another stops
within less."""
AFTER_S = 20.0
"""What came of a fault shows for so long after it."""


class Typical(NamedTuple):
    """A typical fault, from when until when."""

    begin_s: float
    until_s: float
    cause: Cause


def typical_faults(recording: Recording, amounts: Amounts) -> tuple[Typical, ...]:
    """All of them in a lift, by the time they began."""
    if not len(recording.time_s):
        return ()
    found = [*_chases(recording), *_alone(recording, amounts)]
    found += (Typical(*one) for one in turn_faults(recording, amounts))
    return tuple(sorted(found, key=lambda one: one.begin_s))


def explaining(faults: tuple[Typical, ...], begin_s: float, until_s: float) -> list[Typical]:
    """Those that were on between two times, or shortly before."""
    return [one for one in faults if one.begin_s <= until_s and one.until_s + AFTER_S >= begin_s]


def _chases(recording: Recording) -> Iterator[Typical]:
    """Levers that went to and fro while the load hung."""
    hangs = recording.column("load.ground_N") < HANGS_N
    if not hangs.any():
        return
    period_s = float(np.median(recording.column("load.sway_period_s")[hangs]))
    free_s = float(recording.time_s[int(np.argmax(hangs))])
    for one in chases(recording, free_s, recording.length_s, period_s):
        function, lasts = lever_called(one.function), f"{one.lasted_s:.0f}"
        said = say(
            "finding.chased", unit=unit_name(recording, one.end), function=function, turns=one.turns, lasts=lasts
        )
        yield Typical(one.began_s, one.began_s + one.lasted_s, Cause(said, "chased", one.end))


def _alone(recording: Recording, amounts: Amounts) -> Iterator[Typical]:
    """In each step that both work in at one pace: who stopped first, and how far the other went on."""
    before: StepOn | None = None
    for on in steps_on(recording):
        if on.step.moves == "both" and on.step.work in TOGETHER:
            # Who had gone on in a hold just before has less to do now, and stops first for that.
            was_hold = before is not None and before.step.moves == NOBODY
            yield from _stopped_in(recording, on, amounts, before.since_s if before and was_hold else on.since_s)
        before = on


def _stopped_in(recording: Recording, on: StepOn, amounts: Amounts, from_s: float) -> Iterator[Typical]:
    last_s = [last_moved_s(recording, end, on.since_s, on.until_s) for end in range(len(recording.rig.units))]
    if len(last_s) < MOST_UNITS:
        return
    first, *_, other = sorted(range(len(last_s)), key=lambda end: last_s[end])
    idle_s = on.until_s - last_s[first]
    if idle_s < IDLE_S or last_s[other] - last_s[first] < STOPPED_FIRST_S:
        return
    began, was, now = (recording.at(time_s) for time_s in (from_s, last_s[first], on.until_s))
    ways_m = [_way_m(began, was, end, on.step.work) for end in (first, other)]
    ahead_m = ways_m[0] - ways_m[1]
    went_m = _way_m(was, now, other, on.step.work)
    names = {"first": unit_name(recording, first), "other": unit_name(recording, other),
             "title": amounts.told(on.step.title),
             "when": minutes(last_s[first]), "way": amounts.text(went_m, "m"),
             "ahead": amounts.text(ahead_m, "m")}  # fmt: skip
    if ahead_m >= AHEAD_M:
        # Who stops first because its own part is done, well before the other, did not keep its pace.
        yield Typical(on.since_s, on.until_s, Cause(say("finding.went_ahead", **names), "went on alone", first))
    elif went_m >= WENT_ON_M:
        yield Typical(last_s[first], on.until_s, Cause(say("finding.went_on_alone", **names), "went on alone", other))
    else:
        yield Typical(last_s[first], on.until_s, Cause(say("finding.stopped_alone", **names), "stopped alone", first))


def _way_m(was: Readings, now: Readings, end: int, work: str) -> float:
    """How far a unit went in what the step is about."""
    before, after = was.units[end], now.units[end]
    return abs(after.tip_y_m - before.tip_y_m) if work == "cross" else abs(after.hook_z_m - before.hook_z_m)

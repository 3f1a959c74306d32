"""A recording told: what passed a limit when, by whom and why; worst values by seat; the course of the lift.

No physics: everything is taken from stored readings and the scenario's limits. `debrief_pages.write_pdf` draws it.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from simulator.events import Event
from simulator.readings import as_words
from simulator.recording.headless import GIVEN_UP
from simulator.recording.noticed import AGAIN, TELESCOPED, TIPS
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import OF_TURNS
from simulator.report.lift.event_words import event_words, lost_words
from simulator.report.lift.judged import spells
from simulator.report.lift.lost_points import lost_in
from simulator.report.lift.moves import unit_name
from simulator.report.lift.reasons import did, last_step_s, place_of, points_why, why
from simulator.report.lift.typical_faults import Typical, typical_faults
from simulator.report.lift.worst_values import WorstRow, worst_rows
from simulator.scenario.description import Limits
from simulator.telling.account import NOT_DONE
from simulator.telling.next_time import next_time
from simulator.words import phrase, say

BEFORE_INCIDENT_S = 10.0
BACK_AGAIN_S = 30.0
"""A load that comes back to the ground again within this is still the same finding."""
TOGETHER_S = 1.0
"""Two units that enter a stage within this enter it together."""
WITH_STEP_S = 0.2
"""A unit that enters a stage within this of a drill's step only follows the step."""


LEVELS = ("incident", "stop", "caution")
"""Of findings, the gravest first."""
MOST_PRINTED = 200
"""Findings on paper: a page holds some 15."""


class LiftFinding(NamedTuple):
    """Something that went wrong."""

    number: int
    time_s: float
    level: str
    """caution, stop, incident"""
    who: str
    what: str
    why: str
    key: str = ""
    """Channel it is about; none for an incident."""
    cause: str = ""
    """What kind of fault is told first (`cause.Kind`), and by which unit; none where it is nobody's alone."""
    by: int | None = None
    points: float = 0.0
    """Lost in a drill by what no limit of a reading tells."""

    @property
    def names_fault(self) -> bool:
        """Its cause is a fault, not just what hands did meanwhile."""
        return self.cause not in ("", "moves")


@dataclass(frozen=True)
class Debrief:
    """All that a page says of one lift."""

    recording: Recording
    limits: Limits
    amounts: Amounts
    findings: tuple[LiftFinding, ...]
    worst: tuple[WorstRow, ...]
    course: tuple[tuple[float, str], ...]
    """Time and text of what happened on the way."""

    @property
    def printed(self) -> tuple[LiftFinding, ...]:
        """The findings that paper has room for: all, or the gravest, and of these the first."""
        grave = sorted(self.findings, key=lambda one: (LEVELS.index(one.level), one.time_s))[:MOST_PRINTED]
        return tuple(sorted(grave, key=lambda one: one.number))

    @property
    def title(self) -> str:
        """The lift's own, in these units."""
        return self.amounts.told(self.recording.head.title)

    @property
    def heading(self) -> str:
        """How it ended, in a sentence."""
        how = {
            "landed": "Landed",
            "done": "Drill done",
            "incident": "Ended by an incident",
            "left": "Ended before the load was landed",
            "broken off": "The recording breaks off",
        }[self.recording.how]
        score = self.recording.ending.score if self.recording.ending else None
        if self.recording.ran_out:
            how = "The drill's time ran out"
        elif score and self.recording.how == "left":
            how = "Drill ended before it was done"
        said = f"{how} after {minutes(self.recording.length_s)}{self._because}" + (f", score {score}" if score else "")
        counts = ", ".join(f"{level} {sum(one.level == level for one in self.findings)}" for level in LEVELS)
        return f"{said}. Findings: {counts}."

    @property
    def _because(self) -> str:
        """Why a lift was ended that is neither done nor ended by what it met."""
        ending = self.recording.ending
        if ending is None or ending.how != "left":
            return ""
        given_up = [event_words(one.happening, self.amounts) for one in self.recording.events if one.kind == GIVEN_UP]
        why = given_up[0] if given_up else ending.text
        return f" ({why})" if why else ""

    @property
    def first_fault(self) -> str:
        """Where it went wrong, in a sentence."""
        one = self._gravest
        if one is None:
            return "No reading passed a stop limit, and nothing was met."
        return f"It went wrong at {minutes(one.time_s)} (no. {one.number}): {one.who}, {one.what}. {_capital(one.why)}."

    @property
    def next_time(self) -> str:
        """What to do another time, by the cause of where it went wrong; empty where nothing did."""
        one = self._gravest
        advice = "" if one is None else next_time(one.level, one.key, one.cause)
        return say("debrief.next_time", words=advice) if advice else ""

    @property
    def _gravest(self) -> LiftFinding | None:
        """The first that is no caution; else what cost a drill most. A stop that nothing explains stands back behind a
        fault that cost points."""
        serious = [one for one in self.findings if one.level != "caution"]
        cost_most = sorted((one for one in self.findings if one.points), key=lambda one: -one.points)
        first = next(iter([*serious, *cost_most]), None)
        if first is None or first.level == "incident" or first.names_fault:
            return first
        return next((one for one in cost_most if one.names_fault), first)

    @property
    def seats(self) -> tuple[str, ...]:
        """Each unit with seat and name; a lone unit has one seat."""
        description, pair = self.recording.description, self.recording.head.pair
        units = range(len(self.recording.rig.units))
        sides = ("left", "right")
        if description is not None and description.site.nose_seen_from_ravine == "right":
            sides = ("right", "left")
        seats = [f"{side} seat" for side in sides] if len(units) > 1 else ["one seat"]
        names = [f", {pair[end]}" if end < len(pair) and pair[end] else "" for end in units]
        return tuple(f"{unit_name(self.recording, end)} ({seats[end]}{names[end]})" for end in units)


def debrief(recording: Recording, amounts: Amounts | None = None, *, names_repeats: bool = True) -> Debrief:
    """Tell a recording.

    Args:
        recording: whole or not.
        amounts: how numbers are written; metric unless given.
        names_repeats: a cause told before is named by its finding's number; False tells it again.
    """
    amounts = amounts or Amounts()
    limits = recording.description.limits if recording.description else Limits()
    if not len(recording.time_s):
        return Debrief(recording, limits, amounts, (), (), ())
    faults = typical_faults(recording, amounts)
    found = [*_from_spells(recording, limits, amounts, faults), *_from_incidents(recording, amounts)]
    found += _from_points(recording, found, amounts, faults)
    found += _from_turns(recording, found, faults)
    numbered = [one._replace(number=i) for i, one in enumerate(sorted(found, key=lambda one: one.time_s), 1)]
    return Debrief(
        recording,
        limits,
        amounts,
        tuple(_without_repeats(numbered) if names_repeats else numbered),
        tuple(worst_rows(recording, amounts)),
        tuple(_course(recording, amounts)),
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _who(recording: Recording, end: int | None) -> str:
    return phrase("load") if end is None else unit_name(recording, end)


def _from_spells(
    recording: Recording, limits: Limits, amounts: Amounts, faults: tuple[Typical, ...]
) -> Iterator[LiftFinding]:
    for spell in spells(recording, limits):
        row = spell.judged
        limit, worst = (amounts.text(value, row.kind) for value in (spell.limit, spell.worst))
        sign, label = say("finding.over" if row.rising else "finding.under"), phrase(row.label)
        when, past = minutes(spell.worst_s), f"{spell.past_s:.0f}"
        key = "spell_just" if worst == limit else "spell"
        what = say(f"finding.{key}", what=label, sign=sign, limit=limit, level=phrase(spell.level), worst=worst,
                   when=when, past=past)  # fmt: skip
        causes = why(recording, spell, amounts, faults)
        yield LiftFinding(0, spell.begin_s, spell.level, _who(recording, row.end), what, "; ".join(causes), row.key,
                      causes[0].kind, causes[0].end)  # fmt: skip


def _from_points(
    recording: Recording, told: list[LiftFinding], amounts: Amounts, faults: tuple[Typical, ...]
) -> Iterator[LiftFinding]:
    """What took points in a drill and is told by no finding yet: no point is lost without one."""
    keys = {as_words(one.key) for one in told if one.key}
    incident = any(one.level == "incident" for one in told)
    for lost in lost_in(recording):
        if lost.reading in keys or (incident and lost.rule in ("incident", NOT_DONE)):
            continue
        begin_s = last_step_s(recording) if lost.rule == NOT_DONE else lost.first_s
        causes = points_why(recording, lost, begin_s, amounts, faults)
        who, level = _who(recording, place_of(recording, lost.who)), "stop" if lost.fails else "caution"
        yield LiftFinding(0, begin_s, level, who, lost_words(lost.told, amounts),
                      "; ".join(causes), "", causes[0].kind, causes[0].end, lost.points)  # fmt: skip


def _from_turns(recording: Recording, told: list[LiftFinding], faults: tuple[Typical, ...]) -> Iterator[LiftFinding]:
    """A turn done badly that no reading past a limit and no lost point has told of yet."""
    kinds = {(one.cause, one.by) for one in told}
    for fault in faults:
        cause = fault.cause
        if cause.kind in OF_TURNS and (cause.kind, cause.end) not in kinds:
            yield LiftFinding(0, fault.begin_s, "caution", _who(recording, cause.end), phrase(cause.kind), cause, "",
                              cause.kind, cause.end)  # fmt: skip


def _from_incidents(recording: Recording, amounts: Amounts) -> Iterator[LiftFinding]:
    """Incidents, stops without a limit of a reading, the load back on the ground; of several in a row, the first."""
    last_s = -inf
    for event in recording.events:
        if event.kind != "incident" and not is_back(event) and not is_stop(event):
            continue
        time_s = event.step / recording.head.steps_per_s
        moves = "; ".join(did(recording, recording.at(time_s - BEFORE_INCIDENT_S), recording.at(time_s), amounts))
        before = say("finding.before", seconds=f"{BEFORE_INCIDENT_S:.0f}", did=moves)
        if event.kind == "incident":
            yield LiftFinding(0, time_s, "incident", "incident", event_words(event.happening, amounts), before)
            continue
        if is_stop(event):
            who = _who(recording, place_of(recording, str(event.fields.get("unit", ""))))
            yield LiftFinding(0, time_s, "stop", who, event_words(event.happening, amounts), before)
            continue
        if time_s - last_s > BACK_AGAIN_S:
            yield LiftFinding(0, time_s, "caution", phrase("load"), say("finding.came_back"), before)
        last_s = time_s


def _without_repeats(findings: list[LiftFinding]) -> Iterator[LiftFinding]:
    """A cause that was told is named by its number."""
    told: dict[str, int] = {}
    for one in findings:
        cause = one.why.partition(": ")[2]
        has_cause = cause and not cause.startswith(say("finding.no_move"))
        first = told.setdefault(cause, one.number) if has_cause else one.number
        yield one if first == one.number else one._replace(why=say("finding.as_number", number=first))


def _course(recording: Recording, amounts: Amounts) -> Iterator[tuple[float, str]]:
    """What happened on the way; a stage that both units enter at once, or with a drill's step, is one line."""
    told: dict[str, int] = {}
    near, with_step = (round(time_s * recording.head.steps_per_s) for time_s in (TOGETHER_S, WITH_STEP_S))
    steps = [event.step for event in recording.events if event.kind == "step"]
    stages = [event for event in recording.events if event.kind == "stage"]
    entered = [event.step for event in stages]
    for event in recording.events:
        if event.kind == "incident" or is_back(event) or is_stop(event):
            continue
        words = event_words(event.happening, amounts)
        if event.kind == "stage":
            doing = str(event.fields.get("doing", ""))
            if bisect_left(steps, event.step - with_step) < bisect_right(steps, event.step + with_step):
                continue
            if 0 <= event.step - told.get(doing, -(10**9)) <= near:
                continue
            told[doing] = event.step
            soon = stages[bisect_left(entered, event.step) : bisect_left(entered, event.step + near + 1)]
            if sum(one.fields.get("doing") == doing for one in soon) > 1:
                words = say("event.both", doing=doing)
        yield event.step / recording.head.steps_per_s, words


def is_stop(event: Event) -> bool:
    """A unit has begun to go over, or its boom is telescoped against its rule: a stop though no limit of a reading."""
    return event.kind == TELESCOPED or (event.kind == TIPS and event.what == "tipping")


def is_back(event: Event) -> bool:
    """The load has come back to bed or slope."""
    return event.kind == "load" and event.what == AGAIN

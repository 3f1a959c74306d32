"""What a debrief stops at: what was found and what happened, numbered in time; and the steps of the lift."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from simulator.drill.partner import STAGES, stages_of
from simulator.events import Event
from simulator.recording.recorded import Recording
from simulator.telling.next_time import next_time
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen, seen_in
from simulator.window.protocols import ToldFinding
from simulator.window.readouts.alert_words import as_seen
from simulator.window.readouts.event_texts import event_text
from simulator.words import known, say

NOT_SHOWN = ("stage", "step", "incident")
"""Steps have their band; an incident is among the findings, or is taken if nobody was asked."""
LEVELS = {"caution": Level.CAUTION, "stop": Level.STOP, "incident": Level.STOP}
SAME_S = 0.6
"""Two events of one kind and text nearer than this are one."""


class Points(NamedTuple):
    """A drill's points, as a recording has them: texts of whole numbers."""

    together: str
    of_units: dict[str, str]
    """By where each unit is seen: `left`, `right`."""


def points_seen(score: str, seen: Seen) -> Points | None:
    """The points of a recorded drill as its seats are seen; none where none were given."""
    found = re.match(r"(\d+) \((.+)\)$", score)
    if found is None:
        return None
    named = {name: points for name, _, points in (part.rpartition(" ") for part in found[2].split(", "))}
    if named.keys() < {one.name for one in seen.units}:
        return None
    return Points(found[1], {one.where: named[one.name] for one in seen.units})


class Moment(NamedTuple):
    """One numbered flag."""

    number: int
    time_s: float
    level: Level
    title: str
    what: str = ""
    why: str = ""
    next_time: str = ""
    side: int = -1
    """0 left unit, 1 right unit, -1 neither."""


class Span(NamedTuple):
    """One step of the lift, as long as it lasted."""

    begin_s: float
    end_s: float
    title: str
    number: int = 0
    """From 1; 0 where a recording does not say."""
    last: int = 0


def moments(recording: Recording, findings: Sequence[ToldFinding], system: System = "metric") -> tuple[Moment, ...]:
    """All of them, in time."""
    seen = seen_in(recording.description)
    found = [_of_finding(one, seen) for one in findings]
    hidden = NOT_SHOWN if findings else NOT_SHOWN[:2]
    last: dict[str, float] = {}
    for event in recording.events:
        time_s = event.step / recording.head.steps_per_s
        if event.kind in hidden:
            continue
        text = event_text(event.happening, seen, system)
        if time_s - last.get(text, -1e9) > SAME_S:
            last[text] = time_s
            level = Level.STOP if event.kind == "incident" else Level.GOOD
            found.append(Moment(0, time_s, level, text))
    found.sort(key=lambda one: one.time_s)
    return tuple(one._replace(number=number) for number, one in enumerate(found, 1))


def _of_finding(one: ToldFinding, seen: Seen) -> Moment:
    head, _, rest = as_seen(one.what, seen).partition(say("event.then"))
    head = head.partition(" (")[0]
    who = as_seen(one.who, seen)
    title = _capital(head) if who == one.who else f"{_capital(who)}: {head}"
    level, side = LEVELS.get(one.level, Level.CAUTION), side_of_unit(one.who, seen)
    why = _capital(as_seen(one.why, seen))
    return Moment(0, one.time_s, level, title, _capital(rest), why, next_time(one.level, one.key, one.cause), side)


def side_of_unit(who: str, seen: Seen) -> int:
    """Where the unit named at the beginning of `who` is seen; -1 for none, and where there is one unit only."""
    unit = seen.begins(who)
    return -1 if unit is None or unit.is_alone else unit.side


def spans(recording: Recording) -> tuple[Span, ...]:
    """The steps of its drill, or else the stages of its automatic operators."""
    kinds = {event.kind for event in recording.events}
    drill = recording.description.drill if recording.description else None
    kind = "step" if "step" in kinds or drill is not None else "stage"
    stages = stages_of(recording.description) if recording.description else STAGES
    last = len(drill.steps) if kind == "step" and drill else len(stages)
    marks: list[tuple[float, str, int]] = [(0.0, "", 0)]
    if kind == "step" and drill is not None:
        marks = [(0.0, drill.steps[0].title, 1)]
    for event in recording.events:
        title, number = _step_said(event, stages) if event.kind == kind else ("", 0)
        if title and title != marks[-1][1]:
            marks.append((event.step / recording.head.steps_per_s, title, number))
    ends = [time_s for time_s, _, _ in marks[1:]] + [recording.length_s]
    rows = zip(marks, ends, strict=True)
    return tuple(Span(begin_s, end_s, title, number, last) for (begin_s, title, number), end_s in rows
                 if title and end_s > begin_s)  # fmt: skip


def _step_said(event: Event, stages: tuple[str, ...]) -> tuple[str, int]:
    """Title and number of a drill's step, or of an operator's stage."""
    title = str(event.fields.get("title", event.fields.get("doing", event.fields.get("text", ""))))
    own = event.fields.get("number")
    number = own if isinstance(own, int) else stages.index(title) + 1 if title in stages else 0
    return known("stage." + title.replace(" ", "_"), _capital(title)), number


def at_or_before(found: Sequence[Moment], time_s: float) -> int:
    """Place of the last moment up to a time; -1 before the first."""
    return bisect_right([one.time_s for one in found], time_s + 1e-6) - 1


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def ended_in_words(recording: Recording) -> str:
    """How a recorded lift ended, short."""
    return say("debrief.how_time") if recording.ran_out else how_in_words(recording.how)


def how_in_words(how: str) -> str:
    """How a recording says that it ended, in words."""
    return known("debrief.how_" + how.replace(" ", "_"), say("debrief.how_left"))

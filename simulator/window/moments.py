"""What a debrief stops at: what was found and what happened, numbered in time; and the steps of the lift."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from simulator.recording.recorded import Recording
from simulator.scenario.description import END_NAMES
from simulator.window.layout import ends_by_side
from simulator.window.thresholds import Level
from simulator.window.told import Finding
from simulator.words import say, table

NOT_SHOWN = ("stage", "step", "incident")
"""Steps have their band; an incident is among the findings, or is taken if nobody was asked."""
LEVELS = {"caution": Level.CAUTION, "stop": Level.STOP, "incident": Level.STOP}
SAME_S = 0.6
"""Two events of one kind and text nearer than this are one."""


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


def moments(recording: Recording, findings: Sequence[Finding]) -> tuple[Moment, ...]:
    """All of them, in time."""
    found = [_of_finding(recording, one) for one in findings]
    hidden = NOT_SHOWN if findings else NOT_SHOWN[:2]
    last: dict[tuple[str, str], float] = {}
    for step, kind, text in recording.events:
        time_s = step / recording.head.steps_per_s
        if kind not in hidden and time_s - last.get((kind, text), -1e9) > SAME_S:
            last[kind, text] = time_s
            found.append(_of_event(time_s, kind, text))
    found.sort(key=lambda one: one.time_s)
    return tuple(one._replace(number=number) for number, one in enumerate(found, 1))


def _of_finding(recording: Recording, one: Finding) -> Moment:
    head, _, rest = one.what.partition(", ")
    head = head.partition(" (")[0]
    title = _capital(head) if one.who in ("incident", "load") else f"{_capital(one.who)}: {head}"
    key = one.key.rpartition(".")[2]
    next_time = table().get(f"next_time.{key or 'incident'}", "")
    return Moment(
        0, one.time_s, LEVELS.get(one.level, Level.CAUTION), title, _capital(rest), _capital(one.why), next_time,
        side_of_unit(recording, one.who),
    )  # fmt: skip


def _of_event(time_s: float, kind: str, text: str) -> Moment:
    level = Level.STOP if kind == "incident" else Level.GOOD
    title = _capital(text) if kind == "load" else _capital(f"{kind}: {text}")
    return Moment(0, time_s, level, title)


def side_of_unit(recording: Recording, who: str) -> int:
    """Where the unit named at the beginning of `who` is seen."""
    end = next((end for end, name in enumerate(END_NAMES) if who.startswith(name)), -1)
    if end < 0 or recording.description is None:
        return end
    return ends_by_side(recording.description).index(end)


def spans(recording: Recording) -> tuple[Span, ...]:
    """The steps of its drill, or else the stages of its automatic operators."""
    kinds = {kind for _, kind, _ in recording.events}
    kind = "step" if "step" in kinds else "stage"
    marks: list[tuple[float, str]] = [(0.0, "")]
    if kind == "step" and recording.description is not None and recording.description.drill is not None:
        marks = [(0.0, recording.description.drill.steps[0].title)]
    for step, is_kind, text in recording.events:
        title = _step_title(text) if is_kind == kind else ""
        if title and title != marks[-1][1]:
            marks.append((step / recording.head.steps_per_s, title))
    ends = [time_s for time_s, _ in marks[1:]] + [recording.length_s]
    rows = zip(marks, ends, strict=True)
    return tuple(Span(begin_s, end_s, title) for (begin_s, title), end_s in rows if title and end_s > begin_s)


def _step_title(text: str) -> str:
    """`nose unit: take slack` and `3: Lift off` without what stands before."""
    title = text.partition(": ")[2] or text
    return table().get("stage." + title.replace(" ", "_"), _capital(title))


def at_or_before(found: Sequence[Moment], time_s: float) -> int:
    """Place of the last moment up to a time; -1 before the first."""
    return bisect_right([one.time_s for one in found], time_s + 1e-6) - 1


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def ended_in_words(recording: Recording) -> str:
    """How a recorded lift ended, short."""
    return how_in_words(recording.how)


def how_in_words(how: str) -> str:
    """How a recording says that it ended, in words."""
    return table().get("debrief.how_" + how.replace(" ", "_"), say("debrief.how_left"))

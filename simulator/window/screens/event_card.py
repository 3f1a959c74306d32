"""The card of the chosen event: what happened, why, next time; or what could not be done."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from simulator.window import measures_shown as shown
from simulator.window.canvas import Canvas
from simulator.window.event_words import lost_text
from simulator.window.icons import badge, icon
from simulator.window.layout import ends_by_side
from simulator.window.moments import Moment
from simulator.window.palette import CAUTION_TINT, INK, INK_2, PANEL, RULE
from simulator.window.pieces import lines_of
from simulator.window.thresholds import Level
from simulator.words import say

if TYPE_CHECKING:
    from simulator.window.screens.debrief import DebriefScreen

X, W, FOOT, GAP = 1416.0, 456.0, 928.0, 12.0
WORST_Y, WORST_HEAD, WORST_PITCH = 276.0, 60.0, 42.0
"""Where the worst values stand over this card."""
INSIDE = W - 56.0
PITCH = 30.0
ALL = 99
"""Lines: as many as it takes."""
IN_BRACKETS = re.compile(r" \([^()]*\)")
Part = tuple[str, bool]
"""A paragraph, and whether it is strong."""


def draw_event_card(canvas: Canvas, screen: DebriefScreen) -> None:
    """Draws the card between the worst values and the buttons."""
    top = WORST_Y + WORST_HEAD + WORST_PITCH * len(screen.worst) + GAP
    fault = screen.fault or (
        screen.back.recording.notes[0] if screen.back.recording.notes and not screen.moment else ""
    )
    canvas.box(X, top, W, FOOT - top, fill=CAUTION_TINT if fault else PANEL, edge=INK if fault else RULE, radius=8.0)
    if fault:
        icon(canvas, "caution", X + W - 46.0, top + 40.0, 36.0)
        _lines(canvas, [(fault, True)], top + 44.0, room=INSIDE - 44.0)
        return
    one = screen.moment
    if one is None:
        _lines(canvas, [(say("debrief.no_event" if screen.moments else "debrief.nothing_found"), False)], top + 48.0)
        return
    count = say("debrief.nth", number=one.number, count=len(screen.moments), time=shown.clock(one.time_s))
    canvas.text(count, X + 28.0, top + 40.0, 24.0, colour=INK_2, width=INSIDE - 84.0)
    if one.level > Level.GOOD:
        icon(canvas, "caution" if one.level is Level.CAUTION else "stop", X + W - 44.0, top + 34.0, 36.0)
    if one.side >= 0:
        badge(canvas, one.side, X + W - 92.0, top + 34.0, 34.0)
    y = top + 76.0
    # The badge says already which unit it is.
    title = one.title.partition(": ")[2] if one.side >= 0 else one.title
    for line in lines_of(canvas, title[:1].upper() + title[1:], INSIDE, size=30.0, weight="bold", most=ALL):
        canvas.text(line, X + 28.0, y, 30.0, weight="bold", width=INSIDE)
        y += 36.0
    ways = list(_ways(one)) if one.what or one.why or one.next_time else list(_lost(screen))
    _lines(canvas, next((parts for parts in ways if _fits(canvas, parts, y)), ways[-1] if ways else []), y)


def _ways(one: Moment) -> Iterator[list[Part]]:
    """What the card may say, from all of it to the least: what does not fit whole is left out whole."""
    next_time = (say("debrief.next_time", words=one.next_time) if one.next_time else "", True)
    what, first = (one.what, False), one.why.partition("; ")[0]
    bare = IN_BRACKETS.sub("", first)
    yield [what, (one.why, False), next_time]
    yield [what, (first, False), next_time]
    yield [(first, False), next_time]
    yield [(bare, False), next_time]
    yield [(bare, False)]


def _lost(screen: DebriefScreen) -> Iterator[list[Part]]:
    """What cost points in a drill, where the event itself needs no words: all, or as much as there is room for."""
    ending, description = screen.back.recording.ending, screen.back.recording.description
    ends = (0, 1) if description is None else ends_by_side(description)
    lines = [lost_text(line, ends, screen.back.desk.settings.units) for line in ending.lines[1:]] if ending else []
    for count in range(len(lines), 0, -1):
        more = [] if count == len(lines) else [(say("debrief.lost_more", count=len(lines) - count), False)]
        yield [(say("debrief.lost"), True), *((line, False) for line in lines[:count]), *more]


def _broken(canvas: Canvas, part: Part, room: float) -> list[str]:
    text, is_strong = part
    return lines_of(canvas, text, room, size=24.0, weight="semibold" if is_strong else "medium", most=ALL)


def _fits(canvas: Canvas, parts: list[Part], y: float) -> bool:
    return sum(len(_broken(canvas, part, INSIDE)) for part in parts) <= int((FOOT - 14.0 - y) // PITCH) + 1


def _lines(canvas: Canvas, parts: list[Part], y: float, *, room: float = INSIDE) -> None:
    """Paragraphs under each other, the strong ones in ink."""
    for part in parts:
        for line in _broken(canvas, part, room):
            canvas.text(line, X + 28.0, y, 24.0, weight="semibold" if part[1] else "medium",
                        colour=INK if part[1] else INK_2, width=room)  # fmt: skip
            y += PITCH

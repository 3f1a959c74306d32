"""The card of the chosen event: what happened, why, next time; or what could not be done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from simulator.drill.amounts import retold
from simulator.window import measures_shown as shown
from simulator.window.canvas import Canvas
from simulator.window.icons import badge, icon
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
LINE = 32.0


def draw_event_card(canvas: Canvas, screen: DebriefScreen) -> None:
    """Draws the card between the worst values and the buttons."""
    top = WORST_Y + WORST_HEAD + WORST_PITCH * len(screen.worst) + GAP
    fault = screen.fault or (
        screen.back.recording.notes[0] if screen.back.recording.notes and not screen.moment else ""
    )
    canvas.box(X, top, W, FOOT - top, fill=CAUTION_TINT if fault else PANEL, edge=INK if fault else RULE, radius=8.0)
    if fault:
        icon(canvas, "caution", X + W - 46.0, top + 40.0, 36.0)
        _lines(canvas, [(fault, True)], top + 44.0, most=9, room=INSIDE - 44.0)
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
    for line in lines_of(canvas, title[:1].upper() + title[1:], INSIDE, size=30.0, weight="bold"):
        canvas.text(line, X + 28.0, y, 30.0, weight="bold", width=INSIDE)
        y += 36.0
    next_time = say("debrief.next_time", words=one.next_time) if one.next_time else ""
    parts = [(one.what, False), (one.why, False), (next_time, True)]
    _lines(canvas, parts if any(text for text, _ in parts) else _lost(screen), y)


def _lost(screen: DebriefScreen) -> list[tuple[str, bool]]:
    """What cost points in a drill, where the event itself needs no words; a recording keeps it in metres."""
    ending, is_us = screen.back.recording.ending, screen.back.desk.settings.units == "us"
    lines = [retold(line.strip(), us=is_us) for line in ending.lines[1:]] if ending else []
    return [(say("debrief.lost"), True), *((line, False) for line in lines)] if lines else []


def _lines(canvas: Canvas, parts: list[tuple[str, bool]], y: float, *, most: int = 3, room: float = INSIDE) -> None:
    """Paragraphs, each with its own number of lines by what is left; the last, in ink, always has its room."""
    last = [lines_of(canvas, text, room, size=24.0, most=3) if text else [] for text, is_strong in parts if is_strong]
    kept = sum(map(len, last)) if len(parts) > 1 else 0
    for text, is_strong in parts:
        left = int((FOOT - 14.0 - y) // 30.0) + 1 - (0 if is_strong else kept)
        if not text or left <= 0:
            continue
        lines = lines_of(canvas, text, room, size=24.0, weight="semibold" if is_strong else "medium",
                         most=max(1, min(left, most)))  # fmt: skip
        for line in lines:
            canvas.text(line, X + 28.0, y, 24.0, weight="semibold" if is_strong else "medium",
                        colour=INK if is_strong else INK_2, width=room)  # fmt: skip
            y += 30.0

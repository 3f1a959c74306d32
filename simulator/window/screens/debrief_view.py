"""The debrief, drawn: what stands still once, and what follows the cursor."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Protocol

from simulator.scenario.retold import retold
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line, draw_head, draw_panel, key_places
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE, SIDES, STOP_TINT
from simulator.window.kit.pieces import lines_of
from simulator.window.kit.regions import CAUTION_LINE
from simulator.window.kit.seen import Seen, seen_in
from simulator.window.readouts.event_texts import lost_text
from simulator.window.review.chart_view import (
    CHARTS,
    LEFT,
    RIGHT,
    Axis,
    draw_charts,
    draw_flag,
    draw_flags,
    draw_steps,
    flag_places,
)
from simulator.window.review.charts import Chart
from simulator.window.review.looking_back import LookBack
from simulator.window.review.moments import Moment, Span, ended_in_words, points_seen
from simulator.window.review.worst_rows import WorstCells
from simulator.window.screens.screen import Spots
from simulator.window.shell.pace import REPLAY_SPEEDS
from simulator.words import say

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


class DebriefShown(Protocol):
    """What is drawn of the debrief."""

    back: LookBack
    fault: str
    axis: Axis
    moments: tuple[Moment, ...]
    spans: tuple[Span, ...]
    charts: tuple[Chart, ...]
    worst: tuple[WorstCells, ...]
    at_s: float
    spots: Spots[tuple[str, int]]

    @property
    def control(self) -> str:
        """Where the keyboard is."""
        ...

    @property
    def moment(self) -> Moment | None:
        """The last one up to the cursor."""
        ...


def draw_event_card(canvas: Canvas, screen: DebriefShown) -> None:
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
    canvas.text(count, X + 28.0, top + 40.0, 24.0, color=INK_2, width=INSIDE - 84.0)
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


def _lost(screen: DebriefShown) -> Iterator[list[Part]]:
    """What cost points in a drill, where the event itself needs no words: all, or as much as there is room for."""
    ending, description = screen.back.recording.ending, screen.back.recording.description
    seen = seen_in(description)
    lines = [lost_text(one, seen, screen.back.desk.settings.units) for one in ending.account[1:]] if ending else []
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
                        color=INK if part[1] else INK_2, width=room)  # fmt: skip
            y += PITCH


SIDE_X, SIDE_W = 1416.0, 456.0
TRACK_Y, BUTTON_Y, BUTTON_H = 884.0, 944.0, 60.0
BUTTONS = (("previous", LEFT, 148.0), ("play", LEFT + 156.0, 148.0), ("next", LEFT + 312.0, 148.0))
SPEED_X, SPEED_W = 1032.0, 56.0
FOOT_KEYS = (("key.escape", "key.start_screen"), ("key.space", "debrief.play"))
ARROWS = {"track": "debrief.by_second", "speed": "debrief.speed"}
"""What arrows do at these controls; at all others they go from event to event."""
SCORE_H = 112.0
FOCUS_GAP, FOCUS_EDGE = 8.0, 4.0


def draw_ground(canvas: Canvas, screen: DebriefShown) -> None:
    """What stays as it is: head, charts, steps, flags, the worst values."""
    canvas.clear(PAPER)
    recording = screen.back.recording
    draw_head(canvas, say("debrief.title", lift=_title(screen)), _words(screen), width=1240.0)
    _legend(canvas, seen_in(screen.back.recording.description))
    draw_steps(canvas, screen.spans, screen.axis)
    draw_charts(canvas, screen.charts, recording.time_s, screen.axis)
    draw_flags(canvas, screen.moments, screen.axis)
    _axis(canvas, screen)
    _score(canvas, screen)
    _worst(canvas, screen)


def _title(screen: DebriefShown) -> str:
    """The lift's, in the user's units."""
    return retold(screen.back.recording.head.title, us=screen.back.desk.settings.units == "us")


def _words(screen: DebriefShown) -> str:
    """Who, when, how long, how it ended."""
    head, recording = screen.back.recording.head, screen.back.recording
    names = say("debrief.and").join(name for name in head.pair if name)
    clock = say("debrief.on_the_clock", time=shown.clock(recording.length_s))
    return ", ".join(part for part in (names, head.stamp[:16], clock, ended_in_words(recording)) if part)


def _legend(canvas: Canvas, seen: Seen) -> None:
    for n, unit in enumerate(reversed(seen.units)):
        side, x, color = unit.side, 1660.0 - 244.0 * n, SIDES[unit.side].main
        canvas.line((x, 66.0), (x + 64.0, 66.0), color, width=5.0)
        if side == 1:
            canvas.disc(x + 32.0, 66.0, 8.0, fill=PANEL, edge=color, edge_width=3.0)
        canvas.text(unit.said("name"), x + 78.0, 76.0, 28.0, width=160.0)


def _axis(canvas: Canvas, screen: DebriefShown) -> None:
    canvas.text(say("debrief.time"), 48.0, TRACK_Y + 9.0, 24.0, color=INK_2, width=160.0)
    for time_s, words in screen.axis.ticks():
        x = screen.axis.x(time_s)
        canvas.rect(x - 1.0, TRACK_Y + 8.0, 2.0, 12.0, INK)
        if x < RIGHT - 70.0:
            canvas.text(words, x, TRACK_Y + 44.0, 24.0, color=INK_2, anchor="left" if time_s == 0.0 else "center")
    canvas.text(screen.axis.unit, RIGHT, TRACK_Y + 44.0, 24.0, color=INK_2, anchor="right")


def _score(canvas: Canvas, screen: DebriefShown) -> None:
    """The points kept together where a drill gave any; else how the lift ended."""
    canvas.box(SIDE_X, 152.0, SIDE_W, SCORE_H, fill=INK, radius=10.0)
    ending = screen.back.recording.ending
    score = ending.score if ending and ending.score else ""
    points = score.partition(" ")[0]
    room = SIDE_W - 56.0
    if points:
        room -= canvas.text(points, SIDE_X + SIDE_W - 28.0, 238.0, 84.0, weight="bold", color=PANEL, anchor="right")
    label = say("debrief.together" if points else "debrief.how")
    canvas.text(label, SIDE_X + 28.0, 196.0, 28.0, weight="medium", color=PANEL, width=room - 12.0)
    words = _seat_points(screen, score) if points else ended_in_words(screen.back.recording)
    canvas.text(
        words[:1].upper() + words[1:], SIDE_X + 28.0, 238.0, 32.0, weight="bold", color=PANEL, width=room - 12.0
    )


def _seat_points(screen: DebriefShown, text: str) -> str:
    """The seats' own points, as they are seen: a recording names nose and tail."""
    description = screen.back.recording.description
    seen = seen_in(description)
    points = points_seen(text, seen)
    if points is None or seen.is_alone:
        return "" if points is not None else text.partition(" ")[2].strip("()")
    return say("debrief.seats", **points.of_units)


def _worst(canvas: Canvas, screen: DebriefShown) -> None:
    """Worst values by seat."""
    top, pitch = WORST_Y, WORST_PITCH
    draw_panel(canvas, SIDE_X, top, SIDE_W, WORST_HEAD + pitch * len(screen.worst))
    canvas.text(say("debrief.worst"), SIDE_X + 28.0, top + 38.0, 24.0, color=INK_2, width=190.0)
    units = seen_in(screen.back.recording.description).units
    columns = tuple(SIDE_X + (390.0 - 96.0 * (len(units) - 1 - n)) for n in range(len(units)))
    for unit, x in zip(units, columns, strict=True):
        if not unit.is_alone:
            badge(canvas, unit.side, x, top + 30.0, 38.0)
    for index, row in enumerate(screen.worst):
        y = top + 54.0 + pitch * index
        canvas.rect(SIDE_X + 28.0, y, SIDE_W - 56.0, 2.0, RULE)
        canvas.text(row.label, SIDE_X + 28.0, y + 30.0, 26.0, width=212.0)
        places = columns if len(row.cells) > 1 else (sum(columns) / len(columns),)
        for (text, level), x in zip(row.cells, places, strict=True):
            if level > Level.GOOD:
                fill = CAUTION_TINT if level is Level.CAUTION else STOP_TINT
                canvas.box(x - 44.0, y + 4.0, 88.0, 35.0, fill=fill, edge=INK, radius=6.0)
            canvas.text(text, x, y + 30.0, 26.0, weight="bold", anchor="center", width=84.0)


# What follows the cursor ------------------------------------------------------------------------------------------


def draw_now(canvas: Canvas, screen: DebriefShown) -> None:
    """Cursor, track, buttons, clock, and the card of the chosen event."""
    screen.spots.clear()
    keys = foot_keys(screen)
    draw_caution_line(canvas, keys, left=48.0)
    for (x, width), name in zip(key_places(canvas, keys, left=48.0), ("leave", "play", ""), strict=True):
        screen.spots.add(x, CAUTION_LINE.y, width, CAUTION_LINE.h, (name, 0))
    _cursor(canvas, screen)
    _buttons(canvas, screen)
    _speeds(canvas, screen)
    draw_event_card(canvas, screen)
    _drive_on(canvas, screen)


def foot_keys(screen: DebriefShown) -> tuple[tuple[str, str], ...]:
    """The keys at the foot; what left and right do depends on where the keyboard is."""
    return *FOOT_KEYS, ("key.left_right", ARROWS.get(screen.control, "debrief.event"))


def _cursor(canvas: Canvas, screen: DebriefShown) -> None:
    x = screen.axis.x(screen.at_s)
    canvas.rect(x - 1.5, CHARTS[0].y, 3.0, TRACK_Y - CHARTS[0].y, INK)
    places = flag_places(screen.moments, screen.axis)
    for index, one in enumerate(screen.moments):
        flag_x, flag_y = places[one.number]
        # Over the cursor, which would strike its number out.
        draw_flag(canvas, one, flag_x, flag_y)
        screen.spots.add(flag_x - 23.0, flag_y - 20.0, 46.0, 40.0, ("moment", index))
    if (now := screen.moment) is not None:
        draw_flag(canvas, now, *places[now.number])
    canvas.rect(LEFT, TRACK_Y - 4.0, RIGHT - LEFT, 8.0, RULE)
    canvas.rect(LEFT, TRACK_Y - 5.0, x - LEFT, 10.0, INK)
    if screen.control == "track":
        canvas.disc(x, TRACK_Y, 27.0, edge=INK, edge_width=FOCUS_EDGE)
    canvas.disc(x, TRACK_Y, 17.0, fill=PANEL, edge=INK, edge_width=5.0)


def _buttons(canvas: Canvas, screen: DebriefShown) -> None:
    for name, x, w in BUTTONS:
        is_dark = name == "play"
        draw_button(canvas, x, BUTTON_Y, w, BUTTON_H, say(f"debrief.{name}"), is_dark=is_dark,
                    has_focus=screen.control == name, mark="play" if is_dark else "")  # fmt: skip
        screen.spots.add(x, BUTTON_Y, w, BUTTON_H, (name, 0))
    width = canvas.digits(shown.clock(screen.at_s), 722.0, BUTTON_Y + 46.0, 46.0)
    whole = say("debrief.of", time=shown.clock(screen.back.recording.length_s))
    canvas.text(whole, 722.0 + width + 14.0, BUTTON_Y + 44.0, 28.0, color=INK_2, weight="medium", width=130.0)


def _speeds(canvas: Canvas, screen: DebriefShown) -> None:
    canvas.text(say("debrief.speed"), SPEED_X - 16.0, BUTTON_Y + 40.0, 26.0, color=INK_2, anchor="right", width=90.0)
    total = SPEED_W * len(REPLAY_SPEEDS)
    if screen.control == "speed":
        _focus(canvas, SPEED_X, BUTTON_Y, total - 4.0, BUTTON_H)
    for index, speed in enumerate(REPLAY_SPEEDS):
        x = SPEED_X + SPEED_W * index
        is_on = speed == screen.back.speed
        canvas.box(x, BUTTON_Y, SPEED_W - 4.0, BUTTON_H, fill=INK if is_on else PANEL, edge=INK, radius=8.0)
        words = {0.25: "\N{VULGAR FRACTION ONE QUARTER}", 0.5: "\N{VULGAR FRACTION ONE HALF}"}.get(speed, f"{speed:g}")
        canvas.text(words, x + SPEED_W / 2.0 - 2.0, BUTTON_Y + 40.0, 28.0, weight="bold",
                    color=PANEL if is_on else INK, anchor="center")  # fmt: skip
        screen.spots.add(x, BUTTON_Y, SPEED_W, BUTTON_H, ("speed", index))


def _drive_on(canvas: Canvas, screen: DebriefShown) -> None:
    """The two ways back into the lift."""
    left_w = 296.0
    draw_button(canvas, SIDE_X, BUTTON_Y, left_w, BUTTON_H, say("debrief.drive_on"), is_dark=True,
                has_focus=screen.control == "drive_on")  # fmt: skip
    screen.spots.add(SIDE_X, BUTTON_Y, left_w, BUTTON_H, ("drive_on", 0))
    x, w = SIDE_X + left_w + 12.0, SIDE_W - left_w - 12.0
    draw_button(canvas, x, BUTTON_Y, w, BUTTON_H, say("debrief.again"), has_focus=screen.control == "again")
    screen.spots.add(x, BUTTON_Y, w, BUTTON_H, ("again", 0))


def draw_button(
    canvas: Canvas, x: float, y: float, w: float, h: float, words: str, *, is_dark: bool = False,
    has_focus: bool = False, mark: str = "",
) -> None:  # fmt: skip
    """A button; the focus edge stands off it."""
    if has_focus:
        _focus(canvas, x, y, w, h)
    canvas.box(x, y, w, h, fill=INK if is_dark else PANEL, edge=INK, radius=8.0)
    color = PANEL if is_dark else INK
    middle = x + w / 2.0
    if mark:
        icon(canvas, "play", x + 34.0, y + h / 2.0, 26.0, fill=color)
        middle += 18.0
    canvas.text(words, middle, y + h / 2.0 + 10.0, 30.0, weight="bold", color=color, anchor="center", width=w - 36.0)


def _focus(canvas: Canvas, x: float, y: float, w: float, h: float) -> None:
    canvas.box(x - FOCUS_GAP, y - FOCUS_GAP, w + 2 * FOCUS_GAP, h + 2 * FOCUS_GAP, edge=INK, edge_width=FOCUS_EDGE,
               radius=12.0)  # fmt: skip

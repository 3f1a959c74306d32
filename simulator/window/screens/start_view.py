"""The start screen, drawn."""

from __future__ import annotations

from typing import NamedTuple, Protocol

import pygame

from simulator.drill.ways import WAYS
from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.window.hands.bindings import Seat, seat_of
from simulator.window.hands.gamepads import Pad
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line, draw_head
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.palette import CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE, SIDES, WASH, Color
from simulator.window.kit.pieces import draw_key, key_width, lines_of
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import Seen
from simulator.window.scene.thumbnail import Thumbnail, depth_m
from simulator.window.screens.screen import Spots
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, Who
from simulator.window.shell.lifts_on_offer import Offer
from simulator.words import say

FOOT_KEYS = (("key.arrows", "key.choose"), ("key.tab", "key.next_group"), ("key.escape", "key.leave"))
CARD = Region(48.0, 200.0, 544.0, 296.0)
CARD_PITCH = (568.0, 316.0)
STORY = Region(48.0, 836.0, 1112.0, 174.0)
STORY_W = STORY.w - 48.0
STORY_LINES = ((26.0, 34.0, 4), (24.0, 30.0, 5))
"""Size, pitch, and how many lines there is room for: the larger if the whole story fits."""
CARDS_SHOWN = 4
PICTURE_H = 196.0
ON_ROAD_M = 0.05
START_W = 470.0
WHO_X, WHO_W, WHO_Y, WHO_H, WHO_PITCH = 1216.0, 656.0, 200.0, 104.0, 118.0


class WhoRow(NamedTuple):
    """One way to sit down."""

    who: Who
    title: str
    words: str
    said: str


class Start(Protocol):
    """What is drawn of the start screen."""

    desk: Desk
    offers: tuple[Offer, ...]
    group: int
    lift: int
    partner: int
    pads: dict[Seat, Pad]
    spots: Spots[tuple[str, int]]

    @property
    def choice(self) -> Choice | None:
        """What Enter would start."""
        ...

    @property
    def seen(self) -> Seen:
        """How the units of the chosen lift are seen."""
        ...

    @property
    def seats(self) -> tuple[Seat, ...]:
        """The seats that people sit in."""
        ...

    @property
    def who_row(self) -> WhoRow:
        """Who sits at the controls."""
        ...

    @property
    def who_rows(self) -> tuple[WhoRow, ...]:
        """The ways to sit down."""
        ...

    def keys(self) -> tuple[tuple[str, str, int], ...]:
        """What else can be called up."""
        ...

    def said(self, *, title: str = "") -> str:
        """What Enter would start, in words."""
        ...


def draw_start(canvas: Canvas, start: Start) -> None:
    """Draws the whole screen and remembers its places for the mouse."""
    canvas.clear(PAPER)
    start.spots.clear()
    draw_head(canvas, say("program.name"), say("program.tagline"), width=700.0)
    _head_keys(canvas, start)
    for number, (x, key) in enumerate(((48.0, "start.choose"), (WHO_X, "start.who")), 1):
        canvas.text(f"{number}  {say(key)}", x, 174.0, 32.0, weight="bold")
    _lifts(canvas, start)
    for index, row in enumerate(start.who_rows):
        _who(canvas, start, index, row)
    _controls(canvas, start)
    _start(canvas, start)
    draw_caution_line(canvas, FOOT_KEYS, left=48.0)


def _head_keys(canvas: Canvas, start: Start) -> None:
    """At the right of the head: what else can be called up, and that the data is invented."""
    right = 1872.0
    for cap, words, key in reversed(start.keys()):
        width = canvas.text(say(words), right, 58.0, 28.0, weight="bold", anchor="right")
        cap_w = key_width(canvas, say(cap))
        draw_key(canvas, say(cap), right - width - 12.0 - cap_w, 30.0, height=38.0)
        start.spots.add(right - width - 12.0 - cap_w, 20.0, width + 12.0 + cap_w, 56.0, ("key", key))
        right -= width + cap_w + 48.0
    slow = start.desk.slow_present_ms
    words = say("start.slow_present", value=f"{slow:.0f}") if slow else say("program.invented")
    if start.desk.dear_present_ms:
        words = say("start.dear_present", value=f"{start.desk.dear_present_ms:.0f}")
    canvas.text(words, 1872.0, 100.0, 26.0, weight="medium", color=INK_2, anchor="right", width=1100.0)


# Lifts ----------------------------------------------------------------------------------------------------------


def _lifts(canvas: Canvas, start: Start) -> None:
    first = max(0, (start.lift // 2 - 1) * 2)
    for place, index in enumerate(range(first, min(len(start.offers), first + CARDS_SHOWN))):
        x = CARD.x + CARD_PITCH[0] * (place % 2)
        y = CARD.y + CARD_PITCH[1] * (place // 2)
        draw_card_ground(canvas, x, y, CARD.w, CARD.h, is_chosen=index == start.lift, has_focus=start.group == 0)
        _lift(canvas, start.offers[index], x, y, start.desk.settings.units)
        if index == start.lift and start.choice is not None:
            icon(canvas, "tick", x + CARD.w - 38.0, y + 38.0, 44.0)
        start.spots.add(x, y, CARD.w, CARD.h, ("lift", index))
    right = 1160.0
    for count, key, rows in ((len(start.offers) - first - CARDS_SHOWN, "down", 1), (first, "up", -1)):
        if count > 0:
            width = canvas.text(say(f"start.more_{key}", count=count), right, 174.0, 26.0, weight="medium",
                                color=INK_2, anchor="right")  # fmt: skip
            icon(canvas, "arrow", right - width - 18.0, 165.0, 24.0, turn_deg=90 * rows)
            start.spots.add(right - width - 34.0, 140.0, width + 38.0, 48.0, ("row", rows))
            right -= width + 56.0
    _story(canvas, start.offers[start.lift], us=start.desk.settings.units == "us")


def _lift(canvas: Canvas, offer: Offer, x: float, y: float, system: shown.System) -> None:
    if offer.description is None:
        _broken(canvas, offer, x, y)
        return
    description = offer.description
    Thumbnail(description, Region(x + 2.0, y + 2.0, CARD.w - 4.0, PICTURE_H)).draw(canvas)
    left, right = x + 24.0, x + CARD.w - 24.0
    canvas.text(retold(description.title, us=system == "us"), left, y + 238.0, 32.0, weight="bold", width=right - left)
    for n in range(4):
        fill = INK if n < description.difficulty else PANEL
        canvas.disc(left + 9.0 + 26.0 * n, y + 267.0, 9.0, fill=fill, edge=INK, edge_width=2.0)
    canvas.text(_size(description, system), right, y + 276.0, 26.0, color=INK_2, anchor="right", width=380.0)


def _size(description: Description, system: shown.System) -> str:
    down_m = depth_m(description)
    where = "start.on_road" if abs(down_m) < ON_ROAD_M else "start.deep" if down_m > 0.0 else "start.over_road"
    depth = say(where, depth=shown.length(abs(down_m), system).joined)
    mass = say("start.trailer", mass=shown.mass(stated_mass_kg(description.trailer), system).joined)
    return f"{depth},  {mass}"


def _broken(canvas: Canvas, offer: Offer, x: float, y: float) -> None:
    """A file that cannot be used: no picture, a triangle, how many faults."""
    canvas.box(x + 2.0, y + 2.0, CARD.w - 4.0, PICTURE_H, fill=WASH, radius=7.0)
    canvas.box(x + 24.0, y + 54.0, CARD.w - 48.0, 92.0, fill=CAUTION_TINT, edge=INK, radius=8.0)
    icon(canvas, "caution", x + 70.0, y + 100.0, 56.0)
    count = say("faults.count_one") if len(offer.faults) == 1 else say("faults.count", count=len(offer.faults))
    canvas.text(count, x + 112.0, y + 110.0, 28.0, weight="bold", width=CARD.w - 150.0)
    left, width = x + 24.0, CARD.w - 48.0
    canvas.text(offer.name, left, y + 238.0, 32.0, weight="bold", width=width)


def _story(canvas: Canvas, offer: Offer, *, us: bool) -> None:
    """What the chosen lift is about, whole; or the first fault of its file."""
    canvas.box(*STORY, fill=PANEL, edge=RULE, radius=8.0)
    text = retold(offer.description.story, us=us) if offer.description else "".join(offer.faults[:1])
    lines, size, pitch = story_lines(canvas, text)
    top = STORY.y + (STORY.h - pitch * len(lines)) / 2.0 + 0.74 * pitch
    for n, line in enumerate(lines):
        canvas.text(line, STORY.x + 24.0, top + pitch * n, size, weight="medium", width=STORY_W)


def story_lines(canvas: Canvas, text: str) -> tuple[list[str], float, float]:
    """A story in lines, with their size and pitch: the larger if all of it has room then."""
    (size, pitch, most), smaller = STORY_LINES
    if len(lines_of(canvas, text, STORY_W, size=size, weight="medium", most=most + 1)) > most:
        size, pitch, most = smaller
    return lines_of(canvas, text, STORY_W, size=size, weight="medium", most=most), size, pitch


# Who ------------------------------------------------------------------------------------------------------------


def _who(canvas: Canvas, start: Start, index: int, row: WhoRow) -> None:
    y = WHO_Y + index * WHO_PITCH
    is_chosen = row == start.who_row
    draw_card_ground(canvas, WHO_X, y, WHO_W, WHO_H, is_chosen=is_chosen, has_focus=start.group == 1)
    start.spots.add(WHO_X, y, WHO_W, WHO_H, ("who", index))
    draw_people(canvas, WHO_X + 28.0, y + 16.0, row.who, start.seen)
    canvas.text(say(row.title), WHO_X + 166.0, y + 48.0, 34.0, weight="bold", width=410.0)
    if is_chosen:
        icon(canvas, "tick", WHO_X + WHO_W - 38.0, y + 34.0, 32.0)
    if is_chosen and row.who != "two":
        _partner(canvas, start, y)
        return
    canvas.text(say(row.words), WHO_X + 166.0, y + 84.0, 26.0, weight="medium", color=INK_2, width=460.0)


def _partner(canvas: Canvas, start: Start, y: float) -> None:
    """How the seat that nobody sits in drives, between two arrows."""
    how = say(f"start.partner_{WAYS[start.partner].replace(' ', '_')}")
    key = "start.partner" if start.who_row.who != "demo" else "start.partner_right"
    words = start.seen.say(key, how=how)
    left, right = WHO_X + 166.0, WHO_X + WHO_W - 24.0
    for x, turn, by in ((left + 12.0, 180, -1), (right - 12.0, 0, 1)):
        icon(canvas, "arrow", x, y + 75.0, 24.0, turn_deg=turn)
        start.spots.add(x - 26.0, y + 54.0, 52.0, 48.0, ("partner", by))
    canvas.text(words, (left + right) / 2.0, y + 84.0, 26.0, weight="bold", anchor="center", width=right - left - 64.0)


def _controls(canvas: Canvas, start: Start) -> None:
    canvas.text(f"3  {say('start.controls')}", WHO_X, 708.0, 32.0, weight="bold")
    names = start.desk.settings.left_name, start.desk.settings.right_name
    for n, unit in enumerate(start.seen.units):
        side, seat, y = unit.side, seat_of(unit), 730.0 + 70.0 * n
        canvas.box(WHO_X, y, WHO_W, 58.0, fill=PANEL, edge=RULE, radius=8.0)
        if unit.is_alone:
            draw_person(canvas, WHO_X + 16.0, y + 8.0, SIDES[side].main, size=0.62)
        else:
            badge(canvas, side, WHO_X + 33.0, y + 29.0, 42.0)
        right = canvas.text(
            names[side] or say("start.ready"), WHO_X + WHO_W - 62.0, y + 38.0, 26.0, color=INK_2, anchor="right",
            weight="medium", width=200.0,
        )  # fmt: skip
        words = _control_words(start, seat)
        canvas.text(words, WHO_X + 70.0, y + 39.0, 28.0, width=WHO_W - 150.0 - right)
        icon(canvas, "tick", WHO_X + WHO_W - 35.0, y + 29.0, 30.0)


def _control_words(start: Start, seat: Seat) -> str:
    if seat not in start.seats:
        return say("start.automatic")
    keys = say(
        "start.alone_keys" if start.seen.is_alone else "start.left_keys" if seat == "left" else "start.right_keys"
    )
    if seat not in start.pads:
        return keys
    number = sorted(start.pads).index(seat) + 1
    return f"{keys}  +  {say('start.pad', number=number)}"


def _start(canvas: Canvas, start: Start) -> None:
    canvas.box(WHO_X, 884.0, WHO_W, 126.0, fill=INK, radius=10.0)
    title = say("start.start") if start.choice is not None else say("start.show_faults")
    canvas.text(title, WHO_X + 36.0, 942.0, 46.0, weight="bold", color=PANEL, width=START_W)
    canvas.text(start_words(canvas, start), WHO_X + 36.0, 984.0, 26.0, color=PANEL, width=START_W)
    canvas.box(WHO_X + WHO_W - 134.0, 926.0, 96.0, 44.0, fill=PANEL, radius=6.0)
    canvas.text(say("key.enter"), WHO_X + WHO_W - 86.0, 957.0, 28.0, weight="bold", anchor="center", width=84.0)
    start.spots.add(WHO_X, 884.0, WHO_W, 126.0, ("key", pygame.K_RETURN))


def start_words(canvas: Canvas, start: Start) -> str:
    """What Enter would start; of a long title the beginning, so that who drives is always said."""
    description, words = start.offers[start.lift].description, start.said()
    us = start.desk.settings.units == "us"
    title = retold(description.title, us=us) if description is not None else ""
    while len(title) > 1 and canvas.text_width(words, 26.0) > START_W:
        title = title[:-1].rstrip(" ,")
        words = start.said(title=f"{title}\N{HORIZONTAL ELLIPSIS}")
    return words


def draw_card_ground(
    canvas: Canvas, x: float, y: float, w: float, h: float, *, is_chosen: bool, has_focus: bool
) -> None:
    """A card; the chosen one has a thick ink edge, thicker where the keyboard is."""
    if is_chosen:
        edge = 9.0 if has_focus else 4.0
        canvas.box(x - edge, y - edge, w + 2 * edge, h + 2 * edge, fill=INK, radius=14.0)
    canvas.box(x, y, w, h, fill=PANEL, edge=None if is_chosen else RULE, radius=8.0)


def draw_people(canvas: Canvas, x: float, y: float, who: Who, seen: Seen) -> None:
    """Who sits where: a head and shoulders, or a box with a face for an automatic operator."""
    if who == "demo":
        canvas.box(x + 8.0, y + 6.0, 88.0, 60.0, fill=PANEL, edge=INK, edge_width=4.0, radius=6.0)
        icon(canvas, "play", x + 53.0, y + 36.0, 34.0, fill=INK)
        return
    for n, unit in enumerate(seen.units):
        left, color = x + 56.0 * n + (28.0 if unit.is_alone else 0.0), SIDES[unit.side].main
        if who in ("two", seat_of(unit)):
            draw_person(canvas, left, y, color)
            continue
        canvas.box(left, y + 4.0, 44.0, 62.0, fill=PANEL, edge=color, edge_width=4.0, radius=6.0)
        canvas.disc(left + 15.0, y + 26.0, 4.0, fill=color)
        canvas.disc(left + 29.0, y + 26.0, 4.0, fill=color)
        canvas.rect(left + 11.0, y + 46.0, 22.0, 4.0, color)


def draw_person(canvas: Canvas, x: float, y: float, color: Color, *, size: float = 1.0) -> None:
    """A head and shoulders, 44 wide and 66 high."""
    canvas.disc(x + 22.0 * size, y + 15.0 * size, 13.0 * size, fill=color)
    canvas.box(x, y + 32.0 * size, 44.0 * size, 34.0 * size, fill=color, radius=12.0 * size)

"""The start screen: which lift, who sits at the controls, what controls there are, Enter."""

from __future__ import annotations

from typing import NamedTuple

import pygame

from simulator.mechanics.trailer import stated_mass_kg
from simulator.scenario.description import Description, Limits
from simulator.window import measures_shown as shown
from simulator.window.bindings import SEATS, Labels, Seat
from simulator.window.canvas import Canvas
from simulator.window.caution_line import draw_caution_line
from simulator.window.gamepads import find_gamepads
from simulator.window.icons import badge, icon
from simulator.window.layout import Region
from simulator.window.lift import Choice, Who
from simulator.window.measures_shown import System
from simulator.window.palette import INK, INK_2, PANEL, PAPER, RULE, SIDES
from simulator.window.pieces import lines_of
from simulator.window.screens.cards import ENTER_KEYS
from simulator.window.screens.keys import KeysScreen
from simulator.window.screens.screen import STAY, Go
from simulator.window.thumbnail import Thumbnail, depth_m
from simulator.words import say

FOOT_KEYS = (("key.arrows", "key.choose"), ("key.tab", "key.next_group"), ("key.escape", "key.leave"))
CARD = Region(48.0, 200.0, 544.0, 392.0)
CARD_PITCH = (568.0, 418.0)
CARDS_SHOWN = 4
PICTURE_H = 196.0
WHO_X, WHO_W, WHO_Y, WHO_H, WHO_PITCH = 1216.0, 656.0, 200.0, 104.0, 118.0


class WhoRow(NamedTuple):
    """One way to sit down."""

    who: Who
    title: str
    words: str
    said: str


WHO_ROWS = (
    WhoRow("two", "start.two", "start.two_words", "start.who_two"),
    WhoRow("left", "start.one_left", "start.one_words", "start.who_left"),
    WhoRow("right", "start.one_right", "start.one_words", "start.who_right"),
    WhoRow("demo", "start.demo", "start.demo_words", "start.who_demo"),
)
AUTOMATIC_SEATS: dict[Who, tuple[Seat, ...]] = {"two": (), "left": ("right",), "right": ("left",), "demo": SEATS}


class StartScreen:
    """Chooses a lift and who drives it; everything by keyboard."""

    def __init__(self, descriptions: tuple[Description, ...], system: System, *, chosen: Choice | None = None) -> None:
        self.descriptions, self.system = descriptions, system
        self.group = 0
        """0 lifts, 1 who."""
        self.lift = descriptions.index(chosen.description) if chosen and chosen.description in descriptions else 0
        self.who = next((i for i, row in enumerate(WHO_ROWS) if chosen and row.who == chosen.who), 0)
        self._pads = find_gamepads()
        self._keys: KeysScreen | None = None
        self._is_drawn = False

    @property
    def choice(self) -> Choice:
        """What Enter would start."""
        return Choice(self.descriptions[self.lift], WHO_ROWS[self.who].who)

    def take_event(self, event: pygame.event.Event) -> Go:
        """Arrows choose, Tab goes to the other group, Enter starts, F1 shows the keys, Esc leaves."""
        if self._keys is not None:
            if self._keys.take_event(event).to == "back":
                self._keys, self._is_drawn = None, False
            return STAY
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self._pads, self._is_drawn = find_gamepads(), False
        return self._press(event.key) if event.type == pygame.KEYDOWN else STAY

    def _press(self, key: int) -> Go:
        self._is_drawn = False
        if key in ENTER_KEYS:
            return Go("lift", self.choice)
        if key == pygame.K_ESCAPE:
            return Go("quit")
        if key == pygame.K_F1:
            self._keys = KeysScreen(Limits(), labels=Labels(), is_paused=False)
        elif key == pygame.K_TAB:
            self.group = 1 - self.group
        else:
            self._choose(key)
        return STAY

    def _choose(self, key: int) -> None:
        columns = 2 if self.group == 0 else 1
        step = {pygame.K_LEFT: -1, pygame.K_RIGHT: 1, pygame.K_UP: -columns, pygame.K_DOWN: columns}.get(key, 0)
        if self.group == 0:
            self.lift = self.lift + step if 0 <= self.lift + step < len(self.descriptions) else self.lift
        else:
            self.who = min(len(WHO_ROWS) - 1, max(0, self.who + step))

    def renew(self, canvas: Canvas) -> None:
        """Draw it again."""
        self._is_drawn = False
        if self._keys is not None:
            self._keys.renew(canvas)

    def frame(self, canvas: Canvas, elapsed_s: float) -> None:
        """Draws when something changed."""
        if self._keys is not None:
            self._keys.frame(canvas, elapsed_s)
        elif not self._is_drawn:
            self.draw(canvas)
            self._is_drawn = True

    def draw(self, canvas: Canvas) -> None:
        """Draws the whole screen."""
        canvas.clear(PAPER)
        canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
        canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
        canvas.text(say("program.name"), 48.0, 60.0, 46.0, weight="bold")
        canvas.text(say("program.tagline"), 48.0, 98.0, 28.0, weight="medium", colour=INK_2)
        canvas.text(say("program.invented"), 1872.0, 98.0, 28.0, weight="medium", colour=INK_2, anchor="right")
        for number, (x, key) in enumerate(((48.0, "start.choose"), (WHO_X, "start.who")), 1):
            canvas.text(f"{number}  {say(key)}", x, 174.0, 32.0, weight="bold")
        self._draw_lifts(canvas)
        for index, row in enumerate(WHO_ROWS):
            self._draw_who(canvas, index, row)
        self._draw_controls(canvas)
        self._draw_start(canvas)
        draw_caution_line(canvas, FOOT_KEYS, left=48.0)

    # Lifts ------------------------------------------------------------------------------------------------------

    def _draw_lifts(self, canvas: Canvas) -> None:
        first = max(0, (self.lift // 2 - 1) * 2)
        shown_ones = range(first, min(len(self.descriptions), first + CARDS_SHOWN))
        for place, index in enumerate(shown_ones):
            x = CARD.x + CARD_PITCH[0] * (place % 2)
            y = CARD.y + CARD_PITCH[1] * (place // 2)
            self._draw_lift(canvas, index, x, y)
        below = len(self.descriptions) - first - CARDS_SHOWN
        more = say("start.more_down", count=below) if below > 0 else ""
        more = say("start.more_up", count=first) if first else more
        canvas.text(more, 1160.0, 174.0, 26.0, weight="medium", colour=INK_2, anchor="right")

    def _draw_lift(self, canvas: Canvas, index: int, x: float, y: float) -> None:
        description = self.descriptions[index]
        draw_card_ground(canvas, x, y, CARD.w, CARD.h, is_chosen=index == self.lift, has_focus=self.group == 0)
        Thumbnail(description, Region(x + 2.0, y + 2.0, CARD.w - 4.0, PICTURE_H)).draw(canvas)
        if index == self.lift:
            icon(canvas, "tick", x + CARD.w - 38.0, y + 38.0, 44.0)
        left, right = x + 24.0, x + CARD.w - 24.0
        canvas.text(description.title, left, y + 238.0, 32.0, weight="bold", width=right - left)
        lines = lines_of(canvas, description.story, right - left, weight="medium", most=3)
        for n, line in enumerate(lines):
            canvas.text(line, left, y + 274.0 + 30.0 * n, 24.0, weight="medium", colour=INK_2, width=right - left)
        for n in range(4):
            fill = INK if n < description.difficulty else PANEL
            canvas.disc(left + 9.0 + 26.0 * n, y + 367.0, 9.0, fill=fill, edge=INK, edge_width=2.0)
        depth = say("start.deep", depth=shown.length(depth_m(description), self.system).joined)
        mass = say("start.trailer", mass=shown.mass(stated_mass_kg(description.trailer), self.system).joined)
        canvas.text(f"{depth},  {mass}", right, y + 376.0, 26.0, colour=INK_2, anchor="right", width=380.0)

    # Who --------------------------------------------------------------------------------------------------------

    def _draw_who(self, canvas: Canvas, index: int, row: WhoRow) -> None:
        y = WHO_Y + index * WHO_PITCH
        is_chosen = index == self.who
        draw_card_ground(canvas, WHO_X, y, WHO_W, WHO_H, is_chosen=is_chosen, has_focus=self.group == 1)
        draw_people(canvas, WHO_X + 28.0, y + 16.0, row.who)
        canvas.text(say(row.title), WHO_X + 166.0, y + 48.0, 34.0, weight="bold", width=410.0)
        canvas.text(say(row.words), WHO_X + 166.0, y + 84.0, 26.0, weight="medium", colour=INK_2, width=460.0)
        if is_chosen:
            icon(canvas, "tick", WHO_X + WHO_W - 38.0, y + 34.0, 32.0)

    def _draw_controls(self, canvas: Canvas) -> None:
        canvas.text(f"3  {say('start.controls')}", WHO_X, 708.0, 32.0, weight="bold")
        automatic = AUTOMATIC_SEATS[self.choice.who]
        for side, seat in enumerate(SEATS):
            y = 730.0 + 70.0 * side
            canvas.box(WHO_X, y, WHO_W, 58.0, fill=PANEL, edge=RULE, radius=8.0)
            badge(canvas, side, WHO_X + 33.0, y + 29.0, 42.0)
            canvas.text(self._control_words(seat, automatic), WHO_X + 70.0, y + 39.0, 28.0, width=420.0)
            canvas.text(
                say("start.ready"), WHO_X + WHO_W - 62.0, y + 38.0, 26.0, colour=INK_2, anchor="right", weight="medium"
            )
            icon(canvas, "tick", WHO_X + WHO_W - 35.0, y + 29.0, 30.0)

    def _control_words(self, seat: Seat, automatic: tuple[Seat, ...]) -> str:
        if seat in automatic:
            return say("start.automatic")
        keys = say("start.left_keys" if seat == "left" else "start.right_keys")
        if seat not in self._pads:
            return keys
        number = sorted(self._pads).index(seat) + 1
        return f"{keys}  +  {say('start.pad', number=number)}"

    def _draw_start(self, canvas: Canvas) -> None:
        canvas.box(WHO_X, 884.0, WHO_W, 126.0, fill=INK, radius=10.0)
        canvas.text(say("start.start"), WHO_X + 36.0, 942.0, 46.0, weight="bold", colour=PANEL, width=360.0)
        words = say("start.chosen", lift=self.choice.description.title, who=say(WHO_ROWS[self.who].said))
        canvas.text(words, WHO_X + 36.0, 984.0, 26.0, colour=PANEL, width=450.0)
        canvas.box(WHO_X + WHO_W - 134.0, 926.0, 96.0, 44.0, fill=PANEL, radius=6.0)
        canvas.text(say("key.enter"), WHO_X + WHO_W - 86.0, 957.0, 28.0, weight="bold", anchor="centre", width=84.0)


def draw_card_ground(
    canvas: Canvas, x: float, y: float, w: float, h: float, *, is_chosen: bool, has_focus: bool
) -> None:
    """A card; the chosen one has a thick ink edge, thicker where the keyboard is."""
    if is_chosen:
        edge = 9.0 if has_focus else 4.0
        canvas.box(x - edge, y - edge, w + 2 * edge, h + 2 * edge, fill=INK, radius=14.0)
    canvas.box(x, y, w, h, fill=PANEL, edge=None if is_chosen else RULE, radius=8.0)


def draw_people(canvas: Canvas, x: float, y: float, who: Who) -> None:
    """Who sits where: a head and shoulders, or a box with a face for an automatic operator."""
    if who == "demo":
        canvas.box(x + 8.0, y + 6.0, 88.0, 60.0, fill=PANEL, edge=INK, edge_width=4.0, radius=6.0)
        icon(canvas, "play", x + 53.0, y + 36.0, 34.0, fill=INK)
        return
    for side, seat in enumerate(SEATS):
        left, colour = x + 56.0 * side, SIDES[side].main
        if seat in AUTOMATIC_SEATS[who]:
            canvas.box(left, y + 4.0, 44.0, 62.0, fill=PANEL, edge=colour, edge_width=4.0, radius=6.0)
            canvas.disc(left + 15.0, y + 26.0, 4.0, fill=colour)
            canvas.disc(left + 29.0, y + 26.0, 4.0, fill=colour)
            canvas.rect(left + 11.0, y + 46.0, 22.0, 4.0, colour)
        else:
            canvas.disc(left + 22.0, y + 15.0, 13.0, fill=colour)
            canvas.box(left, y + 32.0, 44.0, 34.0, fill=colour, radius=12.0)

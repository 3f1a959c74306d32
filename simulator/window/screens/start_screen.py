"""The start screen: which lift, who sits at the controls, what controls there are, Enter."""

from __future__ import annotations

from pathlib import Path

import pygame

from simulator.drill.ways import WAYS
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.window.hands.bindings import SEATS, Labels, Seat
from simulator.window.hands.gamepads import find_gamepads
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.seen import Seen, seen_in
from simulator.window.protocols import Check
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.window.screens.layout_screen import lay_out
from simulator.window.screens.recordings import RecordingsScreen
from simulator.window.screens.screen import ENTER_KEYS, QUIT, STAY, Cover, Go, Spots, StillScreen
from simulator.window.screens.seat_check import sit_down
from simulator.window.screens.sentences import check_screen, declined_screen, faults_screen
from simulator.window.screens.settings_screen import SettingsScreen
from simulator.window.screens.start_view import WhoRow, draw_start
from simulator.window.shell.desk import Desk
from simulator.window.shell.display import NoDisplay
from simulator.window.shell.lift import Choice, people
from simulator.window.shell.lifts_on_offer import (
    Offer,
    drill_offers,
    offered_lifts,
    shipped_lifts,
    user_folder,
    user_offers,
)
from simulator.words import say

WHO_ROWS = (
    WhoRow("two", "start.two", "start.two_words", "start.who_two"),
    WhoRow("left", "start.one_left", "start.one_words", "start.who_left"),
    WhoRow("right", "start.one_right", "start.one_words", "start.who_right"),
    WhoRow("demo", "start.demo", "start.demo_words", "start.who_demo"),
)
ALONE_ROWS = (
    WhoRow("two", "start.one", "start.one_words_alone", "start.who_one"),
    WhoRow("demo", "start.demo", "start.demo_words", "start.who_demo"),
)
"""For a lift with one unit: it has one seat."""
COLUMNS = 2


def start(desk: Desk, choice: Choice | None = None, over: Cover | None = None) -> StartScreen:
    """The start screen with all lifts on offer.

    Raises:
        NoDisplay: there is no lift to offer.
    """
    if desk.offers is None:
        own = user_offers(user_folder()) if desk.path is not None else ()
        desk.offers = offered_lifts(shipped_lifts(), (*drill_offers(), *own))
    offered = desk.offers
    if choice and all(row.description != choice.description for row in offered):
        offered = (Offer(choice.description), *offered)
    if not any(row.description for row in offered):
        raise NoDisplay(say("program.no_lifts"))
    screen = StartScreen(offered, desk, chosen=choice, check=desk.check)
    screen.over = over
    return screen


class StartScreen(StillScreen):
    """Chooses a lift and who drives it; everything by keyboard, gamepad or mouse."""

    def __init__(
        self, offers: tuple[Offer, ...], desk: Desk, *, chosen: Choice | None = None, check: Check | None = None
    ) -> None:
        self.offers, self.desk, self.check = offers, desk, check
        self.group = 0
        """0 lifts, 1 who."""
        self.lift = next((i for i, row in enumerate(offers) if chosen and row.description == chosen.description), 0)
        self.who = next((i for i, row in enumerate(self.who_rows) if chosen and row.who == chosen.who), 0)
        self.partner = WAYS.index(chosen.partner) if chosen else 0
        """How an empty seat drives, of `WAYS`."""
        self.pads = find_gamepads(self.seats or SEATS)
        self.spots: Spots[tuple[str, int]] = Spots()
        self.over: Cover | None = None
        self._is_drawn = False

    @property
    def who_row(self) -> WhoRow:
        """Who sits at the controls."""
        return self.who_rows[min(self.who, len(self.who_rows) - 1)]

    @property
    def seen(self) -> Seen:
        """How the units of the chosen lift are seen."""
        return seen_in(self.offers[self.lift].description)

    @property
    def who_rows(self) -> tuple[WhoRow, ...]:
        """The ways to sit down at the chosen lift."""
        return ALONE_ROWS if self.seen.is_alone else WHO_ROWS

    @property
    def seats(self) -> tuple[Seat, ...]:
        """The seats that people sit in."""
        description = self.offers[self.lift].description
        return () if description is None else people(self.who_row.who, description)

    @property
    def descriptions(self) -> tuple[Description, ...]:
        """The lifts that can be driven."""
        return tuple(row.description for row in self.offers if row.description is not None)

    @property
    def choice(self) -> Choice | None:
        """What Enter would start; none where the chosen file has faults."""
        description = self.offers[self.lift].description
        return None if description is None else Choice(description, self.who_row.who, WAYS[self.partner])

    # Events -----------------------------------------------------------------------------------------------------

    def take_event(self, event: pygame.event.Event) -> Go:
        """Arrows choose, Tab goes to the other group, Enter starts, Esc leaves; a press of the mouse chooses too."""
        if self.over is not None:
            go = self.over.take_event(event)
            if go.is_back or go.over is not None:
                self.over, self._is_drawn = go.over, False
            return go if go.screen is not None else STAY
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self._find_pads()
        if event.type == pygame.MOUSEBUTTONDOWN:
            return self._click(event.pos)
        if event.type == pygame.MOUSEWHEEL:
            self._scroll(-event.y)
        return self._press(event.key) if event.type == pygame.KEYDOWN else STAY

    def _find_pads(self) -> None:
        self.pads, self._is_drawn = find_gamepads(self.seats or SEATS), False

    def _press(self, key: int) -> Go:
        self._is_drawn = False
        if key in ENTER_KEYS:
            return self._enter()
        if key == pygame.K_ESCAPE:
            return QUIT
        if key == pygame.K_F1:
            self.over = KeysScreen(self.offers[self.lift].description, labels=Labels(), is_paused=False)
        elif key == pygame.K_F2:
            self.over = SettingsScreen(self.desk)
        elif key == pygame.K_c:
            self._check()
        elif key == pygame.K_l and self.desk.lay is not None:
            return Go(lay_out(self.choice, self._own_path))
        elif key == pygame.K_r:
            self.over = RecordingsScreen(self.desk.settings.recordings_folder, self.desk.settings.units)
        elif key == pygame.K_TAB:
            self.group = int(not self.group)
        else:
            self._choose(key)
        return STAY

    def _enter(self) -> Go:
        if self.choice is None:
            self.over = faults_screen(self.offers[self.lift])
            return STAY
        if self.check is not None:
            self.over = declined_screen(self.choice.description, self.check, self.desk.settings.units)
        return Go(sit_down(self.choice)) if self.over is None else STAY

    @property
    def _own_path(self) -> Path | None:
        """The user's own file of the chosen lift; none for one that ships."""
        name = self.offers[self.lift].name
        place = user_folder() / name
        return place if name and self.desk.path is not None and place.is_file() else None

    def _check(self) -> None:
        if self.check is not None and self.choice is not None:
            self.over = check_screen(self.choice.description, self.check, self.desk.settings.units)

    def _choose(self, key: int) -> None:
        if self.group == 1 and key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change_partner(-1 if key == pygame.K_LEFT else 1)
            return
        columns = COLUMNS if self.group == 0 else 1
        step = {pygame.K_LEFT: -1, pygame.K_RIGHT: 1, pygame.K_UP: -columns, pygame.K_DOWN: columns}.get(key, 0)
        if self.group == 0:
            self.lift = self.lift + step if 0 <= self.lift + step < len(self.offers) else self.lift
        else:
            self.who = min(len(self.who_rows) - 1, max(0, self.who + step))
            self._find_pads()

    def _change_partner(self, by: int) -> None:
        """An able partner, a clumsy one, or one with a fault: where there is a seat that nobody sits in."""
        if self.who_row.who != "two":
            self.partner = (self.partner + by) % len(WAYS)

    def _scroll(self, rows: int) -> None:
        """To the lift so many rows further down."""
        self.group, self._is_drawn = 0, False
        self.lift = min(len(self.offers) - 1, max(0, self.lift + COLUMNS * rows))

    def _click(self, pos: tuple[float, float]) -> Go:
        kind, number = self.spots.at(pos) or ("", 0)
        self._is_drawn = False
        if kind == "lift":
            self.group, self.lift = 0, number
        elif kind == "who":
            self.group, self.who = 1, number
            self._find_pads()
        elif kind == "partner":
            self.group = 1
            self._change_partner(number)
        elif kind == "row":
            # To the row next to the two that are shown.
            self._scroll(number * (2 if number < 0 or self.lift < COLUMNS else 1))
        elif kind == "key":
            return self._press(number)
        return STAY

    # Drawing ----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Draw it again."""
        self._is_drawn = False
        if self.over is not None:
            self.over.renew(canvas)

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed."""
        if self.over is not None:
            return self.over.frame(canvas, elapsed_s)
        if self._is_drawn:
            return False
        draw_start(canvas, self)
        self._is_drawn = True
        return True

    def keys(self) -> tuple[tuple[str, str, int], ...]:
        """What else can be called up: cap, words, key."""
        check = (("key.c", "start.check", pygame.K_c),) if self.check is not None else ()
        lay = (("key.l", "layout.title", pygame.K_l),) if self.desk.lay is not None else ()
        return (
            *lay,
            *check,
            ("key.r", "recordings.title", pygame.K_r),
            ("key.f2", "key.settings", pygame.K_F2),
            ("key.f1", "key.keys", pygame.K_F1),
        )

    def said(self, *, title: str = "") -> str:
        """What Enter would start, in words; the lift by a shorter title if one is given."""
        offer = self.offers[self.lift]
        if offer.description is None:
            count = len(offer.faults)
            return say("faults.count_one") if count == 1 else say("faults.count", count=count)
        lift = title or retold(offer.description.title, us=self.desk.settings.units == "us")
        return say("start.chosen", lift=lift, who=say(self.who_row.said))

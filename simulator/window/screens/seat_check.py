"""The seat check: keys and gamepads light up as they arrive, before anything hangs on them."""

from __future__ import annotations

import pygame

from simulator.window.hands.bindings import CREEP, SEATS, STOP_KEY, Labels, Seat
from simulator.window.hands.gamepads import Gamepad, Pad, find_gamepads
from simulator.window.hands.key_check import ROUNDS, Asked, KeyCheck
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line, draw_head, draw_panel
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE, SIDES, WASH
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.screens.cards import ENTER_KEYS
from simulator.window.screens.keys_and_marks import CAP, GREY, ROWS, SCANCODES, Cap, draw_cap, letter_caps
from simulator.window.screens.screen import STAY, Go
from simulator.window.shell.lift import Choice, people
from simulator.words import say

TOP, HEIGHT, WIDTH = 572.0, 296.0, 896.0
PANEL_X = (48.0, 976.0)
VERDICT_Y, VERDICT_H = 884.0, 132.0
FOOT_KEYS = (("key.enter", "key.go_on"), ("key.escape", "key.back"))


def draw_seat_check(
    canvas: Canvas, keys: KeyCheck, labels: Labels, seats: tuple[Seat, ...], pads: dict[Seat, Pad]
) -> None:
    """Draws the whole screen."""
    canvas.clear(PAPER)
    draw_head(canvas, say("check.title"), say("check.words"))
    width = canvas.text(say("key.go_on"), 1872.0, 73.0, 32.0, anchor="right")
    draw_key(canvas, say("key.enter"), 1872.0 - width - 116.0, 38.0, height=46.0, size=30.0)
    _keyboard(canvas, keys, labels, seats)
    for side, seat in enumerate(SEATS):
        draw_panel(canvas, PANEL_X[side], TOP, WIDTH, HEIGHT)
        _seat(canvas, side, seat, keys, labels, is_taken=seat in seats, pad=pads.get(seat))
    _verdict(canvas, keys, labels)
    draw_caution_line(canvas, FOOT_KEYS, left=48.0)


def _keyboard(canvas: Canvas, keys: KeyCheck, labels: Labels, seats: tuple[Seat, ...]) -> None:
    letters = [letter for row, _, _ in ROWS for letter in row]
    for letter, cap in zip(letters, letter_caps(labels), strict=True):
        side = next((n for n in (0, 1) if cap.fill == SIDES[n].main), -1)
        if side >= 0:
            _lamp(canvas, cap, side, SCANCODES[letter], keys, is_dim=SEATS[side] not in seats)
        else:
            draw_cap(canvas, cap._replace(fill=WASH if cap.fill != GREY else GREY))
    for side, x, w, words in ((0, 48.0, 469.0, "help.left_slow"), (1, 1525.0, 347.0, "help.right_slow")):
        cap = Cap(x, 352.0, w, say("key.shift"), say(words), SIDES[side].main)
        _lamp(canvas, cap, side, CREEP[SEATS[side]], keys, is_dim=SEATS[side] not in seats)
    space = Cap(645.0, 452.0, 632.0, say("key.space"), say("help.stop_both"), INK)
    is_down = STOP_KEY in keys.held
    draw_cap(canvas, space if is_down else space._replace(fill=GREY))
    if STOP_KEY in keys.seen and not is_down:
        icon(canvas, "tick", space.x + space.w - 26.0, space.y + 26.0, 28.0)


def _lamp(canvas: Canvas, cap: Cap, side: int, scancode: int, keys: KeyCheck, *, is_dim: bool) -> None:
    """A key of a seat: pale until it is down, with a tick once it has arrived."""
    is_down = scancode in keys.held
    if is_down:
        draw_cap(canvas, cap)
        canvas.box(cap.x - 4.0, cap.y - 4.0, cap.w + 8.0, CAP + 8.0, edge=INK, edge_width=4.0, radius=10.0)
        return
    canvas.box(cap.x, cap.y, cap.w, CAP, fill=WASH if is_dim else SIDES[side].tint, radius=8.0)
    canvas.text(cap.label, cap.x + 12.0, cap.y + 31.0, 28.0, weight="bold", colour=SIDES[side].dark)
    for index, line in enumerate(lines_of(canvas, cap.does, cap.w - 16.0)):
        canvas.text(line, cap.x + 12.0, cap.y + 58.0 + 24.0 * index, 24.0, colour=SIDES[side].dark, width=cap.w - 14.0)
    if scancode in keys.seen:
        icon(canvas, "tick", cap.x + cap.w - 20.0, cap.y + 20.0, 26.0, fill=SIDES[side].dark)


def _seat(
    canvas: Canvas, side: int, seat: Seat, keys: KeyCheck, labels: Labels, *, is_taken: bool, pad: Pad | None
) -> None:
    x = PANEL_X[side]
    badge(canvas, side, x + 52.0, TOP + 50.0, 52.0)
    title = say("help.left_seat" if side == 0 else "help.right_seat")
    canvas.text(title, x + 96.0, TOP + 62.0, 34.0, weight="bold", colour=SIDES[side].main, width=460.0)
    if not is_taken:
        canvas.text(say("start.automatic"), x + 28.0, TOP + 140.0, 32.0, colour=INK_2, width=WIDTH - 56.0)
        return
    if isinstance(pad, Gamepad):
        _pad(canvas, side, pad, x)
        return
    mine = [row for row in keys.asked if row.seat == seat]
    if not mine:
        icon(canvas, "tick", x + 56.0, TOP + 156.0, 52.0)
        canvas.text(say("check.arrived"), x + 100.0, TOP + 168.0, 34.0, weight="bold", width=WIDTH - 130.0)
        return
    canvas.text(say("check.hold_both"), x + WIDTH - 28.0, TOP + 62.0, 32.0, weight="bold", anchor="right", width=320.0)
    for index, row in enumerate(mine):
        _big_key(canvas, side, row, x + 28.0 + index * 428.0, keys, labels)


def _big_key(canvas: Canvas, side: int, row: Asked, x: float, keys: KeyCheck, labels: Labels) -> None:
    """One key to hold, with its lamp."""
    y, w, h = TOP + 100.0, 412.0, 168.0
    is_down, is_missing = row.scancode in keys.held, keys.missing == row
    fill = SIDES[side].main if is_down else CAUTION_TINT if is_missing else PANEL
    colour = PANEL if is_down else INK
    canvas.box(x, y, w, h, fill=fill, edge=INK, edge_width=4.0 if is_down else 2.0, radius=10.0)
    canvas.text(labels.of(row.scancode), x + 28.0, y + 84.0, 80.0, weight="bold", colour=colour)
    canvas.text(say(f"keycap.{row.word}"), x + 28.0, y + 138.0, 32.0, weight="bold", colour=colour, width=w - 56.0)
    word = "check.here" if is_down else "check.missing" if is_missing else "check.waiting"
    canvas.text(say(word), x + w - 72.0, y + 58.0, 28.0, colour=colour, anchor="right", width=180.0)
    if is_down:
        icon(canvas, "tick", x + w - 40.0, y + 48.0, 40.0, fill=PANEL, mark=SIDES[side].main)
    elif is_missing:
        icon(canvas, "caution", x + w - 40.0, y + 46.0, 44.0)
    else:
        canvas.disc(x + w - 40.0, y + 48.0, 20.0, edge=INK_2, edge_width=3.0)


def _pad(canvas: Canvas, side: int, pad: Gamepad, x: float) -> None:
    """Both sticks as they lie, triggers, shoulder and stop button."""
    state = pad.state()
    for index, (across, down) in enumerate(pad.sticks()):
        middle_x, middle_y = x + 130.0 + index * 250.0, TOP + 176.0
        canvas.disc(middle_x, middle_y, 78.0, fill=PANEL, edge=INK, edge_width=3.0)
        canvas.disc(middle_x + 50.0 * across, middle_y + 50.0 * down, 26.0, fill=SIDES[side].main)
        words = say("help.slew_and_boom" if index == 0 else "help.line")
        canvas.text(words, middle_x, TOP + 282.0, 24.0, anchor="centre", width=240.0)
    rows = (
        (say("help.extend"), state.wanted.telescope > 0.0),
        (say("help.retract"), state.wanted.telescope < 0.0),
        (say("check.slow"), state.creep),
        (say("help.stop"), state.stop),
    )
    for index, (words, is_on) in enumerate(rows):
        y = TOP + 92.0 + 50.0 * index
        canvas.box(x + 540.0, y, 328.0, 42.0, fill=SIDES[side].main if is_on else WASH, edge=RULE, radius=8.0)
        canvas.text(words, x + 560.0, y + 30.0, 26.0, weight="bold", colour=PANEL if is_on else INK, width=288.0)


def _verdict(canvas: Canvas, keys: KeyCheck, labels: Labels) -> None:
    """What the check has come to, and what to do about it."""
    if keys.missing is not None:
        words, mark = say("check.is_missing", label=labels.of(keys.missing.scancode)), "caution"
    elif keys.done:
        words, mark = say("check.all_done"), "tick"
    else:
        is_alone = len({one.seat for one in keys.asked}) == 1
        words, mark = say("check.now" if is_alone else "check.now_together", turn=keys.turn + 1, count=len(ROUNDS)), ""
    fill, edge = (CAUTION_TINT, CAUTION) if mark == "caution" else (PANEL, INK)
    canvas.box(48.0, VERDICT_Y, 1824.0, VERDICT_H, fill=fill, edge=edge, radius=10.0)
    left = 84.0
    if mark:
        icon(canvas, mark, 104.0, VERDICT_Y + VERDICT_H / 2.0, 56.0)  # type: ignore[arg-type]
        left = 152.0
    lines = lines_of(canvas, words, 1860.0 - left, size=32.0, weight="bold")
    y = VERDICT_Y + VERDICT_H / 2.0 + 11.0 - 20.0 * (len(lines) - 1)
    for index, line in enumerate(lines):
        canvas.text(line, left, y + 42.0 * index, 32.0, weight="bold", width=1860.0 - left)


class SeatCheck:
    """Between the start screen and the lift; Enter goes on, Esc goes back."""

    def __init__(self, choice: Choice) -> None:
        self.choice = choice
        self.labels = Labels()
        self.seats: tuple[Seat, ...] = people(choice.who)
        self.pads = find_gamepads(self.seats)
        self.keys = self._key_check()
        self._is_drawn = False

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        return True

    def _key_check(self) -> KeyCheck:
        """Whoever has a gamepad is not asked for keys."""
        return KeyCheck(tuple(seat for seat in SEATS if seat in self.seats and seat not in self.pads))

    def take_event(self, event: pygame.event.Event) -> Go:
        """Follow the keys; Enter goes on, Esc back."""
        self._is_drawn = self._is_drawn and event.type == pygame.MOUSEMOTION
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self.pads = find_gamepads(self.seats)
            self.keys = self._key_check()
        elif event.type == pygame.KEYDOWN:
            return self._press(event)
        elif event.type == pygame.KEYUP:
            self.keys.release(event.scancode)
        elif event.type == pygame.WINDOWFOCUSLOST:
            self.keys.let_go()
        elif event.type == pygame.MOUSEBUTTONDOWN and event.pos[0] > 1400.0 and event.pos[1] < 118.0:
            return Go("lift", self.choice)
        return STAY

    def _press(self, event: pygame.event.Event) -> Go:
        if event.key in ENTER_KEYS:
            return Go("lift", self.choice)
        if event.key == pygame.K_ESCAPE:
            return Go("start", self.choice)
        self.labels.learn(event.scancode, event.key)
        self.keys.press(event.scancode)
        return STAY

    def renew(self, canvas: Canvas) -> None:
        """Draw it again."""
        self._is_drawn = False

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed; always where there are gamepads, whose sticks move."""
        changed = self.keys.pass_time(elapsed_s)
        if self._is_drawn and not changed and not self.pads:
            return False
        draw_seat_check(canvas, self.keys, self.labels, self.seats, self.pads)
        self._is_drawn = True
        return True

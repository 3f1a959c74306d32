"""The seat check: keys and gamepads light up as they arrive, before anything hangs on them."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from simulator.window.hands.bindings import CREEP, SEATS, STOP_KEY, Labels, Seat, keys_of, seat_of
from simulator.window.hands.gamepads import Gamepad, Pad, PadState, find_gamepads
from simulator.window.hands.key_check import SLOW, AskedKey, KeyCheck, rounds_of
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line, draw_head, draw_panel
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE, SIDES, WASH
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import Seen, SeenUnit, seen_of
from simulator.window.screens.drive import drive
from simulator.window.screens.keys_and_marks import (
    GRAY,
    Cap,
    draw_cap,
    draw_cap_words,
    letter_caps,
    slow_caps,
    space_cap,
)
from simulator.window.screens.screen import ENTER_KEYS, STAY, Go, Screen, Shell, StillScreen, to_start
from simulator.window.shell.lift import Choice, people
from simulator.words import say

TOP, HEIGHT, WIDTH = 572.0, 296.0, 896.0
PANEL_X, ALONE_W = (48.0, 976.0), 1824.0
VERDICT_Y, VERDICT_H = 884.0, 132.0
FOOT_KEYS = (("key.enter", "key.go_on"), ("key.escape", "key.back"))
ROW_TOP, ROW_AREA, CHIP_GAP = 88.0, 200.0, 8.0


def draw_seat_check(
    canvas: Canvas, keys: KeyCheck, labels: Labels, seats: tuple[Seat, ...], pads: dict[Seat, Pad], seen: Seen
) -> None:
    """Draws the whole screen."""
    canvas.clear(PAPER)
    draw_head(canvas, say("check.title"), say("check.words"))
    width = canvas.text(say("key.go_on"), 1872.0, 73.0, 32.0, anchor="right")
    draw_key(canvas, say("key.enter"), 1872.0 - width - 116.0, 38.0, height=46.0, size=30.0)
    _keyboard(canvas, keys, labels, seats, seen)
    for unit in seen.units:
        seat = seat_of(unit)
        x, w = (PANEL_X[0], ALONE_W) if unit.is_alone else (PANEL_X[unit.side], WIDTH)
        draw_panel(canvas, x, TOP, w, HEIGHT)
        _seat(canvas, unit, x, w, keys, labels, is_taken=seat in seats, pad=pads.get(seat))
    _verdict(canvas, keys, labels)
    draw_caution_line(canvas, FOOT_KEYS, left=48.0)


def _keyboard(canvas: Canvas, keys: KeyCheck, labels: Labels, seats: tuple[Seat, ...], seen: Seen) -> None:
    for cap in (*letter_caps(labels, seen), *slow_caps(seen)):
        if cap.side >= 0:
            _lamp(canvas, cap, keys, is_dim=SEATS[cap.side] not in seats)
        else:
            draw_cap(canvas, cap)
    space, is_down = space_cap(seen), STOP_KEY in keys.held
    draw_cap(canvas, space if is_down else space._replace(fill=GRAY))
    if STOP_KEY in keys.seen and not is_down:
        icon(canvas, "tick", space.x + space.w - 26.0, space.y + 26.0, 28.0)


def _lamp(canvas: Canvas, cap: Cap, keys: KeyCheck, *, is_dim: bool) -> None:
    """A key of a seat: pale until it is down, with a tick once it has arrived."""
    color = SIDES[cap.side]
    if cap.scancode in keys.held:
        draw_cap(canvas, cap)
        canvas.box(cap.x - 4.0, cap.y - 4.0, cap.w + 8.0, cap.h + 8.0, edge=INK, edge_width=4.0, radius=10.0)
        return
    canvas.box(cap.x, cap.y, cap.w, cap.h, fill=WASH if is_dim else color.tint, radius=8.0)
    canvas.text(cap.label, cap.x + 12.0, cap.y + 29.0, 28.0, weight="bold", color=color.dark)
    draw_cap_words(canvas, cap, color.dark)
    if cap.scancode in keys.seen:
        icon(canvas, "tick", cap.x + cap.w - 20.0, cap.y + 20.0, 26.0, fill=color.dark)


def _seat(
    canvas: Canvas, unit: SeenUnit, x: float, w: float, keys: KeyCheck, labels: Labels, *, is_taken: bool,
    pad: Pad | None,
) -> None:  # fmt: skip
    left, color = x + 28.0, SIDES[unit.side].main
    if not unit.is_alone:
        badge(canvas, unit.side, x + 52.0, TOP + 46.0, 52.0)
        left = x + 96.0
    title = say(f"help.{unit.where}_seat")
    canvas.text(title, left, TOP + 58.0, 34.0, weight="bold", color=color, width=400.0)
    if not is_taken:
        canvas.text(say("start.automatic"), x + 28.0, TOP + 140.0, 32.0, color=INK_2, width=w - 56.0)
        return
    if isinstance(pad, Gamepad):
        _pad(canvas, unit, pad, x)
        return
    mine = {row.scancode: row for row in keys.asked if row.seat == seat_of(unit)}
    words = say("check.hold_marked" if mine else "check.arrived")
    width = canvas.text(words, x + w - 28.0, TOP + 58.0, 30.0, weight="bold", anchor="right", width=380.0)
    if not mine:
        icon(canvas, "tick", x + w - 52.0 - width, TOP + 48.0, 36.0)
    _rows(canvas, unit, x, w, keys, labels, mine)


def _rows(
    canvas: Canvas, unit: SeenUnit, x: float, w: float, keys: KeyCheck, labels: Labels, mine: dict[int, AskedKey]
) -> None:
    """A row for each lever with its two keys, in two columns, and last the slow key."""
    seat = seat_of(unit)
    levers = [[(row.scancode(seat), row.word) for row in keys_of(lever)] for lever in unit.unit.levers]
    rows = [*levers, [(CREEP[seat], SLOW)]]
    count = -(-len(rows) // 2)
    pitch, chip_w = ROW_AREA / count, (w - 56.0 - 3.0 * CHIP_GAP) / 4.0
    for n, row in enumerate(rows):
        left, y = x + 28.0 + (n // count) * 2.0 * (chip_w + CHIP_GAP), TOP + ROW_TOP + (n % count) * pitch
        for k, (scancode, word) in enumerate(row):
            place = Region(left + k * (chip_w + CHIP_GAP), y, chip_w, min(56.0, pitch - 6.0))
            label = labels.of(scancode) or say("key.shift")
            _chip(canvas, unit.side, place, label, say(f"keycap.{word}"), _state(keys, scancode, mine))


def _state(keys: KeyCheck, scancode: int, mine: dict[int, AskedKey]) -> str:
    """down, missing, asked, seen, or nothing."""
    if scancode in keys.held:
        return "down"
    if keys.missing is not None and mine.get(scancode) == keys.missing:
        return "missing"
    return "asked" if scancode in mine else "seen" if scancode in keys.seen else ""


def _chip(canvas: Canvas, side: int, place: Region, label: str, words: str, state: str) -> None:
    """One key of a lever: filled while it is down, with a thick edge while it is asked for, a tick once it arrived."""
    color, middle = SIDES[side], place.y + place.h / 2.0
    fill = color.main if state == "down" else CAUTION_TINT if state == "missing" else PANEL
    ink = PANEL if state == "down" else INK
    has_edge = state in ("asked", "missing", "down")
    canvas.box(*place, fill=fill, edge=INK if has_edge else RULE, edge_width=4.0 if has_edge else 2.0, radius=8.0)
    width = canvas.text(label, place.x + 12.0, middle + 11.0, 32.0, weight="bold", color=ink)
    left, mark = place.x + 12.0 + max(32.0, width + 10.0), place.right - 20.0
    canvas.text(words, left, middle + 9.0, 26.0, color=ink, width=(mark - 14.0 if state else place.right - 8.0) - left)
    if state in ("down", "seen"):
        icon(canvas, "tick", mark, middle, 26.0, fill=ink, mark=color.main if state == "down" else PANEL)
    elif state == "missing":
        icon(canvas, "caution", mark, middle, 30.0)
    elif state == "asked":
        canvas.disc(mark, middle, 11.0, edge=INK_2, edge_width=3.0)


def _pad(canvas: Canvas, unit: SeenUnit, pad: Gamepad, x: float) -> None:
    """Both sticks as they lie, triggers, shoulder and stop button."""
    state, fill = pad.state(), SIDES[unit.side].main
    has_two = len(unit.unit.lines) > 1
    for index, (across, down) in enumerate(pad.sticks()):
        middle_x, middle_y = x + 130.0 + index * 250.0, TOP + 176.0
        canvas.disc(middle_x, middle_y, 78.0, fill=PANEL, edge=INK, edge_width=3.0)
        canvas.disc(middle_x + 50.0 * across, middle_y + 50.0 * down, 26.0, fill=fill)
        words = say("help.slew_and_boom" if index == 0 else "help.lines" if has_two else "help.line")
        canvas.text(words, middle_x, TOP + 282.0, 24.0, anchor="center", width=240.0)
    rows = (
        (say("help.extend"), state.telescope > 0.0),
        (say("help.retract"), state.telescope < 0.0),
        *_shoulders(state, has_two=has_two),
        (say("help.stop_alone" if unit.is_alone else "help.stop"), state.stop),
    )
    for index, (words, is_on) in enumerate(rows):
        y = TOP + 82.0 + (42.0 if has_two else 50.0) * index
        canvas.box(x + 540.0, y, 328.0, 38.0, fill=fill if is_on else WASH, edge=RULE, radius=8.0)
        canvas.text(words, x + 560.0, y + 28.0, 26.0, weight="bold", color=PANEL if is_on else INK, width=288.0)


def _shoulders(state: PadState, *, has_two: bool) -> tuple[tuple[str, bool], ...]:
    """What the shoulder buttons do, and whether they do it now."""
    if not has_two:
        return ((say("check.slow"), state.left_shoulder or state.right_shoulder),)
    return (say("check.line_1"), state.left_shoulder), (say("check.line_2"), state.right_shoulder)


def _verdict(canvas: Canvas, keys: KeyCheck, labels: Labels) -> None:
    """What the check has come to, and what to do about it."""
    if keys.missing is not None:
        words, mark = say("check.is_missing", label=labels.of(keys.missing.scancode) or say("key.shift")), "caution"
    elif keys.done:
        words, mark = say("check.all_done"), "tick"
    else:
        is_alone = len({one.seat for one in keys.asked}) == 1
        words, mark = (
            say("check.now" if is_alone else "check.now_together", turn=keys.turn + 1, count=len(keys.rounds)),
            "",
        )
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


def sit_down(choice: Choice) -> Callable[[Shell], Screen]:
    """People look at their seats first; nobody has no seat to look at."""
    return drive(choice) if choice.who == "demo" else lambda _: SeatCheck(choice)


class SeatCheck(StillScreen):
    """Between the start screen and the lift; Enter goes on, Esc goes back."""

    def __init__(self, choice: Choice) -> None:
        self.choice = choice
        self.labels = Labels()
        self.seen = seen_of(choice.description)
        self.seats: tuple[Seat, ...] = people(choice.who, choice.description)
        self.pads = find_gamepads(self.seats)
        self.keys = self._key_check()
        self._is_drawn = False

    def _key_check(self) -> KeyCheck:
        """Whoever has a gamepad is not asked for keys."""
        return KeyCheck(rounds_of(self.seen, [seat for seat in self.seats if seat not in self.pads]))

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
            return Go(drive(self.choice))
        return STAY

    def _press(self, event: pygame.event.Event) -> Go:
        if event.key in ENTER_KEYS:
            return Go(drive(self.choice))
        if event.key == pygame.K_ESCAPE:
            return to_start(self.choice)
        self.labels.learn(event.scancode, event.key)
        self.keys.press(event.scancode)
        return STAY

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed; always where there are gamepads, whose sticks move."""
        changed = self.keys.pass_time(elapsed_s)
        if self._is_drawn and not changed and not self.pads:
            return False
        draw_seat_check(canvas, self.keys, self.labels, self.seats, self.pads, self.seen)
        self._is_drawn = True
        return True

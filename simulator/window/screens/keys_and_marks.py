"""Keys and marks: the keyboard with its seats, the gamepad, the rose, and what the shapes mean."""

from __future__ import annotations

from math import cos, pi, sin
from typing import NamedTuple

import pygame

from simulator.scenario.description import Description, Limits
from simulator.window.hands.bindings import CREEP, Labels, bindings_of, seat_of
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.head_foot import draw_caution_line, is_back
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import (
    INK,
    INK_2,
    INK_3,
    PANEL,
    PAPER,
    RULE,
    SIDES,
    SOIL_MARK,
    STEEL,
    STEEL_LIGHT,
    WASH,
    Color,
)
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.kit.seen import Seen, seen_in
from simulator.window.readouts.outrigger_board import loose_tile
from simulator.window.readouts.rose import LineDot, RoseLook, draw_rose
from simulator.window.screens.screen import BACK, STAY, Go, StillScreen
from simulator.words import say

TOP, HEIGHT, WIDTH = 572.0, 440.0, 592.0
PAD_OUTLINE: tuple[Spot, ...] = (
    (143, 123), (450, 123), (493, 169), (502, 275), (470, 294),
    (400, 233), (193, 233), (138, 294), (90, 275), (100, 169),
)  # fmt: skip
LEFT_STICK, RIGHT_STICK, BUTTON = (200.0, 182.0), (392.0, 182.0), (296.0, 198.0)


def _panel(canvas: Canvas, x: float, title: str) -> None:
    canvas.box(x, TOP, WIDTH, HEIGHT, fill=PANEL, edge=RULE, radius=8.0)
    canvas.text(title, x + 28.0, TOP + 46.0, 34.0, weight="bold", width=WIDTH - 56.0)


def draw_gamepad_panel(canvas: Canvas, x: float, seen: Seen) -> None:
    """The gamepad, drawn, with what its sticks and buttons do."""
    levers = {lever.key for unit in seen.units for lever in unit.unit.levers}
    has_two = "hoist_2" in levers
    _panel(canvas, x, seen.say("help.gamepad"))
    for left in (128.0, 368.0):
        canvas.box(x + left, TOP + 98.0, 96.0, 40.0, fill=STEEL, edge=INK, radius=8.0)
    canvas.polygon([(x + a, TOP + b) for a, b in PAD_OUTLINE], STEEL_LIGHT, edge=INK, edge_width=2.5)
    for a, b in (LEFT_STICK, RIGHT_STICK):
        canvas.disc(x + a, TOP + b, 37.0, fill=PANEL, edge=INK, edge_width=2.5)
        canvas.disc(x + a, TOP + b, 17.0, fill=INK)
    canvas.disc(x + BUTTON[0], TOP + BUTTON[1], 20.0, fill=INK)
    canvas.text(say("help.retract"), x + 32.0, TOP + 102.0, 26.0, width=92.0)
    canvas.text(say("help.extend"), x + WIDTH - 32.0, TOP + 102.0, 26.0, anchor="right", width=92.0)
    _pad_leaders(canvas, x)
    canvas.text(seen.say("help.stop"), x + 296.0, TOP + 300.0, 26.0, anchor="center", width=200.0)
    canvas.text(say("help.slew_and_boom"), x + 28.0, TOP + 354.0, 26.0, width=250.0)
    line = "help.lines_turn" if "turn" in levers else "help.lines" if has_two else "help.line"
    canvas.text(say(line), x + WIDTH - 28.0, TOP + 354.0, 26.0, anchor="right", width=300.0)
    words = say("help.shoulders" if has_two else "help.shoulder")
    canvas.text(words, x + 296.0, TOP + 406.0, 26.0, weight="medium", color=INK_2, anchor="center", width=WIDTH - 40.0)


def _pad_leaders(canvas: Canvas, x: float) -> None:
    for (a, b), end in ((LEFT_STICK, 100.0), (RIGHT_STICK, 492.0)):
        path = [(x + a, TOP + b + 20.0), (x + a, TOP + 302.0), (x + end, TOP + 302.0), (x + end, TOP + 326.0)]
        canvas.polyline(path, INK, width=2.0)
    canvas.line((x + BUTTON[0], TOP + BUTTON[1] + 20.0), (x + BUTTON[0], TOP + 274.0), INK, width=2.0)


def draw_rose_panel(canvas: Canvas, x: float, limits: Limits, seen: Seen) -> None:
    """The rose with a hook off plumb, and what center, dot and arrow are; with the dots of two lines if there are."""
    has_two = any(len(unit.unit.lines) > 1 for unit in seen.units)
    lines = (LineDot(1, (-1.4, 3.0), False), LineDot(2, (-2.6, -0.6), False)) if has_two else ()
    _panel(canvas, x, say("help.rose"))
    trail = tuple((-1.9 + 0.85 * cos(n * pi / 12), 1.35 + 0.5 * sin(n * pi / 12 + 0.9)) for n in range(25))
    look = RoseLook((-1.9, 1.35), (-1.9, 1.35), trail, Level.CAUTION, slack=False, lines=lines)
    draw_rose(canvas, 0, x + 150.0, TOP + 196.0, 112.0, look, limits)
    dots = "dots_words" if has_two else "dot_words"
    rows = (("center_mark", "center_words"), ("dot", dots), ("arrow", "arrow_words"))
    for index, (head, words) in enumerate(rows):
        y = TOP + 116.0 + 78.0 * index
        canvas.text(say(f"help.{head}"), x + 296.0, y, 28.0, weight="bold", width=270.0)
        canvas.text(say(f"help.{words}"), x + 296.0, y + 33.0, 26.0, weight="medium", color=INK_2, width=270.0)
    values = {
        "plumb": limits.plumb_rad,
        "caution": limits.off_plumb_caution_rad,
        "stop": limits.off_plumb_stop_rad,
    }
    texts = {name: shown.angle(value).joined for name, value in values.items()}
    canvas.text(say("help.rings", **texts), x + 28.0, TOP + 368.0, 26.0, width=WIDTH - 56.0)
    canvas.text(say("help.lies"), x + 28.0, TOP + 406.0, 26.0, weight="medium", color=INK_2, width=WIDTH - 56.0)


def draw_shapes_panel(canvas: Canvas, x: float) -> None:
    """Tick, triangle, octagon, loose tile, thick edge."""
    _panel(canvas, x, say("help.shapes"))
    for index, (name, word) in enumerate((("tick", "tick"), ("caution", "triangle"), ("stop", "octagon"))):
        y = TOP + 92.0 + 72.0 * index
        icon(canvas, name, x + 60.0, y, 50.0)  # type: ignore[arg-type]
        _words(canvas, x + 112.0, y, word)
    y = TOP + 314.0
    canvas.box(x + 28.0, y - 25.0, 122.0, 54.0, fill=WASH, edge=INK_2, radius=6.0)
    canvas.hatch(x + 31.0, y - 22.0, 116.0, 48.0, SOIL_MARK)
    tile = loose_tile("0.9", "", Level.CAUTION, False, canvas.f)
    px, py = canvas.to_px(x + 89.0, y - 7.0)
    canvas.surface.blit(tile, tile.get_rect(center=(round(px), round(py))))
    _words(canvas, x + 176.0, y, "loose")
    y = TOP + 388.0
    canvas.box(x + 28.0, y - 27.0, 122.0, 54.0, fill=PANEL, edge=INK, edge_width=4.0, radius=6.0)
    canvas.digits("4.3", x + 89.0, y + 14.0, 40.0, anchor="center")
    _words(canvas, x + 176.0, y, "thick")


def _words(canvas: Canvas, x: float, y: float, word: str) -> None:
    room = WIDTH - (x - 1280.0) - 24.0
    canvas.text(say(f"help.{word}"), x, y - 4.0, 28.0, weight="bold", width=room)
    canvas.text(say(f"help.{word}_words"), x, y + 28.0, 26.0, weight="medium", color=INK_2, width=room)


CAP, PITCH = 92.0, 100.0
DIGITS = ("1234567890", 425.0)
"""Letters and the left edge of the first; drawn only where a digit does something."""
ROWS = (("QWERTYUIOP", 450.0), ("ASDFGHJKL;", 478.0), ("ZXCVBNM,./", 525.0))
OTHER_CAPS = {"C": "help.why", "V": "help.zoom_out", "B": "help.center", "N": "help.zoom_in", "M": "help.mute"}
GRAY = (212, 217, 222)
SCANCODES = {
    **{letter: getattr(pygame, f"KSCAN_{letter}") for letter in "QWERTYUIOPASDFGHJKLZXCVBNM1234567890"},
    ";": pygame.KSCAN_SEMICOLON,
    ",": pygame.KSCAN_COMMA,
    ".": pygame.KSCAN_PERIOD,
    "/": pygame.KSCAN_SLASH,
}


class Cap(NamedTuple):
    """One key of the picture."""

    x: float
    y: float
    w: float
    label: str
    does: str
    fill: Color
    h: float = CAP
    side: int = -1
    """The seat it belongs to, 0 left, 1 right."""
    scancode: int = 0


class Keyboard(NamedTuple):
    """How the keys stand on the screen: with the row of digits they stand closer."""

    rows: tuple[tuple[str, float], ...]
    top: float
    pitch: float
    cap: float

    def y(self, row: int) -> float:
        """Top of a row, counted from the row of letters under the digits."""
        return self.top + self.pitch * (row + len(self.rows) - len(ROWS))


def keyboard_of(seen: Seen) -> Keyboard:
    """With digits only where one of them moves a lever."""
    digits = {SCANCODES[letter] for letter in DIGITS[0]}
    if digits & bound_keys(seen).keys():
        return Keyboard((DIGITS, *ROWS), 128.0, 87.0, 82.0)
    return Keyboard(ROWS, 152.0, PITCH, CAP)


def bound_keys(seen: Seen) -> dict[int, tuple[int, str]]:
    """What each bound key does: scancode to seat (0 left, 1 right) and its words."""
    return {
        row.scancode(seat_of(unit)): (unit.side, say(f"keycap.{row.word}"))
        for unit in seen.units
        for row in bindings_of(unit.unit)
    }


def letter_caps(labels: Labels, seen: Seen) -> list[Cap]:
    """The keys of letters, and of the digits that are used, labeled as the user's keyboard prints them."""
    bound, keyboard, caps = bound_keys(seen), keyboard_of(seen), []
    for row, (letters, left) in enumerate(keyboard.rows):
        for index, letter in enumerate(letters):
            scancode = SCANCODES[letter]
            side, does = bound.get(scancode, (-1, say(OTHER_CAPS[letter]) if letter in OTHER_CAPS else ""))
            if side < 0 and letters == DIGITS[0]:
                continue
            fill = SIDES[side].main if side >= 0 else GRAY if does else WASH
            place = left + index * PITCH, keyboard.top + row * keyboard.pitch
            caps.append(Cap(*place, CAP, labels.of(scancode), does, fill, keyboard.cap, side, scancode))
    return caps


def slow_caps(seen: Seen) -> list[Cap]:
    """Each seat's slow key."""
    keyboard, shift = keyboard_of(seen), say("key.shift")
    places = ((48.0, 469.0), (1525.0, 347.0))
    return [
        Cap(places[one.side][0], keyboard.y(2), places[one.side][1], shift, say(f"help.{one.where}_slow"),
            SIDES[one.side].main, keyboard.cap, one.side, CREEP[seat_of(one)])
        for one in seen.units
    ]  # fmt: skip


def space_cap(seen: Seen) -> Cap:
    """The STOP key."""
    keyboard = keyboard_of(seen)
    return Cap(645.0, keyboard.y(3), 632.0, say("key.space"), seen.say("help.stop_both"), INK, keyboard.cap)


def other_caps(seen: Seen, *, holds: bool = False) -> list[Cap]:
    """The keys of the program; `holds`: there is a holding line to let out."""
    keyboard = keyboard_of(seen)
    upper, middle, h = keyboard.y(0), keyboard.y(1), keyboard.cap
    let_out = [Cap(1544.0, upper, 104.0, say("key.f4"), say("help.let_out"), GRAY, h)] if holds else []
    return [
        *let_out,
        Cap(48.0, upper, 104.0, say("key.escape"), say("key.pause"), GRAY, h),
        Cap(160.0, upper, 104.0, say("key.f1"), say("key.keys"), GRAY, h),
        Cap(272.0, upper, 104.0, say("key.f2"), say("help.units"), GRAY, h),
        Cap(48.0, middle, 216.0, say("key.tab"), say("instructor.title"), GRAY, h),
        Cap(272.0, middle, 104.0, say("key.f11"), say("help.full_screen"), GRAY, h),
        Cap(1486.0, middle, 274.0, say("key.enter"), say("help.weigh"), GRAY, h),
        Cap(1768.0, middle, 104.0, say("key.f3"), say("help.views"), GRAY, h),
        Cap(1656.0, upper, 104.0, "\N{MINUS SIGN}", say("help.slower"), GRAY, h),
        Cap(1768.0, upper, 104.0, "+", say("help.faster"), GRAY, h),
    ]


class KeysScreen(StillScreen):
    """The help screen; Esc or F1 leaves it."""

    def __init__(self, description: Description | None, *, labels: Labels, is_paused: bool) -> None:
        """
        Args:
            description: the lift whose levers and limits are shown; without one two units with one line each.
            labels: what is printed on the user's keys.
            is_paused: a lift is paused under it.
        """
        self._seen, self._labels, self._is_paused = seen_in(description), labels, is_paused
        self._limits = description.limits if description is not None else Limits()
        self._holds = description is not None and description.site.holding_line is not None
        self._is_drawn = False

    def take_event(self, event: pygame.event.Event) -> Go:
        """Esc, F1 or Enter goes back; so does a press on the head's right end."""
        if is_back(event):
            return BACK
        leaves = (pygame.K_ESCAPE, pygame.K_F1, pygame.K_RETURN)
        return BACK if event.type == pygame.KEYDOWN and event.key in leaves else STAY

    def draw(self, canvas: Canvas) -> None:
        """Draws the whole screen."""
        canvas.clear(PAPER)
        self._head(canvas)
        for cap in (
            *letter_caps(self._labels, self._seen),
            *slow_caps(self._seen),
            space_cap(self._seen),
            *other_caps(self._seen, holds=self._holds),
        ):
            draw_cap(canvas, cap)
        self._seats(canvas)
        draw_gamepad_panel(canvas, 48.0, self._seen)
        draw_rose_panel(canvas, 664.0, self._limits, self._seen)
        draw_shapes_panel(canvas, 1280.0)
        draw_caution_line(canvas, (("key.escape", "key.back"),), left=48.0)

    def _head(self, canvas: Canvas) -> None:
        canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
        canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
        canvas.text(say("help.title"), 48.0, 60.0, 46.0, weight="bold")
        words = "help.paused" if self._is_paused else "help.plain"
        canvas.text(say(words), 48.0, 98.0, 28.0, weight="medium", color=INK_2, width=1400.0)
        back = say("help.back_to_lift" if self._is_paused else "help.back")
        width = canvas.text(back, 1872.0, 73.0, 32.0, anchor="right")
        draw_key(canvas, say("key.escape"), 1872.0 - width - 116.0, 38.0, height=46.0, size=30.0)

    def _seats(self, canvas: Canvas) -> None:
        y = keyboard_of(self._seen).y(3) + 46.0
        for unit in self._seen.units:
            color, words = SIDES[unit.side].main, say(f"help.{unit.where}_seat")
            if unit.is_alone:
                canvas.text(words, 48.0, y + 13.0, 34.0, weight="bold", color=color, width=570.0)
            elif unit.side:
                badge(canvas, unit.side, 1844.0, y, 56.0)
                canvas.text(words, 1796.0, y + 13.0, 34.0, weight="bold", color=color, anchor="right", width=500.0)
            else:
                badge(canvas, unit.side, 76.0, y, 56.0)
                canvas.text(words, 124.0, y + 13.0, 34.0, weight="bold", color=color, width=500.0)


def draw_cap(canvas: Canvas, cap: Cap) -> None:
    """One key: what is printed on it, and what it does on one or two lines."""
    is_free = cap.fill == WASH
    is_dark = cap.fill not in (GRAY, WASH)
    canvas.box(cap.x, cap.y, cap.w, cap.h, fill=cap.fill, edge=RULE if is_free else None, radius=8.0)
    ink = PANEL if is_dark else INK_3 if is_free else INK
    canvas.text(cap.label, cap.x + 12.0, cap.y + 29.0, 28.0, weight="medium" if is_free else "bold", color=ink)
    draw_cap_words(canvas, cap, ink)


def draw_cap_words(canvas: Canvas, cap: Cap, ink: Color) -> None:
    """What a key does, on one or two lines."""
    foot = cap.y + cap.h - (10.0 if cap.h >= CAP else 7.0)
    lines = lines_of(canvas, cap.does, cap.w - 16.0)
    for index, line in enumerate(lines):
        y = foot - (12.0 if len(lines) < 2 else 23.0 * (len(lines) - 1 - index))
        canvas.text(line, cap.x + 12.0, y, 24.0, color=ink, width=cap.w - 14.0)

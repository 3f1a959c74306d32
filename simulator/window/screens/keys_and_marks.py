"""Keys and marks: the keyboard with both seats, the gamepad, the rose, and what the shapes mean."""

from __future__ import annotations

from math import cos, pi, sin
from typing import NamedTuple

import pygame

from simulator.scenario.description import Limits
from simulator.window.hands.bindings import BINDINGS, SEATS, Labels
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.head_foot import draw_caution_line, is_back
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.palette import (
    INK,
    INK_2,
    INK_3,
    PANEL,
    PAPER,
    RIGHT,
    RULE,
    SIDES,
    SOIL_MARK,
    STEEL,
    STEEL_LIGHT,
    WASH,
    Colour,
)
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.kit.thresholds import Level
from simulator.window.readouts.outrigger_board import loose_tile
from simulator.window.readouts.rose import RoseLook, draw_rose
from simulator.window.screens.screen import STAY, Go, StillScreen
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


def draw_gamepad_panel(canvas: Canvas, x: float) -> None:
    """The gamepad, drawn, with what its sticks and buttons do."""
    _panel(canvas, x, say("help.gamepad"))
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
    canvas.text(say("help.stop"), x + 296.0, TOP + 300.0, 26.0, anchor="centre", width=200.0)
    canvas.text(say("help.slew_and_boom"), x + 28.0, TOP + 354.0, 26.0, width=250.0)
    canvas.text(say("help.line"), x + WIDTH - 28.0, TOP + 354.0, 26.0, anchor="right", width=250.0)
    canvas.text(say("help.shoulder"), x + 296.0, TOP + 406.0, 26.0, weight="medium", colour=INK_2, anchor="centre")


def _pad_leaders(canvas: Canvas, x: float) -> None:
    for (a, b), end in ((LEFT_STICK, 100.0), (RIGHT_STICK, 492.0)):
        path = [(x + a, TOP + b + 20.0), (x + a, TOP + 302.0), (x + end, TOP + 302.0), (x + end, TOP + 326.0)]
        canvas.polyline(path, INK, width=2.0)
    canvas.line((x + BUTTON[0], TOP + BUTTON[1] + 20.0), (x + BUTTON[0], TOP + 274.0), INK, width=2.0)


def draw_rose_panel(canvas: Canvas, x: float, limits: Limits) -> None:
    """The rose with a hook off plumb, and what centre, dot and arrow are."""
    _panel(canvas, x, say("help.rose"))
    trail = tuple((-1.9 + 0.85 * cos(n * pi / 12), 1.35 + 0.5 * sin(n * pi / 12 + 0.9)) for n in range(25))
    look = RoseLook((-1.9, 1.35), (-1.9, 1.35), trail, Level.CAUTION, slack=False)
    draw_rose(canvas, 0, x + 150.0, TOP + 196.0, 112.0, look, limits)
    rows = (("centre_mark", "centre_words"), ("dot", "dot_words"), ("arrow", "arrow_words"))
    for index, (head, words) in enumerate(rows):
        y = TOP + 116.0 + 78.0 * index
        canvas.text(say(f"help.{head}"), x + 296.0, y, 28.0, weight="bold", width=270.0)
        canvas.text(say(f"help.{words}"), x + 296.0, y + 33.0, 26.0, weight="medium", colour=INK_2, width=270.0)
    values = {
        "plumb": limits.plumb_rad,
        "caution": limits.off_plumb_caution_rad,
        "stop": limits.off_plumb_stop_rad,
    }
    texts = {name: shown.angle(value, decimals=0).joined for name, value in values.items()}
    canvas.text(say("help.rings", **texts), x + 28.0, TOP + 368.0, 26.0, width=WIDTH - 56.0)
    canvas.text(say("help.lies"), x + 28.0, TOP + 406.0, 26.0, weight="medium", colour=INK_2, width=WIDTH - 56.0)


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
    canvas.digits("4.3", x + 89.0, y + 14.0, 40.0, anchor="centre")
    _words(canvas, x + 176.0, y, "thick")


def _words(canvas: Canvas, x: float, y: float, word: str) -> None:
    room = WIDTH - (x - 1280.0) - 24.0
    canvas.text(say(f"help.{word}"), x, y - 4.0, 28.0, weight="bold", width=room)
    canvas.text(say(f"help.{word}_words"), x, y + 28.0, 26.0, weight="medium", colour=INK_2, width=room)


CAP, PITCH = 92.0, 100.0
ROWS = (("QWERTYUIOP", 450.0, 152.0), ("ASDFGHJKL;", 478.0, 252.0), ("ZXCVBNM,./", 525.0, 352.0))
OTHER_CAPS = {"Y": "help.why", "V": "help.zoom_out", "B": "help.centre", "N": "help.zoom_in", "M": "help.mute"}
GREY = (212, 217, 222)
SCANCODES = {
    **{letter: getattr(pygame, f"KSCAN_{letter}") for letter in "QWERTYUIOPASDFGHJKLZXCVBNM"},
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
    fill: Colour


def bound_keys() -> dict[int, tuple[int, str]]:
    """What each bound key does: scancode to seat (0 left, 1 right) and its words."""
    return {
        row.scancode(seat): (side, say(f"keycap.{row.word}")) for row in BINDINGS for side, seat in enumerate(SEATS)
    }


def letter_caps(labels: Labels) -> list[Cap]:
    """The letter keys, labelled as the user's keyboard prints them."""
    bound, caps = bound_keys(), []
    for letters, left, y in ROWS:
        for index, letter in enumerate(letters):
            scancode = SCANCODES[letter]
            side, does = bound.get(scancode, (-1, say(OTHER_CAPS[letter]) if letter in OTHER_CAPS else ""))
            fill = SIDES[side].main if side >= 0 else GREY if does else WASH
            caps.append(Cap(left + index * PITCH, y, CAP, labels.of(scancode), does, fill))
    return caps


def other_caps() -> list[Cap]:
    """Shift, Space and the keys of the program."""
    left, right = SIDES[0].main, RIGHT.main
    return [
        Cap(48.0, 152.0, 104.0, say("key.escape"), say("key.pause"), GREY),
        Cap(160.0, 152.0, 104.0, say("key.f1"), say("key.keys"), GREY),
        Cap(272.0, 152.0, 104.0, say("key.f2"), say("help.units"), GREY),
        Cap(48.0, 252.0, 216.0, say("key.tab"), say("instructor.title"), GREY),
        Cap(272.0, 252.0, 104.0, say("key.f11"), say("help.full_screen"), GREY),
        Cap(1656.0, 152.0, 104.0, "\N{MINUS SIGN}", say("help.slower"), GREY),
        Cap(1768.0, 152.0, 104.0, "+", say("help.faster"), GREY),
        Cap(48.0, 352.0, 469.0, say("key.shift"), say("help.left_slow"), left),
        Cap(1525.0, 352.0, 347.0, say("key.shift"), say("help.right_slow"), right),
        Cap(645.0, 452.0, 632.0, say("key.space"), say("help.stop_both"), INK),
    ]


class KeysScreen(StillScreen):
    """The help screen; Esc or F1 leaves it."""

    def __init__(self, limits: Limits, *, labels: Labels, is_paused: bool) -> None:
        self._limits, self._labels, self._is_paused = limits, labels, is_paused
        self._is_drawn = False

    def take_event(self, event: pygame.event.Event) -> Go:
        """Esc, F1 or Enter goes back; so does a press on the head's right end."""
        if is_back(event):
            return Go("back")
        leaves = (pygame.K_ESCAPE, pygame.K_F1, pygame.K_RETURN)
        return Go("back") if event.type == pygame.KEYDOWN and event.key in leaves else STAY

    def draw(self, canvas: Canvas) -> None:
        """Draws the whole screen."""
        canvas.clear(PAPER)
        self._head(canvas)
        for cap in (*letter_caps(self._labels), *other_caps()):
            draw_cap(canvas, cap)
        self._seats(canvas)
        draw_gamepad_panel(canvas, 48.0)
        draw_rose_panel(canvas, 664.0, self._limits)
        draw_shapes_panel(canvas, 1280.0)
        draw_caution_line(canvas, (("key.escape", "key.back"),), left=48.0)

    def _head(self, canvas: Canvas) -> None:
        canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
        canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
        canvas.text(say("help.title"), 48.0, 60.0, 46.0, weight="bold")
        words = "help.paused" if self._is_paused else "help.plain"
        canvas.text(say(words), 48.0, 98.0, 28.0, weight="medium", colour=INK_2, width=1400.0)
        back = say("help.back_to_lift" if self._is_paused else "help.back")
        width = canvas.text(back, 1872.0, 73.0, 32.0, anchor="right")
        draw_key(canvas, say("key.escape"), 1872.0 - width - 116.0, 38.0, height=46.0, size=30.0)

    def _seats(self, canvas: Canvas) -> None:
        badge(canvas, 0, 76.0, 498.0, 56.0)
        canvas.text(say("help.left_seat"), 124.0, 511.0, 34.0, weight="bold", colour=SIDES[0].main, width=500.0)
        badge(canvas, 1, 1844.0, 498.0, 56.0)
        canvas.text(
            say("help.right_seat"), 1796.0, 511.0, 34.0, weight="bold", colour=RIGHT.main, anchor="right", width=500.0
        )


def draw_cap(canvas: Canvas, cap: Cap) -> None:
    """One key: what is printed on it, and what it does on one or two lines."""
    is_free = cap.fill == WASH
    is_dark = cap.fill not in (GREY, WASH)
    canvas.box(cap.x, cap.y, cap.w, CAP, fill=cap.fill, edge=RULE if is_free else None, radius=8.0)
    ink = PANEL if is_dark else INK_3 if is_free else INK
    canvas.text(cap.label, cap.x + 12.0, cap.y + 31.0, 28.0, weight="medium" if is_free else "bold", colour=ink)
    for index, line in enumerate(lines_of(canvas, cap.does, cap.w - 16.0)):
        is_single = canvas.text_width(cap.does, 24.0) <= cap.w - 16.0
        y = cap.y + (70.0 if is_single else 58.0 + 24.0 * index)
        canvas.text(line, cap.x + 12.0, y, 24.0, colour=ink, width=cap.w - 14.0)

"""Keys and marks: the keyboard with both seats, the gamepad, the rose, and what the shapes mean."""

from __future__ import annotations

from typing import NamedTuple

import pygame

from simulator.scenario.description import Limits
from simulator.window.bindings import BINDINGS, SEATS, Labels
from simulator.window.canvas import Canvas
from simulator.window.caution_line import draw_caution_line
from simulator.window.icons import badge
from simulator.window.palette import INK, INK_2, INK_3, PANEL, PAPER, RIGHT, RULE, SIDES, WASH, Colour
from simulator.window.pieces import draw_key, lines_of
from simulator.window.screens.head import is_back
from simulator.window.screens.marks import draw_gamepad_panel, draw_rose_panel, draw_shapes_panel
from simulator.window.screens.screen import STAY, Go, StillScreen
from simulator.words import say

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

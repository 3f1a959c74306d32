"""A screen's head and foot: title, a line of words, the safety line and the keys that work here; panels between."""

from __future__ import annotations

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, INK_2, PANEL, RULE
from simulator.window.kit.pieces import draw_flat_key, draw_key
from simulator.window.kit.regions import CAUTION_LINE, Region
from simulator.words import say


def draw_head(canvas: Canvas, title: str, words: str, *, width: float = 1400.0) -> None:
    """Draws the head over the full width."""
    canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(title, 48.0, 60.0, 46.0, weight="bold", width=width)
    canvas.text(words, 48.0, 98.0, 28.0, weight="medium", color=INK_2, width=width)


BACK = Region(1640.0, 16.0, 232.0, 60.0)
"""Where a press of the mouse goes back."""


def draw_back(canvas: Canvas, words: str = "") -> None:
    """Esc and what it does, at the right of the head."""
    words = words or say("key.back")
    width = canvas.text(words, BACK.right, 60.0, 30.0, weight="bold", anchor="right", width=150.0)
    draw_key(canvas, say("key.escape"), BACK.right - width - 76.0, 28.0, height=42.0, size=28.0)


def is_back(event: pygame.event.Event) -> bool:
    """The mouse presses what `draw_back` drew."""
    if event.type != pygame.MOUSEBUTTONDOWN:
        return False
    x, y = event.pos
    return bool(BACK.x <= x < BACK.right and BACK.y <= y < BACK.foot)


def draw_panel(canvas: Canvas, x: float, y: float, w: float, h: float) -> None:
    """A white panel with a fine edge."""
    canvas.box(x, y, w, h, fill=PANEL, edge=RULE, radius=8.0)


def draw_paragraph(
    canvas: Canvas, lines: list[str], x: float, y: float, width: float, *, size: float = 26.0, is_strong: bool = False
) -> float:
    """Lines under each other; returns the baseline after the last."""
    for line in lines:
        color = INK if is_strong else INK_2
        canvas.text(line, x, y, size, weight="semibold" if is_strong else "medium", color=color, width=width)
        y += size + 10.0
    return y


BETWEEN = 20.0
DRIVE_KEYS = (("key.space", "key.stop_both"), ("key.escape", "key.pause"), ("key.f1", "key.keys"))
DRIVE_KEYS_ALONE = (("key.space", "key.stop_alone"), *DRIVE_KEYS[1:])
"""For a lift with one unit."""


def draw_caution_line(canvas: Canvas, keys: tuple[tuple[str, str], ...] = DRIVE_KEYS, *, left: float = 24.0) -> None:
    """Draws the line; `keys` are pairs of word keys (cap, what it does), set from the right edge."""
    canvas.rect(*CAUTION_LINE, INK)
    places = key_places(canvas, keys, left=left)
    start = places[0][0] if places else 1920.0 - left
    text, room, size = say("program.caution"), start - left - 16.0, 24.0
    if canvas.text_width(text, size, weight="medium") > room:
        size = int(size * canvas.f) / canvas.f  # whole pixels: some windows round letters up
    if canvas.text_width(text, size, weight="medium") > room:
        text, size = say("program.caution_short"), 24.0
    canvas.text(text, left, 1066.0, size, weight="medium", color=PANEL, width=room)
    for (cap, does), (x, _) in zip(keys, places, strict=True):
        cap_width = draw_flat_key(canvas, say(cap), x, 1045.0)
        canvas.text(say(does), x + cap_width + 8.0, 1066.0, 24.0, color=PANEL)


def key_places(canvas: Canvas, keys: tuple[tuple[str, str], ...], *, left: float) -> list[tuple[float, float]]:
    """Left edge and width of each key with its words, for the mouse too."""
    widths = [
        canvas.text_width(say(cap), 24.0, weight="bold") + 26.0 + canvas.text_width(say(does), 24.0)
        for cap, does in keys
    ]
    x = 1920.0 - left - sum(widths) - BETWEEN * (len(keys) - 1)
    places = []
    for width in widths:
        places.append((x, width))
        x += width + BETWEEN
    return places

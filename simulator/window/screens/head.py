"""The head of a screen: title and one line of words; and an outlined panel."""

from __future__ import annotations

import pygame

from simulator.window.canvas import Canvas
from simulator.window.layout import Region
from simulator.window.palette import INK, INK_2, PANEL, RULE
from simulator.window.pieces import draw_key
from simulator.words import say


def draw_head(canvas: Canvas, title: str, words: str, *, width: float = 1400.0) -> None:
    """Draws the head over the full width."""
    canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(title, 48.0, 60.0, 46.0, weight="bold", width=width)
    canvas.text(words, 48.0, 98.0, 28.0, weight="medium", colour=INK_2, width=width)


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
        colour = INK if is_strong else INK_2
        canvas.text(line, x, y, size, weight="semibold" if is_strong else "medium", colour=colour, width=width)
        y += size + 10.0
    return y

"""Bands over the scene: the stop order and who has acknowledged it, a pause, and what could not be kept."""

from __future__ import annotations

from typing import NamedTuple

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, PANEL, RULE, SIDES, STOP
from simulator.window.kit.pieces import draw_key
from simulator.window.kit.regions import SCENE
from simulator.window.kit.seen import SeenUnit
from simulator.words import say

SHOWN_S = 12.0
HEIGHT = 48.0


class Notice:
    """Shows a sentence for a while, then a short mark that stays."""

    def __init__(self) -> None:
        self._text = ""
        self._shown_s = 0.0

    def draw(self, canvas: Canvas, text: str, elapsed_s: float) -> None:
        """Draws the notice over the scene; nothing when there is none."""
        self._shown_s = self._shown_s + elapsed_s if text == self._text else 0.0
        self._text = text
        if not text:
            return
        words = say("notice.goes_on", words=text) if self._shown_s < SHOWN_S else say("notice.not_recorded")
        width = min(SCENE.w - 32.0, canvas.text_width(words, 26.0) + 84.0)
        x, y = SCENE.x + (SCENE.w - width) / 2.0, SCENE.foot - HEIGHT - 8.0
        canvas.box(x, y, width, HEIGHT, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
        icon(canvas, "caution", x + 30.0, y + HEIGHT / 2.0 - 1.0, 32.0)
        canvas.text(words, x + 58.0, y + 33.0, 26.0, color=INK, width=width - 74.0)


BAND_H, HEAD_W = 44.0, 252.0
TOP = SCENE.y + 2.0
BAND_FOOT = TOP + BAND_H
"""Roses stand under it; load, floats and figures are left alone."""
KEY_H = 36.0
BASELINE = 32.0
PAUSED_H = 52.0


class SeatHears(NamedTuple):
    """One seat under a stop order."""

    unit: SeenUnit
    has_heard: bool
    is_automatic: bool
    key: str
    """The cap of the key that says it; none for a seat that nobody sits in."""


class StopLook(NamedTuple):
    """The whole band."""

    seats: tuple[SeatHears, ...]
    """From left to right."""


def draw_stop_band(canvas: Canvas, look: StopLook) -> None:
    """Draws the band at the scene's head, under the coach strip that says who called it."""
    x, w = SCENE.x + 4.0, SCENE.w - 8.0
    canvas.box(x, TOP, w, BAND_H, fill=PANEL, edge=STOP, edge_width=4.0, radius=8.0)
    canvas.box(x, TOP, HEAD_W, BAND_H, fill=STOP, radius=8.0)
    icon(canvas, "stop", x + 36.0, TOP + BAND_H / 2.0, 36.0, fill=PANEL, mark=STOP)
    canvas.text(say("stop.title"), x + 68.0, TOP + 33.0, 30.0, weight="bold", color=PANEL, width=HEAD_W - 80.0)
    if all(seat.key and seat.is_automatic for seat in look.seats):
        _draw_either(canvas, look, x + HEAD_W, w - HEAD_W)
        return
    room = (w - HEAD_W) / len(look.seats)
    for n, seat in enumerate(look.seats):
        if n:
            canvas.rect(x + HEAD_W + n * room, TOP + 8.0, 2.0, BAND_H - 16.0, RULE)
        _draw_seat(canvas, seat, x + HEAD_W + n * room, room)


def _draw_seat(canvas: Canvas, seat: SeatHears, x: float, w: float) -> None:
    left, side = x + 20.0, seat.unit.side
    if not seat.unit.is_alone:
        badge(canvas, side, x + 36.0, TOP + BAND_H / 2.0, 36.0)
        left = x + 68.0
    if seat.has_heard or not seat.key:
        icon(canvas, "tick", left + 16.0, TOP + BAND_H / 2.0, 34.0)
        words = say("stop.automatic" if seat.is_automatic else "stop.heard")
        canvas.text(words, left + 42.0, TOP + BASELINE, 28.0, weight="bold", color=SIDES[side].main, width=w - 120.0)
        return
    left += draw_key(canvas, seat.key, left, TOP + (BAND_H - KEY_H) / 2.0, height=KEY_H) + 12.0
    canvas.text(say("stop.press"), left, TOP + BASELINE, 28.0, weight="bold", width=x + w - 12.0 - left)


def _draw_either(canvas: Canvas, look: StopLook, x: float, w: float) -> None:
    """Every unit drives itself: one key lets all go on."""
    left = x + 20.0
    for seat in look.seats:
        if not seat.unit.is_alone:
            badge(canvas, seat.unit.side, left + 18.0, TOP + BAND_H / 2.0, 36.0)
            left += 48.0
        left += draw_key(canvas, seat.key, left, TOP + (BAND_H - KEY_H) / 2.0, height=KEY_H) + 24.0
    canvas.text(
        say("stop.either" if len(look.seats) > 1 else "stop.press"),
        left,
        TOP + BASELINE,
        28.0,
        weight="bold",
        width=x + w - 12.0 - left,
    )


def draw_paused_band(canvas: Canvas) -> None:
    """Says that the instructor has paused the lift, and how it goes on."""
    text = say("stop.paused")
    w = min(SCENE.w - 16.0, canvas.text_width(text, 28.0, weight="bold") + 92.0)
    x, y = SCENE.x + (SCENE.w - w) / 2.0, SCENE.foot - PAUSED_H - 8.0
    canvas.box(x, y, w, PAUSED_H, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
    canvas.rect(x + 26.0, y + 14.0, 8.0, 24.0, INK)
    canvas.rect(x + 40.0, y + 14.0, 8.0, 24.0, INK)
    canvas.text(text, x + 66.0, y + 36.0, 28.0, weight="bold", width=w - 80.0)

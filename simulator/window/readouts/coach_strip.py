"""The coach strip, the one voice that gives orders: step, whose move, prompt, alert line, time and speed."""

from __future__ import annotations

from typing import Literal, NamedTuple

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE, SIDES, STOP, Color
from simulator.window.kit.pieces import halves
from simulator.window.kit.regions import COACH
from simulator.window.kit.seen import SeenUnit
from simulator.window.readouts.alert_words import AlertLook
from simulator.words import say

Mover = Literal["left", "right", "alone", "both", "stop", "none"]
CHIP_X, CHIP_Y, CHIP_W, CHIP_H = 352.0, 14.0, 240.0, 92.0
PROMPT_X, ALERT_X, ALERT_W = 620.0, 612.0, 956.0


class CoachLook(NamedTuple):
    """The whole strip at one moment."""

    units: tuple[SeenUnit, ...]
    """From left to right."""
    label: str
    title: str
    progress: tuple[int, int] | None
    """Step now (from 1) and their number; none without steps."""
    mover: Mover
    mover_words: str
    prompt: str
    alert: AlertLook | None
    time: str
    speed: str
    is_slow: bool = False
    """Simulated time runs slower than was asked for."""
    score: str = ""


def draw_coach_strip(canvas: Canvas, look: CoachLook) -> None:
    """Draws the strip over the full width."""
    canvas.rect(*COACH, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(look.label, 24.0, 38.0, 24.0, weight="semibold", color=INK_2, width=310.0)
    if look.progress:
        canvas.text(look.title, 24.0, 74.0, 34.0, weight="bold", width=310.0)
        _progress(canvas, *look.progress)
    else:
        _title(canvas, look.title)
    _mover_chip(canvas, look)
    canvas.text(look.prompt, PROMPT_X, 52.0, 40.0, weight="bold", width=ALERT_W - 16.0)
    if look.alert:
        _alert_line(canvas, look.alert)
    _clock(canvas, look)


def _title(canvas: Canvas, title: str) -> None:
    """A lift's title may take two lines."""
    if canvas.text_width(title, 34.0, weight="bold") <= 310.0:
        canvas.text(title, 24.0, 74.0, 34.0, weight="bold")
        return
    for index, line in enumerate(halves(canvas, title, 28.0)):
        canvas.text(line, 24.0, 70.0 + 32.0 * index, 28.0, weight="bold", width=310.0)


def _progress(canvas: Canvas, index: int, count: int) -> None:
    width = (308.0 - 6.0 * (count - 1)) / count
    for n in range(1, count + 1):
        x = 24.0 + (n - 1) * (width + 6.0)
        top = 86.0 if n == index else 94.0
        canvas.rect(x, top, width, 102.0 - top, INK if n <= index else RULE)


def _mover_chip(canvas: Canvas, look: CoachLook) -> None:
    middle_y = CHIP_Y + CHIP_H / 2.0
    if look.mover == "none":
        canvas.box(CHIP_X, CHIP_Y, CHIP_W, CHIP_H, fill=PANEL, edge=INK, radius=8.0)
    else:
        canvas.box(CHIP_X, CHIP_Y, CHIP_W, CHIP_H, fill=_chip_ground(look), radius=8.0)
    ink = INK if look.mover == "none" else PANEL
    mover = next((one for one in look.units if one.where == look.mover), None)
    text_x = CHIP_X + 88.0
    if look.mover == "stop":
        icon(canvas, "stop", CHIP_X + 44.0, middle_y, 58.0, fill=PANEL, mark=STOP)
    elif len(look.units) < 2:
        text_x = CHIP_X + 24.0
    elif mover is not None:
        badge(canvas, mover.side, CHIP_X + 44.0, middle_y, 56.0, inverse=True)
    else:
        for n, one in enumerate(look.units):
            badge(canvas, one.side, CHIP_X + 30.0 + 40.0 * n, middle_y, 36.0, inverse=look.mover == "both")
        text_x = CHIP_X + 100.0
    mover = mover or (look.units[0] if len(look.units) < 2 else None)
    head = say(f"unit.{mover.where}") if mover is not None else say("unit.both")
    room = CHIP_X + CHIP_W - text_x - 10.0
    canvas.text(head, text_x, middle_y - 8.0, 28.0, weight="bold", color=ink, width=room)
    canvas.text(look.mover_words, text_x, middle_y + 26.0, 28.0, color=ink, width=room)


def _chip_ground(look: CoachLook) -> Color:
    if look.mover == "stop":
        return STOP
    return next((SIDES[one.side].main for one in look.units if one.where == look.mover), INK)


def _alert_line(canvas: Canvas, alert: AlertLook) -> None:
    is_stop = alert.level is Level.STOP
    fill, edge, ink = (STOP, STOP, PANEL) if is_stop else (CAUTION_TINT, CAUTION, INK)
    canvas.box(ALERT_X, 66.0, ALERT_W, 42.0, fill=fill, edge=edge, radius=6.0)
    if is_stop:
        icon(canvas, "stop", ALERT_X + 24.0, 87.0, 30.0, fill=PANEL, mark=STOP)
    else:
        icon(canvas, "caution", ALERT_X + 24.0, 86.0, 30.0)
    x = ALERT_X + 50.0
    x += canvas.text(say("coach.stop" if is_stop else "coach.caution"), x, 96.0, 26.0, weight="bold", color=ink) + 14.0
    count = say("coach.nth", count=alert.number) if alert.number > 1 else ""
    room = ALERT_X + ALERT_W - 16.0 - x
    if count:
        room -= canvas.text(count, ALERT_X + ALERT_W - 16.0, 96.0, 26.0, color=ink, anchor="right") + 16.0
    canvas.text(alert.text, x, 96.0, 26.0, color=ink, width=room)


def _clock(canvas: Canvas, look: CoachLook) -> None:
    columns = [
        (1596.0, "coach.time", look.time),
        (1730.0, "coach.slowed" if look.is_slow else "coach.speed", look.speed),
    ]
    if look.score:
        columns.append((1828.0, "coach.score", look.score))
    for x, label, value in columns:
        canvas.text(say(label), x, 38.0, 26.0, weight="medium", color=INK_2, width=90.0)
        canvas.digits(value, x, 86.0, 46.0)

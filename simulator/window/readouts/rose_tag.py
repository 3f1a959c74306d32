"""The tag beside a rose: angle, word, its two parts, and one chip saying what helps."""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from simulator.readings import Readings, UnitReadings
from simulator.window.hands.bindings import Labels, find_binding, seat_of
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas, Weight
from simulator.window.kit.icons import arrow_turn, icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, INK, INK_2, PANEL, SIDES, STOP
from simulator.window.kit.pieces import draw_key, draw_level, key_width
from simulator.window.kit.seen import SeenUnit
from simulator.window.kit.shapes import quick
from simulator.window.readouts.fix_chips import Advice, as_judged
from simulator.words import say

WIDTH, HEIGHT = 276.0, 150.0
PART_W = 135.0
HEADROOM = 20.0
"""The number's degree sign stands over the tag's top."""
TEXT_H = 96.0
"""Of the figures over the chip."""
ABOVE_CENTER = 82.0
"""The tag's top over the rose's center."""


class TagLook(NamedTuple):
    """One tag at one moment."""

    angle: str
    word: str
    level: Level
    along: str
    along_turn: int
    across: str
    across_turn: int
    chip: str
    chip_turn: int | None
    """Which way the chip's arrow points; none without one."""
    key: str
    is_control: bool
    is_leave: bool


def tag_look(
    readings: Readings, seen: SeenUnit, advice: Advice, level: Level, labels: Labels, *, plumb_rad: float, sign: float
) -> TagLook:
    """What the tag of one unit shows; `sign` is -1 where the picture is mirrored."""
    unit = as_judged(readings, seen.unit)
    along, across = unit.mean_off_plumb_along_rad, unit.mean_off_plumb_across_rad
    chip, key = _chip(seen, advice, labels)
    is_control, hoists = advice.kind == "control", advice.lever.startswith("hoist")
    return TagLook(
        angle=shown.angle(unit.mean_off_plumb_rad).text,
        word=_word(unit, level, plumb_rad),
        level=Level.GOOD if unit.slack else level,
        along=_part_text(along),
        along_turn=0 if along * sign >= 0 else 180,
        across=_part_text(across),
        across_turn=270 if across >= 0 else 90,
        chip=chip,
        chip_turn=(270 if hoists else arrow_turn(sign * along, -across)) if is_control else None,
        key=key,
        is_control=is_control,
        is_leave=advice.kind in ("leave", "slack"),
    )


def _part_text(angle_rad: float) -> str:
    """One part of the lean: from ten degrees on in whole ones, so that both parts have room."""
    text = shown.angle(angle_rad).text
    return shown.angle(angle_rad, decimals=0).text if len(text) > 3 else text


def _word(unit: UnitReadings, level: Level, plumb_rad: float) -> str:
    if unit.slack:
        return say("rose.slack")
    if level is Level.GOOD:
        return say("rose.plumb") if unit.mean_off_plumb_rad <= plumb_rad else ""
    return say("rose.off_plumb" if level is Level.CAUTION else "rose.stop")


def _chip(seen: SeenUnit, advice: Advice, labels: Labels) -> tuple[str, str]:
    if advice.kind == "control":
        binding = find_binding(advice.lever, advice.sign)
        return say(f"control.{binding.word}"), labels.of(binding.scancode(seat_of(seen)))
    if advice.kind == "ask":
        return say({"left": "fix.ask_right", "right": "fix.ask_left"}.get(seen.where, "fix.ask_alone")), ""
    return say(f"fix.{advice.kind}"), ""


class TagPicture:
    """One tag kept as a picture, drawn anew when its look changes."""

    def __init__(self, canvas: Canvas, side: int) -> None:
        self._layer = canvas.layer(0.0, 0.0, WIDTH + 2.0, HEIGHT + HEADROOM, clear=True)
        self._side = side
        self._look: TagLook | None = None
        self._shown = self._layer.surface

    def take(self, look: TagLook) -> bool:
        """Take a look; answer whether it is another one than before."""
        is_other = look != self._look
        self._look = look
        return is_other

    def redraw(self) -> None:
        """Draw the look taken last."""
        if self._look is not None:
            self._layer.surface.fill((*INK, 0))
            draw_tag(self._layer, self._side, 1.0, HEADROOM, self._look)
            self._shown = quick(self._layer.surface)

    def show(self, canvas: Canvas, x: float, y: float) -> None:
        """Lays the picture with its left upper corner at (x, y)."""
        px, py = canvas.to_px(x - 1.0, y - HEADROOM)
        canvas.surface.blit(self._shown, (round(px), round(py)))


def draw_tag(canvas: Canvas, side: int, x: float, y: float, look: TagLook) -> None:
    """Draws the tag from its left upper corner; the number stands next to the rose."""
    _angle(canvas, side, x, y + 50.0, look)
    if look.along != shown.NONE:
        _part(canvas, x, y + 84.0, look.along, look.along_turn, say("rose.along"))
        _part(canvas, x + 141.0, y + 84.0, look.across, look.across_turn, say("rose.across"))
    _draw_chip(canvas, side, x, y + 100.0, look)


def _angle(canvas: Canvas, side: int, x: float, y: float, look: TagLook) -> None:
    text = f"{look.angle}{shown.DEGREE}" if isfinite(_as_number(look.angle)) else look.angle
    room = WIDTH - _word_width(canvas, look) - 10.0
    size = next((s for s in (66.0, 56.0, 46.0) if canvas.text_width(text, s, weight="bold", digits=True) <= room), 40.0)
    if side == 0:
        canvas.digits(text, x + WIDTH, y, size, anchor="right")
        _draw_word(canvas, x, y, look)
    else:
        canvas.digits(text, x, y, size)
        _draw_word(canvas, x + WIDTH - _word_width(canvas, look), y, look)


def _as_number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def _word_width(canvas: Canvas, look: TagLook) -> float:
    if not look.word:
        return 0.0
    if look.level is Level.GOOD:
        return canvas.text_width(look.word, 30.0, weight="bold")
    return canvas.text_width(look.word, 26.0, weight="bold") + 50.0


def _draw_word(canvas: Canvas, x: float, y: float, look: TagLook) -> None:
    if look.level is Level.GOOD:
        canvas.text(look.word, x, y, 30.0, weight="bold")
        return
    fill, color = (CAUTION, INK) if look.level is Level.CAUTION else (STOP, PANEL)
    edge = INK if look.level is Level.CAUTION else None
    canvas.box(x, y - 39.0, _word_width(canvas, look), 42.0, fill=fill, edge=edge, radius=6.0)
    if look.level is Level.CAUTION:
        draw_level(canvas, look.level, x + 23.0, y - 19.0, 28.0)
    else:
        icon(canvas, "stop", x + 23.0, y - 18.0, 26.0, fill=PANEL, mark=STOP)
    canvas.text(look.word, x + 41.0, y - 9.0, 26.0, weight="bold", color=color)


def _part(canvas: Canvas, x: float, y: float, value: str, turn: int, word: str) -> None:
    if isfinite(_as_number(value)) and value.strip("0."):
        icon(canvas, "arrow", x + 12.0, y - 9.0, 25.0, turn_deg=turn)
    width = canvas.digits(value, x + 29.0, y, 28.0)
    room = PART_W - 33.0 - width
    canvas.text(word, x + 33.0 + width, y, 26.0, weight="medium", color=INK_2, width=room)


def _draw_chip(canvas: Canvas, side: int, x: float, y: float, look: TagLook) -> None:
    is_filled = look.is_control and look.level > Level.GOOD
    fill, color = (SIDES[side].main, PANEL) if is_filled else (PANEL, INK)
    canvas.box(x, y, WIDTH, 48.0, fill=fill, edge=None if is_filled else INK, radius=6.0)
    left = x + 18.0
    if look.chip_turn is not None:
        icon(canvas, "arrow", x + 32.0, y + 24.0, 30.0, fill=color, turn_deg=look.chip_turn)
        left = x + 56.0
    elif look.is_leave:
        icon(canvas, "tick", x + 28.0, y + 24.0, 30.0)
        left = x + 54.0
    key_room = key_width(canvas, look.key) + 14.0 if look.key else 8.0
    weight: Weight = "bold" if look.is_control else "semibold"
    canvas.text(look.chip, left, y + 34.0, 30.0, weight=weight, color=color, width=x + WIDTH - key_room - left - 4.0)
    if look.key:
        draw_key(canvas, look.key, x + WIDTH - key_room + 6.0, y + 7.0)

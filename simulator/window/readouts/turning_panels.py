"""The drawn readouts of a turn: a unit's panel with its lines, the gauge of degrees, the strip under the scene."""

from __future__ import annotations

from math import cos, pi, radians, sin
from typing import NamedTuple

from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.palette import CAUTION_TINT, INK, INK_2, INK_3, PANEL, RULE, SIDES, STOP
from simulator.window.kit.pieces import draw_key, draw_level, draw_marked, draw_value, key_width, value_width
from simulator.window.kit.regions import CLEARANCE, SCENE, Region
from simulator.window.kit.seen import SeenUnit
from simulator.window.readouts.looks import PanelLook
from simulator.window.readouts.panels import draw_boom_row, draw_capacity_rows, draw_panel_head
from simulator.window.readouts.turning import Column, GaugeLook, LineRow, Needle
from simulator.words import say


class TurnPanelLook(NamedTuple):
    """One unit panel while the load is turned."""

    panel: PanelLook
    lines: tuple[LineRow, ...]


class TurnStripLook(NamedTuple):
    """The strip under the scene while the load is turned."""

    columns: tuple[Column, ...]


SUM, LINES, PITCH, ROPE = 56.0, 122.0, 68.0, 44.0
"""Top of the sum and of the lines, height of a line, and of head room and rope left."""
SPREAD = 1.5
"""One unit alone has more room: all heights that much larger."""


def draw_turn_panel(
    canvas: Canvas, look: TurnPanelLook, *, region: Region, seen: SeenUnit, marks: tuple[float, float]
) -> None:
    """Draws the whole panel; `marks` are capacity's caution and stop."""
    left, right, top = region.x + 20.0, region.right - 20.0, region.y
    spread = SPREAD if seen.is_alone else 1.0
    canvas.rect(*region, PANEL)
    draw_panel_head(canvas, region, seen, look.panel)
    _sum(canvas, left, right, top + SUM, look.panel, has_share=not seen.is_alone)
    at = top + LINES
    for row in look.lines:
        canvas.rect(left, at, right - left, 2.0, RULE)
        _line(canvas, seen.side, left, right, at + (spread - 1.0) * 20.0, row)
        at += PITCH * spread
    canvas.rect(left, at, right - left, 2.0, RULE)
    _rope(canvas, left, right, at, look.lines)
    at += ROPE * spread
    canvas.rect(left, at, right - left, 2.0, RULE)
    draw_capacity_rows(canvas, seen.side, left, right, at, look.panel, marks)
    at += 132.0 * spread
    canvas.rect(left, at, right - left, 2.0, RULE)
    draw_boom_row(canvas, left, at, look.panel)


def _sum(canvas: Canvas, left: float, right: float, top: float, look: PanelLook, *, has_share: bool) -> None:
    """Both lines together, and the unit's share."""
    label = say("panel.both_lines" if len(look.lines) > 1 else "panel.line_tension")
    canvas.text(label, left, top + 24.0, 24.0, weight="medium", color=INK_2, width=170.0)
    draw_marked(canvas, look.line_load, left, top + 58.0, 36.0, unit_size=26.0)
    if has_share:
        canvas.text(say("panel.share"), right, top + 24.0, 24.0, weight="medium", color=INK_2, anchor="right")
        draw_value(canvas, look.share, right, top + 58.0, 36.0, unit_size=26.0, right=True)


def _line(canvas: Canvas, side: int, left: float, right: float, top: float, row: LineRow) -> None:
    """Number, load, the way it runs with its speed, and the key."""
    canvas.box(left, top + 8.0, 30.0, 30.0, edge=INK, radius=15.0, fill=PANEL)
    canvas.digits(str(row.number), left + 15.0, top + 31.5, 24.0, anchor="center")
    draw_marked(canvas, row.load, left + 40.0, top + 35.0, 36.0, unit_size=24.0, mark_side=24.0)
    if row.word:
        canvas.text(row.word, left + 40.0, top + 62.0, 24.0, weight="bold", width=96.0)
    x = left + 150.0
    if row.way:
        icon(canvas, "arrow", x + 14.0, top + 22.0, 30.0, fill=SIDES[side].main, turn_deg=-90 if row.way > 0 else 90)
    canvas.text(row.way_word, x + (36.0 if row.way else 0.0), top + 31.0, 26.0, weight="bold", width=64.0)
    draw_value(canvas, row.speed, x, top + 62.0, 26.0, unit_size=24.0)
    draw_key(canvas, row.key, right - key_width(canvas, row.key), top + 14.0, height=40.0)


def _rope(canvas: Canvas, left: float, right: float, top: float, lines: tuple[LineRow, ...]) -> None:
    """Head room and rope left, of the line that has least, as a unit counts them."""
    head = min((row.head_room for row in lines), key=_as_number)
    rope = min((row.rope_left for row in lines), key=_as_number)
    width = canvas.text(say("turn.head"), left, top + 32.0, 24.0, weight="medium", color=INK_2, width=70.0)
    draw_marked(canvas, head, left + width + 8.0, top + 32.0, 28.0, unit_size=24.0, mark_side=22.0)
    left = draw_value(canvas, rope.value, right, top + 32.0, 28.0, unit_size=24.0, right=True)
    if rope.level > Level.GOOD:
        draw_level(canvas, rope.level, left - 15.0, top + 23.0, 22.0)
        left -= 30.0
    canvas.text(say("turn.rope"), left - 8.0, top + 32.0, 24.0, weight="medium", color=INK_2, anchor="right")


def _as_number(marked: Marked) -> float:
    try:
        return float(marked.value.text.replace("\N{MINUS SIGN}", "-"))
    except ValueError:
        return float("inf")


# The gauge --------------------------------------------------------------------------------------------------------

GAUGE = Region(SCENE.x + SCENE.w / 2.0 - 300.0, SCENE.foot - 168.0, 600.0, 160.0)
"""At the foot of the scene, in the ground under the load, between the boards."""
HUB: Spot = (GAUGE.x + 152.0, GAUGE.foot - 22.0)
RADIUS = 104.0
FROM_DEG, TO_DEG = -20.0, 200.0
"""What the gauge can show; zero lies left, a quarter turn stands up, half a turn lies right."""


def on_gauge(angle_deg: float, radius: float) -> Spot:
    """A place on the gauge."""
    turn = radians(180.0 - min(TO_DEG, max(FROM_DEG, angle_deg)))
    return HUB[0] + radius * cos(turn), HUB[1] - radius * sin(turn)


def draw_gauge(canvas: Canvas, look: GaugeLook) -> None:
    """Draws the gauge and its words."""
    canvas.box(*GAUGE, fill=PANEL, edge=RULE, radius=8.0)
    canvas.arc(*HUB, RADIUS, pi, 2.0 * pi, INK_3, width=2.0)
    for deg in range(0, 181, 5):
        inner = RADIUS - (18.0 if deg % 45 == 0 else 9.0)
        canvas.line(on_gauge(deg, inner), on_gauge(deg, RADIUS), INK, width=3.0 if deg % 45 == 0 else 1.5)
    for deg, x in ((0, HUB[0] - RADIUS - 8.0), (180, HUB[0] + RADIUS + 8.0)):
        canvas.digits(str(deg), x, HUB[1] + 8.0, 24.0, color=INK_2, anchor="left" if deg else "right")
    _corner(canvas, look)
    for needle in look.needles:
        _needle(canvas, needle)
    for needle in look.needles:  # no needle through the other's letter
        badge(canvas, needle.side, *on_gauge(needle.degrees, RADIUS * (0.42 if needle.side == 0 else 0.72)), 30.0)
    canvas.disc(*HUB, 9.0, fill=INK)
    _words(canvas, look)


class GaugePicture:
    """The gauge kept as a picture, drawn anew when its look changes."""

    def __init__(self, canvas: Canvas) -> None:
        self._layer = canvas.layer(*GAUGE, clear=True)
        self._look: GaugeLook | None = None

    def take(self, look: GaugeLook) -> bool:
        """Take a look; answer whether it is another one than before."""
        is_other = look != self._look
        self._look = look
        return is_other

    def redraw(self) -> None:
        """Draw the look taken last."""
        if self._look is not None:
            self._layer.surface.fill((*PANEL, 0))
            draw_gauge(self._layer, self._look)

    def show(self, canvas: Canvas) -> None:
        """Lays the picture."""
        if self._look is not None:
            canvas.paste(self._layer)


def _corner(canvas: Canvas, look: GaugeLook) -> None:
    """A wedge that points at the next corner from outside, and a long stroke where the turn stops before it."""
    deg = look.corner_deg
    canvas.polygon([on_gauge(deg, RADIUS + 2.0), *(on_gauge(deg + d, RADIUS + 20.0) for d in (-5.0, 5.0))], INK)
    canvas.line(on_gauge(look.slow_from_deg, RADIUS - 26.0), on_gauge(look.slow_from_deg, RADIUS + 8.0), INK, width=4.0)


def _needle(canvas: Canvas, needle: Needle) -> None:
    """One end: a needle with the unit's own badge, left's a full line, right's a dashed one."""
    tip, color = on_gauge(needle.degrees, RADIUS - 12.0), SIDES[needle.side].main
    if needle.side == 0:
        canvas.line(HUB, tip, color, width=6.0)
    else:
        canvas.dashed(HUB, tip, color, width=6.0, dash=12.0, gap=6.0)


def _words(canvas: Canvas, look: GaugeLook) -> None:
    x, right = GAUGE.x + 318.0, GAUGE.right - 16.0
    canvas.text(say("turn.turned"), x, GAUGE.y + 36.0, 26.0, weight="medium", color=INK_2, width=130.0)
    canvas.digits(f"{look.text}\N{DEGREE SIGN}", right, GAUGE.y + 50.0, 52.0, anchor="right")
    canvas.text(look.words, x, GAUGE.y + 86.0, 26.0, weight="bold", width=right - x)
    left = x
    if look.differ_level > Level.GOOD:
        draw_level(canvas, look.differ_level, x + 14.0, GAUGE.y + 108.0, 26.0)
        left += 34.0
    canvas.text(look.differ or look.yaw, left, GAUGE.y + 118.0, 26.0, width=right - left)
    if look.differ:
        canvas.text(look.yaw, x, GAUGE.y + 149.0, 26.0, weight="medium", color=INK_2, width=right - x)


# The strip --------------------------------------------------------------------------------------------------------


NARROW, WIDE = 118.0, 3
"""Width of a column of sums; how many columns behind them have words."""


def draw_turn_strip(canvas: Canvas, look: TurnStripLook) -> None:
    """Draws the columns over the whole strip's width."""
    canvas.rect(*CLEARANCE, PANEL)
    narrow = NARROW * (len(look.columns) - WIDE)
    x, width = CLEARANCE.x, NARROW
    for index, column in enumerate(look.columns):
        x += width if index else 0.0
        width = NARROW if index < len(look.columns) - WIDE else (CLEARANCE.w - narrow) / WIDE
        is_stop, level = column.value.level is Level.STOP, column.value.level
        if level > Level.GOOD:
            canvas.rect(x, CLEARANCE.y, width, CLEARANCE.h, STOP if is_stop else CAUTION_TINT)
        elif index:
            canvas.rect(x - 1.0, CLEARANCE.y + 14.0, 2.0, CLEARANCE.h - 28.0, RULE)
        ink, soft = (PANEL, PANEL) if is_stop else (INK, INK_2)
        left, room = x + 12.0, width - 18.0
        canvas.text(column.label, left, CLEARANCE.y + 36.0, 24.0, weight="medium", color=soft, width=room)
        if is_stop:
            icon(canvas, "stop", left + 15.0, CLEARANCE.y + 70.0, 28.0, fill=PANEL, mark=STOP)
        elif level is Level.CAUTION:
            draw_level(canvas, level, left + 15.0, CLEARANCE.y + 70.0, 28.0)
        at = left + (34.0 if level > Level.GOOD else 0.0)
        sizes = (44.0, 40.0, 34.0, 30.0)
        fits = (one for one in sizes if value_width(canvas, column.value.value, one, 26.0, 6.0) <= x + width - 6.0 - at)
        size = next(fits, sizes[-1])
        draw_value(canvas, column.value.value, at, CLEARANCE.y + 84.0, size, unit_size=26.0, color=ink, unit_color=soft)
        canvas.text(column.words, left, CLEARANCE.y + 124.0, 24.0, color=ink, width=room)

"""The plumb rose: a look straight down on one line, boom tip at the center, hook as a dot."""

from __future__ import annotations

from collections import deque
from functools import lru_cache
from math import cos, degrees, hypot, pi, radians, sin
from typing import NamedTuple

import pygame

from simulator.readings import Readings
from simulator.scenario.description import Limits
from simulator.scenario.rig import RigUnit
from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, INK, INK_3, PANEL, SIDES, SOIL_MARK
from simulator.window.readouts.fix_chips import as_judged

DOT_RADIUS = 12.0
LEAST_ARROW = 30.0
LINE_DOT_RADIUS = 15.0
SLACK_EDGE = 4.0
SAMPLE_S = 0.08
LONGEST_TRAIL = 72
HALO = 4.0
ROAD_ARCS = ((-8.0, 58.0), (-17.0, 52.0))
"""Two arcs at the top that mean road: how far inside the rim, and half their sweep in degrees."""


class RoseLook(NamedTuple):
    """One rose at one moment, in degrees on the screen: right and down are positive."""

    hook: Spot
    mean: Spot
    trail: tuple[Spot, ...]
    level: Level
    slack: bool
    lines: tuple[LineDot, ...] = ()
    """Its lines, where there are two: the dot without a number is then where their pulls together lead."""


class LineDot(NamedTuple):
    """One of two lines: where it leads by itself."""

    number: int
    hook: Spot
    slack: bool


class Trail:
    """Where a hook was over the last sway, as the rose shows it."""

    def __init__(self) -> None:
        self._spots: deque[tuple[float, Spot]] = deque(maxlen=LONGEST_TRAIL)

    def follow(self, time_s: float, spot: Spot, period_s: float) -> tuple[Spot, ...]:
        """Take the hook's place at a time; answer the path over the last `period_s`."""
        if self._spots and time_s < self._spots[-1][0]:
            self._spots.clear()
        step_s = max(SAMPLE_S, period_s / LONGEST_TRAIL)
        if not self._spots or time_s - self._spots[-1][0] >= step_s:
            self._spots.append((time_s, spot))
        while self._spots and self._spots[0][0] < time_s - period_s:
            self._spots.popleft()
        return (*(place for _, place in self._spots), spot)


def on_rose(along_rad: float, across_rad: float, sign: float) -> Spot:
    """Off plumb along and across as degrees on the rose; `sign` is -1 where the picture is mirrored."""
    return sign * degrees(along_rad), -degrees(across_rad)


def rose_look(rig: RigUnit, readings: Readings, trail: Trail, sign: float, level: Level) -> RoseLook:
    """What the rose of one unit shows."""
    unit = as_judged(readings, rig)
    hook = on_rose(unit.off_plumb_along_rad, unit.off_plumb_across_rad, sign)
    mean = on_rose(unit.mean_off_plumb_along_rad, unit.mean_off_plumb_across_rad, sign)
    path = trail.follow(readings.time_s, hook, readings.load.sway_period_s)
    own = [(line.number, readings.lines[line.place]) for line in rig.lines] if len(rig.lines) > 1 else []
    dots = tuple(
        LineDot(number, on_rose(now.off_plumb_along_rad, now.off_plumb_across_rad, sign), now.slack)
        for number, now in own
    )
    return RoseLook(hook, mean, path, level, unit.slack, dots)


def draw_rose(canvas: Canvas, side: int, x: float, y: float, radius: float, look: RoseLook, limits: Limits) -> None:
    """Draws the rose centered at (x, y)."""
    radius = 2.0 * round(radius / 2.0)
    marks = (degrees(limits.plumb_rad), degrees(limits.off_plumb_caution_rad), degrees(limits.off_plumb_stop_rad))
    face = rose_face(radius, canvas.f, marks)
    px, py = canvas.to_px(x, y)
    half = face.get_width() / 2
    canvas.surface.blit(face, (round(px - half), round(py - half)))
    per_degree = radius / marks[2]
    _trail(canvas, side, x, y, per_degree, radius, look.trail)
    mean = _inside(look.mean, per_degree, radius)
    is_arrow = hypot(*mean) >= LEAST_ARROW
    if not is_arrow:
        canvas.line((x, y), (x + mean[0], y + mean[1]), INK, width=5.0)
    for one in look.lines:
        _line_dot(canvas, side, x, y, one, _inside(one.hook, per_degree, radius - LINE_DOT_RADIUS))
    dx, dy = _inside(look.hook, per_degree, radius)
    canvas.disc(x + dx, y + dy, DOT_RADIUS + 2.0, fill=PANEL)
    # Hollow: nothing hangs there, it only shows where the hook is.
    fill = PANEL if look.slack else SIDES[side].main
    canvas.disc(x + dx, y + dy, DOT_RADIUS, fill=fill, edge=SIDES[side].main, edge_width=SLACK_EDGE)
    if is_arrow:
        _mean_arrow(canvas, x, y, *mean, look.level)
    canvas.disc(x, y, 5.0, fill=INK)


def _line_dot(canvas: Canvas, side: int, x: float, y: float, dot: LineDot, at: Spot) -> None:
    """A numbered line: on a fine leader from the tip, hollow while it hangs slack."""
    dx, dy = at
    canvas.line((x, y), (x + dx, y + dy), SIDES[side].main, width=2.0)
    fill, ink = (PANEL, INK) if dot.slack else (SIDES[side].tint, SIDES[side].dark)
    canvas.disc(x + dx, y + dy, LINE_DOT_RADIUS, fill=fill, edge=SIDES[side].main, edge_width=2.0)
    canvas.digits(str(dot.number), x + dx, y + dy + 8.5, 24.0, color=ink, anchor="center")


def _trail(
    canvas: Canvas, side: int, x: float, y: float, per_degree: float, radius: float, trail: tuple[Spot, ...]
) -> None:
    if len(trail) < 3:
        return
    k, (cx, cy) = per_degree * canvas.f, canvas.points_px([(x, y)])[0]
    rim = radius / per_degree
    spots = [spot if hypot(*spot) < rim else _inside(spot, 1.0, rim) for spot in trail]
    pygame.draw.aalines(canvas.surface, SIDES[side].main, False, [(cx + k * dx, cy + k * dy) for dx, dy in spots])


def _mean_arrow(canvas: Canvas, x: float, y: float, dx: float, dy: float, level: Level) -> None:
    length = hypot(dx, dy)
    # Short of the place itself, so that the dot stays seen when the hook hangs there.
    share = (length - DOT_RADIUS + 2.0) / length
    fill, edge = (CAUTION, INK) if level is Level.CAUTION else (INK, PANEL)
    canvas.arrow((x, y), (x + dx * share, y + dy * share), fill, edge=edge, shaft=9.0, head=24.0)


def _inside(spot: Spot, per_degree: float, radius: float) -> Spot:
    """Units from the center; beyond the rim a spot stays on it."""
    dx, dy = spot[0] * per_degree, spot[1] * per_degree
    length = hypot(dx, dy)
    share = 1.0 if length <= radius else radius / length
    return dx * share, dy * share


@lru_cache(maxsize=32)
def rose_face(radius: float, f: float, marks_deg: tuple[float, float, float]) -> pygame.Surface:
    """The still part, drawn at four times its size once and kept."""
    half = radius + HALO + 1.0
    side = round(2.0 * half * f)
    big = pygame.Surface((side * 4, side * 4), pygame.SRCALPHA)
    big.fill((*PANEL, 0))
    k, middle = 4.0 * f, side * 2.0
    pygame.draw.circle(big, PANEL, (middle, middle), (radius + HALO) * k)
    pygame.draw.circle(big, INK, (middle, middle), radius * k)
    pygame.draw.circle(big, PANEL, (middle, middle), (radius - 4.0) * k)
    for inset, sweep in ROAD_ARCS:
        _arc(big, middle, (radius + inset - 1.0) * k, radians(-90 - sweep * 0.73), radians(-90 + sweep * 0.73), 3.0 * k)
    for turn in range(7):
        _stroke_at(big, middle, radians(35.0 + turn * 110.0 / 6.0), (radius - 20.0) * k, (radius - 7.0) * k, 4.0 * k)
    per_degree = radius / marks_deg[2]
    _ring(big, middle, marks_deg[0] * per_degree * k, 3.0 * k)
    for dash in range(24):
        start = dash * pi / 12.0
        _arc(big, middle, marks_deg[1] * per_degree * k, start, start + pi / 20.0, 2.0 * k)
    return shapes.quick(pygame.transform.smoothscale(big, (side, side)))


def _ring(big: pygame.Surface, middle: float, radius: float, width: float) -> None:
    pygame.draw.circle(big, INK, (middle, middle), radius, max(1, round(width)))


def _arc(big: pygame.Surface, middle: float, radius: float, start: float, end: float, width: float) -> None:
    count = max(4, int((end - start) * radius / 12.0))
    turns = [start + (end - start) * n / count for n in range(count + 1)]
    outer = [(middle + (radius + width / 2) * cos(a), middle + (radius + width / 2) * sin(a)) for a in turns]
    inner = [(middle + (radius - width / 2) * cos(a), middle + (radius - width / 2) * sin(a)) for a in turns]
    pygame.draw.polygon(big, INK_3, outer + inner[::-1])


def _stroke_at(big: pygame.Surface, middle: float, turn: float, near: float, far: float, width: float) -> None:
    ux, uy = cos(turn), sin(turn)
    nx, ny = -uy * width / 2, ux * width / 2
    ends = ((near, 1), (far, 1), (far, -1), (near, -1))
    pygame.draw.polygon(big, SOIL_MARK, [(middle + ux * r + nx * s, middle + uy * r + ny * s) for r, s in ends])

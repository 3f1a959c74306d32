"""A round shell and a wheel in any attitude: silhouette, shade, seams."""

from __future__ import annotations

from functools import lru_cache
from math import atan2, cos, hypot, pi, sin
from typing import NamedTuple

import numpy as np

from simulator.window.kit import shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import BODY, INK, PANEL, STEEL, STEEL_DARK, STEEL_LIGHT, mixed
from simulator.window.scene.solids import Array, PlacedSolid
from simulator.window.scene.trailer_shape import TYRE, Lid, RoundShell, ShellSection, Wheel

Spot = tuple[float, float]
SHADE = mixed(BODY, STEEL, 0.5)
BANDS = ((0.14, 0.30, PANEL), (0.58, 0.82, SHADE))
"""Light and shade on the half that shows: from, to (0 its upper edge, 1 its lower), color."""
SEAM = STEEL
SEAM_STEPS = 6
TURN_STEP_RAD = 0.003
"""Roll is drawn in steps this small, so that a shell that hangs still is worked out once."""
RIM_SIDES = 12


class Lit(NamedTuple):
    """Which half of a round section shows: from its upper edge, turning by `way` to its lower edge."""

    start_rad: float
    way: float


def showing(section: ShellSection, place: PlacedSolid) -> Lit:
    """The half of a section that looks toward the viewer."""
    _, down_y, down_z = place.turn[1]
    _, away_y, away_z = place.turn[2]
    a, b = section.half_width_m, section.half_height_m
    edge = atan2(-away_y / a, away_z / b)
    down = down_y * a * cos(edge) + down_z * b * sin(edge)
    start = edge if down < 0 else edge + pi
    nearer = away_y * -sin(start) * a + away_z * cos(start) * b < 0
    return Lit(start, 1.0 if nearer else -1.0)


def on_shell(section: ShellSection, lit: Lit, share: float) -> tuple[float, float, float]:
    """A point of a section, `share` of the way down the half that shows."""
    turn = lit.start_rad + lit.way * pi * share
    return (
        section.x_m,
        section.y_m + section.half_width_m * cos(turn),
        section.z_m + section.half_height_m * sin(turn),
    )


def _spots(points: list[tuple[float, float, float]], place: PlacedSolid) -> list[Spot]:
    return [(x, y) for x, y, _ in place.spots(np.array(points))]


@lru_cache(maxsize=64)
def _rows(shell: RoundShell, start_rad: float, way: float) -> Array:
    """Points of a shell's edge, bands and seams for one turn of its section."""
    lit = Lit(start_rad, way)
    shares = (0.0, 1.0, *(edge for low, high, _ in BANDS for edge in (low, high)))
    rows = [on_shell(station, lit, share) for share in shares for station in shell.stations]
    rows += [on_shell(seam, lit, n / (SEAM_STEPS - 1)) for seam in shell.seams for n in range(SEAM_STEPS)]
    return np.array(rows)


def draw_shell(canvas: Canvas, shell: RoundShell, place: PlacedSolid) -> None:
    """Draws a tank's shell: body, light, shade, seams, outline."""
    lit = showing(shell.stations[len(shell.stations) // 2], place)
    rows = _rows(shell, round(lit.start_rad / TURN_STEP_RAD) * TURN_STEP_RAD, lit.way)
    spots, count = [(x, y) for x, y, _ in place.spots(rows)], len(shell.stations)
    lines = [spots[n : n + count] for n in range(0, count * 2 * (1 + len(BANDS)), count)]
    edge, surface = [*lines[0], *reversed(lines[1])], canvas.surface
    shapes.plain_polygon(surface, edge, BODY)
    for (_, _, color), upper, lower in zip(BANDS, lines[2::2], lines[3::2], strict=True):
        shapes.soft_polygon(surface, [*upper, *reversed(lower)], color)
    for n in range(count * len(lines), len(spots), SEAM_STEPS):
        shapes.bowed_line(surface, spots[n : n + SEAM_STEPS], SEAM, max(1.0, 1.7 * canvas.f))
    shapes.outline(surface, edge, INK, max(1.0, 2.3 * canvas.f))


def draw_wheel(canvas: Canvas, wheel: Wheel, place: PlacedSolid) -> None:
    """Draws a wheel: seen along its axle, round; else a drum."""
    scale = float(np.linalg.norm(place.turn[2])) or 1.0
    axle = place.turn[:, 1] / scale
    x, y, z = wheel.middle_m
    toward = -wheel.half_width_m if axle[2] > 0 else wheel.half_width_m
    (mx, my, _), (fx, fy, _) = place.spots(np.array(((x, y, z), (x, y + toward, z))))
    radius = wheel.radius_m * scale
    if abs(axle[2]) > 0.985:
        _face(canvas, (fx + 0.5, fy + 0.5), radius)
        return
    _drum(canvas, (2 * mx - fx, 2 * my - fy), (fx, fy), radius, abs(float(axle[2])))


def draw_lid(canvas: Canvas, lid: Lid, place: PlacedSolid) -> None:
    """Draws a lid: round when seen from its top, a low block from the side, nothing from beneath."""
    (x, y, z), r = lid.middle_m, lid.radius_m
    facing = -place.turn[2][2] / (float(np.linalg.norm(place.turn[2])) or 1.0)
    if facing > 0.9:
        spots = _spots([(x, y, z)], place)
        ux, uy = canvas.to_units(spots[0][0] + 0.5, spots[0][1] + 0.5)
        radius = r * float(np.linalg.norm(place.turn[2])) / canvas.f
        canvas.disc(ux, uy, radius, fill=STEEL_LIGHT, edge=STEEL_DARK, edge_width=1.5)
    elif facing > -0.3:
        h = 0.06
        corners = [(x - r, y, z - h), (x + r, y, z - h), (x + r, y, z + h), (x - r, y, z + h)]
        shapes.edged_polygon(canvas.surface, _spots(corners, place), STEEL_LIGHT, STEEL_DARK, max(1.0, canvas.f))


def _face(canvas: Canvas, middle: Spot, radius_px: float) -> None:
    """A wheel seen along its axle."""
    x, y = canvas.to_units(*middle)
    radius = radius_px / canvas.f
    canvas.disc(x, y, radius, fill=TYRE, edge=INK, edge_width=1.5)
    canvas.disc(x, y, radius * 0.56, fill=STEEL, edge=INK, edge_width=1.0)
    canvas.disc(x, y, radius * 0.2, fill=STEEL_DARK)


def _drum(canvas: Canvas, far: Spot, near: Spot, radius_px: float, facing: float) -> None:
    """A wheel seen from across: the drum between its two faces, then the nearer face."""
    dx, dy = near[0] - far[0], near[1] - far[1]
    length = hypot(dx, dy) or 1.0
    ux, uy = dx / length, dy / length
    half = [n * pi / (RIM_SIDES // 2) for n in range(RIM_SIDES // 2 + 1)]

    def arc(middle: Spot, radius: float, way: float) -> list[Spot]:
        """Half a face's rim, on the `way` side along the axle."""
        mx, my = middle
        return [
            (
                mx - uy * radius * cos(a) * way + ux * facing * radius * sin(a) * way,
                my + ux * radius * cos(a) * way + uy * facing * radius * sin(a) * way,
            )
            for a in half
        ]

    edge_px = max(1.0, 1.5 * canvas.f)
    shapes.edged_polygon(canvas.surface, [*arc(near, radius_px, 1.0), *arc(far, radius_px, -1.0)], TYRE, INK, edge_px)
    if length * 0.3 > 2:
        groove = (far[0] + dx / 2, far[1] + dy / 2)
        ends = [(groove[0] - uy * radius_px * k, groove[1] + ux * radius_px * k) for k in (-0.9, 0.9)]
        shapes.thick_line(canvas.surface, ends[0], ends[1], STEEL_DARK, max(1.0, 2.0 * canvas.f))
    if facing > 0.12:
        rim = [*arc(near, radius_px * 0.56, 1.0), *arc(near, radius_px * 0.56, -1.0)]
        shapes.edged_polygon(canvas.surface, rim, STEEL_LIGHT, INK, max(1.0, canvas.f))

"""The trailer's outlines for the insets: seen from above, and as a section across the slope."""

from __future__ import annotations

from math import cos, pi, sin
from typing import NamedTuple

import numpy as np

from simulator.scenario.trailer import Part, Trailer
from simulator.window.kit.palette import BODY, STEEL, STEEL_DARK, Color
from simulator.window.scene.solids import Array, Vector
from simulator.window.scene.trailer_shape import TYRE, bounds

TONES: dict[str, Color] = {"tank": BODY, "box": BODY, "wheels": TYRE, "case": STEEL, "plate": STEEL_DARK}
ORDER = ("wheels", "bumper", "legs", "frame", "plate", "case", "box", "tank")
CHAMFER_M = 0.45


class Flat(NamedTuple):
    """One part's outline, in the trailer's own axes."""

    points: Array
    """One column a corner."""
    fill: Color
    is_body: bool


def _corners(low: tuple[float, float], high: tuple[float, float], cut: float) -> list[tuple[float, float]]:
    """A rectangle, its corners cut off by `cut`."""
    (a0, b0), (a1, b1) = low, high
    if cut <= 0.0:
        return [(a0, b0), (a1, b0), (a1, b1), (a0, b1)]
    return [
        (a0 + cut, b0), (a1 - cut, b0), (a1, b0 + cut), (a1, b1 - cut),
        (a1 - cut, b1), (a0 + cut, b1), (a0, b1 - cut), (a0, b0 + cut),
    ]  # fmt: skip


def plan_outlines(trailer: Trailer, *, on_wheels: bool) -> tuple[Flat, ...]:
    """Every part's outline from above, as the trailer is on its wheels or on its side, the lowest part first."""

    def outline(part: Part) -> tuple[float, Flat]:
        b = bounds(part)
        low, high = (b.y0, b.y1) if on_wheels else (b.z0, b.z1)
        level = (b.z0 + b.z1) / 2.0 if on_wheels else b.y1 - 0.01 * ORDER.index(part.drawn_as)
        cut = CHAMFER_M if part.drawn_as == "tank" else 0.0
        pairs = _corners((b.x0, low), (b.x1, high), min(cut, (high - low) / 3.0))
        points = [(x, across, level) if on_wheels else (x, part.y_m, across) for x, across in pairs]
        return level, _flat(points, part)

    return tuple(flat for _, flat in sorted(map(outline, trailer.parts), key=lambda row: row[0]))


def section_outlines(trailer: Trailer, x_m: float) -> tuple[Flat, ...]:
    """Every part's section across the trailer, all laid at one place `x_m` along it, bodies last."""
    rows = []
    for part in sorted(trailer.parts, key=lambda p: ORDER.index(p.drawn_as)):
        for y0, y1 in _spans(part):
            b = bounds(part)
            if part.drawn_as == "tank":
                ring = [n * pi / 9 for n in range(18)]
                middle, half = (b.z0 + b.z1) / 2.0, (b.z1 - b.z0) / 2.0
                pairs = [(part.y_m + part.width_m / 2.0 * cos(a), middle + half * sin(a)) for a in ring]
            else:
                pairs = _corners((y0, b.z0), (y1, b.z1), 0.0)
            rows.append(_flat([(x_m, y, z) for y, z in pairs], part))
    return tuple(rows)


def _spans(part: Part) -> tuple[tuple[float, float], ...]:
    """Where a part stands across the trailer: wheels and legs on both sides, the rest in one piece."""
    b = bounds(part)
    width = {"wheels": 0.56, "legs": 0.24}.get(part.drawn_as)
    if width is None or 2 * width >= part.width_m:
        return ((b.y0, b.y1),)
    return (b.y0, b.y0 + width), (b.y1 - width, b.y1)


def _flat(points: list[Vector], part: Part) -> Flat:
    return Flat(np.array(points).T, TONES.get(part.drawn_as, STEEL_DARK), part.drawn_as in ("tank", "box"))

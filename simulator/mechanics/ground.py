"""The ground as a surface: section across the slope, carrying the bed's height along the road.

Depth is measured to the nearest point of the surface, never straight down: a steep face must not act as a floor.
"""

from __future__ import annotations

from bisect import bisect_right
from math import inf, sqrt
from typing import NamedTuple

from simulator.scenario.site import Site

ROUNDING_M = 1e-4
"""Faces this much farther than the nearest are looked at too: ties are settled between all that could be it."""


class Nearest(NamedTuple):
    """A point against the surface."""

    depth_m: float
    """Positive inside the ground."""
    nx: float
    ny: float
    nz: float
    """Unit normal of the surface there, out of the ground."""
    y_m: float
    """y of the nearest point of the surface."""


class Face(NamedTuple):
    """The section from one of its points (a) to the next (b); the first and the last run on."""

    high_y_m: float
    low_y_m: float
    """Where it ends to either side, infinite where it runs on."""
    least: float
    most: float
    """How far along from a to b it goes: 0 to 1, or on."""
    ya: float
    za: float
    yb: float
    zb: float
    carries_a: float
    carries_b: float


class Ground(NamedTuple):
    """The surface, ready to be asked."""

    section: tuple[tuple[float, float], ...]
    carries_bed: tuple[float, ...]
    """1 where a section point carries the bed's height, else 0."""
    bed: tuple[tuple[float, float], ...]
    edge_y_m: float
    top_m: float
    """No ground is higher than this."""
    bed_x_m: tuple[float, ...]
    """The bed's places along the road."""
    faces: tuple[Face, ...]


def ground(site: Site) -> Ground:
    """The surface of a site."""
    carries = tuple(1.0 if y < site.edge_y_m else 0.0 for y, _ in site.section_m)
    rise = max(z for _, z in site.bed_m)
    top = max(z + share * rise for (_, z), share in zip(site.section_m, carries, strict=True))
    faces = _faces(site.section_m, carries)
    return Ground(site.section_m, carries, site.bed_m, site.edge_y_m, top, tuple(x for x, _ in site.bed_m), faces)


def level_along(surface: Ground) -> Ground:
    """The same section with nothing added along the road."""
    return surface._replace(bed=((0.0, 0.0),), bed_x_m=(0.0,))


def _faces(section: tuple[tuple[float, float], ...], carries: tuple[float, ...]) -> tuple[Face, ...]:
    last = len(section) - 2
    return tuple(
        Face(
            *(section[i][0] if i > 0 else inf, section[i + 1][0] if i < last else -inf),
            *(0.0 if i > 0 else -inf, 1.0 if i < last else inf),
            *(*section[i], *section[i + 1], carries[i], carries[i + 1]),
        )
        for i in range(last + 1)
    )


def bed_at(surface: Ground, x_m: float) -> tuple[float, float]:
    """The bed's height along the road at `x_m`, and its slope there (dz/dx). Ends run on level."""
    bed = surface.bed
    if x_m <= bed[0][0]:
        return bed[0][1], 0.0
    if x_m >= bed[-1][0]:
        return bed[-1][1], 0.0
    i = bisect_right(surface.bed_x_m, x_m)
    (x0, z0), (x1, z1) = bed[i - 1], bed[i]
    slope = (z1 - z0) / (x1 - x0)
    return z0 + slope * (x_m - x0), slope


def height_m(surface: Ground, x_m: float, y_m: float) -> float:
    """Height of the ground straight under (or over) a place."""
    rise, _ = bed_at(surface, x_m)
    return _height_m(surface, rise, y_m)


def _height_m(surface: Ground, rise: float, y_m: float) -> float:
    """The section's height where the bed is `rise` high."""
    section, carries = surface.section, surface.carries_bed
    if y_m >= section[0][0]:
        return section[0][1] + carries[0] * rise
    for i in range(1, len(section)):
        y1, z1 = section[i]
        if y_m >= y1:
            y0, z0 = section[i - 1]
            share = (y_m - y1) / (y0 - y1)
            low, high = z1 + carries[i] * rise, z0 + carries[i - 1] * rise
            return low + share * (high - low)
    return section[-1][1] + carries[-1] * rise


def highest_m(surface: Ground, x_low_m: float, x_high_m: float, y_low_m: float, y_high_m: float) -> float:
    """No ground in this plan rectangle is higher than this."""
    rise = max(bed_at(surface, x_low_m)[0], bed_at(surface, x_high_m)[0])
    for x, z in surface.bed:
        if z > rise and x_low_m < x < x_high_m:
            rise = z
    (first_y, first_z), (last_y, last_z) = surface.section[0], surface.section[-1]
    best = first_z + surface.carries_bed[0] * rise if y_high_m > first_y else -1e9
    for _, _, _, _, ya, za, yb, zb, carries_a, carries_b in surface.faces:
        if y_high_m >= yb and y_low_m <= ya:
            za, zb = za + carries_a * rise, zb + carries_b * rise
            slope = (zb - za) / (yb - ya)
            y = (y_high_m if y_high_m < ya else ya) if slope > 0.0 else (y_low_m if y_low_m > yb else yb)
            top = za + slope * (y - ya)
            if top > best:
                best = top
    return max(best, last_z + surface.carries_bed[-1] * rise) if y_low_m < last_y else best


def nearest(surface: Ground, x_m: float, y_m: float, z_m: float) -> Nearest:
    """A point's depth under the nearest point of the surface, with the normal there.

    The section is taken at the point's own x; the bed's slope along the road turns the normal and shortens the depth
    (exact for a plane bed).
    """
    rise, slope = bed_at(surface, x_m)
    return _nearest(surface, rise, slope, y_m, z_m, inf)


def nearest_over(surface: Ground, x_m: float, y_m: float, z_m: float) -> Nearest | None:
    """`nearest` for a point that has ground straight over it; None for one that has none."""
    rise, slope = bed_at(surface, x_m)
    over = _height_m(surface, rise, y_m) - z_m
    if over < 0.0:
        return None
    on_section = surface.section[-1][0] <= y_m <= surface.section[0][0]
    return _nearest(surface, rise, slope, y_m, z_m, over + ROUNDING_M if on_section else inf)


def _nearest(surface: Ground, rise: float, slope: float, y_m: float, z_m: float, within_m: float) -> Nearest:
    """The nearest point of the section, known to be within a distance: faces farther to one side are passed over."""
    best, best_side, found = 1e18, 0.0, (0.0, 0.0, 1.0, 0.0, 0.0)
    for high_y, low_y, least, most, ya, za, yb, zb, carries_a, carries_b in surface.faces:
        if low_y - y_m > within_m or y_m - high_y > within_m:
            continue
        za, zb = za + carries_a * rise, zb + carries_b * rise
        dy, dz = yb - ya, zb - za
        length = sqrt(dy * dy + dz * dz)
        t = ((y_m - ya) * dy + (z_m - za) * dz) / (length * length)
        if t < least:
            t = least
        elif t > most:
            t = most
        fy, fz = y_m - ya - t * dy, z_m - za - t * dz
        square = fy * fy + fz * fz
        side = (fy * dz - fz * dy) / length
        if square < best - 1e-12 or (square < best + 1e-12 and abs(side) > abs(best_side)):
            best, best_side = square, side
            share = carries_a + t * (carries_b - carries_a)
            found = (dz / length, -dy / length, share, ya + t * dy, side)
    ny, nz, share, y_found, side = found
    distance = sqrt(best)
    tilt = share * slope * nz
    scale = 1.0 / sqrt(1.0 + tilt * tilt)
    depth = -distance if side >= 0.0 else distance
    return Nearest(depth * scale, -tilt * scale, ny * scale, nz * scale, y_found)

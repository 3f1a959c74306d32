"""The ground as a surface: section across the slope, carrying the bed's height along the road.

Depth is measured to the nearest point of the surface, never straight down: a steep face must not act as a floor.
"""

from __future__ import annotations

from bisect import bisect_right
from math import sqrt
from typing import NamedTuple

from simulator.scenario.site import Site


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


class Ground(NamedTuple):
    """The surface, ready to be asked."""

    section: tuple[tuple[float, float], ...]
    carries_bed: tuple[float, ...]
    """1 where a section point carries the bed's height, else 0."""
    bed: tuple[tuple[float, float], ...]
    edge_y_m: float
    top_m: float
    """No ground is higher than this."""


def ground(site: Site) -> Ground:
    """The surface of a site."""
    carries = tuple(1.0 if y < site.edge_y_m else 0.0 for y, _ in site.section_m)
    rise = max(z for _, z in site.bed_m)
    top = max(z + share * rise for (_, z), share in zip(site.section_m, carries, strict=True))
    return Ground(site.section_m, carries, site.bed_m, site.edge_y_m, top)


def bed_at(surface: Ground, x_m: float) -> tuple[float, float]:
    """The bed's height along the road at `x_m`, and its slope there (dz/dx). Ends run on level."""
    bed = surface.bed
    if x_m <= bed[0][0]:
        return bed[0][1], 0.0
    if x_m >= bed[-1][0]:
        return bed[-1][1], 0.0
    i = bisect_right(bed, x_m, key=lambda point: point[0])
    (x0, z0), (x1, z1) = bed[i - 1], bed[i]
    slope = (z1 - z0) / (x1 - x0)
    return z0 + slope * (x_m - x0), slope


def height_m(surface: Ground, x_m: float, y_m: float) -> float:
    """Height of the ground straight under (or over) a place."""
    rise, _ = bed_at(surface, x_m)
    section = surface.section
    if y_m >= section[0][0]:
        return section[0][1] + surface.carries_bed[0] * rise
    for i in range(1, len(section)):
        y1, z1 = section[i]
        if y_m >= y1:
            y0, z0 = section[i - 1]
            share = (y_m - y1) / (y0 - y1)
            low, high = z1 + surface.carries_bed[i] * rise, z0 + surface.carries_bed[i - 1] * rise
            return low + share * (high - low)
    return section[-1][1] + surface.carries_bed[-1] * rise


def highest_m(surface: Ground, x_low_m: float, x_high_m: float, y_low_m: float, y_high_m: float) -> float:
    """No ground in this plan rectangle is higher than this."""
    rise = max(bed_at(surface, x_low_m)[0], bed_at(surface, x_high_m)[0])
    for x, z in surface.bed:
        if z > rise and x_low_m < x < x_high_m:
            rise = z
    ya, za = surface.section[0]
    za += surface.carries_bed[0] * rise
    best = za if y_high_m > ya else -1e9
    for (yb, zb), share in zip(surface.section[1:], surface.carries_bed[1:], strict=True):
        zb += share * rise
        if y_high_m >= yb and y_low_m <= ya:
            slope = (zb - za) / (yb - ya)
            y = min(y_high_m, ya) if slope > 0.0 else max(y_low_m, yb)
            best = max(best, za + slope * (y - ya))
        ya, za = yb, zb
    return max(best, za) if y_low_m < ya else best


def nearest(surface: Ground, x_m: float, y_m: float, z_m: float) -> Nearest:
    """A point's depth under the nearest point of the surface, with the normal there.

    The section is taken at the point's own x; the bed's slope along the road turns the normal and shortens the depth
    (exact for a plane bed).
    """
    rise, slope = bed_at(surface, x_m)
    section, carries = surface.section, surface.carries_bed
    best, best_side, found = 1e18, 0.0, (0.0, 0.0, 1.0, 0.0, 0.0)
    last = len(section) - 2
    ya, za = section[0][0], section[0][1] + carries[0] * rise
    for i in range(last + 1):
        yb, zb = section[i + 1][0], section[i + 1][1] + carries[i + 1] * rise
        dy, dz = yb - ya, zb - za
        length = sqrt(dy * dy + dz * dz)
        t = ((y_m - ya) * dy + (z_m - za) * dz) / (length * length)
        if t < 0.0 and i > 0:
            t = 0.0
        elif t > 1.0 and i < last:
            t = 1.0
        fy, fz = y_m - ya - t * dy, z_m - za - t * dz
        square = fy * fy + fz * fz
        side = (fy * dz - fz * dy) / length
        if square < best - 1e-12 or (square < best + 1e-12 and abs(side) > abs(best_side)):
            best, best_side = square, side
            share = carries[i] + t * (carries[i + 1] - carries[i])
            found = (dz / length, -dy / length, share, ya + t * dy, side)
        ya, za = yb, zb
    ny, nz, share, y_found, side = found
    distance = sqrt(best)
    tilt = share * slope * nz
    scale = 1.0 / sqrt(1.0 + tilt * tilt)
    depth = -distance if side >= 0.0 else distance
    return Nearest(depth * scale, -tilt * scale, ny * scale, nz * scale, y_found)

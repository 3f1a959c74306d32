"""The ground as a surface: section across the slope, carrying the bed's height along the road.

Depth is measured to the nearest point of the surface, never straight down: a steep face must not act as a floor.
"""

from __future__ import annotations

from math import inf, sqrt
from typing import Final, NamedTuple

from simulator.scenario.site import Site

Section = tuple[tuple[float, float], ...]
"""(y, z) across, from the road side to the ravine; or (x, z) along."""
Spot = tuple[float, float, float, float, float]
"""Depth, normal (x, y, z) and y of the nearest point: what `Nearest` names."""

ROUNDING_M: Final = 1e-4
"""Faces this much farther than the nearest are looked at too: ties are settled between all that could be it."""
OUTSIDE_M: Final = -1e18
"""Depth said of a point with no ground straight over it."""


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


class Face:
    """The section from one of its points (a) to the next (b); the first and the last run on."""

    __slots__ = ("carries_a", "carries_b", "high_y_m", "least", "low_y_m", "most", "ya", "yb", "za", "zb")

    def __init__(self, section: Section, carries: tuple[float, ...], i: int) -> None:
        """Face `i` of a section."""
        last = len(section) - 2
        self.high_y_m: float = section[i][0] if i > 0 else inf
        self.low_y_m: float = section[i + 1][0] if i < last else -inf
        """Where it ends to either side, infinite where it runs on."""
        self.least: float = 0.0 if i > 0 else -inf
        self.most: float = 1.0 if i < last else inf
        """How far along from a to b it goes: 0 to 1, or on."""
        self.ya: float = section[i][0]
        self.za: float = section[i][1]
        self.yb: float = section[i + 1][0]
        self.zb: float = section[i + 1][1]
        self.carries_a: float = carries[i]
        self.carries_b: float = carries[i + 1]


class Deck:
    """A level box on the road that a load can be set down on: its ends along x, its sides across y, its top."""

    __slots__ = ("high_x_m", "high_y_m", "low_x_m", "low_y_m", "top_m")

    def __init__(self, x_m: tuple[float, float], y_m: tuple[float, float], top_m: float) -> None:
        """Ends, sides and top."""
        self.low_x_m: float = x_m[0]
        self.high_x_m: float = x_m[1]
        self.low_y_m: float = y_m[0]
        self.high_y_m: float = y_m[1]
        self.top_m: float = top_m


class Ground:
    """The surface, ready to be asked. Nothing changes it."""

    __slots__ = ("bed", "carries_bed", "deck", "edge_y_m", "faces", "section", "top_m")

    def __init__(
        self,
        section: Section,
        carries_bed: tuple[float, ...],
        bed: Section,
        edge_y_m: float,
        deck: Deck | None = None,
    ) -> None:
        """A section across, the share of the bed's height that each of its points carries, the bed along; a deck that
        stands on it."""
        self.section: list[tuple[float, float]] = [(float(y), float(z)) for y, z in section]
        self.carries_bed: list[float] = list(carries_bed)
        """1 where a section point carries the bed's height, else 0."""
        self.bed: list[tuple[float, float]] = [(float(x), float(z)) for x, z in bed]
        self.edge_y_m: float = edge_y_m
        rise = max([z for _, z in self.bed])
        self.top_m: float = max([z + share * rise for (_, z), share in zip(section, carries_bed, strict=True)])
        """No ground is higher than this."""
        self.faces: list[Face] = [Face(section, carries_bed, i) for i in range(len(section) - 1)]
        self.deck: Deck | None = deck
        if deck is not None and deck.top_m > self.top_m:
            self.top_m = deck.top_m


def ground(site: Site, deck: Deck | None = None) -> Ground:
    """The surface of a site, and a deck that stands on its road."""
    carries = tuple([1.0 if y < site.edge_y_m else 0.0 for y, _ in site.section_m])
    return Ground(site.section_m, carries, site.bed_m, site.edge_y_m, deck)


def level_along(surface: Ground) -> Ground:
    """The same section with nothing added along the road."""
    return Ground(tuple(surface.section), tuple(surface.carries_bed), ((0.0, 0.0),), surface.edge_y_m)


def bed_at(surface: Ground, x_m: float) -> tuple[float, float]:
    """The bed's height along the road at `x_m`, and its slope there (dz/dx). Ends run on level."""
    bed = surface.bed
    if x_m <= bed[0][0]:
        return bed[0][1], 0.0
    if x_m >= bed[-1][0]:
        return bed[-1][1], 0.0
    i = 1
    while bed[i][0] <= x_m:
        i += 1
    x0, z0 = bed[i - 1]
    x1, z1 = bed[i]
    slope = (z1 - z0) / (x1 - x0)
    return z0 + slope * (x_m - x0), slope


def height_m(surface: Ground, x_m: float, y_m: float) -> float:
    """Height of the ground, or of a deck on it, straight under (or over) a place."""
    rise, _ = bed_at(surface, x_m)
    height, deck = _height_m(surface, rise, y_m), surface.deck
    return deck.top_m if deck is not None and _is_over(deck, x_m, y_m) and deck.top_m > height else height


def _is_over(deck: Deck, x_m: float, y_m: float) -> bool:
    return deck.low_x_m <= x_m and x_m <= deck.high_x_m and deck.low_y_m <= y_m and y_m <= deck.high_y_m


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
    low_rise, _ = bed_at(surface, x_low_m)
    high_rise, _ = bed_at(surface, x_high_m)
    rise = high_rise if high_rise > low_rise else low_rise
    for x, z in surface.bed:
        if z > rise and x_low_m < x and x < x_high_m:
            rise = z
    first_y, first_z = surface.section[0]
    last_y, last_z = surface.section[-1]
    best = first_z + surface.carries_bed[0] * rise if y_high_m > first_y else -1e9
    for face in surface.faces:
        ya, yb = face.ya, face.yb
        if y_high_m >= yb and y_low_m <= ya:
            za, zb = face.za + face.carries_a * rise, face.zb + face.carries_b * rise
            slope = (zb - za) / (yb - ya)
            y = (y_high_m if y_high_m < ya else ya) if slope > 0.0 else (y_low_m if y_low_m > yb else yb)
            top = za + slope * (y - ya)
            if top > best:
                best = top
    beyond = last_z + surface.carries_bed[-1] * rise
    if y_low_m < last_y and beyond > best:
        best = beyond
    deck = surface.deck
    if deck is None or deck.top_m <= best or x_low_m > deck.high_x_m or x_high_m < deck.low_x_m:
        return best
    return deck.top_m if y_low_m <= deck.high_y_m and y_high_m >= deck.low_y_m else best


def nearest(surface: Ground, x_m: float, y_m: float, z_m: float) -> Nearest:
    """A point's depth under the nearest point of the surface, with the normal there.

    The section is taken at the point's own x; the bed's slope along the road turns the normal and shortens the depth
    (exact for a plane bed).
    """
    deck = surface.deck
    if deck is not None and z_m <= deck.top_m and _is_over(deck, x_m, y_m):
        return Nearest(*_in_deck(deck, x_m, y_m, z_m))
    rise, slope = bed_at(surface, x_m)
    return Nearest(*_nearest(surface, rise, slope, y_m, z_m, inf))


def nearest_over(surface: Ground, x_m: float, y_m: float, z_m: float) -> Nearest | None:
    """`nearest` for a point that has ground straight over it; None for one that has none."""
    found = under_ground(surface, x_m, y_m, z_m)
    return None if found[0] == OUTSIDE_M else Nearest(*found)


def under_ground(surface: Ground, x_m: float, y_m: float, z_m: float) -> Spot:
    """Depth, normal and y of the nearest point of the surface, for a point that has ground straight over it;
    depth `OUTSIDE_M` for one that has none."""
    deck = surface.deck
    if deck is not None and z_m <= deck.top_m and _is_over(deck, x_m, y_m):
        return _in_deck(deck, x_m, y_m, z_m)
    rise, slope = bed_at(surface, x_m)
    over = _height_m(surface, rise, y_m) - z_m
    if over < 0.0:
        return OUTSIDE_M, 0.0, 0.0, 1.0, 0.0
    on_section = surface.section[-1][0] <= y_m and y_m <= surface.section[0][0]
    return _nearest(surface, rise, slope, y_m, z_m, over + ROUNDING_M if on_section else inf)


def _in_deck(deck: Deck, x_m: float, y_m: float, z_m: float) -> Spot:
    """The nearest of a deck's top, sides and ends for a point in it."""
    depth, nx, ny, nz, y = deck.top_m - z_m, 0.0, 0.0, 1.0, y_m
    if y_m - deck.low_y_m < depth:
        depth, ny, nz, y = y_m - deck.low_y_m, -1.0, 0.0, deck.low_y_m
    if deck.high_y_m - y_m < depth:
        depth, ny, nz, y = deck.high_y_m - y_m, 1.0, 0.0, deck.high_y_m
    if x_m - deck.low_x_m < depth:
        depth, nx, ny, nz, y = x_m - deck.low_x_m, -1.0, 0.0, 0.0, y_m
    if deck.high_x_m - x_m < depth:
        depth, nx, ny, nz, y = deck.high_x_m - x_m, 1.0, 0.0, 0.0, y_m
    return depth, nx, ny, nz, y


def _nearest(surface: Ground, rise: float, slope: float, y_m: float, z_m: float, within_m: float) -> Spot:
    """The nearest point of the section, known to be within a distance: faces farther to one side are passed over."""
    best, best_side = 1e18, 0.0
    ny, nz, share, y_found = 0.0, 1.0, 0.0, 0.0
    for face in surface.faces:
        if face.low_y_m - y_m > within_m or y_m - face.high_y_m > within_m:
            continue
        ya, za = face.ya, face.za + face.carries_a * rise
        dy, dz = face.yb - ya, face.zb + face.carries_b * rise - za
        length = sqrt(dy * dy + dz * dz)
        t = ((y_m - ya) * dy + (z_m - za) * dz) / (length * length)
        if t < face.least:
            t = face.least
        elif t > face.most:
            t = face.most
        fy, fz = y_m - ya - t * dy, z_m - za - t * dz
        square = fy * fy + fz * fz
        side = (fy * dz - fz * dy) / length
        if square < best - 1e-12 or (square < best + 1e-12 and abs(side) > abs(best_side)):
            best, best_side = square, side
            share = face.carries_a + t * (face.carries_b - face.carries_a)
            ny, nz, y_found = dz / length, -dy / length, ya + t * dy
    distance = sqrt(best)
    tilt = share * slope * nz
    scale = 1.0 / sqrt(1.0 + tilt * tilt)
    depth = -distance if best_side >= 0.0 else distance
    return depth * scale, -tilt * scale, ny * scale, nz * scale, y_found

"""Which part is, or will be, over which obstacle, and which is under which boom, with what vertical gap."""

from __future__ import annotations

from math import inf

import numpy as np

from simulator.mechanics.clearance.clip import Side, cutting, drawn_out, looking, lowest, rectangle
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.slew import LEVEL_SINE, Underside

NOTHING_M = inf
"""Gap where nothing is met."""


def gap_over(placed: Placed, part: int, obstacle: int, *, below_m: float = inf) -> float:
    """Least vertical gap of a part over an obstacle on its way to the landing, m.

    Args:
        placed: the scene with a pose put in.
        part: its number.
        obstacle: a number into `Scene.names`.
        below_m: a gap that is not less than this may be called infinite.

    Returns:
        Infinite where the part will not be over it.
    """
    top = placed.tops_m[obstacle]
    outline = cutting(_on_the_way(placed, obstacle), placed.lowest_m[part], placed.highest_m[part])
    return lowest(placed.underside(part), outline, below_m + top) - top


def over_deck_m(placed: Placed, part: int, *, below_m: float = inf) -> float:
    """How high a part is over a waiting deck where it is straight over it, m; negative in it.

    Args:
        placed: the scene with a pose put in.
        part: its number.
        below_m: a gap that is not less than this may be called infinite.
    """
    deck = placed.scene.deck
    if deck is None:
        return NOTHING_M
    outline = rectangle((deck.low_x_m, deck.high_x_m), (deck.low_y_m, deck.high_y_m))
    return lowest(placed.underside(part), outline, below_m + deck.top_m) - deck.top_m


def _on_the_way(placed: Placed, obstacle: int) -> tuple[Side, ...]:
    """From where a part that moves along y to the landing comes over an obstacle."""
    scene, sweep = placed.scene, placed.sweep_m
    slender = obstacle - len(scene.kinds)
    if slender < 0:
        x, (low, high) = scene.spans[obstacle]
        return rectangle(x, (low - max(0.0, sweep), high - min(0.0, sweep)))
    units = len(scene.slewing.feet)
    if slender < units:
        return drawn_out(scene.round_sides[slender], scene.spans[obstacle][0], -sweep)
    low, high = placed.obstacles_m[:, 0, obstacle].tolist()
    return drawn_out(placed.slewed.tail_sides[slender - units], (low, high), -sweep)


def least_gaps(placed: Placed) -> list[tuple[float, int]]:
    """Of each part the least vertical gap and the obstacle it is to; infinite where there is none.

    No gap is less than the part's lowest point over the obstacle's highest, and where the lowest corner comes over a
    box it is just that: most gaps need not be worked out.
    """
    parts, obstacles = placed.on_the_way.nonzero()
    bounds = placed.over_m[placed.on_the_way].tolist()
    pairs = list(zip(bounds, obstacles.tolist(), parts.tolist(), strict=True))
    best = _under_lowest_corners(placed, pairs)
    for bound, obstacle, part in sorted(pair for pair in pairs if pair[0] < best[pair[2]][0]):
        if bound < best[part][0]:
            best[part] = min(best[part], (gap_over(placed, part, obstacle, below_m=best[part][0]), obstacle))
    return best


def _under_lowest_corners(placed: Placed, pairs: list[tuple[float, int, int]]) -> list[tuple[float, int]]:
    """Of each part the highest box that its lowest corner is, or will be over, with the gap to it."""
    best = [(NOTHING_M, 0)] * len(placed.lowest_m)
    lowest = placed.seen[..., 2].argmin(axis=0)
    corners = placed.seen[lowest, np.arange(len(lowest)), :2].tolist()
    spans, boxes = placed.scene.spans, len(placed.scene.kinds)
    ahead, behind = max(0.0, placed.sweep_m), min(0.0, placed.sweep_m)
    for bound, obstacle, part in pairs:
        if bound < best[part][0] and obstacle < boxes:
            x, y = corners[part]
            (x_low, x_high), (y_low, y_high) = spans[obstacle]
            if x_low <= x <= x_high and y_low - ahead <= y <= y_high - behind:
                best[part] = bound, obstacle
    return best


def boom_gap(placed: Placed, end: int, *, below_m: float = inf) -> tuple[float, int]:
    """Least vertical gap up to a boom's underside, m, and from which part; infinite where it is over none.

    Args:
        placed: the scene with a pose put in.
        end: place of its unit.
        below_m: a gap that is not less than this may be called infinite.
    """
    moving, length = placed.slewed, placed.slewed.booms_at[end].length_m
    deep, (c, s), at = moving.numbers.feet[end].half_deep_m, moving.units[end].level, 3 + 3 * end
    bounds = []
    for part, (lows, highs) in enumerate(zip(placed.lowest_m, placed.highest_m, strict=True)):
        if lows[at + 1] > deep or highs[at + 1] < -deep:
            continue
        low, high = lows[at : at + 3], highs[at : at + 3]
        past = -deep - high[0] if s > 0.0 else low[0] - length - deep
        least = (-deep - high[2]) / c, -inf if abs(s) < LEVEL_SINE else past / abs(s)
        if min(least) >= below_m:
            continue
        first, last = min(s * low[2], s * high[2]), max(s * low[2], s * high[2])
        nearest, farthest = c * low[0] - last, c * high[0] - first
        for which, face in enumerate(moving.undersides[end]):
            if nearest <= face.to_m and farthest >= face.from_m:
                bounds.append((least[which], part, which))
    best = below_m, 0
    for bound, part, which in sorted(bounds):
        if bound < best[0]:
            best = min(best, (_under(placed, part, moving.undersides[end][which], best[0]), part))
    return best if best[0] < below_m else (NOTHING_M, 0)


def _under(placed: Placed, part: int, face: Underside, below_m: float) -> float:
    """Least height from a part up to an underside; infinite beside it, or if it is not less than `below_m`."""
    corners = placed.seen[:, part, :3].dot(face.turn) + face.shift_m
    low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    upper = looking(corners.tolist(), placed.scene.load.faces[part], up=True)
    return lowest(upper, cutting(face.sides, low, high), below_m)

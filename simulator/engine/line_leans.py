"""How lines lean, by themselves and as the sum of a unit's, and what part each has in what the load hangs under."""

from __future__ import annotations

from math import atan, atan2, hypot, tan

from simulator.engine.state import LineState

SAME_PLACE_M = 0.01
"""Picks nearer together along the trailer than this are one place."""
Angles = tuple[float, float]
"""Off plumb along and across."""
Pull = tuple[float, float, float, float]
"""A line's load and its direction."""


def off_plumb_rad(line: LineState) -> Angles:
    """A line's angle from plumb along and across: which way the hook lies from the sheave."""
    hook, sheave = line.hang.hook, line.sheave
    drop = sheave[2] - hook[2]
    return atan2(hook[0] - sheave[0], drop), atan2(hook[1] - sheave[1], drop)


def weights_over_cg(picks_x_m: list[float]) -> list[float]:
    """What part each line has in a point that the CG hangs under: shares of the load by a lever's rule.

    Lines to one end share its part alike; where all pull at one place, all alike. The two ends are the picks farthest
    from each other, each other pick goes to the nearer.

    Args:
        picks_x_m: along the trailer from the CG, a line each.
    """
    low, high = min(picks_x_m), max(picks_x_m)
    if high - low < SAME_PLACE_M:
        return [1.0 / len(picks_x_m)] * len(picks_x_m)
    is_low = [x - low <= high - x for x in picks_x_m]
    lows, highs = is_low.count(True), is_low.count(False)
    first = sum(x for x, low_end in zip(picks_x_m, is_low, strict=True) if low_end) / lows
    second = sum(x for x, low_end in zip(picks_x_m, is_low, strict=True) if not low_end) / highs
    span = second - first
    return [second / span / lows if low_end else -first / span / highs for low_end in is_low]


def of_the_sum(pulls: list[Pull]) -> Angles:
    """Off plumb along and across of the sum of some lines' pulls."""
    loads = bearing([pull[0] for pull in pulls])
    x = y = z = 0.0
    for load, (_, ux, uy, uz) in zip(loads, pulls, strict=True):
        x, y, z = x + load * ux, y + load * uy, z + load * uz
    return atan2(-x, z), atan2(-y, z)


def bearing(loads: list[float]) -> list[float]:
    """Loads to weigh by; all alike where nothing bears."""
    return loads if sum(loads) > 0.0 else [1.0] * len(loads)


def whole(along: float, across: float) -> float:
    """One angle from its two parts."""
    return atan(hypot(tan(along), tan(across)))

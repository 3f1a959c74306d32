"""Pulling a load over the ground: what it resists with, the pull up a slope, what a winch gives, what a unit holds."""

from __future__ import annotations

from math import cos, sin
from typing import Literal, NamedTuple

from simulator.mechanics.drum import layer_in_play, lead_line_pull_N, stall_line_pull_N
from simulator.scenario.unit import Hoist

How = Literal["rolls", "skids", "mired"]


class Surface(NamedTuple):
    """What a load resists with on one kind of ground, as a share of what presses it on."""

    how: How
    name: str
    share: float


SURFACES: tuple[Surface, ...] = (
    Surface("rolls", "wheels turn, pavement", 0.02),
    Surface("rolls", "wheels turn, gravel or firm soil", 0.07),
    Surface("rolls", "wheels turn, soft soil or sand", 0.25),
    Surface("skids", "skids on pavement or rock", 0.70),
    Surface("skids", "skids on soil or gravel", 0.80),
    Surface("mired", "mired to the tires' sidewalls", 1.0),
    Surface("mired", "mired to the hubs", 2.0),
    Surface("mired", "mired to the frame", 3.0),
)
"""Common practice, no source: a share of the weight that is taken in the trade, not measured. Probe it with a gauge."""
HOLDS_SHARE = 0.5
"""Of its weight that a unit on its tires and floats holds against a pull (common practice, no source)."""
MOST_PARTS = 6


def pull_N(weight_N: float, slope_rad: float, share: float) -> float:
    """Pull along a slope upward: weight along it, and resistance of what presses on it. Statics, own calculation."""
    return weight_N * (sin(slope_rad) + share * cos(slope_rad))


def runs_back_N(weight_N: float, slope_rad: float) -> float:
    """Pull of a load that is let go of on a slope, if nothing of the ground holds it: its wheels may turn."""
    return max(0.0, weight_N * sin(slope_rad))


class Reeved(NamedTuple):
    """A pull on some parts of line."""

    parts: int
    line_pull_N: float
    """In the line to the drum."""
    layer: int
    used: float
    """Of what stalls the winch on that layer."""


def reeved(hoist: Hoist, pull: float, far_m: float, parts: int) -> Reeved | None:
    """How hard a winch works at a pull; None where its rope does not go there so many times.

    Args:
        hoist: drum, rope and sheaves.
        pull: N, at the load.
        far_m: from the winch to the load.
        parts: of line.
    """
    left = hoist.usable_rope_m - hoist.to_boom_foot_m - parts * far_m
    if left < 0.0:
        return None
    line = lead_line_pull_N(pull, parts, hoist.sheave_loss)
    layer = layer_in_play(hoist, left)
    return Reeved(parts, line, layer, line / stall_line_pull_N(hoist, layer))


def least_parts(hoist: Hoist, pull: float, far_m: float, most_used: float) -> Reeved | None:
    """The fewest parts of line that keep the winch under a share of its stall; None where none do."""
    for parts in range(1, MOST_PARTS + 1):
        found = reeved(hoist, pull, far_m, parts)
        if found is not None and found.used <= most_used:
            return found
    return None

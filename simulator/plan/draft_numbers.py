"""Named stand-ins of a first scenario, and the shapes its numbers take on the way to text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

OVER_DECK_M = 0.45
"""Trailer's lowest point over the decks while it crosses."""
HEAD_ROOM_M = 1.6
BLOCK_AND_STOP_M = 1.0
OFF_PADS_M, OFF_LANE_M, SPARE_M = 0.3, 1.0, 0.05
PICK_IN_SHARE = 0.125
"""Picks so far in from either end, as a share of the length."""
FLOOR_SHARE, AXLES_HIGH_SHARE = 0.31, 0.26
"""Floor of the box and top of the axle group, as shares of the trailer's height."""
AXLES_AT, LEGS_AT = 0.34, -0.30
"""Middle of axle group and landing legs along the trailer, as shares of its length from the middle."""


@dataclass(frozen=True, slots=True)
class Body:
    """The trailer's pieces in its own axes: masses that add up, and its center of gravity."""

    shell_kg: float
    axles_kg: float
    legs_kg: float
    cargo_kg: float
    cargo_x_m: float
    cargo_z_m: float
    cg_x_m: float
    cg_z_m: float


class StartPose(NamedTuple):
    """A unit's functions at time zero."""

    boom_m: float
    elevation_rad: float
    slew_rad: float
    rope_m: float


PARKED = StartPose(0.0, 0.0, 0.0, 0.0)
"""Stands for a start that is not known yet: the text then takes the shortest boom."""

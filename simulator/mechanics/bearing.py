"""The ground under a float: pressure, pad size, and how far behind the slope's edge a pad must stand."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, inf, sin
from typing import NamedTuple

LEAST_SET_BACK_M = 0.6096
"""2 ft from the edge (29 CFR 1926.651(j)(2), read in a secondary copy)."""


def pad_pressure_Pa(reaction_N: float, pad_side_m: float) -> float:
    """Pressure under a square pad."""
    return reaction_N / (pad_side_m * pad_side_m)


def pad_area_m2(reaction_N: float, allowable_Pa: float) -> float:
    """Pad area a reaction needs."""
    return reaction_N / allowable_Pa


def bearing_used(reaction_N: float, pad_side_m: float, allowable_Pa: float) -> float:
    """Pressure under a square pad over the soil's allowable bearing."""
    return pad_pressure_Pa(reaction_N, pad_side_m) / allowable_Pa


def run_of_line_m(depth_m: float, steepest_rad: float) -> float:
    """How far a line at the steepest allowed angle runs back while it climbs `depth_m`."""
    if depth_m <= 0.0:
        return 0.0
    rise = sin(steepest_rad)
    return max(0.0, depth_m * cos(steepest_rad) / rise) if rise > 0.0 else inf


def set_back_needed_m(bank_height_m: float, face_run_m: float, steepest_rad: float) -> float:
    """Pad edge behind the crest of a plane bank: max(n H - r, 2 ft), n the steepest slope's run per rise."""
    return max(run_of_line_m(bank_height_m, steepest_rad) - face_run_m, LEAST_SET_BACK_M)


class EdgeCheck(NamedTuple):
    """Where a pad stands against the slope's edge. Distances are level, behind the crest."""

    set_back_m: float
    """Of the pad's nearest edge."""
    needed_m: float
    line_y_m: float
    """Where the line from the toe comes up to the pads' level."""
    stands_behind: bool


def edge_check(
    section_m: Iterable[tuple[float, float]],
    edge_y_m: float,
    pad_edge_y_m: float,
    steepest_rad: float,
    *,
    pad_z_m: float = 0.0,
    bed_m: float = 0.0,
) -> EdgeCheck:
    """Whether a pad stands behind the line drawn from the slope's toe at the soil's steepest allowed angle.

    The line is drawn from every corner of the section below the edge and the farthest back counts: on a slope of
    several faces the toe of a steep upper face may govern, and a flat bed or a far bank never does.

    Args:
        section_m: (y, z) from the road side to the ravine.
        edge_y_m: the slope's edge (crest).
        pad_edge_y_m: the pad's edge nearest to the ravine.
        steepest_rad: the soil's steepest allowed angle from level (29 CFR 1926 Subpart P App. B, secondary copy).
        pad_z_m: ground under the pad.
        bed_m: height of the bed along the road at the pad, added to points beyond the edge.
    """
    toes = ((y, pad_z_m - z - bed_m) for y, z in section_m if y < edge_y_m)
    line_y = max((y + run_of_line_m(depth, steepest_rad) for y, depth in toes), default=edge_y_m)
    needed = max(line_y - edge_y_m, LEAST_SET_BACK_M)
    set_back = pad_edge_y_m - edge_y_m
    return EdgeCheck(set_back, needed, line_y, set_back >= needed - 1e-9)

"""Where a boom's tip is, and how a boom must stand for its tip to be somewhere. Plain numbers or numpy arrays."""

from __future__ import annotations

from math import atan2, cos, hypot, sin, sqrt
from typing import NamedTuple

from simulator.scenario.unit import Unit


class BoomPose(NamedTuple):
    """Boom length, elevation and slew."""

    length_m: float
    elevation_rad: float
    slew_rad: float


def facing(end: int) -> float:
    """+1 for the nose unit (0), whose tailboard looks along +x; -1 for the tail unit (1)."""
    return 1.0 if end == 0 else -1.0


def reach_m(unit: Unit, length_m: float, elevation_rad: float) -> float:
    """Slew axis to tip, level (check-values 18: R = L cos e - c)."""
    return length_m * cos(elevation_rad) - unit.boom.foot_pin_back_m


def tip_m(unit: Unit, end: int, pose: BoomPose) -> tuple[float, float, float]:
    """The tip of a boom that does not give way.

    Args:
        unit: the unit it belongs to.
        end: 0 nose unit, 1 tail unit.
        pose: boom length in m, elevation and slew in rad.

    Returns:
        (x, y, z) in m.
    """
    reach = reach_m(unit, pose.length_m, pose.elevation_rad)
    return (
        unit.slew_axis_x_m + facing(end) * reach * cos(pose.slew_rad),
        reach * sin(pose.slew_rad),
        unit.boom.foot_pin_height_m + pose.length_m * sin(pose.elevation_rad),
    )


def boom_pose(unit: Unit, end: int, tip: tuple[float, float, float]) -> BoomPose:
    """The boom that puts its tip at `tip` (m), travel ends not looked at.

    The tip lies on the boom's own side of the slew axis (positive reach): leaning over backwards would need the boom
    past upright, so that solution is never kept.
    """
    along = facing(end) * (tip[0] - unit.slew_axis_x_m)
    reach = hypot(along, tip[1])
    rise = tip[2] - unit.boom.foot_pin_height_m
    level = reach + unit.boom.foot_pin_back_m
    return BoomPose(sqrt(level * level + rise * rise), atan2(rise, level), atan2(tip[1], along))

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


class Foot(NamedTuple):
    """Where a unit's boom stands, ready for finding its tip a hundred times a second."""

    slew_axis_x_m: float
    facing: float
    foot_pin_back_m: float
    foot_pin_height_m: float


def foot(unit: Unit) -> Foot:
    """A boom's foot."""
    return Foot(unit.slew_axis_x_m, unit.facing, unit.boom.foot_pin_back_m, unit.boom.foot_pin_height_m)


def reach_m(unit: Unit, length_m: float, elevation_rad: float) -> float:
    """Slew axis to tip, level (R = L cos e - c)."""
    return length_m * cos(elevation_rad) - unit.boom.foot_pin_back_m


def tip_m(unit: Unit, pose: BoomPose) -> tuple[float, float, float]:
    """The tip of a boom that does not give way.

    Args:
        unit: the unit it belongs to.
        pose: boom length in m, elevation and slew in rad.

    Returns:
        (x, y, z) in m.
    """
    return tip_over(foot(unit), *pose)


def tip_over(foot: Foot, length_m: float, elevation_rad: float, slew_rad: float) -> tuple[float, float, float]:
    """`tip_m` of the boom on a foot."""
    out, rise = length_m * cos(elevation_rad), length_m * sin(elevation_rad)
    return tip_beyond(foot, out, rise, cos(slew_rad), sin(slew_rad))


def tip_beyond(foot: Foot, out_m: float, rise_m: float, cos_slew: float, sin_slew: float) -> tuple[float, float, float]:
    """The tip `out_m` from the foot pin on the level and `rise_m` over it."""
    axis_x, way, back, height = foot
    reach = out_m - back
    return axis_x + way * reach * cos_slew, reach * sin_slew, height + rise_m


def boom_pose(unit: Unit, tip: tuple[float, float, float]) -> BoomPose:
    """The boom that puts its tip at `tip` (m), travel ends not looked at.

    The tip lies on the boom's own side of the slew axis (positive reach): leaning over backwards would need the boom
    past upright, so that solution is never kept.
    """
    along = unit.facing * (tip[0] - unit.slew_axis_x_m)
    reach = hypot(along, tip[1])
    rise = tip[2] - unit.boom.foot_pin_height_m
    level = reach + unit.boom.foot_pin_back_m
    return BoomPose(sqrt(level * level + rise * rise), atan2(rise, level), atan2(tip[1], along))

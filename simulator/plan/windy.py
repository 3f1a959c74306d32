"""The load at a place of the path as mean wind and gusts hold it: what each line has of them, how far it turns."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, sqrt

from simulator.mechanics.blown import Blown, blown, turned_about
from simulator.mechanics.cargo import resting_cg_m
from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.trailer_body import Vector, rotation, turned
from simulator.plan.findings import Amount, Change, Reading, passed
from simulator.plan.hanging import Load
from simulator.plan.stations import Station
from simulator.scenario.judged_limits import YAW_CAUTION_RAD, YAW_STOP_RAD

TURNED_MOST_RAD = 1.5
"""Gaps of a load that turns farther are no better known."""


def blown_at(load: Load, wind_N: tuple[float, float], station: Station) -> Blown:
    """A load at a station in a wind.

    Args:
        load: its numbers.
        wind_N: force along and across, with what gusts add.
        station: of its path.
    """
    pulls = [share * load.weight_N for share in station.shares]
    cg, sheaves = cg_at_m(load, station.pose), station.pulls.sheaves_m
    return blown(sheaves, station.hooks_m, pulls, cg, (wind_N, lever_m(load, station.pose)))


def lever_m(load: Load, pose: Pose) -> tuple[float, float]:
    """From the center of gravity to where wind acts, the middle of the outline; along and across."""
    body, turn = load.body, rotation(pose.pitch_rad, pose.yaw_rad, pose.roll_rad)
    middle = [(low + high) / 2.0 - cg for low, high, cg in zip(body.low_m, body.high_m, body.cg_m, strict=True)]
    x, y, _ = turned(turn, (middle[0], middle[1], middle[2]))
    return x, y


def cg_at_m(load: Load, pose: Pose) -> Vector:
    """Where the center of gravity is."""
    own = resting_cg_m(load.trailer, load.body, pose.pitch_rad, pose.roll_rad)
    x, y, z = turned(rotation(pose.pitch_rad, pose.yaw_rad, pose.roll_rad), own)
    return pose.x_m + x, pose.y_m + y, pose.z_m + z


def blown_pose(load: Load, station: Station, found: Blown) -> Pose:
    """Its pose as wind and gusts hold it: turned, and off downwind."""
    pose = station.pose
    x, y, z = turned_about((pose.x_m, pose.y_m, pose.z_m), cg_at_m(load, pose), found)
    yaw = max(-TURNED_MOST_RAD, min(TURNED_MOST_RAD, found.yaw_rad))
    return Pose(x, y, z, pose.pitch_rad, pose.yaw_rad + yaw, pose.roll_rad)


def yaw_readings(station: Station, found: Blown, wind_mps: float) -> Iterator[Reading]:
    """How far wind and gusts turn the load that hangs, held against what a lift holds a yaw against."""
    if station.phase in ("lift-off", "landed"):
        return
    yaw = abs(found.yaw_rad)
    mark = passed(yaw, YAW_CAUTION_RAD, YAW_STOP_RAD, rising=True)
    lower = wind_mps * sqrt(mark / yaw) if 0.0 < yaw < inf else 0.0
    words = "wait for a mean wind below {}, or bring the picks farther apart and nearer to evenly about the middle"
    change = Change(words, (Amount(lower, "m/s", is_least=False),))
    if yaw == inf:
        change = Change("wait for still air: nothing turns it back on this line")
    yield Reading("yaw", "trailer", "yaw by wind", "rad", yaw, YAW_CAUTION_RAD, YAW_STOP_RAD, True, change=change)

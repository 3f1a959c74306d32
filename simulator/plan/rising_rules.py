"""Room to the ground beside a load that goes straight up in a wind: a bank it lies at comes nearer as it drifts."""

from __future__ import annotations

from collections.abc import Iterator

from simulator.mechanics.blown import Blown
from simulator.mechanics.clearance.ground_gaps import ground_gap
from simulator.mechanics.clearance.place import place
from simulator.mechanics.clearance.scene import Pose, Scene
from simulator.plan.findings import Change, Reading
from simulator.plan.hanging import Load
from simulator.plan.judged_station import StationCheck
from simulator.plan.windy import blown_pose

RISES_CAUTION, RISES_STOP = 0.75, 0.5
"""Of the height at which the load is first held (a hand's width at least), what has to stay under it as wind takes it
toward a slope beside it (our choice, no source; what was driven met a bank where the plan leaves it less than
nothing)."""
LEAST_HELD_M = 0.1
"""A hand's width: a load that is first held lower, or not at all, is looked at from there on."""
RISING_BY, RISING_TO_M, SAME_M = 1.35, 6.0, 1e-9
"""Heights looked at, each over the one before it, and the last of them."""


def rising_readings(
    load: Load, judged: tuple[StationCheck, ...], scene: Scene, found: Blown, hold_height_m: float
) -> Iterator[Reading]:
    """What stays under the load from where it is first held, straight up, as wind and gusts hold it: beside a bank it
    goes up in a wind that takes it there. It rises as it lies until it is leveled, so both are looked at.

    Args:
        load: its numbers.
        judged: stations of the path, how it lies first, then where it hangs level.
        scene: what it may meet.
        found: what wind does with it where it lies.
        hold_height_m: at which the pair first holds it.
    """
    held_m = max(LEAST_HELD_M, hold_height_m)
    lies, hangs = judged[0].station, judged[1].station.pose
    booms = tuple(unit.pose for unit in judged[0].units)

    def under_m(pose: Pose) -> float:
        return ground_gap(scene, place(scene, pose, booms)).gap_m

    left = []
    for pitch, roll in {(lies.pose.pitch_rad, lies.pose.roll_rad), (hangs.pitch_rad, hangs.roll_rad)}:
        free = lies.pose._replace(pitch_rad=pitch, roll_rad=roll)
        free = free._replace(z_m=free.z_m - under_m(free))
        aside, up_m = blown_pose(load, lies._replace(pose=free), found), held_m
        while up_m < min(RISING_TO_M, max(held_m, hangs.z_m - lies.pose.z_m) + SAME_M):
            left.append(under_m(aside._replace(z_m=aside.z_m + up_m)))
            up_m *= RISING_BY
    if not left:
        return
    caution_m, stop_m = RISES_CAUTION * held_m, RISES_STOP * held_m
    change = Change("wait for less wind, or draw it away from the ground beside it before it goes up")
    name = "gap to ground as it rises"
    yield Reading("rising", "load", name, "m", min(left), caution_m, stop_m, False, change=change)

"""Many steps in one go, with what is averaged over a sway taken in on the way: for whoever looks only now and then."""

from __future__ import annotations

from simulator.engine.incidents import DEEPEST_SUNK_M, MOST_PITCH_RAD
from simulator.engine.instruments import Instruments
from simulator.engine.moving import Moving
from simulator.engine.stepping import StepNumbers, steps


def watched(instruments: Instruments, numbers: StepNumbers, moving: Moving, every: int, count: int) -> int:
    """Steps in bulk, each moment at the steady rate watched but for the last, which is left to whoever asked.

    Args:
        instruments: that watch.
        numbers: of the lift.
        moving: changed in place, at a moment of the steady rate.
        every: steps from one such moment to the next.
        count: at most so many steps, a whole number of moments.

    Returns:
        How many were taken: fewer where something ends the lift, or the road carries as much of the load as of one
        that has landed.
    """
    taken = 0
    while True:
        now = steps(numbers, moving, every)
        taken += now
        if taken >= count or now < every or ends(moving) or instruments.is_carried(moving):
            return taken
        instruments.watch(moving)


def ends(moving: Moving) -> bool:
    """By itself something ends the lift here: a unit does not stand, a rope has parted, the load stands on end."""
    if moving.is_gone or moving.is_parted or abs(moving.body.pitch) > MOST_PITCH_RAD:
        return True
    return any(max(unit.sunk_m) > DEEPEST_SUNK_M for unit in moving.units)

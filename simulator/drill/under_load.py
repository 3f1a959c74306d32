"""What is under the load: a bed that it slides on, or something that it is not to come down on."""

from __future__ import annotations

from math import hypot

from simulator.readings import Readings
from simulator.scenario.flat import FLAT

MOVING_MPS = 0.012
"""The load moves on the bed: wait."""


def moves_on_bed(readings: Readings) -> bool:
    """The load slides while the ground still carries part of it: judged by motion, not by contact."""
    load = readings.load
    return load.ground_N > 0.0 and hypot(load.vx_mps, load.vy_mps) > MOVING_MPS


def is_no_place(readings: Readings) -> bool:
    """A part hangs close over a unit's deck or jack, or over a waiting trailer beside its place on it."""
    return any(
        ("unit" in gap.meets or gap.meets == FLAT) and gap.state in ("close", "not clear") for gap in readings.gaps
    )

"""How a unit stands under its line's pull: floats, capacity, and what the tip gives along the line and square to it."""

from __future__ import annotations

from typing import NamedTuple

from simulator.engine.drives import Drives
from simulator.engine.lines import Hang
from simulator.engine.model import Side
from simulator.mechanics.trailer import Vector


class Stance(NamedTuple):
    """One unit's footing at a moment."""

    lean_to_m: Vector
    """Where the tip's lean square to the line is going."""
    give_m_per_N: float
    """Structure's give along the line."""
    floats_N: tuple[float, float, float, float]
    least_float_N: float
    least_float_share: float
    ground_used: float
    capacity_used: float
    tipping: bool
    stalled: bool
    sunk_m: tuple[float, float, float, float]
    """How far each float has settled into ground it overloads."""


UNLOADED = Stance((0.0, 0.0, 0.0), 0.0, (0.0,) * 4, 0.0, 1.0, 0.0, 0.0, False, False, (0.0,) * 4)


def stance(side: Side, drives: Drives, line: Hang, line_load_N: float, before: Stance, dt: float) -> Stance:
    """The unit's answer to its line load, `dt` seconds after `before`."""
    boom = side.unit.boom
    give = (drives.length_m / boom.longest_m) ** 3 / boom.tip_stiffness_N_per_m
    return before._replace(give_m_per_N=give)

"""One hoist line of n parts: rope on the drum to sheave-to-hook length, stiffness, head room, rope left."""

from __future__ import annotations

from math import sqrt

from simulator.scenario.unit import Hoist, Unit


def line_length_m(hoist: Hoist, rope_out_m: float, boom_length_m: float) -> float:
    """Sheave to hook of the unloaded line: (R - L - R_0) / n."""
    return (rope_out_m - boom_length_m - hoist.to_boom_foot_m) / hoist.parts


def rope_for_m(hoist: Hoist, line_m: float, boom_length_m: float) -> float:
    """Rope to pay out for a sheave-to-hook length of `line_m`."""
    return line_m * hoist.parts + boom_length_m + hoist.to_boom_foot_m


def head_room_m(hoist: Hoist, line_m: float) -> float:
    """Hook below sheave, less block and stop."""
    return line_m - hoist.block_and_stop_m


def rope_left_m(hoist: Hoist, rope_out_m: float) -> float:
    """Usable rope still on the drum (the wraps that must stay on are not counted)."""
    return hoist.usable_rope_m - rope_out_m


def stiffness_N_per_m(hoist: Hoist, rope_out_m: float, structure_m_per_N: float) -> float:
    """Line of n parts (E A n^2 / R, R the whole rope paid out) in series with the structure's give along the line."""
    return 1.0 / (rope_out_m / (hoist.rope_EA_N * hoist.parts**2) + structure_m_per_N)


def damper_N_s_per_m(hoist: Hoist, stiffness: float, load_kg: float) -> float:
    """Damper on stretch rate, 2 z sqrt(k m / 2): each line carries about half of the load."""
    return 2.0 * hoist.damping_ratio * sqrt(stiffness * load_kg / 2.0)


def weight_below_sheave_N(unit: Unit, rigging_kg: float, gravity_mps2: float) -> float:
    """Block and rigging, carried by the line above the pick."""
    return (unit.hoist.block_kg + rigging_kg) * gravity_mps2

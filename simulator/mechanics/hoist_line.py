"""One hoist line of n parts: rope on the drum to sheave-to-hook length, stiffness, head room, rope left."""

from __future__ import annotations

from math import sqrt

from simulator.scenario.unit import Hoist, Unit


def line_length_m(hoist: Hoist, rope_out_m: float, boom_length_m: float) -> float:
    """Sheave to hook of the unloaded line: (R - L - R_0) / n."""
    return unloaded_m(rope_out_m, boom_length_m, hoist.to_boom_foot_m, hoist.parts)


def unloaded_m(rope_out_m: float, boom_length_m: float, to_boom_foot_m: float, parts: float) -> float:
    """`line_length_m` of plain numbers."""
    return (rope_out_m - boom_length_m - to_boom_foot_m) / parts


def rope_for_m(hoist: Hoist, line_m: float, boom_length_m: float) -> float:
    """Rope to pay out for a sheave-to-hook length of `line_m`."""
    return line_m * hoist.parts + boom_length_m + hoist.to_boom_foot_m


def head_room_m(hoist: Hoist, line_m: float) -> float:
    """Hook below sheave, less block and stop."""
    return line_m - hoist.block_and_stop_m


def rope_left_m(hoist: Hoist, rope_out_m: float) -> float:
    """Usable rope still on the drum (the wraps that must stay on are not counted)."""
    return hoist.usable_rope_m - rope_out_m


def rope_give_m_per_N(rope_out_m: float, rope_EA_N: float, parts: float) -> float:
    """How far a line of n parts stretches by each newton: R / (E A n^2), R the whole rope paid out."""
    return rope_out_m / (rope_EA_N * (parts * parts))


def stiffness_N_per_m(hoist: Hoist, rope_out_m: float, structure_m_per_N: float) -> float:
    """Line in series with the structure's give along it."""
    return 1.0 / (rope_give_m_per_N(rope_out_m, hoist.rope_EA_N, hoist.parts) + structure_m_per_N)


def damper_N_s_per_m(damping_ratio: float, stiffness: float, share_kg: float) -> float:
    """Damper on stretch rate, 2 z sqrt(k m), m the line's share of the load: the mass over all the lift's lines."""
    return 2.0 * damping_ratio * sqrt(stiffness * share_kg)


def weight_below_sheave_N(unit: Unit, rigging_kg: float, gravity_mps2: float) -> float:
    """Block and rigging, carried by the line above the pick."""
    return (unit.hoist.block_kg + rigging_kg) * gravity_mps2

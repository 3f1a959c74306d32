"""A cargo that moves in its tank, at rest: where its center lies in any attitude of the trailer."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from simulator.mechanics.matrix import Vector, rotation, turned_back
from simulator.mechanics.tank import center_m, slumped
from simulator.mechanics.trailer_body import Body, lying, stated_cg_m, stated_mass_kg
from simulator.scenario.trailer import Trailer

TURN_OVER_RAD = pi
NOWHERE: Vector = (0.0, 0.0, 0.0)


class Tank(NamedTuple):
    """A tank in lying axes, from the stated center of gravity on."""

    middle_m: Vector
    size_m: Vector
    home_m: Vector
    """Center of the cargo from the tank's middle, the trailer standing level on its wheels."""
    mass_kg: float
    """Of the cargo, hidden factor included."""


def tank_of(trailer: Trailer) -> Tank:
    """Where a trailer's tank is."""
    cargo, origin = trailer.cargo, stated_cg_m(trailer)
    empty = cargo.size_m[2] * (1.0 - cargo.fill) / 2.0
    x, y, z = cargo.cg_m
    middle = x - origin[0], y - origin[1], z + empty - origin[2]
    long, wide, high = (abs(side) for side in lying(trailer.attitude, cargo.size_m))
    return Tank(
        lying(trailer.attitude, middle),
        (long, wide, high),
        lying(trailer.attitude, (0.0, 0.0, -empty)),
        cargo.mass_kg * trailer.hidden_mass_factor,
    )


def moves(trailer: Trailer) -> bool:
    """Whether its cargo can."""
    return trailer.cargo.kind != "solid" and trailer.cargo.fill < 1.0


def upright(trailer: Trailer) -> Vector:
    """Up of a trailer that stands on its wheels, in lying axes: how a cargo lies that was loaded level."""
    return lying(trailer.attitude, (0.0, 0.0, 1.0))


def bulk_at_start(trailer: Trailer) -> Vector:
    """Up of a bulk cargo's surface where the trailer lies at time zero, lying axes."""
    start = trailer.start
    level = turned_back(rotation(start.pitch_rad, start.yaw_rad, start.roll_rad), (0.0, 0.0, 1.0))
    return slumped(upright(trailer), level, trailer.cargo.repose_rad, TURN_OVER_RAD)


def cargo_shift_m(trailer: Trailer, pitch_rad: float, roll_rad: float) -> Vector:
    """How far the center of the cargo lies from where it is with the trailer level on its wheels, all at rest.

    A bulk load lies as it slumped where the trailer lay at the start, and has slumped on from there only as far as it
    must.

    Returns:
        Lying axes, m; nothing for a solid cargo.
    """
    cargo = trailer.cargo
    if not moves(trailer):
        return NOWHERE
    tank, level = tank_of(trailer), turned_back(rotation(pitch_rad, 0.0, roll_rad), (0.0, 0.0, 1.0))
    up = level if cargo.kind == "liquid" else slumped(bulk_at_start(trailer), level, cargo.repose_rad, TURN_OVER_RAD)
    x, y, z = center_m(tank.size_m, cargo.fill, up)
    hx, hy, hz = tank.home_m
    return x - hx, y - hy, z - hz


def cg_run_m(trailer: Trailer, pitch_rad: float, roll_rad: float) -> Vector:
    """How far the load's center of gravity runs with its cargo from the trailer level on its wheels, lying axes."""
    share = trailer.cargo.mass_kg / stated_mass_kg(trailer)
    x, y, z = cargo_shift_m(trailer, pitch_rad, roll_rad)
    return share * x, share * y, share * z


def resting_cg_m(trailer: Trailer, body: Body, pitch_rad: float, roll_rad: float) -> Vector:
    """True center of gravity in an attitude, its cargo at rest; lying axes, from the reference point."""
    if not moves(trailer):
        return body.cg_m
    (x, y, z), (rx, ry, rz) = body.cg_m, cg_run_m(trailer, pitch_rad, roll_rad)
    return x + rx, y + ry, z + rz

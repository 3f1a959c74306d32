"""Wind, bed hold and cargo of a description as the numbers a step needs."""

from __future__ import annotations

from math import cos, pi, sin
from random import Random

from simulator.engine.loads_besides import OtherNumbers
from simulator.engine.numbers import BULK, LIQUID, SOLID, CargoNumbers
from simulator.mechanics.cargo import tank_of, upright
from simulator.mechanics.matrix import Vector
from simulator.mechanics.trailer_body import Body
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.site import BedHold, HoldingLine, Wind
from simulator.scenario.trailer import Trailer

SLUMP_RADPS = 0.5
"""How fast a bulk surface turns at most while it slumps (our own choice: a second for the usual slump)."""
GUST_WAVES = (1.0, 1.618, 2.414)
"""Frequencies of the three waves a gust is made of, as multiples of one over the gust period (incommensurable)."""


def weather(wind: Wind, body: Body, seed: int) -> OtherNumbers:
    """The wind of a scenario; its gusts' phases are drawn from the seed."""
    draw, numbers = Random(seed), OtherNumbers()
    size = [high - low for low, high in zip(body.low_m, body.high_m, strict=True)]
    factor = wind.pressure_factor_kg_per_m3 * wind.drag_coefficient
    middle = [(low + high) / 2.0 - cg for low, high, cg in zip(body.low_m, body.high_m, body.cg_m, strict=True)]
    numbers.speed_mps, numbers.gust_share = wind.speed_mps, wind.gust_share
    numbers.toward = cos(wind.toward_rad), sin(wind.toward_rad)
    numbers.pressure_area = factor * size[1] * size[2], factor * size[0] * size[2]
    numbers.waves = [(2.0 * pi * wave / wind.gust_period_s, draw.uniform(0.0, 2.0 * pi)) for wave in GUST_WAVES]
    numbers.lever = middle[0], middle[1], middle[2]
    return numbers


def hold(numbers: OtherNumbers, bed_hold: BedHold | None, point: Vector | None) -> None:
    """Add the bed's hold of a point (from the CG, lying axes), if it has one."""
    if bed_hold is not None and point is not None:
        numbers.hold_point = point
        numbers.hold_stiffness, numbers.hold_N = bed_hold.stiffness_N_per_m, bed_hold.pull_N


def holding_line(numbers: OtherNumbers, line: HoldingLine | None, point: Vector | None) -> None:
    """Add the line that holds a point (from the CG, lying axes), if there is one."""
    if line is not None and point is not None:
        numbers.holding_from, numbers.holding_at = line.anchor_m, point
        numbers.holding_stiffness, numbers.holding_N = line.stiffness_N_per_m, line.holds_N
        numbers.holding_up_N, numbers.holding_mps = line.drawn_up_N, line.pay_out_mps


KINDS = {"solid": SOLID, "liquid": LIQUID, "bulk": BULK}


def cargo(trailer: Trailer, body: Body) -> CargoNumbers:
    """The cargo of a trailer, its mass as it truly is."""
    given = trailer.cargo
    numbers = CargoNumbers(KINDS[given.kind])
    if numbers.kind == SOLID:
        return numbers
    tank = tank_of(trailer)
    cg = body.cg_m
    numbers.mass_kg, numbers.fill, numbers.size_m, numbers.home_m = tank.mass_kg, given.fill, tank.size_m, tank.home_m
    numbers.tank_m = tank.middle_m[0] - cg[0], tank.middle_m[1] - cg[1], tank.middle_m[2] - cg[2]
    numbers.upright = upright(trailer)
    numbers.damping_ratio, numbers.repose_rad = given.slosh_damping_ratio, given.repose_rad
    numbers.slump_radps, numbers.gravity_mps2 = SLUMP_RADPS, STANDARD_GRAVITY_MPS2
    return numbers

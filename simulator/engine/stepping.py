"""One step of the whole lift, in order: the pose moves ahead, every force is taken there, then velocities change."""

from __future__ import annotations

from simulator.engine.booms import drive, lead, reach
from simulator.engine.cargo import shift
from simulator.engine.contact import Bed, push
from simulator.engine.leaning import fall
from simulator.engine.lines import hang, pay_out, pull, stretch
from simulator.engine.loads_besides import OtherNumbers, act
from simulator.engine.motion import ahead, aside, fly, turn
from simulator.engine.moving import Body, Moving, Unit, Wrench, nothing
from simulator.engine.numbers import SOLID, CargoNumbers
from simulator.engine.stance import stand
from simulator.mechanics.matrix import Vector


class StepNumbers:
    """What a step needs besides what moves. Nothing changes it."""

    __slots__ = ("bed", "cargo", "dt", "footing_every", "others")

    def __init__(self, dt: float, footing_every: int, bed: Bed, others: OtherNumbers, cargo: CargoNumbers) -> None:
        """Step length, how many steps from one solve of the floats to the next, ground, wind and hold, cargo."""
        self.dt: float = dt
        self.footing_every: int = footing_every
        self.bed: Bed = bed
        self.others: OtherNumbers = others
        self.cargo: CargoNumbers = cargo


def take_forces(numbers: StepNumbers, moving: Moving, with_lines: bool) -> None:
    """A step up to its forces: everything but the velocities of the side view.

    Args:
        numbers: of the lift.
        moving: changed in place.
        with_lines: False while the trailer settles at the start.
    """
    body, dt = moving.body, numbers.dt
    moving.step += 1
    ahead(body, dt)
    fx = fy = fz = mx = my = mz = 0.0
    for unit in moving.units:
        ax, ay, az, ap, aq, ar = unit_step(unit, body, dt, with_lines)
        fx, fy, fz, mx, my, mz = fx + ax, fy + ay, fz + az, mx + ap, my + aq, mz + ar
        moving.is_gone = moving.is_gone or unit.over.is_gone
    if moving.step % numbers.footing_every == 0:
        _solve_floats(moving, dt * numbers.footing_every)
    push(numbers.bed, moving, dt)
    act(numbers.others, moving, moving.step * dt, dt)
    cx, cy, cz, cp, cq, cr = moving.ground
    if numbers.cargo.kind != SOLID:
        _carry(numbers.cargo, moving, (fx + cx, fy + cy, fz + cz), dt)
    dx, dy, dz, dp, dq, dr = moving.other
    body.fx, body.fy, body.fz = fx + cx + dx, fy + cy + dy, fz + cz + dz - body.numbers.weight_N
    turn(body, mx + cp + dp, my + cq + dq, mz + cr + dr, dt)
    aside(body, dt)


def _carry(numbers: CargoNumbers, moving: Moving, pushed_N: Vector, dt: float) -> None:
    """What a cargo that moves does to the load, beside wind and hold; lines and ground push it so."""
    (px, py, pz), (fx, fy, fz, mx, my, mz) = pushed_N, moving.other
    ax, ay, az, ap, aq, ar = shift(numbers, moving, (px + fx, py + fy, pz + fz), dt)
    moving.other = (fx + ax, fy + ay, fz + az, mx + ap, my + aq, mz + ar)


def unit_step(unit: Unit, body: Body, dt: float, with_lines: bool) -> Wrench:
    """One unit and its lines: drives, lean, tip, hang; what they pull on the trailer."""
    drive(unit, dt)
    reach(unit, dt)
    for line in unit.lines:
        lead(line, unit, dt)
        was_m = line.length_m
        pay_out(line, unit.telescope.at)
        line.pay_out_mps = (line.length_m - was_m) / dt
        hang(line, body)
    stretch(unit)
    if not with_lines:
        for line in unit.lines:
            line.pull_N = 0.0
        return nothing()
    fx = fy = fz = mx = my = mz = 0.0
    for line in unit.lines:
        ax, ay, az, ap, aq, ar = pull(line, body)
        fx, fy, fz, mx, my, mz = fx + ax, fy + ay, fz + az, mx + ap, my + aq, mz + ar
    if unit.over.is_up:
        fall(unit, dt)
    return fx, fy, fz, mx, my, mz


def _solve_floats(moving: Moving, dt: float) -> None:
    """Every unit's answer to its lines."""
    for unit in moving.units:
        stand(unit, dt)
        for line in unit.lines:
            moving.is_parted = moving.is_parted or line.is_parted


def steps(numbers: StepNumbers, moving: Moving, count: int, with_lines: bool = True) -> int:
    """So many steps under what is asked, with no look between; fewer if a unit is lost or a rope parts.

    Args:
        numbers: of the lift.
        moving: changed in place.
        count: how many steps.
        with_lines: False while the trailer settles at the start.

    Returns:
        How many were taken.
    """
    for taken in range(count):
        take_forces(numbers, moving, with_lines)
        fly(moving.body, numbers.dt)
        if moving.is_gone or moving.is_parted:
            return taken + 1
    return count

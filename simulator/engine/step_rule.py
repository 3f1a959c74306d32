"""What the fixed step can carry: a rule over stiffness, damping and mass, looked at before anything moves.

A step moves the pose, then takes forces there. A motion of rate w with damping d (d v for each kilogram) then stays
bounded while w^2 dt^2 + 2 d dt < 4: trace and determinant of that step. With all springs at once the largest such
number is the largest eigenvalue of M^-1 (dt^2 K + 2 dt C) over the six ways the trailer moves; half of its contact
points are taken to touch, as much as a side of it; where an edge of the ground bears in place of corners, it is at two
places for two of them. A waiting deck that is smaller than the load both ways has four edges under it at once: as much
as all contact points. Half of the bound is allowed: nearer to it contacts jitter.

What is too soft runs away instead: the tip leans with its line's pull, and the pull leans with the tip. A lean of c for
each newton under a weight W on a line of length l comes back c W / l times over, so that has to be well under one.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, degrees, sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.engine.contact import Bed, ContactNumbers
from simulator.engine.incidents import MOST_PITCH_RAD
from simulator.engine.model import LineModel, Model, UnitModel, build
from simulator.mechanics.boom_section import tip_give_m_per_N
from simulator.mechanics.hoist_line import damper_N_s_per_m, rope_give_m_per_N
from simulator.mechanics.lean import frame_compliance
from simulator.mechanics.matrix import Vector
from simulator.scenario.description import Description
from simulator.scenario.faults import Fault
from simulator.scenario.rig import PAIR

Array = NDArray[np.float64]
MOST = 2.0
"""Of w^2 dt^2 + 2 d dt; motions grow from 4 on."""
TOUCHING = 0.5
"""Part of the contact points that touch at once."""
MOST_SOFT = 0.5
"""Of c W / l."""
MOST_STEPS = 10000
"""A second, as a file may ask."""


class Springs(NamedTuple):
    """What one table of the file makes the trailer stand or hang on."""

    place: str
    stiffness: float
    K: Array
    """6x6: forces and moments about the CG for each meter and radian."""
    C: Array


def faults(where: str, description: Description) -> list[Fault]:
    """Why the step cannot carry a lift; nothing when it can.

    Args:
        where: its file's name.
        description: the lift.
    """
    model = build(description)
    rows = [*_too_stiff(model), *_too_soft(model), *_on_end(description)]
    return [Fault(f"{where}: {place}", given, allowed) for place, given, allowed in rows]


def used(model: Model, springs: list[Springs], steps_per_s: float) -> float:
    """The largest of w^2 dt^2 + 2 d dt over all motions of the trailer."""
    dt, mass = 1.0 / steps_per_s, np.zeros((6, 6))
    mass[:3, :3] = model.trailer.mass_kg * np.eye(3)
    mass[3:, 3:] = np.array(model.trailer.inertia_kg_m2).reshape(3, 3)
    whole = sum((dt * dt * one.K + 2.0 * dt * one.C for one in springs), np.zeros((6, 6)))
    return float(np.linalg.eigvals(np.linalg.solve(mass, whole)).real.max())


def springs_of(model: Model) -> list[Springs]:
    """Bed or road, whichever is stiffer, all lines at their shortest, and the bed's hold."""
    site, bed = model.description.site, model.bed
    grounds = (("[site.contact] stiffness", bed.slope), ("[site.road_contact] stiffness", bed.road))
    place, contact = max(grounds, key=lambda one: one[1].stiffness)
    found = [_contact(place, contact, list(bed.points), _touching(bed))]
    found += [_line(line) for line in model.lines]
    if site.bed_hold is not None and model.hold_point_m is not None:
        k, at = site.bed_hold.stiffness_N_per_m, model.hold_point_m
        found.append(Springs("[site.bed_hold] stiffness", k, k * _at(at, np.eye(3)), np.zeros((6, 6))))
    line = model.step.others
    if site.holding_line is not None:
        k = line.holding_stiffness
        own = k * _at(line.holding_at, np.eye(3))
        found.append(Springs("[site.holding_line] stiffness", k, own, np.zeros((6, 6))))
    return found


def _touching(bed: Bed) -> float:
    """Part of the contact points whose springs bear at once."""
    deck, (long, wide, high) = bed.surface.deck, bed.half
    if deck is None or deck.high_x_m - deck.low_x_m > 2.0 * long:
        return TOUCHING
    return TOUCHING if deck.high_y_m - deck.low_y_m > 2.0 * max(wide, high) else 1.0


def _contact(place: str, contact: ContactNumbers, points: list[Vector], touching: float) -> Springs:
    """Normal spring and friction spring are alike: the same stiffness every way."""
    ways = sum((_at(point, np.eye(3)) for point in points), np.zeros((6, 6)))
    return Springs(place, contact.stiffness, touching * contact.stiffness * ways, touching * contact.damper * ways)


def _line(line: LineModel) -> Springs:
    """Its rope alone, wound in as far as it goes."""
    numbers, hoist = line.numbers, line.line.hoist
    k = 1.0 / rope_give_m_per_N(numbers.to_stop_m + hoist.to_boom_foot_m, numbers.rope_EA_N, numbers.parts)
    ways = _at(line.pick_m, np.diag([0.0, 0.0, 1.0]))
    damper = damper_N_s_per_m(numbers.damping_ratio, k, numbers.share_kg)
    return Springs(f"[units {line.rig.unit + 1}.lines {line.rig.number}.hoist] rope_EA", k, k * ways, damper * ways)


def _at(point: Vector, ways: Array) -> Array:
    """What a unit spring at a point resists."""
    x, y, z = point
    moves = np.hstack([np.eye(3), np.array([[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]])])
    return np.asarray(moves.T @ ways @ moves)


def _too_stiff(model: Model) -> Iterator[tuple[str, str, str]]:
    springs, per_s = springs_of(model), model.description.engine.steps_per_s
    if used(model, springs, per_s) <= MOST:
        return
    worst = max(springs, key=lambda one: used(model, [one], per_s))
    mass = model.trailer.mass_kg
    needs = next((n for n in _rates(per_s) if used(model, springs, n) <= MOST), None)
    rate = f", or [engine] steps_per_s of at least {needs}" if needs else ""
    most = worst.stiffness * _softer(model, worst, per_s)
    given = f"{worst.stiffness:.3g} N/m on a trailer of {mass:.3g} kg at {per_s} steps a second"
    yield worst.place, given, f"about {most:.2g} N/m or less, a heavier trailer{rate}"


def _softer(model: Model, springs: Springs, per_s: int) -> float:
    """By how much they have to be softer, their damper a share of critical as before."""
    share = 1.0
    while used(model, [springs._replace(K=share * springs.K, C=sqrt(share) * springs.C)], per_s) > 0.9 * MOST:
        share *= 0.8
    return share


def _rates(per_s: int) -> Iterator[int]:
    """Rates to try, each a fifth more."""
    while (per_s := ceil(per_s * 1.2)) <= MOST_STEPS:
        yield per_s


def _too_soft(model: Model) -> Iterator[tuple[str, str, str]]:
    """Frame and boom of every unit, each by itself, under its part of the trailer."""
    share = 1.0 / len(PAIR) if len(model.units) > 1 else 1.0
    for unit in model.units:
        shortest = min(line.line.hoist.block_and_stop_m + line.pick.height_m for line in model.lines_of(unit))
        allowed = MOST_SOFT * max(shortest, 1.0) / (share * model.weight_N)
        head, words = f"[units {unit.place + 1}", f"no more than {allowed * 1e4:.2g} m for each 10 kN of pull"
        for key, give in ((".floats] stiffness", _frame_give(unit)), (".boom] tip_stiffness", _boom_give(unit))):
            if give > allowed:
                yield head + key, f"a tip that gives {give * 1e4:.3g} m for each 10 kN of pull", words


def _boom_give(unit: UnitModel) -> float:
    return tip_give_m_per_N(unit.unit.boom, unit.unit.boom_kg, unit.unit.boom.longest_m)


def _frame_give(unit: UnitModel) -> float:
    """Most that the tip of the longest boom moves with the frame, whichever way it is pulled: square to the side."""
    boom = unit.unit.boom
    out = boom.longest_m / sqrt(2.0)
    frame = frame_compliance(unit.numbers.stand.frame, (0.0, out - boom.foot_pin_back_m, out + boom.foot_pin_height_m))
    return float(np.linalg.eigvalsh(np.array(frame).reshape(3, 3)).max())


def _on_end(description: Description) -> Iterator[tuple[str, str, str]]:
    pitch = description.trailer.start.pitch_rad
    if abs(pitch) > MOST_PITCH_RAD:
        most = degrees(MOST_PITCH_RAD)
        yield "[trailer.start] pitch", f"{degrees(pitch):.3g} deg", f"-{most:g} to {most:g} deg: on end is not followed"

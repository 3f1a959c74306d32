"""Drive shipped scenarios at random, with the roughest hands, and look for anything that no world does.

python tools/random_driving.py [--hours H] [--seed N] [scenario.toml ...]

Looked for at every lift: a number that is no number, energy that came from nowhere, a point of the load deeper in the
ground than its speed and weight can press it, a line or a float that pushes or pulls where it cannot, floats that do
not carry what stands on them. A fault names scenario and seed, which bring it back.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Iterator
from math import isfinite, sqrt
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from simulator.engine.commands import Commands, still  # noqa: E402
from simulator.engine.simulation import Simulation  # noqa: E402
from simulator.engine.state import State  # noqa: E402
from simulator.mechanics.ground import nearest  # noqa: E402
from simulator.mechanics.trailer_body import rotation, turned, turned_back  # noqa: E402
from simulator.places import shipped_scenarios  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402
from simulator.scenario.rig import RigUnit  # noqa: E402

LIFT_S = 300.0
LOOK_EVERY = 24
"""Steps between two looks."""
ENERGY_SHARE = 0.001
"""Energy that may come from nowhere, as a share of weight times one meter."""
CARRIED_SHARE = 0.1
"""Floats are solved every few steps: in a jerk their sum may be so far behind the pulls."""


class Drive(NamedTuple):
    """What one random lift came to."""

    faults: tuple[str, ...]
    most_energy_m: float
    """Largest energy from nowhere over the weight, in meters of height; negative while damping takes more."""
    fastest_mps: float
    deepest_m: float


def drive(simulation: Simulation, seed: int, seconds: float) -> Drive:
    """Random hands from time zero; stops at the first fault."""
    simulation.reset()
    hands = random.Random(seed)
    stored = _in_the_bed_J(simulation)
    began, work = _energy_J(simulation, simulation.state) + stored, 0.0
    most, fastest, deepest = -1e9, 0.0, 0.0
    units = simulation.model.rig.units
    asked, until = still(simulation.model.rig), 0
    for count in range(1, round(seconds / simulation.model.dt) + 1):
        if count > until:
            asked = Commands(*(_hand(hands, unit) for unit in units))
            until = count + round(hands.uniform(0.3, 6.0) / simulation.model.dt)
        before, sprung = simulation.state, _springs(simulation)
        after = simulation.step(asked)
        now = _springs(simulation)
        work += _work_J(before, after, simulation.model.dt) + _stored_J(now) - _stored_J(_given_by(now, sprung))
        if count % LOOK_EVERY:
            continue
        motion = simulation.state.motion
        fastest = max(fastest, sqrt(motion.vx**2 + motion.vy**2 + motion.vz**2))
        deepest = max(deepest, _deepest_m(simulation))
        most = max(most, (_energy_J(simulation, before) - began - work) / simulation.model.weight_N)
        faults = _faults(simulation, most, fastest, deepest)
        if faults:
            return Drive(faults, most, fastest, deepest)
    return Drive((), most, fastest, deepest)


def _faults(simulation: Simulation, most_m: float, fastest_mps: float, deepest_m: float) -> tuple[str, ...]:
    """What no world does, in words."""
    when, model, site = f"at {simulation.time_s:.1f} s", simulation.model, simulation.description.site
    if not all(isfinite(value) for value in (*simulation.state.motion, most_m, deepest_m)):
        return (f"{when}: a number that is no number",)
    found = []
    if most_m > ENERGY_SHARE:
        found.append(f"{when}: energy from nowhere, enough to lift the load {most_m:.4f} m")
    stiffness = min(site.contact.stiffness_N_per_m, site.road_contact.stiffness_N_per_m)
    pulled_down_N = sum(max(0.0, -line.hang.uz) * line.hook_load_N for line in simulation.state.lines)
    rests_m = (model.weight_N + pulled_down_N) / stiffness
    allowed = rests_m + sqrt(rests_m**2 + fastest_mps**2 * model.body.mass_kg / stiffness)
    if deepest_m > allowed:
        found.append(f"{when}: a point {deepest_m:.3f} m in the ground, {allowed:.3f} m at most")
    return tuple(found) + tuple(f"{when}: {what}" for what in _standing_faults(simulation))


def _standing_faults(simulation: Simulation) -> Iterator[str]:
    """Lines that only pull, floats that only push, and that carry the unit and its pulls together."""
    state, model = simulation.state, simulation.model
    for unit, boom in zip(model.units, state.booms, strict=True):
        name, floats_N = model.rig.units[unit.place].name, boom.stance.floats_N
        lines = [state.lines[line.rig.place] for line in model.lines_of(unit)]
        if not all(isfinite(line.hook_load_N) and line.hook_load_N >= 0.0 for line in lines):
            yield f"{name} unit: lines carry {[line.hook_load_N for line in lines]} N"
        if not all(isfinite(push) and push >= -1.0 for push in floats_N):
            yield f"{name} unit: floats push {floats_N} N"
        below_N = [line.numbers.below_sheave_N for line in model.lines_of(unit)]
        pulls_N = [one.hang.uz * (one.hook_load_N + below) for one, below in zip(lines, below_N, strict=True)]
        stands_N = sum(unit.numbers.resting_N) + sum(pulls_N)
        if not boom.stance.tipping and abs(sum(floats_N) - stands_N) > CARRIED_SHARE * stands_N:
            yield f"{name} unit: floats carry {sum(floats_N):.0f} N of {stands_N:.0f} N"


def _hand(hands: random.Random, unit: RigUnit) -> tuple[float, ...]:
    """Full, none, or anything between; what hoists mostly up, so that loads leave the bed."""

    def up() -> float:
        return hands.choice((1.0, 0.5, -1.0, 0.0, hands.uniform(-1.0, 1.0)))

    def any_way() -> float:
        return hands.choice((-1.0, 1.0, 0.0, 0.0, hands.uniform(-1.0, 1.0)))

    return tuple(up() if lever.pulls else any_way() for lever in unit.levers)


def _energy_J(simulation: Simulation, before: State) -> float:
    """Motion, height and stretched lines. Speeds are half a step ahead of places, so the mean of two steps is taken."""
    model, then, now = simulation.model, before.motion, simulation.state.motion
    matrix = rotation(now.pitch, now.yaw, now.roll)
    velocity = [(a + b) / 2.0 for a, b in zip(then[6:9], now[6:9], strict=True)]
    ox, oy, oz = (then.ox + now.ox) / 2.0, (then.oy + now.oy) / 2.0, (then.oz + now.oz) / 2.0
    own_rate = turned_back(matrix, (ox, oy, oz))
    own_momentum = turned(model.body.inertia_kg_m2, own_rate)
    turning = sum(rate * momentum for rate, momentum in zip(own_rate, own_momentum, strict=True))
    moving = 0.5 * model.body.mass_kg * sum(speed * speed for speed in velocity) + 0.5 * turning
    return moving + model.weight_N * now.z + _stored_J(_springs(simulation))


class Springs(NamedTuple):
    """What a unit's lines store: they share what its structure gives along the sum of their pulls."""

    give_m_per_N: float
    lines: tuple[tuple[float, float, float], ...]
    """Of each that is stretched: what its rope gives, its part along the sum, its stretch."""


def _springs(simulation: Simulation) -> tuple[Springs, ...]:
    return tuple(
        Springs(
            unit.give_m_per_N,
            tuple((line.rope_give, line.part, line.stretch_m if line.is_taut else 0.0) for line in unit.lines),
        )
        for unit in simulation.moving.units
    )


def _given_by(stretched: tuple[Springs, ...], springs: tuple[Springs, ...]) -> tuple[Springs, ...]:
    """These stretches on those springs."""
    return tuple(
        was._replace(lines=tuple((r, p, s) for (r, p, _), (_, _, s) in zip(was.lines, now.lines, strict=True)))
        for was, now in zip(springs, stretched, strict=True)
    )


def _stored_J(springs: tuple[Springs, ...]) -> float:
    """Half of pulls times stretches, with s = (diag(r) + g p p^T) T for the lines that bear (Sherman and Morrison)."""
    total = 0.0
    for give, lines in springs:
        bearing = [line for line in lines if line[2] > 0.0]
        shared = give / (1.0 + give * sum(p * p / r for r, p, _ in bearing)) * sum(p * s / r for r, p, s in bearing)
        total += 0.5 * sum(s * (s - shared * p) / r for r, p, s in bearing)
    return total


def _work_J(before: State, after: State, dt: float) -> float:
    """Work of winches, moving tips, wind and bed hold in one step.

    A winch gives -T l'. That rope comes in strained, and lines turn, which leaves them stiffer or softer at the same
    stretch, is booked where they are stored.
    """
    total = 0.0
    for was, now in zip(before.lines, after.lines, strict=True):
        stretch = now.hang.distance_m - now.line_m
        if stretch <= 0.0:
            continue
        _, _, ux, uy, uz = now.hang
        (x, y, z), (old_x, old_y, old_z) = now.sheave, was.sheave
        carried = ux * (x - old_x) + uy * (y - old_y) + uz * (z - old_z)
        total += now.hook_load_N * (carried - now.line_m + was.line_m)
    fx, fy, fz, mx, my, mz = after.other
    m = after.motion
    return total + dt * (fx * m.vx + fy * m.vy + fz * m.vz + mx * m.ox + my * m.oy + mz * m.oz)


def _depths_m(simulation: Simulation) -> list[tuple[float, float]]:
    """(depth, stiffness there) of the load's points that are in the ground."""
    model, motion, site = simulation.model, simulation.state.motion, simulation.description.site
    matrix = rotation(motion.pitch, motion.yaw, motion.roll)
    depths = []
    for point in model.bed.points:
        x, y, z = turned(matrix, point)
        spot = nearest(model.bed.surface, motion.x + x, motion.y + y, motion.z + z)
        contact = site.road_contact if spot.y_m >= site.edge_y_m else site.contact
        if spot.depth_m > 0.0:
            depths.append((spot.depth_m, contact.stiffness_N_per_m))
    return depths


def _deepest_m(simulation: Simulation) -> float:
    return max((depth for depth, _ in _depths_m(simulation)), default=0.0)


def _in_the_bed_J(simulation: Simulation) -> float:
    """What the ground's springs hold while the load lies on them."""
    return sum(0.5 * stiffness * depth**2 for depth, stiffness in _depths_m(simulation))


def main(hours: float, seed: int, files: list[Path]) -> int:
    """Lift after lift until so many simulated hours are driven; 1 when anything was found."""
    lifts = [(file.stem, Simulation(load(file))) for file in files]
    found = 0
    for count in range(max(1, round(hours * 3600.0 / LIFT_S))):
        name, simulation = lifts[count % len(lifts)]
        result = drive(simulation, seed + count, LIFT_S)
        found += bool(result.faults)
        told = f"energy {result.most_energy_m:+.5f} m, {result.fastest_mps:.2f} m/s, {result.deepest_m:.3f} m deep"
        print(f"{name}, seed {seed + count}: {told}", *result.faults, sep="; ", flush=True)
    print(f"random driving: {found} faults in {hours:g} simulated hours")
    return 1 if found else 0


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--hours", type=float, default=1.0, help="simulated hours in all, shared by the scenarios")
    parser.add_argument("--seed", type=int, default=1, help="of the first lift; each lift takes the next")
    parser.add_argument("files", nargs="*", type=Path, metavar="scenario.toml", help="all shipped ones without it")
    return parser.parse_args()


if __name__ == "__main__":
    given = _arguments()
    sys.exit(main(given.hours, given.seed, given.files or list(shipped_scenarios())))

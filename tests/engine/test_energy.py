"""Energy: kept by an undamped sway at the shipped step, never made by a driven lift; a shorter step changes little."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, hypot

import numpy as np
import pytest
from scipy.optimize import brentq

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.scenario.description import Engine
from tests.engine.scenes import block, displaced, energy_J, hung, with_hoist, work_of_units_J

TRAILER = block(
    mass_kg=26000.0,
    size_m=(14.6, 4.0, 2.6),
    picks_x_m=(-6.2, 6.2),
    pick_over_cg_m=0.5,
    rigging_m=2.3,
    pivot="bridle_across",
)
UNDAMPED = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.0})
REAL = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15, "sway_damping_ratio": 0.01})
SHIPPED = Engine().steps_per_s


def lifted_to_its_lines(simulation: Simulation) -> None:
    """Raise the load until its lines are as long as they hang at rest: it then sways without bouncing."""
    goal = sum(unit.line_m + simulation.model.weight_N / 2.0 / unit.stiffness for unit in simulation.state.lines)
    motion = simulation.state.motion

    def too_long(up_m: float) -> float:
        simulation.place(motion._replace(z=motion.z + up_m))
        return sum(unit.hang.distance_m for unit in simulation.state.lines) - goal

    too_long(brentq(too_long, 0.0, 0.5))


@pytest.mark.long_in_plain
def test_an_undamped_sway_keeps_its_energy() -> None:
    """1 m along, 1 m across, 0.1 rad of yaw together, 300 s: within 0.5 % of the sway's energy at every moment.

    Speeds are half a step ahead of places, so the sum goes to and fro; its mean, a drift's measure, keeps five times
    as well.
    """
    simulation = hung(TRAILER, hang_m=17.0, units=UNDAMPED, steps_per_s=SHIPPED)
    at_rest = energy_J(simulation)
    displaced(simulation, along=1.0, across=1.0, yaw=0.1)
    lifted_to_its_lines(simulation)
    began = energy_J(simulation)
    changes = []
    for count in range(300 * SHIPPED):
        simulation.step(STILL)
        if count % 59 == 0:
            changes.append((energy_J(simulation) - began) / (began - at_rest))
    assert max(abs(change) for change in changes) < 0.005
    tenth = len(changes) // 10
    assert np.mean(changes[-tenth:]) == pytest.approx(np.mean(changes[:tenth]), abs=0.001)


def test_a_sway_that_dies_out_never_gains_energy() -> None:
    """The same sway, its lines left to settle: each second holds less than the one before, and half is gone in time.

    Energy goes as exp(-2 z w t), w = sqrt(g / L) of the 19.3 m from sheave to pick: half of it in 49 s.
    """
    units = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15, "sway_damping_ratio": 0.01})
    simulation = hung(TRAILER, hang_m=17.0, units=units, steps_per_s=SHIPPED)
    simulation.run(STILL, 10 * SHIPPED)
    at_rest = energy_J(simulation)
    displaced(simulation, along=1.0, across=1.0, yaw=0.1)
    lifted_to_its_lines(simulation)
    means = []
    for _ in range(60):
        seconds = []
        for _ in range(24):
            simulation.run(STILL, 10)
            seconds.append(energy_J(simulation) - at_rest)
        means.append(sum(seconds) / len(seconds))
    assert all(after < before for before, after in pairwise(means))
    assert 0.35 < means[-1] / means[0] < 0.55


LIFT = [
    (4.0, Commands(UnitCommands(hoist=0.6), UnitCommands(hoist=0.6))),
    (3.0, STILL),
    (4.0, Commands(UnitCommands(slew=0.8, telescope=0.4), UnitCommands(slew=0.7, elevation=-0.6))),
    (4.0, Commands(UnitCommands(hoist=-0.5, slew=-0.5), UnitCommands(hoist=-0.4, telescope=-0.6))),
    (3.0, Commands(UnitCommands(hoist=1.0), UnitCommands())),
    (6.0, STILL),
]
"""Seconds and commands: everything moves, jerkily, both ways."""


def driven(steps_per_s: int) -> Simulation:
    return hung(TRAILER, hang_m=14.0, units=REAL, steps_per_s=steps_per_s)


def test_a_driven_lift_makes_no_energy() -> None:
    """Energy is never more than its start and the work of winches and tips, by 0.1 % of the weight a meter up."""
    simulation = driven(SHIPPED)
    began, work, excess = energy_J(simulation), 0.0, []
    for seconds, commands in LIFT:
        for _ in range(round(seconds * SHIPPED)):
            before = simulation.state
            work += work_of_units_J(before, simulation.step(commands))
            excess.append(energy_J(simulation) - began - work)
    assert work > 0.1 * simulation.model.weight_N
    assert max(excess) < 0.001 * simulation.model.weight_N
    assert min(excess) < 0.0


def peaks(steps_per_s: int) -> dict[str, float]:
    """Largest load, off plumb and sway of the driven lift."""
    simulation = driven(steps_per_s)
    found = {"nose load": 0.0, "tail load": 0.0, "off plumb": 0.0, "sway along": 0.0, "sway across": 0.0}
    for seconds, commands in LIFT:
        for _ in range(round(seconds * steps_per_s)):
            lines, motion = simulation.step(commands).lines, simulation.state.motion
            middle = [(a + b) / 2.0 for a, b in zip(lines[0].sheave, lines[1].sheave, strict=True)]
            now = (
                lines[0].hook_load_N,
                lines[1].hook_load_N,
                degrees(max(hypot(line.hang.ux, line.hang.uy) / line.hang.uz for line in lines)),
                abs(motion.x - middle[0]),
                abs(motion.y - middle[1]),
            )
            found = {name: max(was, value) for (name, was), value in zip(found.items(), now, strict=True)}
    return found


@pytest.mark.long_in_plain
def test_half_the_step_changes_every_peak_by_less_than_one_per_cent() -> None:
    whole, half = peaks(SHIPPED), peaks(2 * SHIPPED)
    assert half == pytest.approx(whole, rel=0.01)
    assert whole["off plumb"] > 1.0 and whole["sway across"] > 0.1 and whole["sway along"] > 0.1

"""The load against the ground: driven into a steep face, dropped on the bed, driven at random at every scenario."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import sqrt
from pathlib import Path
from typing import NamedTuple

import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.engine.state import State
from simulator.places import shipped_scenarios
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.demo import with_hoist, with_start
from tests.engine.lifts import LIFT
from tests.engine.scenes import energy_J, kinetic_J, run, work_of_units_J
from tools.random_driving import drive

SCENARIOS = shipped_scenarios()
CALM = replace(LIFT.site, wind=replace(LIFT.site.wind, speed_mps=0.0))


def calm(friction: float) -> Description:
    """No wind, and a sway that lasts: what slows the load is the ground."""
    lift = with_hoist(LIFT, sway_damping_ratio=0.0)
    return replace(lift, site=replace(CALM, contact=replace(CALM.contact, friction=friction)))


@cache
def off_the_bed() -> State:
    """The lift hoisted 2 m off its bed, in front of the cut, and left alone a little."""
    simulation = Simulation(calm(0.45))
    lain_z = simulation.state.motion.z
    while simulation.state.motion.z < lain_z + 2.0:
        simulation.step(Commands(UnitCommands(hoist=1.0), UnitCommands(hoist=1.0)))
    run(simulation, 3.0)
    return simulation.state


class Touch(NamedTuple):
    """One touch: energy of motion as the load came and as it left, and the energy that the ground gave it."""

    came_J: float
    left_J: float
    given_J: float


def touches(simulation: Simulation, commands: Commands, seconds: float) -> list[Touch]:
    """Every touch, from the step before it begins to the one it ends with."""
    found: list[Touch] = []
    came = total = work = 0.0
    touching = False
    for _ in range(round(seconds / simulation.model.dt)):
        before, moving, all_of_it = simulation.state, kinetic_J(simulation), energy_J(simulation)
        work += work_of_units_J(before, simulation.step(commands))
        now = bool(simulation.state.ground.stretches)
        if now and not touching:
            came, total, work = moving, all_of_it, work_of_units_J(before, simulation.state)
        if touching and not now:
            found.append(Touch(came, kinetic_J(simulation), energy_J(simulation) - total - work))
        touching = now
    return found


@pytest.mark.long_in_plain
@pytest.mark.parametrize(
    ("friction", "slew"), [(0.45, (1.0, 1.0)), (0.0, (1.0, 1.0)), (0.45, (1.0, 0.5)), (0.3, (0.4, 1.0))]
)
def test_driven_against_the_face_it_leaves_no_faster_than_it_came(friction: float, slew: tuple[float, float]) -> None:
    """Booms slew at full speed into the cut and on: 5 % of speed at most.

    The hardest blow is plainly slower afterwards. While a slow touch lasts, lines and gravity push the load as well, so
    what counts there is what the ground itself gives: no more than 5 % of the speed it came with (of the whole motion,
    turning and all).
    """
    simulation = Simulation(calm(friction))
    simulation.restore(off_the_bed())
    found = touches(simulation, Commands(UnitCommands(slew=slew[0]), UnitCommands(slew=slew[1])), 22.0)
    assert len(found) >= 3
    for touch in found:
        assert touch.given_J <= (1.05**2 - 1.0) * touch.came_J
    hardest = max(found)
    assert sqrt(hardest.left_J) <= 1.05 * sqrt(hardest.came_J)
    assert sqrt(2.0 * hardest.came_J / simulation.model.body.mass_kg) > 0.25


@pytest.mark.parametrize("turned_rad", [0.0, 0.15])
def test_dropped_on_its_bed_it_does_not_bounce_higher(turned_rad: float) -> None:
    """From 0.5 m, flat or on a corner, lines slack: each half second is lower than the last, until it lies still."""
    lift = calm(0.45)
    for place in range(len(lift.units)):
        lift = with_start(lift, place, rope_out_m=60.0)
    simulation = Simulation(lift)
    lain = simulation.state.motion
    high = lain.z + 0.5 + 7.3 * turned_rad
    simulation.place(lain._replace(z=high, pitch=lain.pitch + turned_rad))
    for _ in range(10):
        highest = max(simulation.step(STILL).motion.z for _ in range(120))
        assert highest < high + 1e-3
        high = highest
    assert simulation.state.motion.z == pytest.approx(lain.z, abs=0.1)
    assert kinetic_J(simulation) < 1.0


@pytest.mark.long_in_plain
@pytest.mark.parametrize(("lasts_s", "moves_mps"), [(5.0, 0.01), (30.0, 0.02)])
@pytest.mark.parametrize("file", SCENARIOS, ids=lambda file: file.stem)
def test_random_hands_meet_no_explosion_and_no_hole_in_the_ground(file: Path, lasts_s: float, moves_mps: float) -> None:
    """Three lifts: every number a number, no energy from nowhere, no point through the surface."""
    simulation = Simulation(load(file))
    for seed in (1, 2, 3):
        result = drive(simulation, seed, lasts_s)
        assert result.faults == (), f"seed {seed}"
        assert result.fastest_mps > moves_mps


def test_there_are_scenarios_to_drive() -> None:
    assert len(SCENARIOS) >= 3
    simulation = Simulation(load(SCENARIOS[0]))
    simulation.step(STILL)

"""Benchmark rows of a lift: whole lifts headless, one step against other engines' steps, clearances."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np
import pymunk

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.engine.surroundings import Surroundings
from simulator.places import find_scenario
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.reader import load

Row = tuple[str, str]
SCENARIO = "tank_on_side"
RAISED_S = 45.0
"""By then the load hangs, clear of the bed."""


def _best_s(work: Callable[[], object], calls: int, rounds: int = 7) -> float:
    """Least time of one call over some rounds: other work on the machine only ever adds."""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        for _ in range(calls):
            work()
        times.append((perf_counter() - start) / calls)
    return min(times)


def _described() -> Description:
    return load(find_scenario(SCENARIO))


def _hanging() -> Simulation:
    simulation, up = Simulation(_described()), UnitCommands(hoist=0.4)
    for _ in range(round(RAISED_S / simulation.model.dt)):
        simulation.step(Commands(up, up))
    return simulation


def whole_lift_row() -> Row:
    """A whole demonstration: readings at 60 Hz, gaps at 10 Hz, two automatic operators."""
    described = _described()
    start = perf_counter()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    run_operators(attempt)
    taken = perf_counter() - start
    lasted = attempt.readings.time_s
    return f"{SCENARIO}, whole, operators and gaps", f"{lasted / taken:.0f} times real time ({lasted:.0f} s)"


def whole_lift_bare_row() -> Row:
    """The same commands again: readings at 60 Hz, no gaps, no operators."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    run_operators(attempt)
    simulation = Simulation(described)
    instruments = Instruments(simulation.model)
    changes, every = dict(attempt.changes), attempt.every
    last, commands = attempt.simulation.state.step, Commands()
    start = perf_counter()
    for step in range(last):
        commands = changes.get(step, commands)
        simulation.step(commands)
        if (step + 1) % every == 0:
            instruments.watch(simulation.state)
            instruments.read(simulation.state)
    taken = perf_counter() - start
    return f"{SCENARIO}, whole, readings only", f"{last * simulation.model.dt / taken:.0f} times real time"


def step_rows() -> list[Row]:
    """One step of a hanging load, and what else such a time buys, all in this run."""
    simulation, up = _hanging(), Commands(UnitCommands(hoist=0.2), UnitCommands(hoist=0.2))
    step = _best_s(lambda: simulation.step(up), 400)
    instruments = Instruments(simulation.model)
    read = _best_s(lambda: (instruments.watch(simulation.state), instruments.read(simulation.state)), 200)
    return [
        ("one step", f"{step * 1e6:.1f} us"),
        ("one set of readings", f"{read * 1e6:.1f} us"),
        ("one step / bare pymunk step", f"{step / _pymunk_s():.1f}"),
        ("one step / numpy 4x4 solve", f"{step / _numpy_s():.1f}"),
        ("one step / MuJoCo step", _mujoco_ratio(step)),
    ]


def _pymunk_s() -> float:
    space = pymunk.Space()
    space.add(pymunk.Body(1.0, 1.0))
    return _best_s(lambda: space.step(1.0 / 240.0), 5000)


def _numpy_s() -> float:
    matrix, right = np.diag([4.0, 3.0, 2.0, 5.0]) + 1.0, np.ones(4)
    return _best_s(lambda: np.linalg.solve(matrix, right), 3000)


def _mujoco_ratio(step_s: float) -> str:
    """A free box on two springs of the same kind, RK4, one step of the same length."""
    try:
        import mujoco
    except ImportError:
        return "MuJoCo is not installed"
    model = mujoco.MjModel.from_xml_string(
        '<mujoco><option timestep="0.00416667" integrator="RK4"/><worldbody><site name="a" pos="-6 0 9"/>'
        '<site name="b" pos="6 0 9"/><body><freejoint/><geom type="box" size="7 2 1.3" mass="26000" contype="0"/>'
        '<site name="c" pos="-6 0 1.3"/><site name="d" pos="6 0 1.3"/></body></worldbody><tendon>'
        '<spatial stiffness="9e5" springlength="0 7"><site site="a"/><site site="c"/></spatial>'
        '<spatial stiffness="9e5" springlength="0 7"><site site="b"/><site site="d"/></spatial></tendon></mujoco>'
    )
    data = mujoco.MjData(model)
    return f"{step_s / _best_s(lambda: mujoco.mj_step(model, data), 2000):.1f}"


def clearance_row() -> Row:
    """A full set of gaps and contacts, load over the decks."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    run_operators(attempt, longest_s=140.0)
    around = Surroundings(described)
    return "gaps and contacts, one look", f"{_best_s(lambda: around.look(attempt.readings), 20) * 1e3:.2f} ms"


def rows() -> list[Row]:
    """All of them."""
    return [whole_lift_row(), whole_lift_bare_row(), *step_rows(), clearance_row()]

"""Benchmark rows of a lift: whole lifts headless, one step against other engines' steps, clearances."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import perf_counter

import numpy as np
import pymunk

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.engine.surroundings import LOOKS_PER_S, Surroundings, boom_of, pose_of
from simulator.mechanics.clearance import measured
from simulator.mechanics.clearance_contact import touching
from simulator.mechanics.clearance_place import Placed, place
from simulator.mechanics.clearance_scene import Pose, Scene, prepare_scene
from simulator.mechanics.clearance_slew import Booms, slewed
from simulator.places import find_scenario
from simulator.readings import Readings
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


def whole_lift_bare_rows() -> list[Row]:
    """The same commands again: readings at 60 Hz, no gaps, no operators; then with gaps and contacts at 10 Hz."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    run_operators(attempt)
    bare, looking = (_driven_again_s(attempt, looks=looks) for looks in (False, True))
    return [
        (f"{SCENARIO}, whole, readings only", f"{attempt.readings.time_s / bare:.0f} times real time"),
        ("what gaps and contacts add to it", f"{100.0 * (looking / bare - 1.0):.0f} % ({looking / bare:.2f} times)"),
    ]


def _driven_again_s(attempt: Attempt, *, looks: bool) -> float:
    simulation, around = Simulation(attempt.description), Surroundings(attempt.description)
    instruments = Instruments(simulation.model)
    changes, every = dict(attempt.changes), attempt.every
    look_every = every * round(attempt.description.engine.readings_per_s / LOOKS_PER_S)
    commands = STILL
    start = perf_counter()
    for step in range(attempt.simulation.state.step):
        commands = changes.get(step, commands)
        simulation.step(commands)
        if (step + 1) % every == 0:
            instruments.watch(simulation.moving)
            readings = instruments.read(simulation.state)
            if looks and (step + 1) % look_every == 0:
                around.look(readings)
    return perf_counter() - start


def step_rows() -> list[Row]:
    """One step of a hanging load, and what else such a time buys, all in this run."""
    simulation, up = _hanging(), Commands(UnitCommands(hoist=0.2), UnitCommands(hoist=0.2))
    step = _best_s(lambda: simulation.step(up), 400)
    instruments = Instruments(simulation.model)
    read = _best_s(lambda: (instruments.watch(simulation.moving), instruments.read(simulation.state)), 200)
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


def clearance_rows() -> list[Row]:
    """A full set of gaps, and one with contacts, at every tenth look of a whole lift, booms put in place anew."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    seen: list[Readings] = []
    attempt.observers.append(lambda now: seen.append(now) if now.step % 240 == 0 else None)
    run_operators(attempt)
    scene = prepare_scene(described)
    gaps, both = [], []
    for now in seen:
        pose, booms = pose_of(now), (boom_of(now.nose), boom_of(now.tail))
        gaps.append(_best_s(lambda: _full_set(scene, pose, booms), 1, 5))  # noqa: B023 - called here and now
        both.append(_best_s(lambda: touching(scene, _full_set(scene, pose, booms)), 1, 5))  # noqa: B023
    loop = _best_s(lambda: sum(i * 1.5 for i in range(2000)), 20)
    worst, middle = max(gaps), median(gaps)
    return [
        ("full set of gaps, median and worst pose", f"{middle * 1e3:.2f} and {worst * 1e3:.2f} ms"),
        ("the same with contacts", f"{median(both) * 1e3:.2f} and {max(both) * 1e3:.2f} ms"),
        ("full set of gaps / summing 2,000 products", f"{middle / loop:.1f} and {worst / loop:.1f}"),
    ]


def _full_set(scene: Scene, pose: Pose, booms: Booms) -> Placed:
    slewed.cache_clear()
    placed = place(scene, pose, booms)
    measured(scene, placed)
    return placed


def rows() -> list[Row]:
    """All of them."""
    return [whole_lift_row(), *whole_lift_bare_rows(), *step_rows(), *clearance_rows()]

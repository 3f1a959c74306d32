"""Benchmark rows of a lift: whole lifts headless, one step against other engines' steps, clearances."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from statistics import median
from time import process_time

import numpy as np
import pymunk

from simulator.attempt import Attempt, Observer
from simulator.compiled import told
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.engine.surroundings import LOOKS_PER_S, Surroundings, boom_of, pose_of
from simulator.mechanics.clearance.decks import measured
from simulator.mechanics.clearance.place import Placed, place
from simulator.mechanics.clearance.scene import Pose, Scene, prepare_scene
from simulator.mechanics.clearance.slew import Booms, slewed
from simulator.mechanics.clearance.touching import touching
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.script import summed_up
from simulator.world import World

Row = tuple[str, str, str]
"""What was measured, value with unit, goal."""
SCENARIO = "tank_on_side"
RAISED_S = 45.0
"""By then the load hangs, clear of the bed."""


def _best_s(work: Callable[[], object], calls: int, rounds: int = 7) -> float:
    """Least processor time of one call over some rounds: other work on the machine only ever adds."""
    times = []
    for _ in range(rounds):
        start = process_time()
        for _ in range(calls):
            work()
        times.append((process_time() - start) / calls)
    return min(times)


def _described() -> Description:
    return load(find_scenario(SCENARIO))


def _hanging() -> Simulation:
    simulation, up = Simulation(_described()), UnitCommands(hoist=0.4)
    for _ in range(round(RAISED_S / simulation.model.dt)):
        simulation.step(Commands(up, up))
    return simulation


def whole_lift_rows() -> list[Row]:
    """A whole demonstration as `slopepick demo --headless` drives it, in bulk; then every reading shown to somebody."""
    alone_s, lasts_s = min(_driven_s(lambda now: None, looks_on=False) for _ in range(3))
    shown_s, _ = min(_driven_s(lambda now: None, looks_on=True) for _ in range(3))
    loop_s = _best_s(lambda: sum(i * 1.5 for i in range(2000)), 20)
    per_s = alone_s / lasts_s / loop_s
    how = f"processor, {per_s:.0f} sums of 2,000 products a simulated second"
    return [
        (f"{SCENARIO}, whole, operators and gaps", f"{lasts_s / alone_s:.0f} times real time ({how})", "250 times"),
        ("the same, each reading shown to an observer", f"{lasts_s / shown_s:.0f} times real time", ""),
    ]


def _driven_s(observer: Observer, *, looks_on: bool) -> tuple[float, float]:
    """Time of the processor for the lift, and how long it is."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    attempt.observers += [observer] if looks_on else []
    began_s = process_time()
    summed_up(attempt, lambda: run_operators(attempt))
    return process_time() - began_s, attempt.readings.time_s


def looks_row() -> Row:
    """The commands of that lift again on the bare world, and what looking for contacts adds."""
    described = _described()
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    run_operators(attempt)
    bare, looking = (min(_driven_again_s(attempt, looks=looks) for _ in range(3)) for looks in (False, True))
    how = f"{100.0 * (looking / bare - 1.0):.0f} % of {attempt.readings.time_s / bare:.0f} times real time"
    return "what looking for contacts adds to steps and readings ten times a second", how, ""


def _driven_again_s(attempt: Attempt, *, looks: bool) -> float:
    world, around = World(attempt.description, in_bulk=True), Surroundings(attempt.description)
    changes = iter([*attempt.changes, (attempt.simulation.step_count, STILL)])
    look_every = attempt.every * round(attempt.description.engine.readings_per_s / LOOKS_PER_S)
    commands, (next_step, following) = STILL, next(changes)
    began_s = process_time()
    for step in range(0, attempt.simulation.step_count, attempt.every):
        while next_step <= step:
            commands, (next_step, following) = following, next(changes)
        world.step(commands, attempt.every)
        world.watch()
        if (step + attempt.every) % look_every == 0:
            readings = world.read()
            if looks:
                around.look(readings)
    return process_time() - began_s


def hung_step_s() -> float:
    """One step of a hanging load."""
    return _bulk_step_s(_hanging(), Commands(UnitCommands(hoist=0.2), UnitCommands(hoist=0.2)))


def _bulk_step_s(simulation: Simulation, asked: Commands) -> float:
    simulation.in_bulk = True
    return _best_s(lambda: simulation.run(asked, 240), 20) / 240.0


def step_rows() -> list[Row]:
    """One step of a hanging load, and what else such a time buys, all in this run."""
    simulation, up = _hanging(), Commands(UnitCommands(hoist=0.2), UnitCommands(hoist=0.2))
    step = _bulk_step_s(simulation, up)
    instruments = Instruments(simulation.model)
    watch = _best_s(lambda: instruments.watch(simulation.moving), 400)
    simulation.in_bulk = False
    live = _best_s(lambda: simulation.step(up), 400)
    read = _best_s(lambda: instruments.read(simulation.state), 200)
    return [
        ("one step, hung", f"{step * 1e6:.2f} us, {told()}", ""),
        ("bare engine", f"{1.0 / (step / simulation.model.dt):.0f} times real time", "1,500 times compiled"),
        ("one step with pymunk's body and a state, as the window takes them", f"{live * 1e6:.1f} us", ""),
        ("averages of a moment; all readings", f"{watch * 1e6:.1f} us; {read * 1e6:.1f} us", ""),
        ("one step / bare pymunk step", f"{step / pymunk_step_s():.2f}", ""),
        ("one step / numpy 4x4 solve", f"{step / _numpy_s():.2f}", ""),
        ("one step / MuJoCo step, Euler", _mujoco_ratio(step, "Euler"), "0.7 compiled"),
        ("one step / MuJoCo step, RK4", _mujoco_ratio(step, "RK4"), ""),
    ]


def pymunk_step_s() -> float:
    """One step of a body that nothing acts on."""
    space = pymunk.Space()
    space.add(pymunk.Body(1.0, 1.0))
    return _best_s(lambda: space.step(1.0 / 240.0), 5000)


def _numpy_s() -> float:
    matrix, right = np.diag([4.0, 3.0, 2.0, 5.0]) + 1.0, np.ones(4)
    return _best_s(lambda: np.linalg.solve(matrix, right), 3000)


def _mujoco_ratio(step_s: float, integrator: str) -> str:
    """A free box on two springs of the same kind, one step of the same length; many steps in its own loop."""
    try:
        import mujoco
    except ImportError:
        return "MuJoCo is not installed"
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><option timestep="0.00416667" integrator="{integrator}"/><worldbody><site name="a" pos="-6 0 9"/>'
        '<site name="b" pos="6 0 9"/><body><freejoint/><geom type="box" size="7 2 1.3" mass="26000" contype="0"/>'
        '<site name="c" pos="-6 0 1.3"/><site name="d" pos="6 0 1.3"/></body></worldbody><tendon>'
        '<spatial stiffness="9e5" springlength="0 7"><site site="a"/><site site="c"/></spatial>'
        '<spatial stiffness="9e5" springlength="0 7"><site site="b"/><site site="d"/></spatial></tendon></mujoco>'
    )
    data = mujoco.MjData(model)
    return f"{step_s / (_best_s(lambda: mujoco.mj_step(model, data, 240), 20) / 240.0):.2f}"


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
        ("full set of gaps, median and worst pose", f"{middle * 1e3:.2f} and {worst * 1e3:.2f} ms", ""),
        ("the same with contacts", f"{median(both) * 1e3:.2f} and {max(both) * 1e3:.2f} ms", ""),
        ("full set of gaps / summing 2,000 products", f"{middle / loop:.1f} and {worst / loop:.1f}", ""),
    ]


def _full_set(scene: Scene, pose: Pose, booms: Booms) -> Placed:
    slewed.cache_clear()
    placed = place(scene, pose, booms)
    measured(scene, placed)
    return placed


def rows() -> Iterator[Row]:
    """All of them."""
    yield from whole_lift_rows()
    yield looks_row()
    yield from step_rows()
    yield from clearance_rows()

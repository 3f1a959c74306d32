"""Drives all lifts, drills and rough tracks and prints a hash of each: the same text whatever runs the engine.

python -m tests.engine.sameness_of_builds pymunk|bulk
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

from simulator.attempt import Attempt
from simulator.compiled import told
from simulator.drill.partner import Partner
from simulator.engine.simulation import Simulation
from simulator.engine.state import state_hash
from simulator.places import shipped_drills, shipped_scenarios
from simulator.recording.headless import run_operators
from simulator.recording.track import read
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from tests.demo import textbook, with_hoist
from tests.engine.lifts import HANDS, LIFT
from tests.engine.test_several_lines import halved

TRACKS = Path(__file__).parents[1] / "outside" / "tracks"
ROUGH = {"rough_1": "tank_on_side", "rough_2": "tank_on_side", "rough_3": "box_on_wheels"}
LONGEST_S = 400.0


def driven(description: Description, *, in_bulk: bool) -> str:
    """By the automatic operators, to its end; every reading's state counts."""
    partners = [Partner(description, place) for place in range(len(description.units))]
    attempt, seen = Attempt(description, [*partners], in_bulk=in_bulk), sha256()
    attempt.observers.append(lambda readings: seen.update(repr(readings.load).encode()))
    run_operators(attempt, longest_s=LONGEST_S)
    return sha256((seen.hexdigest() + attempt.state_hash).encode()).hexdigest()


def rough(name: str, *, in_bulk: bool) -> str:
    """A rough track on winches quick enough to jerk a line slack."""
    described = with_hoist(textbook(ROUGH[name]), speed_mps=1.5, ramp_mps2=20.0)
    simulation = Simulation(described, in_bulk=in_bulk)
    for row, following in pairwise(read(TRACKS / f"{name}.csv", rig_of(described))):
        simulation.run(row.commands, round((following.time_s - row.time_s) * described.engine.steps_per_s))
    return simulation.state_hash


def several_lines(*, in_bulk: bool) -> str:
    """The small lift off the bed with two lines on each unit."""
    simulation, seen = Simulation(halved(LIFT), in_bulk=in_bulk), sha256()
    for steps, hands in HANDS:
        doubled = type(hands)(*((hoist, 0.9 * hoist, *boom) for hoist, *boom in hands))
        for _ in range(steps // 20):
            simulation.run(doubled, 20)
            seen.update(state_hash(simulation.state).encode())
    return seen.hexdigest()


def rows(*, in_bulk: bool) -> Iterator[tuple[str, str]]:
    """Name and hash of each."""
    for path in (*shipped_scenarios(), *shipped_drills()):
        yield path.stem, driven(load(path), in_bulk=in_bulk)
    for name in ROUGH:
        yield name, rough(name, in_bulk=in_bulk)
    yield "two lines a unit", several_lines(in_bulk=in_bulk)


if __name__ == "__main__":
    print(told(), file=sys.stderr)
    for name, found in rows(in_bulk=sys.argv[1] == "bulk"):
        print(name, found, flush=True)

"""Drives pieces of lifts again from where each begins and prints those that come to another state, and how many.

python -m tests.engine.sameness_of_builds FILE: courses, pickled by `test_compiled.py`.
"""

from __future__ import annotations

import pickle
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from simulator.compiled import told
from simulator.engine.simulation import Simulation
from simulator.scenario.description import Description
from tests.shipped_lifts import Piece


class Course(NamedTuple):
    """A lift's pieces, in their order."""

    name: str
    description: Description
    pieces: list[Piece]


def others(course: Course) -> Iterator[int]:
    """Steps at which pieces begin that come to another state than they did."""
    simulation = Simulation(course.description)
    for piece in course.pieces:
        simulation.restore(piece.at)
        for commands, steps in piece.hands:
            simulation.run(commands, steps)
        if simulation.state_hash != piece.comes_to:
            yield piece.at.step


if __name__ == "__main__":
    courses: list[Course] = pickle.loads(Path(sys.argv[1]).read_bytes())
    for one in courses:
        print(one.name, len(one.pieces), *others(one), flush=True)
    print(told(), file=sys.stderr)

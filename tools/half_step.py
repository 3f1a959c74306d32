"""Every shipped lift and drill by its automatic operators, and again under the same commands at half the step.

python tools/half_step.py [--jobs 1] [file ...]

A line a lift: how it ended, its peaks, and by how much half the step changes each peak, in percent.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import partial
from math import sin
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import Commands, still
from simulator.places import shipped_drills, shipped_scenarios
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.world import World

WITHIN = 0.01
"""What half the step may change of a peak."""
SMALL = {"mean_off_plumb_deg": 0.3, "sway_m": 0.05}
"""A peak under this much is compared with this much."""
DEGREES = 57.29577951308232


class Peaks:
    """Largest readings of a lift. Off plumb as it is judged, over a sway; of each moment what it does, the side pull:
    where a line only begins to bear its angle begins with a jump, and says nothing of the step."""

    def __init__(self) -> None:
        self.values: dict[str, float] = {}

    def __call__(self, now: Readings) -> None:
        """Look at one moment."""
        for unit in now.units:
            self._keep("line_load_t", unit.line_load_N / 9806.65)
            self._keep("capacity", unit.capacity_used)
            self._keep("lean_m", unit.lean_m)
            self._keep("ground", unit.ground_used)
            self._keep("mean_off_plumb_deg", unit.mean_off_plumb_rad * DEGREES)
            self._keep("side_pull_N", unit.hook_load_N * sin(unit.off_plumb_rad))
            self._keep("float_off", 1.0 - unit.least_float_share)
        self._keep("sway_m", now.load.sway_m)

    def _keep(self, name: str, value: float) -> None:
        self.values[name] = max(self.values.get(name, 0.0), value)


class Outcome(NamedTuple):
    """One lift at both steps."""

    name: str
    ended: str
    peaks: dict[str, float]
    changes: dict[str, float]
    """Shares."""


def driven(described: Description) -> tuple[Attempt, dict[str, float]]:
    """By its automatic operators."""
    partners = [Partner(described, i) for i in range(len(described.units))]
    attempt, seen = Attempt(described, [*partners], in_bulk=True), Peaks()
    attempt.observers.append(seen)
    run_operators(attempt, longest_s=1800.0)
    return attempt, seen.values


def again(attempt: Attempt, finer: int) -> dict[str, float]:
    """Under the same commands with so many steps in place of one; a drill's steps begin, and send their gusts, when
    they did."""
    engine = attempt.description.engine
    world = World(
        replace(attempt.description, engine=replace(engine, steps_per_s=engine.steps_per_s * finer)), in_bulk=True
    )
    seen, given, end = Peaks(), dict(attempt.changes), attempt.simulation.step_count
    begins = {event.step: int(event.fields["number"]) - 1 for event in attempt.events if event.kind == "step"}
    commands: Commands = still(attempt.rig)
    for step in range(0, end, attempt.every):
        commands = given.get(step, commands)
        if step in begins:
            world.begin_drill_step(begins[step])
        world.step(commands, attempt.every * finer)
        world.watch()
        seen(world.read())
    return seen.values


def outcome(path: Path, finer: int = 2) -> Outcome:
    """One lift at both steps."""
    attempt, peaks = driven(load(path))
    half = again(attempt, finer) if finer > 1 else peaks
    changes = {name: (half[name] - value) / max(value, SMALL.get(name, 1e-9)) for name, value in peaks.items()}
    return Outcome(path.stem, how_it_ended(attempt), peaks, changes)


def how_it_ended(attempt: Attempt) -> str:
    """In a few words."""
    if attempt.incidents:
        return f"INCIDENT {attempt.incidents[0].happening}"
    if not attempt.ended:
        return "NOT ENDED"
    at = f"{attempt.readings.time_s:.0f} s"
    if attempt.session is None:
        return f"landed {at}"
    return f"{'passed' if attempt.session.passed else 'NOT PASSED'} {at}"


def main(given: Iterable[str] | None = None) -> int:
    """0 when no peak changes by more than is allowed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--finer", type=int, default=2, help="steps in place of one; 1: peaks alone")
    asked = parser.parse_args(given if given is None else list(given))
    paths = asked.files or [*shipped_scenarios(), *shipped_drills()]
    worst = 0.0
    with ProcessPoolExecutor(asked.jobs) as pool:
        for one in pool.map(partial(outcome, finer=asked.finer), paths):
            worst = max(worst, *map(abs, one.changes.values()))
            print(f"{one.name}: {one.ended}")
            told = (f"{name} {value:.3f} ({one.changes[name]:+.2%})" for name, value in one.peaks.items())
            print("  " + "  ".join(told))
    print(f"largest change of a peak: {worst:.2%}, allowed {WITHIN:.0%}")
    return 0 if worst <= WITHIN else 1


if __name__ == "__main__":
    sys.exit(main())

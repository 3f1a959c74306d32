"""Every shipped drill with a clumsy operator in one seat and the usual partner in the other: is each recovered from?

python tools/clumsy_halves.py [--skill S] [--seeds N] [DRILL ...]
"""

from __future__ import annotations

import argparse
import sys
from math import degrees
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.attempt import Attempt, Operator
from simulator.drill.clumsy import Clumsy
from simulator.drill.partner import Partner
from simulator.places import shipped_drills
from simulator.readings import Readings
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import PAIR


class Outcome(NamedTuple):
    """What one lesson came to."""

    done: bool
    incidents: int
    time_s: float
    points: float
    off_plumb_deg: float
    """Most of a loaded line, averaged over a sway."""

    @property
    def good(self) -> bool:
        """To its end, and nothing happened."""
        return self.done and not self.incidents


def outcome(described: Description, end: int, skill: float, seed: int = 1) -> Outcome:
    """Drives it and looks on."""
    worst = [0.0]

    def look(now: Readings) -> None:
        worst[0] = max(worst[0], *(unit.mean_off_plumb_rad for unit in now.units if not unit.slack), 0.0)

    seats: list[Operator | None] = [Partner(described, 0), Partner(described, 1)]
    seats[end] = Clumsy(described, end, skill=skill, seed=seed)
    attempt = Attempt(described, seats)
    attempt.observers.append(look)
    run_operators(attempt)
    held = attempt.session
    assert held is not None
    return Outcome(held.done, len(attempt.incidents), attempt.simulation.time_s, held.result()[0].together,
                   degrees(worst[0]))  # fmt: skip


def main() -> int:
    """Drive them all; 1 when one did not end well."""
    parser = argparse.ArgumentParser()
    parser.add_argument("drills", nargs="*", metavar="DRILL", help="shipped drills; all unless said")
    parser.add_argument("--skill", type=float, default=0.75, help="of the clumsy half: 1 the usual partner's, 0 none")
    parser.add_argument("--seeds", type=int, default=1, metavar="N", help="how many draws of each")
    given = parser.parse_args()
    bad = 0
    for path in sorted(shipped_drills()):
        if given.drills and path.stem not in given.drills:
            continue
        described = load(path)
        for end, name in enumerate(PAIR):
            for seed in range(1, given.seeds + 1):
                one = outcome(described, end, given.skill, seed)
                bad += not one.good
                print(f"{path.stem:<14}{name} clumsy, draw {seed}: {'done' if one.done else 'NOT DONE':<9}"
                      f"{one.incidents} incidents, {one.time_s:5.0f} s, {one.points:3.0f} points, "
                      f"most off plumb {one.off_plumb_deg:.1f} deg", flush=True)  # fmt: skip
    return bool(bad)


if __name__ == "__main__":
    sys.exit(main())

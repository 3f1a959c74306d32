"""Random sections, rigs and centers of gravity turned over on two lines: against least potential energy, and driven.

python tools/turned_draws.py [--draws 200] [--driven 30] [--seed 185]

A section is a box or a round shell with a narrower frame, its CG off the middle, line 2 round under it or straight. It
is turned in seven rests; at each, scipy's constrained minimum says pose and loads. Boxes are driven in the engine too.
It prints the worst of each, and in how many draws both said alike whether it gets there.
"""

from __future__ import annotations

import argparse
import sys
from math import degrees
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np

from simulator.mechanics.turning import Station, turn
from tests.engine.scenes import come_to_rest
from tests.engine.test_turned_over import by_number, haul, section_and_load, turned_deg
from tests.mechanics.test_turning import STEPS_M, random_section
from tests.mechanics.turned_sections import Lowest, lowest

SLACK = 1e-3
"""Share of the weight under which a line is slack."""
WITHIN = {"rests": (0.1, 0.01, 0.001), "driven": (2.0, 0.5, 0.01)}
"""cm, degrees, share of the weight: as in the tests."""


class Apart(NamedTuple):
    """Two answers, how far apart."""

    place_cm: float = 0.0
    turned_deg: float = 0.0
    share: float = 0.0

    def worse(self, other: Apart) -> Apart:
        """The greater of each."""
        return Apart(*(max(pair) for pair in zip(self, other, strict=True)))


def off(station: Station, found: Lowest) -> Apart:
    """A rest of ours and one of scipy's."""
    place = float(np.abs(station.rest.pose.cg_m[1:] - found.q[:2]).max())
    shares = max(abs(a - b) for a, b in zip(station.shares, found.shares, strict=True))
    return Apart(100.0 * place, degrees(abs(station.turned_rad - found.q[2])), float(shares))


def compared(rng: np.random.Generator) -> tuple[Apart, bool, bool]:
    """One section: how far apart, whether it gets there, and whether both say so."""
    ours, theirs = random_section(rng)
    q, rings, worst = np.array([*ours.start.cg_m[1:], 0.0]), theirs.rings(), Apart()
    for moved, station in zip(STEPS_M, turn(ours, STEPS_M.tolist()), strict=True):
        lengths = np.array((ours.lengths_m[0] + moved, ours.lengths_m[1] - moved))
        found = lowest(theirs, rings, lengths, q)
        q = found.q
        bears = bool(min(found.shares) > SLACK)
        if not station.holds or not bears:
            return worst, False, station.holds == bears
        worst = worst.worse(off(station, found))
    return worst, True, True


def driven(rng: np.random.Generator) -> tuple[Apart, bool, bool]:
    """One box in the engine."""
    stations, simulation, amounts = section_and_load(rng)
    worst = Apart()
    for amount, station in zip(amounts, stations, strict=True):
        haul(simulation, amount)
        come_to_rest(simulation)
        shares = by_number(simulation)
        bears = min(shares) > SLACK
        if not station.holds or not bears:
            return worst, False, station.holds == bears
        place = 100.0 * abs(simulation.state.motion.z - float(station.rest.pose.cg_m[2]))
        turned = abs(turned_deg(simulation) + degrees(station.turned_rad))
        worst = worst.worse(Apart(place, turned, max(abs(a - b) for a, b in zip(shares, station.shares, strict=True))))
    return worst, True, True


def main() -> int:
    """Draw, compare, tell; 1 when something is past its bound."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--draws", type=int, default=200)
    asked.add_argument("--driven", type=int, default=30)
    asked.add_argument("--seed", type=int, default=185)
    given, faults = asked.parse_args(), 0
    for name, draw, count in (("rests", compared, given.draws), ("driven", driven, given.driven)):
        rng, worst, there, alike = np.random.default_rng(given.seed), Apart(), 0, 0
        for _ in range(count):
            apart, gets_there, same = draw(rng)
            worst, there, alike = worst.worse(apart), there + gets_there, alike + same
        print(
            f"{name}: {count} draws, {there} turn all the way, {alike} alike by both; worst {worst.place_cm:.4f} cm, "
            f"{worst.turned_deg:.4f} deg, {worst.share:.5f} of the weight"
        )
        is_past = any(one > most for one, most in zip(worst, WITHIN[name], strict=True))
        faults += is_past or alike < count
    return int(bool(faults))


if __name__ == "__main__":
    sys.exit(main())

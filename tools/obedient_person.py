"""Every shipped drill with a person who does what the coach says and nothing else, beside the automatic partner.

python tools/obedient_person.py [--reach 0.85 1.0 1.15] [DRILL ...]

`--reach`: how far each person pulls a lever over what is usual; a result that hangs on it says little.
"""

from __future__ import annotations

import argparse
import sys
from itertools import product
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.drill.judge import summed
from simulator.places import shipped_drills
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import account_lines
from tests.drill.lessons import coarser, drill, session
from tests.drill.obedient import beside_partner


def main() -> int:
    """Drive them all, either seat; 1 when one is not passed."""
    parser = argparse.ArgumentParser()
    parser.add_argument("drills", nargs="*", metavar="DRILL", help="shipped drills; all unless said")
    parser.add_argument("--reach", type=float, nargs="+", default=[1.0])
    given = parser.parse_args()
    bad = 0
    for name in given.drills or [path.stem for path in sorted(shipped_drills())]:
        described = coarser(drill(name))
        for (end, unit), reach in product(enumerate(described.units), given.reach):
            attempt = beside_partner(described, end, longest_s=600.0, reach=reach)
            held = session(attempt)
            bad += not held.passed
            state = "passed" if held.passed else f"NOT PASSED, in step {held.index + 1}"
            points = held.result()[0].together
            lasted_s = attempt.readings.time_s
            print(f"{name:<20}{unit.name}, reach {reach:g}: {state}, {lasted_s:.0f} s, {points:.0f} points", flush=True)
            for line in account_lines(summed(held.result()[1]), Amounts()):
                print(f"    {line}")
    return bool(bad)


if __name__ == "__main__":
    sys.exit(main())

"""Weighings drawn by lot: how often the truth lies inside the stated spread of 95 %.

python tools/weigh_draws.py --random 2000           random loads hung at rest, read five times each with errors drawn
python tools/weigh_draws.py --random 2000 --seed 7

Ends with 1 when a share is not 93 to 97 %.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from simulator.mechanics.matrix import rotation  # noqa: E402
from simulator.mechanics.weighing import Errors, weigh  # noqa: E402
from tests.mechanics.weighings import ENDS, HEIGHT_M, errors_drawn, hung, misread  # noqa: E402

WHAT = ("weight", "along", "across", "height")
LEAST, MOST = 0.93, 0.97
TIMES = 5
"""Readings drawn of each random load: 2,000 loads are 10,000 draws."""
EXACT = Errors(0.0, 0.0, 0.0, 0.0, 0.0, HEIGHT_M)


def random_loads(count: int, seed: int) -> int:
    """Loads on two to four splayed lines, read with errors drawn as they are stated."""
    rng = np.random.default_rng(seed)
    once, all_five, worst_share, worst_m = np.zeros(4), np.zeros(4), 0.0, 0.0
    for n in range(count):
        case, errors = hung(rng), errors_drawn(rng)
        inside = [weigh([misread(case.reading, errors, rng)], errors, ENDS, most_pitch_rad=0.0)
                  .holds(case.weight_N, case.cg_m) for _ in range(TIMES)]  # fmt: skip
        once, all_five = once + inside[0], all_five + np.sum(inside, axis=0)
        exact = weigh([case.reading], EXACT, ENDS, most_pitch_rad=0.0)
        turn = np.array(rotation(*case.reading[1:])).reshape(3, 3)
        off = turn @ (np.array(exact.cg_m) - np.array(case.cg_m))
        worst_share = max(worst_share, abs(exact.weight_N / case.weight_N - 1.0))
        worst_m = max(worst_m, float(np.abs(off[:2]).max()))
        if n % 100 == 99:
            print(f"{n + 1} of {count}", file=sys.stderr, flush=True)
    print(f"without errors: weight off by at most {worst_share:.1e} of it, line of gravity by {worst_m:.1e} m")
    shares = np.concatenate([once / count, all_five / (TIMES * count)])
    for name, first, every in zip(WHAT, once / count, all_five / (TIMES * count), strict=True):
        print(f"{name:<8}inside its 95 %: {100 * first:.1f} % of {count}, {100 * every:.1f} % of {TIMES * count}")
    return int(not ((shares >= LEAST) & (shares <= MOST)).all() or worst_share > 1e-3)


def main() -> int:
    """0 when all shares are where they ought to be."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--random", type=int, default=0, metavar="N", help="random loads")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    return random_loads(given.random, given.seed) if given.random else 0


if __name__ == "__main__":
    sys.exit(main())

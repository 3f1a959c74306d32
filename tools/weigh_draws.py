"""Weighings drawn by lot: how often the truth lies inside the stated spread of 95 %.

python tools/weigh_draws.py --random 2000           random loads hung at rest, read five times each with errors drawn
python tools/weigh_draws.py --driven 100            shipped lifts, weight and CG hidden by lot, driven to the hold's end
python tools/weigh_draws.py --driven 5 --follow     and on to their end, against the re-checked plan
python tools/weigh_draws.py --driven 100 --lift tank_on_side --seed 7

Ends with 1 when a random share is not 93 to 97 %, a driven one under 90 %, or loads that follow more than 3 % off.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from simulator.attempt import Attempt  # noqa: E402
from simulator.drill.partner import Partner  # noqa: E402
from simulator.drill.scales import Scales  # noqa: E402
from simulator.engine.commands import still  # noqa: E402
from simulator.mechanics.matrix import rotation  # noqa: E402
from simulator.mechanics.trailer_body import body  # noqa: E402
from simulator.mechanics.weighing import Errors, weigh  # noqa: E402
from simulator.mechanics.weighing_lift import ends_of  # noqa: E402
from simulator.places import find_scenario  # noqa: E402
from simulator.plan.recheck import recheck  # noqa: E402
from simulator.readings import Readings  # noqa: E402
from simulator.scenario.description import Description  # noqa: E402
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402
from tests.demo import with_trailer  # noqa: E402
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


LIFTS = ("practice_yard", "tank_on_side", "box_on_wheels", "four_lines", "whole_lift", "centering", "raise_level",
         "carry_across")  # fmt: skip
MASS, ALONG_M, ACROSS_M, UP_M = (0.8, 1.15), 0.7, 0.05, 0.2
LEAST_DRIVEN, MOST_OFF = 0.90, 0.03
LONGEST_S, STEP = 240.0, 60


def drawn(name: str, rng: np.random.Generator) -> Description:
    """A shipped lift with weight and CG hidden by lot."""
    lift = load(find_scenario(name))
    x, y, z = lift.trailer.hidden_cg_m
    cg = (x + rng.uniform(-ALONG_M, ALONG_M), y + rng.uniform(-ACROSS_M, ACROSS_M), z + rng.uniform(-UP_M, UP_M))
    if lift.trailer.attitude != "on_wheels":
        cg = (cg[0], 0.0, cg[1])  # across as it lies is up as it stands
    return with_trailer(lift, hidden_cg_m=cg, hidden_mass_factor=float(rng.uniform(*MASS)))


def held(lift: Description) -> tuple[Attempt, Scales]:
    """Driven by the automatic operators until they lift on."""
    attempt = Attempt(lift, [Partner(lift, place) for place in range(len(lift.units))], in_bulk=True)
    scales = Scales(lift)
    attempt.observers.append(scales.see)
    while not attempt.ended and scales.state != "went on" and attempt.readings.time_s < LONGEST_S:
        attempt.advance(still(attempt.rig), STEP)
    return attempt, scales


def driven(name: str, count: int, seed: int, *, follow: bool) -> bool:
    """How often the estimate at the hold's end, from readings off by their errors, holds the truth; what follows."""
    rng = np.random.default_rng([seed, *name.encode()])
    inside, weighed, off, worst = np.zeros(3), 0, 0.0, 0.0
    for _ in range(count):
        lift = drawn(name, rng)
        attempt, scales = held(lift)
        if scales.reading is None:
            continue
        weighed, errors = weighed + 1, scales.errors
        found = weigh([misread(scales.reading, errors, rng)], errors, ends_of(lift), most_pitch_rad=0.0)
        true = body(lift.trailer)
        inside += found.holds(true.mass_kg * STANDARD_GRAVITY_MPS2, true.cg_m)[:3]
        off = max(off, abs(scales.found.weight_N / true.mass_kg / STANDARD_GRAVITY_MPS2 - 1.0) if scales.found else 1.0)
        worst = max(worst, followed(lift, attempt, scales)) if follow else worst
    shares = 100.0 * inside / max(1, weighed)
    print(f"{name:<14}{weighed} of {count} weighed; inside 95 %: weight {shares[0]:.0f} %, along {shares[1]:.0f} %, "
          f"across {shares[2]:.0f} %; weight without errors off by {off:.1e}"
          + (f"; loads that followed off by at most {100 * worst:.1f} %" if follow else ""), flush=True)  # fmt: skip
    return bool(weighed) and bool((shares[:2] >= 100.0 * LEAST_DRIVEN).all()) and worst <= MOST_OFF


def followed(lift: Description, attempt: Attempt, scales: Scales) -> float:
    """How far the line loads of the lift that goes on are off the re-checked plan's, at worst of its units.

    The plan's loads hold with the load level and still; so does the mean of the drive while it hangs level.
    """
    assert scales.reading is not None
    plan = recheck(lift, [scales.reading], scales.errors).check
    loads: list[tuple[float, ...]] = []

    def see(now: Readings) -> None:
        if now.load.ground_N <= 0.0 and abs(now.load.pitch_rad) < 0.01 and now.load.z_m > raised_m:
            loads.append(tuple(unit.line_load_N for unit in now.units))

    raised_m = attempt.readings.load.z_m + 0.1
    attempt.observers.append(see)
    while not attempt.ended and attempt.readings.time_s < 900.0:
        attempt.advance(still(attempt.rig), 4 * STEP)
    if not loads:
        return 1.0
    stands = plan.stations[len(plan.stations) // 2].units
    planned = np.array([stand.pull.load_N for stand in stands])
    return float(np.abs(np.mean(loads, axis=0) / planned - 1.0).max())


def main() -> int:
    """0 when all shares are where they ought to be."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--random", type=int, default=0, metavar="N", help="random loads")
    parser.add_argument("--driven", type=int, default=0, metavar="N", help="draws of each shipped lift")
    parser.add_argument("--lift", action="append", default=[], choices=LIFTS, help="only this one")
    parser.add_argument("--follow", action="store_true", help="drive on to the end, against the re-checked plan")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    code = random_loads(given.random, given.seed) if given.random else 0
    lifts = (given.lift or LIFTS) if given.driven else ()
    good = [driven(name, given.driven, given.seed, follow=given.follow) for name in lifts]
    return int(bool(code) or not all(good))


if __name__ == "__main__":
    sys.exit(main())

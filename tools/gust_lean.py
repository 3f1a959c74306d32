"""Off plumb by gusts: what a plan counts with, beside what able operators meet in lifts in that wind.

python tools/gust_lean.py [--draws 50] [--seed 60] [--mean 12] [--gust 0.3] [--lift practice_yard] [--keep-in FOLDER]

Each draw has gusts at other moments. The plan is well when its worst off plumb is at least the 95th percentile of what
the lifts met, unit by unit: the mean over a sway, as drill and debrief judge it, operators' own leaning included.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from math import degrees, isfinite
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.places import find_scenario
from simulator.plan.setup_check import check_setup
from simulator.rehearsal.limits import limits_of
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.script import rehearse

SHARE = 0.95


def in_wind(name: str, mean_mps: float, gust_share: float) -> Description:
    """A shipped lift in a wind, its papers true, at a rate that many lifts can be driven at."""
    lift = load(find_scenario(name))
    wind = replace(lift.site.wind, speed_mps=mean_mps, gust_share=gust_share)
    engine = replace(lift.engine, steps_per_s=120, readings_per_s=20, footing_every_steps=4)
    trailer = replace(lift.trailer, hidden_cg_m=(0.0, 0.0, 0.0), hidden_mass_factor=1.0)
    return replace(lift, site=replace(lift.site, wind=wind), engine=engine, trailer=trailer)


def percentile(values: list[float]) -> float:
    """The least value that so many of them do not pass."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(SHARE * len(ordered)))]


def main() -> int:
    """Drive the lifts; 1 when a plan counts with less than they met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--draws", type=int, default=50)
    parser.add_argument("--seed", type=int, default=60)
    parser.add_argument("--mean", type=float, default=12.0, help="m/s, mean of ten minutes")
    parser.add_argument("--gust", type=float, default=0.3, help="share over the mean")
    parser.add_argument("--lift", default="practice_yard")
    parser.add_argument("--keep-in", type=Path, metavar="FOLDER")
    given = parser.parse_args()
    lift = in_wind(given.lift, given.mean, given.gust)
    planned = {
        one.reading.who: one.reading.value for one in check_setup(lift).findings if one.reading.code == "off plumb"
    }
    rows = rehearse(lift, given.draws, seed=given.seed, jobs=1, keep_in=given.keep_in).rows
    keys, short = [one.key for one in limits_of(lift)], 0
    for unit in lift.units:
        place = keys.index(f"{unit.name}.mean_off_plumb_rad")
        met = [row.values[place] for row in rows if row.values and isfinite(row.values[place])]
        plan, least = planned[f"{unit.name} unit"], percentile(met)
        short += plan < least
        print(f"{unit.name}: plan {degrees(plan):.2f} deg, {100 * SHARE:.0f} % of {len(met)} lifts within "
              f"{degrees(least):.2f} deg, most {degrees(max(met)):.2f} deg"
              f"{'' if plan >= least else ': THE PLAN COUNTS WITH LESS'}")  # fmt: skip
    return int(short > 0)


if __name__ == "__main__":
    sys.exit(main())

"""Works in orders and at places that no shipped drill has, drawn by lot: do able operators end them, or hear why not?

python tools/random_works.py [--draws 30] [--seed 70] [--only N ...]

A draw raises a shipped drill's load together or by turns, then puts it back, sets it down wherever it is on the way,
lands it at a place drawn from all that a file may name, or hauls it back from there down to where it lay. It is well
when the drill comes to its end with no incident and nothing that fails it; when it does not end, the check has to
refuse the place, or the coach has to name the condition that keeps it.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from dataclasses import replace
from math import radians
from pathlib import Path
from random import Random
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.places import find_scenario
from simulator.plan.setup_check import check_setup
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.drill import Comparison, Condition, Drill, Seat, Step, Work
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load
from simulator.script import checked

LONGEST_S = 420.0
DRILLS = ("raise_level", "carry_across")
ENDS = ("put back", "set down on the way", "landed", "hauled back")
LANDS_M = (5.5, 8.7)
"""Places that a drill may name, off the pads and out of the live lane's caution."""


def until(
    reading: str, comparison: Comparison, value: float, *, change: bool = False, hold_s: float = 0.0
) -> Condition:
    """What ends a step."""
    return Condition(reading=reading, comparison=comparison, value=value, change=change, hold_s=hold_s)


def step(title: str, work: Work, *ends: Condition, moves: Seat = "both", to_y_m: float | None = None) -> Step:
    """A step."""
    return Step(title=title, work=work, until=ends, moves=moves, to_y_m=to_y_m)


def begun() -> list[Step]:
    """Up to a load that hangs a hand's width over the ground."""
    plumb = [until(f"{end}.off_plumb_rad", "<", radians(0.6), hold_s=1.0) for end in ("nose", "tail")]
    bear = [until(f"{end}.hook_load_N", ">", 4e3) for end in ("nose", "tail")]
    free = [until("load.ground_N", "<=", 0.0), until("load.height_over_bed_m", ">=", 0.1)]
    return [step("plumb", "plumb the tips", *plumb), step("slack", "take slack", *bear), step("off", "lift off", *free)]


def raised(lots: Random, rise_m: float) -> list[Step]:
    """Up together, or by turns that alternate."""
    if lots.random() < 0.5:
        return [step("up", "raise", until("load.height_over_bed_m", ">=", rise_m))]
    seats: tuple[Seat, Seat] = ("nose", "tail")
    return [
        step(f"{end} {turn}", "raise", until(f"{end}.hook_z_m", ">", 0.12, change=True), moves=end)
        for turn in range(lots.randint(1, 3))
        for end in lots.sample(seats, 2)
    ]


def drawn(seed: int, number: int) -> tuple[str, Description]:
    """What draw `number` ends with, and its lift.

    Raises:
        BrokenScenario: what was drawn does not fit together.
    """
    lots = Random(f"{seed} {number}")
    lift = load(find_scenario(lots.choice(DRILLS)))
    ends = lots.choice(ENDS)
    slack = [until(f"{end}.slack", ">=", 1.0) for end in ("nose", "tail")]
    down = [step("down", "lower", *slack), step("out", "slack off", until("time_s", ">", 6.0, change=True))]
    y = lots.uniform(*LANDS_M) if ends == "landed" else lift.landing.y_m
    steps = [*begun(), *raised(lots, lots.uniform(0.3, 1.2))]
    if ends != "put back":
        far = until("load.y_m", ">", y - 0.1)
        on_the_way = until("load.y_m", ">", lots.uniform(1.0, 11.0), change=True)
        across = far if ends in ("landed", "hauled back") else on_the_way
        settled = until("load.sway_m", "<", 0.2, hold_s=2.0)
        steps += [
            step("high", "raise", until("load.height_over_road_m", ">=", 0.7)),
            step("across", "cross", across),
            step("steady", "steady", settled),
        ]
    if ends == "hauled back":
        back_m = lift.trailer.start.y_m
        steps += [
            step("back", "cross", until("load.y_m", "<", back_m + 0.1), to_y_m=back_m),
            step("steady again", "steady", settled),
        ]
    exercise = Drill(aim="Works drawn by lot.", steps=(*steps, *down), longest_s=LONGEST_S)
    engine = replace(lift.engine, steps_per_s=120, readings_per_s=20, footing_every_steps=4)
    trailer = replace(lift.trailer, hidden_cg_m=(lots.uniform(-0.4, 0.4), 0.0, 0.0))
    landing = replace(lift.landing, y_m=y)
    return ends, checked(replace(lift, drill=exercise, engine=engine, trailer=trailer, landing=landing))


class Came(NamedTuple):
    """What a draw came to."""

    well: bool
    said: str


def driven(lift: Description) -> Came:
    """Able operators drive it."""
    attempt = Attempt(lift, [Partner(lift, end) for end in range(len(lift.units))], in_bulk=True)
    run_operators(attempt, longest_s=LONGEST_S)
    held, now = attempt.session, attempt.readings
    if held is None:
        return Came(False, "no drill")
    if held.done and not attempt.incidents:
        points = held.result()[0].together
        hard = ", ".join(dict.fromkeys(loss.rule for loss in held.failed_by))
        return Came(not hard, f"done in {now.time_s:.0f} s, {points:.0f} points {hard}")
    refused = check_setup(lift).refused_for
    prompt = held.prompt
    names = prompt is not None and prompt.kind == "hold" and bool(prompt.reason)
    why = f"check: {', '.join(refused) or 'nothing'}; coach: {prompt.reason if prompt else ''}"
    met = "; ".join(one.what for one in attempt.incidents)
    return Came(bool(refused) or (names and not met), f"in step {held.step.title!r}: {met} {why}")


def main() -> int:
    """Drive the draws; 1 when one is not well."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--draws", type=int, default=30)
    parser.add_argument("--seed", type=int, default=70)
    parser.add_argument("--only", type=int, nargs="*", metavar="N", help="these draws alone")
    given = parser.parse_args()
    counts: Counter[tuple[str, bool]] = Counter()
    for number in given.only or range(1, given.draws + 1):
        try:
            ends, lift = drawn(given.seed, number)
        except BrokenScenario as broken:
            print(f"{number:>4} cannot be built: {broken}", flush=True)
            continue
        came = driven(lift)
        counts[ends, came.well] += 1
        print(f"{number:>4} {ends:<20}{'well' if came.well else 'NOT WELL':<10}{came.said}", flush=True)
    for (ends, well), times in sorted(counts.items()):
        print(f"{ends:<20}{'well' if well else 'NOT WELL':<10}{times}")
    return int(any(not well for _, well in counts))


if __name__ == "__main__":
    sys.exit(main())

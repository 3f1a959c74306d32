"""The taught way against every typical fault on the same load drawn by lot: who scores more, who passes, what is named.

python tools/fault_against_taught.py [--seeds 1000-1003] [--drills ...] [--faults ...] [--skills N] [--rate 120]

A pair is one draw of a drill's load, driven by two able operators and by one with a fault beside an able one; a tie
counts as lost. The confusion table has the fault that was driven against the first cause that the debrief names.
`--skills N` compares clumsiness instead: means of N draws of each drill.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path
from random import Random
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.attempt import Attempt
from simulator.drill.clumsy import Clumsy
from simulator.drill.partner import Partner
from simulator.drill.ways import FAULTS, SKILLS
from simulator.places import shipped_drills
from simulator.recording.headless import run_operators
from simulator.recording.memory import Memory
from simulator.report.debrief import debrief
from simulator.scenario.description import Description
from simulator.scenario.reader import load

CG_OFF_M, MASS_OFF = 0.5, 0.08
"""How far the load may be drawn off its papers: along the road, and as a share; less than calls for a hold."""
RIGHT = {
    "hoists straight on": {"leaning", "early"},
    "stays out of plumb": {"leaning", "early"},
    "hoists early": {"leaning", "early", "out of turn"},
    "slews only": {"off its line"},
    "chases sway": {"chased"},
    "stops alone": {"stopped alone"},
    "goes on alone": {"went on alone", "out of turn"},
}
"""Causes that say what each fault is; what hoists before the tips are plumb both leans and is early."""
SHOWS_IN = {
    "slews only": {"cross"},
    "stops alone": {"raise", "cross"},
    "goes on alone": {"raise", "cross", "hold"},
    "chases sway": {"hold", "raise", "cross", "steady"},
}
"""Work in which a fault can be driven; the others are driven wherever tips are plumbed."""


class Outcome(NamedTuple):
    """What one attempt came to."""

    together: float
    passed: bool
    failed_by: tuple[str, ...]
    cause: str
    by: int | None
    unexplained: float
    """Points lost without a finding."""


class Job(NamedTuple):
    """One attempt to drive."""

    drill: str
    way: str
    end: int
    seed: int
    rate: int


def drawn(described: Description, seed: int, rate: int) -> Description:
    """The drill's lift with its load drawn by lot."""
    draw = Random(seed)
    cg = (draw.uniform(-CG_OFF_M, CG_OFF_M), 0.0, 0.0)
    trailer = replace(described.trailer, hidden_cg_m=cg, hidden_mass_factor=1.0 + draw.uniform(-MASS_OFF, MASS_OFF))
    engine = replace(described.engine, steps_per_s=rate, readings_per_s=max(30, rate // 4),
                     footing_every_steps=max(1, rate // 30))  # fmt: skip
    return replace(described, trailer=trailer, engine=engine)


def drive(job: Job) -> Outcome:
    """One attempt, scored and debriefed."""
    path = next(one for one in shipped_drills() if one.stem == job.drill)
    described = drawn(load(path), job.seed, job.rate)
    fault = next((one for one in FAULTS if one == job.way), None)
    seats: list[Partner | Clumsy] = [Partner(described, end) for end in range(len(described.units))]
    if job.way in SKILLS:
        seats = [Clumsy(described, end, skill=SKILLS[job.way], seed=job.seed) for end in range(len(seats))]
    elif fault is not None:
        seats[job.end] = Clumsy(described, job.end, fault=fault, seed=job.seed)
    attempt = Attempt(described, list(seats))
    memory = Memory(attempt)
    run_operators(attempt)
    held = attempt.session
    assert held is not None
    told = debrief(memory.recording())
    main = sorted(told.findings, key=lambda one: (one.cause == "moves", one.time_s))
    first = main[0] if main else None
    lost = 100.0 - held.result()[0].together
    return Outcome(
        held.result()[0].together, held.passed, tuple(loss.rule for loss in held.failed_by),
        first.cause if first else "", first.by if first else None, 0.0 if told.findings else lost,
    )  # fmt: skip


def jobs(given: argparse.Namespace) -> Iterator[Job]:
    """Every attempt that is asked for, the taught ones first."""
    low, _, high = given.seeds.partition("-")
    for name in given.drills or sorted(path.stem for path in shipped_drills()):
        described = load(next(one for one in shipped_drills() if one.stem == name))
        works = {step.work for step in described.drill.steps} if described.drill else set()
        ways = [way for way in given.faults or FAULTS if works & SHOWS_IN.get(way, {"plumb the tips"})]
        for seed in range(int(low), int(high or low) + 1):
            yield Job(name, "taught", 0, seed, given.rate)
            yield from (Job(name, way, end, seed, given.rate) for way in ways for end in range(len(described.units)))


def compare_skills(given: argparse.Namespace) -> int:
    """Means of each clumsiness over N draws of every drill."""
    names = given.drills or sorted(path.stem for path in shipped_drills())
    with ProcessPoolExecutor(given.workers) as pool:
        for name in names:
            means = []
            for way in ("taught", *SKILLS):
                rows = list(pool.map(drive, [Job(name, way, 0, seed, given.rate) for seed in range(given.skills)]))
                means.append(sum(row.together for row in rows) / len(rows))
            print(f"{name:<14}" + "  ".join(f"{way} {mean:5.1f}" for way, mean in
                                            zip(("taught", *SKILLS), means, strict=True)), flush=True)  # fmt: skip
    return 0


class Row(NamedTuple):
    """One fault's attempts against the taught ones."""

    ahead: bool
    passed: bool
    is_right: bool
    blames_innocent: bool
    named: str


def judged(job: Job, one: Outcome, taught: Outcome) -> Row:
    """A faulty attempt beside the taught one on the same load."""
    is_right = one.cause in RIGHT[job.way] and one.by in (None, job.end)
    innocent = one.by is not None and one.by != job.end
    return Row(taught.together > one.together, one.passed, is_right, innocent, one.cause or "nothing")


def drive_pairs(given: argparse.Namespace) -> tuple[list[Outcome], dict[str, list[Row]]]:
    """Drive them all and print each."""
    taught: dict[tuple[str, int], Outcome] = {}
    rows: dict[str, list[Row]] = {}
    todo = list(jobs(given))
    with ProcessPoolExecutor(given.workers) as pool:
        for job, one in zip(todo, pool.map(drive, todo), strict=True):
            said = f"{job.drill:<13}{job.way:<20}{job.end} {job.seed} {one.together:5.1f} {'pass' * one.passed:<5}"
            if job.way == "taught":
                taught[job.drill, job.seed] = one
                print(f"{said} {', '.join(one.failed_by)}", flush=True)
                continue
            row = judged(job, one, taught[job.drill, job.seed])
            rows.setdefault(job.way, []).append(row)
            flags = [] if row.ahead else ["TAUGHT NOT AHEAD"]
            flags += [f"points without a finding: {one.unexplained:.0f}"] if one.unexplained > 0.05 else []
            print(f"{said} {row.named} by {one.by}; {', '.join((*one.failed_by, *flags))}", flush=True)
    return list(taught.values()), rows


def main() -> int:
    """Drive the pairs; 1 when the taught way loses one."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", default="1000-1003", help="first and last draw")
    parser.add_argument("--drills", nargs="*", default=[])
    parser.add_argument("--faults", nargs="*", default=[], choices=FAULTS)
    parser.add_argument("--skills", type=int, default=0, metavar="N", help="compare clumsiness over N draws instead")
    parser.add_argument("--rate", type=int, default=120, help="steps a second")
    parser.add_argument("--workers", type=int, default=1)
    given = parser.parse_args()
    if given.skills:
        return compare_skills(given)
    taught, rows = drive_pairs(given)
    print(f"\ntaught: {sum(one.passed for one in taught)} of {len(taught)} pass\n{'fault':<20}{'pairs':>6}{'ahead':>7}"
          f"{'passes':>8}{'right cause':>13}{'innocent':>10}  named")  # fmt: skip
    for way, these in rows.items():
        counts = [sum(row[index] for row in these) for index in range(4)]
        names = ", ".join(f"{name} {times}" for name, times in Counter(row.named for row in these).most_common())
        print(f"{way:<20}{len(these):>6}{counts[0]:>7}{counts[1]:>8}{counts[2]:>13}{counts[3]:>10}  {names}")
    return int(not all(row.ahead for these in rows.values() for row in these))


if __name__ == "__main__":
    sys.exit(main())

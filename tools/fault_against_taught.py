"""The taught way against every typical fault on the same load drawn by lot: who scores more, who passes, what is named.

python tools/fault_against_taught.py [--draws 4] [--seed 1000] [--drills ...] [--faults ...] [--skills] [--rate 120]

A pair is one draw of a drill's load, rehearsed by two able operators and by one with a fault beside an able one; a tie
counts as lost. The confusion table has the fault that was driven against the first cause that the debrief names.
`--skills` compares clumsiness instead: means of the draws of each drill. With `--keep-in FOLDER` a run that was broken
off goes on where it stopped; `--kept` counts what stands in that folder, and drives nothing.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from math import nan
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.drill.ways import FAULTS, SKILLS, TURN_FAULTS
from simulator.files.record_lines import whole_lines
from simulator.places import shipped_drills
from simulator.rehearsal.driven import DrawRow, row_of
from simulator.rehearsal.kept import NAME
from simulator.scenario.description import Description
from simulator.scenario.drill import Drill
from simulator.scenario.reader import load
from simulator.script import rehearse

CG_OFF_M, MASS_OFF = 0.5, 0.08
"""How far the load may be drawn off its papers: along the road, and as a share; less than calls for a hold."""
TURN_CG_M, TURN_ACROSS_M, TURN_MASS = 0.8, 0.3, (0.8, 1.25)
"""The same of a load that is turned over, along and across, and its weight over the papers': each fault of a turn."""
RIGHT = {
    "hoists straight on": {"leaning", "early"},
    "stays out of plumb": {"leaning", "early"},
    "hoists early": {"leaning", "early", "out of turn"},
    "slews only": {"off its line"},
    "chases sway": {"chased"},
    "stops alone": {"stopped alone"},
    "goes on alone": {"went on alone", "out of turn"},
    "turns alone": {"turned alone"},
    "out faster than in": {"out faster than in"},
    "rushes the corner": {"rushed the corner"},
    "turns low": {"turned low"},
    "turns near the lane": {"turned near the lane"},
    "turns while swaying": {"turned swaying", "chased"},
}
"""Causes that say what each fault is; what hoists before the tips are plumb both leans and is early."""
SHOWS_IN = {
    "slews only": {"cross"},
    "stops alone": {"raise", "cross", "lower"},
    "goes on alone": {"raise", "cross", "hold"},
    **{fault: {"turn"} for fault in TURN_FAULTS},
}
"""Work in which a fault can be driven; the others are driven wherever tips are plumbed. A sway can be chased where the
drill sends a gust: an able pair leaves none."""


def at_rate(drill: Path, rate: int) -> Description:
    """A drill at so many steps a second, nothing hidden but what is drawn."""
    lift = load(drill)
    engine = replace(lift.engine, steps_per_s=rate, readings_per_s=max(20, rate // 6),
                     footing_every_steps=max(1, rate // 30))  # fmt: skip
    return replace(lift, engine=engine, trailer=replace(lift.trailer, hidden_cg_m=(0.0, 0.0, 0.0)))


def rehearsed(given: argparse.Namespace, drill: Path, name: str, ways: list[list[str]]) -> tuple[DrawRow, ...]:
    """The draws of a drill, each unit driven in one way; those of one number have one load."""
    keep_in = None if given.keep_in is None else given.keep_in / f"{drill.stem}-{name.replace(' ', '-')}"
    if given.kept:
        return kept_rows(keep_in, given.draws)
    lift = at_rate(drill, given.rate)
    is_turned = bool(lift.lands_turned_rad)
    off_m = TURN_CG_M if is_turned else CG_OFF_M
    return rehearse(
        lift, given.draws, weight=TURN_MASS if is_turned else (1.0 - MASS_OFF, 1.0 + MASS_OFF), cg_m=(-off_m, off_m),
        cg_across_m=(-TURN_ACROSS_M, TURN_ACROSS_M) if is_turned else None, operators=ways, seed=given.seed,
        jobs=given.workers, keep_in=keep_in, causes=not given.skills,
    ).rows  # fmt: skip


def kept_rows(folder: Path | None, draws: int) -> tuple[DrawRow, ...]:
    """The first draws of those that a run has kept; none where it has not come so far."""
    path = None if folder is None else folder / NAME
    if path is None or not path.exists():
        return ()
    rows = [row_of(json.loads(line)) for line in list(whole_lines(path))[1:]]
    return tuple(sorted((row for row in rows if row.number <= draws), key=lambda row: row.number))


def drills(given: argparse.Namespace) -> list[Path]:
    """Those that are asked for."""
    return [path for path in shipped_drills() if path.stem in (given.drills or [path.stem])]


def compare_skills(given: argparse.Namespace) -> int:
    """Means of each clumsiness over the draws of every drill."""
    for drill in drills(given):
        units = len(load(drill).units)
        means = {}
        for way in ("able", *SKILLS):
            rows = rehearsed(given, drill, way, [[way]] * units)
            means[way] = sum(row.points for row in rows) / len(rows) if rows else nan
            count = len(rows)
        told = "  ".join(f"{way} {mean:5.1f}" for way, mean in means.items())
        print(f"{drill.stem:<14}{count:>4} draws  {told}", flush=True)
    return 0


class Judged(NamedTuple):
    """One fault's attempt against the taught one."""

    ahead: bool
    passed: bool
    is_right: bool
    blames_innocent: bool
    named: str


def judged(way: str, unit: str, one: DrawRow, taught: DrawRow) -> Judged:
    """A faulty attempt beside the taught one on the same load."""
    kind, by = one.cause
    is_right = kind in RIGHT[way] and by in ("", unit)
    return Judged(taught.points > one.points, one.is_good, is_right, by not in ("", unit), kind or "nothing")


def pairs(given: argparse.Namespace, drill: Path, taught: tuple[DrawRow, ...]) -> Iterator[tuple[str, Judged]]:
    """Every fault that can show in a drill, in every seat, each draw printed."""
    lift = load(drill)
    for way in (way for way in given.faults or FAULTS if shows_in(way, lift.drill)):
        for end, unit in enumerate(lift.units):
            if given.seats and unit.name not in given.seats:
                continue
            ways = [[way] if place == end else ["able"] for place in range(len(lift.units))]
            by_number = {row.number: row for row in taught}
            for one in rehearsed(given, drill, f"{unit.name}-{way}", ways):
                able = by_number[one.number]
                found = judged(way, unit.name, one, able)
                flags = [] if found.ahead else ["TAUGHT NOT AHEAD"]
                lost = 0.0 if one.cause.kind else 100.0 - one.points
                flags += [f"points without a finding: {lost:.0f}"] if lost > 0.05 else []
                print(f"{said(drill, way, one)} {unit.name}: {found.named} by {one.cause.by or 'nobody'}; "
                      f"{', '.join((*one.failed_by, *flags))}", flush=True)  # fmt: skip
                yield way, found


def shows_in(way: str, exercise: Drill | None) -> bool:
    """Whether a fault can be driven in a drill, by what the drill asks for and nothing that came of it."""
    steps = exercise.steps if exercise else ()
    if way == "chases sway":
        return any(step.gust_mps for step in steps)
    return bool({step.work for step in steps} & SHOWS_IN.get(way, {"plumb the tips"}))


def said(drill: Path, way: str, row: DrawRow) -> str:
    """One attempt in a line."""
    return f"{drill.stem:<13}{way:<20}{row.number:>4} {row.points:5.1f} {'pass' * row.is_good:<5}"


def main() -> int:
    """Drive the pairs; 1 when the taught way loses one."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--draws", type=int, default=4, help="of each drill's load")
    parser.add_argument("--seed", type=int, default=1000)
    parser.add_argument("--drills", nargs="*", default=[])
    parser.add_argument("--faults", nargs="*", default=[], choices=FAULTS)
    parser.add_argument(
        "--seats", nargs="*", default=[], metavar="UNIT", help="units whose operator has the fault; all"
    )
    parser.add_argument("--skills", action="store_true", help="compare clumsiness instead")
    parser.add_argument("--rate", type=int, default=120, help="steps a second")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--keep-in", type=Path, metavar="FOLDER", help="a folder for all rows")
    parser.add_argument("--kept", action="store_true", help="count what that folder holds, and drive nothing")
    given = parser.parse_args()
    if given.keep_in is not None:
        given.keep_in.mkdir(exist_ok=True)
    if given.skills:
        return compare_skills(given)
    able: list[DrawRow] = []
    rows: dict[str, list[Judged]] = {}
    for drill in drills(given):
        taught = rehearsed(given, drill, "taught", [["able"]] * len(load(drill).units))
        print(*(f"{said(drill, 'taught', row)} {', '.join(row.failed_by)}" for row in taught), sep="\n", flush=True)
        able += taught
        for way, found in pairs(given, drill, taught):
            rows.setdefault(way, []).append(found)
    tell(able, rows)
    return int(not all(row.ahead for these in rows.values() for row in these))


def tell(able: list[DrawRow], rows: dict[str, list[Judged]]) -> None:
    """The tables: who is ahead, who passes, what is named of each fault; and all faults together."""
    print(f"\ntaught: {sum(row.is_good for row in able)} of {len(able)} pass\n{'fault':<20}{'pairs':>6}{'ahead':>7}"
          f"{'passes':>8}{'right cause':>13}{'innocent':>10}  named")  # fmt: skip
    every = {**rows, "all": [row for these in rows.values() for row in these]}
    for way, these in every.items():
        counts = [sum(row[index] for row in these) for index in range(4)]
        names = ", ".join(f"{name} {times}" for name, times in Counter(row.named for row in these).most_common())
        print(f"{way:<20}{len(these):>6}{counts[0]:>7}{counts[1]:>8}{counts[2]:>13}{counts[3]:>10}  {names}")


if __name__ == "__main__":
    sys.exit(main())

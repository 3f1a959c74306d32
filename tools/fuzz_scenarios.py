"""Scenario files broken on purpose: each is told in sentences, or, if it has no fault, can be lifted.

python tools/fuzz_scenarios.py [how many, 2000] [seed, 1] [seconds driven, 20] [drive one of so many good ones, 1]

Each in a process bounded to 512 MB and 10 s (a few together, and each alone if that breaks); some good ones are also
judged by `check`. Looked for: a traceback, a bound reached, a fault that is no sentence; in those that are good energy
from nowhere, lines and floats that are not sane, numbers that are none, a trailer that moves at time zero.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from itertools import cycle
from json import dumps
from math import isfinite
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tools")]

from bounded import BROKEN, bounded, each_bounded  # noqa: E402
from random_driving import drive  # noqa: E402
from scenario_mutants import mutant  # noqa: E402

from simulator.attempt import Attempt  # noqa: E402
from simulator.cli.starting import load_sound  # noqa: E402
from simulator.engine.commands import still  # noqa: E402
from simulator.files.terminal import finite  # noqa: E402
from simulator.places import shipped_drills, shipped_scenarios  # noqa: E402
from simulator.plan.setup_check import check_setup, proposals  # noqa: E402
from simulator.report.amounts import Amounts  # noqa: E402
from simulator.report.plan.setup_json import setup_json  # noqa: E402
from simulator.report.plan.setup_lines import setup_lines, tried_lines  # noqa: E402
from simulator.scenario.faults import BrokenScenario  # noqa: E402
from simulator.scenario.measures import parse  # noqa: E402

TOGETHER = 10
"""So many are read in one process."""
CHECK_EVERY = 50
"""Of so many files a good one is judged: a whole path takes a while."""
CHECK_CPU_S = 60


def read(path: Path) -> str:
    """What came of reading a file, in a word.

    Raises:
        AssertionError: something was said that is no sentence.
    """
    try:
        load_sound(path)
    except BrokenScenario as broken:
        assert broken.faults
        for fault in broken.faults:
            assert str(fault).isprintable() and fault.place and fault.given and fault.allowed, str(fault)
            assert len(str(fault)) < 2000, str(fault)
        return "told"
    return "good"


def driven(path: Path, seed: int, seconds: float) -> str:
    """What came of driving a good one.

    Raises:
        AssertionError: a number that is none, energy from nowhere, or a load that moves at time zero.
    """
    attempt = Attempt(load_sound(path))
    z_m = attempt.readings.load.z_m
    attempt.advance(still(attempt.rig), round(0.25 * attempt.description.engine.steps_per_s))
    assert abs(attempt.readings.load.z_m - z_m) < 0.1, "the load moves at time zero"
    for unit in attempt.readings.units:
        assert all(map(isfinite, (unit.line_load_N, *unit.floats_N))), f"{unit}"
        assert unit.capacity_used >= 0.0 and not unit.tipping, f"{unit}"
    found = drive(attempt.simulation, seed, seconds)
    assert not found.faults, "; ".join(found.faults)
    return "driven"


def judged(path: Path) -> str:
    """What came of `check` on a good one: its lines in both kinds of units, its JSON."""
    found = check_setup(load_sound(path))
    for system in ("metric", "us"):
        assert [*setup_lines(found, Amounts(system)), *tried_lines(proposals(found), Amounts(system))]
    dumps(finite(setup_json(found, "caution")), allow_nan=False)
    return f"checked: {found.verdict}"


Answers = Iterator[tuple["_Tried", list[str]]]


class _Tried(NamedTuple):
    """A broken file."""

    number: int
    kind: str
    text: str


def _answers(tried: list[_Tried], folder: Path, drive_again: Callable[[], bool], seed: int, seconds: float) -> Answers:
    """What came of each: read, and of the good ones as many driven as are asked for, and some judged."""
    paths = {one.number: folder / f"broken-{one.number % TOGETHER}.toml" for one in tried}
    for one in tried:
        paths[one.number].write_text(one.text, encoding="utf-8", newline="\n")
    words = each_bounded([partial(read, paths[one.number]) for one in tried])
    good = [one.number for one, word in zip(tried, words, strict=True) if word == "good"]
    moved = [number for number in good if drive_again()]
    went = each_bounded([partial(driven, paths[number], seed + number, seconds) for number in moved])
    came = dict(zip(moved, went, strict=True))
    for one, word in zip(tried, words, strict=True):
        said = [came.get(one.number, word)]
        if one.number in good and one.number % CHECK_EVERY == 0:
            said.append(bounded(partial(judged, paths[one.number]), cpu_s=CHECK_CPU_S))
        yield one, said


def main(count: int, seed: int, seconds: int, every: int) -> int:
    """Try so many; 1 when one was answered by anything else."""
    chance, came, faults, turns = random.Random(seed), Counter[str](), 0, cycle(range(every))
    texts = [path.read_text(encoding="utf-8") for path in (*shipped_scenarios(), *shipped_drills())]
    parse("1 yard", "m")  # the table of units, once for all
    with tempfile.TemporaryDirectory() as folder:
        for begin in range(0, count, TOGETHER):
            tried = [_Tried(begin + i, *mutant(texts, chance)) for i in range(min(TOGETHER, count - begin))]
            for one, words in _answers(tried, Path(folder), lambda: next(turns) == 0, seed, float(seconds)):
                for word in words:
                    broke = word.startswith(BROKEN)
                    came[f"{one.kind}: {word.splitlines()[-1][:100] if broke else word}"] += 1
                    faults += broke
                    if broke:
                        kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{one.number}.toml"
                        kept.write_text(one.text, encoding="utf-8")
                        print(f"number {one.number}, {one.kind}, kept as {kept}: {word}", file=sys.stderr, flush=True)
    print("\n".join(f"{number:>6}  {words}" for words, number in sorted(came.items())))
    print(f"{count} scenario files, {faults} broke something; the others were told in sentences, or are good")
    return 1 if faults else 0


if __name__ == "__main__":
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*given, *(2000, 1, 20, 1)[len(given) :]))

"""Scenario files broken on purpose: each is told in sentences, or, if it has no fault, can be lifted.

python tools/fuzz_scenarios.py [how many, 2000] [seed, 1] [seconds driven, 20] [drive one of so many good ones, 1]

Each in a process of its own, bounded to 512 MB and 10 s for reading and driving; one good one of so many is also judged
by `check`. Looked for: a traceback, a bound reached, a fault that is no sentence; in those that are good energy from
nowhere, lines and floats that are not sane, numbers that are none, a trailer that does not lie still at time zero.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from functools import partial
from json import dumps
from math import isfinite
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tools")]

from bounded import BROKEN, bounded  # noqa: E402
from random_driving import drive  # noqa: E402
from scenario_mutants import mutant  # noqa: E402

from simulator.attempt import Attempt  # noqa: E402
from simulator.engine.commands import still  # noqa: E402
from simulator.files.terminal import finite  # noqa: E402
from simulator.places import shipped_drills, shipped_scenarios  # noqa: E402
from simulator.plan.setup_check import check_setup, proposals  # noqa: E402
from simulator.report.amounts import Amounts  # noqa: E402
from simulator.report.setup_json import setup_json  # noqa: E402
from simulator.report.setup_lines import setup_lines, tried_lines  # noqa: E402
from simulator.scenario.faults import BrokenScenario  # noqa: E402
from simulator.scenario.measures import parse  # noqa: E402
from simulator.starting import load_sound  # noqa: E402

CHECK_EVERY = 10
"""So many good ones are judged once: a whole path takes a while."""
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


def main(count: int, seed: int, seconds: int, every: int) -> int:
    """Try so many; 1 when one was answered by anything else."""
    chance, came, faults, good = random.Random(seed), Counter[str](), 0, 0
    texts = [path.read_text(encoding="utf-8") for path in (*shipped_scenarios(), *shipped_drills())]
    parse("1 yard", "m")  # the table of units, once for all
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "broken.toml"
        for number in range(count):
            kind, text = mutant(texts, chance)
            path.write_text(text, encoding="utf-8", newline="\n")
            words = [bounded(partial(read, path))]
            if words == ["good"]:
                good += 1
                if good % every == 0:
                    words = [bounded(partial(driven, path, seed + number, float(seconds)))]
                if good % CHECK_EVERY == 0:
                    words.append(bounded(partial(judged, path), cpu_s=CHECK_CPU_S))
            for word in words:
                if word.startswith(BROKEN):
                    faults += 1
                    kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{number}.toml"
                    kept.write_text(text, encoding="utf-8")
                    print(f"number {number}, {kind}, kept as {kept}: {word}", file=sys.stderr, flush=True)
                came[f"{kind}: {word.splitlines()[-1][:100] if word.startswith(BROKEN) else word}"] += 1
    print("\n".join(f"{number:>6}  {words}" for words, number in sorted(came.items())))
    print(f"{count} scenario files: told in sentences or good, {good} good, {faults} broke something")
    return 1 if faults else 0


if __name__ == "__main__":
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*given, *(2000, 1, 20, 1)[len(given) :]))

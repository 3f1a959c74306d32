"""Scenario files broken at random: each is told in sentences, or, if it has no fault, can be lifted.

python tools/fuzz_scenarios.py [how many, 2000] [seed, 1]
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from math import isfinite
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from simulator.attempt import Attempt  # noqa: E402
from simulator.engine.commands import Commands, UnitCommands  # noqa: E402
from simulator.places import shipped_drills, shipped_scenarios  # noqa: E402
from simulator.scenario.faults import BrokenScenario  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402

WILD = (
    "0",
    "-1",
    "1e308",
    "nan",
    "inf",
    "true",
    '""',
    '"3 ft"',
    '"-2 t"',
    '"5 parsec"',
    "[]",
    "[1, 2]",
    "{}",
    "1979-05-27",
)
BOTH = Commands(UnitCommands(1.0, -0.5, 0.5, -1.0), UnitCommands(-1.0, 1.0, -0.5, 0.5))
Lines = list[str]


def _line(lines: Lines, chance: random.Random) -> int:
    """A line with something in it, if there is one."""
    filled = [index for index, line in enumerate(lines) if line.strip() and not line.startswith("#")]
    return chance.choice(filled or range(len(lines)))


def _dropped(lines: Lines, chance: random.Random) -> None:
    del lines[_line(lines, chance)]


def _doubled(lines: Lines, chance: random.Random) -> None:
    index = _line(lines, chance)
    lines.insert(chance.randrange(len(lines)), lines[index])


def _wild(lines: Lines, chance: random.Random) -> None:
    """Another value."""
    index = _line(lines, chance)
    key = lines[index].partition("=")[0]
    lines[index] = f"{key}= {chance.choice(WILD)}"


def _scaled(lines: Lines, chance: random.Random) -> None:
    """A number somewhat or much larger, smaller or of the other sign: many of these are no fault."""
    index = _line(lines, chance)
    words = lines[index].split(" ")
    for place, word in enumerate(words):
        bare = word.strip('",[]')
        if bare.replace(".", "", 1).lstrip("-").isdigit() and chance.random() < 0.5:
            words[place] = word.replace(bare, f"{float(bare) * chance.choice((-1.0, 0.1, 0.7, 1.3, 10.0)):g}")
    lines[index] = " ".join(words)


def _misspelt(lines: Lines, chance: random.Random) -> None:
    index = _line(lines, chance)
    at = chance.randrange(len(lines[index]) + 1)
    lines[index] = lines[index][:at] + chance.choice("abz_.=[]\"'\\\x07é") + lines[index][at + 1 :]


def _cut(lines: Lines, chance: random.Random) -> None:
    del lines[chance.randrange(1, len(lines) + 1) :]


KINDS: dict[str, Callable[[Lines, random.Random], None]] = {
    "line dropped": _dropped,
    "line doubled": _doubled,
    "wild value": _wild,
    "number scaled": _scaled,
    "letter changed": _misspelt,
    "file cut": _cut,
}


def examine(path: Path) -> str:
    """What came of a file, in a word.

    Raises:
        AssertionError: something was said that is no sentence, or a number of the lift is no number.
    """
    try:
        description = load(path)
    except BrokenScenario as broken:
        assert broken.faults
        for fault in broken.faults:
            assert str(fault).isprintable() and fault.place and fault.given and fault.allowed, str(fault)
        return "told"
    attempt = Attempt(description)
    attempt.advance(BOTH, 240)
    assert all(isfinite(value) for value in attempt.simulation.state.motion)
    return "lifted"


def main(count: int, seed: int) -> int:
    """Try so many; 1 at the first that is answered by anything else."""
    chance, came = random.Random(seed), Counter[str]()
    texts = [path.read_text(encoding="utf-8") for path in (*shipped_scenarios(), *shipped_drills())]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "broken.toml"
        for number in range(count):
            kind, lines = chance.choice(sorted(KINDS)), chance.choice(texts).splitlines()
            for _ in range(chance.choice((1, 1, 1, 3))):
                KINDS[kind](lines, chance)
            path.write_text("\n".join(lines), encoding="utf-8")
            try:
                came[f"{kind}: {examine(path)}"] += 1
            except Exception as error:
                kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{number}.toml"
                kept.write_text("\n".join(lines), encoding="utf-8")
                print(f"number {number}, {kind}, kept as {kept}: {error!r}", file=sys.stderr)
                return 1
    print("\n".join(f"{number:>6}  {words}" for words, number in sorted(came.items())))
    print(f"{count} scenario files: told in sentences, or lifted")
    return 0


if __name__ == "__main__":
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*given, *(2000, 1)[len(given) :]))

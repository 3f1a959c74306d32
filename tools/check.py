"""One command says yes or no: ruff, format, types, the engine in plain Python, then all tests.

The engine is compiled beside the checks that do not need it, where that can be done; the engine's own tests run with
its sources, and all tests with what was compiled. Without a C compiler all run with the sources.

python tools/check.py [arguments for pytest]
"""

import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
COMPILE = "compile"
SAMENESS = "tests/engine/test_compiled.py"
"""Compares both builds by itself."""
PYTEST = ["-m", "pytest", "--quiet", "-n", "0", "-p", "no:cacheprovider"]
BESIDE = {
    COMPILE: [str(ROOT / "tools" / "compile_engine.py")],
    "engine in plain Python": [*PYTEST, "-m", "not long_in_plain", "--ignore", SAMENESS, "tests/engine"],
    "mypy": ["-m", "mypy", "--no-error-summary"],
    "tests found": [*PYTEST, "--collect-only"],
    "ruff check": ["-m", "ruff", "check", "--quiet", "."],
    "ruff format": ["-m", "ruff", "format", "--quiet", "--check", "."],
}
"""By name, what Python runs, two at a time, long ones first; all with the engine's sources. Tests that are found once
are compiled, so that those who run them need not do it each."""


class Ran(NamedTuple):
    """One check that has run."""

    name: str
    passed: bool
    said: str
    lasted_s: float


def main(for_pytest: list[str]) -> int:
    """0 when everything passes; pytest comes last, so that its summary is the last line."""
    with ThreadPoolExecutor(2) as pool:
        every = [told(ran) for ran in pool.map(run, BESIDE)]
    failed = [ran.name for ran in every if not ran.passed and ran.name != COMPILE]
    pytest = [sys.executable, "-m", "pytest", *for_pytest]
    if not failed and subprocess.run(pytest, cwd=ROOT, env=surroundings()).returncode:
        failed = ["pytest"]
    if failed:
        print(f"check: NO, {' and '.join(failed)} failed", file=sys.stderr)
    return 1 if failed else 0


def surroundings() -> dict[str, str]:
    """Variables of all that runs. Where Python is told to leave nothing beside sources, it keeps in build/ what it
    compiles of them: else each of a run's many processes compiles anew all that it imports."""
    kept = dict(os.environ)
    if kept.pop("PYTHONDONTWRITEBYTECODE", ""):
        kept.setdefault("PYTHONPYCACHEPREFIX", str(ROOT / "build" / "pycache"))
    return kept


def run(name: str) -> Ran:
    """Run one check to its end, its words kept."""
    began_s = time.monotonic()
    done = subprocess.run(
        [sys.executable, *BESIDE[name]],
        cwd=ROOT,
        env={**surroundings(), "SLOPEPICK_PURE": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
    )
    return Ran(name, done.returncode == 0, done.stdout, time.monotonic() - began_s)


def told(ran: Ran) -> Ran:
    """A line with its time when it passed; all that it said when it did not. How the engine runs is said either way."""
    if not ran.passed or ran.name == COMPILE:
        print(ran.said, end="", flush=True)
    if ran.passed and ran.name != COMPILE:
        print(f"check: {ran.name} passed in {ran.lasted_s:.0f} s", flush=True)
    return ran


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Measured times, one table row each. Run it with the project's own Python, on a computer that does nothing else.

python tools/benchmark.py [row ...]
"""

import argparse
import importlib
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
RUNS = 5

Row = tuple[str, str, str, str]
"""What was measured, value with unit, goal (empty where none is set), how."""


def help_time() -> Row:
    """From the command to the end of its help."""
    return "slopepick --help", _ms(_process_s("-m", "simulator", "--help")), "100 ms", f"median of {RUNS} processes"


def interpreter_time() -> Row:
    """What Python alone takes: to be taken off the other rows."""
    return "python, nothing else", _ms(_process_s("-c", "pass")), "", f"median of {RUNS} processes"


def reading_import() -> Row:
    """The reader of scenario files, units library not yet met."""
    return _import_row("simulator.scenario.reader")


def engine_import() -> Row:
    """What a lift without a window needs."""
    return _import_row("simulator.engine.simulation")


ROWS: dict[str, Callable[[], Row]] = {
    "python": interpreter_time,
    "help": help_time,
    "import-reader": reading_import,
    "import-engine": engine_import,
}
GROUPS = {
    "footing": "bench_rows_footing",
    "growth": "bench_rows_growth",
    "lift": "bench_rows_lift",
    "rehearse": "bench_rows_rehearse",
    "replay": "bench_rows_replay",
    "window": "bench_rows_window",
}
"""Rows that belong together and are measured in one go: the module beside this one whose `rows()` measures them."""


def main(names: list[str]) -> int:
    """Print the rows named, or all; 1 when one could not be measured."""
    print("| what | measured | goal | how |\n| --- | --- | --- | --- |")
    failed = 0
    for name in names or [*ROWS, *GROUPS]:
        try:
            rows = [ROWS[name]()] if name in ROWS else _group(name)
        except subprocess.CalledProcessError as error:
            rows, failed = [(name, "none", "", f"failed with exit code {error.returncode}")], 1
        for row in rows:
            print("| " + " | ".join(row) + " |", flush=True)
    return failed


def _group(name: str) -> list[Row]:
    rows: list[tuple[str, ...]] = importlib.import_module(GROUPS[name]).rows()
    return [(what, value, goal[0] if goal else "", f"tools/{GROUPS[name]}.py") for what, value, *goal in rows]


def _import_row(module: str) -> Row:
    taken = _ms(_process_s("-c", f"import {module}"))
    return f"import {module}", taken, "", f"median of {RUNS} processes, Python with it"


def _process_s(*arguments: str) -> float:
    """Median time of a Python process in the project's folder; one unmeasured run first, so that files are at hand."""
    times, own = [], {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    for _ in range(RUNS + 1):
        began_s = time.perf_counter()
        subprocess.run([sys.executable, *arguments], cwd=ROOT, env=own, check=True, stdout=subprocess.DEVNULL)
        times.append(time.perf_counter() - began_s)
    return median(times[1:])


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:.0f} ms"


def _arguments() -> list[str]:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("rows", nargs="*", metavar="row", help=f"any of {', '.join([*ROWS, *GROUPS])}; all without it")
    rows: list[str] = parser.parse_args().rows
    if unknown := [row for row in rows if row not in {*ROWS, *GROUPS}]:
        parser.error(f"no row {', '.join(unknown)}; there are {', '.join([*ROWS, *GROUPS])}")
    return rows


if __name__ == "__main__":
    sys.exit(main(_arguments()))

"""Measured times, one table row each, beside a plain loop that is timed before and after each row.

Run it with the project's own Python, on a computer that does nothing else. Where others work on it too, times of the
wall mean little; how many plain loops a row takes changes less. A long run of rehearsals is read from a file that says
what it took: `{"draws": 1000, "processor_s": 1200.0, "loop_s": 0.05, "same": true}`.

python tools/benchmark.py [row ...] [--thousand FILE]
"""

import argparse
import importlib
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
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
    "build": "bench_rows_build",
    "footing": "bench_rows_footing",
    "growth": "bench_rows_growth",
    "layout": "bench_rows_layout",
    "lift": "bench_rows_lift",
    "rehearse": "bench_rows_rehearse",
    "replay": "bench_rows_replay",
    "window": "bench_rows_window",
}
"""Rows that belong together and are measured in one go: the module beside this one whose `rows()` measures them."""


THOUSAND = "SLOPEPICK_THOUSAND"
"""In the environment: where a long run of rehearsals says what it took."""
LOOP = 1_000_000
_TIME = re.compile(r"(?:processor |median )?(\d[\d.,]*) (us|ms|s|min)\b")
_SECONDS = {"us": 1e-6, "ms": 1e-3, "s": 1.0, "min": 60.0}


def main(names: list[str]) -> int:
    """Print the rows named, or all; 1 when one could not be measured."""
    load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"
    print(f"{os.cpu_count()} cores, load {load} at the start; plain loop: {LOOP} numbers summed, processor time\n")
    print("| what | measured | goal | plain loop then | in plain loops | how |\n" + "| --- " * 6 + "|")
    failed, before_s = 0, plain_loop_s()
    for name in names or [*ROWS, *GROUPS]:
        try:
            for row in [ROWS[name]()] if name in ROWS else _group(name):
                after_s = plain_loop_s()
                _tell(row, (before_s + after_s) / 2.0)
                before_s = after_s
        except subprocess.CalledProcessError as error:
            failed = 1
            _tell((name, "none", "", f"failed with exit code {error.returncode}"), before_s)
    return failed


def plain_loop_s() -> float:
    """What this computer, loaded as it is now, takes for a plain loop."""
    began_s, total = time.process_time(), 0
    for number in range(LOOP):
        total += number
    return time.process_time() - began_s


def in_loops(measured: str, loop_s: float) -> str:
    """The time that a row tells, its processor time if it has one, in plain loops; empty where it tells none."""
    found = [*_TIME.finditer(measured)]
    told = next((one for one in found if one[0].startswith("processor")), found[0] if found else None)
    return "" if told is None else f"{float(told[1].replace(',', '')) * _SECONDS[told[2]] / loop_s:.3g}"


def _tell(row: Row, loop_s: float) -> None:
    what, measured, goal, how = row
    columns = what, measured, goal, f"{loop_s * 1e3:.0f} ms", in_loops(measured, loop_s), how
    print("| " + " | ".join(columns) + " |", flush=True)


def _group(name: str) -> Iterator[Row]:
    rows: Iterable[tuple[str, ...]] = importlib.import_module(GROUPS[name]).rows()
    for what, value, *goal in rows:
        yield what, value, goal[0] if goal else "", f"tools/{GROUPS[name]}.py"


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
    parser.add_argument("--thousand", metavar="FILE", help="what a long run of rehearsals took, as JSON")
    given = parser.parse_args()
    rows: list[str] = given.rows
    if given.thousand:
        os.environ[THOUSAND] = given.thousand
    if unknown := [row for row in rows if row not in {*ROWS, *GROUPS}]:
        parser.error(f"no row {', '.join(unknown)}; there are {', '.join([*ROWS, *GROUPS])}")
    return rows


if __name__ == "__main__":
    sys.exit(main(_arguments()))

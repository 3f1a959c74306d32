"""Benchmark rows of the compiled rooms: what making them takes, and one step with them and without."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parent))

from compile_engine import compiled

Row = tuple[str, ...]
ROOT = Path(__file__).resolve().parent.parent
PURE_STEP = "from bench_rows_lift import hung_step_s, pymunk_step_s; print(hung_step_s(), pymunk_step_s())"


def rows() -> Iterator[Row]:
    """Compiling first, of the sources as they are, into a folder of its own."""
    with TemporaryDirectory() as folder:
        began_s, before = perf_counter(), os.times()
        said = compiled(ROOT, Path(folder))
        worked_s = sum(os.times()[:4]) - sum(before[:4])
        took = f"{perf_counter() - began_s:.0f} s (processor {worked_s:.0f} s, C compiler with it)"
        yield "compiling the inner rooms", said or took, "2 min"
    (ours, pymunk), (pure, pure_pymunk) = (_step_s({}), _step_s({"SLOPEPICK_PURE": "1"}))
    loops, pure_loops = ours / pymunk, pure / pure_pymunk
    yield "one step hung, plain Python / compiled", f"{pure_loops / loops:.1f}, each over a bare pymunk step", "stated"
    once = "22 or less (40 before it could be compiled: 1.8 times as fast)"
    yield "one step hung, plain Python / bare pymunk step", f"{pure_loops:.1f}, {pure * 1e6:.1f} us", once


def _step_s(switch: dict[str, str]) -> tuple[float, float]:
    """A step of a hanging load, and one of bare pymunk, in a process of their own."""
    paths = os.pathsep.join([str(ROOT), str(ROOT / "tools")])
    own = {**os.environ, **switch, "PYTHONPATH": paths}
    done = subprocess.run([sys.executable, "-c", PURE_STEP], cwd=ROOT, env=own, check=True, capture_output=True)
    ours, pymunk = map(float, done.stdout.split())
    return ours, pymunk

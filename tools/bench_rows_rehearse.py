"""Benchmark rows of rehearsals: the tank lift with everything drawn, on two processes."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

from simulator.places import find_scenario
from simulator.rehearsal.driven import Job, drive
from simulator.rehearsal.lots import Lots
from simulator.rehearsal.many import Where, rehearse
from simulator.scenario.reader import load

Row = tuple[str, ...]
DRAWS = 8
WAYS = ("able", "a little clumsy")


def rows() -> Iterator[Row]:
    """One draw's processor time, then a thousand by what a few take, or as a long run says."""
    lots = Lots(7, (WAYS, WAYS), (0.9, 1.1), (-0.3, 0.3), None, (0.0, 6.0))
    job = Job(load(find_scenario("tank_on_side")), lots)
    drive(job, 1)
    began_s = process_time()
    row = drive(job, 2)
    assert row is not None
    alone_s = process_time() - began_s
    said = f"processor {alone_s:.2f} s, {row.time_s / alone_s:.0f} times real time"
    yield "one rehearsal of tank_on_side", said
    start_s = perf_counter()
    rehearse(job, DRAWS, Where(jobs=2))
    minutes = (perf_counter() - start_s) / DRAWS * 1000.0 / 60.0
    yield f"1,000 of them on two processes, by {DRAWS}", f"{minutes:.1f} min", "15 min"
    if path := os.environ.get("SLOPEPICK_THOUSAND"):
        yield _long_run(json.loads(Path(path).read_text(encoding="utf-8")))


def _long_run(found: dict[str, Any]) -> Row:
    """As its file says: the processor's time spread over two cores, and over as many plain loops."""
    draws, worked_s, loop_s = found["draws"], found["processor_s"], found["loop_s"]
    same = "the same rows and tables" if found["same"] else "NOT the same rows and tables"
    minutes, loops = worked_s / draws * 1000.0 / 2.0 / 60.0, worked_s / draws / loop_s
    said = f"{minutes:.1f} min of each of two cores, {loops:.0f} plain loops of then a draw"
    return f"1,000 of them by {draws} driven on one core, two, and Dask ({same})", said, "15 min"

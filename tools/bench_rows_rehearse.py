"""Benchmark rows of rehearsals: the tank lift with everything drawn, on two processes."""

from __future__ import annotations

from time import perf_counter, process_time

from simulator.places import find_scenario
from simulator.rehearsal.driven import Job, drive
from simulator.rehearsal.lots import Lots
from simulator.rehearsal.many import Where, rehearse
from simulator.scenario.reader import load

Row = tuple[str, ...]
DRAWS = 8
WAYS = ("able", "a little clumsy")


def rows() -> list[Row]:
    """One draw's processor time, then a thousand by what a few take."""
    lots = Lots(7, (WAYS, WAYS), (0.9, 1.1), (-0.3, 0.3), None, (0.0, 6.0))
    job = Job(load(find_scenario("tank_on_side")), lots)
    drive(job, 1)
    began_s = process_time()
    row = drive(job, 2)
    assert row is not None
    alone_s = process_time() - began_s
    start_s = perf_counter()
    rehearse(job, DRAWS, Where(jobs=2))
    minutes = (perf_counter() - start_s) / DRAWS * 1000.0 / 60.0
    return [
        ("one rehearsal of tank_on_side", f"{alone_s:.2f} s of processor, {row.time_s / alone_s:.0f} times real time"),
        (f"1,000 of them on two processes, by {DRAWS}", f"{minutes:.1f} min", "15 min"),
    ]

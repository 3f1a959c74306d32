"""What is not known: weight, centre of gravity, wind, depth drawn from their ranges; how often the set-up holds."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import product
from os import cpu_count
from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer import stated_mass_kg
from simulator.plan.batch import CODES, Array, Batch, Unknowns, depth_of, judge_many, prepare
from simulator.plan.hanging import as_stated
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description

CHUNK = 500
"""Set-ups worked on at a time: small enough for the processor's cache and for stopping at once."""
Range = tuple[float, float]


class Ranges(NamedTuple):
    """Between what the unknowns lie; None keeps what is described."""

    mass_kg: Range | None = None
    cg_shift_m: Range | None = None
    wind_mps: Range | None = None
    depth_m: Range | None = None


class Corner(NamedTuple):
    """One combination, by name."""

    mass_kg: float
    cg_shift_m: float
    wind_mps: float
    depth_m: float


class Sweep(NamedTuple):
    """What a sweep found so far."""

    done: int
    asked: int
    held: int
    refused: dict[str, int]
    """Combinations past each limit; one may be past several."""
    worst: Corner
    """The combination that uses most of a limit."""
    worst_code: str
    worst_used: float
    fixed: tuple[str, ...]
    """What refuses the set-up whatever the unknowns are."""

    @property
    def share(self) -> float:
        """Of the combinations, those that hold."""
        return 0.0 if self.fixed or not self.done else self.held / self.done


def stated_corner(description: Description) -> Corner:
    """The lift by its papers."""
    return Corner(stated_mass_kg(description.trailer), 0.0, description.site.wind.speed_mps, depth_of(description))


def combinations(description: Description, ranges: Ranges, count: int, seed: int) -> Unknowns:
    """All corners of the ranges, then draws evenly spread over each range (a Latin square, shuffled by the seed)."""
    draw = np.random.default_rng(seed)
    stated = stated_corner(description)
    spans = [given or (value, value) for given, value in zip(ranges, stated, strict=True)]
    corners = np.array(list(product(*(dict.fromkeys(span) for span in spans))))
    inside = max(0, count - len(corners))
    cells = np.array([(draw.permutation(inside) + draw.random(inside)) / max(1, inside) for _ in spans]).T
    low, high = np.array(spans).T
    rows = np.concatenate([corners, low + cells.reshape(inside, len(spans)) * (high - low)])
    return Unknowns(*rows.T)


def with_unknowns(description: Description, corner: Corner) -> Description:
    """The lift with one combination as its true numbers: for `check_setup(..., stated=False)`."""
    trailer, site = description.trailer, description.site
    factor = corner.mass_kg / stated_mass_kg(trailer)
    trailer = replace(trailer, hidden_mass_factor=factor, hidden_cg_m=(corner.cg_shift_m, 0.0, 0.0))
    deep = corner.depth_m / depth_of(description) if depth_of(description) > 0.0 else 1.0
    beyond = tuple((y, z * deep if y < site.edge_y_m and z < 0.0 else z) for y, z in site.section_m)
    wind = replace(site.wind, speed_mps=corner.wind_mps)
    return replace(description, trailer=trailer, site=replace(site, section_m=beyond, wind=wind))


def check_corner(description: Description, corner: Corner, *, step_m: float = 1.0, room: bool = True) -> SetupCheck:
    """One combination judged in full."""
    return check_setup(with_unknowns(description, corner), step_m=step_m, room=room, stated=False)


def sweep(
    description: Description, ranges: Ranges, *, count: int = 20000, seed: int | None = None, jobs: int | None = None
) -> Iterator[Sweep]:
    """Judge combinations on all cores; each value is what is known so far, so stopping early loses nothing.

    Args:
        description: the lift; its hidden numbers are not looked at.
        ranges: of the unknowns.
        count: combinations, corners included.
        seed: of the draws; the scenario's own when none is given. The result does not depend on `jobs`.
        jobs: processes; as many as there are cores when none is given.
    """
    known = as_stated(description)
    rows = combinations(known, ranges, count, known.seed if seed is None else seed)
    fixed = tuple(code for code in check_setup(known, step_m=1.0).refused_for if code not in CODES)
    batch = prepare(known)
    asked = len(rows.mass_kg)
    chunks = [Unknowns(*(part[first : first + CHUNK] for part in rows)) for first in range(0, asked, CHUNK)]
    found = Sweep(0, asked, 0, dict.fromkeys(CODES, 0), stated_corner(known), CODES[0], 0.0, fixed)
    for chunk, used in zip(chunks, _judged(batch, chunks, jobs or cpu_count() or 1), strict=False):
        found = _added(found, chunk, used)
        yield found


def _judged(batch: Batch, chunks: list[Unknowns], jobs: int) -> Iterator[Array]:
    if jobs == 1 or len(chunks) < 2 * jobs:
        yield from (judge_many(batch, chunk) for chunk in chunks)
        return
    with ProcessPoolExecutor(jobs, initializer=_begin, initargs=(batch,)) as pool:
        try:
            yield from pool.map(_judge, chunks, chunksize=2)
        except (KeyboardInterrupt, GeneratorExit):
            pool.shutdown(cancel_futures=True)
            raise


_BATCH: list[Batch] = []


def _begin(batch: Batch) -> None:
    """In each process: keep what no set-up changes, and leave stopping to the one who asked."""
    from signal import SIG_IGN, SIGINT, signal

    signal(SIGINT, SIG_IGN)
    _BATCH[:] = [batch]


def _judge(chunk: Unknowns) -> Array:
    return judge_many(_BATCH[0], chunk)


def _added(before: Sweep, chunk: Unknowns, used: Array) -> Sweep:
    """One more chunk counted."""
    past = used >= 1.0
    most = used.max(axis=1)
    row = int(most.argmax())
    held = before.held + int((~past.any(axis=1)).sum())
    refused = {code: before.refused[code] + int(past[:, i].sum()) for i, code in enumerate(CODES)}
    after = before._replace(done=before.done + len(used), held=held, refused=refused)
    if most[row] <= before.worst_used:
        return after
    corner = Corner(*(float(part[row]) for part in chunk))
    return after._replace(worst=corner, worst_code=CODES[int(used[row].argmax())], worst_used=float(most[row]))

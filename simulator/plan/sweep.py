"""What is not known: weight, center of gravity, wind, depth drawn from their ranges; how often the set-up holds."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import replace
from functools import partial
from itertools import islice, product
from math import nextafter
from os import cpu_count
from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.plan.batch import CODES, Array, Batch, Unknowns, depth_of, judge_many, prepare
from simulator.plan.compare import limit_used
from simulator.plan.findings import Finding
from simulator.plan.hanging import as_stated
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description
from simulator.scenario.rig import TWO_BY_ONE, rig_of

CHUNK = 500
"""Set-ups worked on at a time: small enough for the processor's cache and for stopping at once."""
SQUARE = 100_000
"""Most draws of one Latin square: ten million take no more memory than these."""
AHEAD = 4
"""Chunks that wait for each process."""
MANY, FEW = 20_000, 200
"""Combinations judged unless said: as arrays, and one by one in full."""
FEW_AT_ONCE, FEW_STEP_M = 2, 2.0
"""Of those in full: how many at a time, and steps of y as the load crosses."""
Range = tuple[float, float]
Chunk = tuple[Array, ...]
"""Combinations, an array for each unknown."""
Used = tuple[tuple[str, ...], Array]
"""Codes of limits, and how much of each is used: (combination, code), 1 and more is past it."""
Judge = Callable[[Chunk], Used]


class Ranges(NamedTuple):
    """Between what the unknowns lie; None keeps what is described."""

    mass_kg: Range | None = None
    cg_shift_m: Range | None = None
    wind_mps: Range | None = None
    depth_m: Range | None = None
    cg_across_m: Range | None = None


class Corner(NamedTuple):
    """One combination, by name."""

    mass_kg: float
    cg_shift_m: float
    wind_mps: float
    depth_m: float
    cg_across_m: float = 0.0


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
    """All corners of the ranges, then draws evenly spread over each range."""
    blocks = list(_blocks(_spans(description, ranges)[: len(Unknowns._fields)], count, seed))
    return Unknowns(*np.concatenate(blocks).T)


def _spans(description: Description, ranges: Ranges) -> list[Range]:
    stated = stated_corner(description)
    return [given or (value, value) for given, value in zip(ranges, stated, strict=True)]


def _corners(spans: list[Range]) -> Array:
    return np.array(list(product(*(dict.fromkeys(span) for span in spans))))


def _blocks(spans: list[Range], count: int, seed: int) -> Iterator[Array]:
    """Combinations, a row each: the corners, then one Latin square after another, each shuffled by the seed."""
    draw = np.random.default_rng(seed)
    corners, (low, high) = _corners(spans), np.array(spans).T
    yield corners
    for first in range(len(corners), count, SQUARE):
        inside = min(SQUARE, count - first)
        cells = np.array([(draw.permutation(inside) + draw.random(inside)) / inside for _ in spans]).T
        yield low + cells * (high - low)


def _chunks(blocks: Iterator[Array]) -> Iterator[Unknowns]:
    """The same rows, `CHUNK` at a time whatever block they come in."""
    rest = next(blocks)
    for block in blocks:
        rows = np.concatenate([rest, block])
        whole = len(rows) - len(rows) % CHUNK
        yield from (Unknowns(*rows[first : first + CHUNK].T) for first in range(0, whole, CHUNK))
        rest = rows[whole:]
    yield from (Unknowns(*rest[first : first + CHUNK].T) for first in range(0, len(rest), CHUNK))


def with_unknowns(description: Description, corner: Corner) -> Description:
    """The lift with one combination as its true numbers: for `check_setup(..., stated=False)`."""
    trailer, site = description.trailer, description.site
    factor = corner.mass_kg / stated_mass_kg(trailer)
    trailer = replace(trailer, hidden_mass_factor=factor, hidden_cg_m=(corner.cg_shift_m, corner.cg_across_m, 0.0))
    deep = corner.depth_m / depth_of(description) if depth_of(description) > 0.0 else 1.0
    beyond = tuple((y, z * deep if y < site.edge_y_m and z < 0.0 else z) for y, z in site.section_m)
    wind = replace(site.wind, speed_mps=corner.wind_mps)
    return replace(description, trailer=trailer, site=replace(site, section_m=beyond, wind=wind))


def check_corner(description: Description, corner: Corner, *, step_m: float = 1.0, room: bool = True) -> SetupCheck:
    """One combination judged in full."""
    return check_setup(with_unknowns(description, corner), step_m=step_m, room=room, stated=False)


def is_one_by_one(description: Description, ranges: Ranges) -> bool:
    """Whether each combination is judged in full, with its pose and gaps: where units have several lines, or the center
    of gravity is moved across, which rolls the load."""
    return ranges.cg_across_m is not None or rig_of(description).line_names != TWO_BY_ONE.line_names


def sweep(
    description: Description,
    ranges: Ranges,
    *,
    count: int | None = None,
    seed: int | None = None,
    jobs: int | None = None,
) -> Iterator[Sweep]:
    """Judge combinations on all cores; each value is what is known so far, so stopping early loses nothing.

    Args:
        description: the lift; its hidden numbers are not looked at.
        ranges: of the unknowns.
        count: combinations, corners included; `MANY`, or `FEW` where each is judged in full.
        seed: of the draws; the scenario's own when none is given. The result does not depend on `jobs`.
        jobs: processes; as many as there are cores when none is given.
    """
    known, jobs = as_stated(description), jobs or cpu_count() or 1
    in_full, spans = is_one_by_one(known, ranges), _spans(known, ranges)
    spans = spans if in_full else spans[: len(Unknowns._fields)]
    asked = max((FEW if in_full else MANY) if count is None else count, len(_corners(spans)))
    blocks = _blocks(spans, asked, known.seed if seed is None else seed)
    chunks: Iterator[Chunk] = _few(blocks) if in_full else _chunks(blocks)
    judge: Judge = partial(_in_full, known) if in_full else partial(_by_batch, prepare(known))
    size, codes = (FEW_AT_ONCE, ()) if in_full else (CHUNK, CODES)
    always = () if in_full else check_setup(known, step_m=1.0).refused_for
    fixed = tuple(code for code in always if code not in CODES)
    found = Sweep(0, asked, 0, dict.fromkeys(codes, 0), stated_corner(known), CODES[0], 0.0, fixed)
    is_alone = jobs == 1 or asked < 2 * jobs * size
    for chunk, used in _alone(judge, chunks) if is_alone else _shared(judge, chunks, jobs):
        found = _added(found, chunk, used)
        yield found


def _few(blocks: Iterator[Array]) -> Iterator[Chunk]:
    """The same rows, a few at a time."""
    for block in blocks:
        for first in range(0, len(block), FEW_AT_ONCE):
            yield tuple(block[first : first + FEW_AT_ONCE].T)


def _by_batch(batch: Batch, chunk: Chunk) -> Used:
    return CODES, judge_many(batch, Unknowns(*chunk))


def _in_full(description: Description, chunk: Chunk) -> Used:
    """Each combination by the check itself."""
    rows: list[dict[str, float]] = []
    for values in zip(*chunk, strict=True):
        found = check_corner(description, Corner(*map(float, values)), step_m=FEW_STEP_M)
        rows.append({})
        for one in found.findings:
            rows[-1][one.reading.code] = max(_limit_used(one), rows[-1].get(one.reading.code, 0.0))
    codes = tuple(sorted({code for row in rows for code in row}))
    return codes, np.array([[row.get(code, 0.0) for code in codes] for row in rows])


def _limit_used(finding: Finding) -> float:
    """1 and more exactly where the check refuses."""
    used = limit_used(finding.reading)
    return max(1.0, used) if finding.level == "stop" else min(used, nextafter(1.0, 0.0))


def _alone(judge: Judge, chunks: Iterator[Chunk]) -> Iterator[tuple[Chunk, Used]]:
    """Each chunk with what it uses of each limit."""
    for chunk in chunks:
        yield chunk, judge(chunk)


def _shared(judge: Judge, chunks: Iterator[Chunk], jobs: int) -> Iterator[tuple[Chunk, Used]]:
    """The same from several processes, in the same order; only a few chunks are drawn ahead of what is judged."""
    waiting: deque[tuple[Chunk, Future[Used]]] = deque()
    with ProcessPoolExecutor(jobs, initializer=_begin, initargs=(judge,)) as pool:
        try:
            waiting.extend((chunk, pool.submit(_judge, chunk)) for chunk in islice(chunks, AHEAD * jobs))
            while waiting:
                chunk, judged = waiting.popleft()
                yield chunk, judged.result()
                waiting.extend((one, pool.submit(_judge, one)) for one in islice(chunks, 1))
        except (KeyboardInterrupt, GeneratorExit):
            pool.shutdown(cancel_futures=True)
            raise


_JUDGE: list[Judge] = []


def _begin(judge: Judge) -> None:
    """In each process: keep what no set-up changes, and leave stopping to the one who asked."""
    from signal import SIG_IGN, SIGINT, signal

    signal(SIGINT, SIG_IGN)
    _JUDGE[:] = [judge]


def _judge(chunk: Chunk) -> Used:
    return _JUDGE[0](chunk)


def _added(before: Sweep, chunk: Chunk, judged: Used) -> Sweep:
    """One more chunk counted."""
    codes, used = judged
    past = used >= 1.0
    most = used.max(axis=1)
    row = int(most.argmax())
    held = before.held + int((~past.any(axis=1)).sum())
    refused = dict(before.refused)
    for i, code in enumerate(codes):
        refused[code] = refused.get(code, 0) + int(past[:, i].sum())
    after = before._replace(done=before.done + len(used), held=held, refused=refused)
    if most[row] <= before.worst_used:
        return after
    corner = Corner(*(float(part[row]) for part in chunk))
    return after._replace(worst=corner, worst_code=codes[int(used[row].argmax())], worst_used=float(most[row]))

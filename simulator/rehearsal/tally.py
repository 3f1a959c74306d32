"""What many rehearsals came to: in how many each limit was kept, what governed, how times and worst values spread."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from math import isfinite, nan
from typing import NamedTuple, TypeVar

import numpy as np

from simulator.events import Happening
from simulator.rehearsal.driven import DrawRow, Ending, FirstCause
from simulator.rehearsal.limits import RehearsedLimit, limits_of
from simulator.scenario.description import Description

T = TypeVar("T")
WORST = 10
"""So many of the worst are kept as recordings."""
CONFIDENCE = 0.95
PERCENTS = (5, 50, 95)
HALVINGS = 60


class Count(NamedTuple):
    """So many of so many, and between which shares it lies for all draws there could be."""

    draws: int
    of: int

    @property
    def interval(self) -> tuple[float, float]:
        """Shares, 95 %: exact (Clopper and Pearson, Biometrika 26, 1934, from memory)."""
        return exact_interval(self.draws, self.of)


class Spread(NamedTuple):
    """Of values that are known; not numbers where none is. Percentiles are values that were met (nearest rank)."""

    least: float
    p5: float
    median: float
    p95: float
    most: float


class LimitTally(NamedTuple):
    """One limit over all draws."""

    limit: RehearsedLimit
    kept: Count
    """Of the draws in which something of it counted."""
    governed: int
    """In so many it was used most of all."""
    values: Spread
    """Of each draw's worst value."""
    used: float
    """Most of it in any draw: 1 and more is past it."""
    worst: int
    """The draw in which; 0 where nothing counted."""


class Tally(NamedTuple):
    """All of it."""

    good: Count
    """Draws that landed, or passed their drill."""
    kept: Count
    """Those of them in which every limit was kept too."""
    ended: dict[Ending, int]
    limits: tuple[LimitTally, ...]
    incidents: dict[tuple[str, tuple[tuple[str, str], ...]], int]
    """What was met or tipped, without its amounts: in how many draws."""
    failed_by: dict[str, int]
    """The rules that failed a drill whatever its points: in how many draws."""
    causes: dict[FirstCause, int]
    """What debriefs named first, where they were asked."""
    time_s: Spread
    """Of the good ones."""
    points: Spread
    """Of a drill."""
    worst: tuple[DrawRow, ...]
    """The worst first."""


def tally(description: Description, rows: Sequence[DrawRow]) -> Tally:
    """Count rows of a lift; there may be none."""
    limits = limits_of(description)
    governs = Counter(used_most(limits, row)[0] for row in rows)
    good = [row for row in rows if row.is_good]
    return Tally(
        good=Count(len(good), len(rows)),
        kept=Count(sum(is_clean(limits, row) for row in rows), len(rows)),
        ended=dict(Counter(row.ended for row in rows).most_common()),
        limits=tuple(_of_limit(place, limit, rows, governs[limit.key]) for place, limit in enumerate(limits)),
        incidents=_counted(rows, lambda row: (plain(one) for one in row.incidents)),
        failed_by=_counted(rows, lambda row: row.failed_by),
        causes=_counted(rows, lambda row: (row.cause,) if row.cause.kind else ()),
        time_s=spread(row.time_s for row in good),
        points=spread(row.points for row in rows),
        worst=tuple(sorted(rows, key=lambda row: _badness(limits, row))[:WORST]),
    )


def is_clean(limits: Sequence[RehearsedLimit], row: DrawRow) -> bool:
    """It ended as it should, and every limit was kept."""
    return row.is_good and all(map(RehearsedLimit.is_kept, limits, row.values))


def used_most(limits: Sequence[RehearsedLimit], row: DrawRow) -> tuple[str, float]:
    """The limit that a draw used most of, and how much; no limit where nothing counted."""
    used = ((limit.key, limit.used(value)) for limit, value in zip(limits, row.values, strict=False))
    return max((one for one in used if one[1] == one[1]), key=lambda one: one[1], default=("", nan))


def _badness(limits: Sequence[RehearsedLimit], row: DrawRow) -> tuple[int, float, float, int]:
    """The worst first: incidents, what did not end well, the most of a limit, the fewest points, the first drawn."""
    order = 0 if row.incidents or row.ended == "cannot begin" else 1 if not row.is_good else 2
    used = used_most(limits, row)[1]
    return order, -used if used == used else 0.0, row.points if isfinite(row.points) else 0.0, row.number


def _of_limit(place: int, limit: RehearsedLimit, rows: Sequence[DrawRow], governed: int) -> LimitTally:
    met = [(row.values[place], row.number) for row in rows if row.values and isfinite(row.values[place])]
    kept = Count(sum(limit.is_kept(value) for value, _ in met), len(met))
    used, worst = max(((limit.used(value), -number) for value, number in met), default=(nan, 0))
    return LimitTally(limit, kept, governed, spread(value for value, _ in met), used, -worst)


def plain(one: Happening) -> tuple[str, tuple[tuple[str, str], ...]]:
    """An incident without its amounts: what, and the names in it."""
    return one.what, tuple((name, value) for name, value in sorted(one.fields.items()) if isinstance(value, str))


def _counted(rows: Iterable[DrawRow], of: Callable[[DrawRow], Iterable[T]]) -> dict[T, int]:
    """In how many rows each is, the most frequent first."""
    return dict(Counter(one for row in rows for one in set(of(row))).most_common())


def spread(values: Iterable[float]) -> Spread:
    """Least, percentiles and most of what is known."""
    known = np.array([value for value in values if isfinite(value)])
    if not len(known):
        return Spread(nan, nan, nan, nan, nan)
    p5, median, p95 = map(float, np.percentile(known, PERCENTS, method="inverted_cdf"))
    return Spread(float(known.min()), p5, median, p95, float(known.max()))


@lru_cache(maxsize=256)
def exact_interval(count: int, of: int) -> tuple[float, float]:
    """Between which shares the true one lies, by a count of draws: the exact interval, 95 %.

    It covers the true share at least as often as it says, so it is never too narrow (Clopper and Pearson, Biometrika
    26, 1934, from memory).

    Args:
        count: draws in which it was so.
        of: draws; with none, nothing is known.
    """
    beyond = (1.0 - CONFIDENCE) / 2.0
    low = 0.0 if count == 0 else _share_at(count, of, beyond)
    high = 1.0 if count == of else 1.0 - _share_at(of - count, of, beyond)
    return low, high


def _share_at(count: int, of: int, chance: float) -> float:
    """The share with which `count` or more of `of` come with a chance; by halving."""
    steps = np.arange(1, of + 1)
    ways = np.concatenate([[0.0], np.cumsum(np.log(of - steps + 1.0) - np.log(steps))])[count:]
    counts = np.arange(count, of + 1)
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        share = (low + high) / 2.0
        reached = float(np.exp(ways + counts * np.log(share) + (of - counts) * np.log1p(-share)).sum())
        low, high = (share, high) if reached < chance else (low, share)
    return (low + high) / 2.0

"""Which reading of a weighing contradicts which: what no load on these lines could show, and what a slip would."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import hypot, tan
from typing import NamedTuple

from simulator.mechanics.trailer_body import Vector
from simulator.mechanics.weighing import Errors, LineReading, Reading, Weighed, friction, weigh
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

SPAN_M = 0.5
"""Picks nearer together along the load than this do not tell where along it its weight is. Our choice, no source."""
SURE = 2.0
"""Times the half-width of 95 % beyond which two readings contradict each other: once in ten thousand good ones."""
FAR_M, FAR_SHARE = 0.5, 0.25
"""Off the papers by so much, a slip is looked for. Our choice, no source."""
NEAR_M, NEAR_SHARE = 0.5, 0.06
"""And it is one when the papers are met so nearly without it."""
POUNDS_PER_KILOGRAM = 1.0 / 0.45359237
"""Exact: NIST SP 811, App. B."""
SLIPS: dict[str, float] = {
    "klb as t": 1.0 / POUNDS_PER_KILOGRAM,
    "t as klb": POUNDS_PER_KILOGRAM,
    "kN as t": 1.0 / STANDARD_GRAVITY_MPS2,
    "t as kN": STANDARD_GRAVITY_MPS2,
}
"""A number read in one unit and said in another: what it has to be taken times."""


class Papers(NamedTuple):
    """What the load ought to be."""

    weight_N: float
    along_m: float = 0.0
    """Its center of gravity along, from the reference point."""


Fields = Mapping[str, str | float]


class Doubt(NamedTuple):
    """A contradiction, as kind and fields; words are made of it where it is shown."""

    kind: str
    fields: Fields
    """Lines by name; amounts in SI with their unit at the end of the name."""
    refuses: bool
    """Nothing can be made of the readings; else they may be right, and the papers wrong."""


def refusals(reading: Reading, errors: Errors) -> Iterator[Doubt]:
    """What no weighing can begin with: negative loads, lines that bear nothing."""
    bearing = [one for one in reading.lines if pull_N(one, errors) > errors.gauge_share * one.below_N + errors.gauge_N]
    for one in reading.lines:
        if one.load_N < 0.0:
            yield Doubt("negative", {"line": one.name, "load_N": one.load_N}, refuses=True)
        elif one not in bearing and (not bearing or _spanned_m(bearing) < SPAN_M):
            fields: Fields = {"line": one.name, "load_N": one.load_N, "below_N": one.below_N}
            others: Fields = {"other": bearing[0].name} if bearing else {}
            yield Doubt("slack" if bearing else "all slack", {**fields, **others}, refuses=True)


def contradictions(
    reading: Reading, errors: Errors, ends_m: tuple[Vector, Vector], found: Weighed, papers: Papers
) -> Iterator[Doubt]:
    """What the readings say against each other, the load and its papers."""
    yield from _uneven(reading, errors)
    yield from _beyond(reading, ends_m, found)
    slip = _slip(reading, errors, ends_m, found, papers)
    if slip is not None:
        yield slip


def pull_N(one: LineReading, errors: Errors) -> float:
    """What hangs from a hook by its reading: friction, block and rigging taken off."""
    return one.load_N / friction(one.parts, errors.sheave_loss, one.moved) - one.below_N


def _spanned_m(lines: list[LineReading]) -> float:
    xs = [one.pick_m[0] for one in lines]
    return max(xs) - min(xs)


def _uneven(reading: Reading, errors: Errors) -> Iterator[Doubt]:
    """Level parts of the pulls have to cancel on a load that hangs still and free."""
    pulls = [max(0.0, pull_N(one, errors)) for one in reading.lines]
    for way in ("along", "across"):
        angles = [one.along_rad if way == "along" else one.across_rad for one in reading.lines]
        level = [pull * tan(angle) for pull, angle in zip(pulls, angles, strict=True)]
        sure = [
            hypot(pull * errors.angle_rad, errors.gauge_share * part) for pull, part in zip(pulls, level, strict=True)
        ]
        spread = hypot(*sure, errors.sway_rad * sum(pulls), errors.bed_N)
        if abs(sum(level)) > SURE * spread + 1e-6 * sum(pulls):
            yield _named_by_two(reading, way, level, angles)


def _named_by_two(reading: Reading, way: str, level: list[float], angles: list[float]) -> Doubt:
    """The line that pulls most one way, and the one that ought to pull back."""
    first = max(range(len(level)), key=lambda n: abs(level[n]))
    fields: Fields = {
        "line": reading.lines[first].name,
        "level_N": abs(level[first]),
        "angle_rad": abs(angles[first]),
    }
    if len(level) == 1:
        return Doubt(f"uneven alone {way}", fields, refuses=True)
    second = min((n for n in range(len(level)) if n != first), key=lambda n: level[n] * level[first])
    back = -level[second] * (1.0 if level[first] > 0.0 else -1.0)
    more: Fields = {"other": reading.lines[second].name, "back_N": max(0.0, back)}
    return Doubt(f"uneven {way}", {**fields, **more}, refuses=True)


def _beyond(reading: Reading, ends_m: tuple[Vector, Vector], found: Weighed) -> Iterator[Doubt]:
    """A center of gravity outside the load."""
    low, high = ends_m
    for axis, names in enumerate((("nose", "tail"), ("ravine", "road"))):
        at, spread = found.cg_m[axis], found.spread_m[axis]
        by_m, name = max((low[axis] - at, names[0]), (at - high[axis], names[1]))
        if by_m > spread:
            heavy = max(reading.lines, key=lambda one: one.load_N)
            yield Doubt(f"beyond {name}", {"line": heavy.name, "by_m": by_m, "load_N": heavy.load_N}, refuses=True)


def _is_far(found: Weighed, papers: Papers) -> bool:
    off_m, off = abs(found.cg_m[0] - papers.along_m), abs(found.weight_N / papers.weight_N - 1.0)
    return off_m > FAR_M + found.spread_m[0] or off > FAR_SHARE + found.weight_spread_N / papers.weight_N


def _is_near(found: Weighed, papers: Papers) -> bool:
    off_m, off = abs(found.cg_m[0] - papers.along_m), abs(found.weight_N / papers.weight_N - 1.0)
    return off_m < NEAR_M and off < NEAR_SHARE


def _slip(
    reading: Reading, errors: Errors, ends_m: tuple[Vector, Vector], found: Weighed, papers: Papers
) -> Doubt | None:
    """The slip without which the readings would meet the papers: two displays swapped, a number of another system."""
    if not _is_far(found, papers):
        return None
    for doubt, loads in _slips(reading.lines):
        lines = tuple(one._replace(load_N=load) for one, load in zip(reading.lines, loads, strict=True))
        if all(pull_N(one, errors) > 0.0 for one in lines):
            other = weigh([reading._replace(lines=lines)], errors, ends_m, most_pitch_rad=0.0)
            if _is_near(other, papers):
                return doubt
    return None


def _slips(lines: tuple[LineReading, ...]) -> Iterator[tuple[Doubt, list[float]]]:
    loads = [one.load_N for one in lines]
    for n, first in enumerate(lines):
        for k, second in enumerate(lines[n + 1 :], n + 1):
            swapped = list(loads)
            swapped[n], swapped[k] = loads[k], loads[n]
            names: Fields = {"line": first.name, "other": second.name, "load_N": loads[n], "back_N": loads[k]}
            yield Doubt("swapped", names, refuses=False), swapped
    for name, factor in SLIPS.items():
        whole: Fields = {"line": lines[0].name, "load_N": sum(loads), "as_N": factor * sum(loads)}
        yield Doubt(f"all {name}", whole, refuses=False), [factor * load for load in loads]
        for n, one in enumerate(lines):
            other = [factor * load if k == n else load for k, load in enumerate(loads)]
            fields: Fields = {"line": one.name, "load_N": loads[n], "as_N": factor * loads[n]}
            yield Doubt(name, fields, refuses=False), other

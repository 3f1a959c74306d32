"""A load turned over in the air on two lines, step by step at rest: how far it is turned, and what each line carries.

Everything is in the plane of the cut across. The lines do not stretch: soft ones shift an angle by up to half a degree,
which an operator makes up for by eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, pi
from typing import NamedTuple

import numpy as np

from simulator.mechanics.rest_pose import SECTION, Line, Pose, Rest, rest_unstretched
from simulator.mechanics.section import Point
from simulator.mechanics.sling import Run, Sling

COARSE_M = 0.05
"""Of line between two rests: short enough that the load is followed and does not jump to another rest."""


class Hung(NamedTuple):
    """A section hung on two lines."""

    slings: tuple[Sling, Sling]
    """In its own axes from its center of gravity, both at one x."""
    sheaves_m: tuple[Point, Point]
    """(y, z), fixed."""
    lengths_m: tuple[float, float]
    """Sheave to hook, at the start."""
    start: Pose
    """Where it is looked for first."""


class Station(NamedTuple):
    """One rest on the way."""

    out_m: tuple[float, float]
    """Line paid out since the start, one value a line; negative: hauled in."""
    rest: Rest
    turned_rad: float
    """Roll from the pose in which the lines were measured, past half a turn too; a start may lean by itself."""
    shares: tuple[float, float]
    """Of the weight, along each line."""
    runs: tuple[Run, Run]
    as_laid: Hung
    """The section with its lines as they go on from here."""

    @property
    def holds(self) -> bool:
        """Both lines carry, and it hangs stable."""
        return self.rest.stable and not any(self.rest.slack)

    @property
    def bears(self) -> tuple[bool, bool]:
        """Which lines lie on the load."""
        first, second = self.runs
        return bool(first.turns), bool(second.turns)


def hung(slings: tuple[Sling, Sling], sheaves_m: tuple[Point, Point], pose: Pose) -> Hung:
    """A section on lines that are just as long as they are, taut, with the load at a pose (which need be no rest).

    Args:
        slings: as in `Hung`.
        sheaves_m: (y, z).
        pose: of its center of gravity, anywhere the lines can reach it.
    """
    first, second = (
        run.laid_m + run.free_m - sling.sling_m
        for run, sling in zip(_runs(slings, sheaves_m, pose), slings, strict=True)
    )
    return Hung(slings, sheaves_m, (first, second), pose)


def _runs(slings: tuple[Sling, Sling], sheaves_m: tuple[Point, Point], pose: Pose) -> tuple[Run, Run]:
    first, second = (
        sling.run((np.array([pose.cg_m[0] + sling.x_m, *sheave]) - pose.cg_m) @ pose.turn)
        for sling, sheave in zip(slings, sheaves_m, strict=True)
    )
    return first, second


def at_rest(
    section: Hung, out_m: Sequence[float], before: Pose | Rest, *, falls: bool = False, rounds: int = 100
) -> Rest:
    """Where the section rests with so much of each line paid out, coming from a pose before.

    Args:
        section: from `hung`.
        out_m: one value a line; negative: hauled in.
        before: the rest a little earlier, or a pose near it.
        falls: as in `rest_pose.rest`.
        rounds: as in `rest_pose.rest_unstretched`.
    """
    lines = [
        Line((float(section.start.cg_m[0]) + sling.x_m, *sheave), length + out, 1.0, sling)
        for sling, sheave, length, out in zip(section.slings, section.sheaves_m, section.lengths_m, out_m, strict=True)
    ]
    return rest_unstretched(1.0, lines, start=before, free=SECTION, falls=falls, rounds=rounds)


def turn(section: Hung, amounts_m: Sequence[float], *, out: tuple[float, float] = (1.0, -1.0)) -> list[Station]:
    """Rests on the way, each looked for from the one before, in small steps.

    Args:
        section: from `hung`.
        amounts_m: line moved since the start, rising.
        out: how much of it each line pays out; the usual turn is line 1 out and line 2 in alike.
    """
    before: Pose | Rest = section.start
    now, turned, stations, roll, as_laid = 0.0, 0.0, [], section.start.roll_rad, section
    for amount in amounts_m:
        steps = max(1, ceil(abs(amount - now) / COARSE_M))
        for i in range(1, steps + 1):
            at = now + (amount - now) * i / steps
            before = found = at_rest(as_laid, (out[0] * at, out[1] * at), before, rounds=100 if i == steps else 1)
            as_laid = _kept(section, as_laid, found.pose)
            turned += (found.pose.roll_rad - roll + pi) % (2.0 * pi) - pi
            roll = found.pose.roll_rad
        now = amount
        stations.append(_station(as_laid, (out[0] * at, out[1] * at), found, turned))
    return stations


def _kept(section: Hung, as_laid: Hung, pose: Pose) -> Hung:
    """Lines that bear keep their way round the load; those that are off it may bear either way again."""
    free = _runs(as_laid.slings, section.sheaves_m, pose)
    first, second = (
        (whole if run.laid_m == 0.0 else laid).kept(_seen(laid, sheave, pose))
        for whole, laid, run, sheave in zip(section.slings, as_laid.slings, free, section.sheaves_m, strict=True)
    )
    return section._replace(slings=(first, second))


def _seen(sling: Sling, sheave_m: Point, pose: Pose) -> Point:
    """A sheave in the section's own axes."""
    _, y, z = (np.array([pose.cg_m[0] + sling.x_m, *sheave_m]) - pose.cg_m) @ pose.turn
    return float(y), float(z)


def _station(section: Hung, out_m: tuple[float, float], found: Rest, turned_rad: float) -> Station:
    first, second = found.pulls_N
    shares = first / found.weight_N, second / found.weight_N
    return Station(out_m, found, turned_rad, shares, _runs(section.slings, section.sheaves_m, found.pose), section)


class Limit(NamedTuple):
    """How far it turns."""

    amount_m: float
    turned_rad: float
    slack: tuple[bool, bool]
    """Which line goes slack there; neither: it goes all the way that was asked for."""


def turns_to(section: Hung, most_m: float, *, out: tuple[float, float] = (1.0, -1.0)) -> Limit:
    """Until a line goes slack or the hang is no longer stable.

    Args:
        section: from `hung`.
        most_m: line moved at most.
        out: as in `turn`.
    """
    amounts = [most_m * i / ceil(most_m / COARSE_M) for i in range(ceil(most_m / COARSE_M) + 1)]
    good: Station | None = None
    for station in turn(section, amounts, out=out):
        if not station.holds:
            return _between(good or station, station, out)
        good = station
    assert good is not None
    return Limit(most_m, good.turned_rad, (False, False))


def _between(good: Station, bad: Station, out: tuple[float, float]) -> Limit:
    """The last place that holds, to a tenth of a millimeter of line."""
    low, high = (abs(station.out_m[0] or station.out_m[1]) / abs(out[0] or out[1]) for station in (good, bad))
    first, second = bad.rest.slack
    while high - low > 1e-4:
        middle = 0.5 * (low + high)
        found = at_rest(good.as_laid, (out[0] * middle, out[1] * middle), good.rest)
        if found.stable and not any(found.slack):
            turned = good.turned_rad + (found.pose.roll_rad - good.rest.pose.roll_rad + pi) % (2.0 * pi) - pi
            low, good = middle, _station(good.as_laid, (out[0] * middle, out[1] * middle), found, turned)
        else:
            high = middle
            first, second = found.slack
    return Limit(low, good.turned_rad, (first, second))

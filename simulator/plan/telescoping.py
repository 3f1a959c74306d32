"""Whether the path asks a boom to be telescoped with more on its hook than the unit's own rule allows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import isfinite

from simulator.plan.findings import Amount, Change, Place, Reading
from simulator.plan.judged_station import StationCheck
from simulator.plan.unit_stand import Side
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import most_telescoped_N

SAME_M = 0.05
"""A boom that differs by less from station to station gives way otherwise and is not telescoped. Our own choice."""
WORDS = "let the boom be telescoped with {} at the hook, or stand the unit where one boom length reaches the whole path"


def telescoping_readings(
    described: Description, sides: Sequence[Side], judged: Sequence[StationCheck]
) -> Iterator[tuple[Place, Reading]]:
    """Of each unit with a rule, each part of the path on which its boom changes its length under load."""
    for side in sides:
        most_N = most_telescoped_N(side.unit, described.limits)
        if not isfinite(most_N):
            continue
        for first, then in pairwise(judged):
            was, now = first.units[side.end], then.units[side.end]
            if abs(now.pose.length_m - was.pose.length_m) < SAME_M:
                continue
            load_N = max(now.share, was.share) * side.weight_N
            change = Change(WORDS, (Amount(load_N, "N"),))
            place = Place(then.station.name, then.station.y_m)
            above_N = most_N + 1.0
            name = "hook load while telescoping"
            yield place, Reading("telescoping", side.who, name, "N", load_N, above_N, above_N, True, change=change)

"""The plan along a turn against the drive: every 5 degrees the lift is held till it hangs still, then both compared.

Bounds: each line's load 0.5 % of the weight (2 % of its own), lowest point and room to the live lane 3 cm,
1 degree at one amount of line moved.
"""

from __future__ import annotations

from itertools import pairwise
from math import degrees, radians
from typing import NamedTuple

import pytest

from simulator.attempt import Attempt, Operator
from simulator.drill.partner import Partner
from simulator.engine.commands import still
from simulator.places import find_scenario
from simulator.plan.hanging import load_of
from simulator.plan.setup_check import check_setup
from simulator.plan.turn import TurnStation, named, turn_of
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load

pytestmark = pytest.mark.long

LOADS, OWN_LOAD, GAP_M, ANGLE_RAD = 0.005, 0.02, 0.03, radians(1.0)
HELD_S, SEEN_S = 16.0, 8.0
"""Hands off so long, and the mean of the last part: two of its sways."""
LOOK_STEPS = 24
LONGEST_S = 900.0


class Moment(NamedTuple):
    """What was read while it hung still."""

    turned_rad: float
    loads_N: tuple[float, ...]
    lowest_under_reference_m: float
    lane_room_m: float
    moved_m: float


def mean(rows: list[Readings]) -> Moment:
    """Of the readings while it was held."""
    count = len(rows)
    by_line = zip(*([one.hook_load_N for one in r.lines] for r in rows), strict=True)
    loads = tuple(sum(one) / count for one in by_line)
    return Moment(
        sum(r.load.turned_rad for r in rows) / count,
        loads,
        sum(r.load.z_m - r.load.height_over_road_m for r in rows) / count,
        sum(r.load.lane_room_m for r in rows) / count,
        sum(unit.turn_m for r in rows for unit in r.units) / count / len(rows[0].units),
    )


def held(attempt: Attempt) -> Moment:
    """Hands off until it hangs still; the operators go on after that."""
    operators: list[Operator | None] = list(attempt.operators)
    attempt.operators = [None for _ in operators]
    rows, per_s = [], attempt.description.engine.steps_per_s
    attempt.advance(still(attempt.rig), round((HELD_S - SEEN_S) * per_s))
    for _ in range(round(SEEN_S * per_s / LOOK_STEPS)):
        attempt.advance(still(attempt.rig), LOOK_STEPS)
        rows.append(attempt.readings)
    attempt.operators = operators
    return mean(rows)


def driven(description: Description, every_rad: float) -> list[Moment]:
    """Automatic operators turn it; at every station it is held and read."""
    partners = [Partner(description, unit) for unit in range(len(description.units))]
    attempt = Attempt(description, list(partners), in_bulk=True)
    found: list[Moment] = []
    while not attempt.ended and attempt.simulation.time_s < LONGEST_S:
        attempt.advance(still(attempt.rig), LOOK_STEPS)
        if partners[0].work == "turn" and attempt.readings.load.turned_rad >= len(found) * every_rad - radians(0.3):
            found.append(held(attempt))
        if len(found) > 18:
            break
    return found


def between(
    stations: tuple[TurnStation, ...], lane_rooms_m: dict[str, float], turned_rad: float, weight_N: float
) -> Moment:
    """The plan at an angle, straight between its two stations."""
    pairs = pairwise(stations)
    low, high = next(pair for pair in pairs if turned_rad <= pair[1].turned_rad or pair[1] is stations[-1])
    share = (turned_rad - low.turned_rad) / (high.turned_rad - low.turned_rad)

    def mixed(a: float, b: float) -> float:
        return a + share * (b - a)

    lines = zip(low.hung.lines, high.hung.lines, strict=True)
    return Moment(
        turned_rad,
        tuple(weight_N * mixed(a.pull_share, b.pull_share) for a, b in lines),
        mixed(low.hung.pose.z_m - low.hung.lowest_m, high.hung.pose.z_m - high.hung.lowest_m),
        mixed(lane_rooms_m[named(low.turned_rad)], lane_rooms_m[named(high.turned_rad)]),
        mixed(low.moved_m, high.moved_m),
    )


def planned_lane_rooms_m(description: Description) -> dict[str, float]:
    """Of each station, by its name."""
    stations = check_setup(description, stated=False).stations
    turning = [one for one in stations if one.station.phase == "turning"]
    return {one.station.name: next(each.value for each in one.readings if each.code == "live lane") for one in turning}


@pytest.mark.parametrize("lift", ["turn_over_tank", "turn_over_box"])
def test_the_plan_of_a_turn_is_what_the_drive_comes_to(lift: str) -> None:
    description = load(find_scenario(lift))
    stations, weight_N = turn_of(description).stations, load_of(description).weight_N
    rooms, moments = planned_lane_rooms_m(description), driven(description, radians(5.0))
    assert len(moments) >= 18
    per_m = (stations[-1].turned_rad - stations[0].turned_rad) / (stations[-1].moved_m - stations[0].moved_m)
    for one in moments:
        plan = between(stations, rooms, one.turned_rad, weight_N)
        at = f"{degrees(one.turned_rad):.1f} deg"
        assert one.loads_N == pytest.approx(plan.loads_N, rel=OWN_LOAD), at
        assert one.loads_N == pytest.approx(plan.loads_N, abs=LOADS * weight_N), at
        assert one.lowest_under_reference_m == pytest.approx(plan.lowest_under_reference_m, abs=GAP_M), at
        assert one.lane_room_m == pytest.approx(plan.lane_room_m, abs=GAP_M), at
        assert abs(one.moved_m - plan.moved_m) * per_m < ANGLE_RAD, at

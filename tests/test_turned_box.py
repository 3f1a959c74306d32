"""The shipped box van turned in the air: sharp corners let go of a sling near 0 degrees and meet one near 90."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees

import numpy as np
import pytest

from simulator.mechanics.trailer_body import stated_cg_m
from simulator.places import find_scenario
from simulator.plan.turn import compared, on_upper_edges
from simulator.readings import Readings
from simulator.scenario.reader import load
from tests.shipped_lifts import Demonstrations

BOX = find_scenario("turn_over_box")
TURNS_FROM_S = 240.0
"""Before that it leans a little as it is raised and carried."""
TOP_M, HALF_M = 3.5, 1.25
"""Of the box: its roof, and half its width."""


def moments(seen: list[Readings], line: int, *, comes: bool) -> list[float]:
    """How far the load is turned when a line's sling comes to lie on a corner more, or on one less."""
    hanging = [now for now in seen if now.load.ground_N == 0.0 and now.time_s > TURNS_FROM_S]
    steps = (
        (degrees(after.load.turned_rad), after.lines[line].laid_m - now.lines[line].laid_m)
        for now, after in pairwise(hanging)
    )
    return [at_deg for at_deg, more in steps if (more > 0.5 if comes else more < -0.5)]


def change_per_deg(seen: list[Readings], from_deg: float, to_deg: float) -> float:
    """What lines 1 of both units carry, of all that the lines carry, by each degree that the load is turned further."""
    rows = [
        (degrees(now.load.turned_rad), (now.lines[0].hook_load_N + now.lines[2].hook_load_N) / carried(now))
        for now in seen
        if from_deg <= degrees(now.load.turned_rad) <= to_deg and now.load.ground_N == 0.0 and now.time_s > TURNS_FROM_S
    ]
    return float(np.polyfit(*zip(*rows, strict=True), 1)[0])


def carried(now: Readings) -> float:
    return sum(line.hook_load_N for line in now.lines)


@pytest.mark.long
def test_the_load_swaps_lines_with_a_jerk_where_a_corner_lets_go_of_a_sling_and_where_one_meets_it(
    demonstrated: Demonstrations,
) -> None:
    """Between them what each line carries hardly changes; before the one and after the other, three times as fast."""
    seen = demonstrated(BOX).readings
    leaves, meets = moments(seen, 1, comes=False)[0], moments(seen, 0, comes=True)[0]
    assert 5.0 < leaves < 20.0 and 75.0 < meets < 90.0
    between = abs(change_per_deg(seen, leaves + 1.0, meets - 1.0))
    assert change_per_deg(seen, 2.0, leaves) < -3.0 * between
    assert change_per_deg(seen, meets, 88.0) < -3.0 * between


def test_both_lines_on_the_upper_edges_do_not_turn_it() -> None:
    """Line 1 goes slack where the CG hangs under the other line's edge: atan(way to that edge over its height)."""
    described = load(BOX)
    as_it_is, upper = compared(described)
    assert as_it_is.turn.is_whole and not upper.turn.is_whole
    assert upper.turn.slack is not None and upper.turn.slack.line in ("nose_1", "tail_1")
    _, y, z = stated_cg_m(on_upper_edges(described).trailer)
    wanted = degrees(atan2(TOP_M - z, HALF_M - y))
    assert degrees(upper.turn.turns_to_rad) == pytest.approx(wanted, abs=0.5)

"""The rig of a lift: what its units, lines and levers are called, in which order, and which lines a lever moves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import TWO_BY_ONE, rig_of
from simulator.scenario.unit import Line
from tests.demo import with_unit

BOOM = ("telescope", "elevation", "slew")


@pytest.fixture(scope="module")
def lift() -> Description:
    return load(find_scenario("tank_on_side"))


def two_lines(lift: Description, place: int, **changes: object) -> Description:
    """Both picks on that unit's two lines."""
    first = lift.units[place].lines[0]
    lines = tuple(replace(first, pick=pick, shares_pick=True) for pick in ("nose", "tail"))
    return with_unit(lift, place, lines=lines, **changes)


def test_two_units_with_one_line_each(lift: Description) -> None:
    rig = rig_of(lift)
    assert rig == TWO_BY_ONE
    assert rig.unit_names == rig.line_names == ("nose", "tail")
    assert rig.lever_names == tuple(f"{unit}_{of}" for unit in ("nose", "tail") for of in ("hoist", *BOOM))
    assert [(line.place, line.unit, line.number, line.pick) for line in rig.lines] == [(0, 0, 1, 0), (1, 1, 1, 1)]
    assert [lever.pulls for lever in rig.units[1].levers] == [((1, 1.0),), (), (), ()]


def test_lines_are_numbered_on_a_unit_that_has_two(lift: Description) -> None:
    rig = rig_of(two_lines(lift, 0))
    assert rig.line_names == ("nose_1", "nose_2", "tail")
    assert [(line.place, line.unit, line.number, line.pick) for line in rig.lines] == [
        (0, 0, 1, 0),
        (1, 0, 2, 1),
        (2, 1, 1, 1),
    ]
    nose, tail = rig.units
    assert [lever.key for lever in nose.levers] == ["hoist_1", "hoist_2", *BOOM]
    assert [lever.name for lever in nose.levers[:2]] == ["nose_1_hoist", "nose_2_hoist"]
    assert tail.levers[0].pulls == ((2, 1.0),)


def test_levers_that_move_two_lines_at_once(lift: Description) -> None:
    """Both alike; or, turned up, line 1 out and line 2 in alike."""
    unit = rig_of(two_lines(lift, 1, levers=("both", "turn"))).units[1]
    both, turn = unit.levers[-2:]
    assert (both.name, both.pulls) == ("tail_both", ((1, 1.0), (2, 1.0)))
    assert (turn.name, turn.pulls) == ("tail_turn", ((1, -1.0), (2, 1.0)))


def test_a_lone_unit_keeps_its_name(lift: Description) -> None:
    alone = replace(lift, units=(replace(two_lines(lift, 0).units[0], name="wrecker"),))
    rig = rig_of(alone)
    assert (rig.unit_names, rig.line_names) == (("wrecker",), ("wrecker_1", "wrecker_2"))


def test_hands_by_the_names_of_the_levers(lift: Description) -> None:
    nose, tail = rig_of(two_lines(lift, 0)).units
    assert nose.hands(hoist_2=-0.5, slew=1.0) == (0.0, -0.5, 0.0, 0.0, 1.0)
    assert tail.hands() == (0.0, 0.0, 0.0, 0.0)
    with pytest.raises(ValueError, match="given hoist, allowed: hoist_1, hoist_2, telescope, elevation, slew"):
        nose.hands(hoist=1.0)


def test_a_line_is_told_by_its_pick_not_by_its_place(lift: Description) -> None:
    nose, tail = lift.units
    crossed = replace(lift, units=(replace(nose, lines=(_to(nose.lines[0], "tail"),)), tail))
    assert [line.pick for line in rig_of(crossed).lines] == [1, 1]


def _to(line: Line, pick: str) -> Line:
    return replace(line, pick=pick)

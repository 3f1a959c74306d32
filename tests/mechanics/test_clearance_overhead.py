"""Overhead line: the required distance (29 CFR 1926.1408 Table A, read in the published text) and who is near it."""

from dataclasses import replace
from math import hypot

import pytest

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.clearance.decks import Clearances, clearances
from simulator.mechanics.clearance.overhead import action_distance_m, required_distance_m
from simulator.mechanics.clearance.scene import prepare_scene
from simulator.scenario.site import OverheadLine
from tests.mechanics.scene import SITE, STATIONS, description, pose

FOOT_M = 0.3048


@pytest.mark.parametrize(
    ("kilovolt", "feet"),
    [(34.5, 10), (50, 10), (50.1, 15), (200, 15), (345, 20), (350, 20), (500, 25), (500.1, 35), (750, 35), (765, 45)],
)
def test_table_a_limits_are_inclusive(kilovolt: float, feet: float) -> None:
    """29 CFR 1926.1408 Table A (published text)."""
    assert required_distance_m(kilovolt) == pytest.approx(feet * FOOT_M, abs=1e-9)


def test_over_a_thousand_kilovolts_the_table_has_no_value() -> None:
    """29 CFR 1926.1408 Table A (published text): set by the utility or a qualified engineer."""
    assert required_distance_m(1000) == pytest.approx(45 * FOOT_M)
    assert required_distance_m(1100) is None


def test_action_distance() -> None:
    """29 CFR 1926.1408(a), 1926.1409(a) (read in a secondary copy): 20 ft, over 350 kV 50 ft."""
    assert action_distance_m(350) == pytest.approx(20 * FOOT_M)
    assert action_distance_m(351) == pytest.approx(50 * FOOT_M)


def found(line: OverheadLine, station: str = "over tailboards") -> Clearances:
    lift = description(site=replace(SITE, overhead_line=line))
    y, nose, tail = STATIONS[station]
    return clearances(prepare_scene(lift), pose(lift.trailer, belly_m=1.8, middle_y_m=y), (nose, tail))


def test_no_line_no_finding() -> None:
    lift = description()
    y, nose, tail = STATIONS["crossing"]
    assert clearances(prepare_scene(lift), pose(lift.trailer, belly_m=1.8, middle_y_m=y), (nose, tail)).overhead == ()


def test_boom_tip_straight_below_the_line() -> None:
    """Slew 0: the boom's highest corner stands half a depth along and half a depth square to the boom over its tip."""
    nose: BoomPose = STATIONS["over tailboards"][1]
    unit = description().units[0]
    tip = tip_m(unit, nose)
    high = tip[2] + unit.boom.depth_m / 2.0 * (3.0**0.5 / 2.0 + 0.5)  # elevation 60 degrees
    boom = {one.what: one for one in found(OverheadLine(0.0, high + 5.0, 34.5)).overhead}["nose unit boom"]
    assert boom.distance_m == pytest.approx(5.0, abs=1e-3)
    assert boom.required_m == pytest.approx(3.048) and boom.state == "close"


def test_hoist_line_beside_the_line() -> None:
    """Level with the middle of a hoist line that hangs in the plane y = 0 at its tip and at its pick."""
    overhead = {one.what: one for one in found(OverheadLine(6.0, 7.0, 345)).overhead}
    line = overhead["nose unit hoist line"]
    assert line.distance_m == pytest.approx(6.0, abs=1e-2)
    assert line.state == "not clear"  # 20 ft = 6.096 m


def test_trailer_is_measured_to_its_nearest_corner() -> None:
    trailer = found(OverheadLine(10.0, 10.0, 200), "crossing").overhead[-1]
    assert trailer.what == "trailer"
    # The axle group reaches y = -2, half of its 2.5 m above the middle of the trailer as it lies.
    assert trailer.distance_m == pytest.approx(hypot(12.0, 10.0 - (1.8 + 1.3 + 1.25)), abs=0.05)
    assert trailer.state == "clears"


def test_a_voltage_over_the_table_is_never_clear() -> None:
    assert {one.state for one in found(OverheadLine(0.0, 400.0, 1100)).overhead} == {"not clear"}

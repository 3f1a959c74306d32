"""How far each end is turned over: against rests found by least potential energy, and by hand."""

from __future__ import annotations

from math import degrees, isnan, nan, radians

import pytest

from simulator.mechanics import turning
from simulator.mechanics.end_turns import LineWay, end_roll_rad, in_load_axes, next_corner_rad, way
from simulator.mechanics.section import box
from simulator.mechanics.sling import Sling
from simulator.mechanics.taut_string import lies_toward, ways_round
from simulator.mechanics.trailer_body import rotation, turned
from tests.mechanics.test_turning import the_box


def ways() -> tuple[LineWay, LineWay]:
    """A box of 2.6 m: line 1 straight to its upper road edge, line 2 from the lower one round under and up."""
    discs = box(2.6, 2.6)
    first = Sling(0.0, ways_round(discs, (1.3, 1.3)))
    second = Sling(0.0, (lies_toward(discs, (1.3, -1.3), (0.0, -1.0)),))
    return LineWay((0.0, 1.3, 1.3), first), LineWay((0.0, 1.3, -1.3), second)


def test_line_1_out_lowers_the_side_it_holds() -> None:
    assert way(ways()) == -1.0, "line 1 is on the road side: that side goes down, roll gets less"
    assert way(tuple(reversed(ways()))) == 1.0
    assert way(ways()[:1]) == 0.0


@pytest.mark.parametrize("out_m", [0.4, 0.9, 1.5, 2.0])
@pytest.mark.parametrize("ahead_m", [-0.06, 0.03, 0.06])
def test_an_end_ahead_is_told_by_where_it_would_hang_alone(out_m: float, ahead_m: float) -> None:
    """At rest on `out_m`: an end whose lines are further by `ahead_m` would by itself rest where that rests."""
    hung = the_box()
    (here,), (there,) = turning.turn(hung, [out_m]), turning.turn(hung, [out_m + ahead_m])
    pose = here.rest.pose
    reference = tuple(float(at) for at in pose.cg_m)
    sheaves = [in_load_axes((0.0, *at), reference, (0.0, 0.0, pose.roll_rad)) for at in hung.sheaves_m]
    laid = [LineWay((0.0, 0.0, 0.0), sling) for sling in here.as_laid.slings]
    arms = tuple(one.arm_m(sheave) for one, sheave in zip(laid, sheaves, strict=True))
    found = end_roll_rad(pose.roll_rad, arms, (-ahead_m, ahead_m))
    assert degrees(found - pose.roll_rad) == pytest.approx(degrees(there.turned_rad - here.turned_rad), abs=0.15)


def test_an_arm_is_that_of_a_pull_on_the_side_it_leaves() -> None:
    """Straight up from an edge 1.3 m beside the middle."""
    first, _ = ways()
    for one in (first, first._replace(sling=None)):
        assert one.arm_m((0.0, 1.3, 50.0)) == pytest.approx(1.3)


def test_lines_with_one_arm_turn_nothing() -> None:
    assert isnan(end_roll_rad(0.1, (1.0, 1.01), (0.0, 0.02)))
    assert end_roll_rad(0.1, (1.0,), (nan,)) == 0.1, "one line: its own roll"


@pytest.mark.parametrize(("turned_deg", "corner_deg"), [(-3, 0), (0, 90), (45, 90), (89, 90), (89.8, 180), (91, 180)])
def test_the_next_corner_is_the_next_quarter_turn(turned_deg: float, corner_deg: float) -> None:
    assert next_corner_rad(radians(turned_deg)) == pytest.approx(radians(corner_deg))


def test_a_place_in_the_load_axes_turns_back() -> None:
    angles, at, reference = (0.1, -0.2, 0.7), (3.0, -2.0, 5.0), (1.0, 1.0, 1.0)
    x, y, z = turned(rotation(*angles), in_load_axes(at, reference, angles))
    assert (x + 1.0, y + 1.0, z + 1.0) == pytest.approx(at)

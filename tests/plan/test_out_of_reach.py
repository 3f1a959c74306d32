"""A load out of reach, or one that would slide: sums by hand, and what the check says comes before the lift."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, hypot, radians, sin

import pytest

from simulator.mechanics.dragging import SURFACES, least_parts, pull_N, reeved, runs_back_N
from simulator.mechanics.drum import layer_diameter_m
from simulator.plan.out_of_reach import out_of_reach
from simulator.plan.setup_check import check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.drag_lines import drag_json, drag_lines
from simulator.scenario.description import Description
from simulator.scenario.unit import Hoist
from tests.plan.variants import shipped


def test_the_pull_up_a_slope_by_hand() -> None:
    """10 t on 30 deg, wheels on firm soil (7 %): 98,066.5 N x (0.5 + 0.07 x 0.8660) = 54,978 N. Own calculation."""
    weight = 98066.5
    assert pull_N(weight, radians(30.0), 0.07) == pytest.approx(54978.0, abs=1.0)
    assert pull_N(weight, 0.0, 1.0) == weight, "mired to the sidewalls on the level: its own weight (common practice)"
    assert runs_back_N(weight, radians(30.0)) == pytest.approx(49033.25)
    assert runs_back_N(weight, -0.1) == 0.0
    for surface in SURFACES:
        steps = [pull_N(weight, radians(angle), surface.share) for angle in range(0, 18, 3)]
        assert steps == sorted(steps), "steeper is harder, up to where the ground is hardly pressed any more"


def test_the_winch_by_parts_and_layer() -> None:
    """A lead line on one part is the pull; each layer out has less, by its diameter (constant torque)."""
    hoist = Hoist(sheave_loss=1.0, usable_rope_m=100.0, stall_line_pull_N=100e3)
    near, far = reeved(hoist, 50e3, 10.0, 1), reeved(hoist, 50e3, 90.0, 1)
    assert near is not None and far is not None and near.line_pull_N == far.line_pull_N == 50e3
    assert near.layer > far.layer and near.used > far.used, "rope left on the drum: an outer layer, less pull"
    first = layer_diameter_m(hoist, 1)
    assert near.used == pytest.approx(0.5 * layer_diameter_m(hoist, near.layer) / first)
    two = reeved(hoist, 50e3, 10.0, 2)
    assert two is not None and two.line_pull_N == 25e3
    assert reeved(hoist, 50e3, 60.0, 2) is None, "120 m of rope are not on it"
    fewest = least_parts(hoist, 150e3, 10.0, 0.8)
    assert fewest is not None and fewest.used <= 0.8
    fewer = reeved(hoist, 150e3, 10.0, fewest.parts - 1)
    assert fewer is not None and fewer.used > 0.8


def _moved(out_m: float) -> Description:
    lift = shipped("practice_yard")
    site = replace(lift.site, section_m=(*lift.site.section_m[:-1], (-60.0, lift.site.section_m[-1][1])))
    return replace(lift, site=site, trailer=replace(lift.trailer, start=replace(lift.trailer.start, y_m=-out_m)))


def test_a_load_in_reach_needs_nothing_before() -> None:
    found = check_setup(shipped("practice_yard"), room=False, step_m=4.0)
    assert out_of_reach(found) is None and drag_lines(None, Amounts(), ()) == [] and drag_json(None) is None


def test_a_load_too_far_out_is_brought_until_both_reach_it_and_no_farther() -> None:
    lift = _moved(22.0)
    found = out_of_reach(check_setup(lift, room=False, step_m=8.0))
    assert found is not None and found.beyond == ("nose unit", "tail unit")
    assert found.bring_m is not None and found.bring_m > 0.25
    there, short = _moved(-found.to_y_m), _moved(-found.to_y_m + 0.25)
    assert (after := out_of_reach(check_setup(there, room=False, step_m=8.0))) is None or not after.beyond
    before = out_of_reach(check_setup(short, room=False, step_m=8.0))
    assert before is not None and before.beyond, "a step farther out it is still beyond"
    weight = check_setup(lift, room=False, step_m=8.0).load.weight_N
    for way in found.ways:
        by_hand = weight * (sin(found.slope_rad) + way.surface.share * cos(found.slope_rad))
        assert way.pull_N == pytest.approx(by_hand)
        assert way.holds == (way.pull_N <= found.unit_holds_N)


def test_the_slope_on_the_way_is_the_steepest_of_it() -> None:
    lift = _moved(22.0)
    bank = ((30.0, 0.0), (-4.4, 0.0), (-4.6, -0.5), (-14.0, -0.5), (-20.0, -3.0), (-60.0, -3.0))
    found = out_of_reach(check_setup(replace(lift, site=replace(lift.site, section_m=bank)), room=False, step_m=8.0))
    assert found is not None
    assert found.slope_rad == pytest.approx(atan2(2.5, 6.0), abs=1e-6)
    assert found.runs_back_N == pytest.approx(
        check_setup(lift, room=False, step_m=8.0).load.weight_N * 2.5 / hypot(2.5, 6.0), rel=1e-6
    )


def test_the_lines_say_what_they_rest_on_in_either_system() -> None:
    found = out_of_reach(check_setup(_moved(22.0), room=False, step_m=8.0))
    assert found is not None
    for system, unit in (("metric", " t"), ("us", " lb")):
        said = "\n".join(drag_lines(found, Amounts(system), ("nose", "tail")))  # type: ignore[arg-type]
        assert "common practice, no source" in said and "no plan for the drag" in said
        assert said.count(": pull ") == len(SURFACES) and unit in said
    plain = drag_json(found)
    assert plain is not None and len(plain["ways"]) == len(SURFACES)

"""A waiting flat trailer, checked and then driven by the automatic operators: what is refused fails for that reason."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.mechanics.flat_deck import cg_inside_m, deck_of, overhangs_m, set_down
from simulator.plan.setup_check import check_setup
from simulator.recording.headless import run_operators
from simulator.recording.noticed import conditions
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT, Flat
from simulator.scenario.rig import rig_of
from tests.plan.variants import shipped

pytestmark = pytest.mark.long

DECK_M = 0.85


def with_flat(**changes: Any) -> Description:
    lift = shipped("box_onto_flat")
    assert lift.landing.flat is not None
    return replace(lift, landing=replace(lift.landing, flat=replace(lift.landing.flat, **changes)))


@cache
def driven(lift: Description) -> Attempt:
    attempt = Attempt(lift, [Partner(lift, 0), Partner(lift, 1)], in_bulk=True)
    run_operators(attempt, longest_s=400.0)
    return attempt


def refused(lift: Description) -> tuple[str, ...]:
    return check_setup(lift, step_m=4.0).refused_for


def test_it_is_laid_down_where_the_check_says_and_rests_there() -> None:
    """Within 25 mm of the deck (15.1 t on springs of 2 MN/m), its middle within 5 cm, level to half a degree."""
    attempt = driven(with_flat())
    load, where = attempt.readings.load, check_setup(with_flat(), step_m=4.0).stations[-1].station.pose
    assert load.landed and not attempt.incidents
    assert 0.0 < DECK_M - load.height_over_road_m < 0.025 and -0.025 < load.height_over_bed_m < 0.0
    assert (load.x_m, load.y_m) == pytest.approx((where.x_m, where.y_m), abs=0.05)
    assert max(abs(load.pitch_rad), abs(load.roll_rad)) < 0.009
    told = {one.what for one in conditions(with_flat(), rig_of(with_flat()), attempt.readings)}
    assert "deck" in told and "road" not in told


@pytest.mark.parametrize(
    "changes", [{"width_m": 1.6}, {"y_m": 6.9}, {"length_m": 10.0}], ids=["narrow", "aside", "short"]
)
def test_out_over_the_deck_too_far_it_lies_there_and_is_not_landed(changes: dict[str, Any]) -> None:
    lift = with_flat(**changes)
    assert {"deck across", "deck along"} & set(refused(lift))
    attempt = driven(lift)
    assert not attempt.readings.load.landed
    assert attempt.readings.load.height_over_road_m == pytest.approx(DECK_M, abs=0.05)


OVER_END: dict[str, Any] = {"x_m": 6.4, "length_m": 12.0, "end_overhang_m": 3.0}
OVER_SIDE: dict[str, Any] = {"y_m": 7.75, "side_overhang_m": 2.5}


@pytest.mark.parametrize(("changes", "leans"), [(OVER_END, "pitch_rad"), (OVER_SIDE, "roll_rad")], ids=["end", "side"])
def test_with_its_center_of_gravity_beyond_an_edge_it_tips_off_there(changes: dict[str, Any], leans: str) -> None:
    """By the check's own value it lies outside what bears: the load goes down to the road."""
    lift = with_flat(**changes)
    deck, lies = deck_of(lift), set_down(lift)
    assert deck is not None
    assert "deck holds" in refused(lift) and cg_inside_m(deck, lies.bears_x_m, lies.bears_y_m, lies.from_m) < 0.0
    assert max(overhangs_m(deck, lies.x_m, lies.y_m)) > 0.0
    load = driven(lift).readings.load
    assert not load.landed and abs(getattr(load, leans)) > 0.1
    assert load.height_over_road_m < 0.05


def test_a_deck_as_high_as_the_load_is_carried_is_met() -> None:
    lift = with_flat(deck_height_m=1.9, height_limit_m=None)
    assert "gap over" in refused(lift)
    (incident,) = driven(lift).incidents
    assert incident.what == "met" and incident.fields["other"] == FLAT


@pytest.mark.parametrize("name", ["turn_over_box", "box_on_wheels", "half_full_tank", "tank_on_side"])
def test_other_shipped_loads_are_checked_and_set_down_on_one_too(name: str) -> None:
    """Turned onto its wheels in the air, on its wheels, with a cargo that sloshes, lying: each on a deck for it."""
    lift = shipped(name)
    flat = Flat(0.7, 13.4, 2.75, side_overhang_m=0.9, end_overhang_m=1.0, payload_kg=30e3, height_limit_m=4.7,
                leaves="tail", what_next="an exercise")  # fmt: skip
    decked = replace(lift, landing=replace(lift.landing, flat=flat))
    assert not refused(decked)
    attempt = driven(decked)
    assert attempt.readings.load.landed and not attempt.incidents
    assert attempt.readings.load.height_over_road_m == pytest.approx(0.7, abs=0.04)

"""What a plan allows for beyond statics: one place for each figure, and every limit that it belongs to has it.

The figures are measured by this simulator with able operators (docs/verdict-tables.md), not published ones; the tests
claim that they are used, and that statics stays statics.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians

import pytest

from simulator.mechanics.allowances import DYNAMIC_MARGIN, HANDS_LEAN_RAD, HANDS_TAKE_M, SLACK_M
from simulator.mechanics.bearing import bearing_used
from simulator.places import find_scenario
from simulator.plan.findings import Finding
from simulator.plan.hanging import load_of, wind_force_N
from simulator.plan.lying_rules import Lying, lying_readings
from simulator.plan.rising_rules import LEAST_HELD_M, RISES_STOP
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.plan.site_rules import landing_readings
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_json import setup_json
from simulator.report.plan.setup_lines import setup_lines
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import YAW_STOP_RAD
from simulator.scenario.reader import load
from tests.plan.variants import shipped, site


@pytest.fixture(scope="module")
def found() -> SetupCheck:
    return check_setup(shipped(), step_m=4.0)


def _one(check: SetupCheck, code: str) -> Finding:
    rows = [one for one in check.findings if one.reading.code == code]
    return min(rows, key=lambda one: one.reading.margin)


def test_every_pull_is_counted_harder_and_none_twice(found: SetupCheck) -> None:
    """Capacity, winch and tipping go with the pull, so they have all of it; reactions that are shown have none."""
    lift = found.description
    for one in found.stations:
        for unit, stand in zip(lift.units, one.units, strict=True):
            rated, tipping = stand.capacity.rated_N, stand.capacity.by_tipping_N
            allowed = tipping if rated is None else min(rated, tipping)
            assert stand.capacity.used == pytest.approx(DYNAMIC_MARGIN * stand.pull.load_N / allowed)
            assert stand.capacity.of_tipping == pytest.approx(stand.pull.load_N / tipping)
            still = max(stand.floats.reactions_N)
            assert stand.floats.heaviest_N > still
            pad_m, soil_Pa = unit.floats.pad_side_m, lift.site.soil.allowable_bearing_Pa
            assert stand.floats.bearing_used == pytest.approx(bearing_used(stand.floats.heaviest_N, pad_m, soil_Pa))


def test_what_hands_take_is_left_over(found: SetupCheck) -> None:
    limits = found.description.limits
    assert _one(found, "gap over").reading.stop == HANDS_TAKE_M
    assert _one(found, "passing").reading.stop == HANDS_TAKE_M
    assert _one(found, "head room").reading.stop == limits.head_room_stop_m + HANDS_TAKE_M
    assert _one(found, "live lane").reading.stop == limits.lane_stop_m + HANDS_TAKE_M
    assert _one(found, "rope left").reading.stop == limits.rope_left_stop_m + 2 * SLACK_M
    assert _one(found, "off plumb").reading.stop == pytest.approx(limits.off_plumb_stop_rad - HANDS_LEAN_RAD)


def test_each_allowance_is_said_on_screen_and_in_json(found: SetupCheck) -> None:
    lines = " ".join(setup_lines(found, Amounts()))
    told = str(setup_json(found, caution=""))
    for words in (
        "15 % harder for dynamics",
        "0.15 m of every gap",
        "0.95 deg off plumb",
        "0.30 m of slack",
        "measured",
    ):
        assert words in lines and words in told, words


def _in_wind(mean_mps: float, toward_deg: float, cg_m: float) -> Description:
    lift = shipped()
    wind = replace(lift.site.wind, speed_mps=mean_mps, gust_share=0.3, toward_rad=radians(toward_deg))
    x, y, z = lift.trailer.cargo.cg_m
    cargo = replace(lift.trailer.cargo, cg_m=(x + cg_m, y, z))
    return replace(site(lift, wind=wind), trailer=replace(lift.trailer, cargo=cargo))


def test_wind_turns_a_load_whose_weight_is_at_one_end() -> None:
    """Yaw goes with the square of the wind (q = factor V^2), and with how far the wind is from the weight."""
    calm, half, whole = (_one(check_setup(_in_wind(v, 90.0, 1.5), step_m=4.0), "yaw").reading for v in (0.0, 4.0, 8.0))
    assert calm.value == 0.0 and half.value > 0.0
    assert whole.value == pytest.approx(4.0 * half.value)
    assert whole.stop == YAW_STOP_RAD


def test_gaps_are_those_of_the_load_turned_by_wind_too() -> None:
    """Each place is judged as it hangs still and as wind holds it; the boom of one end comes nearer at least."""
    still, blown = (check_setup(_in_wind(v, 90.0, 1.5), step_m=4.0) for v in (0.0, 8.0))
    for one, other in zip(still.stations, blown.stations, strict=True):
        rooms = [[each.value for each in at.readings if each.code == "passing"] for at in (one, other)]
        if one.station.phase == "landed":
            assert rooms[0] == rooms[1]
        else:
            booms = [each.value for each in other.readings if each.code == "boom"]
            assert len(booms) == 2 and (booms[0] != booms[1] or one.station.phase == "lift-off")
            assert len(rooms[1]) == 2 * len(rooms[0])


def test_a_load_may_not_be_landed_at_the_very_pads() -> None:
    lift = shipped()
    (room,) = landing_readings(lift, 0.0)
    assert room.level == "good"
    near = replace(lift, landing=replace(lift.landing, y_m=lift.landing.y_m - room.value + HANDS_TAKE_M - 0.01))
    (short,) = landing_readings(near, 0.0)
    assert short.level == "stop" and short.value == pytest.approx(HANDS_TAKE_M - 0.01)
    assert "landing" in check_setup(near, step_m=4.0).refused_for
    (aside,) = landing_readings(lift, 0.4)
    assert aside.value == pytest.approx(room.value - 0.4)


def test_a_load_that_lies_near_a_pad_has_more_room_left_over_than_one_that_is_carried_past() -> None:
    """It turns and slides as it comes free: 0.21 m was driven. Frame 2.5 m wide about y 5, mats to 3.1 + side / 2."""
    lift = replace(load(find_scenario("set_down")), drill=None)
    lift = replace(lift, trailer=replace(lift.trailer, start=replace(lift.trailer.start, y_m=5.0)))
    for room_m, refused in ((0.25, True), (0.35, False)):
        side_m = 2.0 * (3.75 - room_m - 3.1)
        units = tuple(
            replace(unit, floats=replace(unit.floats, pad_side_m=side_m, across_m=3.1)) for unit in lift.units
        )
        found = check_setup(replace(lift, units=units))
        lies = [one for at in found.stations for one in at.readings if one.code == "passing"]
        assert min(one.value for one in lies) == pytest.approx(room_m, abs=0.04)
        assert ("passing" in found.refused_for) is refused, (room_m, found.refused_for)


def test_a_load_that_lies_on_a_pad_is_refused() -> None:
    """The frame of a drill lies on the road, 2.5 m wide about y 5: mats whose edge lies farther out than 3.75 are under
    it."""
    lift = replace(load(find_scenario("set_down")), drill=None)
    lift = replace(lift, trailer=replace(lift.trailer, start=replace(lift.trailer.start, y_m=5.0)))
    for side_m, refused in ((0.6, False), (2.0, True)):
        units = tuple(
            replace(unit, floats=replace(unit.floats, pad_side_m=side_m, across_m=3.1)) for unit in lift.units
        )
        found = check_setup(replace(lift, units=units))
        assert ("passing" in found.refused_for) is refused, (side_m, found.refused_for)


@pytest.mark.parametrize(("gap_m", "refused"), [(0.05, True), (0.4, False)])
def test_a_load_carried_lower_than_the_decks_needs_room_at_its_ends(gap_m: float, refused: bool) -> None:
    """Between the tailboards, over nothing: what it would meet first is a tailboard, beside it."""
    lift = replace(load(find_scenario("plumb_tips")), drill=None)
    lift = replace(lift, path=replace(lift.path, belly_over_road_m=0.5))
    body, start = load_of(lift).body, lift.trailer.start
    ends = start.x_m + body.low_m[0], start.x_m + body.high_m[0]
    units = tuple(
        replace(unit, slew_axis_x_m=end - unit.facing * (unit.tailboard_m + gap_m))
        for unit, end in zip(lift.units, ends, strict=True)
    )
    assert all(unit.deck_height_m > 0.5 for unit in units)
    found = check_setup(replace(lift, units=units), step_m=1.0)
    beside = min(
        (one for at in found.stations for one in at.readings if one.code == "passing"), key=lambda one: one.value
    )
    assert ("passing" in found.refused_for) is refused, beside
    assert beside.value == pytest.approx(gap_m, abs=0.03) and "tailboard" in beside.what


@pytest.mark.parametrize(("roll", "level"), [(10.0, "good"), (30.0, "caution"), (90.0, "stop")])
def test_a_load_that_lies_on_another_side_than_it_hangs_on_is_refused(roll: float, level: str) -> None:
    """A quarter turn as it comes free: hung so, it was driven upside down and never landed."""
    found = Lying(0.3, 0.0, 0.5, 0.0, 0.0, (0.0, -radians(roll)))
    (rolls,) = [one for one in lying_readings(found) if one.code == "rolls"]
    assert rolls.level == level and rolls.value == pytest.approx(radians(roll))


def test_a_quarter_turn_off_its_stated_side_refuses_the_set_up() -> None:
    lift = load(find_scenario("practice_yard"))
    assert "rolls" not in check_setup(lift, step_m=4.0).refused_for
    # Said to lie on its side, but as flat as it was: that is a quarter turn from its side.
    over = replace(lift.trailer, attitude="top_to_road", start=replace(lift.trailer.start, roll_rad=-pi / 2.0))
    assert "rolls" in check_setup(replace(lift, trailer=over), step_m=4.0).refused_for


@pytest.mark.parametrize(("spare_m", "level"), [(-0.05, "stop"), (0.06, "good")])
def test_a_bank_beside_a_load_that_wind_takes_there_as_it_rises_refuses_the_set_up(spare_m: float, level: str) -> None:
    """Drift by hand: wind over weight, times the drop of the lines. The face stands beside a level bench: with less
    room than the drift the load is inside it, with more it is over the bench by the height at which it is held."""
    lift = load(find_scenario("box_on_wheels"))
    wind = replace(lift.site.wind, speed_mps=9.0, gust_share=0.0, toward_rad=pi / 2.0)
    lift, numbers = site(lift, wind=wind), load_of(lift)
    at = check_setup(lift, step_m=4.0).stations[0].station
    drop_m = at.tips_m[0][2] - at.hooks_m[0][2]
    drift_m = wind_force_N(lift, numbers)[1] / numbers.weight_N * drop_m
    foot_y_m, _ = lift.site.section_m[2]
    start = replace(lift.trailer.start, y_m=foot_y_m - numbers.body.high_m[1] - drift_m - spare_m)
    found = check_setup(replace(lift, trailer=replace(lift.trailer, start=start)), step_m=4.0)
    (rising,) = [one.reading for one in found.findings if one.reading.code == "rising"]
    assert rising.level == level, (rising, drift_m)
    assert ("rising" in found.refused_for) is (level == "stop")
    assert f"{rising.name} " in "\n".join(setup_lines(found, Amounts())), "the name leaves its column a space"
    if level == "good":
        assert rising.value == pytest.approx(lift.path.hold_height_m, abs=0.02)


def test_in_still_air_nothing_is_said_of_a_bank_beside_a_load_that_goes_straight_up() -> None:
    lift = load(find_scenario("box_on_wheels"))
    found = check_setup(site(lift, wind=replace(lift.site.wind, speed_mps=0.0)), step_m=4.0)
    assert not [one for one in found.findings if one.reading.code == "rising"]


@pytest.mark.parametrize("hold_height_m", [0.0, 0.001])
def test_a_load_that_is_not_held_low_is_looked_at_from_a_hands_width_up(hold_height_m: float) -> None:
    """Holding it lower makes no room, and no hold at all still ends the check."""
    lift = load(find_scenario("box_on_wheels"))
    wind = replace(lift.site.wind, speed_mps=9.0, gust_share=0.0, toward_rad=pi / 2.0)
    lift = replace(site(lift, wind=wind), path=replace(lift.path, hold_height_m=hold_height_m))
    near = replace(lift.trailer, start=replace(lift.trailer.start, y_m=lift.site.section_m[2][0] - 1.35))
    (far,), (rising,) = (
        [one.reading for one in check_setup(described, step_m=4.0).findings if one.reading.code == "rising"]
        for described in (lift, replace(lift, trailer=near))
    )
    assert far.level == "good" and far.value == pytest.approx(LEAST_HELD_M, abs=0.02)
    assert rising.level == "stop" and rising.stop == pytest.approx(RISES_STOP * LEAST_HELD_M)

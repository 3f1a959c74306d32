"""Picks and spacings side by side: boom for overhang by closed form, bands, and rows that are the check's own."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians, sqrt

import pytest

from simulator.__main__ import main
from simulator.mechanics.trailer_body import stated_cg_m, stated_mass_kg
from simulator.plan.compare import limit_used
from simulator.plan.findings import Reading
from simulator.plan.picks import candidates, compare_picks, overhang_costs, with_pick
from simulator.plan.setup_check import check_setup
from simulator.plan.spacing import (
    ends,
    gaps,
    leaders,
    least_used,
    set_back_m,
    set_backs,
    trailer_length_m,
    with_gap,
    with_set_back,
)
from simulator.plan.unit_stand import Pull
from simulator.report.amounts import Amounts
from simulator.report.plan.compare_lines import pick_lines, row_json, spacing_lines, verdict
from simulator.report.plan.setup_lines import LEVEL_WORDS
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump
from simulator.scenario.trailer import PickCandidate
from tests.demo import textbook
from tests.plan.leaning import stands_for
from tests.plan.variants import path, shipped, trailer

FOOT_M = 0.3048
EIGHT_FEET_M = 8.0 * FOOT_M


def test_eight_feet_of_overhang() -> None:
    """P: 12 ft of boom at 48.19 deg. C: at constant height, from L = sqrt(level^2 + rise^2), boom foot 1.2 m back."""
    lift = textbook()
    costs = {(cost.end, cost.place): cost for cost in overhang_costs(lift, EIGHT_FEET_M)}
    rise = 9.3 - 2.6
    for end, along in (("nose", 9.075 - 6.4), ("tail", 9.075 - 6.0)):
        for place, y in (("over the tailboard", 0.0), ("raised over the bed", 8.0)):
            cost = costs[end, place]
            before, after = hypot(along, y), hypot(along + EIGHT_FEET_M, y)
            boom = sqrt((after + 1.2) ** 2 + rise**2) - sqrt((before + 1.2) ** 2 + rise**2)
            assert cost.at_constant_height_m == pytest.approx(boom, abs=2e-4)
            assert cost.at_usual_elevation_m == pytest.approx((after - before) * 12.0 / 8.0, abs=2e-4)
    nose_over, nose_bed = costs["nose", "over the tailboard"], costs["nose", "raised over the bed"]
    assert nose_over.at_usual_elevation_m / FOOT_M == pytest.approx(12.0, abs=0.001)
    for cost, usual, height in ((nose_over, 12.0, 4.8), (nose_bed, 5.2, 2.9)):
        assert cost.at_usual_elevation_m / FOOT_M == pytest.approx(usual, abs=0.05)
        assert cost.at_constant_height_m / FOOT_M == pytest.approx(height, abs=0.05)


def test_eight_feet_of_the_published_boom() -> None:
    """C (trigonometry): from 40 ft at 60 deg, 8 ft farther out at the same height: +4.542 ft, not 12."""
    lift = textbook()
    rise, reach = 40.0 * FOOT_M * sqrt(3.0) / 2.0, 20.0 * FOOT_M
    foot = replace(lift.units[0].boom, foot_pin_back_m=0.0, foot_pin_height_m=9.3 - rise)
    unit = replace(lift.units[0], boom=foot, slew_axis_x_m=-6.4 - reach)
    (cost, *_) = overhang_costs(replace(lift, units=(unit, *lift.units[1:])), EIGHT_FEET_M)
    assert cost.at_constant_height_m / FOOT_M == pytest.approx(4.542, abs=0.0006)


def test_candidates_are_each_compared_as_a_check_of_their_own() -> None:
    lift = shipped()
    several = candidates(lift, inboard_m=(1.2,))
    first, nose, tail = compare_picks(lift, several)
    assert first.row is not None and nose.row is not None and tail.row is not None
    assert first.row.within_limits
    half_m, (nose_x, tail_x) = trailer_length_m(lift) / 2.0, (pick.at_m[0] for pick in lift.trailer.picks)
    assert (nose.overhang_m, tail.overhang_m) == pytest.approx((half_m + nose_x + 1.2, half_m - tail_x + 1.2))
    for one, candidate in ((nose.row, several[0]), (tail.row, several[1])):
        alone = check_setup(with_pick(lift, candidate), step_m=1.0)
        assert one.refused_for == alone.refused_for
        assert one.least_float_share[0] == min(at.units[0].floats.lightest_share for at in alone.stations)
    cg_x = lift.trailer.start.x_m
    assert nose.row.shares[0] == pytest.approx((tail_x - cg_x) / (tail_x - nose_x - 1.2), abs=1e-4)
    assert nose.row.shares[0] > first.row.shares[0]


def test_a_scenario_may_bring_its_own_candidates() -> None:
    """Additive: it is written and read back, and nothing but the comparison looks at it."""
    _, y, z = shipped().trailer.picks[0].at_m
    leg = PickCandidate("landing legs", "nose", (-4.15, y, z))
    beyond = PickCandidate("behind the load", "nose", (0.9, y, z))
    low = PickCandidate("under the shell", "tail", (5.3, -y, z), "single_point")
    lift = trailer(shipped(), pick_candidates=(leg, beyond, low))
    assert parse_text(dump(lift), "x.toml") == lift
    assert check_setup(lift, room=False).stations == check_setup(shipped(), room=False).stations
    _, first, second, third = compare_picks(lift, candidates(lift))
    assert first.row is not None and first.name == "landing legs"
    assert second.row is None and "between the picks" in second.why_not
    assert third.row is None and "turn over" in third.why_not


def test_the_gap_band_and_where_the_elevation_ends_it() -> None:
    """The tail boom may not stand past 62 deg: for its tip over the tailboard, by what this gives (`leaning`)."""
    lift = shipped()
    length, cg_x = trailer_length_m(lift), stated_cg_m(lift.trailer)[0]
    (nose_x, _, _), (tail_x, _, _) = (pick.at_m for pick in lift.trailer.picks)
    share = (cg_x - nose_x) / (tail_x - nose_x)
    below_kg = lift.units[1].lines[0].hoist.block_kg + lift.trailer.picks[1].hung_kg
    down_N = 9.80665 * (share * stated_mass_kg(lift.trailer) + below_kg)
    tail_x += lift.trailer.start.x_m - cg_x
    found = gaps(lift, (0.5, 0.6, 0.68, 0.7, 0.8, 0.9))
    assert [one.row.within_limits for one in found] == [False, False, True, True, True, False]
    for one in found:
        unit = with_gap(lift, one.value * length).units[1]
        _, elevation, _ = stands_for(unit, (tail_x, 0.0, lift.path.tip_height_m), Pull(down_N, (0.0, 0.0), 0.0))
        assert one.row.elevation_rad[1] == pytest.approx(elevation, abs=1e-5)
        assert ("elevation" in one.row.refused_for) == (elevation > radians(62.0))
    ((least, most),) = ends(found)
    assert least.refused is not None and most.refused is not None
    assert (least.refused.value, least.end.value, most.end.value, most.refused.value) == (0.6, 0.68, 0.8, 0.9)
    top = least_used(found)
    assert top is not None and top.row.within_limits
    assert top.row.used == min(one.row.used for one in found if one.row.within_limits)


@pytest.mark.parametrize("name", ["tank_on_side", "box_on_wheels"])
def test_a_shipped_lift_stands_where_its_limits_are_used_least(name: str) -> None:
    """Of gaps a twentieth of the trailer's length apart, as its file says; on either side more of a limit is used."""
    lift = shipped(name)
    share = lift.gap_m / trailer_length_m(lift)
    nearer, stands, farther = gaps(lift, (share - 0.05, share, share + 0.05))
    assert stands.row.used < min(nearer.row.used, farther.row.used)
    assert verdict(stands.row) == "within"


def test_gap_and_set_back_as_asked_for() -> None:
    lift = shipped()
    assert with_gap(lift, 11.3).gap_m == pytest.approx(11.3)
    assert set_back_m(lift) == pytest.approx(4.65 - 3.5 - 0.375)
    moved = with_set_back(lift, 1.5)
    assert set_back_m(moved) == pytest.approx(1.5)
    by = 1.5 - set_back_m(lift)
    assert moved.trailer.start.y_m == pytest.approx(lift.trailer.start.y_m - by)
    assert moved.site.live_lane_y_m == pytest.approx(lift.site.live_lane_y_m - by)
    near, stands, far = set_backs(lift, (0.5, set_back_m(lift), 3.0))
    assert near.row.refused_for == ("set-back",)
    assert stands.row.within_limits
    assert far.row.refused_for == ("capacity", "lightest float", "live lane")
    assert far.row.reach_m[0] > stands.row.reach_m[0]


def test_the_end_that_leads_comes_nearer_to_its_own_unit() -> None:
    """With its tip ahead the load yaws: room beside the units is less than with both level."""
    lift = shipped()
    level = check_setup(lift)
    nose, tail = leaders(lift)
    room = next(one.reading.value for one in level.findings if one.reading.code == "passing")
    assert max(nose.room_m, tail.room_m) < room
    assert "nose unit" in nose.room_to
    assert "tail unit" in tail.room_to


def test_a_room_too_far_to_be_measured_is_at_least_so_far() -> None:
    """Far is 1.5 m more than close, as in a check; high and far enough out in the yard, the room is between the two."""
    yard = shipped("practice_yard")
    yard = replace(yard, landing=replace(yard.landing, y_m=yard.landing.y_m + 0.4))
    high = path(yard, belly_over_road_m=yard.path.belly_over_road_m + 2.0, tip_height_m=yard.path.tip_height_m + 3.0)
    for close_m, is_far in ((0.3, False), (0.1, True)):
        lift = replace(high, limits=replace(high.limits, gap_close_m=close_m))
        rows, found = leaders(lift), compare_picks(lift, candidates(lift, inboard_m=(0.5,)))
        assert all((row.room_m > close_m + 1.5) is row.room_is_at_least is is_far for row in rows)
        assert [row_json(row)["room_is_at_least"] for row in rows] == [is_far, is_far]
        lines = spacing_lines((), (), rows, 14.6, Amounts())
        assert sum(f"; least room {'at least ' if is_far else ''}1." in line for line in lines) == len(rows)
        assert all(
            one.row is not None and (one.row.room_m > close_m + 1.5) is one.row.room_is_at_least for one in found
        )


@pytest.mark.parametrize(
    ("value", "stop", "rising", "used"),
    [
        (0.5, 1.0, True, 0.5),
        (2.0, 0.5, False, 0.25),
        (0.0, 0.0, False, 1.0),
        (0.3, 0.0, False, 0.5),
        (0.0, 0.5, False, 9e9),
    ],
)
def test_how_much_of_a_limit_is_used(value: float, stop: float, rising: bool, used: float) -> None:
    found = limit_used(Reading("x", "nose unit", "x", "m", value, stop, stop, rising))
    assert found == pytest.approx(used) if used < 1e9 else found > 1e9


def test_the_same_three_words_as_a_check() -> None:
    """good, CAUTION and STOP: of each pick what a check of that very lift says."""
    lift = shipped()
    several = candidates(lift, inboard_m=(0.3, 1.2, EIGHT_FEET_M))
    levels = set()
    for candidate, one in zip(several, compare_picks(lift, several)[1:], strict=True):
        alone = check_setup(with_pick(lift, candidate), step_m=1.0)
        worst = "stop" if alone.refused_for else "caution" if alone.cautioned_for else "good"
        codes = {each.reading.code for each in alone.findings if each.level == worst != "good"}
        assert one.row is not None
        word, _, told = verdict(one.row).partition(": ")
        assert word == LEVEL_WORDS[worst] and {one for one in told.split(", ") if one} == codes  # type: ignore[index]
        assert row_json(one.row)["level"] == worst
        levels.add(worst)
    assert levels == {"good", "caution", "stop"}
    assert verdict(compare_picks(lift, [])[0].row) == "within"  # type: ignore[arg-type]


def test_an_end_of_what_works_says_how_far_the_refused_one_is() -> None:
    """Trailer 14.6 m (47.9 ft) long: 3 % of it are 0.44 m (1.44 ft)."""
    lift = textbook()
    by_gap, by_edge = gaps(lift, (0.72, 0.75, 0.78, 1.2)), set_backs(lift, (0.5, 1.2, 1.5))
    for system, least in (("metric", "72 % (10.51 m), the last that was tried"), ("us", "72 % (34.49 ft), the last")):
        lines = spacing_lines(by_gap, by_edge, leaders(lift), 14.6, Amounts(system))  # type: ignore[arg-type]
        assert any(line.startswith(f"least within limits: {least}") for line in lines)
    (least, near), (most, far) = [
        [line.partition(": ")[2] for line in lines if line.startswith(f"{word} within limits")]
        for word in ("least", "most")
    ]
    assert near == "3.94 ft; 2.30 ft less is a STOP: set-back" and far == "4.92 ft, the last that was tried"
    assert most.startswith("78 % (37.36 ft); 42 % (20.12 ft) more is a STOP: ")
    assert not any("best" in line for line in lines)
    assert sum("nose / tail ft" in line and "nose / tail deg" in line for line in lines) == 2
    assert "each passes a limit: STOP at each" in spacing_lines(by_gap[3:], by_edge, leaders(lift), 14.6, Amounts())


def test_the_least_used_at_an_end_is_no_place_to_aim_for() -> None:
    lift = textbook()
    at_the_end, inside = gaps(lift, (0.7, 0.75, 0.8)), gaps(lift, (0.75, 0.8))
    for found, warns in ((at_the_end, True), (inside, False)):
        lines = spacing_lines(found, found, leaders(lift), trailer_length_m(lift), Amounts())
        (line, *_) = [line for line in lines if line.startswith("limits are used least")]
        assert " at 75 % (10.95 m)" in line and ("stand clear of it" in line) is warns


def test_picks_are_named_in_the_users_units(capsys: pytest.CaptureFixture[str]) -> None:
    """2 m, and half of it."""
    assert main(["picks", "tank_on_side", "--units", "us"]) == 0
    said = capsys.readouterr().out
    assert "6.56 ft farther in" in said and "3.28 ft farther in" in said and " m farther" not in said
    found = compare_picks(shipped(), candidates(shipped(), inboard_m=(1.2,)))
    lines = pick_lines(found, (), Amounts("us"))
    assert "nose / tail" in lines[1] and "1,000 lb" in lines[1]

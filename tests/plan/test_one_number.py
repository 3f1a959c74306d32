"""A set-up that works, broken by one number at a time: refused for that and nothing else, and cured as told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import radians
from typing import NamedTuple

import pytest

from simulator.plan.findings import Finding
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description
from simulator.scenario.site import OverheadLine
from simulator.scenario.trailer import Cargo
from simulator.scenario.unit import Equipment, Rating
from tests.demo import textbook
from tests.plan.variants import boom, floats, hoist, level_bed, path, picks, shipped, site, soil, trailer, units

STEP_M = 1.0


class OneNumber(NamedTuple):
    """What is changed, and what the set-up is then refused for."""

    code: str
    change: Callable[[Description], Description]


def _rated(lift: Description, factor: float) -> Rating:
    table = lift.units[0].rating
    assert table is not None
    return replace(table, rated_kg=tuple(tuple(factor * value for value in row) for row in table.rated_kg))


def _cargo(lift: Description, **changes: object) -> Cargo:
    return replace(lift.trailer.cargo, **changes)  # type: ignore[arg-type]


def _higher(lift: Description, by_m: float) -> tuple[float, float, float]:
    x, y, z = lift.trailer.cargo.cg_m
    return x, y, z + by_m


def _far_from_plumb(lift: Description) -> Description:
    """A maker who allows 3 degrees."""
    return replace(lift, limits=replace(lift.limits, off_plumb_stop_rad=radians(3.0)))


def _blown(lift: Description, speed_mps: float) -> Description:
    return site(lift, wind=replace(lift.site.wind, speed_mps=speed_mps))


WINCH = Equipment("tall winch", 1.4, 2.2, 1.0, 1.9)
BROKEN = {
    "boom 3 m shorter": OneNumber("boom length", lambda lift: boom(lift, longest_m=11.5)),
    "shortest boom longer": OneNumber("boom length", lambda lift: boom(lift, shortest_m=8.0)),
    "elevation to 59 deg": OneNumber("elevation", lambda lift: boom(lift, highest_rad=radians(59.0))),
    "elevation from 40 deg": OneNumber("elevation", lambda lift: boom(lift, lowest_rad=radians(40.0))),
    "slew to -70 deg": OneNumber("slew", lambda lift: boom(lift, slew_ravine_rad=radians(-70.0))),
    "slew to +60 deg": OneNumber("slew", lambda lift: boom(lift, slew_road_rad=radians(60.0))),
    "less rope": OneNumber("rope left", lambda lift: hoist(lift, usable_rope_m=45.0)),
    "longer block": OneNumber("head room", lambda lift: hoist(lift, block_and_stop_m=2.2)),
    "lower tips": OneNumber("head room", lambda lift: path(lift, tip_height_m=lift.path.tip_height_m - 1.2)),
    "weaker winch": OneNumber("stall", lambda lift: hoist(lift, stall_line_pull_N=70e3)),
    "smaller pads": OneNumber("bearing", lambda lift: floats(lift, pad_side_m=0.55)),
    "softer ground": OneNumber("bearing", lambda lift: soil(lift, allowable_bearing_Pa=300e3)),
    "flatter safe slope": OneNumber("set-back", lambda lift: soil(lift, steepest_angle_rad=radians(80.0))),
    "lower rating": OneNumber("capacity", lambda lift: units(lift, rating=_rated(lift, 0.6))),
    "lighter carrier": OneNumber("lightest float", lambda lift: units(lift, carrier_kg=13e3)),
    "tall equipment": OneNumber("gap over", lambda lift: units(lift, equipment=(WINCH,))),
    "guard rail": OneNumber("gap over", lambda lift: site(lift, guard_rail_height_m=1.9)),
    "carried lower": OneNumber("gap over", lambda lift: path(lift, belly_over_road_m=1.2)),
    "wide superstructure": OneNumber("passing", lambda lift: units(lift, superstructure_radius_m=1.6)),
    "deep boom": OneNumber("boom", lambda lift: boom(lift, depth_m=3.5)),
    "lane nearer": OneNumber("live lane", lambda lift: site(lift, live_lane_y_m=8.5)),
    "power line": OneNumber("overhead line", lambda lift: site(lift, overhead_line=OverheadLine(-10.5, 10.0, 30.0))),
    "storm": OneNumber("off plumb", lambda lift: _blown(units(lift, wind_stop_mps=60.0), 20.0)),
    "wind past the usual limit": OneNumber("wind", lambda lift: _blown(_far_from_plumb(lift), 14.1)),
    "wind past the maker's limit": OneNumber("wind", lambda lift: _blown(units(lift, wind_stop_mps=8.0), 8.1)),
    "weaker rope": OneNumber("hoist rope", lambda lift: hoist(lift, rope_breaking_N=220e3)),
    "rope by the tables": OneNumber("hoist rope", lambda lift: hoist(lift, rope_breaking_N=None)),
    "small sheave": OneNumber("rope bend", lambda lift: hoist(lift, sheave_diameter_m=0.33)),
    "small drum": OneNumber("rope bend", lambda lift: hoist(lift, drum_diameter_m=0.31)),
    "small chain at hand": OneNumber("rigging", lambda lift: picks(lift, pieces=("chain Gr 80 1/2 in",))),
    "weak shell": OneNumber("pick", lambda lift: picks(lift, may_carry_N=130e3)),
    "soft shell": OneNumber("press", lambda lift: picks(lift, may_press_N=30e3)),
    "slick bed": OneNumber("lying", lambda lift: site(lift, contact=replace(lift.site.contact, friction=0.08))),
    "load beside its picks": OneNumber(
        "hung roll", lambda lift: trailer(lift, cargo=_cargo(lift, cg_m=_higher(lift, 1.0)))
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_it_is_refused_for_that_and_nothing_else(name: str) -> None:
    code, change = BROKEN[name]
    found = check_setup(change(shipped()), step_m=STEP_M)
    assert found.refused_for == (code,)
    assert not found.within_limits


def test_unchanged_it_is_refused_for_nothing() -> None:
    assert check_setup(shipped()).refused_for == ()


def _worst(found: SetupCheck, code: str) -> Finding:
    return min((one for one in found.findings if one.reading.code == code), key=lambda one: one.reading.margin)


def _amount(lift: Description, code: str, which: int = 0) -> float:
    change = _worst(check_setup(lift, step_m=STEP_M), code).reading.change
    assert change is not None
    return change.amounts[which].value


ROUNDING = 1e-6


def _cured(name: str) -> Description:
    """The broken set-up with the change that its own answer tells."""
    code, change = BROKEN[name]
    lift = change(shipped())
    amount = _amount(lift, code) + ROUNDING
    hoist_now, floats_now = lift.units[0].hoist, lift.units[0].floats
    if code == "rope left":
        return hoist(lift, usable_rope_m=hoist_now.usable_rope_m + amount)
    if code == "head room":
        return path(lift, tip_height_m=lift.path.tip_height_m + amount)
    if code == "bearing":
        return floats(lift, pad_side_m=amount)
    if code == "set-back":
        return floats(lift, across_m=floats_now.across_m - amount)
    if code == "gap over":
        return path(lift, belly_over_road_m=lift.path.belly_over_road_m + amount)
    if code == "off plumb":
        return site(lift, wind=replace(lift.site.wind, speed_mps=amount - 2 * ROUNDING))
    if code == "live lane":
        return site(lift, live_lane_y_m=lift.site.live_lane_y_m + amount)
    assert code == "elevation" or name == "boom 3 m shorter"
    amount = _amount(lift, code, 1)
    return path(lift, tip_height_m=lift.path.tip_height_m - amount - ROUNDING)


@pytest.mark.parametrize(
    "name",
    [
        "less rope",
        "longer block",
        "lower tips",
        "smaller pads",
        "flatter safe slope",
        "tall equipment",
        "carried lower",
        "storm",
        "lane nearer",
        "elevation to 59 deg",
        "boom 3 m shorter",
    ],
)
def test_what_it_tells_to_change_cures_it(name: str) -> None:
    assert BROKEN[name].code not in check_setup(_cured(name), step_m=STEP_M).refused_for


@pytest.mark.parametrize("name", ["elevation to 59 deg", "slew to -70 deg", "slew to +60 deg"])
def test_standing_farther_off_by_what_it_tells_cures_it(name: str) -> None:
    code, change = BROKEN[name]
    lift = change(shipped())
    amount = _amount(lift, code) + ROUNDING
    nose, tail = lift.units
    moved = replace(
        lift,
        units=(
            replace(nose, slew_axis_x_m=nose.slew_axis_x_m - amount),
            replace(tail, slew_axis_x_m=tail.slew_axis_x_m + amount),
        ),
    )
    assert code not in check_setup(moved, step_m=STEP_M).refused_for


@pytest.mark.parametrize("name", ["weaker winch", "lower rating"])
def test_taking_off_what_it_tells_cures_it(name: str) -> None:
    """The line load past its limit, by hand from the finding's own station."""
    code, change = BROKEN[name]
    found = check_setup(change(shipped()))
    worst = _worst(found, code)
    assert worst.reading.change is not None
    station = next(one for one in found.stations if one.station.name == worst.where)
    stand = station.units[("nose unit", "tail unit").index(worst.reading.who)]
    allowed = stand.line.load_N / worst.reading.value
    assert stand.line.load_N - worst.reading.change.amounts[0].value == pytest.approx(allowed)


def test_steps_of_slew_find_the_same_as_steps_of_y() -> None:
    """The path's ends and middle are stations of both."""
    by_y, by_slew = check_setup(shipped()), check_setup(shipped(), slew_step_rad=radians(10.0))
    slews = [one.units[0].points.slew_rad for one in by_slew.stations if one.station.phase == "crossing"]
    assert slews == pytest.approx([radians(10.0 * round(slew / radians(10.0))) for slew in slews])
    assert len(slews) >= 12
    assert by_slew.within_limits and by_y.within_limits
    for code in ("capacity", "lightest float", "head room", "rope left", "boom length"):
        assert _worst(by_slew, code).reading.value == pytest.approx(_worst(by_y, code).reading.value)


def test_hidden_numbers_are_not_looked_at_unless_asked() -> None:
    lift = trailer(shipped(), hidden_cg_m=(0.7, 0.0, 0.0), hidden_mass_factor=1.1)
    told = check_setup(lift, room=False)
    assert [one.units for one in told.stations] == [one.units for one in check_setup(shipped(), room=False).stations]
    true = check_setup(lift, room=False, stated=False)
    assert true.stations[0].units[1].line.load_N > told.stations[0].units[1].line.load_N


def test_the_demo_sets_hidden_cg() -> None:
    """Least float with the hidden CG 0.7 m off: 3.6 t."""
    lift = level_bed(trailer(textbook(), hidden_cg_m=(0.7, 0.0, 0.0)))
    true = check_setup(lift, room=False, stated=False)
    least = min(min(stand.floats.reactions_N) for one in true.stations for stand in one.units)
    assert least / 9806.65 == pytest.approx(3.6, abs=0.06)

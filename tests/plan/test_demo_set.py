"""The demo set's stations, and the variants that it refuses. Invented numbers, worked through beforehand."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, sin, tan

import pytest

from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description
from simulator.scenario.rig import NOSE
from tests.demo import textbook, with_pick
from tests.mechanics.demo_set import STATIONS, Station
from tests.plan.leaning import stands_for
from tests.plan.variants import TYPE_C_RAD, level_bed, on_soil, on_wheels, shipped

TONNE_N = 9806.65


@pytest.fixture(scope="module")
def tank() -> SetupCheck:
    return check_setup(level_bed(textbook()), step_m=2.0)


@pytest.mark.parametrize(
    "row", STATIONS, ids=lambda row: f"{'nose' if row.end == 0 else 'tail'} {row.y_m} {row.belly_m}"
)
def test_the_stations_of_the_demo_set(tank: SetupCheck, row: Station) -> None:
    """To half a unit of the last digit shown: a boom that reaches straight from its foot pin to the tip."""
    here = [one for one in tank.stations if abs(one.station.y_m - row.y_m) < 0.01]
    lowest = [one.station.pose.z_m + min(z for _, _, z in tank.load.corners_m) for one in here]
    station = here[min(range(len(here)), key=lambda i: abs(lowest[i] - row.belly_m))]
    stand = station.units[row.end]
    assert stand.reach_m == pytest.approx(row.reach_m, abs=0.01)
    assert stand.points.length_m == pytest.approx(row.boom_m, abs=0.06)
    assert degrees(stand.points.elevation_rad) == pytest.approx(row.elevation_deg, abs=0.1)
    assert degrees(stand.points.slew_rad) == pytest.approx(row.slew_deg, abs=0.1)
    assert [reaction / TONNE_N for reaction in stand.floats.reactions_N] == pytest.approx(row.floats_t, abs=0.06)
    assert 100.0 * stand.capacity.of_tipping == pytest.approx(row.of_85_percent_tip, abs=0.6)
    assert stand.line.head_room_m == pytest.approx(row.head_room_m, abs=0.06)
    assert stand.line.rope_out_m == pytest.approx(row.rope_out_m, abs=0.06)
    assert stand.line.load_N / TONNE_N == pytest.approx(13.5, abs=0.01)
    assert stand.choice.within


def test_booms_stand_short_of_their_tips_by_what_these_give(tank: SetupCheck) -> None:
    """By hand, see `leaning`; the box has wind besides."""
    for found in (tank, check_setup(shipped("box_on_wheels"), room=False)):
        for one in found.stations:
            for unit, tip, stand in zip(found.description.units, one.station.tips_m, one.units, strict=True):
                assert stand.pose == pytest.approx(stands_for(unit, tip, stand.pull), abs=1e-5)
                assert stand.pose.elevation_rad > stand.points.elevation_rad


def test_the_tank_works_with_the_margins_told(tank: SetupCheck) -> None:
    assert tank.within_limits
    least = min(reaction for one in tank.stations for stand in one.units for reaction in stand.floats.reactions_N)
    most = max(reaction for one in tank.stations for stand in one.units for reaction in stand.floats.reactions_N)
    assert least / TONNE_N == pytest.approx(4.5, abs=0.06)
    assert most / 0.75**2 / 1e3 == pytest.approx(22.9 * 9.80665 / 0.75**2, rel=0.08)
    rooms = [beside for at in tank.stations if at.room is not None for beside in at.room.passing]
    superstructures = [max(one.distance_m, one.over_m) for one in rooms if one.meets.endswith("superstructure")]
    assert min(superstructures) == pytest.approx(0.52, abs=0.006)
    beside = next(one.reading for one in tank.findings if one.reading.code == "passing")
    assert beside.value == pytest.approx(0.45, abs=0.006) and beside.what.endswith("tailboard")


def test_soil_is_refused_for_its_pads_and_for_where_they_stand() -> None:
    """With soil the pads press too hard and stand beyond the toe line: the face at 1-1/2:1 less the run it has."""
    lift = level_bed(shipped())
    found = check_setup(on_soil(lift))
    assert found.refused_for == ("bearing", "set-back")
    worst = min(one.reading.margin for one in found.findings if one.reading.code == "set-back")
    (edge_m, _), (toe_m, toe_z_m) = lift.site.section_m[1:3]
    needed = -toe_z_m / tan(TYPE_C_RAD) - (edge_m - toe_m)
    assert worst == pytest.approx((-edge_m - 3.5 - 0.375) - needed, abs=1e-6)


def test_the_tank_on_its_wheels_is_refused_for_head_room() -> None:
    """Tip - (belly + height + rigging) - block and stop: 9.3 - (1.8 + 4.0 + 2.3) - 1.0 = 0.2 m in the textbook case."""
    assert _head_room_m(on_wheels(textbook())) == pytest.approx(0.2)
    lift = on_wheels(shipped())
    found = check_setup(lift)
    # And it would not stand there: of what it has underneath only axles and shell touch, so it drops its nose.
    assert set(found.refused_for) == {"head room", "lying"}
    for one in found.findings:
        if one.reading.code == "head room":
            assert one.reading.value == pytest.approx(_head_room_m(lift), abs=1e-6)
            assert "over the tailboards" in one.stops


def _head_room_m(lift: Description) -> float:
    pick = lift.trailer.picks[0]
    block = lift.units[0].lines[0].hoist.block_and_stop_m
    return lift.path.tip_height_m - (lift.path.belly_over_road_m + pick.at_m[2] + pick.height_m) - block


def test_the_box_on_its_wheels_works_in_its_own_set_up() -> None:
    """Trigonometry of tips over their picks, statics of four equal floats (rigid pile cap, any foundation text)."""
    lift = shipped("box_on_wheels")
    found, rise = check_setup(lift), lift.path.tip_height_m - lift.units[0].boom.foot_pin_height_m
    assert found.within_limits
    for place, unit in enumerate(lift.units):
        along = abs(unit.slew_axis_x_m) - abs(lift.trailer.picks[place].at_m[0])
        stands = [one.units[place] for one in found.stations]
        over = min(stands, key=lambda stand: stand.reach_m)
        for y, stand in ((lift.trailer.start.y_m, stands[0]), (0.0, over), (lift.landing.y_m, stands[-1])):
            level = hypot(along, y) + unit.boom.foot_pin_back_m
            assert stand.points.length_m == pytest.approx(hypot(level, rise), abs=0.001)
            assert stand.points.elevation_rad == pytest.approx(atan2(rise, level), abs=0.001)
            assert stand.points.slew_rad == pytest.approx(atan2(y, along), abs=0.001)
        load_kg = stands[0].line.load_N / 9.80665
        reach, slew = hypot(along, lift.trailer.start.y_m), stands[0].points.slew_rad
        boom_at = 0.42 * (reach + 1.2) - 1.2
        out = 5.5e3 * boom_at + load_kg * reach - 11.5e3 * 1.7
        whole = 21e3 + 11.5e3 + 5.5e3 + load_kg
        toward_cab = (21e3 * 3.0 - out * cos(slew)) / whole - (4.2 - 2.8) / 2.0
        lightest = whole / 4.0 * (1.0 + toward_cab / 3.5 - abs(out * sin(slew)) / whole / 3.5)
        assert min(stands[0].floats.reactions_N) / TONNE_N == pytest.approx(lightest / 1e3, abs=0.06)
    assert min(stand.line.head_room_m for one in found.stations for stand in one.units) == pytest.approx(
        _head_room_m(lift), abs=0.01
    )


def test_a_pick_at_the_landing_legs_takes_a_float_up() -> None:
    """The demo set's lesson: the nose line at 16.9 t (26 t at 6.2 m of 9.83 m, block and rigging 0.5 t)."""
    lift = level_bed(textbook())
    x = 6.0 - 26.0 * 6.2 / (16.9 - 0.5)
    found = check_setup(with_pick(lift, NOSE, at_m=(x, *lift.trailer.pick(NOSE).at_m[1:])), room=False)
    lift_off = found.stations[0].units[0]
    assert lift_off.line.load_N / TONNE_N == pytest.approx(16.9, abs=0.01)
    assert lift_off.floats.reactions_N[2] == 0.0
    assert "lightest float" in found.refused_for
    worst = next(one for one in found.findings if one.reading.code == "lightest float")
    assert worst.reading.what == "cab-end road-side float"
    assert {"lift-off", "raised"} <= set(worst.stops)

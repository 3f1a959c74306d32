"""The demo scene: states, what is met, sideways room, booms, lane, head room to raise, and mirrored scenes."""

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pytest

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance.decks import Clearances, HeadRoom, clearances, head_room_to_raise, measured
from simulator.mechanics.clearance.over import boom_gap
from simulator.mechanics.clearance.passing import gap_state
from simulator.mechanics.clearance.place import place
from simulator.mechanics.clearance.scene import Pose, Scene, prepare_scene
from simulator.mechanics.clearance.touching import contacts
from simulator.scenario.description import Description, Limits
from simulator.scenario.trailer import Part
from tests.demo import demo_unit, pair_of_picks
from tests.mechanics.scene import (
    BLOCK_AND_STOP_M,
    DECK_M,
    HEIGHT_M,
    LONG_M,
    RIGGING_M,
    SITE,
    STATIONS,
    TIP_M,
    WIDTH_M,
    WINCH,
    boom,
    description,
    pose,
    trailer,
)

MM = 1e-3
FOOT_M = 0.3048
BOX = (Part("box", ((-7.3, 0.0), (7.3, 0.0), (7.3, HEIGHT_M), (-7.3, HEIGHT_M)), WIDTH_M, 5e3),)


def station(name: str, *, belly_m: float = 1.8, lift: Description | None = None) -> tuple[Scene, Pose, Clearances]:
    lift = lift or description()
    scene = prepare_scene(lift)
    y, nose, tail = STATIONS[name]
    where = pose(lift.trailer, belly_m=belly_m, middle_y_m=y)
    return scene, where, clearances(scene, where, (nose, tail))


@pytest.mark.parametrize(
    ("gap", "state"),
    [
        (-1.51, "to raise"),
        (-1.49, "not clear"),
        (-0.001, "not clear"),
        (0.0, "close"),
        (0.29, "close"),
        (0.31, "clears"),
    ],
)
def test_states(gap: float, state: str) -> None:
    assert gap_state(gap, Limits()) == state


def test_what_is_below_but_not_near_yet_is_to_raise() -> None:
    """Straight up from the bed every part goes through the height of the decks, meters away from them in plan."""
    found = station("on the bed", belly_m=DECK_M - 0.5)[2]
    assert {part.state for part in found.parts} <= {"to raise", "clears", "close"}
    assert found.parts[0].state == "to raise" and found.parts[0].gap_m == pytest.approx(-0.5, abs=MM)


def test_what_is_near_decides_though_something_farther_is_higher() -> None:
    """At y = -4 the shell is over the jacks (1.2 m) and 2 m short of the deck; missing is still the deck."""
    shell = station("crossing", belly_m=DECK_M - 0.5)[2].parts[0]
    assert shell.state == "not clear" and shell.meets.endswith("ravine-side jack")
    assert shell.gap_m == pytest.approx(DECK_M - 0.5 - 1.2, abs=MM)
    assert shell.to_raise_m == pytest.approx(0.5 + 0.30, abs=MM)


def test_on_the_bed_every_part_is_to_raise_and_by_how_much() -> None:
    _, _, found = station("on the bed", belly_m=-12.0)
    assert {part.state for part in found.parts} == {"to raise"}
    shell = found.parts[0]
    assert shell.meets.endswith("deck") or shell.meets.endswith("tailboard")
    assert shell.gap_m == pytest.approx(-12.0 - DECK_M, abs=MM)
    assert shell.to_raise_m == pytest.approx(12.0 + DECK_M + 0.30, abs=MM)
    assert found.governing == shell
    # Between the tailboards there is nothing to pass over but the slope's edge.
    middle = next(part for part in found.parts if part.part == "valve box")
    assert middle.meets == "slope's edge" and middle.gap_m == pytest.approx(-12.0 + (WIDTH_M - 1.6) / 2.0, abs=MM)


def test_crossing_the_shell_is_belly_less_deck_over_the_deck() -> None:
    _, _, found = station("crossing")
    assert found.parts[0].gap_m == pytest.approx(1.8 - DECK_M, abs=MM)
    assert found.parts[0].state == "clears"


def test_close_and_not_clear_over_the_deck() -> None:
    assert station("over tailboards", belly_m=DECK_M + 0.29)[2].parts[0].state == "close"
    shell = station("over tailboards", belly_m=DECK_M - 0.12)[2].parts[0]
    assert shell.state == "not clear" and shell.gap_m == pytest.approx(-0.12, abs=MM)


def test_past_the_decks_nothing_is_met() -> None:
    _, _, found = station("landed", belly_m=0.0)
    assert {(part.meets, part.state) for part in found.parts} == {("", "clears")}
    assert found.governing.gap_m == np.inf


def test_deck_equipment_and_guard_rail_stand_in_the_way() -> None:
    lift = description(site=replace(SITE, guard_rail_height_m=0.8), nose=demo_unit(equipment=(WINCH,)))
    shell = station("crossing", lift=lift)[2].parts[0]
    # The winch reaches 2.2 m toward the tailboard: x = -6.875, under the shell's last 0.4 m.
    assert shell.meets == "nose unit deck winch" and shell.gap_m == pytest.approx(1.8 - WINCH.height_m, abs=MM)
    box = next(part for part in station("on the bed", belly_m=-12.0, lift=lift)[2].parts if part.part == "valve box")
    assert box.meets == "guard rail" and box.gap_m == pytest.approx(-12.0 + 0.5 - 0.8, abs=MM)


def test_ends_pass_the_superstructures_by_the_demo_sets_figure() -> None:
    """Half the gap and the tailboard less radius and half the trailer: 0.525 m, the demo set's 0.52."""
    _, _, found = station("crossing")
    passing = {one.meets: one for one in found.passing}
    expected = 9.075 - 1.25 - LONG_M / 2.0
    for end in ("nose", "tail"):
        assert passing[f"{end} unit superstructure"].distance_m == pytest.approx(expected, abs=MM)
    assert passing["nose unit superstructure"].over_m == pytest.approx(1.8 - (2.6 + 0.4), abs=MM)


def test_pads_and_jacks_are_passed_above_and_landed_beside() -> None:
    _, _, over = station("crossing")
    jack = next(one for one in over.passing if one.meets.startswith("nose unit") and one.meets.endswith("jack"))
    assert (jack.distance_m, jack.state) == (0.0, "clears")
    assert jack.over_m == pytest.approx(1.8 - 1.2, abs=MM)
    _, _, landed = station("landed", belly_m=0.05)
    pad = next(one for one in landed.passing if one.meets == "nose unit tailboard-end road-side pad")
    # The shell reaches 2 m toward the ravine from the trailer's middle; the pad from 3.5 m to half a pad beyond.
    assert pad.distance_m == pytest.approx(6.6 - 2.0 - 3.5 - 0.375, abs=MM)


def test_a_counterweight_slewed_over_the_side_reaches_the_swept_trailer() -> None:
    lift = description()
    scene = prepare_scene(lift)
    where = pose(lift.trailer, belly_m=1.8, middle_y_m=-4.0)
    nose = boom(9.0, 48.1, 175.0)  # tail swing nearly straight over the tailboard
    found = clearances(scene, where, (nose, STATIONS["crossing"][2]))
    tail = next(one for one in found.passing if one.meets == "nose unit tail swing")
    assert tail.distance_m == 0.0 and tail.state == "not clear"
    assert any(part.meets == "nose unit tail swing" for part in found.parts)


def test_under_the_boom() -> None:
    """Slew 0: the underside stands u tan e - r / cos e over the foot pin, u level from it; u to the trailer's end."""
    lift = description(load=trailer(parts=BOX, on_wheels=False))
    scene = prepare_scene(lift)
    placed = place(scene, pose(lift.trailer, belly_m=1.8, middle_y_m=0.0), STATIONS["over tailboards"][1:])
    for end, degrees_ in enumerate((60.0, 57.5)):
        one, e = measured(scene, placed).booms[end], radians(degrees_)
        along = (9.075 + 1.2) - LONG_M / 2.0
        rise = 2.6 - (1.8 + WIDTH_M)
        gap, _ = boom_gap(placed, end)
        assert gap == pytest.approx(rise + along * sin(e) / cos(e) - 0.275 / cos(e), abs=MM)
        assert boom_gap(placed, end, below_m=gap - MM)[0] == np.inf
        # Straight from the end's top edge to the boom's middle line, less half its depth.
        assert one.distance_m == pytest.approx(along * sin(e) + rise * cos(e) - 0.275, abs=MM)
        assert one.state == "clears"


def test_lane_room_of_trailer_and_tail_swings() -> None:
    _, _, found = station("landed", belly_m=0.0)
    assert found.lane.trailer_m == pytest.approx(10.0 - 6.6 - 2.0, abs=MM)
    # Slewed 67.9 degrees toward the road the counterweight lies on the ravine side; only its road-side corner counts.
    assert min(found.lane.tail_swings_m) > 8.0
    assert found.lane.state == "close", "1.4 m: under 2 m, over 1 m"
    _, _, ravine = station("on the bed", belly_m=-12.0)
    # Boom 71.5 degrees toward the ravine: 2.3 m of counterweight reach the road side within half a degree of the arc.
    assert ravine.lane.tail_swings_m[0] == pytest.approx(10.0 - 2.3, abs=0.012)


def test_touching_is_named_with_its_place() -> None:
    scene, _, _ = station("crossing")
    lift = scene.description
    y, nose, tail = STATIONS["over tailboards"]
    assert contacts(scene, pose(lift.trailer, belly_m=DECK_M + 0.0015, middle_y_m=y), (nose, tail)) == ()
    found = contacts(scene, pose(lift.trailer, belly_m=DECK_M + 0.0005, middle_y_m=y), (nose, tail))
    met = {(one.part, one.meets) for one in found}
    ends = {f"{end} unit {piece}" for end in ("nose", "tail") for piece in ("deck", "tailboard")}
    assert {("shell", end) for end in ends} <= met
    deck = next(one for one in found if (one.part, one.meets) == ("shell", "nose unit deck"))
    # Shared outline: x from the trailer's end to where the tailboard begins, y from -1.25 to the shell's road side 0.8.
    shared = ((-LONG_M / 2.0 - 5.775) / 2.0, (-1.25 + 0.8) / 2.0, DECK_M)
    assert (deck.x_m, deck.y_m, deck.z_m) == pytest.approx(shared, abs=MM)


def test_deep_in_the_deck_the_way_out_is_up() -> None:
    scene, _, _ = station("crossing")
    y, nose, tail = STATIONS["over tailboards"]
    found = contacts(scene, pose(scene.description.trailer, belly_m=DECK_M - 0.1, middle_y_m=y), (nose, tail))
    deck = next(one for one in found if (one.part, one.meets) == ("shell", "nose unit deck"))
    assert deck.deep_m == pytest.approx(0.1, abs=1e-9)


def raised_to(belly_m: float, *, on_wheels: bool) -> HeadRoom:
    """Head room of the plumb lines at the demo set's tip height, and whether it is enough."""
    lift = description(load=trailer(on_wheels=on_wheels))
    found = station("crossing", belly_m=belly_m, lift=lift)[2]
    high = HEIGHT_M if on_wheels else WIDTH_M
    room = TIP_M - BLOCK_AND_STOP_M - RIGGING_M - high - belly_m
    return head_room_to_raise(found, (room, room + 0.1), lift.limits)


@pytest.mark.parametrize("belly_m", [-4.0, -1.0, 0.5])
def test_effect_11_on_its_side_it_passes_on_its_wheels_head_room_refuses(belly_m: float) -> None:
    """About 8 ft on its side, about 13 ft on its wheels (common practice, no source), within the usual state limit of
    4.115 m (state tables, read in a secondary copy); same units, same tips."""
    assert pytest.approx(8 * FOOT_M, abs=0.2) == WIDTH_M
    assert pytest.approx(13 * FOOT_M, abs=0.2) == HEIGHT_M and HEIGHT_M <= 4.115
    limits = Limits()
    missing = DECK_M + limits.gap_close_m - belly_m  # least gap that is not close, over the deck
    side, wheels = raised_to(belly_m, on_wheels=False), raised_to(belly_m, on_wheels=True)
    assert side.missing_m == pytest.approx(missing, abs=MM) and side.enough and side.short_m == 0.0
    spare = TIP_M - BLOCK_AND_STOP_M - RIGGING_M - limits.head_room_stop_m - DECK_M - limits.gap_close_m
    assert not wheels.enough and wheels.unit == "nose unit"
    assert wheels.short_m == pytest.approx(HEIGHT_M - spare, abs=MM)
    assert side.left_m - side.missing_m == pytest.approx(spare - WIDTH_M, abs=MM)


def flat(found: Clearances) -> list[tuple[float, str]]:
    """Gaps with their states, names left out."""
    rows = [(part.gap_m, part.state) for part in found.parts]
    rows += [(boom.distance_m, boom.state) for boom in found.booms]
    return rows + [(value, one.state) for one in found.passing for value in (one.distance_m, one.over_m)]


def same(one: list[tuple[float, str]], other: list[tuple[float, str]]) -> None:
    assert [state for _, state in one] == [state for _, state in other]
    np.testing.assert_allclose([gap for gap, _ in one], [gap for gap, _ in other], rtol=0.0, atol=1e-9)


def test_mirrored_along_the_road() -> None:
    """Nose and tail change places: x, pitch and yaw change sign, everything else stays."""
    lift = description()
    tail_at, nose_at = (pick.at_m for pick in lift.trailer.picks)
    turned = tuple(
        replace(part, outline_m=tuple((-x, z) for x, z in reversed(part.outline_m))) for part in lift.trailer.parts
    )
    load = replace(
        lift.trailer,
        parts=turned,
        cargo=replace(lift.trailer.cargo, cg_m=(0.4, 0.0, 2.2)),
        picks=pair_of_picks((-6.0, *nose_at[1:]), (6.4, *tail_at[1:]), height_m=RIGGING_M),
    )
    mirrored = description(load=load)
    nose, tail = boom(9.0, 48.0, -56.0), boom(9.6, 45.0, -40.0)
    where = pose(lift.trailer, belly_m=1.9, middle_y_m=-4.0)._replace(pitch_rad=0.04, yaw_rad=0.05, roll_rad=0.06)
    other = where._replace(x_m=-where.x_m, pitch_rad=-0.04, yaw_rad=-0.05)
    one = clearances(prepare_scene(lift), where, (nose, tail))
    two = clearances(prepare_scene(mirrored), other, (tail, nose))
    swapped = [two.passing[i ^ 1] for i in range(len(two.passing))]
    same(flat(one), flat(two._replace(booms=(two.booms[1], two.booms[0]), passing=tuple(swapped))))


def test_mirrored_across_the_road() -> None:
    """Ravine and road change sides: y, yaw, roll and slew change sign, and the load lies top to the road."""
    site = replace(SITE, section_m=((40.0, 0.0), (-40.0, 0.0)), edge_y_m=-30.0, live_lane_y_m=30.0)
    one_lift = description(site=site, landing_y_m=0.0)
    two_lift = replace(one_lift, trailer=replace(one_lift.trailer, attitude="top_to_road"))
    nose, tail = boom(9.0, 48.0, -56.0), boom(9.6, 45.0, -40.0)
    where = pose(one_lift.trailer, belly_m=1.9, middle_y_m=-4.0)._replace(pitch_rad=0.04, yaw_rad=0.05, roll_rad=0.06)
    other = where._replace(y_m=-where.y_m, yaw_rad=-0.05, roll_rad=-0.06)
    one = clearances(prepare_scene(one_lift), where, (nose, tail))
    two = clearances(prepare_scene(two_lift), other, (_slewed_back(nose), _slewed_back(tail)))
    same(flat(one), flat(two))


def _slewed_back(pose_: BoomPose) -> BoomPose:
    return pose_._replace(slew_rad=-pose_.slew_rad)


def test_far_below_the_booms_the_height_up_to_them_stands_for_the_distance() -> None:
    _, _, found = station("on the bed", belly_m=-12.0)
    # The lowest point of a boom: its lower foot corner, half a depth back and half a depth square to it.
    e = radians(34.8)
    height = 2.6 - 0.275 * (sin(e) + cos(e)) - (-12.0 + WIDTH_M)
    nose = found.booms[0]
    assert nose.distance_m == pytest.approx(height, abs=MM) and nose.state == "clears"

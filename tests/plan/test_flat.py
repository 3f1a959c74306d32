"""A waiting flat trailer in a check: values by hand, refused each for its own reason, what is missing, what is told."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from math import hypot
from pathlib import Path
from typing import Any

import pytest

from simulator.__main__ import main
from simulator.mechanics.clearance.decks import clearances
from simulator.mechanics.clearance.scene import prepare_scene
from simulator.plan.findings import Finding
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.exit_lines import exit_lines
from simulator.report.plan.roadside import number_rows
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT, Flat
from simulator.scenario.toml_writer import dump
from tests.demo import with_floats, with_trailer
from tests.plan.variants import path, shipped, site

STEP_M = 4.0
CODES = ("deck along", "deck across", "deck holds", "payload", "flat stands", "way out", "loaded height")


def with_flat(**changes: Any) -> Description:
    """The shipped lift with its flat trailer changed."""
    lift = shipped("box_onto_flat")
    assert lift.landing.flat is not None
    return replace(lift, landing=replace(lift.landing, flat=replace(lift.landing.flat, **changes)))


@cache
def checked(lift: Description) -> SetupCheck:
    return check_setup(lift, step_m=STEP_M)


def found(lift: Description, code: str) -> Finding:
    return next(one for one in checked(lift).findings if one.reading.code == code)


def test_every_value_by_hand() -> None:
    """Box 11.2 x 2.75 x 2.5 m, 15.1 t, its middle at 6.2 m; deck 11.6 x 2.55 m, 0.85 m high, about x = 0; 0.45 m may
    stand out at the sides and 0.3 m at the ends. Pads to 3.5 + 0.375 m. CG 1.2 m up its own height of 2.75, which lies
    across: 1.0 m inside the box's lower edge at 0.2."""
    lift = with_flat()
    by_hand = {
        "deck across": 0.45 - (2.75 - 2.55) / 2.0,
        "deck along": 0.3 + (5.8 - 5.6),
        "deck holds": 1.2 - 0.2,
        "payload": 15.1 / 24.0,
        "flat stands": 6.2 - 2.55 / 2.0 - 3.875 - 0.3,
        "way out": 6.2 - 2.75 / 2.0 - 3.875,
        "loaded height": 0.85 + 2.5,
    }
    for code, value in by_hand.items():
        one = found(lift, code)
        assert one.reading.value == pytest.approx(value, abs=1e-3), code
        assert one.level == "good" and one.where == "landed" and one.reading.who == FLAT
    assert set(by_hand) == set(CODES)
    assert checked(lift).verdict == "no limit passed"


def test_a_lift_that_lands_on_the_road_has_none_of_it() -> None:
    check = checked(shipped())
    assert not {one.reading.code for one in check.findings} & set(CODES)
    assert check.exit_plan is None and exit_lines(check, Amounts()) == []


REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "too narrow": ({"width_m": 2.1}, "deck across"),
    "too short": ({"length_m": 10.2}, "deck along"),
    "too far along": ({"x_m": 0.5}, "deck along"),
    "CG over its end": ({"x_m": 6.0, "end_overhang_m": 3.0, "length_m": 12.0}, "deck holds"),
    "too heavy": ({"payload_kg": 15e3}, "payload"),
    "on the pads": ({"y_m": 5.4, "side_overhang_m": 2.0}, "flat stands"),
    "by the live lane": ({"y_m": 8.8, "side_overhang_m": 3.0}, "flat stands"),
    "too high": ({"height_limit_m": 3.3}, "loaded height"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_it_is_refused_for_that(name: str) -> None:
    changes, code = REFUSED[name]
    one = found(with_flat(**changes), code)
    assert one.level == "stop" and code in checked(with_flat(**changes)).refused_for
    assert one.reading.change is not None and "{" not in Amounts().sentence(one.reading.change)
    assert checked(with_flat(**changes)).verdict == "limit passed"


def test_a_deck_near_the_height_it_is_crossed_at_is_a_gap_over_it() -> None:
    """Lowest point 1.85 m, deck 1.6 m: 0.25 m is close; 1.75 m: 0.10 m is past what hands take."""
    for height, level in ((1.6, "caution"), (1.75, "stop")):
        one = found(with_flat(deck_height_m=height, height_limit_m=None), "gap over")
        assert one.level == level and one.reading.what.endswith(f"over {FLAT}")
        assert one.reading.value == pytest.approx(1.85 - height, abs=1e-6)


def test_the_way_out_is_as_free_as_its_narrowest_place() -> None:
    """Wider stands of the floats come nearer to it; toward the other end the same; a tail swing counts at any slew."""
    for way in ("nose", "tail"):
        lift = with_floats(with_flat(leaves=way), across_m=4.2)
        one = found(lift, "way out")
        assert one.reading.value == pytest.approx(6.2 - 1.375 - 4.2 - 0.375, abs=1e-3) and way in one.reading.name
    swings = replace(with_flat(), units=tuple(replace(unit, tail_swing_m=4.75) for unit in with_flat().units))
    one = found(swings, "way out")
    assert one.reading.value == pytest.approx(4.825 - 4.75, abs=1e-3) and one.level == "stop"
    assert one.reading.what.endswith("tail swing")
    stands = found(swings, "flat stands").reading
    near_x = 7.7 - 5.8
    assert stands.value == pytest.approx(hypot(near_x, 4.925) - 4.75, abs=1e-3) and stands.what == "tail swing"


def test_booms_over_the_way_are_asked_all_along_it() -> None:
    """Tips so low that the booms hang over the way: the least room of poses along it, as clearances have them."""
    lift = path(with_trailer(with_flat(), picks=_short_slings()), tip_height_m=4.9)
    check = checked(lift)
    one, last = found(lift, "way out"), check.stations[-1]
    scene, booms = prepare_scene(lift), tuple(stand.pose for stand in last.units)
    pose = last.station.pose
    rooms = [
        boom.distance_m
        for n in range(60)
        for boom in clearances(scene, pose._replace(x_m=pose.x_m - 0.4 * n), booms).booms
    ]
    assert min(rooms) < 0.9, "the booms are what is nearest"
    assert one.reading.value == pytest.approx(min(rooms), abs=0.12) and " under " in one.reading.what


def _short_slings() -> tuple[Any, ...]:
    return tuple(replace(pick, height_m=0.6) for pick in with_flat().trailer.picks)


@pytest.mark.parametrize(
    ("field", "code"),
    [("payload_kg", "payload"), ("height_limit_m", "loaded height"), ("leaves", "way out"), ("what_next", "hand-over")],
)
def test_what_is_left_out_is_not_judged(field: str, code: str) -> None:
    check = checked(with_flat(**{field: None}))
    assert [(one.code, one.who) for one in check.not_judged] == [(code, FLAT)] and check.verdict == "not judged"
    assert code not in {one.reading.code for one in check.findings}


def test_wind_that_holds_the_load_aside_takes_room_on_the_deck() -> None:
    lift = with_flat()
    windy = site(lift, wind=replace(lift.site.wind, speed_mps=6.0))
    calm, blown = (found(one, "deck across").reading.value for one in (lift, windy))
    assert 0.01 < calm - blown < 0.3


def test_the_landed_station_is_on_the_deck() -> None:
    """Lowest point as high as the deck, tips where they were: head room 0.85 m less than on the road."""
    lift = with_flat()
    on_road = replace(lift, landing=replace(lift.landing, flat=None))
    rows = [checked(one).stations[-1] for one in (lift, on_road)]
    assert rows[0].station.pose.z_m - rows[1].station.pose.z_m == pytest.approx(0.85)
    rooms = [row.units[0].lines[0].head_room_m for row in rows]
    assert rooms[1] - rooms[0] == pytest.approx(0.85, abs=0.01)


def test_a_load_that_is_turned_over_comes_down_on_the_deck() -> None:
    lift = shipped("turn_over_box")
    waits = Flat(0.7, 13.0, 2.6, side_overhang_m=0.3, end_overhang_m=0.3)
    decked = replace(lift, landing=replace(lift.landing, flat=waits))
    landed = [check_setup(one, step_m=STEP_M, room=False).stations[-1].station for one in (decked, lift)]
    assert landed[0].name == "landed"
    assert landed[0].pose.z_m - landed[1].pose.z_m == pytest.approx(0.7, abs=0.01)


def test_what_is_told_of_the_way_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In text, as JSON and on the paper for the roadside: height, gross weight, overhang, way, what next."""
    lift = with_flat()
    words = "\n".join(exit_lines(checked(lift), Amounts()))
    assert all(one in words for one in ("0.85 m over the road", "3.35 m high", "24.9 t gross", "0.10 m at each side"))
    assert "toward the load's nose" in words and "what next: With an escort" in words
    feet = "\n".join(exit_lines(checked(lift), Amounts("us")))
    assert "ft" in feet and " m " not in feet
    rows = dict(number_rows(checked(lift), Amounts()))
    assert rows["Waits there"] == "flat trailer, deck 11.60 m by 2.55 m, 0.85 m over the road"
    assert rows["Where it stands"].startswith("its side 1.05 m from the pads")
    file = tmp_path / "x.toml"
    file.write_text(dump(lift), encoding="utf-8")
    assert main(["check", str(file), "--step", "4", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)["exit_plan"]
    assert said["loaded_m"] == pytest.approx(3.35) and said["leaves"] == "nose"
    assert said["gross_N"] == pytest.approx((15.1e3 + 9.8e3) * 9.80665, rel=1e-4)

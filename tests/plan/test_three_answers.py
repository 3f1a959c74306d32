"""The three answers of a check, and what it takes for each: what is missing, what only an engineer decides, wind."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.mechanics.wind import wind_at_mps
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description
from simulator.scenario.site import OverheadLine, Wind
from simulator.scenario.toml_writer import dump
from tests.plan.variants import hoist, path, picks, shipped, site, soil, units

FOOT_M = 0.3048


def _quick(lift: Description) -> SetupCheck:
    return check_setup(lift, step_m=4.0, room=False)


def _missing(lift: Description) -> list[str]:
    return [one.code for one in _quick(lift).not_judged]


@pytest.mark.parametrize(
    ("lift", "code", "words"),
    [
        (shipped(), 0, "no stated limit is passed, by these assumptions"),
        (units(shipped(), rating=None), 3, "not judged"),
        (path(shipped(), tip_height_m=8.1), 1, "a stated limit is passed"),
        (path(units(shipped(), rating=None), tip_height_m=8.1), 1, "a stated limit is passed"),
    ],
    ids=["within", "missing", "past", "past and missing"],
)
def test_the_exit_code_and_the_words(
    lift: Description, code: int, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "x.toml"
    file.write_text(dump(lift), encoding="utf-8")
    assert main(["check", str(file), "--step", "4", "--json"]) == code
    said = json.loads(capsys.readouterr().out)
    assert said["verdict"] == words
    assert bool(said["not_judged"]) is ("missing" in words or lift.units[0].rating is None)
    assert "works" not in json.dumps(said)


def test_nothing_that_is_printed_reads_as_permission(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "tank_on_side", "--step", "4"]) == 0
    out = capsys.readouterr().out
    assert "NO STATED LIMIT IS PASSED, by the assumptions below" in out
    for word in ("WORKS", "works", " safe", " OK", "approved", "may lift"):
        assert word not in out
    assert "gusts taken twice (machine-design texts); every pull 15 % harder for dynamics" in out


def test_what_is_missing_is_listed() -> None:
    assert _missing(shipped()) == []
    assert _missing(units(shipped(), rating=None)) == ["capacity", "capacity"]
    assert _missing(hoist(shipped(), rope_breaking_N=None, rope_diameter_m=0.010)) == ["hoist rope", "hoist rope"]
    assert _missing(picks(shipped(), pieces=("chain that nobody knows",))) == ["rigging", "rigging"]


def test_a_slope_deeper_than_the_table_is_an_engineers_to_judge() -> None:
    """29 CFR 1926 Subpart P App. B, Table B-1 ends at 20 ft (secondary copy): 12 m is deeper."""
    lift = soil(shipped(), face_judged_by=None)
    missing = _quick(lift).not_judged
    assert [one.code for one in missing] == ["slope", "slope"]
    assert all(one.missing.startswith("an engineer decides") and "20 ft" in one.missing for one in missing)


@pytest.mark.parametrize(
    ("deep_m", "set_back_m", "engineer"), [(0.6, 0.775, False), (1.0, 0.775, True), (6.0, 6.5, False), (6.2, 6.5, True)]
)
def test_a_pad_nearer_than_the_slope_is_deep_too(deep_m: float, set_back_m: float, engineer: bool) -> None:
    """Table B-1 knows no load on top (App. B (c)(3)); within 20 ft and farther back than its depth it decides alone."""
    edge = -(3.5 + 0.375 + set_back_m)
    section = ((30.0, 0.0), (edge, 0.0), (edge - 0.5, -deep_m), (edge - 30.0, -deep_m))
    lift = site(soil(shipped("practice_yard"), face_judged_by=None), section_m=section, edge_y_m=edge)
    lift = replace(lift, trailer=replace(lift.trailer, start=replace(lift.trailer.start, y_m=edge - 4.0)))
    assert ("slope" in _missing(lift)) is engineer


def test_wind_is_a_mean_at_a_height_and_grows_up_to_the_boom_tip() -> None:
    """Power law with exponent 1/7 (ASCE 7, from memory): 2 m to 10 m is 1.258; never less than what was measured."""
    assert wind_at_mps(Wind(speed_mps=10.0, measured_height_m=2.0), 10.0) == pytest.approx(10.0 * 5.0 ** (1 / 7))
    assert wind_at_mps(Wind(speed_mps=10.0), 5.0) == 10.0
    lift = shipped()
    blown = site(lift, wind=replace(lift.site.wind, speed_mps=8.0, gust_share=0.5, measured_height_m=2.0))
    (gust, _) = [one.reading.value for one in _quick(blown).findings if one.reading.code == "wind"]
    assert gust == pytest.approx(8.0 * 1.5 * (lift.path.tip_height_m / 2.0) ** (1 / 7))


def test_a_makers_wind_limit_goes_before_the_usual_one() -> None:
    lift = site(shipped(), wind=replace(shipped().site.wind, speed_mps=10.0))
    (usual, _) = [one for one in _quick(lift).findings if one.reading.code == "wind"]
    assert (usual.level, usual.reading.what) == ("caution", "common practice")
    (own, _) = [one for one in _quick(units(lift, wind_stop_mps=9.5)).findings if one.reading.code == "wind"]
    assert (own.level, own.reading.what) == ("stop", "maker's limit")
    assert any("no maker's wind limit" in note for note in _quick(lift).assumptions)
    assert not any("no maker's wind limit" in note for note in _quick(units(lift, wind_stop_mps=9.5)).assumptions)


def test_live_traffic_has_a_caution_and_a_stop() -> None:
    """2 m and 1 m (common practice, no source), or as the site states."""
    tank = shipped()
    levels = {}
    for lane_m in (11.0, 10.3, 9.3):
        found = check_setup(site(tank, live_lane_y_m=lane_m), step_m=4.0)
        (levels[lane_m],) = [one.level for one in found.findings if one.reading.code == "live lane"]
    assert levels == {11.0: "good", 10.3: "caution", 9.3: "stop"}
    own = replace(tank, limits=replace(tank.limits, lane_caution_m=3.0, lane_stop_m=2.7))
    (lane,) = [one for one in check_setup(own, step_m=4.0).findings if one.reading.code == "live lane"]
    assert lane.level == "stop"


def test_whose_the_rule_for_power_lines_is() -> None:
    lift = site(shipped(), overhead_line=OverheadLine(-30.0, 14.0, 30.0))
    (note,) = [note for note in _quick(lift).assumptions if "1926.1408" in note]
    assert "good practice" in note and "leaves out wreckers" in note

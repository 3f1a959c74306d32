"""A lone unit with two lines, and two units with two lines each: checked by statics worked here again by hand."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, hypot, sin

import pytest

from simulator.__main__ import main
from simulator.plan.line_pulls import line_pulls
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.plan_sheet import write_sheet
from simulator.report.plan.setup_json import setup_json
from simulator.report.plan.setup_lines import setup_lines
from simulator.scenario.description import Description
from simulator.scenario.reader import parse_text
from simulator.scenario.rig import rig_of
from simulator.scenario.toml_writer import dump
from simulator.scenario.unit import Line
from tests.plan.variants import shipped, trailer

APART_M = 0.3
"""Each sheave from the boom's middle (usual)."""


def lone() -> Description:
    """The yard's light frame, held by one unit with a line to each end."""
    lift = shipped("practice_yard")
    unit = lift.units[0]
    first = unit.lines[0]
    lines = tuple(
        replace(first, pick=pick.name, across_m=way * APART_M, rope_out_m=33.0)
        for pick, way in zip(lift.trailer.picks, (-1.0, 1.0), strict=True)
    )
    close = tuple(replace(pick, at_m=(0.35 * pick.at_m[0], *pick.at_m[1:])) for pick in lift.trailer.picks)
    alone = replace(unit, name="lifter", lines=lines)
    lift = replace(trailer(lift, picks=close), units=(alone,), drill=None)
    return replace(lift, path=replace(lift.path, tip_height_m=9.0))


def four() -> Description:
    """The tank on its side, a pick on either side of it at each end."""
    lift = shipped()
    picks, units = [], []
    for unit, pick in zip(lift.units, lift.trailer.picks, strict=True):
        x, y, z = pick.at_m
        lines: list[Line] = []
        for number, way in ((1, -1.0), (2, 1.0)):
            name = f"{pick.name}_{number}"
            picks.append(replace(pick, name=name, at_m=(x, y, z + way * APART_M)))
            lines.append(replace(unit.lines[0], pick=name, across_m=way * APART_M))
        units.append(replace(unit, lines=tuple(lines)))
    return replace(trailer(lift, picks=tuple(picks)), units=tuple(units))


RIGS = {"lone": lone, "four": four}


@pytest.fixture(params=RIGS, scope="module")
def found(request: pytest.FixtureRequest) -> SetupCheck:
    return check_setup(RIGS[request.param](), step_m=2.0)


def test_such_a_file_can_be_written_and_read(found: SetupCheck) -> None:
    assert parse_text(dump(RIGS["lone"]()), "x") == RIGS["lone"]()
    assert parse_text(dump(RIGS["four"]()), "x") == RIGS["four"]()


def test_the_lines_carry_the_weight_and_balance_it(found: SetupCheck) -> None:
    for one in found.stations:
        pulls = one.station.pulls
        assert sum(pulls.shares) == pytest.approx(1.0, abs=0.02)
        assert pulls.unbalanced < 0.02
        for axis in (0, 1):
            assert abs(sum(part[axis] for part in pulls.splay)) < 0.02


def test_every_line_and_unit_has_its_numbers(found: SetupCheck) -> None:
    """A unit carries the sum; each line its own rope, head room and stall."""
    units = found.description.units
    for one in found.stations:
        for unit, stand in zip(units, one.units, strict=True):
            assert [line.name for line in stand.lines] == [f"{unit.name}_1", f"{unit.name}_2"]
            down, along = sum(line.down_N for line in stand.lines), sum(line.level_N[0] for line in stand.lines)
            across = sum(line.level_N[1] for line in stand.lines)
            assert stand.pull.load_N == pytest.approx(hypot(down, along, across))
            assert all(line.load_N > 0.0 for line in stand.lines)
    assert len(found.rigging) == 2 * len(units)
    codes = {(each.reading.code, each.reading.who) for each in found.findings}
    assert {("capacity", f"{unit.name} unit") for unit in units} <= codes


def test_gaps_are_judged_to_every_unit_there_is(found: SetupCheck) -> None:
    for one in found.stations:
        assert one.room is not None and len(one.room.booms) == len(found.description.units)
    assert found.verdict == "no limit passed", (found.refused_for, found.not_judged)


def test_two_lines_of_one_tip_share_as_a_bridle_does() -> None:
    """Symmetric: each carries half over the cosine of its splay, and the two level parts cancel (statics)."""
    lift = lone()
    hooks = ((-2.0, 0.0, 4.0), (2.0, 0.0, 4.0))
    tip = (0.0, 0.0, 9.0)
    pulls = line_pulls(lift, (tip,), hooks, (0.5, 0.5), (0.0, 0.0, 3.0))
    assert pulls.shares == pytest.approx((0.5, 0.5))
    (first, second), (left, right) = pulls.sheaves_m, pulls.splay
    assert dist_level(first, second) == pytest.approx(2.0 * APART_M)
    assert left[0] == pytest.approx(-right[0])
    splay = atan2(hypot(first[0] - hooks[0][0], first[1] - hooks[0][1]), 5.0)
    assert hypot(*left) == pytest.approx(0.5 * sin(splay) / cos(splay), rel=1e-6)


def dist_level(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def test_every_output_takes_them(found: SetupCheck, tmp_path_factory: pytest.TempPathFactory) -> None:
    for system in ("metric", "us"):
        lines = setup_lines(found, Amounts(system), every_station=True)  # type: ignore[arg-type]
        assert any(found.description.units[0].name in line for line in lines)
    said = setup_json(found, "")
    assert len(said["stations"][0][found.description.units[0].name]["lines"]) == 2
    page = tmp_path_factory.mktemp("sheet") / "x.png"
    write_sheet(found, page, Amounts(), "", rigging=found.rigging)
    assert page.stat().st_size > 10_000


def test_a_lone_units_lift_is_swept_by_the_check(
    tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path_factory.mktemp("lone") / "lone.toml"
    file.write_text(dump(lone()), encoding="utf-8")
    assert main(["sweep", str(file), "--weight", "0.9..1.1", "--count", "6", "--jobs", "1"]) in (0, 1)
    assert "6 of 6 combinations judged" in capsys.readouterr().out


@pytest.mark.parametrize("command", [["picks"], ["spacing"]])
def test_what_compares_two_lines_says_that_it_cannot(
    command: list[str], tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path_factory.mktemp("lone") / "lone.toml"
    file.write_text(dump(lone()), encoding="utf-8")
    assert main([command[0], str(file), *command[1:]]) == 2
    assert "two units with one line each" in capsys.readouterr().err


def test_a_line_that_would_have_to_push_is_slack_and_the_others_carry() -> None:
    """With the center of gravity beyond one side's picks free lines would push on the other side; ropes cannot."""
    lift = four()
    rig = rig_of(lift)
    tips = ((-5.0, 0.0, 12.0), (5.0, 0.0, 12.0))
    hooks = [(0.0, 0.0, 0.0)] * len(lift.trailer.picks)
    for line in rig.lines:
        hooks[line.pick] = (-5.0 if line.unit == 0 else 5.0, -1.0 if line.number == 1 else 1.0, 3.0)
    found = line_pulls(lift, tips, hooks, [0.25] * len(hooks), (0.0, 1.6, 0.0))
    shares = {line.name: share for line, share in zip(rig.lines, found.shares, strict=True)}
    assert (shares["nose_1"], shares["tail_1"]) == (0.0, 0.0)
    assert shares["nose_2"] == pytest.approx(shares["tail_2"]) and shares["nose_2"] > 0.3
    assert found.unbalanced > 0.02

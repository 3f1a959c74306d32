"""The rest of the path judged anew with what the load told: by the command, from Python, and against the check."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

import simulator
from simulator.__main__ import main
from simulator.mechanics.trailer_body import lying, stated_mass_kg
from simulator.mechanics.weighing import Errors
from simulator.mechanics.weighing_lift import heavy_end, papers_of, reading_of
from simulator.plan.recheck import Rechecked, Unusable, recheck, with_found, with_picks_moved
from simulator.plan.setup_check import check_setup
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2, TONNE_N
from tests.plan.variants import shipped

SURE = Errors(0.001, 0.0, 0.0, 0.001, 0.001, 0.01)


def loads_of(lift: Description, factor: float, along_m: float) -> dict[str, float]:
    """Line loads of a level load on two plumb lines (statics): W b / s and W a / s, with block and rigging."""
    mass_kg = factor * stated_mass_kg(lift.trailer)
    nose, tail = (pick.at_m[0] for pick in lift.trailer.picks)
    origin = sum(part.mass_kg * (min(x for x, _ in part.outline_m) + max(x for x, _ in part.outline_m)) / 2.0
                 for part in lift.trailer.parts) + lift.trailer.cargo.mass_kg * lift.trailer.cargo.cg_m[0]  # fmt: skip
    at = origin / (sum(part.mass_kg for part in lift.trailer.parts) + lift.trailer.cargo.mass_kg) + along_m
    shares = ((tail - at) / (tail - nose), (at - nose) / (tail - nose))
    below = [unit.hoist.block_kg + pick.hung_kg for unit, pick in zip(lift.units, lift.trailer.picks, strict=True)]
    return {
        name: (share * mass_kg + more) * STANDARD_GRAVITY_MPS2
        for name, share, more in zip(("nose", "tail"), shares, below, strict=True)
    }


def found(name: str, factor: float, along_m: float, errors: Errors = SURE) -> Rechecked:
    """A shipped lift weighed with a load of so much of the mass on paper."""
    lift = shipped(name)
    loads = loads_of(lift, factor, along_m)
    return recheck(lift, [reading_of(lift, loads)], errors)


def test_a_load_that_is_its_papers_goes_on_and_the_check_is_the_same() -> None:
    lift = shipped("tank_on_side")
    same = found("tank_on_side", 1.0, 0.0)
    assert same.holds and same.do == "go on" and same.cases.held == same.cases.drawn == 1000
    papers = {(one.reading.code, one.reading.who): one.reading.value for one in check_setup(lift, begun=True).findings}
    for one in same.check.findings:
        assert one.reading.value == pytest.approx(papers[one.reading.code, one.reading.who], rel=2e-3, abs=2e-3)


def test_weight_and_place_come_back_as_they_were_put_in() -> None:
    one = found("box_on_wheels", 1.1, -0.4)
    assert one.weighed.weight_N == pytest.approx(1.1 * papers_of(shipped("box_on_wheels")).weight_N, rel=1e-3)
    assert one.weighed.cg_m[0] == pytest.approx(-0.4, abs=1e-3)
    assert heavy_end(shipped("box_on_wheels"), one.weighed) == "nose"


@pytest.mark.parametrize("attitude", ["on_wheels", "top_to_ravine", "top_to_road"])
def test_a_place_in_lying_axes_is_put_into_the_trailers_own(attitude: str) -> None:
    lift = shipped("practice_yard")
    lift = replace(lift, trailer=replace(lift.trailer, attitude=attitude))  # type: ignore[arg-type]
    own = with_found(lift, 6e4, (0.3, -0.2, 0.1)).trailer.hidden_cg_m
    assert lying(attitude, own) == pytest.approx((0.3, -0.2, 0.1))


def test_too_heavy_a_load_is_set_down_with_what_is_passed_and_where(capsys: pytest.CaptureFixture[str]) -> None:
    heavy = found("tank_on_side", 1.45, 0.0)
    assert heavy.verdict == "limit passed" and heavy.do == "set down and think" and heavy.cases.held == 0
    assert heavy.governs.level == "stop" and heavy.governs.reading.code in heavy.check.refused_for
    words = [f"--line={name}={load / 1e3:.1f}kN" for name, load in loads_of(shipped("tank_on_side"), 1.45, 0.0).items()]
    assert main(["weigh", "tank_on_side", *words, "--units", "us"]) == 1
    out = capsys.readouterr().out
    assert "A STATED LIMIT IS PASSED" in out and "holds in 0 of 1000 cases" in out
    assert "hoist rope" in out and "To do: Set down and think." in out and " lb" in out


def test_a_heavy_end_is_cured_by_moving_the_picks() -> None:
    """So heavy that one end alone is too much for its unit, and both picks nearer to it are not."""
    tried = (found("tank_on_side", factor, 1.2) for factor in (1.1, 1.05, 1.15))
    far = next(one for one in tried if one.do == "move the picks")
    assert far.verdict == "limit passed" and 0.1 < far.move_m <= 1.2
    moved = with_picks_moved(shipped("tank_on_side"), far.move_m)
    assert check_setup(with_found(moved, far.weighed.weight_N, far.weighed.cg_m), stated=False).within_limits


def test_a_limit_that_part_of_the_spread_passes_is_passed() -> None:
    """The same readings hold with good gauges, and not with poor ones: a false stop rather than a false go."""
    lift, low, high = shipped("tank_on_side"), 1.0, 1.6
    for _ in range(7):
        factor = (low + high) / 2.0
        heavy = with_found(lift, factor * papers_of(lift).weight_N, (0.0, 0.0, 0.0))
        holds = check_setup(heavy, step_m=4.0, room=False, stated=False, begun=True).within_limits
        low, high = (factor, high) if holds else (low, factor)
    factor = 0.99 * low
    good, poor = found("tank_on_side", factor, 0.0), found("tank_on_side", factor, 0.0, SURE._replace(gauge_share=0.1))
    assert good.verdict != "limit passed" and good.cases.held == good.cases.drawn
    assert poor.verdict == "limit passed" and not poor.check.refused_for
    assert 0 < poor.cases.held < poor.cases.drawn and poor.cases.worst is not None


def test_rigging_that_the_plan_chose_too_small_is_asked_for() -> None:
    box = found("box_on_wheels", 1.1, 0.6)
    assert box.verdict == "not judged" and box.do == "look first"
    assert {one.code for one in box.missing} == {"rigging size"}


def test_what_held_it_on_the_bed_is_behind_it() -> None:
    from simulator.scenario.site import BedHold

    lift = shipped("practice_yard")
    stuck = replace(lift, site=replace(lift.site, bed_hold=BedHold(at_m=(0.0, 0.0, 0.0), pull_N=4e5)))
    assert not check_setup(stuck).within_limits
    assert recheck(stuck, [reading_of(stuck, loads_of(stuck, 1.0, 0.0))], SURE).cases.worst is None


def test_four_lines_and_a_lone_unit_are_weighed_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["weigh", "four_lines", *(f"--line={line}=1.9t" for line in ("nose_1", "nose_2", "tail_1", "tail_2")),
                 "--json"]) == 0  # fmt: skip
    said = json.loads(capsys.readouterr().out)
    assert said["do"] == "go on" and said["heavy_end"] == "even" and said["cases"]["held"] == said["cases"]["drawn"]
    assert said["weight_N"] == pytest.approx(6.0 * TONNE_N, rel=0.05) and said["governs"]["code"]


def test_bad_read_outs_are_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    def said(*words: str) -> str:
        assert main(["weigh", "tank_on_side", *words]) == 2
        return capsys.readouterr().err

    assert "The tail line reads 0.3 t" in said("--line", "nose=13t", "--line", "tail=0.3t")
    assert "a line can only pull" in said("--line", "nose=13t", "--line", "tail=-12t")
    assert "the tail line pulls 0.0 t back" in said("--line", "nose=13t", "--line", "tail=13t", "--lean", "nose=6deg")
    assert 'given "13", allowed: a line of the lift and its load with a unit' in said(
        "--line", "nose=13", "--line", "tail=13t"
    )
    assert "none for tail" in said("--line", "nose=13t")
    assert 'given "left=13t"' in said("--line", "left=13t")
    assert "as many numbers in each list" in said("--line", "nose=13t,13t", "--line", "tail=13t")
    assert 'given "5 ft"' in said("--line", "nose=13t", "--line", "tail=13t", "--pitch", "5 ft")
    assert 'given "80%"' in said("--line", "nose=13t", "--line", "tail=13t", "--gauge", "80%")


def test_doubts_do_not_go_on(capsys: pytest.CaptureFixture[str]) -> None:
    """Pounds for tonnes in one display: the answer says so, and is not a go."""
    assert main(["weigh", "practice_yard", "--line", "nose=7.7t", "--line", "tail=3.5t"]) in (1, 3)
    out = capsys.readouterr().out
    assert "thousand pounds were read as tonnes" in out and "Set down and think." in out


def test_on_the_bed_there_are_bounds_only(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["weigh", "tank_on_side", "--line", "nose=8t", "--line", "tail=7t", "--lies", "--pitch", "-2deg"]) == 3
    out = capsys.readouterr().out
    assert "bounds only" in out and "weight at least 13" in out and "To do" not in out


def test_two_attitudes_are_lists(capsys: pytest.CaptureFixture[str]) -> None:
    lists = ("--line", "nose=13.3t,13.5t", "--line", "tail=13.4t,13.2t", "--pitch", "0deg,5deg")
    assert main(["weigh", "tank_on_side", *lists]) in (0, 3)
    assert "papers' place, up positive" in capsys.readouterr().out


def test_from_python_bad_readings_are_value_errors() -> None:
    yard = simulator.load("practice_yard")
    with pytest.raises(ValueError, match=r"every line of the lift once \(nose, tail\)"):
        simulator.weigh(yard, {"nose": 4e4})
    with pytest.raises(ValueError, match="slack: line tail"):
        simulator.weigh(yard, {"nose": 4e4, "tail": 1e3})
    with pytest.raises(Unusable):
        simulator.weigh(yard, {"nose": 4e4, "tail": -1e3})

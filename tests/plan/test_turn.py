"""The plan along a turn: against the turn worked out for a box, Newton's balance, and what has to be refused."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, degrees, hypot, radians, sin
from pathlib import Path

import pytest

from simulator.places import find_scenario
from simulator.plan.hanging import as_stated
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.plan.slung import runs_round, slung_of
from simulator.plan.turn import Turn, compared, is_turned, on_upper_edges, turn_of
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_json import setup_json
from simulator.report.plan.setup_lines import setup_lines
from simulator.report.plan.turn_lines import compared_lines, turn_cells
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load
from simulator.scenario.trailer import Pick
from tests.engine.turned import HALF_M, PICKS_X_M, SLINGS_M, box_part, lift, trailer
from tests.plan.turned_lifts import on_four_lines

TABLE = ((0.0, 0.0), (0.40, 15.4), (0.80, 29.0), (1.20, 41.8), (1.60, 54.5), (2.00, 67.6), (2.40, 82.0), (2.60, 90.0))
"""Line moved, degrees turned: a box 2.6 m wide and high, 6.7 m of free line, sheaves 0.3 m each side, CG in the middle.
Own calculation, from least energy and from Newton's balance, before this code."""
SHARES = {0.40: (0.46, 0.55), 1.20: (0.50, 0.52), 2.00: (0.54, 0.47)}
"""Line moved: what line 1 and line 2 carry of the weight; the same source."""


def the_box(cg: tuple[float, float] = (0.0, 0.0), *, upper_edges: bool = False) -> Description:
    """The box of the table as a trailer that lies with its frame toward the road, stiff units, booms straight over."""
    lying = lift(trailer((box_part(),), (HALF_M, HALF_M), (HALF_M, -HALF_M), cg))
    # Lying y is its own -z, lying z its own y.
    picks = []
    for end, x in zip(("nose", "tail"), PICKS_X_M, strict=True):
        second, side = ((HALF_M, HALF_M), None) if upper_edges else ((-HALF_M, -HALF_M), "right")
        long = SLINGS_M[0] if upper_edges else SLINGS_M[1]
        for number, (y, z), lies, sling_m in ((1, (HALF_M, -HALF_M), None, SLINGS_M[0]), (2, second, side, long)):
            at = (x, y, z)
            picks.append(
                Pick(f"{end}_{number}", at, "single_point", sling_m, 0.0, lies_on=lies, sling_length_m=sling_m)  # type: ignore[arg-type]
            )
    cargo = replace(lying.trailer.cargo, cg_m=(0.0, cg[1], -cg[0]))
    own = replace(lying.trailer, attitude="top_to_ravine", cargo=cargo, picks=tuple(picks))
    up = lying.units[0]
    tip = up.boom.foot_pin_height_m + up.start.boom_length_m * sin(up.start.elevation_rad)
    # Its middle lies so high that 6.7 m of line 1 are free, and lands under the tips.
    return replace(
        lying,
        trailer=own,
        landing=replace(lying.landing, y_m=0.0, on_wheels=True),
        path=replace(lying.path, tip_height_m=tip, belly_over_road_m=-HALF_M),
    )


SHELL = ("shell", "nose unit")


@cache
def turned(lift: Description) -> Turn:
    """Its turn."""
    return turn_of(lift)


@cache
def judged() -> SetupCheck:
    """The tank on four lines, judged."""
    return check_setup(on_four_lines(), step_m=2.0)


def interpolated(moved_m: float) -> float:
    """Degrees in the table, between its rows."""
    for (low, low_deg), (high, high_deg) in pairwise(TABLE):
        if low <= moved_m <= high + 0.05:
            return low_deg + (high_deg - low_deg) * (moved_m - low) / (high - low)
    raise AssertionError(moved_m)


def test_the_box_turns_as_it_was_worked_out() -> None:
    """A station every 5 degrees; the table is straight between its rows to 0.4 degrees, and the height is kept here."""
    found = turned(the_box())
    assert len(found.stations) == 19 and found.is_whole and found.slack is None
    for one in found.stations:
        assert degrees(one.turned_rad) == pytest.approx(interpolated(one.moved_m), abs=0.9), one.moved_m
    for moved, shares in SHARES.items():
        one = min(found.stations, key=lambda each: abs(each.moved_m - moved))
        assert abs(one.moved_m - moved) < 0.08
        own = [one.hung.lines[n].pull_share + one.hung.lines[n + 2].pull_share for n in range(2)]
        assert own == pytest.approx(shares, abs=0.012)


@pytest.mark.parametrize("lift", [the_box, on_four_lines])
def test_pulls_balance_the_weight_at_every_station(lift) -> None:  # type: ignore[no-untyped-def]
    """Newton: parts upward are the weight, level parts cancel, no moment about the center of gravity is left."""
    described = as_stated(lift())
    slung = slung_of(described)
    for one in turned(described).stations:
        pulls, cg = one.hung.pulls, one.hung.rest.pose.cg_m
        assert sum(pulls.shares) == pytest.approx(1.0, abs=2e-3)
        for axis in range(2):
            assert sum(splay[axis] for splay in pulls.splay) == pytest.approx(0.0, abs=2e-3)
        moment = [0.0, 0.0, 0.0]
        for sheave, share, (x, y) in zip(pulls.sheaves_m, pulls.shares, pulls.splay, strict=True):
            arm = [float(at - own) for at, own in zip(sheave, cg, strict=True)]
            moment[0] += arm[1] * share - arm[2] * y
            moment[1] += arm[2] * x - arm[0] * share
            moment[2] += arm[0] * y - arm[1] * x
        assert hypot(*moment) < 0.02, "of the weight, times meters"
        assert one.hung.holds
    assert len(slung.paths) == 4


def test_its_height_is_kept_by_the_speeds_that_are_told() -> None:
    found = turned(as_stated(on_four_lines())).stations
    heights = [float(one.hung.rest.pose.cg_m[2]) for one in found]
    assert max(heights) - min(heights) < 2e-3
    for before, one, after in zip(found, found[1:], found[2:], strict=False):
        moved, kept = after.moved_m - before.moved_m, after.kept_m - before.kept_m
        assert one.speeds == pytest.approx((1.0 + kept / moved, 1.0 - kept / moved))


def test_the_lowest_point_dips_by_half_a_diagonal() -> None:
    """A box about its middle: h / 2 (cos + sin) under the middle, at its deepest at 45 degrees."""
    found = turned(the_box()).stations
    for one in found:
        middle = float(one.hung.rest.pose.cg_m[2])
        turn = one.turned_rad
        assert middle - one.hung.lowest_m == pytest.approx(HALF_M * (abs(cos(turn)) + abs(sin(turn))), abs=0.01)


@pytest.mark.parametrize("cg", [(0.4, 0.0), (-0.4, 0.0), (0.0, 0.4)])
def test_a_center_of_gravity_off_the_middle_leaves_the_way_open(cg: tuple[float, float]) -> None:
    found = turned(the_box(cg))
    assert found.is_whole and all(one.hung.holds for one in found.stations)


def test_both_lines_on_the_upper_edges_stop_at_45_degrees() -> None:
    """atan(half width / half height); line 1 goes slack there, after 0.97 m."""
    found = turned(the_box(upper_edges=True))
    assert degrees(found.turns_to_rad) == pytest.approx(45.0, abs=0.3)
    assert found.slack is not None and found.slack.line in ("nose_1", "tail_1")
    assert not found.is_whole and found.stations[-1].turned_rad < radians(45.3)


def test_rigs_are_compared_by_how_far_they_turn_it() -> None:
    as_it_is, upper = compared(as_stated(on_four_lines()))
    assert as_it_is.turn.is_whole and not upper.turn.is_whole
    assert upper.turn.slack is not None
    assert not any(pick.lies_on for pick in on_upper_edges(on_four_lines()).trailer.picks)
    lines = compared_lines((as_it_is, upper), 2.5e5, Amounts())
    assert "all the way, 90 deg" in lines[1]
    assert f"{degrees(upper.turn.turns_to_rad):.1f} of 90 deg; {upper.turn.slack.line} goes slack there" in lines[2]


def test_a_check_judges_the_turn_station_by_station() -> None:
    check = judged()
    phases = [one.station.phase for one in check.stations]
    assert phases.count("turning") == 19 and phases[-1] == "landed"
    assert check.turn is not None and check.turn.next_slack is not None
    for one in check.stations:
        assert {reading.code for reading in one.readings} >= {"capacity", "lightest float", "head room", "stall"}
    turning = [one for one in check.stations if one.station.phase == "turning"]
    assert all({"gap to ground", "live lane", "boom"} <= {each.code for each in one.readings} for one in turning)
    assert check.stations[-1].station.pose.roll_rad == pytest.approx(-radians(90.0), abs=radians(0.5))


def test_what_the_shell_bears_has_to_be_stated() -> None:
    check = judged()
    assert check.verdict == "not judged" and {one.code for one in check.not_judged} >= {"shell"}
    described = on_four_lines()
    parts = tuple(
        replace(part, may_bear_Pa=5e5) if part.drawn_as == "tank" else part for part in described.trailer.parts
    )
    stated = check_setup(replace(described, trailer=replace(described.trailer, parts=parts)), step_m=4.0, room=False)
    assert "shell" not in {one.code for one in stated.not_judged}
    (used,) = {
        one.reading.value for one in stated.findings if one.reading.code == "shell" and "nose" in one.reading.who
    }
    assert 0.0 < used < 1.0


def test_a_sling_too_short_to_hang_clear_is_a_stop() -> None:
    described = on_four_lines()
    picks = tuple(replace(pick, sling_length_m=4.0) if pick.lies_on else pick for pick in described.trailer.picks)
    check = check_setup(replace(described, trailer=replace(described.trailer, picks=picks)), step_m=4.0, room=False)
    assert "hook off" in check.refused_for


def test_how_near_a_hook_may_come_is_the_lifts_own_to_say() -> None:
    described = on_four_lines()
    nearest = min(one.reading.value for one in judged().findings if one.reading.code == "hook off")
    stricter = replace(described.limits, hook_off_caution_m=nearest + 1.0, hook_off_stop_m=nearest + 0.1)
    check = check_setup(replace(described, limits=stricter), step_m=4.0, room=False)
    assert "hook off" in check.refused_for and "hook off" not in judged().refused_for
    assert any(not lie.hook_is_off for one in check.rigging for lie in one.slings)


def test_a_rig_that_does_not_turn_it_is_refused_and_says_how_far() -> None:
    check = check_setup(on_upper_edges(on_four_lines()), step_m=4.0, room=False)
    assert "turn" in check.refused_for and check.stations[-1].station.phase == "turning"
    (finding,) = (one for one in check.findings if one.reading.code == "turn")
    assert "slack there" in finding.reading.what


def test_how_a_sling_is_got_under_the_load_is_said() -> None:
    (said,) = (line for line in judged().assumptions if "got under" in line)
    assert "nose_2 and tail_2" in said and "dig a hole" in said


def test_lines_and_json_tell_the_turn() -> None:
    check = judged()
    text = "\n".join(setup_lines(check, Amounts()))
    assert "Turning it over" in text and "Next to go slack: nose_1" in text and "turned 45 deg" in text
    us = "\n".join(setup_lines(check, Amounts("us")))
    assert "Turning it over" in us
    told = json.loads(json.dumps(setup_json(check, "caution")))["turn"]
    assert told["is_whole"] and len(told["stations"]) == 19
    assert set(told["stations"][3]["lines"]) == {"nose_1", "nose_2", "tail_1", "tail_2"}


def test_other_lifts_have_no_turn() -> None:
    described = on_four_lines()
    lying = replace(described, landing=replace(described.landing, on_wheels=False))
    assert not is_turned(lying) and runs_round(lying)
    check = check_setup(lying, step_m=4.0, room=False)
    assert check.turn is None and "turning" not in {one.station.phase for one in check.stations}
    assert setup_json(check, "")["turn"] is None


def test_tips_that_would_be_inside_the_load_are_a_fault_with_an_example() -> None:
    """Said with its place, what was given and what is allowed, as every other fault; the example is one that can be."""
    found = load(find_scenario("turn_over_tank"))
    low = replace(found, path=replace(found.path, tip_height_m=2.5))
    with pytest.raises(BrokenScenario) as said:
        check_setup(low)
    (fault,) = said.value.faults
    assert "[path] tip_height" in fault.place and "2.50 m" in fault.given
    example = float(fault.allowed.rpartition("such as ")[2].removesuffix(" m"))
    check_setup(replace(found, path=replace(found.path, tip_height_m=example)))


def test_the_sheet_of_a_turn_has_a_second_page_with_every_station(tmp_path: Path) -> None:
    from simulator.report.plan.plan_sheet import write_sheet

    check = judged()
    write_sheet(check, tmp_path / "turn.pdf", Amounts(), "caution")
    assert b"/Count 2" in (tmp_path / "turn.pdf").read_bytes()
    write_sheet(replace(check, turn=None), tmp_path / "none.pdf", Amounts(), "caution")
    assert b"/Count 1" in (tmp_path / "none.pdf").read_bytes()


def test_the_table_on_paper_is_that_of_the_check() -> None:
    from matplotlib.figure import Figure

    from simulator.report.plan.sheet_turn import draw_turn

    check, figure = judged(), Figure()
    draw_turn(figure, check, Amounts("us"), "caution")
    told = [each.get_text() for each in figure.texts]
    assert check.turn is not None
    for one in check.turn.stations:
        cells = turn_cells(one, check.description, check.load, Amounts("us"))
        assert any(tuple(told[i : i + len(cells)]) == cells for i in range(len(told))), one.turned_rad
    assert "caution" in told and any("Next to go slack" in words for words in told)

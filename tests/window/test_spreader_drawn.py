"""A spreader under a hook, as it is drawn and as the plan has it: level ends beside the load, drops plumb."""

from __future__ import annotations

from math import cos, dist, sin

import pytest

from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.places import find_scenario
from simulator.plan.picture import bar_runs
from simulator.plan.setup_check import check_setup
from simulator.scenario.reader import load
from simulator.window.scene.spreader_bars import bar_m

LIFT = load(find_scenario("box_on_wheels"))
LONG_M, DROP_M, HIGH_M = 2.7, 0.5, 2.1


def test_its_bar_hangs_under_the_hook_and_turns_with_yaw_and_roll_alone() -> None:
    read = Instruments(Simulation(LIFT).model).read(Simulation(LIFT).state)
    line, (pick, _) = read.lines[0], LIFT.trailer.picks
    yaw, roll = 0.2, 0.1
    ends = bar_m(pick, line, read.load._replace(pitch_rad=0.3, yaw_rad=yaw, roll_rad=roll))
    assert ends is not None and dist(*ends) == pytest.approx(LONG_M)
    middle = [0.5 * (a + b) for a, b in zip(*ends, strict=True)]
    hook = line.hook_x_m, line.hook_y_m, line.hook_z_m
    assert dist(middle, hook) == pytest.approx(HIGH_M - DROP_M)
    assert ends[1][2] - ends[0][2] == pytest.approx(LONG_M * sin(roll))
    assert ends[1][0] - ends[0][0] == pytest.approx(-LONG_M * cos(roll) * sin(yaw))


def test_a_pick_without_one_has_no_bar() -> None:
    other = load(find_scenario("tank_on_side"))
    read = Instruments(Simulation(other).model).read(Simulation(other).state)
    assert bar_m(other.trailer.picks[0], read.lines[0], read.load) is None


def test_on_paper_its_drops_hang_plumb_beside_the_box() -> None:
    for (x, foot, low), (_, end, bar), (at_x, middle, _) in bar_runs(LIFT.trailer.picks[0]):
        assert foot == end and abs(end) > 0.5 * 2.59 and (x, middle) == (at_x, 0.0)
        assert bar - low == pytest.approx(DROP_M)


def test_the_check_judges_what_its_top_legs_press_and_nothing_presses_the_box() -> None:
    """Half the pull by the half bar over the height of the top legs (statics of a triangle), dynamics included."""
    check = check_setup(LIFT, step_m=4.0, room=False)
    for one in check.rigging:
        wanted = DYNAMIC_MARGIN * 0.5 * one.hook_load_N * 0.5 * LONG_M / (HIGH_M - DROP_M)
        assert one.spreader_press_N == pytest.approx(wanted) and wanted < 80e3 and not one.edges
    codes = {finding.reading.code for finding in check.findings}
    assert "spreader" in codes and "press" not in codes

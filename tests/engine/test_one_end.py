"""Effect 6: lifting one end. Its pick swings through an arc, and it weighs more than its hung share."""

from __future__ import annotations

from functools import cache
from math import atan2, cos, degrees, sin

import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.scenario.site import Contact, Site
from tests.engine.scenes import FIRM, Vector, block, describe, run, unit, with_hoist

PICKS_M = (-6.4, 6.0)
CG_M = (-0.6, 0.3)
"""Along from the box's middle, and over it."""
TRAILER = block(
    mass_kg=26000.0,
    size_m=(14.6, 4.0, 2.6),
    picks_x_m=PICKS_M,
    pick_over_cg_m=0.6,
    rigging_m=0.0,
    hidden_cg_m=(CG_M[0], 0.0, CG_M[1]),
)
BED = Site(
    ((60.0, 0.0), (40.0, 0.0), (39.0, -12.0), (-60.0, -12.0)), 40.0, soil=FIRM, settle_s=4.0,
    contact=Contact(stiffness_N_per_m=2e7, friction=0.9),
)  # fmt: skip
TIP_Z_M = 9.3


@cache
def one_end_up(seconds: float) -> Simulation:
    """The nose hoisted by a slow hand, tips left standing where the picks lay; then still."""
    hoist = {"rope_EA_N": 15.3e6, "damping_ratio": 0.3, "speed_mps": 0.2}
    units = with_hoist(hoist, (unit(-12.0), unit(12.0)))
    tips: tuple[Vector, Vector] = ((PICKS_M[0], 0.0, TIP_Z_M), (PICKS_M[1], 0.0, TIP_Z_M))
    line = TIP_Z_M + 12.0 - 1.3 - 0.6
    simulation = Simulation(describe(TRAILER, tips, (line, line + 1.0), units=units, site=BED))
    run(simulation, seconds, Commands(UnitCommands(hoist=1.0), UnitCommands()))
    run(simulation, 3.0, STILL)
    return simulation


@pytest.mark.parametrize("seconds", [4.0, 16.0])
def test_one_end_weighs_by_the_far_edge(seconds: float) -> None:
    """Moments about the far lower edge, at the pitch and the line's direction that are read there.

    Level, W * distance of the CG from the edge / distance of the pick from it: 57.7 % here, where hung it is 53.2 %.
    """
    simulation = one_end_up(seconds)
    motion, nose = simulation.state.motion, simulation.state.lines[0]
    assert nose.hook_load_N > 0.0 and simulation.state.lines[1].hook_load_N == 0.0
    pitch = motion.pitch

    def turned(x: float, z: float) -> tuple[float, float]:
        return x * cos(pitch) + z * sin(pitch), -x * sin(pitch) + z * cos(pitch)

    cg_arm = 7.3 - CG_M[0], 1.3 + CG_M[1]
    pick_arm = 7.3 - PICKS_M[0], 1.3 + 0.6
    gx, _ = turned(-cg_arm[0], cg_arm[1])
    px, pz = turned(-pick_arm[0], pick_arm[1])
    expected = simulation.model.weight_N * gx / (px * nose.hang.uz - pz * nose.hang.ux)
    assert nose.hook_load_N == pytest.approx(expected, rel=5e-3)


def test_lifted_a_little_it_weighs_more_than_its_hung_share() -> None:
    simulation = one_end_up(3.0)
    level = (7.3 - CG_M[0]) / (7.3 - PICKS_M[0])
    hung = (PICKS_M[1] - CG_M[0]) / (PICKS_M[1] - PICKS_M[0])
    share = simulation.state.lines[0].hook_load_N / simulation.model.weight_N
    assert share == pytest.approx(level, rel=0.01)
    assert share > hung + 0.03


def test_its_pick_swings_through_an_arc_and_its_line_goes_out_of_plumb() -> None:
    """The pick turns about the far edge; the tip stands still: the angle is the arc's side way over the height."""
    low, high = one_end_up(4.0), one_end_up(16.0)
    angles = []
    for simulation in (low, high):
        pitch, hang = simulation.state.motion.pitch, simulation.state.lines[0].hang
        arm, rise = 7.3 - PICKS_M[0], 1.3 + 0.6
        pick_x = 7.3 - arm * cos(pitch) + rise * sin(pitch)
        pick_z = -12.0 + arm * sin(pitch) + rise * cos(pitch)
        assert hang.hook == pytest.approx((pick_x, 0.0, pick_z), abs=0.03)
        expected = degrees(atan2(pick_x - PICKS_M[0], TIP_Z_M - pick_z))
        assert degrees(atan2(-hang.ux, hang.uz)) == pytest.approx(expected, abs=0.02)
        angles.append(expected)
    assert angles[1] > angles[0] > 0.0
    assert angles[1] > 0.9
    assert degrees(high.state.motion.pitch) > 4.0


def test_the_far_edge_stays_where_it_is() -> None:
    """Friction holds it: the closed forms above turn about a fixed edge."""
    started, lifted = one_end_up(0.0), one_end_up(16.0)
    for simulation in (started, lifted):
        pitch, m = simulation.state.motion.pitch, simulation.state.motion
        x = m.x + (7.3 - CG_M[0]) * cos(pitch) + (-1.3 - CG_M[1]) * sin(pitch)
        assert x == pytest.approx(7.3, abs=0.03)

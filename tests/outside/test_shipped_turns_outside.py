"""The shipped turns in the air once more in MuJoCo, and a box turned fast and with an end ahead.

The sections are written down here from the scenario files. Strings are `mujoco_slung`'s.
"""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest

pytest.importorskip("mujoco")

from simulator.engine.commands import Commands, still
from simulator.engine.simulation import Simulation
from simulator.mechanics.trailer_body import stated_cg_m
from simulator.places import find_scenario
from simulator.scenario.rig import rig_of
from tests.demo import with_hoist
from tests.engine.scenes import come_to_rest
from tests.engine.turned import HALF_M, hung, lift, the_box
from tests.outside.mujoco_slung import String, replay_slung, string
from tests.outside.telemetry import Telemetry, record
from tests.outside.test_mujoco import states
from tests.shipped_lifts import Demonstrations

pytestmark = pytest.mark.long

EVERY = 4
"""MuJoCo takes steps so many times as long: nothing jerks hard in a lift by the automatic operators."""
TURN_S = 70.0
"""Before touch-down: from lying to upright, and lowered."""
FINE = 720
Corners = list[tuple[float, float]]


def tank() -> Corners:
    """(y, z) of the trailer on its wheels: a round shell of 2.5 m about 2.55 m, by many corners; its frame under it."""
    ring = [2.0 * pi * i / FINE for i in range(FINE)]
    shell = [(1.25 / cos(pi / FINE) * cos(a), 2.55 + 1.25 / cos(pi / FINE) * sin(a)) for a in ring]
    return [*shell, (-1.04, 1.0), (1.04, 1.0), (-1.04, 1.3), (1.04, 1.3)]


def van() -> Corners:
    """A box 2.5 m wide from 1.2 to 3.5 m on a narrower frame."""
    return [(side * y, z) for side in (-1.0, 1.0) for y, z in ((1.04, 1.0), (1.04, 1.2), (1.25, 1.2), (1.25, 3.5))]


SHIPPED = {
    "turn_over_tank": (tank(), (-5.3, 5.75), (2.7, 4.8)),
    "turn_over_box": (van(), (-5.0, 5.0), (3.5, 6.0)),
}
"""Section, x of the picks of both ends, slings of lines 1 and 2."""


def lying_strings(lift: str, cg: tuple[float, float, float]) -> list[String]:
    """Of nose 1 and 2, tail 1 and 2: it lies with its top toward the ravine, so up is its left and road its floor."""
    corners, xs, (first, second) = SHIPPED[lift]
    lying = [(-(z - cg[2]), y - cg[1]) for y, z in corners]
    found = []
    for x in xs:
        upper, lower = ((x - cg[0], -(1.0 - cg[2]), side * 1.04 - cg[1]) for side in (1.0, -1.0))
        # Line 2 lies on what is down first, which is clockwise from the frame's lower edge on the road side.
        found += [string(lying, upper, first, 1, -1), string(lying, lower, second, -1)]
    return found


@pytest.mark.parametrize("name", SHIPPED)
def test_the_whole_turn_of_a_shipped_lift_is_mujocos(name: str, demonstrated: Demonstrations) -> None:
    """Within 1 cm, 0.3 degrees and 1 % of the weight at every moment, till it touches down."""
    demonstration = demonstrated(find_scenario(name))
    simulation = Simulation(with_hoist(demonstration.description, sway_damping_ratio=0.0))
    rows = states(simulation, demonstration.changes, demonstration.landed.step, every=EVERY)
    whole = record(rows, simulation.model.reference_m, simulation.model)
    flight = turning(whole, EVERY * simulation.model.dt)
    assert np.degrees(np.ptp(flight.pose[:, 5])) > 85.0, "all of the turn"
    trailer = demonstration.description.trailer
    strings = lying_strings(name, stated_cg_m(trailer))
    off_m, off_deg, share = apart(simulation, flight, EVERY * simulation.model.dt, strings)
    assert off_m < 0.01 and off_deg < 0.3 and share < 0.01


def turning(whole: Telemetry, step_s: float) -> Telemetry:
    """The last part of the flight, before it touches the road."""
    touches = int(np.flatnonzero(whole.ground.any(axis=1) & (whole.pose[:, 5] < -1.3))[0])
    back = touches - round(TURN_S / step_s)
    while np.degrees(whole.pose[back, 5]) < -1.0:
        back -= 1
    return whole.between(back, touches - 1)


def apart(
    simulation: Simulation, flight: Telemetry, step_s: float, strings: list[String]
) -> tuple[float, float, float]:
    """Farthest apart: m, degrees, share of the weight."""
    theirs = replay_slung(simulation.description.trailer, flight, step_s, simulation.model.rig, strings)
    off = np.abs(theirs.pose - flight.pose)
    loads = np.abs(theirs.hook_N - flight.hook_N).max() / simulation.model.weight_N
    return float(off[:, :3].max()), float(np.degrees(off[:, 3:].max())), float(loads)


def box_strings() -> list[String]:
    """A box 2.6 m wide and high about its CG: line 1 from its upper edge, line 2 from its lower edge round under it."""
    corners = [(y, z) for y in (-HALF_M, HALF_M) for z in (-HALF_M, HALF_M)]
    return [
        one
        for x in (-6.0, 6.0)
        for one in (
            string(corners, (x, HALF_M, HALF_M), 3.5, 1, -1),
            string(corners, (x, HALF_M, -HALF_M), 6.5, -1),
        )
    ]


def box_turned(lever: float, seconds: float, ends: tuple[float, float]) -> tuple[float, float, float, float]:
    """From rest, the turn lever pulled that far, at each end its share of it, and let go; how far apart, and turned."""
    described = with_hoist(lift(the_box(), steps_per_s=480), sway_damping_ratio=0.0, damping_ratio=0.03)
    simulation = hung(described)
    come_to_rest(simulation)
    units = rig_of(described).units
    hands = Commands(*(unit.hands(turn=lever * share) for unit, share in zip(units, ends, strict=True)))
    kept = []
    for i in range(round((seconds + 3.0) * 480)):
        simulation.run(hands if i < seconds * 480 else still(simulation.model.rig), 1)
        kept.append(simulation.state)
    flight = record(kept, simulation.model.reference_m, simulation.model)
    turned = float(np.degrees(np.ptp(flight.pose[:, 5])))
    return *apart(simulation, flight, 1.0 / 480, box_strings()), turned


def test_a_box_turned_slowly_past_its_corners_is_mujocos() -> None:
    off_m, off_deg, share, turned = box_turned(0.2, 24.0, (1.0, 1.0))
    assert turned > 80.0 and off_m < 0.01 and off_deg < 0.3 and share < 0.01


def test_a_box_turned_fast_is_mujocos() -> None:
    """All levers full, and let go at once: within 2 cm, 1 degree and 3 %."""
    off_m, off_deg, share, turned = box_turned(1.0, 3.4, (1.0, 1.0))
    assert turned > 60.0 and off_m < 0.02 and off_deg < 1.0 and share < 0.03


def test_a_box_turned_with_an_end_ahead_is_mujocos() -> None:
    off_m, off_deg, share, turned = box_turned(0.4, 9.5, (1.0, 0.9))
    assert turned > 60.0 and off_m < 0.02 and off_deg < 1.0 and share < 0.03

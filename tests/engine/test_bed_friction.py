"""Effect 5: bed friction stills the load. Hands see readings and give commands, nothing else.

Sliding is judged by motion and the figures are bounds, as they depend on ground stiffness, friction and step.
"""

from __future__ import annotations

from math import hypot

import pytest

from simulator.attempt import Attempt
from simulator.drill.steering import Aim, steer
from simulator.engine.commands import STILL, UnitCommands
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.rig import TWO_BY_ONE
from simulator.scenario.site import Contact, Site
from simulator.scenario.trailer import TrailerStart
from tests.engine.scenes import FIRM, Vector, block, describe, unit, with_hoist

PICKS_M = (-6.4, 6.0)
OUT_M = 0.6
"""Tips out of place along the road."""
RIGGING_M = 2.3
LINE_M = 9.3 + 12.0 - 1.3 - RIGGING_M + 0.02
"""2 cm of slack."""
MOVES_MPS, STILL_S, PLUMB_M, CLEAR_M = 0.012, 1.0, 0.03, 0.05


def described(friction: float, stiffness_N_per_m: float) -> Description:
    """A 26 t box on a level bed 12 m down, beside a face; both tips 0.6 m toward the tail unit from their picks."""
    site = Site(
        ((60.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-60.0, -12.0)),
        -4.65,
        soil=FIRM,
        settle_s=3.0,
        contact=Contact(stiffness_N_per_m=stiffness_N_per_m, friction=friction),
    )
    trailer = block(
        mass_kg=26e3, size_m=(14.6, 4.0, 2.6), picks_x_m=PICKS_M, rigging_m=RIGGING_M, pivot="bridle_across"
    )
    units = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15}, (unit(-9.075), unit(9.075)))
    tips: list[Vector] = [(x + OUT_M, -8.0, 9.3) for x in PICKS_M]
    return describe(trailer, (tips[0], tips[1]), (LINE_M, LINE_M), units=units, site=site, at=TrailerStart(0.0, -8.0))


class Straight:
    """Hoists on at one speed until the load is clear, whatever it does."""

    def __init__(self, description: Description, end: int, up_mps: float) -> None:
        self._unit, self._end, self._up_mps = description.units[end], end, up_mps

    def command(self, readings: Readings) -> UnitCommands:
        return self._hoist(readings, self._up_mps)

    def _hoist(self, readings: Readings, up_mps: float) -> UnitCommands:
        if readings.load.ground_N <= 0.0 and readings.load.height_over_bed_m > CLEAR_M:
            up_mps = 0.0
        mine = readings.units[self._end]
        aim = Aim((mine.tip_x_m, mine.tip_y_m, mine.tip_z_m), hook_up_mps=up_mps)
        return UnitCommands(hoist=steer(self._unit, TWO_BY_ONE.units[self._end], readings, aim)[0])


class Waiting(Straight):
    """Hoists slowly; stops whenever the load moves until it is still, then puts the tip over the hook again."""

    def __init__(self, description: Description, end: int, up_mps: float) -> None:
        super().__init__(description, end, up_mps)
        self.waits = 0
        self._doing = "hoist"
        self._moved_s = -1e9

    def command(self, readings: Readings) -> UnitCommands:
        load, mine = readings.load, readings.units[self._end]
        if not mine.slack and hypot(load.vx_mps, load.vy_mps) > MOVES_MPS:
            self._moved_s = readings.time_s
        moving = readings.time_s - self._moved_s < STILL_S
        if load.ground_N <= 0.0:
            self._doing = "hoist"
        elif moving:
            self.waits += self._doing == "hoist"
            self._doing = "wait"
        elif self._doing == "wait":
            self._doing = "plumb"
        elif self._doing == "plumb" and off_m(mine) < PLUMB_M:
            self._doing = "hoist"
        if self._doing == "plumb":
            aim = Aim((mine.hook_x_m, mine.hook_y_m, mine.tip_z_m))
            return UnitCommands(*steer(self._unit, TWO_BY_ONE.units[self._end], readings, aim))
        return self._hoist(readings, self._up_mps if self._doing == "hoist" else 0.0)


def off_m(mine: UnitReadings) -> float:
    """Level distance from tip to hook."""
    return hypot(mine.hook_x_m - mine.tip_x_m, mine.hook_y_m - mine.tip_y_m)


def sway_after_lift_off_m(description: Description, hands: tuple[Straight, Straight]) -> float:
    """Sway amplitude as the readings have it, one sway period after the load came clear."""
    attempt = Attempt(description, list(hands))
    most_off = 0.0
    clear_s = None
    while clear_s is None or attempt.readings.time_s < clear_s + 1.1 * attempt.readings.load.sway_period_s:
        attempt.advance(STILL, 4)
        load = attempt.readings.load
        if attempt.readings.time_s < 0.5:
            most_off = max(most_off, *(off_m(unit) for unit in attempt.readings.units))
        if clear_s is None and load.ground_N <= 0.0 and load.height_over_bed_m > CLEAR_M:
            clear_s = attempt.readings.time_s
        assert attempt.readings.time_s < 200.0
    assert most_off == pytest.approx(OUT_M * LINE_M / (LINE_M + RIGGING_M), abs=0.02)
    return load.sway_m


def waiting_m(description: Description) -> float:
    hands = Waiting(description, 0, 0.02), Waiting(description, 1, 0.02)
    sway = sway_after_lift_off_m(description, hands)
    assert all(hand.waits >= 1 for hand in hands)
    return sway


def straight_m(description: Description, up_mps: float) -> float:
    return sway_after_lift_off_m(description, (Straight(description, 0, up_mps), Straight(description, 1, up_mps)))


def test_waiting_whenever_the_load_moves_leaves_almost_no_sway() -> None:
    """Friction 0.5, 2 MN/m a point: under 8 cm."""
    assert waiting_m(described(0.5, 2e6)) < 0.08


@pytest.mark.parametrize("up_mps", [0.02, 0.05])
def test_hoisting_straight_on_leaves_the_load_swaying(up_mps: float) -> None:
    """The same lift at 2 cm/s or faster: over 40 cm."""
    assert straight_m(described(0.5, 2e6), up_mps) > 0.40


@pytest.mark.long_in_plain
@pytest.mark.parametrize("friction", [0.3, 0.8])
@pytest.mark.parametrize("stiffness_N_per_m", [0.5e6, 8e6])
def test_waiting_pays_on_every_bed(friction: float, stiffness_N_per_m: float) -> None:
    """Friction 0.3 to 0.8, 0.5 to 8 MN/m: under 12 cm against over 30 cm, and at least five times."""
    description = described(friction, stiffness_N_per_m)
    patient, hasty = waiting_m(description), straight_m(description, 0.05)
    assert patient < 0.12
    assert hasty > 0.30
    assert hasty > 5.0 * patient

"""Every function gives in: each is driven against a load that the bed holds for good, by statics and drum geometry."""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin

import pytest

from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.mechanics.drum import layer_diameter_m, lead_line_share
from simulator.mechanics.footing import stand
from simulator.mechanics.reliefs import rated, reliefs
from simulator.places import find_scenario
from simulator.readings import UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.reader import load
from simulator.scenario.site import BedHold
from tests.demo import with_boom, with_hoist, with_units

STRONG = {"stall_line_pull_N": 1e6, "rope_breaking_N": 1e8}
"""A winch that nothing stalls, and its rope."""
HEAVY = {"carrier_kg": 4e5}
"""Carriers that nothing tips."""


def stuck() -> Description:
    """The tank held to its bed by more than anything here can pull, on units too heavy to tip."""
    described = load(find_scenario("tank_on_side"))
    hold = BedHold((0.0, 0.0, 1.3), 1e8, 2e7)
    return with_units(replace(described, site=replace(described.site, bed_hold=hold)), **HEAVY)


def driven(
    described: Description, hands: UnitCommands, seconds: float, *, after: Simulation | None = None
) -> tuple[Simulation, list[UnitReadings]]:
    """The nose unit's hands for so long, its readings twenty times a second."""
    simulation = after or Simulation(described, in_bulk=True)
    instruments, seen = Instruments(simulation.model), []
    for _ in range(round(seconds * 20)):
        simulation.run(Commands(hands, UnitCommands()), 12)
        seen.append(instruments.read(simulation.state).nose)
    return simulation, seen


class TestWinch:
    """Constant torque: pull and speed go by the layer's diameter."""

    @pytest.mark.parametrize("usable_m", [66.0, 100.0, 140.0])
    def test_it_pulls_less_on_outer_layers_and_no_more_than_its_stall(self, usable_m: float) -> None:
        described = with_hoist(stuck(), usable_rope_m=usable_m, rope_breaking_N=1e8)
        _, seen = driven(described, UnitCommands(hoist=1.0), 20.0)
        hoist = described.units[0].hoist
        wraps = int(hoist.drum_width_m / hoist.rope_diameter_m)
        on_drum = seen[-1].rope_left_m + 2.0 * 3.14159265 * (hoist.drum_diameter_m + hoist.rope_diameter_m)
        layer, held = 1, 0.0
        while on_drum > held + wraps * 3.14159265 * layer_diameter_m(hoist, layer):
            held += wraps * 3.14159265 * layer_diameter_m(hoist, layer)
            layer += 1
        pull = hoist.stall_line_pull_N * layer_diameter_m(hoist, 1) / layer_diameter_m(hoist, layer)
        stall = pull / lead_line_share(hoist.parts, hoist.sheave_loss)
        assert max(one.line_load_N for one in seen) < stall
        assert seen[-1].line_load_N == pytest.approx(stall, rel=0.03)
        assert seen[-1].stall and seen[-1].hoist_speed_mps < 0.02

    def test_it_takes_rope_faster_on_outer_layers(self) -> None:
        for usable_m, layer in ((66.0, 1), (100.0, 2)):
            described = with_hoist(stuck(), usable_rope_m=usable_m)
            _, seen = driven(described, UnitCommands(hoist=-1.0), 1.0)
            hoist = described.units[0].hoist
            faster = layer_diameter_m(hoist, layer) / layer_diameter_m(hoist, 1)
            assert seen[-1].hoist_speed_mps == pytest.approx(-hoist.speed_mps * faster)

    def test_speed_falls_with_load(self) -> None:
        """Full to 60 % of the stall, then straight to none at it."""
        described = stuck()
        _, seen = driven(described, UnitCommands(hoist=1.0), 15.0)
        full, hoist = described.units[0].full_speed_share, described.units[0].hoist
        stall = hoist.stall_line_pull_N / lead_line_share(hoist.parts, hoist.sheave_loss)
        pulling = [one for one in seen if one.line_load_N > (full + 0.05) * stall]
        assert len(pulling) > 20
        for one in pulling:
            left = hoist.speed_mps * (1.0 - one.line_load_N / stall) / (1.0 - full)
            assert one.hoist_speed_mps == pytest.approx(left, abs=0.03)

    def test_a_held_winch_slips_at_its_brake(self) -> None:
        """Hoisted taut, then the boom goes up with the winch held: rope runs out, and the pull stays at the brake's."""
        described = with_boom(with_hoist(stuck(), brake_line_pull_N=70e3, rope_breaking_N=1e8), raise_relief_Nm=1e9)
        simulation, taut = driven(described, UnitCommands(hoist=0.3), 8.0)
        assert taut[-1].line_load_N > 20e3
        rope = simulation.state.lines[0].rope_out_m
        _, seen = driven(described, UnitCommands(elevation=1.0), 12.0, after=simulation)
        assert seen[-1].rope_out_m > rope + 0.3
        assert 2.0 * 70e3 < max(one.line_load_N for one in seen) < 1.1 * 2.0 * 70e3
        _, held = driven(described, UnitCommands(), 6.0, after=simulation)
        assert held[-1].line_load_N <= 1.01 * 2.0 * 70e3
        assert held[-1].rope_out_m == pytest.approx(held[-20].rope_out_m, abs=0.01)

    def test_a_rope_past_its_strength_parts_and_ends_the_lift(self) -> None:
        described = with_hoist(stuck(), rope_breaking_N=90e3)
        simulation, seen = driven(described, UnitCommands(hoist=1.0), 20.0)
        (incident,) = simulation.incidents
        assert (incident.what, incident.fields["line"]) == ("parted", "nose")
        hoist = described.units[0].hoist
        broke = 90e3 / lead_line_share(hoist.parts, hoist.sheave_loss)
        assert max(one.line_load_N for one in seen) == pytest.approx(broke, rel=0.08)
        assert seen[-1].hook_load_N == 0.0 and simulation.state.lines[0].parted


def pull_on_tip(one: UnitReadings, described: Description) -> tuple[float, float, float, float]:
    """Outward, sideways (toward the road) and upward pull at the leaning tip, and its level distance from the axis."""
    size = one.line_load_N / one.sheave_to_hook_m
    x, y, z = (
        (a - b) * size
        for a, b in ((one.hook_x_m, one.tip_x_m), (one.hook_y_m, one.tip_y_m), (one.hook_z_m, one.tip_z_m))
    )
    c, s = cos(one.slew_rad), sin(one.slew_rad)
    u = one.tip_x_m - described.units[0].slew_axis_x_m
    return x * c + y * s, y * c - x * s, z, u * c + one.tip_y_m * s


class TestBoom:
    """Reliefs stall what is driven; holding valves keep the boom till their own."""

    @pytest.mark.long_in_plain
    def test_raising_stalls_at_its_relief_and_the_boom_then_stays(self) -> None:
        relief = 1.2e6
        described = with_boom(with_hoist(stuck(), **STRONG), raise_relief_Nm=relief)
        simulation, taut = driven(described, UnitCommands(hoist=0.3), 4.0)
        assert 0.3 < taut[-1].raise_used < 1.0
        _, seen = driven(described, UnitCommands(elevation=1.0), 25.0, after=simulation)
        last = seen[-1]
        outward, _, up, out = pull_on_tip(last, described)
        boom, mass = described.units[0].boom, described.units[0].boom_kg
        own = (
            mass
            * STANDARD_GRAVITY_MPS2
            * described.units[0].boom_cg_share
            * last.boom_length_m
            * cos(last.elevation_rad)
        )
        moment = outward * (last.tip_z_m - boom.foot_pin_height_m) - up * (out + boom.foot_pin_back_m) + own
        assert moment == pytest.approx(relief, rel=0.02)
        assert last.raise_used == pytest.approx(moment / relief, rel=0.01)
        assert abs(last.elevation_speed_radps) < 0.001
        _, held = driven(described, UnitCommands(), 5.0, after=simulation)
        assert held[-1].elevation_rad == pytest.approx(last.elevation_rad, abs=0.002)

    def test_holding_valves_let_it_down_at_their_own_relief(self) -> None:
        """The winch goes on pulling: the boom comes down and keeps the moment near its holding relief."""
        described = with_boom(with_hoist(stuck(), **STRONG), raise_relief_Nm=1.2e6)
        _, seen = driven(described, UnitCommands(hoist=0.2), 25.0)
        assert seen[-1].elevation_rad < seen[0].elevation_rad - 0.02
        assert 1.25 < seen[-1].raise_used < 1.3 * 1.1
        assert max(one.raise_used for one in seen) < 1.3 * 1.1

    @pytest.mark.long_in_plain
    def test_extending_stalls_at_its_relief(self) -> None:
        relief = 250e3
        described = with_boom(with_hoist(stuck(), **STRONG), telescope_relief_N=relief, raise_relief_Nm=1e9)
        simulation, _ = driven(described, UnitCommands(hoist=0.3), 8.0)
        _, seen = driven(described, UnitCommands(telescope=1.0), 15.0, after=simulation)
        assert seen[-1].telescope_used == pytest.approx(1.0, abs=0.03)
        assert abs(seen[-1].telescope_speed_mps) < 0.01
        assert max(one.telescope_used for one in seen) < 1.05
        _, pushed = driven(described, UnitCommands(hoist=0.2), 15.0, after=simulation)
        assert pushed[-1].boom_length_m < seen[-1].boom_length_m - 0.05
        assert pushed[-1].telescope_used < 1.3 * 1.1

    @pytest.mark.long_in_plain
    def test_slewing_stalls_at_its_hold(self) -> None:
        hold = 60e3
        described = with_boom(with_hoist(stuck(), **STRONG), slew_hold_Nm=hold)
        simulation, _ = driven(described, UnitCommands(hoist=0.3), 8.0)
        _, seen = driven(described, UnitCommands(slew=1.0), 25.0, after=simulation)
        _, aside, _, out = pull_on_tip(seen[-1], described)
        assert abs(aside * out) == pytest.approx(hold, rel=0.06)
        assert abs(seen[-1].slew_speed_radps) < 0.002

    @pytest.mark.long_in_plain
    def test_a_boom_is_dragged_round_by_a_line_that_pulls_aside(self) -> None:
        """Slewed off with its line slack, then hoisted: past the holding torque the boom comes round to its load."""
        described = with_boom(with_hoist(stuck(), **STRONG), slew_hold_Nm=40e3)
        simulation, _ = driven(described, UnitCommands(slew=1.0), 4.0)
        _, seen = driven(described, UnitCommands(hoist=0.2), 30.0, after=simulation)
        assert seen[-1].slew_rad < seen[0].slew_rad - 0.02
        assert max(one.slew_used for one in seen) < 1.15


def test_reliefs_by_default_leave_what_the_rating_allows() -> None:
    """Each as a share of the worst of the rating table, worked out again here."""
    unit = load(find_scenario("tank_on_side")).units[0]
    on = stand(unit)
    raising, extending, slewing = reliefs(unit, on)
    rows = list(rated(unit, on))
    weight = unit.boom_kg * STANDARD_GRAVITY_MPS2 * unit.boom_cg_share
    assert raising == pytest.approx(1.2 * max(row.level_m * (row.load_N + weight) for row in rows))
    assert slewing == pytest.approx(0.08 * max(row.load_N * (row.level_m - unit.boom.foot_pin_back_m) for row in rows))
    assert extending > 0.5 * max(row.load_N for row in rows)

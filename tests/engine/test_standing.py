"""Units on their floats while a load moves: light before off before tipping, stall, lean, soft ground."""

from collections.abc import Callable
from dataclasses import replace
from math import inf

import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.mechanics.boom import BoomPose, boom_pose, tip_m
from simulator.mechanics.trailer_body import rotation, turned
from simulator.places import find_scenario
from simulator.readings import UnitReadings
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import event_words
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import NOSE
from tests.demo import with_hoist, with_pick, with_start, with_unit

UP = UnitCommands(hoist=0.4)


def tank(**changes: object) -> Description:
    return replace(load(find_scenario("tank_on_side")), **changes)  # type: ignore[arg-type]


def raised(described: Description, seconds: float = 30.0) -> Simulation:
    """The load off the bed, both lines hoisted evenly."""
    simulation = Simulation(described)
    drive(simulation, Commands(UP, UP), seconds)
    assert simulation.state.ground.fz == 0.0
    return simulation


def drive(
    simulation: Simulation, commands: Commands, seconds: float, see: Callable[[UnitReadings, float], None] | None = None
) -> None:
    """Drive on; show the nose unit's readings twenty times a second, until an incident."""
    instruments = Instruments(simulation.model)
    for i in range(round(seconds / simulation.model.dt)):
        simulation.step(commands)
        if see is not None and i % 12 == 0:
            see(instruments.read(simulation.state).nose, simulation.time_s)
        if simulation.incidents:
            return


@pytest.mark.long_in_plain
def test_light_comes_before_off_and_off_no_later_than_tipping() -> None:
    """Effect 12, driven: the nose boom is lowered over the slope until the unit goes over."""
    described = tank()
    simulation = raised(with_unit(described, 0, superstructure_kg=6000.0), 50.0)
    limit = simulation.description.limits.light_float_share
    first = {"light": inf, "off": inf}

    def see(nose: UnitReadings, now_s: float) -> None:
        for name, is_so in {
            "light": nose.least_float_share < limit,
            "off": nose.least_float_N <= 0.0,
        }.items():
            if is_so:
                first[name] = min(first[name], now_s)

    down = UnitCommands(elevation=-0.6, telescope=0.5, hoist=0.3)
    drive(simulation, Commands(down, UnitCommands()), 60.0, see)
    (incident,) = simulation.incidents
    assert first["light"] < first["off"] <= incident.time_s
    assert (incident.what, incident.fields["unit"]) == ("tipped", "nose")
    assert incident.fields["way"] == "the ravine"


@pytest.mark.long_in_plain
def test_reaching_over_the_slope_unloads_the_road_side() -> None:
    """Effect 10: further out over the slope, less on the two road-side floats, step by step."""
    simulation = raised(tank())
    road: list[float] = []
    reach: list[float] = []

    def see(nose: UnitReadings, _: float) -> None:
        road.append(nose.float_tailboard_road_N + nose.float_cab_road_N)
        reach.append(nose.reach_m)

    drive(simulation, Commands(UnitCommands(elevation=-0.3), UnitCommands()), 12.0, see)
    quarter = len(road) // 4
    assert reach[-1] > reach[0] + 0.15
    means = [sum(road[i * quarter : (i + 1) * quarter]) / quarter for i in range(4)]
    assert means == sorted(means, reverse=True)


@pytest.mark.long_in_plain
def test_a_winch_at_its_stall_stops_hoisting() -> None:
    """Effect 12: asked to go on, the line stops where its pull reaches what the winch can do on that layer."""
    described = tank()
    simulation = Simulation(with_hoist(described, 0, stall_line_pull_N=50e3))
    instruments = Instruments(simulation.model)
    drive(simulation, Commands(UP, UnitCommands()), 20.0)
    stalls: list[bool] = []
    loads: list[float] = []
    rope = simulation.state.lines[0].rope_out_m

    def see(nose: UnitReadings, _: float) -> None:
        stalls.append(nose.stall)
        loads.append(nose.line_load_N)

    drive(simulation, Commands(UP, UnitCommands()), 10.0, see)
    nose = instruments.read(simulation.state).nose
    assert any(stalls)
    assert nose.rope_out_m == pytest.approx(rope, abs=0.005)
    assert simulation.state.ground.fz > 0.0
    # 20 m left is on the first layer; K^n (K - 1) / (K^n - 1) on two parts of line.
    loss = described.units[0].hoist.sheave_loss
    share = loss**2 * (loss - 1.0) / (loss**2 - 1.0)
    assert 0.97 * 50e3 / share <= max(loads) < 1.001 * 50e3 / share


@pytest.mark.long_in_plain
def test_the_tip_leans_out_as_weight_comes_on_and_does_not_ring() -> None:
    """The part of the tip's displacement square to the line moves it outward; held still, it settles."""
    simulation = Simulation(tank())
    instruments = Instruments(simulation.model)
    empty = instruments.read(simulation.state).nose
    drive(simulation, Commands(UP, UP), 30.0)
    radii: list[float] = []
    drive(simulation, STILL, 20.0, lambda nose, _: radii.append((nose.tip_x_m**2 + nose.tip_y_m**2) ** 0.5))
    loaded = instruments.read(simulation.state).nose
    unit = simulation.description.units[0]
    axis = unit.slew_axis_x_m
    stiff = tip_m(unit, BoomPose(loaded.boom_length_m, loaded.elevation_rad, loaded.slew_rad))
    out = ((loaded.tip_x_m - axis) ** 2 + loaded.tip_y_m**2) ** 0.5 - ((stiff[0] - axis) ** 2 + stiff[1] ** 2) ** 0.5
    assert 0.02 < out < 0.6
    assert loaded.lean_m > empty.lean_m
    late = radii[len(radii) // 2 :]
    assert max(late) - min(late) < 0.01


@pytest.mark.long_in_plain
def test_capacity_and_floats_are_independent_alarms() -> None:
    """A pick far inboard on the nose end: a float lifts while capacity is under its caution (demo-set's lesson)."""
    described = tank()
    unit, at = described.units[0], described.trailer.pick(NOSE).at_m
    pose = boom_pose(unit, (-2.4, -8.0, 9.3))
    rope = unit.lines[0].rope_out_m + pose.length_m - unit.start.boom_length_m
    changed = with_pick(with_unit(described, 0, rating=None), NOSE, at_m=(-2.4, at[1], at[2]))
    changed = with_start(changed, 0, boom_length_m=pose.length_m, elevation_rad=pose.elevation_rad,
                         slew_rad=pose.slew_rad, rope_out_m=rope)  # fmt: skip
    simulation = Simulation(changed)
    alarms: list[tuple[float, float]] = []
    drive(
        simulation,
        Commands(UP, UP),
        60.0,
        lambda nose, _: alarms.append((nose.capacity_used, nose.least_float_N)),
    )
    assert any(least <= 0.0 and used < changed.limits.capacity_caution for used, least in alarms)


@pytest.mark.long_in_plain
def test_floats_settle_into_ground_they_overload() -> None:
    described = tank()
    soft = replace(described.site.soil, allowable_bearing_Pa=200e3, settle_mps_per_overload=0.002)
    simulation = Simulation(replace(described, site=replace(described.site, soil=soft)))
    drive(simulation, Commands(UP, UP), 30.0)
    sunk = [max(boom.stance.sunk_m) for boom in simulation.state.booms]
    firm = raised(tank())
    assert all(depth > 0.001 for depth in sunk)
    assert all(max(boom.stance.sunk_m) == 0.0 for boom in firm.state.booms)


def test_a_unit_that_has_sunk_by_its_jacks_stroke_ends_the_lift_once_and_says_how_deep() -> None:
    """Sinking at a rate that grows with the overload has no end of its own."""
    described = tank()
    soft = replace(described.site.soil, allowable_bearing_Pa=20e3, settle_mps_per_overload=0.004)
    simulation = Simulation(replace(described, site=replace(described.site, soil=soft)))
    while max(max(boom.stance.sunk_m) for boom in simulation.state.booms) <= 0.5:
        assert simulation.incidents == []
        simulation.run(STILL, 12)
    simulation.run(STILL, 240)
    (sank,) = simulation.incidents
    assert sank.what == "sank" and sank.fields["depth_m"] == pytest.approx(0.5, abs=0.01)
    words = event_words(sank.happening, Amounts())
    assert words.endswith("unit: a float has sunk 0.50 m into the ground; the unit stands no more")


def test_the_reference_point_is_the_stated_cg() -> None:
    described = tank()
    shifted = replace(described, trailer=replace(described.trailer, hidden_cg_m=(0.5, 0.0, 0.0)))
    simulation = Simulation(shifted)
    motion = simulation.state.motion
    x, y, z = turned(rotation(motion.pitch, motion.yaw, motion.roll), simulation.model.reference_m)
    read = Instruments(simulation.model).read(simulation.state).load
    assert (read.x_m, read.y_m, read.z_m) == pytest.approx((motion.x + x, motion.y + y, motion.z + z), abs=1e-12)
    assert read.x_m == pytest.approx(described.trailer.start.x_m, abs=0.05)


@pytest.mark.long_in_plain
def test_a_winch_that_stops_jerks_its_load() -> None:
    """From a steady 0.25 m/s at the hook, either way: 1.10 to 1.15 of the load at rest, by rope and boom alone."""
    simulation = raised(tank())
    resting = [line.hook_load_N for line in simulation.state.lines]
    for way in (1.0, -1.0):
        for i in range(160):
            gently = UnitCommands(hoist=way * (i + 1) / 160)
            simulation.run(Commands(gently, gently), 6)
        full = UnitCommands(hoist=way)
        simulation.run(Commands(full, full), 1200)
        assert [abs(line.hoist_mps) / 2.0 for line in simulation.state.lines] == pytest.approx([0.25, 0.25])
        peaks = [0.0, 0.0]
        for _ in range(600):
            simulation.run(STILL, 2)
            peaks = [max(peak, line.hook_load_N) for peak, line in zip(peaks, simulation.state.lines, strict=True)]
        for peak, rest in zip(peaks, resting, strict=True):
            assert 1.10 < peak / rest < 1.15
        simulation.run(STILL, 4800)

"""A unit that no floats balance: how fast it goes, what brings it back, what it loses as it lands, when it is lost."""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, sin, sqrt

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.leaning import begin
from simulator.engine.moving import Unit as MovingUnit
from simulator.engine.simulation import Simulation
from simulator.engine.state import state_from
from simulator.mechanics.going_over import MOST_LEAN_RAD
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.noticed import Noticing
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import event_words
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.unit import Unit
from tests.demo import with_unit

G = 9.80665
UP = UnitCommands(hoist=0.4)
OUT = UnitCommands(elevation=-0.6, telescope=0.5, hoist=0.3)
"""Out over the slope with a light superstructure, until floats lift."""


def about_edge(unit: Unit, moving: MovingUnit) -> tuple[float, float, float, float]:
    """Mass, distance of the CG from the ravine-side floats and over the ground, moment of inertia about their line: by
    the parallel axis theorem from boxes and a rod, as `footing.masses` says they are spread."""
    length, elevation, slew = moving.telescope.at, moving.elevation.at, moving.slew.at
    along = length * np.array([cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation)])
    back, c, s = unit.boom.foot_pin_back_m, cos(slew), sin(slew)
    pin = np.array([-back * c, -back * s, unit.boom.foot_pin_height_m])
    wide, high, block = unit.carrier_width_m, 2.2, 2.0 * unit.superstructure_radius_m
    behind = unit.superstructure_cg_m
    parts = [
        (unit.carrier_kg, np.array([-unit.carrier_cg_m, 0.0, 1.1]), (wide**2 + high**2) / 12.0),
        (unit.superstructure_kg, np.array([-behind * c, -behind * s, 2.2]), 2.0 * block**2 / 12.0),
        (unit.boom_kg, pin + unit.boom_cg_share * along, (along[1] ** 2 + along[2] ** 2) / 12.0),
    ]
    mass = sum(m for m, _, _ in parts)
    center = sum(m * at for m, at, _ in parts) / mass
    edge = -unit.floats.across_m
    turning = sum(m * ((at[1] - edge) ** 2 + at[2] ** 2 + own) for m, at, own in parts)
    return mass, float(center[1] - edge), float(center[2]), turning


def leaning(described: Description, lean_rad: float) -> tuple[Simulation, MovingUnit]:
    """The nose unit held leaning about its ravine-side floats by so much, then let go; lines slack."""
    simulation = Simulation(described, in_bulk=True)
    unit = simulation.moving.units[0]
    for line in unit.lines:
        line.numbers.below_sheave_N = 0.0  # the unit alone
    begin(unit)
    unit.over.pivot, unit.over.lean_v = 1, -lean_rad
    return simulation, unit


def test_a_unit_that_leans_falls_back_in_the_time_of_a_rigid_body_about_an_edge() -> None:
    """t = integral of d(lean) / rate, rate from the height that its CG has lost."""
    described = load(find_scenario("tank_on_side"))
    for first in (0.02, 0.08, 0.16):
        simulation, unit = leaning(described, first)
        mass, out, up, turning = about_edge(described.units[0], unit)

        def height(lean: float, out: float = out, up: float = up) -> float:
            return out * sin(lean) + up * cos(lean)

        def slowness(part: float, first: float = first, mass: float = mass, turning: float = turning) -> float:
            lean = first * (1.0 - part * part)  # no pole where it begins
            return 2.0 * part * first / sqrt(2.0 * mass * G * (height(first) - height(lean)) / turning)

        taken_s, _ = quad(slowness, 0.0, 1.0)
        steps = 0
        while unit.over.lean_v < 0.0 and steps < 2000:
            simulation.run(STILL, 1)
            steps += 1
        assert steps / 240.0 == pytest.approx(taken_s, rel=0.02, abs=1.0 / 240.0)


def test_what_falls_keeps_its_energy_until_it_lands_and_then_has_none() -> None:
    described = load(find_scenario("tank_on_side"))
    simulation, unit = leaning(described, 0.1)
    mass, out, up, turning = about_edge(described.units[0], unit)
    over = unit.over

    def energy() -> float:
        lean = -over.lean_v
        return 0.5 * turning * over.rate_v**2 + mass * G * (out * sin(lean) + up * cos(lean) - up)

    first = energy()
    while over.lean_v < -0.01:
        simulation.run(STILL, 1)
        assert energy() == pytest.approx(first, rel=0.02)
    assert unit.over.is_up
    simulation.run(STILL, 120)
    assert not unit.over.is_up and simulation.incidents == []
    assert simulation.state.booms[0].over == ()
    assert min(unit.floats_N) > 0.0


def test_up_floats_read_nothing_and_the_tip_goes_with_the_unit() -> None:
    described = load(find_scenario("tank_on_side"))
    simulation, unit = leaning(described, 0.1)
    stood = Simulation(described).state.booms[0].tip
    simulation.run(STILL, 16)
    lean = unit.over.lean_v
    assert unit.floats_N[0] == unit.floats_N[2] == 0.0 and min(unit.floats_N[1], unit.floats_N[3]) > 0.0
    edge = -described.units[0].floats.across_m
    y, z = stood[1] - edge, stood[2]
    turned = (edge + y * cos(lean) + z * sin(lean), z * cos(lean) - y * sin(lean))
    assert simulation.state.booms[0].tip[1:] == pytest.approx(turned, abs=2e-3)
    now = Instruments(simulation.model).read(simulation.state).nose
    assert now.tipping and now.over_across_rad == lean and abs(now.over_along_rad) < 1e-12
    assert now.least_float_share == 0.0


def overreached(hoist_s: float) -> Simulation:
    """A load off the bed for so long, and its nose boom let down over the slope until the unit has begun to go."""
    described = with_unit(load(find_scenario("tank_on_side")), 0, superstructure_kg=6000.0)
    simulation = Simulation(described, in_bulk=True)
    while simulation.state.ground.fz > 0.0:
        simulation.run(Commands(UP, UP), 48)
    simulation.run(Commands(UP, UP), round(hoist_s * 240))
    while simulation.moving.units[0].over.lean_v > -0.01:
        assert simulation.incidents == [] and simulation.time_s < 90.0
        simulation.run(Commands(OUT, UnitCommands()), 8)
    return simulation


def copy_of(going: Simulation) -> Simulation:
    simulation = Simulation(going.description, in_bulk=True)
    simulation.restore(going.state)
    return simulation


def read(simulation: Simulation) -> Readings:
    return Instruments(simulation.model).read(simulation.state)


def test_lowering_at_once_saves_it_and_both_are_told() -> None:
    """The load hangs a hand over the bed: it is set down, and the unit comes back onto its floats."""
    simulation = overreached(0.5)
    noticing, now = Noticing(simulation.description), read(simulation)
    noticing.look(now.with_unit(0, now.nose._replace(tipping=False)))
    told = []
    for _ in range(300):
        simulation.run(Commands(UnitCommands(hoist=-1.0), UnitCommands()), 8)
        told += noticing.look(read(simulation))
        if not simulation.moving.units[0].over.is_up:
            break
    assert simulation.incidents == [] and not read(simulation).nose.tipping
    assert [event.what for event in told if event.kind == "tipping"] == ["tipping", "saved"]
    saved = next(event for event in told if event.what == "saved")
    assert 0.01 < float(saved.fields["lean_rad"]) < MOST_LEAN_RAD
    words = event_words(saved.happening, Amounts())
    assert words.startswith("nose unit is back on its floats: it had gone over by ")


@pytest.fixture(scope="module")
def going() -> Simulation:
    """A unit that has begun to lean, its load meters over the bed."""
    return overreached(40.0)


def test_left_to_itself_it_is_lost(going: Simulation) -> None:
    simulation = copy_of(going)
    begins_s = simulation.time_s
    simulation.run(STILL, 2400)
    (incident,) = simulation.incidents
    assert (incident.what, incident.fields["unit"], incident.fields["way"]) == ("tipped", "nose", "the ravine")
    assert incident.time_s > begins_s + 0.5
    boom = simulation.state.booms[0]
    assert boom.is_gone and hypot(*boom.over[:2]) >= MOST_LEAN_RAD
    later = simulation.state.booms[0].over
    simulation.run(STILL, 240)
    assert simulation.state.booms[0].over[:2] == later[:2]  # no more is followed


def test_past_its_own_balance_no_lowering_would_help() -> None:
    """A unit whose own weight lies beyond its floats is lost as soon as it moves."""
    described = load(find_scenario("tank_on_side"))
    unit = described.units[0]
    off = replace(unit.floats, across_m=0.15, pad_side_m=0.3)
    slewed = replace(unit.start, slew_rad=-1.57, elevation_rad=0.1)
    simulation = Simulation(with_unit(described, 0, floats=off, start=slewed, superstructure_kg=2000.0), in_bulk=True)
    assert simulation.state.booms[0].stance.tipping
    simulation.run(STILL, 480)
    (incident,) = simulation.incidents
    lean = hypot(*simulation.state.booms[0].over[:2])
    assert incident.what == "tipped" and lean < 0.02


def test_a_state_while_it_goes_over_is_taken_up_to_the_last_bit(going: Simulation) -> None:
    one, other = copy_of(going), Simulation(going.description)
    plain = state_from([*going.state])
    other.restore(plain)
    one.run(STILL, 100)
    for _ in range(100):
        other.step(STILL)
    assert one.state_hash == other.state_hash
    assert one.state.booms[0].over != going.state.booms[0].over


def test_half_the_step_leans_by_as_much() -> None:
    described = load(find_scenario("tank_on_side"))
    leans = []
    for finer in (1, 2):
        engine = replace(described.engine, steps_per_s=240 * finer, footing_every_steps=8 * finer)
        simulation, unit = leaning(replace(described, engine=engine), 0.1)
        simulation.run(STILL, 60 * finer)
        leans.append(unit.over.lean_v)
    assert leans[1] == pytest.approx(leans[0], rel=0.02)


def test_over_a_corner_it_goes_as_a_body_about_a_point() -> None:
    """Two free leans about the one float that is down, by scipy on the very inertia about it."""
    described = load(find_scenario("tank_on_side"))
    simulation, unit = leaning(described, 0.0)
    floats, of = described.units[0].floats, described.units[0]
    over = unit.over
    over.lean_u, over.lean_v = 0.06, -0.09  # tailboard-ravine float alone is down
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    along = length * np.array([cos(elevation) * cos(slew), cos(elevation) * sin(slew), sin(elevation)])
    back, c, s = of.boom.foot_pin_back_m, cos(slew), sin(slew)
    pivot = np.array([floats.toward_tailboard_m, -floats.across_m, 0.0])
    sizes = np.array([of.cab_front_m + of.tailboard_m, of.carrier_width_m, 2.2])
    boxes = [
        (of.carrier_kg, np.array([-of.carrier_cg_m, 0.0, 1.1]), np.diag(sizes**2 / 12.0)),
        (of.superstructure_kg, np.array([-of.superstructure_cg_m * c, -of.superstructure_cg_m * s, 2.2]),
         np.eye(3) * of.superstructure_radius_m**2 / 3.0),
        (of.boom_kg, np.array([-back * c, -back * s, of.boom.foot_pin_height_m]) + of.boom_cg_share * along,
         np.outer(along, along) / 12.0),
    ]  # fmt: skip
    second = sum(m * (np.outer(at - pivot, at - pivot) + own) for m, at, own in boxes)
    first = sum(m * (at - pivot) for m, at, _ in boxes)

    def rates(_: float, q: np.ndarray) -> list[float]:
        size = hypot(q[0], q[1])
        axis = np.array([-q[1], q[0], 0.0]) / size  # turns up toward the way it leans
        k = np.array([[0.0, 0.0, axis[1]], [0.0, 0.0, -axis[0]], [-axis[1], axis[0], 0.0]])
        turn = np.eye(3) + sin(size) * k + (1.0 - cos(size)) * k @ k
        j, f = turn @ second @ turn.T, turn @ first
        mass = np.array([[j[0, 0] + j[2, 2], j[0, 1]], [j[0, 1], j[1, 1] + j[2, 2]]])
        return [q[2], q[3], *np.linalg.solve(mass, G * f[:2])]

    ends_s = 0.2
    expected = solve_ivp(rates, (0.0, ends_s), [0.06, -0.09, 0.0, 0.0], rtol=1e-9, atol=1e-12).y[:2, -1]
    simulation.run(STILL, round(ends_s * 240))
    assert (over.lean_u, over.lean_v) == pytest.approx(tuple(expected), rel=0.02)
    assert abs(expected[0] - 0.06) > 0.003 and abs(expected[1] + 0.09) > 0.003
    assert [force > 0.0 for force in unit.floats_N] == [False, True, False, False]

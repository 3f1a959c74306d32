"""Edges of the ground in the load: a road's edge, a ledge, a hump between two corners. Laws and hand calculations."""

from __future__ import annotations

from math import radians, tan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.engine.capture import move_to
from simulator.engine.commands import STILL, still
from simulator.engine.contact import push
from simulator.engine.model import build
from simulator.engine.simulation import Simulation
from simulator.engine.state import Motion
from simulator.engine.step_rule import MOST, springs_of, used
from simulator.mechanics.ground import ground
from simulator.mechanics.ridges import ridges
from simulator.places import shipped_scenarios
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.scenario.site import Contact, Point, Site
from simulator.scenario.trailer import TrailerStart
from tests.engine.scenes import FIRM, G, block, describe, kinetic_J

SIZE_M = 12.0, 2.6, 2.6
MASS_KG = 24000.0
HALF_M = SIZE_M[2] / 2.0
EDGE: tuple[Point, ...] = ((40.0, 0.0), (0.0, 0.0), (-0.4, -8.0), (-15.0, -8.0))
LEDGE: tuple[Point, ...] = ((40.0, -1.0), (0.8, -1.0), (0.6, 0.0), (-0.6, 0.0), (-0.8, -1.0), (-15.0, -1.0))
STIFF = 2.0e7


def sloping(degrees: float) -> tuple[Point, ...]:
    """A road, and a slope down from its edge at y = 0."""
    return (60.0, 0.0), (0.0, 0.0), (-20.0, -20.0 * tan(radians(degrees)))


def lying(
    section: tuple[Point, ...],
    *,
    at: TrailerStart | None = None,
    friction: float = 0.5,
    damping: float = 0.5,
    stiffness: float = 2.0e6,
    bed: tuple[Point, ...] = ((-50.0, 0.0), (50.0, 0.0)),
    edge_y_m: float = 0.0,
    settle_s: float = 0.0,
    steps_per_s: int = 240,
) -> Simulation:
    """A plain box with slack lines on that ground."""
    contact = Contact(stiffness_N_per_m=stiffness, friction=friction, damping_ratio=damping)
    site = Site(section, edge_y_m, bed, contact=contact, road_contact=contact, soil=FIRM, settle_s=settle_s)
    box = block(mass_kg=MASS_KG, size_m=SIZE_M)
    return Simulation(
        describe(box, ((-6.0, 0.0, 12.0), (6.0, 0.0, 12.0)), (60.0, 60.0), site=site, at=at, steps_per_s=steps_per_s)
    )


def pushed(simulation: Simulation, motion: Motion) -> tuple[float, ...]:
    """Force and moment of the ground on the load put there, in kN and kN m."""
    move_to(simulation.moving.body, motion)
    push(simulation.model.bed, simulation.moving, simulation.model.dt)
    return tuple(part / 1e3 for part in simulation.moving.ground)


@pytest.mark.parametrize(("degrees", "dips"), [(30.0, 0.26), (45.0, 1e-6), (70.0, 1e-6), (89.0, 1e-6)])
def test_a_corner_that_goes_over_the_edge_hands_its_push_to_the_edge(degrees: float, dips: float) -> None:
    """Flat and 2 cm deep: 4 k d straight up, from 10 cm on the road to 10 cm beyond the edge, at every millimeter.

    Over a slope of less than some 35 degrees the corner, within its own depth of the edge, pushes square to the slope
    for a moment, and so up to a quarter less.
    """
    simulation = lying(sloping(degrees), friction=0.0, damping=0.0)
    depth, rows = 0.02, []
    for mm in range(-100, 101):
        motion = Motion(0.0, HALF_M + mm / 1000.0, HALF_M - depth, 0.0, 0.0, 0.0)
        rows.append(pushed(simulation, motion))
    whole = 4.0 * 2.0e6 * depth / 1e3
    ups, sides = np.array([row[2] for row in rows]), np.array([row[1] for row in rows])
    assert np.abs(ups - whole).max() <= dips * whole
    assert np.abs(sides).max() <= dips * whole


def test_ridges_are_where_the_ground_bends_outward() -> None:
    """The edge and a ledge's two corners, not their feet; a hump of the bed, across, on each face that carries it."""
    surface = ground(Site(EDGE, 0.0))
    assert [(ridge.start[1], ridge.start[2]) for ridge in ridges(surface)] == [(0.0, 0.0)]
    assert [ridge.y_m for ridge in ridges(ground(Site(LEDGE, 5.0)))] == [0.6, -0.6]
    hump = Site(((40.0, 0.0), (-40.0, 0.0)), 39.0, ((-8.0, 0.0), (0.0, 1.0), (8.0, 0.0)))
    across = [ridge for ridge in ridges(ground(hump)) if ridge.start[0] == ridge.end[0]]
    assert [(ridge.start[0], ridge.low[2]) for ridge in across] == [(0.0, 0.0)]


@pytest.mark.parametrize(("over_m", "falls"), [(-0.15, False), (0.15, True)])
def test_half_over_the_edge_it_tips_when_its_cg_is_over(over_m: float, falls: bool) -> None:
    """CG 15 cm to either side of the edge, set down flat: it stays to a few centimeters, or goes over the edge."""
    simulation = lying(EDGE, stiffness=STIFF)
    simulation.place(Motion(0.0, -over_m, HALF_M + 0.002, 0.0, 0.0, 0.0))
    simulation.run(STILL, 6 * 240)
    motion = simulation.state.motion
    if falls:
        assert motion.z < -2.0
    else:
        assert motion.z == pytest.approx(HALF_M, abs=0.02) and abs(motion.roll) < 0.02
        assert simulation.state.ground.fz == pytest.approx(simulation.model.weight_N, rel=0.01)


@pytest.mark.parametrize("out_m", [0.05, 0.1, 0.2])
def test_it_falls_as_fast_as_a_body_about_an_edge(out_m: float) -> None:
    """I phi'' = m g (e cos phi + h sin phi), I about the edge: from a lean of 0.05 rad to 0.4, time within 2 %."""
    simulation = lying(EDGE, stiffness=STIFF, friction=2.0)
    simulation.place(Motion(0.0, -out_m, HALF_M, 0.0, 0.0, 0.0))
    while simulation.state.motion.roll < 0.05:
        simulation.step(STILL)
    began_s, lean, rate, clock = simulation.time_s, simulation.state.motion.roll, simulation.state.motion.roll_rate, 0.0
    inertia = MASS_KG * ((SIZE_M[1] ** 2 + SIZE_M[2] ** 2) / 12.0 + HALF_M**2 + out_m**2)
    while lean < 0.4:
        rate += MASS_KG * G * (out_m * np.cos(lean) + HALF_M * np.sin(lean)) / inertia * 1e-4
        lean, clock = lean + rate * 1e-4, clock + 1e-4
    while simulation.state.motion.roll < 0.4:
        simulation.step(STILL)
    assert simulation.time_s - began_s == pytest.approx(clock, rel=0.02)


def test_a_ledge_between_its_corners_carries_it() -> None:
    """A ledge 1.2 m wide under a box 2.6 m wide, whose corners all hang free: W / (4 k) deep."""
    simulation = lying(LEDGE, at=TrailerStart(0.0, 0.1), settle_s=6.0, edge_y_m=5.0)
    motion = simulation.state.motion
    sunk = simulation.model.weight_N / (4.0 * 2.0e6)
    assert motion.z == pytest.approx(HALF_M - sunk, abs=0.3 * sunk)
    simulation.run(STILL, 240)
    ground_push = simulation.state.ground
    assert ground_push.fz == pytest.approx(simulation.model.weight_N, rel=1e-3)
    assert all(place >= len(simulation.model.bed.points) for place, *_ in ground_push.stretches)


def test_a_hump_of_the_bed_between_its_ends_carries_it() -> None:
    """A hump in the middle of its length, under its middle: it rests there, its ends free."""
    section: tuple[Point, ...] = ((40.0, 0.0), (-40.0, 0.0))
    simulation = lying(section, bed=((-8.0, 0.0), (0.0, 1.0), (8.0, 0.0)), edge_y_m=41.0, settle_s=0.0)
    assert simulation.state.motion.z == pytest.approx(1.0 + HALF_M, abs=0.002)
    simulation.run(STILL, 60)
    assert simulation.state.ground.fz > 0.0


def energy_J(simulation: Simulation) -> float:
    """Motion and height, half a step on: that is where speeds are. Lines are slack."""
    motion = simulation.state.motion
    return kinetic_J(simulation) + simulation.model.weight_N * (motion.z + motion.vz * simulation.model.dt / 2.0)


@pytest.mark.long_in_plain
@settings(max_examples=6, deadline=None)
@given(
    degrees=st.sampled_from([20.0, 45.0, 85.0]),
    y=st.floats(-1.0, 1.5),
    turns=st.tuples(st.floats(-0.02, 0.02), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)),
    toward=st.floats(-1.0, 0.3),
    kept=st.sampled_from([0.0, 0.3]),
)
def test_thrown_on_an_edge_it_never_leaves_with_more(
    degrees: float, y: float, turns: tuple[float, float, float], toward: float, kept: float
) -> None:
    """Dropped on the edge askew and left to tumble, with damping and friction off and on: whenever it is free of the
    ground, it has no more energy than it came with, to 4 cm of its height (some thirtieth of its motion).

    At 960 steps a second: a bounce on springs begins and ends within a step, worth w dt / 2 of the motion it turns. The
    ground is soft, so that it sinks in by 20 cm and more: far deeper than a corner and an edge are one contact.
    """
    simulation = lying(sloping(degrees), friction=kept, damping=kept, steps_per_s=960)
    pitch, yaw, roll = turns
    simulation.place(Motion(0.0, y, 2.0, pitch, yaw, roll, vy=toward))
    came = energy_J(simulation)
    for _ in range(1500):
        state = simulation.step(STILL)
        energy = energy_J(simulation)
        if not state.ground.stretches:
            assert energy < came + 0.04 * simulation.model.weight_N
        if state.motion.z < -6.0:
            break


def test_a_state_on_an_edge_goes_on_as_it_did() -> None:
    """Put back from its value, springs of edges and all: the same steps to the last bit."""
    simulation = lying(EDGE)
    simulation.place(Motion(0.0, -0.2, HALF_M + 0.05, 0.0, 0.01, 0.0))
    simulation.run(STILL, 200)
    kept = simulation.state
    assert any(place >= len(simulation.model.bed.points) for place, *_ in kept.ground.stretches)
    simulation.run(STILL, 100)
    came_to = simulation.state_hash
    simulation.restore(kept)
    simulation.run(STILL, 100)
    assert simulation.state_hash == came_to


@pytest.mark.long_in_plain
@pytest.mark.parametrize("path", shipped_scenarios(), ids=lambda path: path.stem)
def test_where_no_edge_touches_nothing_changes(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A shipped lift's time zero and its first seconds, with and without ridges: the same state to the last bit."""
    described, found = load(path), []
    for _ in range(2):
        simulation = Simulation(described, in_bulk=True)
        simulation.run(still(rig_of(described)), 480)
        assert not simulation.moving.is_on_edge
        found.append(simulation.state_hash)
        monkeypatch.setattr("simulator.engine.model.ridges", lambda surface: [])
    assert found[0] == found[1]


def test_it_is_calm_on_an_edge_as_stiff_as_the_step_allows() -> None:
    """Half over the edge at a stiffness that uses the whole of the rule's bound: it settles and stays."""
    soft = lying(EDGE)
    share = used(soft.model, springs_of(soft.model)[:1], 240)
    stiffness = 0.98 * 2.0e6 * MOST / share * 0.9
    simulation = lying(EDGE, stiffness=stiffness, damping=0.2)
    assert used(build(simulation.description), springs_of(simulation.model)[:1], 240) <= MOST
    simulation.place(Motion(0.0, 0.3, HALF_M + 0.01, 0.0, 0.0, 0.0))
    simulation.run(STILL, 20 * 240)
    assert kinetic_J(simulation) < 0.1
    assert simulation.state.motion.z == pytest.approx(HALF_M, abs=0.01)

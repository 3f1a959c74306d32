"""A waiting flat trailer's deck in the engine: it carries what is set down on it, and its edges let go what is not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from simulator.engine.capture import move_to
from simulator.engine.commands import STILL
from simulator.engine.contact import push
from simulator.engine.simulation import Simulation
from simulator.engine.state import Motion
from simulator.engine.step_rule import MOST, springs_of, used
from simulator.mechanics.flat_deck import surface_of
from simulator.mechanics.ground import Ground, ground, height_m, highest_m, nearest, nearest_over
from simulator.mechanics.ridges import ridges
from simulator.scenario.description import Description, Engine, Landing
from simulator.scenario.flat import Flat
from simulator.scenario.site import Contact, Point, Site
from tests.engine.scenes import FIRM, block, describe, kinetic_J
from tests.engine.test_edges import MASS_KG, SIZE_M, STIFF, energy_J

HALF_M = SIZE_M[2] / 2.0
ROAD: tuple[Point, ...] = ((40.0, 0.0), (-20.0, 0.0), (-20.5, -8.0), (-40.0, -8.0))
DECK_M, MIDDLE_M = 0.9, 10.0
LARGE = Flat(DECK_M, 13.0, 3.0, x_m=0.0, y_m=MIDDLE_M)
SMALL = Flat(DECK_M, 8.0, 1.6, x_m=0.0, y_m=MIDDLE_M)


def lift(flat: Flat | None, *, stiffness: float = 2.0e6, section: tuple[Point, ...] = ROAD) -> Description:
    """A plain box with slack lines, and a deck on the road."""
    contact = Contact(stiffness_N_per_m=stiffness, friction=0.5)
    site = Site(section, -20.0, contact=contact, road_contact=contact, soil=FIRM, settle_s=0.0)
    tips = (-6.0, MIDDLE_M, 12.0), (6.0, MIDDLE_M, 12.0)
    found = describe(block(mass_kg=MASS_KG, size_m=SIZE_M), tips, (60.0, 60.0), site=site)
    return replace(found, landing=Landing(MIDDLE_M, flat=flat))


def set_on(
    flat: Flat | None, *, x_m: float = 0.0, y_m: float = 0.0, drop_m: float = 0.002, stiffness: float = STIFF
) -> Simulation:
    """The box let down flat over the deck, its middle so far off the deck's."""
    simulation = Simulation(lift(flat, stiffness=stiffness))
    simulation.place(Motion(x_m, MIDDLE_M + y_m, DECK_M + HALF_M + drop_m, 0.0, 0.0, 0.0))
    return simulation


def test_the_surface_has_the_deck_on_it() -> None:
    """Height, highest and depth of places on it, in it and beside it; nowhere else is anything changed."""
    bare, decked = ground(lift(None).site), surface_of(lift(LARGE))
    assert bare.deck is None and surface_of(lift(None)).deck is None
    assert height_m(decked, 0.0, MIDDLE_M) == height_m(decked, 6.5, MIDDLE_M - 1.5) == DECK_M
    for x, y in ((6.51, MIDDLE_M), (0.0, MIDDLE_M + 1.51), (0.0, -25.0)):
        assert height_m(decked, x, y) == height_m(bare, x, y)
    assert highest_m(decked, -1.0, 1.0, 11.0, 12.0) == DECK_M == decked.top_m
    assert highest_m(decked, 7.0, 8.0, 9.0, 12.0) == highest_m(decked, -1.0, 1.0, 12.0, 13.0) == 0.0
    assert nearest_over(decked, 0.0, MIDDLE_M, DECK_M - 0.01) == pytest.approx((0.01, 0.0, 0.0, 1.0, MIDDLE_M))
    assert nearest(decked, 0.0, MIDDLE_M - 1.48, 0.5) == pytest.approx((0.02, 0.0, -1.0, 0.0, MIDDLE_M - 1.5))
    assert nearest(decked, 6.45, MIDDLE_M, 0.5) == pytest.approx((0.05, 1.0, 0.0, 0.0, MIDDLE_M))
    assert nearest_over(decked, 0.0, MIDDLE_M, DECK_M + 0.01) is None
    edges = ridges(decked)[len(ridges(bare)) :]
    assert len(edges) == 4 and all(one.low[2] == DECK_M for one in edges)


def test_it_rests_on_a_deck_that_is_larger() -> None:
    """W / (4 k) deep under its four corners, all of it on the road's account, and it stays there."""
    simulation = set_on(LARGE, stiffness=2.0e6)
    simulation.run(STILL, 4 * 240)
    motion, sunk = simulation.state.motion, simulation.model.weight_N / (4.0 * 2.0e6)
    assert motion.z == pytest.approx(DECK_M + HALF_M - sunk, abs=0.001)
    assert simulation.state.ground.road_N == pytest.approx(simulation.model.weight_N, rel=1e-3)
    assert max(abs(motion.x), abs(motion.y - MIDDLE_M), abs(motion.roll), abs(motion.pitch)) < 0.001


@pytest.mark.parametrize("flat", [SMALL, replace(SMALL, length_m=13.0), replace(SMALL, width_m=3.0)])
def test_edges_of_a_smaller_deck_hold_it(flat: Flat) -> None:
    """Wider or longer than the deck it has no corner on it, or two: within 2 mm of the deck all the same."""
    simulation = set_on(flat)
    simulation.run(STILL, 6 * 240)
    motion = simulation.state.motion
    assert motion.z == pytest.approx(DECK_M + HALF_M, abs=0.003) and motion.z < DECK_M + HALF_M
    assert abs(motion.roll) < 0.001 and abs(motion.pitch) < 0.001
    assert simulation.state.ground.road_N == pytest.approx(simulation.model.weight_N, rel=1e-3)


@pytest.mark.parametrize("over_m", [-0.15, 0.15])
@pytest.mark.parametrize("side", ["road side", "ravine side", "nose end", "tail end"])
def test_half_over_it_tips_when_its_cg_is_over(side: str, over_m: float) -> None:
    """CG 15 cm to either side of an edge, set down flat: it stays to a few centimeters, or goes over that edge."""
    along = (SMALL.length_m / 2.0 + over_m) * {"nose end": -1.0, "tail end": 1.0}.get(side, 0.0)
    across = (SMALL.width_m / 2.0 + over_m) * {"road side": 1.0, "ravine side": -1.0}.get(side, 0.0)
    simulation = set_on(SMALL, x_m=along, y_m=across)
    simulation.run(STILL, 6 * 240)
    motion = simulation.state.motion
    if over_m > 0.0:
        leans = motion.pitch if along else motion.roll
        assert leans * {"nose end": -1.0, "tail end": 1.0, "road side": -1.0, "ravine side": 1.0}[side] > 0.05
        assert motion.z < DECK_M + HALF_M - 0.02
    else:
        assert motion.z == pytest.approx(DECK_M + HALF_M, abs=0.02)
        assert abs(motion.roll) < 0.02 and abs(motion.pitch) < 0.02


def plateau() -> Ground:
    """A section with the same step in it, its faces as upright as a section may have them."""
    low, high = MIDDLE_M - SMALL.width_m / 2.0, MIDDLE_M + SMALL.width_m / 2.0
    lean = 1e-7
    section = ((40.0, 0.0), (high + lean, 0.0), (high, DECK_M), (low, DECK_M), (low - lean, 0.0), *ROAD[1:])
    return ground(lift(None, section=section).site)


def test_a_deck_as_long_as_the_road_is_a_step_in_the_section() -> None:
    """Forces and moments on a box in 300 poses round it, half in the deck, half over its sides: the same."""
    long = Simulation(lift(replace(SMALL, length_m=40.0)))
    stepped = Simulation(lift(None, section=tuple(plateau().section)))
    draw = np.random.default_rng(7)
    met = 0
    for _ in range(300):
        y, up, roll = draw.uniform(-2.4, 2.4), draw.uniform(-0.03, 0.01), draw.uniform(-0.3, 0.3)
        reach = SIZE_M[1] / 2.0 * abs(np.sin(roll)) + HALF_M * np.cos(roll)
        motion = Motion(0.0, MIDDLE_M + y, DECK_M + reach + up, draw.uniform(-0.004, 0.004), 0.0, roll)
        rows = []
        for simulation in (long, stepped):
            move_to(simulation.moving.body, motion)
            push(simulation.model.bed, simulation.moving, simulation.model.dt)
            rows.append(np.array(simulation.moving.ground) / 1e3)
        assert rows[0] == pytest.approx(rows[1], rel=1e-4, abs=0.5), motion
        met += bool(rows[0].any())
    assert met > 100


def test_the_step_rule_counts_four_edges_under_a_load_at_once() -> None:
    """A deck smaller both ways: twice the springs of four corners, and twice the share; calm at the bound."""
    models = [Simulation(lift(flat)).model for flat in (LARGE, replace(SMALL, length_m=13.0), SMALL)]
    shares = [used(model, springs_of(model)[:1], 240) for model in models]
    assert shares[1] == pytest.approx(shares[0]) and shares[2] == pytest.approx(2.0 * shares[0], rel=1e-6)
    stiffness = 0.9 * 2.0e6 * MOST / shares[2]
    simulation = set_on(SMALL, stiffness=stiffness)
    assert used(simulation.model, springs_of(simulation.model)[:1], 240) <= MOST
    simulation.run(STILL, 10 * 240)
    assert kinetic_J(simulation) < 0.1
    assert simulation.state.motion.z == pytest.approx(DECK_M + HALF_M, abs=0.02)


@pytest.mark.parametrize("seed", range(12))
def test_thrown_on_a_deck_it_never_leaves_with_more(seed: int) -> None:
    """Dropped askew on its edges, with a fifth of the usual damping and half of the friction, at 960 steps a second:
    whenever it is free of deck and road it has no more energy than it came with. (With none of either it may.)"""
    draw = np.random.default_rng(seed)
    found = lift(SMALL)
    soft = Contact(stiffness_N_per_m=2.0e6, friction=0.3, damping_ratio=0.1)
    found = replace(found, site=replace(found.site, contact=soft, road_contact=soft), engine=Engine(steps_per_s=960))
    simulation = Simulation(found)
    x, y = draw.uniform(-5.0, 5.0), MIDDLE_M + draw.uniform(-1.6, 1.6)
    pitch, yaw, roll = draw.uniform(-0.03, 0.03), draw.uniform(-0.2, 0.2), draw.uniform(-0.2, 0.2)
    simulation.place(Motion(x, y, DECK_M + 2.0, pitch, yaw, roll))
    came, touched = energy_J(simulation), False
    for _ in range(1500):
        state = simulation.step(STILL)
        touched = touched or bool(state.ground.stretches)
        if not state.ground.stretches:
            assert energy_J(simulation) < came + 0.001 * simulation.model.weight_N
    assert touched

"""What the fixed step can carry: its law, what it refuses, and that the engine is calm within it."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.engine.model import build
from simulator.engine.simulation import Simulation
from simulator.engine.step_rule import MOST, faults, springs_of, used
from simulator.places import find_scenario, shipped_drills, shipped_scenarios
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.demo import with_boom, with_floats, with_hoist, with_lie, with_start, with_trailer

TANK = load(find_scenario("tank_on_side"))


def on_ground(stiffness: float, described: Description = TANK) -> Description:
    """The tank on a bed of this stiffness."""
    contact = replace(described.site.contact, stiffness_N_per_m=stiffness)
    return replace(described, site=replace(described.site, contact=contact))


@given(st.floats(0.05, 2.5), st.floats(0.0, 2.5))
def test_a_damped_spring_stays_bounded_just_within_the_law(w_dt: float, d_dt: float) -> None:
    """x moves first, then v with the force there: bounded if and only if w^2 dt^2 + 2 d dt < 4 (and d dt < 2)."""
    law = w_dt**2 + 2.0 * d_dt
    x, v = 0.0, 1.0
    for _ in range(4000):
        x += v
        v -= w_dt**2 * x + d_dt * v
        if abs(v) > 1e6:
            break
    if law < 3.98:
        assert abs(v) < 1e3
    elif law > 4.02:
        assert abs(v) > 1e3


@pytest.mark.parametrize("path", [*shipped_scenarios(), *shipped_drills()], ids=lambda path: path.stem)
def test_every_shipped_lift_is_within_it(path: object) -> None:
    assert not faults("file", load(path))  # type: ignore[arg-type]


REFUSED = {
    "bed of 1e9": (on_ground(1e9), "[site.contact] stiffness", "steps_per_s of at least"),
    "bed of 3e8": (on_ground(3e8), "[site.contact] stiffness", "steps_per_s of at least"),
    "load of 6 kg": (
        with_trailer(TANK, hidden_mass_factor=6.0 / 26e3),
        "[site.contact] stiffness",
        "a heavier trailer",
    ),
    "floats of 1 N/m": (with_floats(TANK, stiffness_N_per_m=1.0), "[units 1.floats] stiffness", "for each 10 kN"),
    "boom of 1 N/m": (with_boom(TANK, tip_stiffness_N_per_m=1.0), "[units 1.boom] tip_stiffness", "for each 10 kN"),
    "stiff rope": (with_hoist(TANK, rope_EA_N=1e10), ".hoist] rope_EA", "N/m or less"),
    "on end": (with_lie(TANK, pitch_rad=radians(80.0)), "[trailer.start] pitch", "75 deg"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_it_refuses_says_where_and_what_is_allowed(name: str) -> None:
    described, place, allowed = REFUSED[name]
    first = faults("file", described)[0]
    assert first.place.endswith(place) and allowed in first.allowed


def test_the_rate_that_it_asks_for_is_enough_and_the_softer_bed_too() -> None:
    stiff = on_ground(1e8)
    (fault,) = faults("file", stiff)
    rate = int(fault.allowed.rpartition(" ")[2])
    softer = float(fault.allowed.split()[1])
    assert not faults("file", replace(stiff, engine=replace(stiff.engine, steps_per_s=rate)))
    assert not faults("file", on_ground(softer))


def test_a_bed_as_stiff_as_it_may_be_keeps_the_load_still() -> None:
    """Near the limit the trailer comes to rest; at sixteen times the bound it does not."""
    stiffness = 1e7
    model = build(on_ground(stiffness))
    assert 0.5 * MOST < used(model, springs_of(model), 240) < MOST
    calm = Simulation(on_ground(stiffness), in_bulk=True)
    assert abs(calm.state.motion.vz) < 1e-3 and abs(calm.state.motion.z - Simulation(TANK).state.motion.z) < 0.1


def test_a_load_that_is_turned_on_end_ends_the_lift() -> None:
    slack = with_start(with_start(TANK, 0, rope_out_m=66.0), 1, rope_out_m=66.0)
    simulation = Simulation(slack, in_bulk=True)
    simulation.place(simulation.state.motion._replace(z=0.0, pitch=radians(80.0)))
    simulation.run(tuple(unit.hands() for unit in simulation.model.rig.units), 8)  # type: ignore[arg-type]
    (incident,) = simulation.incidents
    assert incident.what == "on_end" and incident.fields["pitch_rad"] == pytest.approx(radians(80.0), abs=0.01)

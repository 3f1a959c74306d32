"""A cargo that moves: what a liquid and a bulk load do to a hung load, against statics, wave theory and energy."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, degrees, pi, radians, sin, tan

import pytest

from simulator.engine.cargo import come_to_rest as lie_still
from simulator.engine.cargo import shift
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.engine.state import state_from, state_hash
from simulator.mechanics.cargo import cg_run_m
from simulator.mechanics.tank import sloshing_radps
from simulator.mechanics.trailer_body import rotation
from simulator.plan.hanging import hang, load_of
from simulator.scenario.trailer import Cargo, Trailer
from simulator.scenario.unit import Unit
from tests.engine.scenes import G, block, displaced, hung, with_hoist
from tests.engine.test_energy import lifted_to_its_lines

LONG, WIDE, HIGH = 11.0, 2.2, 2.0
CARGO_KG = 16000.0
DAMPED = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15, "sway_damping_ratio": 0.05})
HELD_N = 1e12
"""A push that no liquid turns."""
UNDAMPED = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.0})


def loaded(kind: str = "liquid", **changes: float) -> Trailer:
    """8 t of box, 16 t of cargo in the middle of it."""
    box = block(
        mass_kg=8000.0, picks_x_m=(-6.2, 6.2), pick_over_cg_m=0.5, rigging_m=2.3, pivot="bridle_across",
    )  # fmt: skip
    given = {"fill": 0.6, "slosh_damping_ratio": 0.0, "repose_rad": 0.6, **changes}
    return replace(box, cargo=Cargo(CARGO_KG, (0.0, 0.0, 1.3), (LONG, WIDE, HIGH), kind=kind, **given))  # type: ignore[arg-type]


def hanging(trailer: Trailer, units: tuple[Unit, Unit] = UNDAMPED) -> Simulation:
    """It hangs level and still, 17 m under its sheaves."""
    solid = replace(trailer, parts=(replace(trailer.parts[0], mass_kg=24000.0),), cargo=replace(block().cargo))
    level = hung(solid, hang_m=17.0, units=units)
    found = Simulation(replace(level.description, trailer=replace(trailer, start=level.description.trailer.start)))
    found.place(level.state.motion)
    return found


@pytest.mark.parametrize("pitch", [0.02, -0.3])
def test_a_resting_liquid_pulls_at_the_low_end(pitch: float) -> None:
    """W l^2 tan(pitch) / (12 h) level along, and what its rise leans over: moments about the load's center of gravity
    (free surface of a rectangular tank, naval-architecture texts), bottom and top not reached."""
    simulation = hanging(loaded(fill=0.4 if abs(pitch) < 0.1 else 0.5))
    simulation.model.step.cargo.size_m = size = (LONG if abs(pitch) < 0.1 else 3.0, WIDE, HIGH)
    deep = simulation.model.step.cargo.fill * HIGH
    moving = simulation.moving
    moving.body.pitch, moving.body.matrix = pitch, rotation(pitch, 0.0, 0.0)
    lie_still(simulation.model.step.cargo, moving.cargo, moving.body)
    weight = simulation.model.weight_N
    _, _, _, mx, my, _ = shift(simulation.model.step.cargo, moving, (0.0, 0.0, weight), 1.0 / 240.0)
    along, up = size[0] ** 2 * tan(pitch) / (12.0 * deep), size[0] ** 2 * tan(pitch) ** 2 / (24.0 * deep)
    assert my == pytest.approx(CARGO_KG * G * (along * cos(pitch) + up * sin(pitch)), rel=0.002)
    assert mx == pytest.approx(0.0, abs=1.0)


@pytest.mark.long_in_plain
@pytest.mark.parametrize("across", [False, True])
def test_it_sloshes_at_the_frequency_of_its_waves(across: bool) -> None:
    """sqrt(g k tanh(k h)), k = pi / l (linear wave theory), in a tank that nothing moves: it keeps its height."""
    simulation = hanging(loaded())
    numbers, moving, dt = simulation.model.step.cargo, simulation.moving, 1.0 / 240.0
    lie_still(numbers, moving.cargo, moving.body)
    tilt = radians(1.0)
    moving.cargo.up = (0.0, sin(tilt), cos(tilt)) if across else (sin(tilt), 0.0, cos(tilt))
    seen = []
    for _ in range(240 * 60):
        shift(numbers, moving, (0.0, 0.0, HELD_N), dt)
        seen.append(moving.cargo.up[1 if across else 0])
    crossings = [n * dt for n, (a, b) in enumerate(pairwise(seen)) if a < 0.0 <= b]
    period = (crossings[-1] - crossings[0]) / (len(crossings) - 1)
    rate = sloshing_radps(WIDE if across else LONG, 0.6 * HIGH, G)
    assert period == pytest.approx(2.0 * pi / rate, rel=0.005)
    assert max(seen[-2400:]) == pytest.approx(sin(tilt), rel=0.01)


@pytest.mark.long_in_plain
def test_a_swaying_tank_keeps_its_slosh_undamped_and_loses_it_damped() -> None:
    """Two minutes after a push: undamped the surface tilts as far as at first, to a tenth;
    with 5 % of critical less than half of it."""
    least = {}
    for damping in (0.0, 0.05):
        simulation = hanging(loaded(slosh_damping_ratio=damping))
        displaced(simulation, along=1.0, across=0.5)
        lifted_to_its_lines(simulation)
        minutes = [max(abs(tilt) for tilt in _tilts(simulation, 30)) for _ in range(4)]
        least[damping] = minutes[-1] / minutes[0]
    assert least[0.0] == pytest.approx(1.0, abs=0.1)
    assert least[0.05] < 0.5


def _tilts(simulation: Simulation, seconds: int) -> list[float]:
    found = []
    for _ in range(seconds * 24):
        simulation.run(STILL, 10)
        found.append(simulation.state.cargo[0])
    return found


@pytest.mark.long_in_plain
def test_plan_and_lift_share_the_weight_alike() -> None:
    """One line let out until the load hangs pitched: line loads as moments have them with the liquid run to the low
    end, to 0.2 % of the weight; a solid cargo of the same mass is off by ten times that."""
    simulation = hanging(loaded(slosh_damping_ratio=0.3), DAMPED)
    simulation.run(Commands(UnitCommands(hoist=-1.0), UnitCommands()), 240 * 4)
    simulation.run(STILL, 240 * 120)
    pitch = simulation.state.motion.pitch
    shares = hang(load_of(simulation.description), pitch, simulation.state.motion.roll).shares
    solid = replace(simulation.description, trailer=replace(simulation.description.trailer, cargo=_solid()))
    stiff = hang(load_of(solid), pitch, simulation.state.motion.roll).shares
    weight = simulation.model.weight_N
    for line, share, other in zip(simulation.state.lines, shares, stiff, strict=True):
        assert line.hook_load_N / weight == pytest.approx(share, abs=0.002)
        assert abs(line.hook_load_N / weight - other) > 0.02, degrees(pitch)


def _solid() -> Cargo:
    return replace(loaded().cargo, kind="solid", size_m=(LONG, WIDE, 0.6 * HIGH), fill=1.0)


def test_a_bulk_load_stays_until_it_is_too_steep_and_then_slumps() -> None:
    """Within its angle of repose it is a solid cargo; past it the surface comes back to just that slope."""
    simulation = hanging(loaded("bulk", repose_rad=0.5))
    numbers, moving, dt = simulation.model.step.cargo, simulation.moving, 1.0 / 240.0
    weight = simulation.model.weight_N
    for roll, turned in ((0.45, 0.0), (0.8, 0.3), (0.45, 0.3), (-0.3, 0.2)):
        moving.body.roll, moving.body.matrix = roll, rotation(0.0, 0.0, roll)
        for _ in range(600):
            wrench = shift(numbers, moving, (0.0, 0.0, weight), dt)
        assert moving.cargo.up[1] == pytest.approx(sin(turned), abs=1e-6)
        if not turned:
            assert max(abs(part) for part in wrench) < 1e-5 * weight


def test_a_state_with_its_cargo_goes_on_to_the_same_bits() -> None:
    simulation = hanging(loaded(slosh_damping_ratio=0.02))
    displaced(simulation, along=0.5, across=0.3)
    simulation.run(STILL, 300)
    kept = simulation.state
    simulation.run(STILL, 300)
    end = state_hash(simulation.state)
    again = hanging(loaded(slosh_damping_ratio=0.02))
    again.restore(state_from(_plain(kept)))
    again.run(STILL, 300)
    assert state_hash(again.state) == end


def _plain(value: object) -> object:
    return [_plain(part) for part in value] if isinstance(value, tuple) else value


def test_a_tank_on_its_side_lies_with_its_liquid_run_down() -> None:
    """Turned a quarter, a tank filled to 0.6 of its height is filled to 0.6 of its width: its center is
    (1 - 0.6) / 2 of that from the wall's middle, by hand."""
    trailer = replace(loaded(), attitude="top_to_ravine")
    _, y, z = cg_run_m(trailer, 0.0, 0.0)
    share = CARGO_KG / 24000.0
    assert y == pytest.approx(share * -0.2 * HIGH, rel=1e-3)  # lying axes: from the tank's bottom side to its middle
    assert z == pytest.approx(share * -0.2 * WIDE, rel=1e-3)

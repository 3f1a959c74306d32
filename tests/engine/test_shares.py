"""Effect 1 (W b / s and W a / s, the hidden CG) and effect 2 (splayed lines) by statics and by least energy."""

from __future__ import annotations

from dataclasses import replace
from math import cos, degrees, radians, sin

import numpy as np
import pytest

from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.scenario.trailer import Trailer
from tests.engine.minimum import at_rest, hangs_of
from tests.engine.scenes import (
    FOOT_M,
    POUND_KG,
    UNITS,
    G,
    Vector,
    block,
    come_to_rest,
    describe,
    hung,
    run,
    shares_N,
    with_hoist,
)

BASE_CASE = block(mass_kg=44000 * POUND_KG, picks_x_m=(-16 * FOOT_M, 19 * FOOT_M))
REAL_ROPE = with_hoist({"rope_EA_N": 15.3e6, "damping_ratio": 0.15})


def loads_N(simulation: Simulation) -> tuple[float, float]:
    nose, tail = (unit.hook_load_N for unit in simulation.state.lines)
    return nose, tail


def test_plumb_lines_carry_the_base_case_shares() -> None:
    """23,885.714 and 20,114.286 lb (statics: 44,000 lb on picks 35 ft apart, 16 ft and 19 ft from the CG)."""
    simulation = hung(BASE_CASE, units=REAL_ROPE)
    run(simulation, 8.0)
    pounds = np.array(loads_N(simulation)) / (POUND_KG * G)
    assert pounds == pytest.approx([23885.714, 20114.286], rel=1e-4)
    assert pounds.sum() == pytest.approx(44000.0, rel=1e-4)


@pytest.mark.parametrize("up", [1.0, -1.0])
@pytest.mark.parametrize("function", ["hoist", "elevation"])
def test_at_a_steady_speed_lines_stretch_by_the_load_alone(function: str, up: float) -> None:
    """The line's damper knows of rope paid out and of moving tips: k * stretch is W b / s, however fast it goes up."""
    simulation = hung(BASE_CASE, hang_m=20.0, units=with_hoist({"damping_ratio": 0.3}))
    hands = UnitCommands(**{function: up})
    run(simulation, 4.0, Commands(hands, hands))
    began, pulls, springs = simulation.state.motion.z, [], []
    for _ in range(480):
        units = simulation.step(Commands(hands, hands)).lines
        pulls.append(loads_N(simulation))
        springs.append([unit.stiffness * (unit.hang.distance_m - unit.line_m) for unit in units])
    plumb = shares_N(BASE_CASE, 44000 * POUND_KG)
    assert np.mean(pulls, axis=0) == pytest.approx(plumb, rel=5e-3)
    assert np.mean(springs, axis=0) == pytest.approx(plumb, rel=5e-3)
    assert abs(simulation.state.motion.z - began) > 0.3


@pytest.mark.parametrize("hidden_m", [-0.7, 0.35, 0.7])
def test_a_hidden_cg_shows_in_the_loads(hidden_m: float) -> None:
    """Tips over the picks as the papers have it; the true CG is somewhere else, and the lines tell."""
    told = block(picks_x_m=(-6.4, 6.0))
    true = block(picks_x_m=(-6.4, 6.0), hidden_cg_m=(hidden_m, 0.0, 0.0))
    shares = []
    for trailer in (told, true):
        tips: tuple[Vector, Vector] = ((-6.4, 0.0, 12.0), (6.0, 0.0, 12.0))
        simulation = Simulation(describe(trailer, tips, (10.0, 10.0), units=REAL_ROPE))
        hang_from_ground(simulation)
        come_to_rest(simulation)
        nose, tail = loads_N(simulation)
        shares.append(nose / (nose + tail))
    assert shares[0] == pytest.approx(6.0 / 12.4, rel=1e-4)
    assert shares[1] == pytest.approx((6.0 - hidden_m) / 12.4, rel=1e-4)
    assert simulation.state.motion.pitch == pytest.approx(0.0, abs=radians(0.1))


@pytest.mark.parametrize(
    ("pitch_deg", "cg_over_picks_ft", "front_lb", "rear_lb"),
    [
        (10.0, 3.0, 23220.710, 20779.290),
        (10.0, -3.0, 24550.719, 19449.281),
        (20.0, 3.0, 22513.027, 21486.973),
    ],
)
def test_pitch_moves_load_to_the_end_that_the_cg_leans_to(
    pitch_deg: float, cg_over_picks_ft: float, front_lb: float, rear_lb: float
) -> None:
    """Plumb lines, front high: R_B = W (a + h tan(pitch)) / s (mathematics).

    A CG above the picks stands on its head for roll; dead in the middle it does not fall while this looks.
    """
    picks = tuple(
        replace(pick, at_m=(pick.at_m[0], 0.0, pick.at_m[2] - cg_over_picks_ft * FOOT_M)) for pick in BASE_CASE.picks
    )
    trailer = replace(BASE_CASE, picks=picks)
    pitch, arms = radians(pitch_deg), []
    for x in (-16 * FOOT_M, 19 * FOOT_M):
        z = -cg_over_picks_ft * FOOT_M
        arms.append((x * cos(pitch) + z * sin(pitch), -x * sin(pitch) + z * cos(pitch)))
    units = with_hoist({"damping_ratio": 0.3})
    tips: tuple[Vector, Vector] = ((arms[0][0], 0.0, 12.0), (arms[1][0], 0.0, 12.0))
    lines = (10.0 - arms[0][1], 10.0 - arms[1][1])
    simulation = Simulation(describe(trailer, tips, lines, units=units))
    m = simulation.state.motion
    simulation.place(m._replace(x=0.0, y=0.0, z=2.0 - 0.005, pitch=pitch, yaw=0.0, roll=0.0))
    run(simulation, 3.0)
    pounds = np.array(loads_N(simulation)) / (POUND_KG * G)
    assert pounds == pytest.approx([front_lb, rear_lb], rel=1e-3)


def hang_from_ground(simulation: Simulation) -> None:
    """Put the load under its tips, level, the lines just not taut."""
    nose, tail = simulation.state.lines
    middle = [(a + b) / 2.0 for a, b in zip(nose.sheave, tail.sheave, strict=True)]
    sides = simulation.model.lines
    arm = [(a + b) / 2.0 for a, b in zip(sides[0].pick_m, sides[1].pick_m, strict=True)]
    drop = min(nose.line_m, tail.line_m) + sides[0].pick.height_m
    m = simulation.state.motion
    x, y, z = middle[0] - arm[0], middle[1] - arm[1], middle[2] - drop - arm[2]
    simulation.place(m._replace(x=x, y=y, z=z, pitch=0.0, yaw=0.0, roll=0.0))


SPLAYS: dict[str, tuple[Trailer, tuple[Vector, Vector], tuple[float, float]]] = {
    "one tip out along": (block(pick_over_cg_m=0.8), ((-8.0, 0.0, 12.0), (6.0, 0.0, 12.0)), (10.0, 10.0)),
    "both tips in, CG off the middle": (
        block(picks_x_m=(-6.4, 5.0), pick_over_cg_m=0.5),
        ((-5.0, 0.0, 12.0), (4.2, 0.0, 12.0)),
        (8.0, 8.0),
    ),
    "tips apart across": (block(pick_over_cg_m=1.0), ((-6.0, -1.5, 12.0), (6.0, 1.5, 12.0)), (10.0, 10.0)),
    "lines of two lengths": (block(pick_over_cg_m=1.3), ((-6.6, 0.5, 12.0), (5.7, -0.2, 12.5)), (10.0, 11.2)),
    "bridles, hidden CG across": (
        block(pick_over_cg_m=0.3, rigging_m=2.3, pivot="bridle_across", hidden_cg_m=(0.6, 0.25, 0.0)),
        ((-7.0, 0.4, 12.0), (6.3, -0.5, 12.0)),
        (9.0, 9.3),
    ),
    "single points, hidden CG across": (
        block(pick_over_cg_m=1.0, rigging_m=2.3, hidden_cg_m=(0.6, 0.25, 0.0)),
        ((-7.0, 0.4, 12.0), (6.3, -0.5, 12.0)),
        (9.0, 9.3),
    ),
}


@pytest.mark.parametrize("name", SPLAYS)
def test_splayed_lines_hang_at_least_energy(name: str) -> None:
    """The engine's static pose and pulls against scipy's minimum: 5 mm, 0.05 degrees, 0.5 % of the load."""
    trailer, tips, lines = SPLAYS[name]
    simulation = Simulation(describe(trailer, tips, lines, units=REAL_ROPE))
    hang_from_ground(simulation)
    come_to_rest(simulation)
    rest = at_rest(hangs_of(simulation))
    m = simulation.state.motion
    assert np.array(m[:3]) == pytest.approx(rest.at_m, abs=0.005)
    turned = [degrees(value) for value in (m.pitch, m.yaw, m.roll)]
    assert turned == pytest.approx(np.degrees(rest.pitch_yaw_roll_rad), abs=0.05)
    assert np.array(loads_N(simulation)) == pytest.approx(rest.pulls_N, abs=0.005 * simulation.model.weight_N)


def test_splayed_pulls_and_weight_meet_in_one_point() -> None:
    """Three forces in a plane at rest: the lines' prolongations cross on the vertical through the CG."""
    trailer, tips, lines = SPLAYS["both tips in, CG off the middle"]
    simulation = Simulation(describe(trailer, tips, lines, units=REAL_ROPE, steps_per_s=480))
    hang_from_ground(simulation)
    come_to_rest(simulation)
    (ax, az), (bx, bz) = ((unit.hang.hook[0], unit.hang.hook[2]) for unit in simulation.state.lines)
    (au, av), (bu, bv) = ((unit.hang.ux, unit.hang.uz) for unit in simulation.state.lines)
    along = ((bx - ax) * bv - (bz - az) * bu) / (au * bv - av * bu)
    assert ax + along * au == pytest.approx(simulation.state.motion.x, abs=0.005)
    assert abs(simulation.state.motion.pitch) > radians(0.1)


def test_units_of_the_scenes_do_not_give() -> None:
    """The closed forms above need stiff structure: the tips lean by less than 0.1 mm under the load."""
    simulation = hung(BASE_CASE, units=REAL_ROPE)
    run(simulation, 4.0)
    assert all(abs(part) < 1e-4 for boom in simulation.state.booms for part in boom.lean)
    assert UNITS[0].hoist.damping_ratio == 0.0

"""Sway and yaw periods of a hung load against closed forms: simple, bifilar and double pendulum (mathematics)."""

from __future__ import annotations

from math import cos, degrees, pi, radians, sin, sqrt

import numpy as np
import pytest
from scipy.linalg import eig, eigh
from scipy.special import ellipk

from simulator.engine.commands import STILL
from simulator.engine.simulation import Simulation
from tests.engine.scenes import (
    FOOT_M,
    POUND_KG,
    G,
    block,
    circle_m,
    displaced,
    hung,
    period_s,
    simple_period_s,
    with_hoist,
)

WITHIN = 1e-3
"""0.1 %: the bound of every period here."""
BASE_CASE = block(mass_kg=44000 * POUND_KG, picks_x_m=(-16 * FOOT_M, 19 * FOOT_M))


def watched(simulation: Simulation, name: str, seconds: float) -> list[float]:
    """One coordinate of the load, step by step."""
    return [getattr(simulation.step(STILL).motion, name) for _ in range(round(seconds / simulation.model.dt))]


@pytest.mark.parametrize("amplitude_deg", [1.0, 5.0, 10.0, 20.0, 30.0])
def test_sway_along_the_road_is_a_simple_pendulum_at_any_amplitude(amplitude_deg: float) -> None:
    """Two parallel lines: the load moves without turning; T / T0 = (2 / pi) K(sin(amplitude / 2))."""
    simulation = hung(BASE_CASE, hang_m=30 * FOOT_M)
    angle = radians(amplitude_deg)
    sideways, up = circle_m(30 * FOOT_M, angle)
    ease = (1.0 - cos(angle)) * (30 * FOOT_M - simulation.state.lines[0].line_m)
    displaced(simulation, along=sideways - ease * sin(angle), up=up + ease * cos(angle))
    xs = watched(simulation, "x", 26.0)
    exact = simple_period_s(30 * FOOT_M) * 2.0 / pi * ellipk(sin(angle / 2.0) ** 2)
    assert period_s(xs, simulation.model.dt) == pytest.approx(exact, rel=WITHIN)
    assert abs(simulation.state.motion.pitch) < radians(0.1)


def test_sway_along_takes_the_worked_period() -> None:
    """30 ft of line: 6.067191 s (T0 = 2 pi sqrt(L / g)), and 1.017409 of it at 30 degrees (elliptic integral)."""
    assert simple_period_s(30 * FOOT_M) == pytest.approx(6.067191, abs=5e-7)
    assert 2.0 / pi * ellipk(sin(radians(15.0)) ** 2) == pytest.approx(1.017409, abs=5e-7)


@pytest.mark.parametrize(
    ("picks_ft", "wide_ft", "worked_s"),
    [((-17.5, 17.5), 0.0, 4.803969), ((-16.0, 19.0), 0.0, 4.821714), ((-16.0, 19.0), 8.0, None)],
)  # mathematics
def test_yaw_is_bifilar(picks_ft: tuple[float, float], wide_ft: float, worked_s: float | None) -> None:
    """T = 2 pi (k / sqrt(a b)) sqrt(L / g), k the radius of gyration about the vertical; worked for thin bodies."""
    a, b = -picks_ft[0] * FOOT_M, picks_ft[1] * FOOT_M
    long, wide = 48 * FOOT_M, max(wide_ft * FOOT_M, 1e-3)
    simulation = hung(block(size_m=(long, wide, 2.6), picks_x_m=(-a, b)), hang_m=30 * FOOT_M)
    displaced(simulation, yaw=0.02)
    exact = 2.0 * pi * sqrt((long**2 + wide**2) / 12.0 / (a * b)) * sqrt(30 * FOOT_M / G)
    yaws = watched(simulation, "yaw", 22.0)
    assert worked_s is None or exact == pytest.approx(worked_s, abs=1e-6)
    assert period_s(yaws, simulation.model.dt) == pytest.approx(exact, rel=WITHIN)
    assert abs(simulation.state.motion.y) < 1e-3


def double_pendulum(mass: float, inertia: float, line: float, h: float) -> list[tuple[float, float, float]]:
    """(period, line angle, body angle) of the two small motions, slow one first: Lagrange's equations, solved."""
    inertias = np.array([[mass * line**2, mass * line * h], [mass * line * h, inertia + mass * h**2]])
    squares, shapes = eigh(np.diag([mass * G * line, mass * G * h]), inertias)
    return [(2.0 * pi / sqrt(w2), *shape) for w2, shape in zip(squares, shapes.T, strict=True)]


@pytest.mark.parametrize(
    ("line_m", "slow_s", "fast_s"), [(10.0, 6.77633, 1.74556), (10.035, 6.78662, 1.74596)]
)  # mathematics
def test_double_pendulum_formula_gives_the_worked_rows(line_m: float, slow_s: float, fast_s: float) -> None:
    slow, fast = (mode[0] for mode in double_pendulum(24000.0, 26936.0, line_m, 1.3))
    assert (slow, fast) == pytest.approx((slow_s, fast_s), abs=1e-5)
    for period in (slow, fast):
        w2 = (2.0 * pi / period) ** 2
        left = (G - w2 * line_m) * (G * 1.3 - w2 * (26936.0 / 24000.0 + 1.3**2))
        assert left == pytest.approx(w2**2 * line_m * 1.3**2, rel=1e-9)


@pytest.mark.parametrize("pivot", ["single_point", "bridle_across"])
@pytest.mark.parametrize("mode", [0, 1])
def test_sway_across_with_free_roll_is_a_double_pendulum(pivot: str, mode: int) -> None:
    """Hung 1.3 m above the CG: at the pick itself, or at the hook of a bridle 1.0 m high over picks 0.3 m above it."""
    rigging = 1.0 if pivot == "bridle_across" else 0.0
    size = (14.6, sqrt(12.0 * 26936.0 / 24000.0 - 2.6**2), 2.6)
    trailer = block(size_m=size, pick_over_cg_m=1.3 - rigging, rigging_m=rigging, pivot=pivot)
    simulation = hung(trailer, hang_m=10.0)
    period, line_angle, body_angle = double_pendulum(24000.0, 26936.0, 10.0, 1.3)[mode]
    scale = radians(1.0) / max(abs(line_angle), abs(body_angle))
    line_angle, body_angle = line_angle * scale, body_angle * scale
    displaced(simulation, across=10.0 * line_angle + 1.3 * body_angle, roll=body_angle)
    rolls = watched(simulation, "roll", 4.2 * period)
    assert period_s(rolls, simulation.model.dt) == pytest.approx(period, rel=WITHIN)
    assert degrees(max(rolls)) == pytest.approx(degrees(abs(body_angle)), rel=0.02)


def test_leaving_roll_out_would_be_six_per_cent_wrong() -> None:
    """The simple pendulum of 10 m is 6.3 % shorter than the double one: the engine is not near it."""
    slow, _, _ = double_pendulum(24000.0, 26936.0, 10.0, 1.3)[0]
    assert simple_period_s(10.0) / slow - 1.0 == pytest.approx(-0.063, abs=1e-3)


def decay(values: list[float], period_s: float, dt: float) -> float:
    """Damping ratio of a motion about zero, from its logarithmic decrement between its first and last whole period."""
    whole = round(period_s / dt)
    first, last = np.abs(values[:whole]).max(), np.abs(values[-whole:]).max()
    turns = (len(values) - whole) / whole
    decrement = np.log(first / last) / turns
    return float(decrement / np.hypot(2.0 * pi, decrement))


@pytest.mark.long_in_plain
@pytest.mark.parametrize("ratio", [0.01, 0.04])
class TestSwayDiesOut:
    """Ratios that follow from c = 2 z T / sqrt(g L) at each pick, L sheave to pick."""

    def test_along_by_the_stated_ratio(self, ratio: float) -> None:
        simulation = hung(BASE_CASE, units=with_hoist({"sway_damping_ratio": ratio}))
        displaced(simulation, along=0.2)
        xs = watched(simulation, "x", 9.0 * simple_period_s(10.0))
        assert decay(xs, simple_period_s(10.0), simulation.model.dt) == pytest.approx(ratio, rel=0.03)

    def test_yaw_by_its_picks_over_its_gyration(self, ratio: float) -> None:
        """C = sum c_i a_i^2 = 2 z W a b / sqrt(g L) on I = m k^2: z sqrt(a b) / k of critical."""
        simulation = hung(BASE_CASE, units=with_hoist({"sway_damping_ratio": ratio}))
        displaced(simulation, yaw=0.02)
        a, b = 16 * FOOT_M, 19 * FOOT_M
        k = sqrt(simulation.model.body.inertia_kg_m2[8] / simulation.model.body.mass_kg)
        period = 2.0 * pi * k / sqrt(a * b) * sqrt(10.0 / G)
        yaws = watched(simulation, "yaw", 9.0 * period)
        assert decay(yaws, period, simulation.model.dt) == pytest.approx(ratio * sqrt(a * b) / k, rel=0.03)

    def test_across_with_roll_as_a_damped_double_pendulum(self, ratio: float) -> None:
        """Slow mode of the two motions with c L^2 on the line's angle alone, solved as a quadratic eigenproblem."""
        mass, inertia, line, h = 24000.0, 26936.0, 10.0, 1.3
        size = (14.6, sqrt(12.0 * inertia / mass - 2.6**2), 2.6)
        simulation = hung(block(size_m=size, pick_over_cg_m=h), units=with_hoist({"sway_damping_ratio": ratio}))
        inertias = np.array([[mass * line**2, mass * line * h], [mass * line * h, inertia + mass * h**2]])
        dampers = np.diag([2.0 * ratio * mass * G / sqrt(G * line) * line**2, 0.0])
        springs = np.diag([mass * G * line, mass * G * h])
        zero, one = np.zeros((2, 2)), np.eye(2)
        rates = eig(np.block([[zero, one], [-springs, -dampers]]), np.block([[one, zero], [zero, inertias]]))[0]
        slow = min(rates, key=abs)
        period, line_angle, body_angle = double_pendulum(mass, inertia, line, h)[0]
        scale = 0.02 / abs(line_angle)
        displaced(simulation, across=(line * line_angle + h * body_angle) * scale, roll=body_angle * scale)
        ys = watched(simulation, "y", 9.0 * period)
        assert decay(ys, period, simulation.model.dt) == pytest.approx(-slow.real / abs(slow), rel=0.03)

"""A hanging load in the wind: closed forms of one and of two plumb lines."""

from __future__ import annotations

from math import inf

import pytest

from simulator.mechanics.blown import blown, turned_about

WEIGHT_N, HIGH_M, A_M, B_M = 200e3, 6.0, 4.0, 5.0
WIND_N, OFF_M = 3e3, 0.8
"""Across; from the center of gravity toward +x."""


def _two(force: tuple[float, float], lever: tuple[float, float]):  # type: ignore[no-untyped-def]
    hooks = ((-A_M, 0.0, 2.0), (B_M, 0.0, 2.0))
    sheaves = tuple((x, y, z + HIGH_M) for x, y, z in hooks)
    pulls = (WEIGHT_N * B_M / (A_M + B_M), WEIGHT_N * A_M / (A_M + B_M))
    return blown(sheaves, hooks, pulls, (0.0, 0.0, 0.0), (force, lever))


def test_two_plumb_lines_turn_as_a_bifilar_pendulum_does() -> None:
    """Yaw = F e l / (W a b), the center of gravity aside by F l / W (textbook statics); each line by its lever."""
    found = _two((0.0, WIND_N), (OFF_M, 0.0))
    assert found.yaw_rad == pytest.approx(WIND_N * OFF_M * HIGH_M / (WEIGHT_N * A_M * B_M))
    assert found.off_m == pytest.approx((0.0, WIND_N * HIGH_M / WEIGHT_N))
    (_, first), (_, last) = found.parts_N
    assert first == pytest.approx(WIND_N * (B_M - OFF_M) / (A_M + B_M))
    assert last == pytest.approx(WIND_N * (A_M + OFF_M) / (A_M + B_M))


def test_wind_through_the_center_of_gravity_turns_nothing() -> None:
    found = _two((WIND_N, WIND_N), (0.0, 0.0))
    assert found.yaw_rad == pytest.approx(0.0, abs=1e-12)
    assert sum(along for along, _ in found.parts_N) == pytest.approx(WIND_N)
    assert turned_about((1.0, 0.0, 0.0), (0.0, 0.0, 0.0), found)[0] == pytest.approx(1.0 + WIND_N * HIGH_M / WEIGHT_N)


def test_a_lone_line_lets_it_turn() -> None:
    """Nothing turns it back: infinite, where wind has a lever at all."""
    over = ((0.0, 0.0, 8.0),), ((0.0, 0.0, 2.0),), (WEIGHT_N,), (0.0, 0.0, 0.0)
    assert blown(*over, ((0.0, WIND_N), (OFF_M, 0.0))).yaw_rad == inf
    assert blown(*over, ((0.0, WIND_N), (0.0, 0.0))).yaw_rad == 0.0
    assert blown(*over, ((0.0, 0.0), (OFF_M, 0.0))).parts_N == ((0.0, 0.0),)

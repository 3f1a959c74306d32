"""A liquid in a box tank: the exact center under a plane, against the wedge formulas, sampling, and its own laws."""

from __future__ import annotations

from math import cos, degrees, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.mechanics.tank import center_m, sloshing_radps, slumped

FOOT_M = 0.3048
Vector = tuple[float, float, float]


def level_up(pitch: float, roll: float) -> Vector:
    """Up of the world in the axes of a tank that is pitched and then rolled."""
    return -sin(pitch), cos(pitch) * sin(roll), cos(pitch) * cos(roll)


def test_a_tilted_tank_as_naval_architecture_texts_have_it() -> None:
    """l^2 tan / (12 h) along and l^2 tan^2 / (24 h) up (rectangular free surface): 40 ft, 3 ft deep, 5 degrees."""
    long, deep, high, tilt = 40 * FOOT_M, 3 * FOOT_M, 2.0, radians(5.0)
    x, y, z = center_m((long, 2.2, high), deep / high, (sin(tilt), 0.0, cos(tilt)))
    assert (x / FOOT_M, y) == (pytest.approx(-3.888385, rel=1e-4), 0.0)
    assert (z + high / 2 - deep / 2) / FOOT_M == pytest.approx(0.170095, rel=1e-3)


def test_where_bottom_and_top_are_reached_by_hand() -> None:
    """A corner filled with a triangle: its center is a third of each leg from the corner; turned over, the rest."""
    long, high, tilt = 10.0, 2.0, radians(30.0)
    up = (sin(tilt), 0.0, cos(tilt))
    height = 1.5
    run = height / np.tan(tilt)
    fill = height * run / 2.0 / (long * high)
    x, _, z = center_m((long, 1.0, high), fill, up)
    assert (x + long / 2, z + high / 2) == (pytest.approx(run / 3.0, rel=1e-3), pytest.approx(height / 3.0, rel=1e-3))
    over = center_m((long, 1.0, high), 1.0 - fill, (-up[0], 0.0, -up[2]))
    assert over[0] * (1.0 - fill) == pytest.approx(-x * fill, rel=1e-3)


@given(
    st.floats(0.1, 0.98), st.floats(-radians(30), radians(30)), st.floats(-radians(100), radians(100)),
    st.integers(0, 2**31),
)  # fmt: skip
def test_its_center_is_that_of_what_lies_lowest(fill: float, pitch: float, roll: float, seed: int) -> None:
    """40,000 points thrown into the tank, the lowest of them kept: within 1.5 % of its sides."""
    size, up = np.array([10.0, 2.2, 1.8]), np.array(level_up(pitch, roll))
    points = (np.random.default_rng(seed).random((40_000, 3)) - 0.5) * size
    count = round(fill * len(points))
    lowest = points[np.argpartition(points @ up, count)[:count]].mean(axis=0)
    found = np.array(center_m((10.0, 2.2, 1.8), fill, (up[0], up[1], up[2])))
    assert (np.abs(found - lowest) < 0.015 * size).all()


@given(st.floats(0.1, 0.98), st.floats(0.1, 1.4), st.floats(-3.0, 3.0))
def test_it_moves_along_its_own_surface(fill: float, tilt: float, way: float) -> None:
    """Turned a little, the center moves level: what makes a surface rest level (least energy)."""
    size, e = (9.0, 2.2, 1.8), 1e-4

    def up(at: float) -> Vector:
        return sin(at) * cos(way), sin(at) * sin(way), cos(at)

    before, after = (np.array(center_m(size, fill, up(tilt + turn))) for turn in (-e, e))
    moved = (after - before) / (2 * e)
    assert abs(moved @ np.array(up(tilt))) < 2e-3 * max(1.0, float(np.linalg.norm(moved)))


def test_a_full_tank_moves_nothing() -> None:
    assert np.abs(center_m((9.0, 2.2, 1.8), 1.0, level_up(0.3, 1.2))).max() < 1e-9


def test_no_jump_where_a_side_stops_rising() -> None:
    size = (10.0, 2.2, 1.8)
    rolls = np.linspace(-0.02, 0.02, 401)
    places = np.array([center_m(size, 0.7, level_up(0.001, roll)) for roll in rolls])
    steps = np.abs(np.diff(places, axis=0)).max(axis=0)
    assert (steps < 2.5 * np.abs(np.diff(places, axis=0)).mean(axis=0) + 1e-6).all()


def test_a_shallow_tank_sloshes_in_twice_its_length_over_the_speed_of_its_waves() -> None:
    """T = 2 l / sqrt(g h) (linear shallow-water theory, any text on waves); deeper tanks slosh more slowly."""
    long, deep = 10.0, 0.4
    period = 2.0 * pi / sloshing_radps(long, deep, 9.80665)
    assert period == pytest.approx(2.0 * long / sqrt(9.80665 * deep), rel=0.003)
    assert 2.0 * pi / sloshing_radps(2.0, 1.5, 9.80665) > 2.0 * 2.0 / sqrt(9.80665 * 1.5)


@given(st.floats(0.0, 1.5), st.floats(-3.0, 3.0), st.floats(0.3, 0.8), st.floats(0.01, 3.0))
def test_a_bulk_load_slumps_no_more_than_it_must(tilt: float, way: float, repose: float, most: float) -> None:
    level = sin(tilt) * cos(way), sin(tilt) * sin(way), cos(tilt)
    up = slumped((0.0, 0.0, 1.0), level, repose, most)
    assert np.linalg.norm(up) == pytest.approx(1.0, abs=1e-9)
    turned = np.arccos(np.clip(up[2], -1.0, 1.0))
    left = np.arccos(np.clip(np.dot(up, level), -1.0, 1.0))
    assert turned == pytest.approx(min(max(tilt - repose, 0.0), most), abs=1e-6)
    assert left + turned == pytest.approx(tilt, abs=1e-6), degrees(left)

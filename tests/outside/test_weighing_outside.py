"""Weighing against a published example and against scipy's least squares with every error an unknown of its own."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from simulator.mechanics.weighing import SIGMAS, Errors, LineReading, Reading, weigh
from tests.mechanics.hung_bodies import Array
from tests.mechanics.weighings import ENDS, hung, misread, turned

INCH_M, POUND_N = 0.0254, 4.4482216152605
"""Exact: NIST SP 811, App. B."""


def test_an_aircraft_on_its_wheels() -> None:
    """FAA-H-8083-1, determining the CG (secondary copy): nosewheel 340 lb, 78 in ahead of the main wheels, of 2,006 lb:
    CG 13.2 in ahead of the main wheels. Scales under wheels are lines with no block and no rigging."""
    wheels = [("nosewheel", 340.0, -78.0), ("main wheels", 2006.0 - 340.0, 0.0)]
    lines = tuple(LineReading(name, lb * POUND_N, 0.0, (x * INCH_M, 0.0, 0.0), 0.0, False) for name, lb, x in wheels)
    found = weigh([Reading(lines)], Errors(), ENDS)
    assert found.weight_N / POUND_N == pytest.approx(2006.0)
    assert found.cg_m[0] / INCH_M == pytest.approx(-13.2, abs=0.05)


def fitted(readings: list[Reading], errors: Errors) -> tuple[float, Array, Array]:
    """Weight, CG and their spreads: the most likely of all errors that let Newton's balance come out (no part of the
    code under test; a line in a bridle leads through its pick's level of the load)."""
    lines = readings[0].lines
    count = len(lines)
    scale_N = sum(one.load_N for one in lines)

    def misfit(unknown: Array) -> Array:
        weight, cg = unknown[0] * scale_N, unknown[1:4]
        gauge, picks = unknown[4 : 4 + count], unknown[4 + count : 4 + 4 * count].reshape(count, 3)
        own = unknown[4 + 4 * count :].reshape(len(readings), -1)
        left = [cg[2] / (errors.height_m / SIGMAS), *gauge, *picks.ravel(), *own.ravel()]
        for reading, angles in zip(readings, own, strict=True):
            left += list(1e4 * balance(reading, errors, (weight, cg), (gauge, picks, angles)) / (scale_N * 1.0))
        return np.array(left)

    first = np.zeros(4 + 4 * count + len(readings) * (3 * count + 2))
    first[0] = 1.0
    found = least_squares(misfit, first, xtol=1e-12, ftol=1e-12, gtol=1e-12)
    spreads = SIGMAS * np.sqrt(np.diag(np.linalg.inv(found.jac.T @ found.jac)))[:4]
    return float(found.x[0] * scale_N), found.x[1:4], np.array([spreads[0] * scale_N, *spreads[1:]])


def balance(reading: Reading, errors: Errors, load: tuple[float, Array], wrong: tuple[Array, Array, Array]) -> Array:
    """Force up, and moments about the CG across and along, that are left over: N and N m."""
    (weight, cg), (gauge, picks, angles) = load, wrong
    angle = errors.angle_rad / SIGMAS
    pitch, roll = angles[-2:] * angle
    turn = Rotation.from_euler("ZYX", [reading.yaw_rad, reading.pitch_rad + pitch, reading.roll_rad + roll])
    force, moment, count = np.array([0.0, 0.0, -weight]), np.zeros(3), len(reading.lines)
    for n, one in enumerate(reading.lines):
        pull = one.load_N * (1.0 + gauge[n] * errors.gauge_share / SIGMAS) - one.below_N
        pull += angles[2 * count + n] * errors.display_N / SIGMAS
        way = np.array([-np.tan(one.along_rad + angle * angles[2 * n]),
                        -np.tan(one.across_rad + angle * angles[2 * n + 1]), 1.0])  # fmt: skip
        way /= np.linalg.norm(way)
        up = way
        if one.is_bridle:
            across = turn.apply([0.0, 1.0, 0.0])
            up = np.cross(np.cross(across, way), across)
            up /= np.linalg.norm(up)
        at = turn.apply(np.array(one.pick_m) + picks[n] * errors.tape_m / SIGMAS - cg) + one.rigging_m * up
        force, moment = force + pull * way, moment + np.cross(at, pull * way)
    return np.array([force[2], moment[0], moment[1]])


@pytest.mark.parametrize("seed", range(3))
def test_scipys_least_squares_on_the_same_readings(seed: int) -> None:
    rng = np.random.default_rng(400 + seed)
    errors = Errors(gauge_share=0.02)
    case = hung(rng).reading
    agree([misread(case._replace(lines=tuple(one._replace(parts=0) for one in case.lines)), errors, rng)], errors)


def test_scipys_least_squares_on_two_attitudes() -> None:
    agree([turned(pitch, (0.7, 0.0, 0.4), 2e5) for pitch in (0.06, -0.05)], Errors(gauge_share=0.02, height_m=1.0))


def agree(readings: list[Reading], errors: Errors) -> None:
    """Answer and spread are the same."""
    weight, cg, spreads = fitted(readings, errors)
    found = weigh(readings, errors, ENDS)
    assert found.weight_N == pytest.approx(weight, abs=0.05 * spreads[0])
    assert np.abs(np.array(found.cg_m) - cg) == pytest.approx(np.zeros(3), abs=0.05 * spreads[1:].max())
    assert np.array([found.weight_spread_N, *found.spread_m]) == pytest.approx(spreads, rel=0.05)

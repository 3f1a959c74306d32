"""One line's pull by hand: T = max(0, k (d - l) + c (d' - l')), along the line, with its moment about the CG."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from simulator.engine.lines import SLACK, hang, pull
from simulator.engine.motion import Motion
from simulator.mechanics.trailer import rotation

K, C = 2.0e6, 5.0e4
metres = st.floats(-3.0, 3.0)
vectors = st.tuples(*[st.floats(-2.0, 2.0)] * 3)
angles = st.floats(-0.5, 0.5)


@given(vectors, vectors, vectors, st.floats(-0.5, 0.5), st.floats(-0.05, 0.05))
def test_pull_is_spring_and_damper_of_the_true_distance(
    tip_mps: tuple[float, float, float],
    load_mps: tuple[float, float, float],
    turning: tuple[float, float, float],
    paid_mps: float,
    stretch_m: float,
) -> None:
    """Against a difference quotient of the distance itself, hook and tip moved by hand."""
    tip, pick = np.array([1.0, -8.0, 9.0]), np.array([2.0, -7.0, -6.0])
    cg = np.array([-3.0, -7.5, -7.0])
    line = hang(tuple(tip), tuple(pick), rotation(0.0, 0.0, 0.0), 0.0, across_rigid=False)
    v, w, dt = np.array(load_mps), np.array(turning), 1e-7
    hook_later = pick + dt * (v + np.cross(w, pick - cg))
    rate = (np.linalg.norm(tip + dt * np.array(tip_mps) - hook_later) - np.linalg.norm(tip - pick)) / dt
    still = Motion(float(cg[0]), float(cg[1]), float(cg[2]), 0.0, 0.0, 0.0)
    motion = still._replace(vx=v[0], vy=v[1], vz=v[2], ox=w[0], oy=w[1], oz=w[2])
    assume(abs(stretch_m) > 1e-9)
    found = pull(line, tip_mps, motion, line.distance_m - stretch_m, paid_mps, K, C)
    size = K * stretch_m + C * (rate - paid_mps) if stretch_m > 0.0 else 0.0
    assert found.size_N == pytest.approx(max(0.0, size), abs=5.0)
    force = max(0.0, size) * (tip - pick) / np.linalg.norm(tip - pick)
    assert found[1:4] == pytest.approx(tuple(force), abs=5.0)
    assert found[4:] == pytest.approx(tuple(np.cross(pick - cg, force)), abs=50.0)


def test_a_slack_line_does_not_pull_whatever_moves() -> None:
    line = hang((0.0, 0.0, 10.0), (0.0, 0.0, 0.0), rotation(0.0, 0.0, 0.0), 0.0, across_rigid=False)
    motion = Motion(0.0, 0.0, -1.0, 0.0, 0.0, 0.0, 0.0, 0.0, -5.0)
    assert pull(line, (0.0, 0.0, 3.0), motion, 10.0, 0.0, K, C) == SLACK
    assert pull(line, (0.0, 0.0, 3.0), motion, 10.2, -1.0, K, C) == SLACK
    assert pull(line, (0.0, 0.0, 3.0), motion, 9.999, 0.0, K, C).size_N > 0.0


def test_a_damper_never_pushes() -> None:
    """A stretched line that is let out faster than it shortens goes slack, and no further."""
    line = hang((0.0, 0.0, 10.0), (0.0, 0.0, 0.0), rotation(0.0, 0.0, 0.0), 0.0, across_rigid=False)
    assert pull(line, (0.0, 0.0, 0.0), Motion(0.0, 0.0, 0.0, 0.0, 0.0, 0.0), 9.999, 1.0, K, C) == SLACK


@given(metres, metres, angles, angles, angles, st.floats(0.0, 2.5))
def test_a_bridle_stands_square_across_and_free_along(
    along: float, across: float, pitch: float, yaw: float, roll: float, height: float
) -> None:
    """Its hook is `height` from the pick, square to the trailer's cross axis, and of all such hooks nearest the tip."""
    matrix = np.array(rotation(pitch, yaw, roll))
    turn = matrix.reshape(3, 3)
    tip, pick = np.array([along, across, 12.0]), np.zeros(3)
    line = hang(tuple(tip), (0.0, 0.0, 0.0), tuple(matrix), height, across_rigid=True)
    hook = np.array(line.hook)
    assert np.linalg.norm(hook - pick) == pytest.approx(height, abs=1e-9)
    assert hook @ turn[:, 1] == pytest.approx(0.0, abs=1e-9)
    swept = [height * (np.sin(b) * turn[:, 0] + np.cos(b) * turn[:, 2]) for b in np.linspace(-1.5, 1.5, 601)]
    assert line.distance_m <= min(float(np.linalg.norm(tip - other)) for other in swept) + 1e-9
    assert (line.ux, line.uy, line.uz) == pytest.approx(tuple((tip - hook) / line.distance_m))


@given(metres, metres, st.floats(0.0, 2.5))
def test_a_single_point_s_rigging_lies_in_line(along: float, across: float, height: float) -> None:
    line = hang((along, across, 12.0), (0.0, 0.0, 0.0), rotation(0.1, 0.2, 0.3), height, across_rigid=False)
    assert line.distance_m == pytest.approx(hypot(along, across, 12.0) - height)
    assert np.cross(line.hook, (along, across, 12.0)) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)

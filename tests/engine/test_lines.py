"""One line's pull by hand: T = max(0, k (d - l) + c (d' - l')), along the line, with its moment about the CG."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from simulator.engine.capture import move_to
from simulator.engine.drives import Travel
from simulator.engine.lines import hang, pull
from simulator.engine.moving import Body, Line, Wrench, nothing
from simulator.engine.numbers import BodyNumbers, LineNumbers
from simulator.engine.state import Motion
from simulator.mechanics.matrix import Matrix

K, C = 2.0e6, 5.0e4
meters = st.floats(-3.0, 3.0)
vectors = st.tuples(*[st.floats(-2.0, 2.0)] * 3)
angles = st.floats(-0.5, 0.5)
Vector = tuple[float, float, float]
ANY = Travel(1.0, 1.0, -100.0, 0.0)
ONE: Matrix = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
STILL = Motion(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def trailer_at(motion: Motion) -> Body:
    body = Body(BodyNumbers(1.0, ONE, ONE, 9.8))
    move_to(body, motion)
    return body


def hung(sheave: Vector, pick: Vector, body: Body, rigging_m: float = 0.0, *, across_rigid: bool = False) -> Line:
    """A line led to a pick, from the CG in lying axes."""
    numbers = LineNumbers(ANY, ANY, 0.0, pick, rigging_m)
    numbers.across_rigid = across_rigid
    line = Line(numbers, 40.0)
    line.sheave_x, line.sheave_y, line.sheave_z = sheave
    hang(line, body)
    return line


def pulled(line: Line, body: Body, sheave_mps: Vector, length_m: float, pay_out_mps: float) -> Wrench:
    """What it pulls, spring K and damper C."""
    line.sheave_vx, line.sheave_vy, line.sheave_vz = sheave_mps
    line.stretch_m, line.pay_out_mps, line.damper = line.distance_m - length_m, pay_out_mps, C
    line.is_taut = line.stretch_m > 0.0
    line.pull_N = K * line.stretch_m if line.is_taut else 0.0
    return pull(line, body)


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
    v, w, dt = np.array(load_mps), np.array(turning), 1e-7
    hook_later = pick + dt * (v + np.cross(w, pick - cg))
    rate = (np.linalg.norm(tip + dt * np.array(tip_mps) - hook_later) - np.linalg.norm(tip - pick)) / dt
    still = Motion(float(cg[0]), float(cg[1]), float(cg[2]), 0.0, 0.0, 0.0)
    body = trailer_at(still._replace(vx=v[0], vy=v[1], vz=v[2], ox=w[0], oy=w[1], oz=w[2]))
    line = hung((1.0, -8.0, 9.0), (5.0, 0.5, 1.0), body)
    assume(abs(stretch_m) > 1e-9)
    found = pulled(line, body, tip_mps, line.distance_m - stretch_m, paid_mps)
    size = K * stretch_m + C * (rate - paid_mps) if stretch_m > 0.0 else 0.0
    assert line.pull_N == pytest.approx(max(0.0, size), abs=5.0)
    force = max(0.0, size) * (tip - pick) / np.linalg.norm(tip - pick)
    assert found[:3] == pytest.approx(tuple(force), abs=5.0)
    assert found[3:] == pytest.approx(tuple(np.cross(pick - cg, force)), abs=50.0)


def test_a_slack_line_does_not_pull_whatever_moves() -> None:
    body = trailer_at(Motion(0.0, 0.0, -1.0, 0.0, 0.0, 0.0, 0.0, 0.0, -5.0))
    line = hung((0.0, 0.0, 10.0), (0.0, 0.0, 1.0), body)
    assert pulled(line, body, (0.0, 0.0, 3.0), 10.0, 0.0) == nothing()
    assert pulled(line, body, (0.0, 0.0, 3.0), 10.2, -1.0) == nothing()
    assert pulled(line, body, (0.0, 0.0, 3.0), 9.999, 0.0)[2] > 0.0


def test_a_damper_never_pushes() -> None:
    """A stretched line that is let out faster than it shortens goes slack, and no further."""
    body = trailer_at(STILL)
    line = hung((0.0, 0.0, 10.0), (0.0, 0.0, 0.0), body)
    assert pulled(line, body, (0.0, 0.0, 0.0), 9.999, 1.0) == nothing()
    assert line.pull_N == 0.0


@pytest.mark.long_in_plain
@given(meters, meters, angles, angles, angles, st.floats(0.0, 2.5))
def test_a_bridle_stands_square_across_and_free_along(
    along: float, across: float, pitch: float, yaw: float, roll: float, height: float
) -> None:
    """Its hook is `height` from the pick, square to the trailer's cross axis, and of all such hooks nearest the tip."""
    body = trailer_at(Motion(0.0, 0.0, 0.0, pitch, yaw, roll))
    turn = np.array(body.matrix).reshape(3, 3)
    tip, pick = np.array([along, across, 12.0]), np.zeros(3)
    line = hung((along, across, 12.0), (0.0, 0.0, 0.0), body, height, across_rigid=True)
    hook = np.array([line.hook_x, line.hook_y, line.hook_z])
    assert np.linalg.norm(hook - pick) == pytest.approx(height, abs=1e-9)
    assert hook @ turn[:, 1] == pytest.approx(0.0, abs=1e-9)
    swept = [height * (np.sin(b) * turn[:, 0] + np.cos(b) * turn[:, 2]) for b in np.linspace(-1.5, 1.5, 601)]
    assert line.distance_m <= min(float(np.linalg.norm(tip - other)) for other in swept) + 1e-9
    assert (line.ux, line.uy, line.uz) == pytest.approx(tuple((tip - hook) / line.distance_m))


@given(meters, meters, st.floats(0.0, 2.5))
def test_a_single_point_s_rigging_lies_in_line(along: float, across: float, height: float) -> None:
    line = hung((along, across, 12.0), (0.0, 0.0, 0.0), trailer_at(Motion(0.0, 0.0, 0.0, 0.1, 0.2, 0.3)), height)
    assert line.distance_m == pytest.approx(hypot(along, across, 12.0) - height)
    assert np.cross((line.hook_x, line.hook_y, line.hook_z), (along, across, 12.0)) == pytest.approx(
        (0.0, 0.0, 0.0), abs=1e-9
    )

"""Springs that act one way only: held against scipy, against the floats' closed form, and against hand calculation."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import nnls

from simulator.mechanics import outriggers
from simulator.mechanics.one_way import Held, line_columns, line_pulls, solve
from tests.mechanics.setups import PROPERTY, Setup, setups

Array = NDArray[np.float64]
UP = (0.0, 0.0, 1.0)
CASES = 300


def least_energy(columns: Array, stiffness: Array, load: Array, loose: Array) -> Array:
    """The quadratic program by scipy: balances as equations of great weight, energy as the rest of the squares."""
    root = np.sqrt(stiffness / stiffness.max())
    balances, firm = columns * root, 1e5
    free = -loose * np.sqrt(stiffness * stiffness.max())
    rows = np.vstack([firm * balances, np.eye(len(root))])
    scaled, _ = nnls(rows, np.concatenate([firm * load, free]), maxiter=1000)
    return np.asarray(scaled * root)


def random_lines(rng: np.random.Generator) -> tuple[Array, Array]:
    """One to four lines over a load, some plumb and some of them side by side: columns, stiffness."""
    count = int(rng.integers(1, 5))
    arms = rng.uniform((-6.0, -1.3, 0.0), (6.0, 1.3, 2.5), (count, 3))
    lean = rng.normal(0.0, rng.choice([0.0, 0.05, 0.3]), (count, 2))
    along = np.column_stack([lean, np.ones(count)])
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    if count > 2 and rng.random() < 0.3:
        arms[1], along[1] = arms[0], along[0]
    return line_columns([tuple(v) for v in along], [tuple(v) for v in arms], 6.0), rng.uniform(0.2, 2.0, count) * 1e6


def test_balances_of_least_energy_agree_with_scipy() -> None:
    rng = np.random.default_rng(131)
    some_slack = 0
    for _ in range(CASES):
        columns, stiffness = random_lines(rng)
        load = columns @ (rng.uniform(0.0, 1.0, len(stiffness)) * rng.integers(0, 2, len(stiffness)))
        if not np.abs(load).max() > 0.05:
            continue
        loose = rng.uniform(-0.3, 0.3, len(stiffness)) / stiffness if rng.random() < 0.5 else np.zeros(len(stiffness))
        found = solve(columns, stiffness, load, loose_m=loose)
        assert found.balances
        assert found.forces_N == pytest.approx(least_energy(columns, stiffness, load, loose), abs=2e-5)
        some_slack += any(found.slack)
    assert some_slack > CASES / 4


def test_a_load_that_no_lines_hold_leaves_as_little_over_as_scipys_least_squares() -> None:
    rng = np.random.default_rng(132)
    unbalanced = 0
    for _ in range(CASES):
        columns, stiffness = random_lines(rng)
        load = rng.normal(0.0, 1.0, 6)
        found = solve(columns, stiffness, load)
        _, left = nnls(columns, load)
        assert np.linalg.norm(found.left_over) == pytest.approx(left, abs=1e-7)
        assert found.balances == (left < 1e-7)
        unbalanced += not found.balances
    assert unbalanced > CASES / 2


def as_floats(setup: Setup, settled_m: tuple[float, ...] | None = None) -> Held:
    """The same floats as one-way springs with three balances, moments over 5 m."""
    places = np.array(setup.places).T / 5.0
    weight, u, v = setup.load
    return solve(np.vstack([np.ones(4), places]), setup.stiffness, (weight, u / 5.0, v / 5.0), loose_m=settled_m)


@PROPERTY
@given(setups(), st.one_of(st.none(), st.tuples(*[st.floats(0.0, 0.02)] * 4)))
def test_floats_that_push_are_the_same_problem(setup: Setup, settled_m: tuple[float, ...] | None) -> None:
    closed = outriggers.solve(setup.frame, *setup.load, settled_m=settled_m)  # type: ignore[arg-type]
    found = as_floats(setup, settled_m)
    if closed.tips != (not found.balances):  # on the floats' outline itself either answer is right
        nearest = max(abs(v) for v in found.left_over)
        assert nearest < 1e-6 * setup.vertical_N
    elif not closed.tips:
        assert found.forces_N == pytest.approx(closed.reactions_N, abs=1e-6 * setup.vertical_N)


def test_two_coincident_lines_of_half_the_stiffness_are_one() -> None:
    arms = ((-5.0, 0.2, 1.0), (4.0, -0.4, 1.0), (6.0, 0.8, 1.0))
    one = line_pulls([UP] * 3, arms, (2e6, 1e6, 1e6), 2e5, length_m=5.0)
    two = line_pulls([UP] * 4, (arms[0], *arms), (1e6, 1e6, 1e6, 1e6), 2e5, length_m=5.0)
    assert one.balances and two.balances
    assert two.forces_N == pytest.approx((one.forces_N[0] / 2, one.forces_N[0] / 2, *one.forces_N[1:]), rel=1e-9)


def test_two_plumb_lines_share_by_their_distances() -> None:
    found = line_pulls([UP, UP], ((-6.0, 0.0, 1.0), (4.0, 0.0, 1.0)), (1e6, 3e6), 1e5)
    assert found.balances
    assert found.forces_N == pytest.approx((4e4, 6e4), rel=1e-12)


def test_two_leaning_lines_hold_a_weight_by_the_triangle_of_forces() -> None:
    a = radians(30.0)
    found = line_pulls([(sin(a), 0.0, cos(a)), (-sin(a), 0.0, cos(a))], ((0.0, 0.0, 1.0),) * 2, (1e6, 1e6), 1e5)
    assert found.balances
    assert found.forces_N == pytest.approx((0.5e5 / cos(a),) * 2, rel=1e-12)


def test_a_line_that_would_have_to_push_is_slack() -> None:
    # Picks at (+-5, +-1), the CG at (4, 0.8): by statics 0.8, 0.1 and 0.1 of the weight, the far corner would push.
    arms = ((1.0, 0.2, 1.0), (1.0, -1.8, 1.0), (-9.0, 0.2, 1.0), (-9.0, -1.8, 1.0))
    found = line_pulls([UP] * 4, arms, (1e6, 2e6, 3e6, 4e6), 1e5)
    assert found.balances and found.slack == (False, False, False, True)
    assert found.forces_N == pytest.approx((8e4, 1e4, 1e4, 0.0), abs=1e-6)


def test_a_weight_beside_all_lines_is_not_held() -> None:
    far = line_pulls([UP, UP], ((1.0, 0.0, 1.0), (3.0, 0.0, 1.0)), (1e6, 1e6), 1e5)
    assert not far.balances and far.slack == (False, True)


@pytest.mark.parametrize("stiffness", [(), (0.0,), (-1.0, 2.0), (1.0,) * 9])
def test_springs_that_are_none_are_refused(stiffness: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="1 to 8, each stiffer than 0 N/m"):
        solve(np.ones((3, len(stiffness))), stiffness, (1.0, 0.0, 0.0))

"""Float reactions against independent engines: a quadratic program (scipy) and a frame program (PyNite)."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from hypothesis import assume, given
from Pynite import FEModel3D  # type: ignore[import-untyped]
from scipy.optimize import lsq_linear, nnls  # type: ignore[import-untyped]

from simulator.mechanics.outriggers import solve
from tests.mechanics.setups import PROPERTY, Setup, setups


def balances(setup: Setup) -> tuple[np.ndarray, np.ndarray]:
    """Three balances A x = b of reactions over weight, moments over 5 m."""
    arms = np.array(setup.places).T / 5.0
    return np.vstack([np.ones(4), arms]), np.array([1.0, setup.at[0] / 5.0, setup.at[1] / 5.0])


def least_energy(setup: Setup) -> np.ndarray:
    """Pushing reactions of least spring energy, by bounded least squares with the balances weighted heavily."""
    matrix, target = balances(setup)
    heavy, springs = 1e5, np.array(setup.stiffness)
    energy = np.diag(np.sqrt(springs.min() / springs))
    rows = np.vstack([heavy * matrix, energy])
    found = lsq_linear(rows, np.concatenate([heavy * target, np.zeros(4)]), (0.0, np.inf), method="bvls", tol=1e-15)
    return np.asarray(found.x * setup.vertical_N)


@PROPERTY
@given(setups())
def test_reactions_are_those_of_the_quadratic_program(setup: Setup) -> None:
    """To 1e-6 of the weight; tipping exactly where no pushing reactions balance."""
    _, left_over = nnls(*balances(setup))
    assume(not 1e-12 < left_over < 1e-8)
    found = solve(setup.frame, *setup.load)
    assert found.tips == (left_over > 1e-8)
    if not found.tips:
        np.testing.assert_allclose(found.reactions_N, least_energy(setup), atol=1e-6 * setup.vertical_N)


def frame_program(setup: Setup) -> list[float]:
    """Reactions by PyNite (Y up): near-rigid members from the slew axis to springs that only push, and to the load."""
    model = FEModel3D()
    model.add_material("stiff", 1e15, 4e14, 0.3, 0.0)
    model.add_section("stiff", 1.0, 1.0, 1.0, 1.0)
    model.add_node("axis", 0.0, 0.0, 0.0)
    model.def_support("axis", support_DX=True, support_DZ=True, support_RY=True)
    for i, (u, v) in enumerate((*setup.places, setup.at)):
        model.add_node(f"n{i}", u, 0.0, v)
        model.add_member(f"m{i}", "axis", f"n{i}", "stiff", "stiff")
    for i, stiffness in enumerate(setup.stiffness):
        model.def_support_spring(f"n{i}", "DY", stiffness, "-")
    model.add_node_load("n4", "FY", -setup.vertical_N)
    model.analyze(check_statics=False)
    return [float(model.nodes[f"n{i}"].RxnFY["Combo 1"]) for i in range(4)]


def random_setups(count: int, *, lifted: int) -> list[Setup]:
    """Set-ups that stand, at least `lifted` of them with a float off, none within 1 % of a change of state."""
    draw, up = np.random.default_rng(7), 0
    kept: list[Setup] = []
    while len(kept) < count:
        front, back, side = draw.uniform(1.5, 5.0), draw.uniform(2.0, 6.0), draw.uniform(2.0, 5.0)
        corners = np.array([(front, side), (front, -side), (-back, side), (-back, -side)])
        places = tuple((float(u), float(v)) for u, v in corners + draw.uniform(-0.3, 0.3, (4, 2)))
        at = (float(draw.uniform(-back, front)), float(draw.uniform(-side, side)))
        setup = Setup(places, tuple(map(float, draw.uniform(1e6, 5e7, 4))), float(draw.uniform(1e5, 1e6)), at)
        found = solve(setup.frame, *setup.load)
        light = [r for r in found.reactions_N if 0.0 < r < 0.01 * setup.vertical_N]
        if found.tips or light or hypot(*at) < 0.1 or (not any(found.off) and len(kept) - up >= count - lifted):
            continue
        up += any(found.off)
        kept.append(setup)
    return kept


@pytest.mark.parametrize(
    "setup", random_setups(50, lifted=25), ids=lambda setup: f"{setup.at[0]:.2f},{setup.at[1]:.2f}"
)
def test_frame_program_gives_the_same_floats_and_names_the_same_one_off(setup: Setup) -> None:
    """To 0.5 % of the weight, and 0.5 % of each reaction."""
    found, theirs = solve(setup.frame, *setup.load), frame_program(setup)
    np.testing.assert_allclose(found.reactions_N, theirs, rtol=0.005, atol=1e-5 * setup.vertical_N)
    assert found.off == tuple(r < 1e-5 * setup.vertical_N for r in theirs)

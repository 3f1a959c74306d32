"""The hoist line: n parts, rope shared between boom and line, stiffness in series."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.mechanics.hoist_line import (
    damper_N_s_per_m,
    head_room_m,
    line_length_m,
    rope_for_m,
    rope_left_m,
    stiffness_N_per_m,
    weight_below_sheave_N,
)
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.unit import Hoist
from tests.demo import demo_unit

parts = st.integers(1, 12)


@given(parts, st.floats(10.0, 60.0), st.floats(5.0, 15.0), st.floats(0.0, 3.0))
def test_telescoping_with_a_still_drum_raises_the_hook(n: int, rope: float, boom: float, out: float) -> None:
    """d(line) = -dL / n: what goes into the boom is missing below the sheave, once for each part."""
    hoist = Hoist(parts=n)
    change = line_length_m(hoist, rope, boom + out) - line_length_m(hoist, rope, boom)
    assert change == pytest.approx(-out / n, abs=1e-9)


@given(parts, st.floats(10.0, 60.0), st.floats(0.0, 20.0))
def test_hook_moves_at_a_part_of_rope_speed(n: int, rope: float, paid: float) -> None:
    hoist = Hoist(parts=n)
    assert line_length_m(hoist, rope + paid, 8.0) - line_length_m(hoist, rope, 8.0) == pytest.approx(paid / n, abs=1e-9)


@given(parts, st.floats(1.0, 30.0), st.floats(5.0, 15.0))
def test_rope_for_a_line_is_the_line_s_inverse(n: int, line: float, boom: float) -> None:
    hoist = Hoist(parts=n, to_boom_foot_m=1.7)
    rope = rope_for_m(hoist, line, boom)
    assert rope == pytest.approx(n * line + boom + 1.7)
    assert line_length_m(hoist, rope, boom) == pytest.approx(line)
    assert rope_left_m(hoist, rope) == pytest.approx(hoist.usable_rope_m - n * line - boom - 1.7)


def test_head_room_is_the_line_less_block_and_stop() -> None:
    assert head_room_m(Hoist(block_and_stop_m=1.2), 3.0) == pytest.approx(1.8)


@given(parts, st.floats(10.0, 90.0), st.floats(0.0, 1e-6), st.floats(1e3, 2e5))
def test_stretch_adds_rope_and_structure(n: int, rope: float, give: float, pull: float) -> None:
    """Each part carries T / n: the rope stretches by (T / n) R / (E A), shared by n parts; the structure gives T g."""
    hoist = Hoist(parts=n)
    stretch = pull / n * rope / hoist.rope_EA_N / n + pull * give
    assert pull / stiffness_N_per_m(hoist, rope, give) == pytest.approx(stretch, rel=1e-9)


def test_damper_is_a_share_of_critical_for_half_the_load() -> None:
    """A mass m / 2 on k and c = 2 z sqrt(k m / 2): its discriminant c^2 - 4 k m / 2 vanishes at z = 1."""
    k, m = 2.0e6, 26e3
    c = damper_N_s_per_m(1.0, k, m / 2.0)
    assert c**2 - 4.0 * k * m / 2.0 == pytest.approx(0.0, abs=1.0)
    assert damper_N_s_per_m(0.15, k, m / 2.0) == pytest.approx(0.3 * sqrt(k * m / 2.0))


def test_block_and_rigging_weigh_on_the_line() -> None:
    made = demo_unit(hoist=Hoist(block_kg=300.0))
    assert weight_below_sheave_N(made, 200.0, STANDARD_GRAVITY_MPS2) == pytest.approx(4903.325)

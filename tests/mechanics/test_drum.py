"""The winch drum against worked rows."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from simulator.mechanics.drum import (
    layer_in_play,
    lead_line_pull_N,
    lead_line_share,
    line_load_at_stall_N,
    rope_in_layers_m,
    stall_line_pull_N,
    wraps_m,
    wraps_per_layer,
)
from simulator.scenario.unit import Hoist

INCH, FT = 0.0254, 0.3048
ROPE_M = 0.875 * INCH


def test_pull_by_layer_of_the_worked_winch() -> None:
    """30,000-lb winch, 10-in drum, 7/8-in rope: constant torque, layers stacked squarely (geometry).

    That a winch is rated on its first layer: Army FM 21-305 tradition, read in a secondary copy.
    """
    hoist = Hoist(drum_diameter_m=10.0 * INCH, rope_diameter_m=ROPE_M, stall_line_pull_N=30000.0)
    pulls = [stall_line_pull_N(hoist, layer) for layer in (1, 2, 3, 4)]
    assert pulls == pytest.approx((30000.0, 25842.0, 22696.0, 20233.0), abs=0.5)


def test_length_in_two_wraps_of_the_first_layer() -> None:
    """12-in drum, 7/8-in rope: 6.741334 ft (geometry)."""
    hoist = Hoist(drum_diameter_m=12.0 * INCH, rope_diameter_m=ROPE_M)
    assert wraps_m(hoist, 2) / FT == pytest.approx(6.741334, abs=5e-7)


@pytest.mark.parametrize(
    ("parts", "loss", "pull_lb", "efficiency"), [(2, 1.02, 12361.188, 0.970780), (4, 1.045, 6689.848, 0.896881)]
)
def test_lead_line_pull(parts: int, loss: float, pull_lb: float, efficiency: float) -> None:
    """P = W K^n (K - 1)/(K^n - 1): in the style of API RP 9B, from memory, not confirmed; its arithmetic asserted."""
    assert lead_line_pull_N(24000.0, parts, loss) == pytest.approx(pull_lb, abs=5e-4)
    assert 1.0 / (parts * lead_line_share(parts, loss)) == pytest.approx(efficiency, abs=5e-7)


def test_without_loss_every_part_carries_the_same_and_a_small_loss_goes_there() -> None:
    assert lead_line_share(4, 1.0) == 0.25
    assert lead_line_share(4, 1.0 + 1e-9) == pytest.approx(0.25, rel=1e-6)


HOIST = Hoist(drum_diameter_m=0.45, drum_width_m=0.55, rope_diameter_m=0.019)


def test_rope_on_the_layers_is_wraps_times_circumference() -> None:
    assert wraps_per_layer(HOIST) == 28
    assert wraps_per_layer(replace(HOIST, drum_width_m=0.019 * 28)) == 28
    assert rope_in_layers_m(HOIST, 2) == pytest.approx(28 * pi * (0.469 + 0.507))


def test_layer_in_play_counts_the_wraps_that_must_stay() -> None:
    """Two full wraps stay on (29 CFR 1926.1417(t))."""
    first_full = 26 * pi * 0.469
    assert layer_in_play(HOIST, 0.0) == 1
    assert layer_in_play(HOIST, first_full - 0.01) == 1
    assert layer_in_play(HOIST, first_full + 0.01) == 2
    assert layer_in_play(HOIST, first_full + 28 * pi * 0.507 - 0.01) == 2
    assert layer_in_play(HOIST, first_full + 28 * pi * 0.507 + 0.01) == 3
    assert layer_in_play(HOIST, -5.0) == 1


def test_line_load_at_stall_falls_as_rope_comes_home() -> None:
    """First layer: 130 kN on two parts at 1.02 a sheave lifts 130 (1.02^2 - 1)/(1.02^2 x 0.02)."""
    hoist = replace(HOIST, parts=2, stall_line_pull_N=130e3, sheave_loss=1.02)
    expected = 130e3 * (1.02**2 - 1.0) / (1.02**2 * 0.02)
    assert line_load_at_stall_N(hoist, 10.0) == pytest.approx(expected)
    assert line_load_at_stall_N(hoist, 60.0) == pytest.approx(expected * 0.469 / 0.507)

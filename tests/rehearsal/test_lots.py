"""What is drawn: evenly, each for itself, and the same for a number whatever else is drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chisquare, kstest

from simulator.rehearsal.lots import RANGES, Lots, drawn, lift_of, unordered, wild
from simulator.scenario.description import Description
from tests.rehearsal.short import SEED, lots, short_drill

MANY = 3000


@pytest.fixture(scope="module")
def lift() -> Description:
    return short_drill()


@given(
    st.integers(1, 10**6),
    st.sampled_from(RANGES),
    st.floats(0.5, 0.9),
    st.lists(st.sampled_from(["able", "clumsy", "slews only"]), min_size=1, max_size=3),
)
def test_another_range_or_way_changes_nothing_else_of_a_draw(
    number: int, name: str, low: float, ways: list[str]
) -> None:
    lift = short_drill()
    first = drawn(lift, lots(), number)
    other = drawn(lift, lots()._replace(**{name: (low, 1.0)}, ways=(tuple(ways), ("able",))), number)  # type: ignore[arg-type]
    kept = [one for one in first._fields if one not in (name, "ways")]
    assert [getattr(first, one) for one in kept] == [getattr(other, one) for one in kept]
    assert low <= getattr(other, name) <= 1.0 and other.ways[0] in ways


def test_a_draw_is_what_it_was(lift: Description) -> None:
    """Rows that were kept are gone on with: the stream of a seed and a number is not to change."""
    one = drawn(lift, lots(), 1)
    assert (one.number, one.weight, one.gust_seed) == (1, 1.0895538816347827, 760020218)
    assert one.hand_seeds != drawn(lift, lots(), 2).hand_seeds != drawn(lift, lots()._replace(seed=SEED + 1), 2)


def test_draws_are_even_over_their_ranges_and_do_not_go_together(lift: Description) -> None:
    """Kolmogorov and Smirnov against the even law; correlation within four standard errors of none."""
    draws = [drawn(lift, lots(), number) for number in range(1, MANY + 1)]
    columns = np.array([[getattr(draw, name) for name in RANGES] for draw in draws]).T
    for name, column in zip(RANGES, columns, strict=True):
        low, high = getattr(lots(), name)
        assert kstest(column, "uniform", args=(low, high - low)).pvalue > 1e-3, name
    assert np.abs(np.corrcoef(columns) - np.eye(len(RANGES))).max() < 4.0 / MANY**0.5
    next_to = np.corrcoef(columns[0][:-1], columns[0][1:])[0, 1]
    assert abs(next_to) < 4.0 / MANY**0.5
    counts = np.unique([draw.ways for draw in draws], axis=0, return_counts=True)[1]
    assert chisquare(counts).pvalue > 1e-3 and len(counts) == 4


def test_what_is_drawn_is_the_lifts_and_what_is_not_stays_as_it_is_said(lift: Description) -> None:
    hidden = replace(lift, trailer=replace(lift.trailer, hidden_cg_m=(0.2, 0.1, 0.3), hidden_mass_factor=1.05))
    bare = Lots(SEED, (("able",), ("able",)))
    as_is = lift_of(hidden, drawn(hidden, bare, 5))
    assert replace(as_is, seed=hidden.seed) == hidden
    draw = drawn(hidden, bare._replace(weight=(0.8, 0.8), cg_m=(0.4, 0.4), wind_mps=(3.0, 3.0)), 5)
    other = lift_of(hidden, draw)
    assert other.trailer.hidden_mass_factor == 0.8 and other.trailer.hidden_cg_m == (0.4, 0.1, 0.3)
    assert other.site.wind.speed_mps == 3.0 and other.seed == draw.gust_seed != hidden.seed


def test_ranges_that_no_lift_can_have_are_said(lift: Description) -> None:
    assert unordered(lots()) == [] == wild(lift, lots())
    (said,) = unordered(lots()._replace(weight=(1.1, 0.9)))
    assert said == "weight: given (1.1, 0.9), allowed: two numbers such as (0.9, 1.1), the smaller first"
    assert len(unordered(lots()._replace(cg_m=(float("nan"), 1.0), wind_mps=3.0))) == 2  # type: ignore[arg-type]
    found = wild(lift, lots()._replace(weight=(0.1, 9.0)))
    assert [one.split(":")[2].strip() for one in found] == ["given 0.1, allowed", "given 9.0, allowed"]

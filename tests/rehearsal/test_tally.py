"""The counting of rehearsals, on rows that are made up: intervals, percentiles, what governs, which are the worst."""

from __future__ import annotations

from math import inf, isnan, nan, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from simulator.events import Happening
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.tally import Count, exact_interval, is_clean, spread, tally, used_most
from simulator.report.rehearsal.rehearsed import Rehearsal, SetUp
from simulator.scenario.description import Description
from tests.rehearsal.short import lots, made_up, short_drill


@pytest.fixture(scope="module")
def lift() -> Description:
    return short_drill()


@given(st.integers(1, 400).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))))
def test_the_interval_is_the_exact_one(one: tuple[int, int]) -> None:
    """Against scipy's, which inverts the beta distribution."""
    there = binomtest(*one).proportion_ci(confidence_level=0.95, method="exact")
    assert exact_interval(*one) == pytest.approx((there.low, there.high), abs=1e-9)


def test_no_draw_says_nothing() -> None:
    assert Count(0, 0).interval == (0.0, 1.0)


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60))
def test_percentiles_are_values_that_were_met(values: list[float]) -> None:
    """Nearest rank: the least value that so many percent of all do not exceed."""
    found = spread([*values, nan])
    ordered = sorted(values)
    assert (found.least, found.most) == (ordered[0], ordered[-1])
    for percent, value in ((5, found.p5), (50, found.median), (95, found.p95)):
        enough = [one for one in ordered if sum(other <= one for other in ordered) * 100 >= percent * len(ordered)]
        assert value == min(enough)
    assert isnan(spread([nan]).median)


def test_each_limit_is_counted_where_something_of_it_counted(lift: Description) -> None:
    rows = [
        made_up(lift, 1, nose__capacity_used=0.5, load__sway_m=0.59),
        made_up(lift, 2, nose__capacity_used=1.0, nose__head_room_m=2.0),  # at its limit is past it
        made_up(lift, 3, nose__capacity_used=0.9, nose__head_room_m=0.5),  # this one may be reached
        made_up(lift, 4, nose__head_room_m=-0.1),
    ]
    found = tally(lift, rows)
    counts = {one.limit.key: one for one in found.limits}
    assert counts["nose.capacity_used"].kept == (2, 3) and counts["nose.capacity_used"].worst == 2
    assert counts["nose.head_room_m"].kept == (2, 3) and counts["nose.head_room_m"].used == inf
    assert counts["tail.head_room_m"].kept == (0, 0) and isnan(counts["tail.head_room_m"].values.median)
    assert {key: one.governed for key, one in counts.items() if one.governed} == {
        "nose.capacity_used": 1, "load.sway_m": 1, "nose.head_room_m": 2,
    }  # fmt: skip
    assert [is_clean(limits_of(lift), row) for row in rows] == [True, False, True, False]
    assert found.kept == (2, 4) and found.good == (4, 4)


def test_used_parts_are_shares_of_the_limit(lift: Description) -> None:
    limits = {one.key: one for one in limits_of(lift)}
    assert limits["nose.mean_off_plumb_rad"].used(radians(0.85)) == pytest.approx(0.5, rel=1e-4)
    assert limits["nose.head_room_m"].used(2.0) == pytest.approx(0.25)
    assert limits["nose.tandem_used"].used(0.7) == pytest.approx(0.7), "its caution is its limit"
    assert limits["tail.wind"].used(7.0) == pytest.approx(0.5) and not limits["tail.wind"].is_kept(14.0)
    assert used_most(list(limits.values()), made_up(lift, 1))[0] == ""


def test_the_worst_come_first(lift: Description) -> None:
    """Incidents, what did not end well, the most of a limit, the fewest points, the first drawn."""
    met = (Happening("incident", "met", {"part": "tank", "other": "road", "speed_mps": 0.4}),)
    rows = [
        made_up(lift, 1, nose__capacity_used=0.5),
        made_up(lift, 2, nose__capacity_used=0.9)._replace(points=90.0),
        made_up(lift, 3, nose__capacity_used=0.9)._replace(points=80.0),
        made_up(lift, 4, ended="not landed"),
        made_up(lift, 5, ended="incident", nose__capacity_used=0.1)._replace(incidents=met),
        made_up(lift, 6, nose__capacity_used=0.5),
    ]
    found = tally(lift, rows)
    assert [row.number for row in found.worst] == [5, 4, 3, 2, 1, 6]
    assert found.incidents == {("met", (("other", "road"), ("part", "tank"))): 1}
    assert found.ended == {"landed": 4, "not landed": 1, "incident": 1}
    assert found.time_s.most == 106.0 and found.points.least == 80.0


def test_a_verdict_is_a_false_stop_rather_than_a_false_go(lift: Description) -> None:
    good, past = made_up(lift, 1, nose__capacity_used=0.5), made_up(lift, 2, nose__capacity_used=1.1)

    def verdict(*rows: object, asked: int = 1, check: str = "no limit passed") -> str:
        set_up = SetUp(check, (), (), ())  # type: ignore[arg-type]
        return Rehearsal(lift, lots(), asked, rows, set_up).verdict  # type: ignore[arg-type]

    assert verdict(good) == "no limit passed"
    assert verdict(good, past, asked=2) == "limit passed"
    assert verdict(made_up(lift, 1, ended="not landed")) == "limit passed"
    assert verdict(good, check="not judged") == verdict(good, asked=2) == verdict() == "not judged"
    assert verdict(good, check="limit passed") == "limit passed"

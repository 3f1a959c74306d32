"""Parts that do not clear yet are to be raised while the load hangs away from the units, and alarms over them."""

from __future__ import annotations

import pytest

from simulator.readings import PartGap
from simulator.window.kit.levels import Level
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.load_near_units import NEAR_M, LoadNearUnits, judged
from simulator.window.readouts.readouts import Readouts
from tests.window.sample import calm_readings, sample_description, sample_gaps

PADS_M = 3.5 + 0.75 / 2.0
HALF_M = 1.25
"""By hand from the sample: floats 3.5 m across with pads of 0.75 m; the widest part is 2.5 m."""


@pytest.mark.parametrize("way", [-1.0, 1.0])
def test_near_begins_one_meter_from_the_pads(way: float) -> None:
    near = LoadNearUnits(sample_description())
    edge = way * (PADS_M + HALF_M + NEAR_M)
    load = calm_readings().load
    assert near.is_near(load._replace(y_m=edge - way * 0.01))
    assert not near.is_near(load._replace(y_m=edge + way * 0.01))


def test_away_from_the_units_the_gap_decides_and_over_them_the_state() -> None:
    gaps = (
        PartGap("a", -0.5, "deck", "not clear"),
        PartGap("b", 0.2, "deck", "close"),
        PartGap("c", 0.5, "", "clears"),
    )
    assert [row.state for row in judged(gaps, is_near=False, close_m=0.3)] == ["to raise", "to raise", "clears"]
    assert judged(gaps, is_near=True, close_m=0.3) == gaps
    short = (gaps[0]._replace(short_m=0.4), gaps[2]._replace(short_m=0.4))
    assert [row.state for row in judged(short, is_near=False, close_m=0.3)] == ["cannot raise", "clears"]


def test_the_strip_of_a_lift_that_is_over_shows_what_was_measured() -> None:
    """0.09 m above it a moment ago, in it now: while it goes on the figure follows, once it is over it is the truth."""
    calm = calm_readings()
    before, hit = sample_gaps((0.09,) * 5), sample_gaps((-0.01,) * 5)
    rows = Readouts(sample_description(), calm._replace(gaps=before), "metric")
    over = calm._replace(gaps=hit, time_s=calm.time_s + 0.1, load=calm.load._replace(y_m=-4.0))
    rows.follow(over, 0.101, at_rest(SEEN_BY_TWO))
    assert 0.0 < rows.readings.gaps[0].gap_m < 0.09
    rows.follow(over, 0.001, at_rest(SEEN_BY_TWO)._replace(has_ended=True))
    assert rows.readings.gaps == hit
    assert rows.parts[0].level is Level.STOP


def test_raising_past_the_decks_far_out_raises_no_alert_and_coming_over_them_low_does() -> None:
    calm = calm_readings()
    rows = Readouts(sample_description(), calm, "metric")
    worst = []
    for step in range(120):
        gap_m = -3.0 + 0.05 * step
        far = calm._replace(gaps=sample_gaps((gap_m,) * 5), load=calm.load._replace(y_m=-8.0))
        rows.follow(far, 0.11, at_rest(SEEN_BY_TWO))
        worst.append(rows.watched.worst)
    assert set(worst) == {Level.GOOD}
    over = calm._replace(gaps=sample_gaps((-0.2,) * 5), load=calm.load._replace(y_m=-4.0))
    for _ in range(20):
        rows.follow(over, 0.11, at_rest(SEEN_BY_TWO))
    assert rows.watched.worst is Level.STOP


def test_columns_are_numbered_from_left_to_right_as_seen() -> None:
    for seen, first in (("left", "Nose plate"), ("right", "Rear bumper")):
        calm = calm_readings()
        rows = Readouts(sample_description(nose_seen=seen), calm, "metric")  # type: ignore[arg-type]
        rows.follow(calm, 0.0, at_rest(SEEN_BY_TWO))
        assert (rows.parts[0].number, rows.parts[0].part) == (1, first)

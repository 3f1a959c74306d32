"""What a load weighs and where its weight is: exact without errors, inside its spread with them, and by hand."""

from __future__ import annotations

from math import inf, radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.mechanics.matrix import rotation
from simulator.mechanics.weighing import Errors, LineReading, Reading, bounds, errors_of, friction, seen_with, weigh
from simulator.mechanics.weighing_doubts import Doubt, Papers, contradictions, refusals
from simulator.scenario.measures import TONNE_N
from tests.mechanics.weighings import ENDS, HEIGHT_M, errors_drawn, hung, misread, turned

EXACT = Errors(0.0, 0.0, 0.0, 0.0, 0.0, HEIGHT_M)
CASES = 60
"""`tools/weigh_draws.py --random 2000` draws the full count."""


def line(name: str, load_t: float, x_m: float, *, along_deg: float = 0.0, **more: float) -> LineReading:
    """A plumb bridle, half a tonne of block and rigging, its pick 0.7 m over the stated CG."""
    return LineReading(
        name, load_t * TONNE_N, 0.5 * TONNE_N, (x_m, 0.0, 0.7), 2.3, True, radians(along_deg),
        parts=int(more.get("parts", 0)), moved=int(more.get("moved", 0)),
    )  # fmt: skip


def pair(nose_t: float, tail_t: float, **more: float) -> Reading:
    """Picks 9.6 m apart."""
    return Reading((line("nose", nose_t, -4.8, **more), line("tail", tail_t, 4.8, **more)))


def test_the_example_by_hand_comes_out_as_written() -> None:
    """docs/weighing.md, worked out there with a pencil."""
    found = weigh([pair(12.9, 11.3)], Errors(display_N=0.0), ENDS)
    assert found.weight_N / TONNE_N == pytest.approx(23.2)
    assert found.weight_spread_N / TONNE_N == pytest.approx(0.86, abs=0.005)
    assert found.cg_m[0] + 4.8 == pytest.approx(4.469, abs=0.001)
    assert found.spread_m[0] == pytest.approx(0.180, abs=0.0005)
    assert not found.tells_height and found.spread_m[2] == pytest.approx(0.5)


def test_random_loads_lie_inside_the_stated_spread() -> None:
    """Hung at rest by least energy: two to four lines, splayed, pitched, yawed, rolled; errors drawn as stated."""
    rng = np.random.default_rng(20)
    inside = np.zeros(4)
    for _ in range(CASES):
        case, errors = hung(rng), errors_drawn(rng)
        found = weigh([misread(case.reading, errors, rng)], errors, ENDS, most_pitch_rad=0.0)
        inside += found.holds(case.weight_N, case.cg_m)
    # 93 to 97 % of 2,000; of so few, as far as chance lets it go in one of a thousand.
    room = 3.3 * np.sqrt(0.95 * 0.05 / CASES)
    assert (np.abs(inside / CASES - 0.95) < room).all(), inside / CASES


def test_without_errors_the_answer_is_exact() -> None:
    rng = np.random.default_rng(21)
    for _ in range(15):
        case = hung(rng)
        found = weigh([case.reading], EXACT, ENDS, most_pitch_rad=0.0)
        assert found.weight_N == pytest.approx(case.weight_N, rel=1e-6)
        off = np.array(found.cg_m) - np.array(case.cg_m)
        turn = np.array(rotation(case.reading.pitch_rad, case.reading.yaw_rad, case.reading.roll_rad)).reshape(3, 3)
        assert np.abs((turn @ off)[:2]).max() < 1e-6, "off the line of gravity, on which the height is the papers'"


@settings(max_examples=25)
@given(
    st.floats(-2.0, 2.0), st.floats(-0.8, 0.8), st.floats(1e5, 4e5), st.floats(0.03, 0.12), st.floats(-0.12, -0.03)
)  # fmt: skip
def test_two_attitudes_tell_the_height(along: float, up: float, weight_N: float, first: float, second: float) -> None:
    readings = [turned(pitch, (along, 0.0, up), weight_N) for pitch in (first, second)]
    found = weigh(readings, EXACT._replace(height_m=5.0), ENDS)
    assert found.tells_height and found.one_more is None
    assert found.weight_N == pytest.approx(weight_N, rel=1e-6)
    assert found.cg_m == pytest.approx((along, 0.0, up), abs=1e-3)


def test_a_level_load_does_not_tell_its_height_and_says_what_would() -> None:
    level = turned(0.0, (0.4, 0.0, 0.0), 2e5)
    errors = Errors(height_m=1.5)
    found = weigh([level], errors, ENDS)
    assert not found.tells_height and found.spread_m[2] == pytest.approx(1.5) and found.cg_m[2] == pytest.approx(0.0)
    assert found.one_more is not None
    both = weigh([level, turned(found.one_more.pitch_rad, (0.4, 0.0, 0.0), 2e5)], errors, ENDS)
    assert both.tells_height
    assert both.spread_m[2] == pytest.approx(found.one_more.height_spread_m, rel=0.15), "as was said before"
    assert both.holds(2e5, (0.4, 0.0, 0.0)) == (True, True, True, True)


def test_linear_propagation_is_what_ten_thousand_drawn_errors_give() -> None:
    """One set of readings, all its errors drawn at once: the spread of what would be seen is the one stated."""
    rng = np.random.default_rng(22)
    reading, errors = hung(rng).reading, Errors(gauge_N=2e3, sway_rad=0.004, bed_N=2e3)
    found = weigh([reading], errors, ENDS, most_pitch_rad=0.0)
    drawn = rng.normal(size=(10_000, errors_of(1, len(reading.lines))))
    seen = seen_with([reading], errors, ENDS, drawn, found.cg_m)
    low, high = np.quantile(seen, (0.025, 0.975), axis=0)
    assert (high[0] - low[0]) / 2.0 == pytest.approx(found.weight_spread_N, rel=0.05)
    height_m = found.spread_m[2]
    turn = np.array(rotation(reading.pitch_rad, reading.yaw_rad, reading.roll_rad)).reshape(3, 3)
    along = np.hypot((high[1] - low[1]) / 2.0 / turn[0, 0], height_m * turn[0, 2] / turn[0, 0])
    assert along == pytest.approx(found.spread_m[0], rel=0.06)


@pytest.mark.parametrize(("moved", "times"), [(1, 1.0505), (-1, 0.9515), (0, 1.0010)])
def test_friction_in_the_sheaves_is_taken_out_by_the_way_the_line_ran(moved: int, times: float) -> None:
    """Four parts at 1.02: n K^n (K - 1) / (K^n - 1), and with 1 / K running down; by hand."""
    assert friction(4, 1.02, moved) == pytest.approx(times, abs=2e-4)
    lines = pair(12.0, 12.0, parts=4.0, moved=float(moved))
    found = weigh([lines], Errors(), ENDS)
    assert found.weight_N == pytest.approx(24.0 * TONNE_N / friction(4, 1.02, moved) - TONNE_N)
    known = weigh([pair(12.0, 12.0, parts=4.0, moved=1.0)], Errors(), ENDS)
    assert (found.weight_spread_N > 1.2 * known.weight_spread_N) == (moved == 0), "nobody knows: a wider spread"


def test_mirrored_readings_give_the_mirrored_load() -> None:
    one = Reading((line("nose", 9.0, -5.0, along_deg=1.0), line("tail", 14.0, 5.0, along_deg=-0.7)), radians(3.0))
    other = Reading((line("nose", 14.0, -5.0, along_deg=0.7), line("tail", 9.0, 5.0, along_deg=-1.0)), radians(-3.0))
    first, second = (weigh([reading], Errors(), ENDS) for reading in (one, other))
    assert first.cg_m[0] == pytest.approx(-second.cg_m[0]) and first.spread_m == pytest.approx(second.spread_m)


def test_on_the_bed_there_are_bounds_and_they_hold_what_is_true() -> None:
    """A load of 20 t, CG 1 m tailward, its nose lifted about the tail end at x = 9: 20 * 8 / 14 = 11.43 t."""
    nose = LineReading("nose", 20.0 * 8.0 / 14.0 * TONNE_N, 0.0, (-5.0, 0.0, 0.0), 0.0, False)
    found = bounds(Reading((nose,)), Errors(), ENDS, most_N=30.0 * TONNE_N)
    assert found.least_N < 20.0 * TONNE_N and found.from_m < 1.0 < found.to_m
    assert bounds(Reading((nose,)), Errors(), ENDS, most_N=inf)[1:] == (-9.0, 9.0)


ON_PAPER = Papers(23.0 * TONNE_N)


def kinds(reading: Reading, papers: Papers = ON_PAPER) -> list[str]:
    """What is doubted of a reading."""
    errors = Errors()
    found: list[Doubt] = list(refusals(reading, errors))
    if not found:
        found = list(contradictions(reading, errors, ENDS, weigh([reading], errors, ENDS), papers))
    return [one.kind for one in found]


def test_bad_read_outs_are_named() -> None:
    assert kinds(pair(12.9, 11.3)) == []
    assert kinds(pair(12.9, -3.0)) == ["negative"]
    assert kinds(pair(12.9, 0.4)) == ["slack"]
    assert kinds(pair(0.4, 0.3)) == ["all slack"] * 2
    leaning = Reading((line("nose", 12.9, -4.8, along_deg=5.0), line("tail", 11.3, 4.8)))
    assert kinds(leaning) == ["uneven along"]
    tail_heavy = Papers(23.2 * TONNE_N, 1.6)
    assert kinds(pair(8.2, 16.0), tail_heavy) == [] and kinds(pair(16.0, 8.2), tail_heavy) == ["swapped"]
    assert kinds(pair(12.9 * 2.2046, 11.3 * 2.2046)) == ["all klb as t"]
    assert kinds(pair(12.9 * 2.2046, 11.3)) == ["klb as t"]
    assert kinds(pair(126.5, 110.8)) == ["all kN as t"]
    short = ((-3.0, -1.3, -1.5), (3.0, 1.3, 1.5))
    far = weigh([pair(1.0, 22.0)], Errors(), short)
    (beyond,) = contradictions(pair(1.0, 22.0), Errors(), short, far, ON_PAPER)
    assert beyond.kind == "beyond tail" and beyond.refuses and beyond.fields["line"] == "tail"


def test_one_slack_line_of_four_does_not_spoil_the_others() -> None:
    four = Reading((*pair(6.0, 6.0).lines, line("nose_2", 6.0, -4.8), line("tail_2", 0.5, 4.8)))
    assert list(refusals(four, Errors())) == []


def test_nothing_is_made_of_nothing() -> None:
    with pytest.raises(ValueError, match="given no line"):
        weigh([], Errors(), ENDS)
    with pytest.raises(ValueError, match="bear nothing"):
        weigh([pair(0.2, 0.3)], Errors(), ENDS)


def test_level_pulls_that_cancel_are_believed() -> None:
    """12.4 t at 2 deg against 10.8 t at atan(12.4 tan 2 / 10.8)."""
    back = float(np.degrees(np.arctan(12.4 * tan(radians(2.0)) / 10.8)))
    splayed = Reading((line("nose", 12.9, -4.8, along_deg=2.0), line("tail", 11.3, 4.8, along_deg=-back)))
    assert kinds(splayed) == []

"""Sweeps: the batch agrees with the full check, corners are there, seeds decide, stopping early keeps what is known."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from simulator.plan.batch import CODES, Unknowns, judge_many, prepare
from simulator.plan.hanging import as_stated, load_of
from simulator.plan.setup_check import SetupCheck
from simulator.plan.sweep import Corner, Ranges, check_corner, combinations, stated_corner, sweep
from simulator.report.amounts import Amounts
from simulator.report.plan.compare_lines import sweep_lines
from simulator.scenario.description import Description
from simulator.scenario.site import BedHold
from tests.demo import with_boom, with_floats, with_hoist, with_lie, with_trailer, with_units
from tests.draws import drawn
from tests.plan.variants import shipped, site, soil

pytestmark = pytest.mark.long

STEP_M = 2.0
WIDE = Ranges((10e3, 45e3), (-3.0, 3.0), (0.0, 30.0), (6.0, 25.0))


def _tight(lift: Description) -> Description:
    """Limits drawn in, so that chance meets every one of them."""
    lift = with_hoist(lift, stall_line_pull_N=80e3, usable_rope_m=60.0)
    lift = soil(lift, allowable_bearing_Pa=420e3, steepest_angle_rad=radians(85.0))
    return replace(lift, limits=replace(lift.limits, off_plumb_stop_rad=radians(3.0), light_float_share=0.3))


def _leaning(lift: Description) -> Description:
    """Cross-fall, level error, soft ground, a snag, gusts, yaw on the bed, liquid cargo."""
    lift = site(
        with_units(lift, level_along_rad=0.01, level_across_rad=-0.008),
        cross_fall_rad=0.015,
        bed_hold=BedHold((5.0, -1.3, 2.5), 40e3),
        wind=replace(lift.site.wind, gust_share=0.4, toward_rad=2.1),
    )
    lift = with_floats(lift, soft_float_share=(1.0, 0.6, 1.0, 0.8))
    cargo = replace(lift.trailer.cargo, kind="liquid", size_m=(8.0, 2.0, 2.0), fill=0.6)
    return with_lie(with_trailer(lift, cargo=cargo), pitch_rad=0.09, yaw_rad=0.05)


def _far_along(lift: Description) -> Description:
    """Its flat trailer stands so far along that only a part of the load lies on it."""
    flat = replace(lift.landing.flat, x_m=4.0, end_overhang_m=3.0) if lift.landing.flat else None
    return replace(lift, landing=replace(lift.landing, flat=flat))


LIFTS = {
    "tank": shipped,
    "tank, tight": lambda: _tight(shipped()),
    "tank, leaning": lambda: _tight(_leaning(shipped())),
    "tank, no rating": lambda: with_units(_tight(shipped()), rating=None),
    "box": lambda: _tight(shipped("box_on_wheels")),
    "onto a flat trailer": lambda: _far_along(shipped("box_onto_flat")),
}


def _used(found: SetupCheck, code: str) -> float:
    """Share of a limit used, from the check's own worst values."""
    worst = 0.0
    for one in found.findings:
        reading = one.reading
        if reading.code == code and code != "set-back":
            value = reading.value / reading.stop if reading.rising else _over(reading.stop, reading.value)
            worst = max(worst, value)
    return worst


def _over(stop: float, value: float) -> float:
    return stop / value if value > 0.0 else float("inf")


@pytest.mark.parametrize("name", LIFTS)
def test_batch_and_check_agree_on_random_set_ups(name: str) -> None:
    """Two ways of computing: arrays of all set-ups at once, and one lift judged station by station."""
    lift = as_stated(LIFTS[name]())
    rows = combinations(lift, WIDE, drawn(40, 100), seed=5)
    used = judge_many(prepare(lift, step_m=STEP_M), rows)
    refused = set()
    for i in range(len(used)):
        corner = Corner(*(float(part[i]) for part in rows))
        found = check_corner(lift, corner, step_m=STEP_M, room=False)
        expected = {code for code in found.refused_for if code in CODES}
        assert {code for code, share in zip(CODES, used[i], strict=True) if share >= 1.0} == expected, corner
        for code, share in zip(CODES, used[i], strict=True):
            if code not in ("set-back", "rigging"):  # the check chooses the size that a weight asks for
                assert share == pytest.approx(_used(found, code), rel=1e-9), (code, corner)
        refused |= expected
    assert len(refused) >= 3, "chance should meet several limits"


def test_every_code_of_a_batch_is_met_somewhere() -> None:
    met = set()
    for make in LIFTS.values():
        lift = as_stated(make())
        used = judge_many(prepare(lift, step_m=STEP_M), combinations(lift, WIDE, 300, seed=8))
        met |= {code for code, column in zip(CODES, used.T, strict=True) if (column >= 1.0).any()}
    assert met >= set(CODES) - {"head room", "share", "rigging"}


def test_stated_numbers_are_the_check_of_the_file() -> None:
    """One row with nothing moved is the lift as described: nothing refused."""
    lift = as_stated(shipped())
    row = Unknowns(*(np.array([value]) for value in stated_corner(lift)[:4]))
    assert (judge_many(prepare(lift), row) < 1.0).all()
    assert stated_corner(lift).depth_m == pytest.approx(-lift.site.section_m[2][1])
    assert stated_corner(lift).mass_kg == pytest.approx(load_of(lift).body.mass_kg)


def test_corners_and_draws() -> None:
    """All 16 corners are there; what is drawn stays inside, evenly, and follows the seed."""
    rows = np.array(combinations(shipped(), WIDE, 1016, seed=3))
    corners = {tuple(column) for column in rows[:, :16].T}
    assert len(corners) == 16
    for values, span in zip(rows, WIDE[:4], strict=True):
        assert span is not None
        low, high = span
        assert values.min() == low and values.max() == high
        share = np.sort((values[16:] - low) / (high - low))
        assert np.abs(share - (np.arange(1000) + 0.5) / 1000).max() <= 0.5 / 1000 + 1e-12
    assert (rows == np.array(combinations(shipped(), WIDE, 1016, seed=3))).all()
    assert (rows != np.array(combinations(shipped(), WIDE, 1016, seed=4))).any()
    fixed = combinations(shipped(), Ranges(mass_kg=(24e3, 30e3)), 50, seed=1)
    assert set(fixed.wind_mps) == {0.0}
    assert len(fixed.mass_kg) == 50


def test_sweep_counts_and_its_worst_is_refused_by_the_check_too() -> None:
    ranges = Ranges((22e3, 28e3), (-1.0, 2.0))
    *_, found = sweep(shipped(), ranges, count=2000, jobs=1)
    assert found.done == found.asked == 2000
    assert 0.0 < found.share < 1.0
    refused = {code for code, count in found.refused.items() if count}
    assert refused <= {"lightest float", "hoist rope"} and "lightest float" in refused
    assert (found.worst.mass_kg, found.worst.cg_shift_m) == (28e3, 2.0)
    assert found.worst_code in check_corner(shipped(), found.worst).refused_for


def test_as_many_processes_as_asked_for_find_the_same() -> None:
    ranges = Ranges((24e3, 30e3), (-1.0, 2.0), (0.0, 12.0))
    ends = [[*sweep(shipped(), ranges, count=2500, jobs=jobs)][-1] for jobs in (1, 2)]
    assert ends[0] == ends[1]


def test_stopping_early_keeps_what_is_known() -> None:
    going = sweep(shipped(), Ranges((24e3, 30e3), (-1.0, 2.0)), count=5000, jobs=2)
    first = next(going)
    going.close()
    assert 0 < first.done < first.asked
    assert 0.0 <= first.share <= 1.0


def test_a_center_of_gravity_beyond_a_pick_is_refused() -> None:
    """The tail pick is 6.2 m from the stated center: 7 m of shift leaves the nose line slack."""
    corner = stated_corner(shipped())._replace(cg_shift_m=7.0)
    rows = Unknowns(*(np.array([value]) for value in corner[:4]))
    lift = as_stated(shipped())
    assert judge_many(prepare(lift), rows)[0, CODES.index("share")] == float("inf")
    assert "share" in check_corner(lift, corner, room=False).refused_for


def test_judged_in_full_the_same_is_refused_as_by_arrays() -> None:
    """A center of gravity that is moved across by nothing has each combination judged by the check itself."""
    ranges = Ranges((22e3, 32e3), (-1.0, 2.0))
    *_, arrays = sweep(shipped(), ranges, count=24, jobs=1)
    *_, in_full = sweep(shipped(), ranges._replace(cg_across_m=(0.0, 0.0)), count=24, jobs=1)
    assert in_full.done == arrays.done == 24 and 0 < in_full.held < 24
    refused = {code: count for code, count in in_full.refused.items() if count}
    assert refused == {code: count for code, count in arrays.refused.items() if count}
    assert (in_full.held, in_full.worst) == (arrays.held, arrays.worst)


def test_a_center_moved_across_rolls_a_load_on_one_line_an_end() -> None:
    *_, found = sweep(shipped("practice_yard"), Ranges(cg_across_m=(-0.3, 0.3)), count=12, jobs=1)
    assert 0 < found.held < found.done == 12 and found.refused["hung roll"] > 0
    assert abs(found.worst.cg_across_m) == 0.3
    assert found.worst_code in check_corner(shipped("practice_yard"), found.worst).refused_for


@pytest.mark.parametrize(("name", "cores"), [("four_lines", (1, 2)), ("turn_over_tank", (2,))])
def test_lifts_on_several_lines_are_swept_by_the_check(name: str, cores: tuple[int, ...]) -> None:
    """The same on one core as on two."""
    lift = shipped(name)
    stated_kg = stated_corner(lift).mass_kg
    ranges = Ranges((0.8 * stated_kg, 1.5 * stated_kg), cg_across_m=(-0.3, 0.3))
    ends = [[*sweep(lift, ranges, count=8, jobs=jobs)][-1] for jobs in cores]
    assert ends[0] == ends[-1] and ends[0].done == 8
    assert 0 < ends[0].held < 8 and ends[0].worst_used >= 1.0
    worst = check_corner(lift, ends[0].worst, step_m=2.0)
    assert ends[0].worst_code in worst.refused_for
    (told,) = [line for line in sweep_lines(ends[0], worst, Amounts()) if line.startswith("worst: ")]
    assert " across, wind " in told


def test_what_no_unknown_can_cure_is_said() -> None:
    """A boom too short stays too short, whatever the trailer weighs."""
    *_, found = sweep(with_boom(shipped(), longest_m=11.5), Ranges((20e3, 24e3)), count=50, jobs=1)
    assert found.fixed == ("boom length",)
    assert found.share == 0.0


def test_the_worst_is_told_as_past_a_limit_or_near_to_it() -> None:
    """No share of a limit over 100 %: a float that is too light is not `used`."""
    for ranges, word in ((Ranges((24e3, 30e3), (-1.0, 2.0)), "does not hold"), (Ranges((24e3, 25e3)), "holds")):
        *_, found = sweep(shipped(), ranges, count=50, jobs=1)
        lines = sweep_lines(found, check_corner(shipped(), found.worst), Amounts())
        (worst,) = [line for line in lines if line.startswith("worst: ")]
        assert f": {word}, {found.worst_code} " in worst
        assert (" % of the way" in worst) == (word == "holds") == (found.worst_used < 1.0)

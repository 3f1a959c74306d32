"""Which control the tag offers. Tip movements are checked against finite differences of the boom's own geometry."""

from __future__ import annotations

from math import hypot, radians

import pytest

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.readings import Readings
from simulator.scenario.description import Limits
from simulator.window.advice import advise, moves
from simulator.window.standing import Burden, Standing, no_worse
from tests.window.sample import calm_readings, sample_description, sample_unit

POSE = BoomPose(11.0, radians(47.0), radians(-63.0))


def anything(end: int, pose: BoomPose) -> bool:
    """No danger anywhere."""
    return True


def leaning(end: int, along_deg: float, across_deg: float, **load: float) -> Readings:
    """One unit's line leaning on the mean."""
    calm = calm_readings()
    changed = calm.units[end]._replace(
        mean_off_plumb_along_rad=radians(along_deg),
        mean_off_plumb_across_rad=radians(across_deg),
        mean_off_plumb_rad=radians(hypot(along_deg, across_deg)),
    )
    readings = calm._replace(load=calm.load._replace(**load))  # type: ignore[arg-type]
    return readings._replace(nose=changed) if end == 0 else readings._replace(tail=changed)


@pytest.mark.parametrize("end", [0, 1])
def test_moves_carry_the_tip_one_metre_the_way_they_say(end: int) -> None:
    unit, step = sample_unit(end), 1e-6
    start = tip_m(unit, end, POSE)
    for row in moves(unit, end, POSE):
        after = tip_m(unit, end, BoomPose(*(a + step * b for a, b in zip(POSE, row.pose_rate, strict=True))))
        along, across = (after[0] - start[0]) / step, (after[1] - start[1]) / step
        assert (along, across) == pytest.approx((row.along, row.across), abs=1e-4), row
        assert hypot(along, across) == pytest.approx(1.0, abs=1e-4)


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("way", range(8))
def test_the_offered_control_brings_the_tip_nearer_to_the_hook(end: int, way: int) -> None:
    from math import cos, pi, sin

    lean = (1.8 * cos(way * pi / 4), 1.8 * sin(way * pi / 4))
    readings = leaning(end, *lean)
    advice = advise(sample_description(), readings, anything)[end]
    assert advice.kind == "control"
    now = readings.units[end]
    pose = BoomPose(now.boom_length_m, now.elevation_rad, now.slew_rad)
    row = next(m for m in moves(sample_unit(end), end, pose) if (m.function, m.sign) == (advice.function, advice.sign))
    assert row.along * lean[0] + row.across * lean[1] > 0.5 * 1.8


def test_plumb_is_left_alone_and_slack_is_slack() -> None:
    calm = calm_readings()
    assert {row.kind for row in advise(sample_description(), calm, anything)} == {"leave"}
    slack = calm._replace(nose=calm.nose._replace(slack=True, mean_off_plumb_rad=1.0))
    assert advise(sample_description(), slack, anything)[0].kind == "slack"


def test_a_sway_larger_than_the_lean_is_waited_out() -> None:
    readings = leaning(0, 2.0, 0.0, sway_m=1.0)
    assert advise(sample_description(), readings, anything)[0].kind == "wait"


def test_a_control_that_brings_danger_is_passed_over_for_another_or_for_asking() -> None:
    readings = leaning(0, 0.3, -2.0)
    description = sample_description()
    first = advise(description, readings, anything)[0]

    def not_the_first(end: int, pose: BoomPose) -> bool:
        now = readings.units[end]
        changed = {
            "slew": pose.slew_rad != now.slew_rad,
            "telescope": pose.length_m != now.boom_length_m,
            "elevation": pose.elevation_rad != now.elevation_rad,
        }
        return not changed[first.function]

    second = advise(description, readings, not_the_first)[0]
    assert (second.kind, second.function) != (first.kind, first.function)
    assert advise(description, readings, lambda end, pose: False)[0].kind == "ask"


def test_only_one_unit_is_named_when_both_lines_lean_and_the_name_does_not_flicker() -> None:
    readings = leaning(0, 2.0, -0.5)
    tail = readings.tail._replace(mean_off_plumb_along_rad=radians(-2.03), mean_off_plumb_rad=radians(2.03))
    both = readings._replace(tail=tail)
    kinds = [row.kind for row in advise(sample_description(), both, anything)]
    assert sorted(kinds) == ["control", "other_first"]
    held = advise(sample_description(), readings._replace(tail=tail), anything, before=advise_nose_first(readings))
    assert held[0].kind == "control"


def advise_nose_first(readings: Readings):  # type: ignore[no-untyped-def]
    """Advice of the moment before, when only the nose line leaned."""
    return advise(sample_description(), readings, anything)


def test_travel_ends_are_not_offered() -> None:
    description = sample_description()
    calm = calm_readings()
    at_end = calm.nose._replace(elevation_rad=description.nose_unit.boom.highest_rad)
    pose = BoomPose(at_end.boom_length_m, at_end.elevation_rad, at_end.slew_rad)
    up = next(m for m in moves(description.nose_unit, 0, pose) if (m.function, m.sign) == ("elevation", 1))
    lean = at_end._replace(
        mean_off_plumb_along_rad=radians(2.0) * up.along,
        mean_off_plumb_across_rad=radians(2.0) * up.across,
        mean_off_plumb_rad=radians(2.0),
    )
    advice = advise(description, calm._replace(nose=lean), anything)[0]
    assert (advice.function, advice.sign) == ("telescope", -1)


def test_burdens_in_caution_may_only_get_better() -> None:
    limits = Limits()
    light = limits.float_caution_factor * limits.light_float_share
    assert no_worse(limits, Burden(0.5, 0.9), Burden(0.84, light))
    assert not no_worse(limits, Burden(0.5, 0.9), Burden(0.86, 0.9))
    assert not no_worse(limits, Burden(0.5, 0.9), Burden(0.5, light - 0.01))
    assert no_worse(limits, Burden(0.97, 0.1), Burden(0.95, 0.12))


def test_standing_refuses_a_boom_lowered_far_over_the_slope() -> None:
    """Twice the reach with the same load takes a unit far past its tipping share."""
    readings = calm_readings()
    allowed = Standing(sample_description()).allowed(readings)
    now = readings.nose
    assert allowed(0, BoomPose(now.boom_length_m, now.elevation_rad + 0.01, now.slew_rad))
    assert not allowed(0, BoomPose(14.5, radians(5.0), radians(-80.0)))

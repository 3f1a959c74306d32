"""Which control the tag offers. Tip movements are checked against finite differences of the boom's own geometry."""

from __future__ import annotations

from math import degrees, hypot, radians

import pygame
import pytest

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Limits
from simulator.window.hands.bindings import Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import LEFT, PANEL
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.fix_chips import Advice, advise, moves
from simulator.window.readouts.resting_floats import Burden, RestingFloats, no_worse
from simulator.window.readouts.rose import Trail, draw_rose, rose_look
from simulator.window.readouts.rose_tag import draw_tag, tag_look
from tests.window.sample import calm_readings, sample_description, sample_unit

FIRST = SEEN_BY_TWO.units[0]
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
    return readings.with_unit(0, changed) if end == 0 else readings.with_unit(1, changed)


@pytest.mark.parametrize("end", [0, 1])
def test_moves_carry_the_tip_one_meter_the_way_they_say(end: int) -> None:
    unit, step = sample_unit(end), 1e-6
    start = tip_m(unit, POSE)
    for row in moves(unit, POSE):
        after = tip_m(unit, BoomPose(*(a + step * b for a, b in zip(POSE, row.pose_rate, strict=True))))
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
    row = next(m for m in moves(sample_unit(end), pose) if (m.function, m.sign) == (advice.lever, advice.sign))
    assert row.along * lean[0] + row.across * lean[1] > 0.5 * 1.8


def test_plumb_is_left_alone_and_slack_is_slack() -> None:
    calm = calm_readings()
    assert {row.kind for row in advise(sample_description(), calm, anything)} == {"leave"}
    slack = calm.with_unit(0, calm.nose._replace(slack=True, mean_off_plumb_rad=1.0))
    assert advise(sample_description(), slack, anything)[0].kind == "slack", "it hangs plumb now, whatever it did"


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
        return not changed[first.lever]

    second = advise(description, readings, not_the_first)[0]
    assert (second.kind, second.lever) != (first.kind, first.lever)
    assert advise(description, readings, lambda end, pose: False)[0].kind == "ask"


def test_only_one_unit_is_named_when_both_lines_lean_and_the_name_does_not_flicker() -> None:
    readings = leaning(0, 2.0, -0.5)
    tail = readings.tail._replace(mean_off_plumb_along_rad=radians(-2.03), mean_off_plumb_rad=radians(2.03))
    both = readings.with_unit(1, tail)
    kinds = [row.kind for row in advise(sample_description(), both, anything)]
    assert sorted(kinds) == ["control", "other_first"]
    held = advise(sample_description(), readings.with_unit(1, tail), anything, before=advise_nose_first(readings))
    assert held[0].kind == "control"


def advise_nose_first(readings: Readings):  # type: ignore[no-untyped-def]
    """Advice of the moment before, when only the nose line leaned."""
    return advise(sample_description(), readings, anything)


def test_travel_ends_are_not_offered() -> None:
    description = sample_description()
    calm = calm_readings()
    at_end = calm.nose._replace(elevation_rad=description.units[0].boom.highest_rad)
    pose = BoomPose(at_end.boom_length_m, at_end.elevation_rad, at_end.slew_rad)
    up = next(m for m in moves(description.units[0], pose) if (m.function, m.sign) == ("elevation", 1))
    lean = at_end._replace(
        mean_off_plumb_along_rad=radians(2.0) * up.along,
        mean_off_plumb_across_rad=radians(2.0) * up.across,
        mean_off_plumb_rad=radians(2.0),
    )
    advice = advise(description, calm.with_unit(0, lean), anything)[0]
    assert (advice.lever, advice.sign) == ("telescope", -1)


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
    allowed = RestingFloats(sample_description()).allowed(readings)
    now = readings.nose
    assert allowed(0, BoomPose(now.boom_length_m, now.elevation_rad + 0.01, now.slew_rad))
    assert not allowed(0, BoomPose(14.5, radians(5.0), radians(-80.0)))


def slack_and_leaning(nose_deg: float, tail_deg: float, **load: float) -> Readings:
    """Both lines slack, hooks off to the tail side now; over the last sway they hung quite otherwise."""
    calm = calm_readings()

    def unit(end: int, now_deg: float) -> UnitReadings:
        return calm.units[end]._replace(
            slack=True,
            off_plumb_rad=radians(now_deg),
            off_plumb_along_rad=radians(now_deg),
            off_plumb_across_rad=0.0,
            mean_off_plumb_rad=radians(3.0),
            mean_off_plumb_along_rad=0.0,
            mean_off_plumb_across_rad=radians(3.0),
        )

    return (
        calm.with_unit(0, unit(0, nose_deg)).with_unit(1, unit(1, tail_deg))._replace(load=calm.load._replace(**load))
    )  # type: ignore[arg-type]


def test_slack_lines_are_plumbed_by_where_their_hooks_are_now_and_both_at_once() -> None:
    readings = slack_and_leaning(1.6, 1.9, sway_m=1.0)
    rows = advise(sample_description(), readings, anything)
    assert [row.kind for row in rows] == ["control", "control"]
    for end, row in enumerate(rows):
        now = readings.units[end]
        pose = BoomPose(now.boom_length_m, now.elevation_rad, now.slew_rad)
        move = next(m for m in moves(sample_unit(end), pose) if (m.function, m.sign) == (row.lever, row.sign))
        assert move.along > 0.5, "toward the tail side, not across as the means would have it"


def test_a_slack_line_over_its_pick_or_of_a_landed_load_is_left() -> None:
    near = advise(sample_description(), slack_and_leaning(0.4, 0.4), anything)
    landed = advise(sample_description(), slack_and_leaning(1.9, 1.9, landed=True), anything)
    assert {row.kind for row in (*near, *landed)} == {"slack"}


def test_the_rose_and_tag_of_a_slack_line_show_where_its_hook_is() -> None:
    readings = slack_and_leaning(1.6, 1.9)
    look = rose_look(FIRST.unit, readings, Trail(), 1.0, Level.GOOD)
    assert look.slack and look.hook == look.mean == pytest.approx((1.6, 0.0))
    advice = advise(sample_description(), readings, anything)[0]
    tag = tag_look(readings, FIRST, advice, Level.GOOD, Labels(), plumb_rad=radians(1.0), sign=1.0)
    assert (tag.angle, tag.along, tag.across, tag.word) == ("1.6", "1.6", "0.0", "SLACK")
    assert tag.is_control and tag.key


def test_a_slack_dot_is_hollow(screen: pygame.Surface) -> None:
    readings, limits = slack_and_leaning(0.8, 0.8), Limits()
    dot_x = 200 + round(0.8 * 112.0 / degrees(limits.off_plumb_stop_rad))
    middles = []
    bears = readings.units[0]._replace(slack=False, mean_off_plumb_across_rad=0.0)
    for now in (readings, readings.with_unit(0, bears)):
        canvas = Canvas(pygame.Surface((400, 400)), f=1.0, origin_px=(0, 0))
        look = rose_look(FIRST.unit, now, Trail(), 1.0, Level.GOOD)
        draw_rose(canvas, 0, 200.0, 200.0, 112.0, look, limits)
        # The dot's far side, which no arrow reaches.
        middles.append(canvas.surface.get_at((dot_x + 4, 200))[:3])
    assert middles == [PANEL, LEFT.main]


def test_who_is_held_is_told_to_hold_and_not_waited_for() -> None:
    """Both lines lean under load, the tail's more: with the tail unit off turn the nose unit need not wait for it."""
    calm = calm_readings()
    nose, tail = (
        calm.units[end]._replace(mean_off_plumb_rad=radians(deg), mean_off_plumb_along_rad=radians(deg))
        for end, deg in ((0, 2.0), (1, 3.0))
    )
    readings = calm.with_unit(0, nose).with_unit(1, tail)._replace(load=calm.load._replace(sway_m=0.0))
    description = sample_description()
    assert [row.kind for row in advise(description, readings, anything)] == ["other_first", "control"]
    off_turn = advise(description, readings, anything, held=(False, True))
    assert [row.kind for row in off_turn] == ["control", "hold"]
    rest = at_rest(SEEN_BY_TWO)
    for now in (rest._replace(is_stopped=True), rest._replace(off_turn=(True, True)), rest._replace(has_ended=True)):
        assert now.held == (True, True)
        assert {row.kind for row in advise(description, readings, anything, held=now.held)} == {"hold"}


@pytest.mark.parametrize("level", list(Level))
def test_a_held_chip_has_no_key_no_arrow_and_calm_colors(screen: pygame.Surface, level: Level) -> None:
    labels, calm = Labels(), calm_readings()
    look = tag_look(calm, FIRST, Advice("hold"), level, labels, plumb_rad=radians(1.0), sign=1.0)
    assert (look.chip, look.key, look.chip_turn, look.is_control) == ("Hold", "", None, False)
    canvas = Canvas(pygame.Surface((300, 200)), f=1.0, origin_px=(0, 20))
    draw_tag(canvas, 0, 0.0, 0.0, look)
    assert canvas.surface.get_at((270, 20 + 124))[:3] == PANEL

"""Levels with hysteresis, their order, and the sentences of the alert line."""

from __future__ import annotations

from math import inf, nan, radians

import pytest

from simulator.readings import Readings
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import judged_rows
from simulator.window.kit import levels
from simulator.window.kit.levels import ANGLE_BAND_RAD, LENGTH_BAND_M, Level, Threshold
from simulator.window.kit.seen import MIRRORED, SEEN_BY_TWO
from simulator.window.readouts.alert_words import alert_look, alert_text
from simulator.window.readouts.alerts import Watched, least_float, look, watch_list
from simulator.window.readouts.looks import part_looks
from tests.window.sample import (
    PART_NAMES,
    TONNE_N,
    calm_readings,
    caution_readings,
    sample_gaps,
    stop_readings,
)

LIMITS = Limits()
RESTING = ((6.0 * TONNE_N,) * 2 + (13.0 * TONNE_N,) * 2,) * 2
WATCHES = watch_list(LIMITS, PART_NAMES, RESTING)


NOTHING = Watched()


def seen(readings: Readings, before: Watched = NOTHING) -> Watched:
    """One look."""
    return look(WATCHES, readings, before)


def with_nose(readings: Readings, **changes: float) -> Readings:
    """The readings with some of the nose unit's changed."""
    return readings.with_unit(0, readings.nose._replace(**changes))  # type: ignore[arg-type]


@pytest.mark.parametrize("deep", [False, True])
def test_a_calm_lift_raises_nothing(deep: bool) -> None:
    readings = calm_readings(height_m=-8.1, y_m=-8.0, tip_z_m=9.3) if deep else calm_readings()
    assert seen(readings).in_order == ()


def test_stop_comes_before_caution() -> None:
    watched = seen(caution_readings())
    assert watched.in_order[0] == "gap.Axle group"
    assert {"nose.off_plumb", "gap.Rear bumper"} <= set(watched.in_order[1:])
    assert watched.worst is Level.STOP


def test_newest_of_one_level_comes_first() -> None:
    calm = calm_readings()
    first = seen(with_nose(calm, capacity_used=0.9))
    later = with_nose(calm, capacity_used=0.9, head_room_m=1.0)._replace(time_s=calm.time_s + 5.0)
    second = seen(later, first)
    assert second.in_order == ("nose.head_room", "nose.capacity")
    assert second.since_s["nose.capacity"] == calm.time_s


@pytest.mark.parametrize("threshold", [
    levels.off_plumb(LIMITS), levels.capacity(LIMITS), levels.head_room(LIMITS),
    levels.rope_left(LIMITS),
    levels.float_share(LIMITS), levels.pitch(LIMITS), levels.sway(LIMITS), levels.gap(LIMITS),
])  # fmt: skip
def test_a_mark_stays_until_the_value_is_back_by_the_band(threshold: Threshold) -> None:
    """The band is 5 % of the threshold or the least one, whichever is more; worked out here for both thresholds."""
    toward_good = -1.0 if threshold.rising else 1.0
    for limit, level in ((threshold.caution, Level.CAUTION), (threshold.stop, Level.STOP)):
        band = max(0.05 * abs(limit), threshold.least_band)
        worse = limit - toward_good * 1e-9
        inside = limit + toward_good * 0.98 * band
        outside = limit + toward_good * 1.02 * band
        assert threshold.level(worse) == level
        assert threshold.level(inside) < level
        assert threshold.level(inside, level) == level
        assert threshold.level(outside, level) < level


def test_least_bands_are_the_designs() -> None:
    assert LENGTH_BAND_M == 0.02
    assert pytest.approx(radians(0.1)) == ANGLE_BAND_RAD
    assert levels.off_plumb(LIMITS).level(radians(0.95), Level.CAUTION) is Level.CAUTION
    assert levels.off_plumb(LIMITS).level(radians(0.89), Level.CAUTION) is Level.GOOD


def test_a_value_shaking_about_its_threshold_raises_one_alert() -> None:
    watched, changes = Watched(), 0
    for step in range(40):
        readings = with_nose(calm_readings(), capacity_used=0.85 + (0.004 if step % 2 else -0.004))
        after = seen(readings, watched)
        changes += after.level("nose.capacity") != watched.level("nose.capacity")
        watched = after
    assert changes == 1


def test_no_value_is_no_alert() -> None:
    assert Threshold(1.0, 2.0, True, 0.0).level(nan, Level.STOP) is Level.GOOD


def test_slack_line_counts_only_while_the_other_line_has_the_load() -> None:
    slack = with_nose(calm_readings(), slack=True, mean_off_plumb_rad=radians(9.0))
    on_bed = slack._replace(load=slack.load._replace(ground_N=2e5))
    assert seen(on_bed).in_order == ()
    assert seen(slack).in_order == ("nose.slack",)


def test_pitch_and_sway_of_a_load_on_the_ground_are_not_the_operators() -> None:
    calm = calm_readings()
    steep = calm._replace(load=calm.load._replace(pitch_rad=radians(7.0), sway_m=2.0))
    resting = steep._replace(load=steep.load._replace(ground_N=2e5))
    assert set(seen(steep).in_order) == {"pitch", "sway"}
    assert seen(resting).in_order == ()


def test_part_to_raise_is_no_alert_and_a_part_below_the_deck_is() -> None:
    calm = calm_readings()
    deep = sample_gaps((-9.0, -9.0, -9.0, -9.0, -9.0))
    assert seen(calm._replace(gaps=deep)).in_order == ()
    low = sample_gaps((1.0, 1.0, 1.0, -0.4, 1.0))
    assert seen(calm._replace(gaps=low)).levels["gap.Axle group"] is Level.STOP


def test_least_float_goes_by_share_of_resting_load() -> None:
    """7.2 of 13 t (55 %) is lighter by its share than 4 of 6 t (67 %)."""
    unit = calm_readings().nose._replace(float_tailboard_road_N=4.0 * TONNE_N)
    assert least_float(unit, RESTING[0]) == 2


@pytest.mark.parametrize(("readings", "name", "parts"), [
    (caution_readings(), "nose.off_plumb", ("Left line", "1.4°")),
    (caution_readings(), "tail.float.cab_road", ("Right unit", "cab-end road-side float", "2.6 t")),
    (caution_readings(), "gap.Axle group", ("Axle group meets right unit's deck by 0.12 m",)),
    (caution_readings(), "gap.Rear bumper", ("Rear bumper", "0.22 m")),
    (stop_readings(), "tail.capacity", ("Right unit", "103 %")),
    (stop_readings(), "sway", ("0.62 m",)),
    (stop_readings(), "pitch", ("2.4°", "nose up")),
    (stop_readings(), "tail.ground", ("Right unit", "tailboard-end ravine-side float")),
])  # fmt: skip
def test_alert_sentences_say_who_what_and_how_much(readings: Readings, name: str, parts: tuple[str, ...]) -> None:
    text = alert_text(name, readings, SEEN_BY_TWO, "metric")
    assert all(part in text for part in parts), text


def test_every_watched_readout_has_a_sentence_in_both_systems_and_mirrored() -> None:
    for sides in (SEEN_BY_TWO, MIRRORED):
        texts = [alert_text(row.name, stop_readings(), sides, "us") for row in WATCHES]
        assert all(len(text) > 8 and "{" not in text for text in texts)
    assert alert_text("nose.stall", stop_readings(), MIRRORED, "us").startswith("Right unit")


WATCHED_AS = {
    "nose.mean_off_plumb_rad": "nose.off_plumb", "nose.capacity_used": "nose.capacity",
    "nose.tandem_used": "nose.tandem", "nose.least_float_share": "nose.float.cab_road",
    "nose.head_room_m": "nose.head_room", "nose.rope_left_m": "nose.rope_left", "nose.ground_used": "nose.ground",
    "load.pitch_rad": "pitch", "load.yaw_rad": "yaw", "load.sway_m": "sway", "load.lane_room_m": "lane",
}  # fmt: skip


def test_what_drill_and_debrief_judge_is_watched_by_the_same_numbers() -> None:
    """One list of limits: nothing costs points, or is found afterwards, that the window did not mark."""
    rows = [row for row in judged_rows(Limits()) if not row.key.startswith("tail.")]
    assert {row.key for row in rows} == set(WATCHED_AS)
    watched = {watch.name: watch.threshold for watch in watch_list(Limits(), PART_NAMES, RESTING)}
    for row in rows:
        of = watched[WATCHED_AS[row.key]]
        assert (of.caution, of.stop, of.rising) == (row.caution, row.stop, row.rising), row.key


def test_ground_near_its_bearing_is_said_before_it_is_overloaded() -> None:
    near = calm_readings()
    near = near.with_unit(1, near.units[1]._replace(ground_used=0.9))
    assert seen(near).levels["tail.ground"] is Level.CAUTION
    assert "90 %" in alert_text("tail.ground", near, SEEN_BY_TWO, "metric")


def test_alert_line_counts_all_and_is_absent_when_calm() -> None:
    watched = seen(caution_readings())
    line = alert_look(watched, caution_readings(), SEEN_BY_TWO, "metric")
    assert line is not None and line.level is Level.STOP and line.number == len(watched.in_order) == 4
    assert alert_look(seen(calm_readings()), calm_readings(), SEEN_BY_TWO, "metric") is None


def test_what_a_part_meets_is_named_by_the_side_it_is_seen_on() -> None:
    row = caution_readings().gaps[3]._replace(part="axle group", meets="tail unit tailboard-end road-side jack")
    readings = caution_readings()._replace(gaps=(row,))
    for sides, side in ((SEEN_BY_TWO, "right"), (MIRRORED, "left")):
        text = alert_text("gap.axle group", readings, sides, "metric")
        assert text.startswith(f"Axle group meets {side} unit tailboard-end road-side jack by")


def test_parts_that_meet_nothing_have_no_column_of_dashes() -> None:
    calm, order = calm_readings(), PART_NAMES
    free = calm._replace(gaps=tuple(row._replace(gap_m=inf, meets="") for row in calm.gaps))
    assert part_looks(free, seen(free), "metric", order=order) == ()
    one = free._replace(gaps=(free.gaps[0]._replace(gap_m=0.7), *free.gaps[1:]))
    columns = part_looks(one, seen(one), "metric", order=order)
    assert [row.has_gap for row in columns] == [True, False, False, False, False]


def test_the_slopes_face_beside_a_hanging_load_has_a_column_of_its_own() -> None:
    """Close under the scenario's 30 cm, a stop where it touches; nothing of a load that lies or has none beside it."""
    calm = calm_readings()
    for room_m, level, sentence in (
        (2.0, Level.GOOD, ""), (0.2, Level.CAUTION, "Load 0.20 m from the slope."), (0.04, Level.STOP, "0.04 m"),
    ):  # fmt: skip
        now = calm._replace(gaps=(calm.gaps[0]._replace(beside_m=room_m), *calm.gaps[1:]))
        watched = seen(now)
        assert watched.level("slope") is level
        columns = part_looks(now, watched, "metric", order=PART_NAMES)
        assert len(columns) == 5 and columns[-1].is_beside and columns[-1].level is level
        assert (columns[-1].part, columns[-1].value.text) == ("To the slope", f"+{room_m:.2f}")
        assert not any(row.is_beside for row in columns[:-1])
        if sentence:
            assert sentence in alert_text("slope", now, SEEN_BY_TWO, "metric")
    assert not any(row.is_beside for row in part_looks(calm, seen(calm), "metric", order=PART_NAMES))
    near = calm._replace(gaps=(calm.gaps[0]._replace(beside_m=0.0), *calm.gaps[1:]))
    lies = near._replace(load=near.load._replace(ground_N=2e5))
    assert seen(lies).level("slope") is Level.GOOD
    assert not any(row.is_beside for row in part_looks(lies, seen(lies), "metric", order=PART_NAMES))


def test_of_too_many_parts_those_that_meet_something_are_shown() -> None:
    calm = calm_readings()
    rows = (*calm.gaps[:2], calm.gaps[2]._replace(gap_m=inf), *calm.gaps[3:])
    columns = part_looks(calm._replace(gaps=rows), seen(calm), "metric", order=PART_NAMES, most=4)
    assert [row.name for row in columns] == [name for name in PART_NAMES if name != "Belly"]
    assert [row.number for row in columns] == [1, 2, 3, 4]


def test_a_part_named_in_small_letters_begins_with_a_capital_on_the_strip() -> None:
    calm = calm_readings()
    rows = tuple(row._replace(part=row.part.lower()) for row in calm.gaps)
    columns = part_looks(calm._replace(gaps=rows), seen(calm), "metric", order=tuple(n.lower() for n in PART_NAMES))
    assert [row.part for row in columns] == list(PART_NAMES)


def short_of_head_room() -> Readings:
    """Deep, and of two parts that are short of head room the axle group by more."""
    deep = calm_readings(height_m=-8.1, y_m=-8.0, tip_z_m=9.3)
    rows = [gap._replace(to_raise_m=0.3 - gap.gap_m) for gap in deep.gaps]
    for i, short_m in ((3, 0.82), (4, 0.22)):
        rows[i] = rows[i]._replace(state="cannot raise", short_m=short_m)
    return deep._replace(gaps=tuple(rows))


def test_parts_that_head_room_does_not_let_rise_are_marked_and_said() -> None:
    now = short_of_head_room()
    watched = seen(now)
    assert watched.in_order == ("raise",) and watched.level("raise") is Level.CAUTION
    text = alert_text("raise", now, SEEN_BY_TWO, "metric")
    assert "head room" in text and "axle group" in text.lower() and "0.82 m short" in text and "right unit" in text
    columns = part_looks(now, watched, "metric", order=PART_NAMES)
    assert [row.cannot_raise for row in columns] == [False, False, False, True, True]
    assert [row.level for row in columns] == [Level.GOOD] * 3 + [Level.CAUTION] * 2
    assert all(row.to_raise for row in columns)


def test_the_share_for_two_units_has_its_own_mark() -> None:
    """Over the tandem share with capacity still good: one caution, its own."""
    over = with_nose(calm_readings(), capacity_used=0.8, tandem_used=0.8 / 0.75)
    assert seen(over).in_order == ("nose.tandem",)
    assert seen(over).level("nose.tandem") is Level.CAUTION
    assert "80 %" in alert_text("nose.tandem", over, SEEN_BY_TWO, "metric")

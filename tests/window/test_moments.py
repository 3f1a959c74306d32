"""What the debrief makes of a recording before anything is drawn: moments, steps, and lines on an axis."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from simulator.drill.partner import STAGES
from simulator.events import Event
from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.scenario.rig import PAIR
from simulator.window.kit.levels import Level
from simulator.window.review.chart_view import CHARTS, FLAG_APART, FLAG_PITCH, LEFT, RIGHT, Axis, flag_places
from simulator.window.review.charts import charts, most, thinned
from simulator.window.review.looking_back import Replayed
from simulator.window.review.moments import Moment, moments, spans
from simulator.window.shell.lift import stage_of
from tests.window.screens import FINDINGS, LONG_S, STOP_AT_S, driven, yard


def test_findings_and_happenings_are_numbered_in_time() -> None:
    found = moments(driven()[0], FINDINGS)
    times = [one.time_s for one in found]
    assert times == sorted(times) and [one.number for one in found] == list(range(1, len(found) + 1))
    assert {1.0, 3.0} <= set(times)
    assert sum(one.time_s == pytest.approx(STOP_AT_S) for one in found) == 2
    stop = next(one for one in found if one.time_s == 3.0)
    assert (stop.level, stop.title, stop.side) == (Level.STOP, "Sway over 1.0 m", -1)
    assert stop.what == "Worst 1.2 m" and stop.why == "It was not settled" and "sway" in stop.next_time
    assert next(one for one in found if one.time_s == 1.0).side == 0


def test_a_replay_names_the_recorded_step() -> None:
    recording, _ = driven()
    per_s = recording.head.steps_per_s
    first, second, *rest = recording.seconds
    marks = (
        Event(0, "stage", "stage", {"unit": "nose", "doing": "take slack"}),
        Event(per_s, "stage", "stage", {"unit": "tail", "doing": "raise"}),
    )
    split = first._replace(events=marks[:1]), second._replace(events=marks[1:])
    lift = Replayed(replace(recording, seconds=(*split, *rest)))
    told = []
    for time_s in (0.5, 1.5, 0.5):
        lift.go_to(time_s)
        assert lift.stage is not None
        told.append((lift.stage.title, lift.stage.number, lift.stage.last))
    assert told == [("Take the slack", 2, len(STAGES)), ("Raise", 5, len(STAGES)), ("Take the slack", 2, len(STAGES))]
    assert stage_of(lift) == lift.stage and Replayed(recording).stage is None


def test_steps_cover_the_lift_without_a_gap() -> None:
    recording, _ = driven()
    per_s = recording.head.steps_per_s
    notes = ((0, "take slack"), (per_s, "take slack"), (per_s + 60, "raise"))
    marks = tuple(
        Event(step, "stage", "stage", {"unit": unit, "doing": doing}) for step, doing in notes for unit in PAIR
    )
    first, second, *rest = recording.seconds
    split = first._replace(events=marks[:2]), second._replace(events=marks[2:])
    found = spans(replace(recording, seconds=(*split, *rest)))
    assert [one.title for one in found] == ["Take the slack", "Raise"]
    assert [(one.begin_s, one.end_s) for one in found] == [(0.0, 1.0 + 60 / per_s), (1.0 + 60 / per_s, LONG_S)]


@pytest.mark.parametrize("x", [232.0, 500.0, 1368.0])
def test_a_place_on_the_axis_is_the_place_of_its_time(x: float) -> None:
    axis = Axis(317.0)
    assert axis.x(axis.time_s(x)) == pytest.approx(x)


def test_a_thinned_line_keeps_every_peak() -> None:
    time_s = np.linspace(0.0, 100.0, 5001)
    values = np.sin(time_s)
    values[1234], values[4321] = 7.0, -5.0
    values[2000:2100] = np.nan
    times, kept = thinned(time_s, values, 200)
    assert len(kept) <= 400
    assert np.nanmax(kept) == 7.0 and np.nanmin(kept) == -5.0
    assert np.all(np.diff(times) > 0.0)
    assert set(zip(times[np.isfinite(kept)], kept[np.isfinite(kept)], strict=True)) <= set(
        zip(time_s, values, strict=True)
    )


@pytest.mark.parametrize("at_s", [0.0, 50.0, 100.0])
def test_no_flag_hides_another_and_each_has_its_place(at_s: float) -> None:
    axis = Axis(100.0)
    times = [min(100.0, max(0.0, at_s + 0.2 * (n - 5))) for n in range(1, 15)]
    crowd = tuple(Moment(n, time_s, Level.STOP if n == 9 else Level.GOOD, "") for n, time_s in enumerate(times, 1))
    places = flag_places(crowd, axis)
    assert set(places) == set(range(1, 15)) and places[9][0] == axis.x(crowd[8].time_s)
    spots = list(places.values())
    for index, (x, y) in enumerate(spots):
        assert LEFT <= x <= RIGHT and CHARTS[0].y <= y - 18.0 and y + 18.0 <= CHARTS[0].foot
        assert all(abs(x - x2) >= FLAG_APART or abs(y - y2) >= FLAG_PITCH for x2, y2 in spots[index + 1 :])


def test_a_drill_that_never_left_its_first_step_names_that_step() -> None:
    drill = load(find_scenario("centering"))
    assert drill.drill is not None
    recording = replace(driven()[0], description=drill)
    assert [one.title for one in spans(recording)] == [drill.drill.steps[0].title]


def test_charts_show_every_value_in_their_height() -> None:
    recording, _ = driven()
    for system in ("metric", "us"):
        for chart in charts(recording, yard().limits, system):  # type: ignore[arg-type]
            assert most(chart.series) <= chart.top
            assert all(0.0 <= tick <= chart.top for tick in chart.ticks)

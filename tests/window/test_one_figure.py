"""One lift, one value: the card at the end, debrief, printed table, charts and headless summary say the same."""

from __future__ import annotations

from math import degrees, isfinite
from typing import NamedTuple

import numpy as np
import pytest

from simulator.attempt import Attempt
from simulator.drill.clumsy import operator_of
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.counted import HANGING_FIELDS, LASTS_S, UNIT_FIELDS, Sampled, counted, worst
from simulator.recording.memory import Memory
from simulator.recording.recorded import Recording
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief import debrief
from simulator.report.lift.debrief_strips import strips, top_of
from simulator.report.lift.summary import LABEL, Summary
from simulator.scenario.reader import load
from simulator.scenario.rig import PAIR
from simulator.window.kit.measures_shown import NONE
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.review.charts import charts, most
from simulator.window.review.lift_extremes import LiftExtremes
from simulator.window.review.worst_rows import worst_rows
from simulator.window.screens.cards import figures
from simulator.words import say
from tests.report.lifts import Times, made_up


class Lifted(NamedTuple):
    recording: Recording
    summary: Summary
    extremes: LiftExtremes
    shown: list[Readings]


@pytest.fixture(scope="module")
def lifted() -> Lifted:
    """Off the bed, one unit hoisting straight on, so that nothing stays at rest."""
    description = load(find_scenario("tank_on_side"))
    attempt = Attempt(description)
    attempt.operators = [operator_of(description, 0, "able"), operator_of(description, 1, "hoists early")]
    memory, summary, extremes = Memory(attempt), Summary("a lift", "take care"), LiftExtremes()
    shown: list[Readings] = []
    for looker in (summary, extremes.sampled, shown.append):
        attempt.observers.append(looker)
        looker(attempt.readings)
    from simulator.engine.commands import STILL

    attempt.advance(STILL, 24 * description.engine.steps_per_s)
    return Lifted(memory.recording(), summary, extremes, shown)


def of_recording(lifted: Lifted, key: str) -> float | None:
    found = worst(lifted.recording, key)
    return found.value if found else None


def kept(value: float) -> float | None:
    return value if isfinite(value) else None


def test_every_place_says_the_same_worst_values(lifted: Lifted) -> None:
    told = debrief(lifted.recording)
    assert lifted.recording.description is not None
    limits = lifted.recording.description.limits
    printed = {row.label: [cell.partition(" at ")[0] for cell in row.cells] for row in told.worst}
    said = {line[:LABEL].strip(): line[LABEL:].split("  ") for line in lifted.summary.lines()}
    card = {row.label: row.values for row in figures(lifted.extremes, SEEN_BY_TWO, "metric")}
    shown = {row.label: [text for text, _ in row.cells] for row in worst_rows(lifted.recording, limits, "metric")}
    for field in ("mean_off_plumb_rad", "line_load_N", "capacity_used", "least_float_share"):
        label = say(f"worst.{field}")
        values = [cell.split()[0] for cell in printed[label]]
        assert [part.split()[0] for part in said[label] if part.strip()] == values, label
        in_review = shown[say(f"debrief.worst_{field}", unit="t")]
        for told_there in (card[label], in_review):
            assert [one.rstrip("°%t ").strip() for one in told_there] == values, label


def test_the_charts_peak_where_the_table_says(lifted: Lifted) -> None:
    told = debrief(lifted.recording)
    assert lifted.recording.description is not None
    tension, off_plumb, *_ = charts(lifted.recording, lifted.recording.description.limits, "metric")
    rows = {row.label: [float(cell.split()[0]) for cell in row.cells] for row in told.worst[:3]}
    assert most(tension.series) == pytest.approx(max(rows[say("worst.line_load_N")]), abs=0.051)
    assert most(off_plumb.series) == pytest.approx(max(rows[say("worst.mean_off_plumb_rad")]), abs=0.051)
    strip = next(one for one in strips(told) if one.title.startswith("line load"))
    assert top_of(told, strip) >= max(rows[say("worst.line_load_N")])


def test_a_watcher_has_the_worst_of_the_very_samples_of_the_recording(lifted: Lifted) -> None:
    assert len(lifted.recording.time_s) < len(lifted.shown)
    of_load = [f"load.{field}" for field in (*HANGING_FIELDS, "lane_room_m")]
    keys = [*(f"{end}.{field}" for end in PAIR for field in UNIT_FIELDS), *of_load]
    for key in keys:
        assert kept(lifted.extremes.sampled.worst(key)) == of_recording(lifted, key), key


def test_the_summary_as_json_has_the_figures_of_the_recording(lifted: Lifted) -> None:
    told = lifted.summary.as_json()
    for end in PAIR:
        for name, value in told[end].items():
            assert value == of_recording(lifted, f"{end}.{name.replace('off_', 'mean_off_')}"), name
    assert told["worst_sway_m"] == of_recording(lifted, "load.sway_m")
    assert told["lane_room_m"] == of_recording(lifted, "load.lane_room_m") is not None
    for name, field in (("peak_line_load_N", "line_load_N"), ("worst_off_plumb_rad", "off_plumb_rad")):
        assert told[name] == max(told[end][field] for end in PAIR if told[end][field] is not None)


def test_a_watcher_that_comes_late_takes_no_readings_that_are_no_sample(lifted: Lifted) -> None:
    """Of readings at steps 4, 8, 12 ... of 240 a second every third is one of 20 samples a second."""
    late, peak = Sampled(), 1e9
    for now in lifted.shown[1:9]:
        load_N = peak if now.step % 12 else 5e3
        late(now.with_unit(0, now.nose._replace(line_load_N=load_N)))
    assert [now.step for now in lifted.shown[1:9]] == list(range(4, 36, 4))
    assert late.worst("nose.line_load_N") == 5e3


def test_a_line_that_bounces_as_it_is_set_down_has_no_angle() -> None:
    """Loaded for less than it takes to count, it leans 20 degrees; loaded for good, 1 degree."""

    def slack(time_s: Times) -> Times:
        bounces = (time_s >= 10.0) & (time_s < 10.0 + 0.8 * LASTS_S)
        return 1.0 * (~bounces & (time_s < 20.0))

    def lean(time_s: Times) -> Times:
        return np.radians(np.where(time_s < 15.0, 20.0, 1.0))

    recording = made_up({"nose.slack": slack, "nose.mean_off_plumb_rad": lean})
    assert degrees(float(np.nanmax(counted(recording, "nose.mean_off_plumb_rad")))) == pytest.approx(1.0, abs=0.01)
    (row,) = [row for row in debrief(recording, Amounts()).worst if row.label == say("worst.mean_off_plumb_rad")]
    assert row.cells[0].startswith("1.0 deg")


def test_nothing_that_counts_has_no_worst_value() -> None:
    assert Sampled().worst("load.sway_m", 7.0) == 7.0


def test_where_nothing_counted_no_place_shows_a_value() -> None:
    """Both lines slack, the load on the bed: no angle, no sway."""
    still = {"nose.slack": 1.0, "tail.slack": 1.0, "load.ground_N": 5e4}
    recording = made_up(still, length_s=3)
    summary, extremes = Summary("a lift", "take care"), LiftExtremes()
    for time_s in recording.time_s:
        for looker in (summary, extremes.sampled):
            looker(recording.at(float(time_s)))
    assert recording.description is not None
    table = worst_rows(recording, recording.description.limits, "metric")
    card = {row.label: row for row in figures(extremes, SEEN_BY_TWO, "metric")}
    off_plumb, sway = card[say("worst.mean_off_plumb_rad")], card[say("worst.sway_m")]
    assert off_plumb.values == tuple(text for text, _ in table[0].cells) == (NONE, NONE)
    assert sway.values == (table[-1].cells[0][0],) == (NONE,)
    lines = [
        line for line in summary.lines() if line.startswith((say("worst.mean_off_plumb_rad"), say("worst.sway_m")))
    ]
    assert [line.split()[-1] for line in lines] == ["none", "none"]
    told = summary.as_json()
    unknown = told["worst_off_plumb_rad"], told["nose"]["off_plumb_rad"], told["worst_sway_m"]
    assert unknown == (None, None, None) and told["peak_line_load_N"] is not None

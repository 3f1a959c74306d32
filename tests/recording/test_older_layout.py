"""A recording of layout 1, by the program as it was then: it opens, is told, shows its readings, gives its track.

The units of then are no more: what a re-run says of that is held here."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.engine.commands import Commands
from simulator.recording.again import BareLift, CannotReplay, DriveAgain
from simulator.recording.glance import glance
from simulator.recording.headless import run_track
from simulator.recording.lift_file import read
from simulator.recording.recorded import Recording
from simulator.recording.replay import check, take_over, track_of_recording
from simulator.recording.track import read as read_track
from simulator.recording.track import write
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief import debrief
from simulator.report.lift.debrief_lines import debrief_lines
from simulator.scenario.rig import TWO_BY_ONE
from simulator.telling.happened import told
from simulator.world import World
from tests.recording.conftest import LENGTH_S as LIFT_S
from tests.recording.conftest import Recorded
from tests.recording.test_replay import replaced

KEPT = Path(__file__).parent / "older" / "set_down_layout_1.lift"
"""Eleven seconds of the drill `set_down`: automatic operators, a stop order for a second, a gust, a line that slips."""
LENGTH_S = 11
ROPE_OUT_M, LINE_LOAD_N, Z_M = 25.032023891873617, 54310.98767084847, 0.8079805078215291
"""Nose rope out, tail line load and the load's height at the end, as the program that wrote it printed them."""


@pytest.fixture(scope="module")
def recording() -> Recording:
    return read(KEPT)


def test_it_opens_as_two_units_with_one_line_each(recording: Recording) -> None:
    assert recording.notes == () and recording.head.layout == 1 and recording.description is not None
    assert recording.rig == recording.head.rig == TWO_BY_ONE
    assert recording.head.pair == ("Ada", "Ben") and recording.length_s == LENGTH_S
    assert {len(hands) for _, commands in recording.changes for hands in commands} == {4}
    assert len(recording.changes) > 400 and isinstance(recording.changes[-1][1], Commands)
    seen = glance(KEPT)
    assert (seen.length_s, seen.fault, seen.head) == (LENGTH_S, "", recording.head)


def test_its_readings_are_those_of_the_lift(recording: Recording) -> None:
    now = recording.at(LENGTH_S)
    assert now.units[0].rope_out_m == now.lines[0].rope_out_m == pytest.approx(ROPE_OUT_M, abs=5.1e-5)
    assert now.lines[1].line_load_N == pytest.approx(LINE_LOAD_N, abs=0.051)
    assert now.load.z_m == pytest.approx(Z_M, abs=5.1e-6)


def test_its_sentences_are_events_of_kind_and_fields(recording: Recording) -> None:
    acts = [(event.step / 240, event.what, dict(event.fields)) for event in recording.events
            if event.kind in ("stop order", "instructor")]  # fmt: skip
    assert acts == [
        (3.0, "stop_called", {"by": "the nose operator"}),
        (4.0, "lifted", {}),
        (5.0, "act_gust", {"act": "gust", "amount": 4.0, "place": 0, "lasts_s": 2.0, "unit": "nose"}),
        (8.0, "act_slip", {"act": "line slips", "amount": 0.2, "place": 1, "lasts_s": 0.0, "line": "tail"}),
    ]
    said = [told(event.happening, lambda value, kind: f"{value:g} {kind}") for event in recording.events]
    assert "stop order called by the nose operator: both units hold" in said
    assert "the instructor: tail line slips by 0.2 m of rope" in said
    assert "step 2: Slack out, both" in said and "nose unit: take slack" in said


def test_it_is_debriefed(recording: Recording) -> None:
    lines = "\n".join(debrief_lines(debrief(recording, Amounts())))
    assert "set down hard" in lines and "tail line slips" in lines and "Ada" in lines


def test_its_units_are_of_then_and_that_is_told_with_the_first_reading_that_differs(recording: Recording) -> None:
    """Booms bend by another law now, the stated stiffness at its longest as before: it shows at once, in a line that
    hangs on one that is partly drawn in."""
    found = check(recording)
    assert found.older_layout == 1 and found.seconds == 0 and not found.same
    assert {"full_speed_share", "holding_factor", "sway_damping_ratio"} <= set(found.new_in_units)
    assert recording.description is not None
    boom, start = recording.description.units[0].boom, recording.description.units[0].start
    assert boom.tip_stiffness_N_per_m == 1.2e6 and boom.shortest_m < start.boom_length_m < boom.longest_m
    assert found.reading is not None
    assert (found.reading.time_s, found.reading.channel) == (0.0, "nose.line_stiffness_N_per_m")
    said = "; ".join(found.sentences())
    assert "it is of layout 1: its hashes are of states in an older form" in said
    assert "stored readings were compared instead" in said and "no stored reading differs" not in said
    assert "the program's units have changed since" in said and "recorded with slopepick 0.1.0" in said
    assert "first reading that differs, at 00:00.0: nose.line_stiffness_N_per_m, stored 1.15311e+06" in said
    assert "from there to 00:11.0 the stored readings go on" in said


def of_layout_1(recording: Recording) -> Recording:
    """One of today's units, with the head of one whose states had an older form."""
    return replace(recording, head=replace(recording.head, layout=1))


def test_where_the_units_are_the_same_its_readings_are_compared_and_none_differs(lift: Recorded) -> None:
    found = check(of_layout_1(read(lift.path)))
    assert found.same and found.seconds == LIFT_S and found.older_layout == 1
    said = "; ".join(found.sentences())
    assert "no stored reading differs" in said and "units have changed" not in said


def test_another_reading_of_it_is_named(tmp_path: Path, lift: Recorded) -> None:
    place = read(lift.path).head.channels.index("tail.line_load_N")

    def heavier(second):  # type: ignore[no-untyped-def]
        samples = second.samples.astype("int64")
        samples[3, place] += 70
        return second._replace(samples=samples)

    path = tmp_path / "x.lift"
    path.write_bytes(replaced(lift.path.read_bytes(), 4, heavier))
    found = check(of_layout_1(read(path)))
    assert not found.same and found.reading is not None and found.reading.channel == "tail.line_load_N"
    assert found.reading.time_s == pytest.approx(4.2) and found.seconds == 4
    assert "no stored reading differs" not in "; ".join(found.sentences())


def test_it_is_not_driven_on_from_and_a_sentence_says_why(recording: Recording) -> None:
    with pytest.raises(CannotReplay, match="of layout 1: its hashes are of states in an older form"):
        take_over(recording, 240)


def test_its_track_drives_it_again(recording: Recording, tmp_path: Path) -> None:
    """Up to the gust, which no track holds: as its commands do, by the units of today."""
    path, track = tmp_path / "track.csv", track_of_recording(recording, to_s=5.0)
    write(path, track, recording.rig, caution="take care")
    assert recording.description is not None
    attempt, world = Attempt(recording.description), World(recording.description)
    run_track(attempt, read_track(path, TWO_BY_ONE))
    DriveAgain(recording.whole, BareLift(world)).to(5 * recording.head.steps_per_s)
    kept, now = world.read(), attempt.readings
    assert now.time_s == kept.time_s == pytest.approx(5.0)
    assert now.units[0].rope_out_m == pytest.approx(kept.units[0].rope_out_m, abs=1e-4)
    assert now.lines[1].line_load_N == pytest.approx(kept.lines[1].line_load_N, abs=0.1)
    assert now.load.z_m == pytest.approx(kept.load.z_m, abs=1e-5)
    assert now.units[0].rope_out_m < recording.at(0.0).units[0].rope_out_m - 0.1

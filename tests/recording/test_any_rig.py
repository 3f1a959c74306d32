"""Two lines a unit, and one unit alone: recorded, re-run to the same states, shown, and out as a track and in again."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import Instruction
from simulator.engine.commands import FINEST_TOUCH, Commands, still
from simulator.places import find_scenario
from simulator.readings import Readings, channels_of
from simulator.recording.counted import Sampled, counted, worst
from simulator.recording.head import Head, rig_as_json, rig_from
from simulator.recording.headless import run_operators, run_track, track_of
from simulator.recording.keep import start_recording
from simulator.recording.layout import HEAD, MAGIC, Malformed, frame, frames
from simulator.recording.lift_file import read
from simulator.recording.recorded import Recording
from simulator.recording.replay import check, take_over, track_of_recording
from simulator.recording.telemetry import Telemetry, row
from simulator.recording.track import BrokenTrack, columns
from simulator.recording.track import read as read_track
from simulator.recording.track import write as write_track
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import TAKING_UP_N, takes_up
from simulator.scenario.reader import load
from simulator.scenario.rig import TWO_BY_ONE, Rig, rig, rig_of

FOUR_LINES = find_scenario("four_lines")
LENGTH_S = 6


@pytest.fixture(scope="module", params=["four_lines", "lone_unit"])
def described(request: pytest.FixtureRequest) -> Description:
    four = load(FOUR_LINES)
    return four if request.param == "four_lines" else alone(four)


def alone(four: Description) -> Description:
    """One of its units by itself, with every lever there is; the frame's other end stays on the ground."""
    unit = replace(four.units[0], name="rotator", levers=("turn", "both"))
    trailer = replace(four.trailer, picks=four.trailer.picks[: len(unit.lines)])
    return replace(four, units=(unit,), trailer=trailer, path=replace(four.path, leader="rotator"))


def hands(of: Rig, number: int) -> Commands:
    """Other hands each time, a different one on every lever."""
    pulled = np.random.default_rng(number).integers(-2000, 2000, len(of.levers)) * FINEST_TOUCH
    levers = iter(pulled.tolist())
    return Commands(*(tuple(next(levers) for _ in unit.levers) for unit in of.units))


class Lift:
    """A lift that was recorded, and all readings that went by."""

    def __init__(self, described: Description, folder: Path) -> None:
        self.attempt = Attempt(described)
        self.seen: list[Readings] = [self.attempt.readings]
        self.sampled = Sampled(self.attempt.rig)
        self.sampled(self.attempt.readings)
        self.attempt.observers += [self.seen.append, self.sampled]
        with start_recording(self.attempt, folder, "2031-04-05", ("Ada",)) as recorder:
            for number in range(2 * LENGTH_S):
                if number == 4:
                    self.attempt.stop(by="the spotter")
                if number == 5:
                    self.attempt.acknowledge(0)
                    assert self.attempt.stopped is (len(self.attempt.rig.units) > 1)
                    self.attempt.resume()
                if number == 7:
                    self.attempt.instruct(Instruction("gust", 2.0, lasts_s=0.7))
                self.attempt.advance(hands(self.attempt.rig, number), 120)
        self.path = recorder.path
        assert recorder.stopped_at_s is None and not self.attempt.incidents

    @property
    def recording(self) -> Recording:
        return read(self.path)


@pytest.fixture(scope="module")
def lift(described: Description, tmp_path_factory: pytest.TempPathFactory) -> Lift:
    return Lift(described, tmp_path_factory.mktemp("kept"))


def test_the_head_names_units_lines_and_levers(lift: Lift, described: Description) -> None:
    recording = lift.recording
    assert recording.notes == () and recording.description == described
    assert rig_as_json(recording.head.rig) == rig_as_json(rig_of(described)) and recording.rig == rig_of(described)
    assert recording.head.channels == tuple(one.name for one in recording.channels)
    assert {f"{line.name}.slack" for line in recording.rig.lines} <= set(recording.head.channels)


def test_what_goes_in_comes_out(lift: Lift) -> None:
    recording, live = lift.recording, {now.step: now for now in lift.seen}
    given = [(step, commands) for step, commands in recording.changes if step or any(map(any, commands))]
    assert given == lift.attempt.changes and len(given) > LENGTH_S
    assert len(recording.time_s) == 20 * LENGTH_S + 1
    for step in recording.column("step")[::17]:
        kept, was = recording.at(step / 240), live[int(step)]
        # What the gaps say is that of the second's end.
        of_gaps = sum("." not in one.name and one.name not in Readings._fields for one in recording.channels)
        one, other = (row(now, recording.rig)[:-of_gaps] for now in (kept, was))
        assert one == pytest.approx(other, abs=0.06, rel=1e-6, nan_ok=True)
        assert [line.slack for line in kept.lines] == [line.slack for line in was.lines]
        assert [line.rope_out_m for line in kept.lines] == pytest.approx(
            [line.rope_out_m for line in was.lines], abs=6e-5
        )


def test_a_row_is_every_channel_in_the_order_of_the_table(lift: Lift) -> None:
    now, of = lift.attempt.readings, lift.attempt.rig
    assert row(now, of) == pytest.approx(
        [one.read(now) for one in channels_of(of.unit_names, of.line_names)], nan_ok=True, rel=0.0, abs=0.0
    )


def test_a_re_run_comes_to_the_same_states(lift: Lift) -> None:
    assert lift.recording.seconds[-1].state_hash == lift.attempt.state_hash
    found = check(lift.recording)
    assert found.same and found.seconds == LENGTH_S
    assert check(lift.recording, every_reading=True).same


def test_spans_begin_at_a_state_of_any_rig(
    described: Description, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("simulator.recording.recorder.STATE_EVERY_S", 1)
    monkeypatch.setattr("simulator.recording.spans.FEWEST_SECONDS", 1)
    attempt = Attempt(described)
    with start_recording(attempt, tmp_path, "spans") as recorder:
        for number in range(4):
            attempt.advance(hands(attempt.rig, number), 240)
    recording = read(recorder.path)
    assert all(second.state is not None for second in recording.seconds)
    assert check(recording, jobs=2).same


def test_it_is_gone_on_with(lift: Lift) -> None:
    later = take_over(lift.recording, 240 * LENGTH_S - 120)
    later.advance(hands(later.rig, 2 * LENGTH_S - 1), 120)
    assert later.state_hash == lift.attempt.state_hash


def test_a_track_drives_it_again(lift: Lift, described: Description, tmp_path: Path) -> None:
    path, of = tmp_path / "track.csv", lift.attempt.rig
    track = track_of_recording(lift.recording)
    assert track == track_of(lift.attempt)
    write_track(path, track, of, caution="take care")
    assert path.read_text().splitlines()[1].split(",") == ["t_s", *of.lever_names]
    assert read_track(path, of) == track
    plain = [change for change in track if change.time_s <= 1.5]
    one, other = Attempt(described), Attempt(described)
    run_track(one, plain)
    for number in range(3):
        other.advance(hands(of, number), min(120, one.simulation.step_count - 120 * number))
    assert one.state_hash == other.state_hash


def test_the_worst_of_a_line_and_of_its_unit(lift: Lift) -> None:
    recording = lift.recording
    for unit in recording.rig.units:
        for name in (unit.name, *(line.name for line in unit.lines)):
            for field in ("line_load_N", "head_room_m", "rope_left_m", "mean_off_plumb_rad"):
                found = worst(recording, f"{name}.{field}")
                assert lift.sampled.worst(f"{name}.{field}", -1.0) == pytest.approx(
                    -1.0 if found is None else found.value
                )


def test_telemetry_has_a_column_a_channel(described: Description, tmp_path: Path) -> None:
    path, attempt = tmp_path / "all.csv", Attempt(described)
    with Telemetry(path, caution="take care") as telemetry:
        attempt.watch_closely(telemetry.observer(attempt.rig), 240.0)
        attempt.advance(still(attempt.rig), 5)
    header, *rows = list(csv.reader(path.read_text().splitlines()[1:]))
    assert header[: len(header) - len(attempt.readings.gaps)] == [
        one.name for one in channels_of(attempt.rig.unit_names, attempt.rig.line_names)
    ]
    assert len(rows) == 6 and all(len(one) == len(header) for one in rows)


def test_a_unit_whose_one_line_bears_has_an_angle() -> None:
    """Line 1 slack all along, line 2 loaded: the unit's off plumb is that of the sum, and counts, unless so little
    bears that its lines are still being taken up."""
    four = rig((("nose", (0, 1), ()),))

    class Made:
        rig = four
        time_s = np.arange(0.0, 5.0, 0.05)

        def column(self, name: str) -> np.ndarray:
            slack = {"nose.slack": 1.0, "nose_1.slack": 1.0, "nose_2.slack": 0.0}
            loads = {"nose.hook_load_N": self.bears_N}
            return np.full(len(self.time_s), {**slack, **loads}.get(name, 0.1))

        def __init__(self, bears_N: float) -> None:
            self.bears_N = bears_N

    assert np.isnan(counted(Made(TAKING_UP_N - 1.0), "nose.mean_off_plumb_rad")).all()
    made = Made(TAKING_UP_N + 1.0)
    assert np.nanmax(counted(made, "nose.mean_off_plumb_rad")) == 0.1
    assert np.nanmax(counted(made, "nose_2.mean_off_plumb_rad")) == 0.1
    assert np.isnan(counted(made, "nose_1.mean_off_plumb_rad")).all()


def test_lines_that_go_opposite_ways_are_no_units_that_stand_still(described: Description) -> None:
    """Their mean speed is none: a lift must not be given up while it turns a load."""
    from simulator.recording import headless

    attempt = Attempt(described)
    now = attempt.readings
    way = [0.1 if number % 2 else -0.1 for number, _ in enumerate(now.lines)]
    turning = now._replace(
        lines=tuple(line._replace(hoist_speed_mps=v) for line, v in zip(now.lines, way, strict=True))
    )
    assert headless._moves(turning) and not headless._moves(now)


# What does not fit --------------------------------------------------------------------------------------------------


def with_head(path: Path, out: Path, change: Callable[[dict], object]) -> Path:
    """The file with its head changed, in both copies."""
    data = path.read_bytes()
    first, second = [one for one in frames(data) if one.kind == HEAD]
    head = json.loads(first.content)
    change(head)
    out.write_bytes(MAGIC + 2 * frame(HEAD, json.dumps(head).encode()) + data[second.end :])
    return out


def test_readings_of_lines_that_the_head_does_not_name_are_a_sentence(lift: Lift, tmp_path: Path) -> None:
    def renamed(head: dict) -> None:
        for one in head["channels"]:
            if one[0].startswith(f"{lift.attempt.rig.lines[0].name}."):
                one[0] = "stranger_3." + one[0].partition(".")[2]

    (note,) = read(with_head(lift.path, tmp_path / "x.lift", renamed)).notes
    assert "it has readings of stranger_3, and its head names the lines" in note and "are not shown" in note


def test_a_head_with_other_lines_than_its_scenario_is_a_sentence(lift: Lift, tmp_path: Path) -> None:
    """Its commands then have other columns: none of its seconds can be read."""

    def as_before(head: dict) -> None:
        head["units"] = rig_as_json(TWO_BY_ONE)

    recording = read(with_head(lift.path, tmp_path / "x.lift", as_before))
    assert recording.description is None and not recording.seconds
    (note,) = [note for note in recording.notes if "its head" in note and "levers" in note]
    assert "and its head the lines nose and tail with the levers" in note


@pytest.mark.parametrize(
    "units",
    [None, [], 3, [["nose"]], [["nose", ["nose"], []]], [["nose", ["tail"], ["nose_hoist"]]],
     [["a.b", ["a.b"], [f"a.b_{key}" for key in ("hoist", "telescope", "elevation", "slew")]]],
     [["load", ["load"], [f"load_{key}" for key in ("hoist", "telescope", "elevation", "slew")]]],
     [*rig_as_json(TWO_BY_ONE), *rig_as_json(TWO_BY_ONE)], 2 * rig_as_json(TWO_BY_ONE)[:1],
     [["nose", ["nose_1", "nose_2", "nose_3"], []]], [["nose", [1], ["nose_hoist"]]], [[None, None, None]]],
)  # fmt: skip
def test_units_that_are_none_are_no_head(units: object) -> None:
    with pytest.raises(Malformed, match="units"):
        rig_from(units)


@pytest.mark.parametrize("levers", [(), ("both",), ("turn", "both")])
def test_a_rig_is_named_and_read_back(levers: tuple[str, ...]) -> None:
    given = rig((("nose", (0, 1), levers), ("tail", (2,), ())))
    assert rig_from(json.loads(json.dumps(rig_as_json(given)))) == given
    assert Head.__dataclass_fields__["rig"].default == TWO_BY_ONE


def faults(path: Path, header: str, of: Rig = TWO_BY_ONE) -> list[str]:
    path.write_text(f"# take care\n{header}\n{','.join('0' for _ in header.split(','))}\n")
    with pytest.raises(BrokenTrack) as broken:
        read_track(path, of)
    return broken.value.faults


def test_a_lever_that_the_rig_lacks_and_one_that_is_missing_are_sentences(tmp_path: Path) -> None:
    path, names = tmp_path / "t.csv", list(columns(TWO_BY_ONE))
    allowed = f"allowed: {','.join(names)}"
    (lacks,) = faults(path, ",".join([*names, "nose_turn", "nose_1_hoist"]))
    assert lacks == (
        f"{path}: line 2: header: given nose_turn and nose_1_hoist, which this lift has no lever for, {allowed}"
    )
    (missing,) = faults(path, ",".join(name for name in names if name != "tail_slew"))
    assert missing == f"{path}: line 2: header: given no column for tail_slew, {allowed}"
    (twice,) = faults(path, ",".join([*names, "tail_slew"]))
    assert twice == f"{path}: line 2: header: given tail_slew twice, {allowed}"
    four = rig((("nose", (0, 1), ("both",)), ("tail", (2, 3), ("both",))))
    said = faults(path, ",".join(names), four)
    assert "nose_hoist and tail_hoist, which this lift has no lever for" in said[0]
    assert "given no column for nose_1_hoist, nose_2_hoist, nose_both" in said[1]


def test_columns_stand_in_any_order(tmp_path: Path) -> None:
    path, names = tmp_path / "t.csv", list(reversed(columns(TWO_BY_ONE)))
    path.write_text(",".join(names) + "\n" + ",".join("0.5" if name == "tail_slew" else "0" for name in names) + "\n")
    (change,) = read_track(path, TWO_BY_ONE)
    assert change.commands == Commands((0.0,) * 4, (0.0, 0.0, 0.0, 0.5))


def test_commands_for_another_rig_are_refused_in_a_sentence(described: Description) -> None:
    attempt = Attempt(described)
    with pytest.raises(ValueError, match="allowed: one value a lever"):
        attempt.advance(Commands(*((0.5,) for _ in attempt.rig.units)), 1)
    with pytest.raises(ValueError, match="one a unit"):
        Attempt(described, [None, None, None])


def test_operators_are_left_alone_on_any_rig(described: Description) -> None:
    attempt = Attempt(described)
    run_operators(attempt, longest_s=0.5)
    assert attempt.simulation.step_count == 120 and attempt.changes == []


@pytest.mark.parametrize(
    ("slacks", "bears_N", "none"),
    [
        ([True], 0.0, True),
        ([False], 2000.0, False),
        ([True, True], 0.0, True),
        ([True, False], TAKING_UP_N - 1.0, True),
        ([True, False], TAKING_UP_N, False),
        ([False, False], 4000.0, False),
    ],
)
def test_a_unit_has_an_angle_once_its_lines_are_taken_up(slacks: list[bool], bears_N: float, none: bool) -> None:
    """A lone line from when it bears; of two, one that leans with 0.8 t on it is never left out."""
    is_light = bears_N < TAKING_UP_N
    assert takes_up(slacks, is_light) is none
    columns = takes_up([np.array([slack, True]) for slack in slacks], np.array([is_light, True]))
    assert columns.tolist() == [none, True], "many moments by the same rule"

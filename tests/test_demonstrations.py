"""Every shipped lift, driven whole by the automatic operators and again from the track they leave."""

import csv
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL
from simulator.engine.simulation import Simulation
from simulator.places import shipped_scenarios
from simulator.readings import CHANNELS
from simulator.recording.counted import Sampled
from simulator.recording.headless import run_operators, run_track
from simulator.recording.telemetry import row
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from tests.drill.lessons import coarser
from tests.shipped_lifts import Demonstration, Demonstrations

pytestmark = pytest.mark.long

SCENARIOS = shipped_scenarios()


def off_plumb_rad(lift: Demonstration) -> float:
    """The worst of a lift at any moment; of units with several lines, while it hangs, and as it is judged besides:
    lines that lie apart lean, and one that only begins to bear, or no longer bears, does so by itself."""
    if all(len(unit.lines) == 1 for unit in lift.description.units):
        return lift.seen.worst_off_plumb_rad
    seen = Sampled(rig_of(lift.description))
    for now in lift.readings:
        seen(now)
    judged = [seen.worst(f"{unit.name}.mean_off_plumb_rad") for unit in lift.description.units]
    hanging = [now for now in lift.readings if now.load.ground_N <= 0.0]
    return max(*judged, *(unit.off_plumb_rad for now in hanging for unit in now.units))


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
class TestDemonstration:
    def test_lands_with_no_incident(self, path: Path, demonstrated: Demonstrations) -> None:
        lift = demonstrated(path)
        assert not lift.incidents
        assert lift.landed.load.landed

    def test_lines_stay_plumb_and_floats_stay_down(self, path: Path, demonstrated: Demonstrations) -> None:
        limits, seen = demonstrated(path).description.limits, demonstrated(path).seen
        assert 0.0 < off_plumb_rad(demonstrated(path)) < limits.off_plumb_caution_rad
        assert seen.least_float_share > limits.light_float_share * limits.float_caution_factor
        assert seen.least_head_room_m > limits.head_room_caution_m

    def test_the_load_lies_where_landed_means_it_does(self, path: Path, demonstrated: Demonstrations) -> None:
        landing, landed = demonstrated(path).description.landing, demonstrated(path).landed
        mass = Simulation(demonstrated(path).description).model.body.mass_kg
        assert landed.load.road_N >= landing.road_share * mass * 9.80665
        assert landed.nose.slack and landed.tail.slack
        assert landed.load.lane_room_m >= landing.off_lane_m
        assert abs(landed.load.pitch_rad) <= landing.attitude_rad

    def test_commands_stay_in_reach_of_a_hand(self, path: Path, demonstrated: Demonstrations) -> None:
        assert all(abs(value) <= 1.0 for row in demonstrated(path).track for both in row.commands for value in both)

    def test_its_track_drives_the_very_same_lift(self, path: Path, demonstrated: Demonstrations) -> None:
        """The first by pymunk, the others as a file is run, which is the same to the bit (`test_compiled.py`)."""
        again = Attempt(demonstrated(path).description, in_bulk=path != SCENARIOS[0])
        run_track(again, demonstrated(path).track)
        assert again.state_hash == demonstrated(path).state_hash


def test_operators_do_not_look_at_what_is_hidden() -> None:
    """The same readings give the same hands, whatever the true CG and mass are."""
    described = load(next(path for path in SCENARIOS if path.stem == "practice_yard"))
    trailer = replace(described.trailer, hidden_cg_m=(0.4, 0.1, 0.0), hidden_mass_factor=1.2)
    other = replace(described, trailer=trailer)
    attempt = Attempt(described)
    for end in (0, 1):
        one, two = Partner(described, end), Partner(other, end)
        attempt.simulation.reset()
        for _ in range(600):
            assert one.command(attempt.readings) == two.command(attempt.readings)
            attempt.advance(STILL, attempt.every)


def offset(described: Description, x_m: float) -> Description:
    return replace(described, trailer=replace(described.trailer, hidden_cg_m=(x_m, 0.0, 0.0)))


@pytest.mark.parametrize("x_m", [-0.5, 0.5])
def test_a_hidden_cg_shows_in_the_loads_and_is_landed_all_the_same(x_m: float) -> None:
    described = offset(coarser(load(next(path for path in SCENARIOS if path.stem == "practice_yard"))), x_m)
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    hanging: list[float] = []
    attempt.observers.append(
        lambda now: hanging.append(now.nose.share) if now.load.ground_N == 0.0 and 60.0 < now.time_s < 100.0 else None
    )
    run_operators(attempt, longest_s=900.0)
    picks = tuple(line.pick_m[0] for line in attempt.simulation.model.lines)
    share = picks[1] / (picks[1] - picks[0])
    assert attempt.readings.load.landed and not attempt.incidents
    assert sum(hanging) / len(hanging) == pytest.approx(share, abs=0.01)


def command(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "simulator", *arguments], capture_output=True, text=True)


def test_from_the_command_line_in_fresh_processes(tmp_path: Path) -> None:
    track, telemetry = tmp_path / "track.csv", tmp_path / "telemetry.csv"
    demo = command("demo", "set_down", "--headless", "--json", "--save-track", str(track))
    assert demo.returncode == 0, demo.stderr
    summary = json.loads(demo.stdout)
    assert summary["landed"] and summary["incidents"] == []
    run = command("run", "set_down", "--commands", str(track), "--telemetry", str(telemetry), "--rate", "5", "--json")
    assert run.returncode == 0, run.stderr
    assert json.loads(run.stdout)["state_hash"] == summary["state_hash"]
    with telemetry.open(encoding="utf-8") as file:
        assert file.readline().startswith("# ")
        rows = list(csv.reader(file))
    assert rows[0][: len(CHANNELS)] == [channel.name for channel in CHANNELS]
    assert all(len(cells) == len(rows[0]) for cells in rows)
    assert len(rows) - 1 == pytest.approx(5.0 * summary["time_s"], abs=2.0)


def test_a_row_of_telemetry_is_every_channel_in_order() -> None:
    attempt = Attempt(load(SCENARIOS[0]))
    assert row(attempt.readings, attempt.rig) == [channel.read(attempt.readings) for channel in CHANNELS]

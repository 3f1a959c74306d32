"""The front door: good and bad input, exit codes, sentences and no tracebacks."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.places import find_scenario
from simulator.readings import CHANNELS
from simulator.recording.track import columns
from simulator.scenario.reader import load
from simulator.scenario.rig import TWO_BY_ONE
from simulator.scenario.toml_writer import dump
from simulator.words import say
from tests.demo import with_hoist

HEADER = ",".join(columns(TWO_BY_ONE))
HIDES = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
TRACKS = {
    "wrong header": ("a,b\n1,2\n", ["header: given a,b"]),
    "nothing": ("", ["header: given nothing"]),
    "no rows": (HEADER + "\n", ["no rows"]),
    "too much": (HEADER + "\n0,0,0,0,2,0,0,0,0\n", ["line 2: nose_slew: given 2, allowed: -1 to 1"]),
    "no number": (HEADER + "\n0,0,0,0,0,0,0,0,up\n", ["line 2: tail_slew: given up"]),
    "not a number": (HEADER + "\n0,nan,0,0,0,0,0,0,0\n", ["line 2: nose_hoist: given nan"]),
    "short row": (HEADER + "\n0,0\n", ["line 2: given 2 values, allowed: 9"]),
    "back in time": (HEADER + "\n5,0,0,0,0,0,0,0,0\n4,0,0,0,0,0,0,0,0\n", ["line 3: t_s: given 4"]),
    "all at once": (HEADER + "\n0,9,0,0,0,0,0,0,0\n1,0\n2,0,0,0,0,0,0,0,-3\n", ["line 2", "line 3", "line 4"]),
}


@pytest.mark.parametrize(("text", "parts"), TRACKS.values(), ids=TRACKS)
def test_a_broken_track_says_every_fault(
    text: str, parts: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    track = tmp_path / "track.csv"
    track.write_text(text, encoding="utf-8")
    assert main(["run", "practice_yard", "--commands", str(track)]) == 2
    said = capsys.readouterr().err
    assert all(part in said for part in parts), said
    assert "Traceback" not in said


def test_a_track_that_is_no_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    track = tmp_path / "track.csv"
    track.write_bytes(b"\xff\xfe\x00\x81")
    assert main(["run", "practice_yard", "--commands", str(track)]) == 2
    assert "not UTF-8 text" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["demo", "nowhere", "--headless"], ["run", "nowhere", "--commands", "none.csv"]])
def test_an_unknown_scenario_lists_those_there_are(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    assert "practice_yard" in capsys.readouterr().err or arguments[0] == "run"


def test_validate_lists_all_and_exits_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text('title = 3\n[site]\nedge_y = "five"\n', encoding="utf-8")
    assert main(["validate", str(broken), "practice_yard"]) == 2
    said = capsys.readouterr()
    assert "title" in said.err + said.out
    assert "edge_y" in said.err + said.out
    assert "practice_yard: good" in said.err + said.out


def test_readings_prints_every_channel(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readings"]) == 0
    table = capsys.readouterr().out
    assert all(channel.name in table for channel in CHANNELS)
    assert "Training and rehearsal aid" in table


def test_a_track_that_ends_in_mid_air_is_not_landed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    track = tmp_path / "track.csv"
    track.write_text(f"{HEADER}\n0,0.4,0,0,0,0.4,0,0,0\n12,0,0,0,0,0,0,0,0\n", encoding="utf-8")
    assert main(["run", "practice_yard", "--commands", str(track)]) == 1
    said = capsys.readouterr().out
    assert "not landed" in said
    assert "next: slopepick check practice_yard\n" in said
    assert "Training and rehearsal aid" in said


def test_telemetry_that_cannot_be_written_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    track = tmp_path / "track.csv"
    track.write_text(f"{HEADER}\n0,0,0,0,0,0,0,0,0\n1,0,0,0,0,0,0,0,0\n", encoding="utf-8")
    where = tmp_path / "missing" / "out.csv"
    assert main(["run", "practice_yard", "--commands", str(track), "--telemetry", str(where)]) == 2
    assert str(where) in capsys.readouterr().err


def test_help_needs_no_heavy_library() -> None:
    heavy = ("pygame", "pymunk", "numpy", "shapely", "pint", "matplotlib")
    program = (
        "import sys; from simulator.__main__ import build_parser; build_parser().format_help(); "
        f"print([name for name in {heavy} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere there is always a display")
def test_no_display_is_a_sentence() -> None:
    unseen = {name: value for name, value in os.environ.items() if name not in HIDES}
    command = [sys.executable, "-m", "simulator", "drive", "practice_yard"]
    done = subprocess.run(command, env=unseen, capture_output=True, text=True, timeout=60)
    assert done.returncode == 2
    assert "No window could be opened" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_headless_lift_is_summed_up_in_the_units_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """The same load either way: pounds are told to the hundred, NIST SP 811, App. B."""
    peaks = {}
    for units, unit, in_tonnes in (("metric", "t", 1.0), ("us", "lb", 0.00045359237)):
        main(["demo", "plumb_tips", "--headless", "--units", units])
        row = next(line for line in capsys.readouterr().out.splitlines() if line.startswith(say("worst.line_load_N")))
        assert row.split()[4] == unit
        peaks[units] = float(row.split()[3].replace(",", "")) * in_tonnes
    assert peaks["us"] == pytest.approx(peaks["metric"], abs=0.05 + 50.0 * 0.00045359237)


def test_a_lift_that_check_refuses_ends_early_and_names_the_file_to_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Winches that stall: the demonstration stands still long before its hour is over, and check says why."""
    monkeypatch.setattr("simulator.recording.headless.GIVEN_UP_S", 10.0)
    weak = with_hoist(load(find_scenario("practice_yard")), stall_line_pull_N=5000.0)
    file = tmp_path / "weak winches.toml"
    file.write_text(dump(weak), encoding="utf-8")
    assert main(["check", str(file), "--step", "4"]) == 1
    assert "winch pull used" in capsys.readouterr().out
    assert main(["demo", str(file), "--headless"]) == 1
    said = capsys.readouterr().out
    assert "not landed after 0" in said
    assert said.count(f"\nnext: slopepick check '{file}'\n") == said.count("slopepick check") == 1


def test_a_track_is_summed_up_in_the_units_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    track = tmp_path / "track.csv"
    track.write_text(f"{HEADER}\n0,0,0,0,0,0,0,0,0\n1,0,0,0,0,0,0,0,0\n", encoding="utf-8")
    for units, unit in (("metric", " m"), ("us", " ft")):
        assert main(["run", "practice_yard", "--commands", str(track), "--units", units]) == 1
        (row,) = [line for line in capsys.readouterr().out.splitlines() if line.startswith(say("worst.head_room_m"))]
        assert row.endswith(unit)

"""Every report of every kind of lift, however short; and no report says less than an incident does."""

from __future__ import annotations

import csv
import re
from functools import partial
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.attempt import Attempt
from simulator.cli.starting import load_sound
from simulator.engine.commands import still
from simulator.files.writing import begun
from simulator.places import find_scenario
from simulator.recording.lift_file import read
from simulator.recording.recorder import Recorder

LONE = str(Path(__file__).parents[1] / "drill" / "lone_unit.toml")


def recorded(scenario: str, steps: int, path: Path) -> Path:
    """A lift in which nobody touches a lever."""
    lift = load_sound(find_scenario(scenario))
    attempt = Attempt(lift)
    with Recorder(attempt, partial(begun, path)):
        attempt.advance(still(attempt.rig), steps)
    return path


@pytest.mark.parametrize(
    ("scenario", "steps"),
    [("practice_yard", 1), ("practice_yard", 24), (LONE, 240), ("four_lines", 1200)],
    ids=["a step", "a tenth", "a second of one unit", "five of four lines"],
)
def test_all_reports_of_a_short_lift(
    scenario: str, steps: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A step, a tenth of a second, one second and five."""
    lift = recorded(scenario, steps, tmp_path / "short.lift")
    page, table, track = (str(tmp_path / name) for name in ("page.pdf", "table.csv", "track.csv"))
    assert main(["debrief", str(lift), "--pdf", page, "--csv", table]) == 0
    assert main(["replay", str(lift)]) == 0
    assert main(["track", str(lift), track]) == 0
    assert capsys.readouterr().err == ""
    assert Path(page).read_bytes().startswith(b"%PDF")
    rows = [row for row in csv.reader(Path(table).read_text(encoding="utf-8").splitlines()) if row[0][:1].isdigit()]
    assert len(rows) == len(read(lift).time_s) == 1 + steps // 12


def test_two_lifts_of_different_rigs_stand_side_by_side(tmp_path: Path) -> None:
    lifts = [str(recorded(name, 240, tmp_path / f"{i}.lift")) for i, name in enumerate((LONE, "practice_yard"))]
    assert main(["debrief", *lifts[:1], "--compare", *lifts[1:], "--pdf", str(tmp_path / "page.pdf")]) == 0


def test_no_figure_is_less_than_what_the_incident_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A unit that is lost between two samples, some time after it began to go: no less is told of its line."""
    text = find_scenario("practice_yard").read_text(encoding="utf-8")
    for one, other in (("across = 3.5", "across = 2.2"), ('carrier = "21 t"', 'carrier = "2 t"'),
                       ('superstructure = "11.5 t"', 'superstructure = "1.5 t"')):  # fmt: skip
        assert one in text
        text = text.replace(one, other)
    (tmp_path / "light.toml").write_text(text, encoding="utf-8")
    kept = tmp_path / "kept.lift"
    assert main(["demo", str(tmp_path / "light.toml"), "--headless", "--record", str(kept)]) == 1
    assert main(["debrief", str(kept)]) == 0
    said = capsys.readouterr().out
    tips_t = re.findall(r"tail unit tips over, .*?: line load ([\d.]+) t", said)
    most_t = re.findall(r"Max line tension +[\d.]+ t(?: at [\d:.]+)? +([\d.]+) t", said)
    assert len(tips_t) == len(most_t) == 2
    assert all(float(most) >= float(tips) > 0.0 for tips, most in zip(tips_t, most_t, strict=True))
    assert read(kept).events[-1].step % 12, "the unit tips between two samples, or this shows nothing"

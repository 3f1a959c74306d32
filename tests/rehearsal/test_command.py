"""`slopepick rehearse`: what it says, what it refuses, its exit codes."""

from __future__ import annotations

import json
from math import inf
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.rehearsal.cores import WorkersLost
from simulator.scenario.toml_writer import dump
from simulator.words import say
from tests.rehearsal.short import SEED, short_drill

pytestmark = pytest.mark.xdist_group("rehearsals")


@pytest.fixture(scope="module")
def scenario(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("short") / "short.toml"
    path.write_text(dump(short_drill()), encoding="utf-8")
    return str(path)


def test_all_faults_are_told_at_once_each_with_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    wrong = {
        "--draws": "many", "--weight": "1.1..0.9", "--cg": "-40..0m", "--cg-across": "1", "--wind": "0..6kg",
        "--operators": "able,drunk", "--seed": "-1", "--jobs": "0", "--out": "/nowhere/at/all",
    }  # fmt: skip
    given = [f"{option}={text}" for option, text in wrong.items()]
    assert main(["rehearse", "no_such_lift", *given]) == 2
    said = capsys.readouterr().err.splitlines()
    assert said[0].startswith("no_such_lift: given no such file") and len(said) == 1 + len(wrong)
    for option in wrong:
        (line,) = [one for one in said if one.startswith(f"{option}: given")]
        assert "allowed: " in line
    assert any(line.endswith("allowed: a whole number such as 1000, 1 to 100000") for line in said)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("--operators", "starboard=able"), '--operators: given unit "starboard", allowed: nose or tail'),
        (("--jobs", "2", "--on", "tcp://x:1"), "--jobs: given 2 beside --on, allowed: one of them"),
        (("--weight", "1..2t"), '--weight: given "1..2t", allowed: 0.5 to 2 of the stated'),
        (("--weight", "0.1..2"), "allowed: a range such as 0.9..1.1 (of the stated weight) or 22..28t; 50 to 200%,"),
        (("--out", __file__), "allowed: a folder, new or of the same run"),
    ],
)
def test_what_does_not_fit_the_lift_is_said(
    scenario: str, given: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rehearse", scenario, *given]) == 2
    assert said in capsys.readouterr().err


def test_good_draws_are_told_by_their_assumptions(scenario: str, capsys: pytest.CaptureFixture[str]) -> None:
    stated_t = stated_mass_kg(short_drill().trailer) / 1000.0
    weight = f"{0.95 * stated_t}..{1.05 * stated_t}t"
    given = ["rehearse", scenario, "--draws", "2", "--jobs", "1", "--seed", str(SEED), "--units", "us"]
    assert main([*given, "--weight", weight, "--cg", "-1..1ft"]) == 0
    told = capsys.readouterr()
    assert "1 of 2 draws driven" in told.err, "plain lines where no terminal shows a bar"
    lines = told.out.splitlines()
    assert lines[1] == "NO STATED LIMIT IS PASSED IN ANY OF 2 DRAWS, by the assumptions below"
    assert lines[-1] == say("program.caution") and any("Decides nothing by itself" in line for line in lines)
    drawn = "weight drawn evenly from 95 % to 105 % of the stated, CG along from -1.00 ft to +1.00 ft"
    assert any(drawn in line for line in lines)
    assert any(line.startswith("tail unit: ground bearing used") and "2/2" in line for line in lines)


def test_a_fault_that_passes_limits_is_no_go(scenario: str, capsys: pytest.CaptureFixture[str]) -> None:
    ways = ["--operators", "able,tail=hoists-early"]
    assert main(["rehearse", scenario, "--draws", "1", "--jobs", "1", *ways, "--json", "--causes"]) == 1
    told = json.loads(capsys.readouterr().out, parse_constant=lambda name: 1 / 0)
    assert told["verdict"] == "limit passed" and told["every_limit_kept"]["draws"] == 0
    assert told["causes"] == [{"cause": "early", "by": "tail", "draws": 1}]
    assert told["lots"]["ways"] == [["able"], ["hoists early"]] and told["caution"] == say("program.caution")
    assert inf not in told["limits"]["tail.mean_off_plumb_rad"]["values"].values()


def test_what_would_not_stay_where_it_lies_is_not_driven(
    scenario: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("simulator.cli.window_answers.declined", lambda *_: "it slides")
    assert main(["rehearse", scenario]) == 1
    assert "not driven. It slides" in capsys.readouterr().err


def test_a_folder_of_another_run_and_files_of_others_are_left_alone(
    scenario: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    given = ["rehearse", scenario, "--draws", "1", "--jobs", "1", "--out", str(tmp_path / "out")]

    def lost(*_: object, **__: object) -> None:
        raise WorkersLost("--jobs: given nobody, allowed: somebody")

    monkeypatch.setattr("simulator.rehearsal.many.drive", lost)
    assert main([*given, "--seed", "1"]) == 1
    assert main([*given, "--seed", "2"]) == 2
    assert "given a run with seed 1 there, 2 now" in capsys.readouterr().err
    (tmp_path / "out" / "rehearsal.csv").write_text("mine\n")
    assert main([*given, "--seed", "1"]) == 2
    assert "rehearsal.csv: given a file that is there" in capsys.readouterr().err
    assert (tmp_path / "out" / "rehearsal.csv").read_text() == "mine\n"

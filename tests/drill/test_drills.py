"""Every shipped drill: passed by two automatic operators, failed by idle hands, and saved from clumsy ones."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.attempt import Attempt, Operator
from simulator.drill.clumsy import Clumsy
from simulator.engine.commands import still
from tests.drill.lessons import coarser, drill, driven, pair, passed, session

pytestmark = pytest.mark.long


@pytest.mark.parametrize(
    "name",
    [
        "plumb_tips",
        "raise_level",
        "carry_across",
        "set_down",
        "lay_on_deck",
        "turn_over",
        "turn_and_land",
        "two_line_centering",
        "whole_lift",
    ],
)
def test_two_automatic_operators_pass_it(name: str) -> None:
    """The centering drill has a file of its own."""
    attempt = passed(name)
    held = session(attempt)
    assert not attempt.incidents
    assert held.passed and min(held.result()[0]) > 85.0
    assert held.progress.passed_by == set(range(len(held.drill.steps)))
    assert attempt.ended and held.over


@pytest.mark.parametrize(
    "name",
    ["plumb_tips", "centering", "raise_level", "carry_across", "set_down", "lay_on_deck", "turn_and_land",
     "two_line_centering", "whole_lift"],
)  # fmt: skip
def test_hands_that_do_nothing_fail_it(name: str) -> None:
    described = drill(name)
    exercise = described.drill
    assert exercise is not None
    attempt = Attempt(replace(described, drill=replace(exercise, longest_s=6.0)))
    while not attempt.ended:
        attempt.advance(still(attempt.rig), attempt.every)
    held = session(attempt)
    assert held.over and not held.done and not held.passed
    assert held.score.together < 50.0
    assert {loss.rule for loss in held.losses} == {"step not done"}


@pytest.mark.parametrize(
    ("name", "end"),
    [("centering", 0), ("centering", 1), ("set_down", 0), ("set_down", 1), ("plumb_tips", 1), ("raise_level", 0),
     ("carry_across", 1)],
)  # fmt: skip
def test_the_partner_saves_a_lesson_with_a_clumsy_half_in_either_seat(name: str, end: int) -> None:
    """All drills, either seat, more draws: `tools/clumsy_halves.py`."""
    described = coarser(drill(name))
    operators: list[Operator | None] = pair(described)
    operators[end] = Clumsy(described, end, skill=0.6)
    attempt = driven(described, operators, longest_s=200.0)
    assert session(attempt).done and not attempt.incidents


def test_less_skill_takes_longer() -> None:
    """The tips are out of place; late hands that look beside the mark need more tries."""
    described = coarser(drill("plumb_tips"))
    times = []
    for skill in (1.0, 0.6):
        attempt = driven(described, [Clumsy(described, end, skill=skill) for end in (0, 1)], longest_s=150.0)
        times.append(attempt.simulation.time_s)
    assert times[1] > times[0]


def test_from_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """0 when it is passed, 1 when it is not, and the score in the summary."""
    assert main(["demo", "plumb_tips", "--headless", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["drill"]
    assert told["passed"] and told["score"]["together"] > 85.0
    track = tmp_path / "nothing.csv"
    ends = [f"{end}_{function}" for end in ("nose", "tail") for function in ("hoist", "telescope", "elevation", "slew")]
    track.write_text("\n".join([",".join(["t_s", *ends]), *(",".join([t, *["0"] * 8]) for t in ("0", "2"))]), "utf-8")
    assert main(["run", "plumb_tips", "--commands", str(track)]) == 1
    poor = capsys.readouterr().out
    assert "not done" in poor and "0 of 100" in poor


def test_a_clumsy_half_from_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """The same drill, the right unit's hands with a fault: it is not passed, and the summary says by which rule."""
    assert main(["demo", "plumb_tips", "--headless", "--clumsy", "hoists early"]) == 1
    assert "weight taken while plumbing" in capsys.readouterr().out
    with pytest.raises(SystemExit, match="2"):
        main(["demo", "plumb_tips", "--headless", "--clumsy", "asleep"])
    assert "very clumsy" in capsys.readouterr().err

"""A text is read once a process; what may say something else the next time is read again."""

from __future__ import annotations

from pathlib import Path

import pytest

from simulator.places import find_scenario
from simulator.scenario import reader
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.kept_pieces import names_pieces
from simulator.scenario.reader import MOST_READ, load, parse_text

YARD = find_scenario("practice_yard")


def test_the_same_text_is_the_same_lift_and_a_changed_file_another(tmp_path: Path) -> None:
    file, text = tmp_path / "yard.toml", YARD.read_text(encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    lift = load(file)
    assert load(file) is lift and parse_text(text, "elsewhere") is lift
    other = text.replace(lift.title, f"{lift.title} once more")
    file.write_text(other, encoding="utf-8")
    assert load(file).title == f"{lift.title} once more"


def test_faults_are_told_each_time_with_the_name_of_their_file(tmp_path: Path) -> None:
    text = YARD.read_text(encoding="utf-8") + "\n[nothing]\n"
    for name in ("one", "two"):
        with pytest.raises(BrokenScenario, match=name):
            parse_text(text, name)


def test_no_more_are_kept_than_is_said() -> None:
    text = YARD.read_text(encoding="utf-8")
    first = parse_text(f"{text}\n# 0\n", "0")
    for number in range(1, MOST_READ + 1):
        last = parse_text(f"{text}\n# {number}\n", str(number))
    assert len(reader._READ) == MOST_READ
    assert parse_text(f"{text}\n# {MOST_READ}\n", "") is last
    again = parse_text(f"{text}\n# 0\n", "0")
    assert again == first and again is not first


@pytest.mark.parametrize(
    ("top", "names"),
    [
        ({}, False),
        ({"units": [{"name": "nose"}], "trailer": {"start": {}}}, False),
        ({"units": "from", "trailer": "from"}, False),
        ({"units": ["from", {"name": "nose", "from": "my rig"}]}, True),
        ({"trailer": {"from": "my van"}}, True),
    ],
)
def test_what_stands_in_a_file_of_its_own_is_looked_up_each_time(top: dict[str, object], names: bool) -> None:
    """`test_kept_pieces.py` has a unit's file taken away between two readings."""
    assert names_pieces(top) is names

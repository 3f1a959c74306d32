"""No set-up that ships passes a stated limit, as far as its lift goes, and nothing is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from simulator.plan.setup_check import check_setup
from simulator.plan.stations import crosses, stations
from simulator.scenario.reader import load

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").rglob("*.toml"))
ENDING_BEFORE = {"plumb_tips", "centering", "raise_level", "turn_over", "drill"}


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_no_stated_limit_is_passed(path: Path) -> None:
    lift = load(path)
    check = check_setup(lift)
    assert check.verdict == "no limit passed", (check.refused_for, check.not_judged)
    assert check.cautioned_for == ()
    assert any("ends before the load crosses" in note for note in check.assumptions) is (path.stem in ENDING_BEFORE)


def test_a_drill_that_ends_before_the_load_crosses_is_judged_so_far() -> None:
    """The same lift with no drill is judged all the way, and this low it is refused at the decks."""
    drill = load(next(path for path in SHIPPED if path.stem == "raise_level"))
    whole = replace(drill, drill=None)
    assert not crosses(drill) and crosses(whole)
    load_of = check_setup(drill).load
    assert [one.phase for one in stations(drill, load_of)] == ["lift-off", "held"]
    assert check_setup(whole).refused_for == ("gap over",)

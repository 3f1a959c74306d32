"""Texts that somebody wrote, in the units of whoever reads them."""

from __future__ import annotations

import re

import pytest

from simulator.places import scenarios_folder
from simulator.scenario.reader import load
from simulator.scenario.retold import METRIC, NUMBER, restated, retold


@pytest.mark.parametrize(
    ("text", "metric", "us"),
    [
        ("Tank, 9.6 m (31 ft) down", "Tank, 9.6 m down", "Tank, 31 ft down"),
        ("Tank, 31 ft (9.6 m) down", "Tank, 9.6 m down", "Tank, 31 ft down"),
        ("slowly, 0.1 m (4 in).", "slowly, 0.1 m.", "slowly, 4 in."),
        ("a van of 4.1 m (13 ft 6 in), 24 t (53,000 lb)", "a van of 4.1 m, 24 t", "a van of 13 ft 6 in, 53,000 lb"),
        ("no pair: 9.6 m (as measured)", "no pair: 9.6 m (as measured)", "no pair: 31.5 ft (as measured)"),
        ("up by 2 m at 0.3 m/s", "up by 2 m at 0.3 m/s", "up by 7 ft at 1.0 ft/s"),
        ("holds 9.5 kN, weighs 24 t", "holds 9.5 kN, weighs 24 t", "holds 2,100 lb, weighs 53,000 lb"),
        ("trailer 5 ft down", "trailer 1.5 m down", "trailer 5 ft down"),
        (
            "13 ft 6 in high, 900 lb and 44,000 lb",
            "4.1 m high, 408 kg and 20.0 t",
            "13 ft 6 in high, 900 lb and 44,000 lb",
        ),
        ("4 in the yard, row 2 m/s2, A1 m", "4 in the yard, row 2 m/s2, A1 m", "4 in the yard, row 2 m/s2, A1 m"),
    ],
)
def test_each_reader_has_his_own_units(text: str, metric: str, us: str) -> None:
    assert retold(text, us=False) == metric
    assert retold(text, us=True) == us


def test_what_is_told_stays_as_it_is_told_again() -> None:
    for text in ("9.6 m (31 ft) down", "5 ft down", "24 t, 13 ft 6 in"):
        for us in (False, True):
            once = retold(text, us=us)
            assert retold(once, us=us) == once


SHIPPED = sorted(scenarios_folder().rglob("*.toml"))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_no_shipped_title_or_story_mixes_both_systems(path) -> None:  # type: ignore[no-untyped-def]
    lift = load(path)
    told = [lift.title, lift.story]
    if lift.drill is not None:
        told += [
            text for step in lift.drill.steps for unit in lift.units for text in (step.title, step.told(unit.name))
        ]
    for text in told:
        assert not re.search(rf"\b{METRIC}\b", retold(text, us=True)), text
        assert not re.search(rf"{NUMBER} (ft|lb|mph|in\.|in\))", retold(text, us=False)), text


def test_a_length_that_is_stated_follows_what_it_is() -> None:
    assert restated("A 13.2 m van, 6.8 m (22 ft) down", 6.8, 3.048) == "A 13.2 m van, 3.0 m (10 ft) down"
    assert restated("trailer 5 ft down", 1.524, 1.8288) == "trailer 6 ft down"
    assert restated("trailer 5 ft down", 7.0, 1.8288) == "trailer 5 ft down"

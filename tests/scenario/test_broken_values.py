"""Broken values: each file gives exactly its own faults, and one with many faults lists them all."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import pytest

from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import parse_text

Text = Callable[..., str]

TEXT = "text that is not blank, at most 2000 letters, no control characters"
GONE = "take this value away"
METRES = 'a number in m or text such as "12 ft", -10000 to 10000'
POSITIVE_METRES = 'a number in m or text such as "12 ft", 1e-06 to 10000'

CASES: dict[str, tuple[dict[str, Any], list[str]]] = {
    # One value.
    "below its range": (
        {"units.0.boom": {"shortest": -3}},
        [f"[units 1.boom] shortest: given -3, allowed: {POSITIVE_METRES}"],
    ),
    "text of another dimension": (
        {"landing.y": "3 kg"},
        [f'[landing] y: given "3 kg", allowed: {METRES}'],
    ),
    "text without a unit": ({"landing.y": "6"}, [f'[landing] y: given "6", allowed: {METRES}']),
    "text out of range after conversion": (
        {"units.1.start.elevation": "100 deg"},
        [
            '[units 2.start] elevation: given "100 deg" (1.74533 rad), allowed: '
            'a number in rad or text such as "35 deg", -0.2 to 1.55'
        ],
    ),
    "a sum to work out": ({"landing.y": "9**9**9 m"}, [f'[landing] y: given "9**9**9 m", allowed: {METRES}']),
    "a comma for a point": ({"landing.y": "5,9 m"}, [f'[landing] y: given "5,9 m", allowed: {METRES}']),
    "not a number": ({"landing.y": float("nan")}, [f"[landing] y: given nan, allowed: {METRES}"]),
    "infinite": (
        {"site.bed": [[-1, 0], [float("inf"), 0]]},
        [f"[site] bed row 2 number 1: given inf, allowed: {METRES}"],
    ),
    "a number past all floats": (
        {"landing.y": 10**400},
        [f"[landing] y: given a very large whole number, allowed: {METRES}"],
    ),
    "true for a number": ({"landing.y": True}, [f"[landing] y: given true, allowed: {METRES}"]),
    "a date for a number": (
        {"landing.y": datetime.date(2020, 1, 31)},
        [f"[landing] y: given the date or time 2020-01-31, allowed: {METRES}"],
    ),
    "a table for a number": ({"landing.y": {"m": 6}}, [f"[landing] y: given a table, allowed: {METRES}"]),
    "a fraction for a whole number": (
        {"engine.steps_per_s": 240.5},
        ["[engine] steps_per_s: given 240.5, allowed: a whole number, 60 to 10000"],
    ),
    "a number for yes or no": (
        {"each_unit.hoist.two_block_override": 1},
        ["[each_unit.hoist] two_block_override: given 1, allowed: true or false"],
    ),
    "a number for text": ({"title": 3}, [f"title: given 3, allowed: {TEXT}"]),
    "blank text": ({"story": " \n"}, [f'story: given "  ", allowed: {TEXT}']),
    "no such choice": (
        {"trailer.attitude": "upside down"},
        ['[trailer] attitude: given "upside down", allowed: "on_wheels", "top_to_ravine" or "top_to_road"'],
    ),
    "not invented": ({"invented": 1}, ["invented: given 1, allowed: true"]),
    "a vector too short": (
        {"trailer.cargo.cg": [0, 0]},
        [f"[trailer.cargo] cg: given a list of 2, allowed: a list of 3, each {METRES}"],
    ),
    # Names.
    "a slip of the pen": (
        {"each_unit.boom.longst": 3},
        ["[each_unit.boom] longst: given a name that is not known, allowed: perhaps longest or lowest"],
    ),
    "the unit still in the name": (
        {"landing.y_m": 6},
        ["[landing] y_m: given a name that is not known, allowed: perhaps y"],
    ),
    "like no name": (
        {"trailer.start.zzz qq": 1},
        ['[trailer.start] "zzz qq": given a name that is not known, allowed: x, y, pitch, yaw or roll'],
    ),
    # Missing and misplaced.
    "missing": (
        {"path.tip_height": GONE},
        ['[path] tip_height: given nothing, allowed: a number in m or text such as "12 ft", 0 to 10000'],
    ),
    "missing at both ends": (
        {"each_unit.boom.shortest": GONE},
        [f"[each_unit.boom] shortest: given nothing, allowed: {POSITIVE_METRES}"],
    ),
    "missing at one end": (
        {"each_unit.boom.shortest": GONE, "units.0.boom": {"shortest": 6}},
        [f"[units 2.boom] shortest: given nothing, allowed: {POSITIVE_METRES}"],
    ),
    "missing table": ({"landing": GONE}, ["landing: given nothing, allowed: a table [landing] with y"]),
    "missing table of both units": (
        {"each_unit.boom": GONE},
        [
            "[each_unit] boom: given nothing, allowed: a table [each_unit.boom] with "
            "shortest, longest, lowest, highest, foot_pin_back and foot_pin_height"
        ],
    ),
    "no units": (
        {"units": GONE},
        ["units: given nothing, allowed: a table [[units]] for each unit, and in [each_unit] what they share"],
    ),
    "text for a table": ({"site.soil": "clay"}, ['[site] soil: given "clay", allowed: a table [site.soil]']),
    "a number for a unit": ({"units.0": 4}, ["[units 1]: given 4, allowed: a table [[units]]"]),
    "a number for a part": ({"trailer.parts.1": 5}, ["[trailer.parts 2]: given 5, allowed: a table"]),
    "shared and overridden": (
        {"each_unit.carrier": -1, "units.0.carrier": 20000, "units.1.carrier": 20000},
        ['[each_unit] carrier: given -1, allowed: a number in kg or text such as "26.5 t", 1e-06 to 1e+06'],
    ),
}

MANY = ("below its range", "text of another dimension", "blank text", "no such choice", "text for a table", "missing")
"""Cases that touch different values, all put into one file."""


def faults_of(text: str) -> list[str]:
    with pytest.raises(BrokenScenario) as broken:
        parse_text(text, "x.toml")
    return [str(fault) for fault in broken.value.faults]


def test_the_small_scenario_is_good(small: Text) -> None:
    assert parse_text(small(), "x.toml").title == "small"


@pytest.mark.parametrize("name", CASES)
def test_broken_value(small: Text, gone: object, name: str) -> None:
    edits, expected = CASES[name]
    edits = {path: gone if value is GONE else value for path, value in edits.items()}
    assert faults_of(small(edits)) == [f"x.toml: {fault}" for fault in expected]


def test_many_faults_are_all_listed(small: Text, gone: object) -> None:
    edits = {path: value for name in MANY for path, value in CASES[name][0].items()}
    edits = {path: gone if value is GONE else value for path, value in edits.items()}
    expected = [f"x.toml: {fault}" for name in MANY for fault in CASES[name][1]]
    assert sorted(faults_of(small(edits))) == sorted(expected)


def test_tables_that_could_be_read_are_checked_beside_broken_ones(small: Text) -> None:
    found = faults_of(small({"path.tip_height": "high", "site.edge_y": -30, "each_unit.hoist": {"parts": 0}}))
    assert [fault.split(": given")[0] for fault in found] == [
        "x.toml: [each_unit.hoist] parts",
        "x.toml: [path] tip_height",
        "x.toml: [site] edge_y",
    ]

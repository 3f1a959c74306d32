"""Files in the form before lists of units, lines and picks: read as ever, faults in the words of their own form."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text
from tests.scenario.broken_cases import NO_TURNING, POSITIVE_METERS
from tests.scenario.conftest import GONE, edited, toml_text

HERE = Path(__file__).parent / "older"
SHIPPED = Path(__file__).parents[2] / "scenarios"
FILES = sorted(path.relative_to(HERE).as_posix() for path in HERE.rglob("*.toml") if path.name != "small.toml")
SMALL = (HERE / "small.toml").read_text(encoding="utf-8")

CASES: dict[str, tuple[dict[str, Any], list[str]]] = {
    "road not at zero": (
        {"site.section": [[20, 1], [-5, 1], [-6, -10]]},
        ["[site] section: given z 1 m at y = 0, allowed: z = 0 at y = 0, where the units stand"],
    ),
    "boom without travel": (
        {"units.nose.boom": {"longest": 5}},
        ["[units.nose.boom] longest: given shortest 6 m and longest 5 m, allowed: shortest less than longest"],
    ),
    "elevation without travel": (
        {"units.boom.lowest": 1.2},
        [
            "[units.boom] lowest: given lowest 1.2 rad (68.75 deg) and highest 1 rad (57.3 deg), "
            "allowed: lowest less than highest"
        ],
    ),
    "slew that cannot stand over the tailboard": (
        {"units.boom.slew_road": -0.5},
        [
            "[units.boom] slew_road: given slew_ravine -1.745 rad (-100 deg) and slew_road -0.5 rad (-28.65 deg), "
            "allowed: slew_ravine at most 0, slew_road at least 0 (over the tailboard), not both 0"
        ],
    ),
    "foot pin off the carrier": (
        {"units.boom.foot_pin_back": 9},
        [
            "[units.boom] foot_pin_back: given foot_pin_back 9 m and cab_front 7.6 m, "
            "allowed: foot_pin_back at most cab_front: on the carrier"
        ],
    ),
    "floats in a line across": (
        {"units.floats.across": 0.01},
        ["[units.floats] across: given 0.01 m, allowed: at least 0.05 m: the floats stand in a line"],
    ),
    "floats in a line along": (
        {"units.floats.toward_tailboard": 0.01, "units.floats.toward_cab": 0.02},
        [
            "[units.floats] toward_tailboard: given toward_tailboard 0.01 m and toward_cab 0.02 m, "
            "allowed: at least 0.1 m together: the floats stand in a line"
        ],
    ),
    "carrier's CG beyond the floats": (
        {"units.tail.carrier_cg": 5},
        ["[units.tail] carrier_cg: given carrier_cg 5 m, allowed: between the floats, -3 to 4 m"],
    ),
    "tailboards overlap": (
        {"units.tail.slew_axis_x": -4},
        ["[units.tail] slew_axis_x: given -4 m, allowed: more than -3 m: the tailboards overlap"],
    ),
    "a row missing": (
        {"units.rating.rated": [[9000, 9000, 8000], [0, 6000, 6000]]},
        ["[units.rating] rated: given 2 rows for 3 radii, allowed: one row a radius"],
    ),
    "a number missing": (
        {"units.rating.rated": [[9000, 9000, 8000], [0, 6000], [0, 0, 3000]]},
        ["[units.rating] rated: given 2 numbers in row 2 for 3 boom lengths, allowed: one number a boom length"],
    ),
    "rising with radius": (
        {"units.rating.rated": [[9000, 9000, 8000], [0, 6000, 8500], [0, 0, 3000]]},
        [
            "[units.rating] rated: given 8500 kg at 8 m with 14 m of boom, "
            "allowed: at most 8000 kg, as at the radius before: no rise in a column"
        ],
    ),
    "a hole in a row": (
        {"units.rating.rated": [[9000, 9000, 8000], [7000, 6000, 0], [0, 0, 0]]},
        [
            "[units.rating] rated: given 0 kg at 8 m right of a rated load, "
            "allowed: more than 0: a longer boom reaches too"
        ],
    ),
    "radii that do not rise": (
        {"units.rating.radii": [4, 4, 12]},
        ["[units.rating] radii: given 4, 4, 12 m, allowed: each larger than the one before"],
    ),
    "no column for the longest boom": (
        {"units.rating.boom_lengths": [6, 10, 12]},
        [
            "[units.rating] boom_lengths: given lengths up to 12 m for a boom of up to 14 m, "
            "allowed: a column for the longest boom"
        ],
    ),
    "picks changed round": (
        {"trailer.nose_pick.at": [6, 0, 3]},
        [
            "[trailer.nose_pick] at: given x 6 m, allowed: x less than the tail unit's pick, 5 m",
            "[trailer.cargo] cg: given stated CG at x 0 m, allowed: between the picks, x 5 to 6 m",
        ],
    ),
    "CG above a single point": (
        {"trailer.nose_pick.pivot": "single_point", "trailer.cargo.cg": [0, 0, 4]},
        [
            "[trailer.cargo] cg: given stated CG 3.8 m high as it lies, "
            f"allowed: below the nose hook line, 3 m {NO_TURNING}"
        ],
    ),
    "start beyond the boom's travel": (
        {"start.nose.boom_length": 15},
        ["[start.nose] boom_length: given 15 m, allowed: 6 m to 14 m, the travel in [units.nose.boom]"],
    ),
    "no rope over the sheave": (
        {"start.tail.rope_out": 12},
        [
            "[start.tail] rope_out: given 12 m, allowed: "
            "more than boom_length and to_boom_foot, 12 m, and at most usable_rope, 66 m"
        ],
    ),
    "below its range": (
        {"units.nose.boom": {"shortest": -3}},
        [f"[units.nose.boom] shortest: given -3, allowed: {POSITIVE_METERS}"],
    ),
    "text out of range after conversion": (
        {"start.tail.elevation": "100 deg"},
        [
            '[start.tail] elevation: given "100 deg" (1.74533 rad), allowed: '
            'a number in rad or text such as "35 deg", -0.2 to 1.55'
        ],
    ),
    "a number for yes or no": (
        {"units.hoist.two_block_override": 1},
        ["[units.hoist] two_block_override: given 1, allowed: true or false"],
    ),
    "a slip of the pen": (
        {"units.boom.longst": 3},
        ["[units.boom] longst: given a name that is not known, allowed: perhaps longest or lowest"],
    ),
    "like no name": (
        {"start.zzz qq": 1},
        ['[start] "zzz qq": given a name that is not known, allowed: trailer, nose or tail'],
    ),
    "missing at both ends": (
        {"units.boom.shortest": GONE},
        [f"[units.boom] shortest: given nothing, allowed: {POSITIVE_METERS}"],
    ),
    "missing at one end": (
        {"units.boom.shortest": GONE, "units.nose.boom": {"shortest": 6}},
        [f"[units.tail.boom] shortest: given nothing, allowed: {POSITIVE_METERS}"],
    ),
    "missing table of both units": (
        {"units.boom": GONE},
        [
            "[units] boom: given nothing, allowed: a table [units.boom] with "
            "shortest, longest, lowest, highest, foot_pin_back and foot_pin_height"
        ],
    ),
    "no units": (
        {"units": GONE},
        ["units: given nothing, allowed: tables [units.nose] and [units.tail], and in [units] what they share"],
    ),
    "a number for a unit": (
        {"units.nose": 4},
        ["[units.nose]: given 4, allowed: a table [units.nose] or [units.tail]"],
    ),
    "shared and overridden": (
        {"units.carrier": -1, "units.nose.carrier": 20000, "units.tail.carrier": 20000},
        ['[units] carrier: given -1, allowed: a number in kg or text such as "26.5 t", 1e-06 to 1e+06'],
    ),
}
"""Edits of the small file as it was, and its faults."""


def test_there_are_files_of_that_form() -> None:
    assert len(FILES) >= 10
    for name in FILES:
        assert not re.search(r"^\[\[units|^\[each_unit|picks\]\]$", (HERE / name).read_text("utf-8"), re.MULTILINE)


@pytest.mark.parametrize("name", FILES)
def test_it_reads_to_the_lift_that_ships_in_the_new_form(name: str) -> None:
    assert load(HERE / name) == load(SHIPPED / name)


def edit(edits: dict[str, Any]) -> str:
    """Text of the small older scenario with edits."""
    return toml_text(edited(tomllib.loads(SMALL), edits))


def test_small_in_both_forms(small: Callable[..., str]) -> None:
    assert parse_text(SMALL, "x.toml") == parse_text(small(), "x.toml")


def test_a_candidate_says_the_end_whose_pick_it_might_take() -> None:
    one = {"name": "legs", "end": "tail", "at": [4, 0, 3]}
    (read,) = parse_text(edit({"trailer.pick_candidates": [one]}), "x.toml").trailer.pick_candidates
    assert (read.name, read.pick) == ("legs", "tail")


@pytest.mark.parametrize("name", CASES)
def test_faults_are_told_in_the_words_of_the_file(name: str) -> None:
    edits, expected = CASES[name]
    with pytest.raises(BrokenScenario) as broken:
        parse_text(edit(edits), "x.toml")
    assert [str(fault) for fault in broken.value.faults] == [f"x.toml: {fault}" for fault in expected]


LINES: dict[str, tuple[str, str, str]] = {
    # A row of tank_on_side in the older form, what is put in its place, the place of its fault.
    "shared": ("longest = 14.5", "longest = -1", "[units.boom] longest"),
    "shared hoist": ("parts = 2 ", "parts = 99 ", "[units.hoist] parts"),
    "a unit's own": ("slew_axis_x = 8.08", "slew_axis_x = true", "[units.tail] slew_axis_x"),
    "start of the nose": ("boom_length = 11.78", "boom_length = 20", "[start.nose] boom_length"),
    "rope of the tail": ("rope_out = 43.0", "rope_out = 1", "[start.tail] rope_out"),
    "pick": ("at = [5.3, 1.25, 1.9]", "at = [5.3, 1.25]", "[trailer.tail_pick] at"),
    "trailer's start": ("y = -7.8", "y = {}", "[start.trailer] y"),
}


@pytest.mark.parametrize("name", LINES)
def test_a_fault_names_the_line_of_the_older_file(tmp_path: Path, name: str) -> None:
    row, changed, place = LINES[name]
    text = (HERE / "tank_on_side.toml").read_text(encoding="utf-8")
    assert text.count(f"\n{row}") == 1
    number = text[: text.index(f"\n{row}")].count("\n") + 2
    (tmp_path / "x.toml").write_text(text.replace(f"\n{row}", f"\n{changed}"), encoding="utf-8")
    with pytest.raises(BrokenScenario) as broken:
        load(tmp_path / "x.toml")
    assert [fault.place for fault in broken.value.faults] == [f"x.toml: line {number}: {place}"]


def test_a_free_liquid_of_then_is_a_tank_partly_filled() -> None:
    """As long and as deep as it was said to be: at a small pitch it runs as far."""
    text = (HERE.parents[2] / "scenarios" / "box_on_wheels.toml").read_text(encoding="utf-8")
    said = "size = [9.0, 2.4, 1.5]"
    assert said in text
    then = text.replace(said, f"{said}\nfree_surface_length = 6.0\nfree_surface_depth = 1.2")
    cargo = parse_text(then, "then.toml").trailer.cargo
    assert (cargo.kind, cargo.size_m) == ("liquid", (6.0, 2.4, 1.5))
    assert cargo.size_m[2] * cargo.fill == pytest.approx(1.2)

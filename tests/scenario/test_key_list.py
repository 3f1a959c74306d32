"""The list of keys is the description's: whole, with a meaning and a source each, and the page says the same."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from simulator.__main__ import main
from simulator.scenario.description import Description
from simulator.scenario.key_list import key_lines, key_rows, page
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump
from tests.plan.variants import shipped

ROOT = Path(__file__).parents[2]


def _paths(table: dict[str, Any], above: str = "") -> set[str]:
    found = set()
    for key, value in table.items():
        path = f"{above}.{key}".lstrip(".")
        inside = [one for one in (value if isinstance(value, list) else [value]) if isinstance(one, dict)]
        found |= {path} if not inside else set[str]().union(*(_paths(one, path) for one in inside))
    return found


def test_every_key_has_a_meaning_a_range_and_a_source() -> None:
    for row in key_rows():
        assert row.meaning and row.allowed and row.source, row.path
    assert len({row.path for row in key_rows()}) == len(key_rows()) > 200


@pytest.mark.parametrize("name", ["tank_on_side", "four_lines", "box_on_wheels"])
def test_no_key_of_a_lift_is_left_out(name: str) -> None:
    keys = {row.path for row in key_rows()}
    left_out = _paths(tomllib.loads(dump(shipped(name)))) - keys
    assert {path for path in left_out if not any(key.startswith(f"{path}.") for key in keys)} == set()


def test_a_range_and_a_default_are_those_that_are_read() -> None:
    rows = {row.path: row for row in key_rows()}
    parts = rows["units.lines.hoist.parts"]
    assert (parts.allowed, parts.default) == ("a whole number, 1 to 12", "2")
    assert rows["limits.lane_stop"].unit == "m" and rows["limits.lane_stop"].default == "1.0"
    assert rows["units.boom.longest"].default == "", "the file has to give it"
    assert rows["site.wind.speed"].allowed == "a number, 0 to 60"
    text = dump(shipped("tank_on_side"))
    assert isinstance(parse_text(text, "x"), Description)


def test_the_page_is_what_the_program_says() -> None:
    assert (ROOT / "docs" / "keys.md").read_text(encoding="utf-8") == page(), "run python tools/keys.py"


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["keys", "parts", "of", "line"]) == 0
    said = capsys.readouterr().out
    assert "units.lines.hoist.parts: Parts of line." in said and "default 2" in said
    assert main(["keys", "no such word at all"]) == 2
    assert main(["keys"]) == 0
    assert len(re.findall(r"^\S+: ", capsys.readouterr().out, re.MULTILINE)) >= len(key_lines()) // 2

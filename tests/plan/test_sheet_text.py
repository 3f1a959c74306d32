"""A plan sheet draws what a scenario says; it reads none of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.places import find_scenario

YARD = find_scenario("practice_yard").read_text(encoding="utf-8")


@pytest.mark.parametrize("ending", ["pdf", "svg"])
def test_a_dollar_in_a_title_is_a_dollar(ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, sheet = tmp_path / "x.toml", tmp_path / f"sheet.{ending}"
    wild = YARD.replace('title = "', 'title = "cost $5_a & $x^{ ').replace('name = "frame"', 'name = "$\\\\frac{"')
    path.write_text(wild, encoding="utf-8")
    assert main(["check", str(path), "--sheet", str(sheet)]) == 0
    assert sheet.stat().st_size > 5_000

"""The planning commands: exit codes, JSON, sheets, and bad input that is normal."""

from __future__ import annotations

import json
from math import isfinite
from pathlib import Path
from typing import Any

import pytest

from simulator.__main__ import main
from simulator.cli.planning.options import joined
from simulator.places import find_scenario
from simulator.plan.ranges import BrokenRange, read_range
from simulator.plan.setup_check import check_setup
from simulator.plan.sweep import stated_corner
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import setup_lines
from simulator.scenario.reader import load
from simulator.scenario.toml_writer import dump
from tests.plan.variants import on_soil, on_wheels, shipped


def _json(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, dict[str, Any]]:
    code = main([*words, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_check_says_yes_and_why(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = _json(capsys, "check", "tank_on_side", "--step", "2")
    assert code == 0 and said["verdict"].startswith("no stated limit is passed") and said["refused_for"] == []
    assert said["not_judged"] == [] and any("statics" in one for one in said["assumptions"])
    assert said["stations"][0]["phase"] == "lift-off" and said["stations"][-1]["phase"] == "landed"
    assert said["stations"][0]["nose"]["within_travel"] is True
    assert "past its travel" in said["stations"][0]["nose"]["kept_because"]
    assert "caution" in said


def test_check_says_no_with_what_to_change(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "soil.toml"
    file.write_text(dump(on_soil(shipped())), encoding="utf-8")
    assert main(["check", str(file), "--step", "2", "--units", "us"]) == 1
    out = capsys.readouterr().out
    assert "A STATED LIMIT IS PASSED" in out
    stops = [line for line in out.splitlines() if line.startswith("  STOP")]
    assert len(stops) == 4
    assert all("To change:" in line for line in stops)
    assert "\x1b" not in out
    assert "Training and rehearsal aid" in out


@pytest.mark.parametrize("name", ["tank_on_side", "box_on_wheels", "practice_yard"])
def test_lines_are_readable_in_both_systems(name: str) -> None:
    """Words stand beside any color, and no number is missing or without end."""
    found = check_setup(shipped(name), step_m=2.0)
    for system in ("metric", "us"):
        plain = setup_lines(found, Amounts(system))  # type: ignore[arg-type]
        colored = setup_lines(found, Amounts(system), color=True)  # type: ignore[arg-type]
        assert any("\x1b[" in line for line in colored)
        import re

        assert [re.sub(r"\x1b\[[\d;]*m", "", line).rstrip() for line in colored] == plain
        assert not any(word in " ".join(plain) for word in ("nan", "inf ", "None"))


BAD = [
    ["check", "nothing_like_it"],
    ["check", "tank_on_side", "--step", "0"],
    ["check", "tank_on_side", "--step", "nan"],
    ["check", "tank_on_side", "--slew-step", "-3"],
    ["check", "tank_on_side", "--sheet", "plan.zzz"],
    ["check", "tank_on_side", "--sheet", "no_such_folder/plan.pdf"],
    ["rigging", "tank_on_side", "--have", "string 1 in"],
    ["rigging", "tank_on_side", "--side-load", "120"],
    ["sweep", "tank_on_side"],
    ["sweep", "tank_on_side", "--weight", "x"],
    ["sweep", "tank_on_side", "--cg-across", "5..2"],
    ["sweep", "four_lines"],
    ["sweep", "tank_on_side", "--weight", "22..28t", "--count", "0"],
    ["sweep", "tank_on_side", "--weight", "22..28t", "--seed", "-1"],
    ["sweep", "tank_on_side", "--weight", "22..28t", "--jobs", "-1"],
    ["picks", "tank_on_side", "--inboard", "far"],
    ["picks", "tank_on_side", "--inboard", "900 m"],
    ["spacing", "nothing_like_it"],
]


@pytest.mark.parametrize("words", BAD, ids=" ".join)
def test_bad_input_is_one_sentence_and_no_traceback(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "given" in told.err and "allowed" in told.err
    assert "Traceback" not in told.err


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        ("22..28t", "weight", (22e3, 28e3)),
        ("24t..30t", "weight", (24e3, 30e3)),
        ("24 t .. 30 t", "weight", (24e3, 30e3)),
        ("-1..+2m", "cg", (-1.0, 2.0)),
        ("-3..6ft", "cg", (-0.9144, 1.8288)),
        ("0..20mph", "wind", (0.0, 8.9408)),
        ("11..13", "depth", (11.0, 13.0)),
        ("5..5m", "depth", (5.0, 5.0)),
    ],
)
def test_ranges(text: str, what: str, expected: tuple[float, float]) -> None:
    assert read_range(text, what)[:2] == pytest.approx(expected)


@pytest.mark.parametrize(
    "text", ["", "..", "30..24t", "24-30t", "1..2..3t", "24..30m", "22..28t;", "1e999..2t", "9" * 99]
)
def test_ranges_that_are_none(text: str) -> None:
    with pytest.raises(BrokenRange, match="a range such as"):
        read_range(text, "weight")


def test_a_range_below_zero_needs_no_equals_sign(capsys: pytest.CaptureFixture[str]) -> None:
    assert joined(["sweep", "x", "--cg", "-1..+2m", "--json"]) == ["sweep", "x", "--cg=-1..+2m", "--json"]
    assert joined(["check", "x", "--step", "-1"]) == ["check", "x", "--step", "-1"]
    words = ("sweep", "tank_on_side", "--weight", "22..28t", "--cg", "-1..+2m", "--count", "600", "--jobs", "1")
    code, said = _json(capsys, *words)
    assert code == 1
    assert 0.0 < said["share_that_holds"] < 1.0
    assert said["worst_code"] in said["worst_refused_for"]
    again = _json(capsys, *words)
    assert again == (code, said)


def test_a_sweep_that_is_stopped_says_what_it_knows(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from simulator.plan import sweep as room

    whole = room.sweep

    def stopped(*given: Any, **options: Any) -> Any:
        yield next(whole(*given, **options))
        raise KeyboardInterrupt

    monkeypatch.setattr(room, "sweep", stopped)
    assert main(["sweep", "tank_on_side", "--weight", "22..28t", "--count", "5000", "--jobs", "1"]) == 0
    assert "500 of 5000 combinations judged (stopped before the end)" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["picks", "spacing", "rigging"])
def test_json_of_the_others(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, said = _json(capsys, command, "tank_on_side")
    assert code == 0
    assert "caution" in said

    def numbers(value: Any) -> Any:
        if isinstance(value, dict):
            value = list(value.values())
        if isinstance(value, list):
            for one in value:
                yield from numbers(one)
        elif isinstance(value, float):
            yield value

    found = list(numbers(said))
    assert found and all(isfinite(value) for value in found)


def _pages(pdf: bytes) -> int:
    return pdf.count(b"/Type /Page\n") + pdf.count(b"/Type /Page ")


def test_the_sheet_is_one_page_and_the_same_each_time(tmp_path: Path) -> None:
    from simulator.places import assets_folder
    from simulator.plan.setup_check import rigging_list
    from simulator.report.plan.plan_sheet import write_sheet
    from simulator.scenario.reader_hardware import load_hardware

    found = check_setup(shipped(), step_m=2.0)
    ends = rigging_list(found, load_hardware(assets_folder() / "hardware.toml"))
    pages = []
    for i in (1, 2):
        write_sheet(found, tmp_path / f"{i}.pdf", Amounts(), "caution", rigging=ends)
        pages.append((tmp_path / f"{i}.pdf").read_bytes())
    assert pages[0].startswith(b"%PDF")
    assert _pages(pages[0]) == 1
    assert pages[0] == pages[1]


def test_a_refused_set_up_gets_its_sheet_too(tmp_path: Path) -> None:
    file, out = tmp_path / "wheels.toml", tmp_path / "plan.pdf"
    file.write_text(dump(on_wheels(shipped())), encoding="utf-8")
    assert main(["check", str(file), "--sheet", str(out), "--units", "us"]) == 1
    assert _pages(out.read_bytes()) == 1
    assert out.stat().st_size > 5000


@pytest.mark.parametrize("said", ["0.9..1.1", "0.9 to 1.1"])
def test_a_sweeps_weight_up_to_two_is_a_share_of_the_stated_one(said: str, capsys: pytest.CaptureFixture[str]) -> None:
    """As `rehearse` reads it: nobody's trailer weighs one ton. More than that is a weight in the system's own unit."""
    stated_kg = stated_corner(load(find_scenario("tank_on_side"))).mass_kg
    for text, ends_kg in ((said, (0.9 * stated_kg, 1.1 * stated_kg)), ("22..28", (22e3, 28e3))):
        main(["sweep", "tank_on_side", "--weight", text, "--count", "2", "--jobs", "1", "--json"])
        worst_kg = json.loads(capsys.readouterr().out)["worst"]["mass_kg"]
        assert min(abs(worst_kg - end) for end in ends_kg) < 1e-6 * stated_kg, text

"""The paper for the roadside: every number it has to have, on either paper, in gray, with all that was assumed."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.plan.draft import draft
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.roadside import number_rows, roadside_sheets
from simulator.report.sheet import FOOT_MM, PAPERS_MM, Sheet
from simulator.scenario.toml_writer import marked_assumed
from tests.plan.variants import shipped


@lru_cache(maxsize=4)
def _checked(name: str) -> SetupCheck:
    return check_setup(shipped(name), step_m=4.0, room=False)


def _words(sheets: list[Sheet]) -> str:
    return " ".join(" ".join(text.get_text() for text in sheet.figure.texts) for sheet in sheets)


def test_the_numbers_are_those_of_the_check() -> None:
    found = _checked("tank_on_side")
    rows, units = dict(number_rows(found, Amounts("metric"))), found.description.units
    floats = units[0].floats
    pad = -floats.across_m - floats.pad_side_m / 2.0 - found.description.site.edge_y_m
    assert rows["Gap between tailboards"] == f"{found.description.gap_m:.2f} m"
    assert rows["Nose unit: pad to edge"].startswith(f"{pad:.2f} m; mat at least {floats.pad_side_m:.2f} m")
    assert rows["Weight, as assumed"].startswith(f"{found.load.weight_N / 9806.65:.1f} t")
    length = found.load.body.high_m[0] - found.load.body.low_m[0]
    from_front, from_rear = (
        float(part.split()[0]) for part in rows["Heavy end, as assumed"].split("gravity ")[1].split(", ")
    )
    assert from_front + from_rear == pytest.approx(length, abs=0.02)
    assert rows["Heavy end, as assumed"].startswith("front" if from_front < from_rear else "rear")
    assert rows["Who leads"] == f"{found.description.path.leader} unit"
    assert {"Nose pick", "Tail pick", "Nose rigging", "Tail rigging", "Landing"} <= rows.keys()


def test_feet_and_whole_inches_for_the_tape() -> None:
    rows = dict(number_rows(_checked("tank_on_side"), Amounts("us")))
    gap_in = round(_checked("tank_on_side").description.gap_m / 0.0254)
    assert rows["Gap between tailboards"] == f"{gap_in // 12}'" + (f' {gap_in % 12}"' if gap_in % 12 else "")


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", ["tank_on_side", "four_lines"])
def test_it_fits_either_paper_and_says_all(name: str, paper: str) -> None:
    assumed = marked_assumed(draft({}, "us").text)
    sheets = roadside_sheets(_checked(name), Amounts("us"), "Caution.", paper=paper, assumed=assumed)
    for sheet in sheets:
        width, height = sheet.figure.get_size_inches()
        assert (width * 25.4, height * 25.4) == pytest.approx(PAPERS_MM[paper])
        assert sheet.y_mm <= sheet.height_mm - FOOT_MM + 1.0, "nothing runs into the foot"
    said = " ".join(_words(sheets).split())
    for words in ("STOP from anyone", "Handed over to", "Assumed, by nobody measured here", "Decided by", "to scale"):
        assert words in said, words
    assert all(" ".join(one.split()) in said for one in _checked(name).assumptions if len(one) < 60)
    assert len(assumed) > 20 and all(word in said for one in assumed[:5] for word in one.split())
    assert "nothing is lifted on this sheet alone" in said


def test_the_command_writes_it_and_writes_over_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "road.pdf"
    assert main(["check", "practice_yard", "--step", "8", "--roadside", str(out), "--paper", "a4"]) in (0, 1, 3)
    assert out.read_bytes().startswith(b"%PDF")
    assert main(["check", "practice_yard", "--step", "8", "--roadside", str(tmp_path / "road.txt")]) == 2
    assert "a file ending in .pdf" in capsys.readouterr().err
    other = tmp_path / "other.pdf"
    other.write_text("mine")
    assert main(["check", "practice_yard", "--step", "8", "--roadside", str(other)]) == 2
    assert other.read_text() == "mine"


def test_what_a_file_marks_as_assumed_is_listed_key_by_key() -> None:
    found = marked_assumed(
        'a = 1\nstory = "long"\nb = "2 ft"  # assumed\nc = [1,\n 2]\n[d]\ne = 3 # assumed: by eye\nf = 4 # measured\n'
    )
    assert found == ('b "2 ft"', "e 3")
    assert not any("=" in one or "[" in one.partition(" ")[0] for one in marked_assumed(draft({}, "us").text))

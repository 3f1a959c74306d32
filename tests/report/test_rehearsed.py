"""The words and the page of rehearsals, from rows that are made up."""

from __future__ import annotations

from math import inf
from pathlib import Path

import pytest
from matplotlib.colors import to_rgb

from simulator.events import Happening
from simulator.report.amounts import Amounts
from simulator.report.rehearsal.rehearsed import Rehearsal, SetUp
from simulator.report.rehearsal.rehearsed_lines import rehearsal_lines
from simulator.report.rehearsal.rehearsed_pages import sheets_of, write_page
from simulator.report.sheet import FOOT_MM
from simulator.words import say
from tests.rehearsal.short import lots, made_up, short_drill


@pytest.fixture(scope="module")
def found() -> Rehearsal:
    """A draw of each kind, and many good ones."""
    lift = short_drill()
    met = Happening("incident", "met", {"part": "tank", "other": "nose unit tailboard", "x_m": 1.0, "y_m": 0.0,
                                        "z_m": 1.0, "speed_mps": 0.4})  # fmt: skip
    tips = Happening("incident", "tipped", {"unit": "tail", "way": "the road", "y_m": 1.0, "load_N": 1e5,
                                            "radius_m": 9.0})  # fmt: skip
    odd = [
        made_up(lift, 1, ended="incident", nose__capacity_used=0.4)._replace(incidents=(met,)),
        made_up(lift, 2, ended="incident", tail__capacity_used=1.6)._replace(incidents=(tips, met)),
        made_up(lift, 3, ended="cannot begin")._replace(values=(), why="$a line that pulls$"),
        made_up(lift, 4, nose__head_room_m=-1.0)._replace(points=12.0, failed_by=("two-blocked",)),
    ]
    rows = (*odd, *(made_up(lift, n, nose__capacity_used=0.3 + 0.01 * n, load__sway_m=0.01 * n) for n in range(5, 40)))
    set_up = SetUp("not judged", (), ("nose unit: no rating table",), ("the rating table is invented",))
    return Rehearsal(lift, lots(), 50, rows, set_up)


def test_lines_say_how_often_and_what_governs(found: Rehearsal) -> None:
    lines = rehearsal_lines(found, Amounts(), Path("kept"))
    assert lines[1:5] == [
        "NOT FINISHED: 39 of 50 draws driven",
        "A STATED LIMIT IS PASSED, or the lift does not end as it should, in 4 of 39 draws",
        "the set-up check of the lift as described: NOT JUDGED: something that is needed is missing",
        "nose unit: no rating table",
    ]
    text = "\n".join(lines)
    assert "incident in 2: tank meets nose unit tailboard" in text
    assert "incident in 1: tail unit tips over, toward the road" in text and "failed in 1: two-blocked" in text
    (row,) = [line.split() for line in lines if line.startswith("nose unit: capacity used")]
    assert row[4:] == ["100", "%", "36/36", "90-100", "%", "36", "51", "%", "68", "%", "69", "%", "39"]
    assert "draw-00002:" in text and "160 % of tail unit: capacity used" in text and "inf" not in text
    assert "cannot begin: $a line that pulls$" in text


def test_the_page_is_gray_and_whole(found: Rehearsal) -> None:
    for sheet in sheets_of(found, Amounts("us"), "letter"):
        words = " ".join(text.get_text() for text in sheet.figure.texts)
        assert " ".join(say("program.caution").split()[:6]) in words
        assert sheet.y_mm <= sheet.height_mm - FOOT_MM + 4.0
        drawn = [line.get_color() for axes in sheet.figure.axes for line in axes.lines]
        drawn += [patch.get_facecolor()[:3] for axes in sheet.figure.axes for patch in axes.patches]
        assert all(len({round(part, 6) for part in to_rgb(one)}) == 1 for one in drawn)


def test_rehearsals_of_which_none_was_driven_are_told(found: Rehearsal, tmp_path: Path) -> None:
    none = Rehearsal(found.lift, found.lots, 50, (), found.set_up)
    assert rehearsal_lines(none, Amounts())[1] == "NOT FINISHED: 0 of 50 draws driven"
    for name in ("none.pdf", "twice.pdf"):
        write_page(none, tmp_path / name, Amounts())
    assert (tmp_path / "none.pdf").read_bytes() == (tmp_path / "twice.pdf").read_bytes()
    assert b"Slopepick rehearsals" in (tmp_path / "none.pdf").read_bytes()
    none.write_csv(tmp_path / "none.csv")
    assert none.as_json()["every_limit_kept"]["interval_95"] == [0.0, 1.0]
    assert inf not in none.as_json()["time_s"].values()

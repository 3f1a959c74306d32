"""Broken scenarios: each file gives exactly its own faults, and one with many faults lists them all."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text
from tests.scenario.broken_cases import CASES

Text = Callable[..., str]

MANY = ("below its range", "text of another dimension", "blank text", "no such choice", "text for a table", "missing")
"""Cases that touch different values, all put into one file."""


def faults_of(text: str) -> list[str]:
    with pytest.raises(BrokenScenario) as broken:
        parse_text(text, "x.toml")
    return [str(fault) for fault in broken.value.faults]


def test_the_small_scenario_is_good(small: Text) -> None:
    assert parse_text(small(), "x.toml").title == "small"


@pytest.mark.parametrize("name", CASES)
def test_broken_scenario(small: Text, name: str) -> None:
    edits, expected = CASES[name]
    assert faults_of(small(edits)) == [f"x.toml: {fault}" for fault in expected]


def test_many_faults_are_all_listed(small: Text) -> None:
    edits = {path: value for name in MANY for path, value in CASES[name][0].items()}
    expected = [f"x.toml: {fault}" for name in MANY for fault in CASES[name][1]]
    assert sorted(faults_of(small(edits))) == sorted(expected)


def test_tables_that_could_be_read_are_checked_beside_broken_ones(small: Text) -> None:
    found = faults_of(small({"path.tip_height": "high", "site.edge_y": -30, "each_unit.hoist": {"parts": 0}}))
    assert [fault.split(": given")[0] for fault in found] == [
        "x.toml: [each_unit.hoist] parts",
        "x.toml: [path] tip_height",
        "x.toml: [site] edge_y",
    ]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "x.toml: given a file without any value, allowed: a scenario"),
        ("# nothing yet\n", "x.toml: given a file without any value, allowed: a scenario"),
        ("a = 1\nb = = 2\n", 'x.toml: line 2: given "b = = 2", allowed: TOML (Invalid value)'),
        ("a = 1\n[site\n", 'x.toml: line 2: given "[site"'),
        ("a = 1\na = 2\n", 'x.toml: line 2: given "a = 2", allowed: TOML (Cannot overwrite a value)'),
        ("a = " + "[" * 50_000, "x.toml: line 1: given "),
        ("a = " + "9" * 5_000, "x.toml: line 1: given "),
    ],
)
def test_text_that_is_no_scenario(text: str, fault: str) -> None:
    found = faults_of(text)
    assert len(found) == 1
    assert found[0].startswith(fault)


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "x.toml: given a file without any value, allowed: a scenario"),
        (b"a = 1\n\xff\xfe", "x.toml: given bytes in line 2 that are not UTF-8 text, allowed: text saved as UTF-8"),
        (
            b"#" * 1_000_001,
            "x.toml: given a file of more than 1000000 bytes, allowed: a scenario file of at most 1000000 bytes",
        ),
    ],
)
def test_content_that_cannot_be_read(tmp_path: Path, content: bytes, fault: str) -> None:
    (tmp_path / "x.toml").write_bytes(content)
    with pytest.raises(BrokenScenario) as broken:
        load(tmp_path / "x.toml")
    assert [str(each) for each in broken.value.faults] == [fault]


def test_a_folder_and_no_file(tmp_path: Path) -> None:
    for path, given in ((tmp_path, "a folder"), (tmp_path / "none.toml", "no such file")):
        with pytest.raises(BrokenScenario) as broken:
            load(path)
        assert [(fault.place, fault.given) for fault in broken.value.faults] == [(path.name, given)]


def test_a_file_this_user_may_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(path: Path, mode: str) -> bytes:
        raise PermissionError(13, "Permission denied", str(path))

    (tmp_path / "x.toml").write_text("a = 1")
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(BrokenScenario) as broken:
        load(tmp_path / "x.toml")
    assert [str(fault) for fault in broken.value.faults] == [
        "x.toml: given a file that cannot be read (Permission denied), allowed: a file this user may read"
    ]


def test_a_file_with_a_byte_order_mark_and_windows_lines(tmp_path: Path, small: Text) -> None:
    text = small().replace("\n", "\r\n")
    (tmp_path / "x.toml").write_bytes(b"\xef\xbb\xbf" + text.encode())
    assert load(tmp_path / "x.toml") == parse_text(small(), "x.toml")

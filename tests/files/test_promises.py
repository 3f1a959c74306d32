"""The page of promises: every test it names is there, and its numbers are the program's."""

from __future__ import annotations

import re
from pathlib import Path

from simulator.files import bounds

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "promises.md").read_text(encoding="utf-8")
LIMITS = {name: value for name, value in vars(bounds).items() if name.isupper()}
UNTOLD = {"UNKNOWN_NAMES", "FAULTS", "GROUND_WORK", "TITLE_LETTERS", "HEAD_BYTES", "SEARCHES", "CHANNELS", "SAMPLES",
          "GAPS", "INDEX_BYTES", "ACCOUNT_LINES", "LARGEST_READING"}  # fmt: skip
"""Limits that nobody who uses the program meets."""


def test_what_holds_a_promise_is_there() -> None:
    named = re.findall(r"`((?:tests|tools)/[\w/]+\.py)`", PAGE)
    assert len(named) > 20
    assert [name for name in named if not (ROOT / name).is_file()] == []


def test_every_promise_names_what_holds_it() -> None:
    rows = [line for line in PAGE.splitlines() if line.startswith("| ") and "---" not in line]
    promises = [row for row in rows if row.count("|") == 3 and "held by" not in row]
    held = [row for row in promises if "tests/" in row or "the same" in row or "fuzz tools" in row]
    limits = [row for row in promises if row not in held]
    assert len(held) >= 18 and len(limits) == 10


def test_the_limits_are_those_of_the_program() -> None:
    table = PAGE.partition("| of | limit |")[2].partition("##")[0]
    told = {int(number.replace(",", "")) for number in re.findall(r"\d[\d,]*", table)}
    assert told == {int(value) for name, value in LIMITS.items() if name not in UNTOLD}


def test_the_page_is_found() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        assert "docs/promises.md" in (ROOT / name).read_text(encoding="utf-8")

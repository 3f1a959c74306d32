"""The line that a fault names: it holds the key, or the table in which the key is missing."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from simulator.scenario.fault_lines import dotted, lines_of
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").rglob("*.toml"))
BOTH_FORMS = [*SHIPPED, *sorted((Path(__file__).parent / "older").rglob("*.toml"))]
"""Small ones and shipped ones, with lists of units and in the form before."""
QUICK = settings(max_examples=60, suppress_health_check=list(HealthCheck))
NUMBERED = re.compile(r"line (\d+): (.*?): given ")
DECOYS = (
    '"""\nk1 = 1\n[k2] ""\\""""',
    "'''\n[[k3]]\n# ' '' \\'''",
    '"[k4] # \\" = k5"',
    "'k6 = #'",
    "1979-05-27 07:32:00",
)


def faults_of(path: Path, text: str) -> list[tuple[int, str]]:
    """Line and place of every fault of a file."""
    path.write_bytes(text.encode())
    with pytest.raises(BrokenScenario) as broken:
        load(path)
    found = [NUMBERED.search(str(fault)) for fault in broken.value.faults]
    return [(int(one[1]), one[2]) for one in found if one is not None]


def names(value: Any, above: str = "") -> Iterator[tuple[str, str]]:
    """Every key of nested tables and lists: its dotted name and itself."""
    if isinstance(value, dict):
        for key, item in value.items():
            name = f"{above}.{key}" if above else key
            yield name, key
            yield from names(item, name)
    elif isinstance(value, list):
        for number, item in enumerate(value, 1):
            yield from names(item, f"{above} {number}")


@pytest.mark.parametrize("path", BOTH_FORMS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_key_of_a_shipped_file_stands_in_its_line(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    lines, rows = lines_of(text), text.split("\n")
    found = list(names(tomllib.loads(text)))
    assert len(found) > (100 if path.stem != "small" else 50)
    for name, key in found:
        assert re.search(rf"\b{key}\b", rows[lines[name] - 1].partition("#")[0]), name


class Page:
    """Writes TOML in any layout, with keys that are all different, and remembers where each stands."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw, self.text = draw, ""
        self.stands: dict[str, int] = {}
        self._keys = 0

    def some(self, *choices: str) -> str:
        """One of them."""
        return self.draw(st.sampled_from(choices))

    def write(self, text: str) -> None:
        """Goes on."""
        self.text += text

    def end(self) -> None:
        """A line's end, and what may stand before the next."""
        self.write(self.some("\n", " # [no] table = 1\n", "\r\n", "\n\n  # ]]\n\t"))

    def key(self, above: str) -> str:
        """A new key, here; its dotted name."""
        self._keys += 1
        key = f"key{self._keys}"
        self.write(self.some(key, f'"{key}"', f"'{key}'", f'"\\u006B{key[1:]}"'))
        name = f"{above}.{key}" if above else key
        self.stands[name] = self.text.count("\n") + 1
        return name

    def value(self, name: str, depth: int = 0) -> None:
        """A plain one, a list over some lines, or a table in a line."""
        kind = self.some("plain", "list", "table") if depth < 3 else "plain"
        if kind == "plain":
            self.write(self.some("1", "-2.5e3", "true", *DECOYS) if depth == 0 or name[-1].isdigit() else "3")
        elif kind == "list":
            self.write("[")
            for number in range(1, self.draw(st.integers(0, 3)) + 1):
                self.write(self.some("", "\n", " # ],\n "))
                self.value(f"{name} {number}", depth + 1)
                self.write(self.some(",", ", ", "\n,"))
            self.write("]")
        else:
            self.write("{")
            for number in range(self.draw(st.integers(0, 2))):
                self.write(", " if number else " ")
                self.pair(name, depth + 1)
            self.write("}")

    def pair(self, table: str, depth: int = 0) -> None:
        """A key, perhaps with dots in it, and its value."""
        name = self.key(table)
        if self.draw(st.booleans()):
            self.write(self.some(".", " . "))
            name = self.key(name)
        self.write(self.some("=", " = "))
        self.value(name, depth)


@st.composite
def pages(draw: st.DrawFn) -> Page:
    """Tables, arrays of tables and a table inside the newest one of an array."""
    page, table = Page(draw), ""
    for number in range(draw(st.integers(1, 5))):
        kind = page.some("table", "items") if number else "top"
        if kind == "table":
            page.write("[")
            table = page.key("")
            page.write("]")
            page.end()
        elif kind == "items":
            start = len(page.text)
            page.write("[[")
            array = page.key("")
            page.write("]]")
            again = page.text[start:]
            page.end()
            page.pair(f"{array} 1")
            page.write("\n" + again)
            page.end()
            table = f"{array} 2"
        for _ in range(draw(st.integers(0, 3))):
            page.pair(table)
            page.end()
    return page


@settings(QUICK, max_examples=150)
@given(pages())
def test_keys_are_found_in_any_layout(page: Page) -> None:
    told = tomllib.loads(page.text)
    lines = lines_of(page.text)
    assert {name for name, _ in names(told)} == set(page.stands)
    assert {name: lines[name] for name in page.stands} == page.stands, page.text


HEAD = re.compile(r"\[start\.(nose|tail)\]|\[landing\]|\[units\.start\]|\[\[units\.lines\]\]|\[trailer\.start\]")
PLAIN = re.compile(r"[a-z_]+ = [^\[{\"']*$")


@QUICK
@given(st.data())
def test_a_value_that_cannot_be_used_is_named_with_its_line(tmp_path: Path, data: st.DataObject) -> None:
    """A key beside which nothing is allowed: the same row, with a list for its number."""
    rows = data.draw(st.sampled_from(BOTH_FORMS)).read_text(encoding="utf-8").split("\n")
    at = data.draw(st.sampled_from([number for number, row in enumerate(rows) if PLAIN.match(row)]))
    key = rows[at].partition(" = ")[0]
    rows[at] = f"{key} = [[]]"
    found = faults_of(tmp_path / "x.toml", "\n".join(rows))
    assert [line for line, place in found if re.search(rf"\b{key}( row 1.*)?$", place)] == [at + 1]


@QUICK
@given(st.data())
def test_an_unknown_name_and_a_missing_one_are_named_with_their_lines(tmp_path: Path, data: st.DataObject) -> None:
    """A row with a slip in its key: it stands in its own line, the key itself is missing in its table's."""
    text = data.draw(st.sampled_from(BOTH_FORMS)).read_text(encoding="utf-8")
    rows = text.split("\n")
    heads = [number for number, row in enumerate(rows) if HEAD.match(row)]
    head = data.draw(st.sampled_from(heads))
    key = rows[head + 1].partition(" = ")[0]
    rows[head + 1] = rows[head + 1].replace(key, "not_at_all", 1)
    before = rows[: head + 1]
    name = rows[head].partition("]")[0].strip("[")
    begins = max((at for at, row in enumerate(before) if row == "[[units]]"), default=0)
    item = before[begins if name.startswith("units.") else 0 :].count(f"[[{name}]]")
    table = name.replace("units", f"units {before.count('[[units]]')}")
    table += f" {item}" if rows[head].startswith("[[") and name != "units" else ""
    found = faults_of(tmp_path / "x.toml", "\n".join(rows))
    assert (head + 2, f"[{table}] not_at_all") in found
    assert (head + 1, f"[{table}] {key}") in found


def test_items_of_lists_have_lines_of_their_own(tmp_path: Path) -> None:
    rows = (SHIPPED[0].parent / "tank_on_side.toml").read_text(encoding="utf-8").split("\n")
    at = next(number for number, row in enumerate(rows) if row.startswith('    [0, 0, "23.2 t"'))
    rows[at] = rows[at].replace("0, 0", "0, true")
    assert faults_of(tmp_path / "x.toml", "\n".join(rows)) == [(at + 1, "[each_unit.rating] rated row 7 number 2")]


def test_what_no_table_of_the_file_could_hold_has_no_line(tmp_path: Path) -> None:
    text = "\n".join(row for row in SHIPPED[0].read_text(encoding="utf-8").split("\n") if not row.startswith("title"))
    (tmp_path / "x.toml").write_text(text, encoding="utf-8")
    with pytest.raises(BrokenScenario) as broken:
        load(tmp_path / "x.toml")
    assert [fault.place for fault in broken.value.faults] == ["x.toml: title"]


@QUICK
@given(st.text(min_size=1, max_size=80))
def test_a_name_of_any_letters_is_found(tmp_path: Path, key: str) -> None:
    written = json.dumps(key, ensure_ascii=False).replace("\x7f", "\\u007f")
    lines = lines_of(f"# one\n{written} = 1\n")
    assert list(lines.values()) == [2]


def test_places_with_and_without_a_table_of_a_list() -> None:
    assert dotted("[trailer.parts 3] outline row 2 number 1") == "trailer.parts 3.outline 2 1"
    assert dotted("[trailer.parts 3]") == dotted("[trailer] parts 3") == "trailer.parts 3"
    assert dotted("[units.nose]") == dotted("[units] nose") == "units.nose"
    assert dotted("[units 2.lines 1] rope_out") == "units 2.lines 1.rope_out"


def test_a_text_that_is_no_file_has_no_lines() -> None:
    with pytest.raises(BrokenScenario, match=r"^given text: \[site\] edge_y: given true"):
        parse_text(SHIPPED[0].read_text(encoding="utf-8").replace("\nedge_y = ", "\nedge_y = true #", 1), "given text")


def test_a_good_file_does_without_the_search() -> None:
    path = SHIPPED[0]
    code = (
        "import sys; from pathlib import Path; from simulator.scenario.reader import load; "
        f"load(Path({str(path)!r})); print('simulator.scenario.fault_lines' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=path.parents[1], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"

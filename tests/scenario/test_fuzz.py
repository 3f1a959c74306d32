"""Whatever is in a file, reading it ends in a description or in sentences; what was read writes out and reads back."""

from __future__ import annotations

import copy
import os
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.measures import parse
from simulator.scenario.reader import load, parse_text
from simulator.scenario.toml_writer import dump
from tests.scenario.conftest import toml_text

SHIPPED = {path.stem: path.read_bytes() for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))}
QUICK = settings(max_examples=50, suppress_health_check=list(HealthCheck))

numbers = st.one_of(st.integers(-(10**6), 10**6), st.integers(), st.floats(width=64))
texts = st.one_of(
    st.text(max_size=12), st.sampled_from(["3 ft", "1 t", "5 deg", "2 kN", "-1 m", "1e999 m", "m", "on_wheels"])
)
values = st.recursive(
    st.one_of(numbers, texts, st.booleans(), st.datetimes().map(lambda when: when.replace(microsecond=0))),
    lambda inside: st.one_of(st.lists(inside, max_size=4), st.dictionaries(st.text(max_size=6), inside, max_size=3)),
    max_leaves=6,
)


def read(text: str) -> Description | None:
    """The description, or None for faults, each of which is one line and says all three things."""
    try:
        return parse_text(text, "fuzz.toml")
    except BrokenScenario as broken:
        assert broken.faults
        assert len(set(broken.faults)) == len(broken.faults)
        for fault in broken.faults:
            assert fault.place.startswith("fuzz.toml")
            assert fault.given
            assert fault.allowed
            assert "\n" not in str(fault)
        return None


@pytest.mark.parametrize("odd", ["$x^{$", "{unit}", "%s", "{0.__class__}"])
def test_a_text_with_signs_of_a_template_is_quoted_as_it_is(odd: str) -> None:
    """Any text of a file may come back in a fault of another place: in lists of what is allowed, above all."""
    lines = SHIPPED["four_lines"].decode("utf-8").splitlines()
    for index, line in enumerate(lines):
        key, equals, value = line.partition(" = ")
        if equals and value.startswith('"'):
            read("\n".join([*lines[:index], f'{key} = "{odd}"', *lines[index + 1 :]]))
    named = "\n".join(lines).replace('name = "nose_road"', f'name = "{odd}"')
    with pytest.raises(BrokenScenario) as broken:
        parse_text(named, "x.toml")
    assert any(f'"{odd}"' in fault.allowed for fault in broken.value.faults)


def spots(tables: Any) -> Iterator[tuple[Any, Any]]:
    """Every place in nested tables and lists: what holds it, and its key or index."""
    for key, value in list(tables.items() if isinstance(tables, dict) else enumerate(tables)):
        yield tables, key
        if isinstance(value, dict | list):
            yield from spots(value)


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    """A shipped scenario with a few values taken away or replaced by anything."""
    tables = copy.deepcopy(tomllib.loads(SHIPPED[draw(st.sampled_from(sorted(SHIPPED)))].decode()))
    for _ in range(draw(st.integers(1, 4))):
        holder, key = draw(st.sampled_from(list(spots(tables))))
        if draw(st.booleans()):
            del holder[key]
        else:
            holder[key] = draw(values)
        if not tables:
            break
    return tables


@QUICK
@given(st.binary(max_size=300))
@example(b"\xff\xfe\x00")
def test_bytes(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "fuzz.toml").write_bytes(raw)
    with pytest.raises(BrokenScenario):
        load(tmp_path / "fuzz.toml")


@QUICK
@given(st.text(max_size=200))
def test_text(text: str) -> None:
    assert read(text) is None


@QUICK
@given(st.data())
def test_shipped_files_with_bytes_changed(data: st.DataObject) -> None:
    raw = bytearray(SHIPPED[data.draw(st.sampled_from(sorted(SHIPPED)))])
    for _ in range(data.draw(st.integers(1, 5))):
        raw[data.draw(st.integers(0, len(raw) - 1))] = data.draw(st.integers(32, 126))
    lift = read(raw.decode())
    assert lift is None or parse_text(dump(lift), "again") == lift


@settings(QUICK, max_examples=120)
@given(mutated())
def test_shipped_files_with_values_changed(tables: dict[str, Any]) -> None:
    lift = read(toml_text(tables))
    assert lift is None or parse_text(dump(lift), "again") == lift


@QUICK
@given(
    st.text(st.characters(exclude_categories=("C", "Zl", "Zp")), min_size=1).filter(str.strip),
    st.floats(-50.0, 50.0),
    st.floats(0.05, 1.0),
    st.integers(0, 2**31),
    st.floats(1e-6, 1e9),
    st.lists(st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)), min_size=2, unique_by=lambda point: point[0]),
)
def test_good_values_survive_writing_and_reading(
    title: str,
    lane: float,
    share: float,
    seed: int,
    bearing: float,
    bed: list[tuple[float, float]],
) -> None:
    tables = tomllib.loads(SHIPPED["tank_on_side"].decode())
    tables |= {"title": title, "seed": seed}
    tables["site"] |= {"bed": [list(point) for point in sorted(bed)], "live_lane_y": 10.0 + abs(lane)}
    tables["site"]["soil"] |= {"allowable_bearing": bearing}
    tables["each_unit"]["rating"]["tandem_share"] = share
    lift = read(toml_text(tables))
    assert lift is not None
    assert (lift.title, lift.seed, lift.site.bed_m) == (title, seed, tuple(sorted(bed)))
    assert lift.site.soil.allowable_bearing_Pa == bearing
    assert parse_text(dump(lift), "again") == lift


@QUICK
@given(st.text(max_size=40), st.sampled_from(["m", "kg", "rad", "N", "1"]))
@example("9**9**9**9 m", "m")
@example("1" * 50 + "e99 m", "m")
@example("a" * 59, "m")
def test_text_to_number(text: str, unit: str) -> None:
    try:
        assert isinstance(parse(text, unit), float)
    except ValueError as error:
        assert str(error)


@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [  # exact by definition: inch and pound (NIST SP 811), angles by the circle
        ("48 ft", "m", 48 * 12 * 0.0254),
        ("102 in", "m", 102 * 0.0254),
        ("26.5 t", "kg", 26500.0),
        ("44000 lb", "kg", 44000 * 0.45359237),
        ("22 ton", "kg", 22 * 2000 * 0.45359237),
        ("180 deg", "rad", 3.141592653589793),
        ("20 mph", "m/s", 20 * 0.44704),
        ("85 %", "1", 0.85),
        ("0.2 m/s^2", "m/s^2", 0.2),
        ("8 MN/m", "N/m", 8e6),
        ("2 tonf", "N", 2000 * 9.80665),
    ],
)
def test_units(text: str, unit: str, expected: float) -> None:
    assert parse(text, unit) == pytest.approx(expected, rel=1e-12)


def test_units_without_a_folder_to_keep_anything_in(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way of any folder")
    places = dict.fromkeys(("HOME", "XDG_CACHE_HOME", "LOCALAPPDATA", "USERPROFILE"), str(tmp_path / "file" / "below"))
    code = "from simulator.scenario.measures import parse; assert abs(parse('3 ft', 'm') - 0.9144) < 1e-12"
    root = Path(__file__).parents[2]
    done = subprocess.run([sys.executable, "-c", code], cwd=root, env=os.environ | places, capture_output=True)
    assert done.returncode == 0, done.stderr.decode()

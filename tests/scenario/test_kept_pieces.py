"""Units and trailers in files of their own, and charts pasted as text: invented ones, in the shapes people paste."""

from __future__ import annotations

from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.mechanics.rating import rated_load_N
from simulator.plan.not_judged import assumptions
from simulator.plan.setup_check import check_setup
from simulator.scenario.chart_text import Chart, read_chart
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.kept_pieces import BrokenPiece, checked, find, kept, parse_piece
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump

FOOT_M, POUND_KG, G = 0.3048, 0.45359237, 9.80665
MORE = [(21, 14), (24, 12), (26, 16), (28, 13), (30, 15), (32, 11), (34, 18), (36, 10), (40, 12), (42, 14)]
"""Shortest boom and number of radii of ten charts; no maker's."""


def _invented(shortest: int, rows: int) -> tuple[list[int], list[int], list[list[int | None]]]:
    """Boom lengths, radii and pounds of a chart of usual shape: None where the boom is too short, or too steep."""
    lengths = [shortest + 7 * step for step in range(5)]
    radii = [8 + 3 * step for step in range(rows)]
    loads: list[list[int | None]] = []
    for radius in radii:
        line: list[int | None] = []
        for length in lengths:
            fits = 0.3 * length <= radius <= 0.9 * length
            line.append(round(1.4e6 / (radius + 0.15 * length) / 100) * 100 if fits else None)
        loads.append(line)
    return lengths, radii, loads


def _rows(case: int) -> tuple[list[int], list[int], list[list[int | None]]]:
    lengths, radii, loads = _invented(*MORE[case])
    full = [place for place, line in enumerate(loads) if any(line)]
    return lengths, [radii[place] for place in full], [loads[place] for place in full]


def _pasted(case: int) -> str:
    """As a spreadsheet gives it, or as somebody types it: each in another shape."""
    lengths, radii, loads = _rows(case)
    mark = ["\t", "\t", "  ", ",", ";", "|", "\t", " ", ",", "\t"][case]
    hole = ["", "", "-", "", "", " - ", "n/a", "--", "-", "*"][case]
    head = ["Radius (ft)", "", "Radius", "Radius", "ft", "Radius", "Load radius, ft", "Radius", "R", "Radius"][case]

    def number(pounds: int | None) -> str:
        if pounds is None:
            return hole
        if case == 6:
            return f"{pounds / 1000:.1f}"
        text = f"{pounds:,}" if case in (0, 1, 2, 5, 7) else str(pounds)
        return {3: f'"{pounds:,}"', 1: f"{text} lb", 9: f"{text}*"}.get(case, text)

    top = {0: "INVENTED CHART\nBoom length, ft", 6: "loads in 1000 lb", 1: "Main boom\t\tlb"}.get(case, "")
    below = {0: "Loads right of the line are not for free fall.", 8: ""}.get(case, "")
    foot = "'" if case in (5, 9) else ""
    rows = [mark.join([head, *(f"{length}{foot}" for length in lengths)])]
    rows += [mark.join([f"{radius}{foot}", *map(number, line)]) for radius, line in zip(radii, loads, strict=True)]
    rows = [f"|{row}|" for row in rows] if case == 5 else rows
    return "\n".join(filter(None, [top, *rows, below]))


@pytest.mark.parametrize("case", range(10))
def test_ten_pasted_charts_come_in_right_holes_and_all(case: int) -> None:
    lengths, radii, loads = _rows(case)
    holes = sum(one is None for line in loads for one in line)
    assert holes >= 5, "a chart without holes shows nothing"
    found = read_chart(_pasted(case), "us")
    assert found.oddities == (), (_pasted(case), found.oddities)
    assert found.boom_lengths_m == pytest.approx([one * FOOT_M for one in lengths])
    assert found.radii_m == pytest.approx([one * FOOT_M for one in radii])
    for line, kilograms in zip(loads, found.rated_kg, strict=True):
        assert kilograms == pytest.approx([(one or 0) * POUND_KG for one in line])
    assert len(found.holes) == holes


ODD = """Radius\t20\t30\t40
8\t50,000\t\t
12\t45,000\t40,000\t
16\t30,000\t{c4}\t25,000
{a5}\t\t20,000\t18,000"""


@pytest.mark.parametrize(
    ("c4", "a5", "cell", "words"),
    [
        ("41,000", "25", "C4", "more than at 12 ft"),
        ("x1", "25", "C4", "allowed: a load such as 53,000"),
        ("30", "25", "C4", "thousands of pounds"),
        ("30,000", "15", "A5", "not more than the one above"),
        ("30,000", "35", "C5", "beyond a boom of 30 ft"),
        ("30,000", "many", "", "1 "),
        ("1,0,0", "25", "C4", "allowed: a load such as 53,000"),
    ],
)
def test_an_oddity_is_named_by_its_cell(c4: str, a5: str, cell: str, words: str) -> None:
    found = read_chart(ODD.format(c4=c4, a5=a5), "us")
    if not cell:
        assert len(found.radii_m) == 3, "a line of words is left out"
        return
    assert [(one.cell, words in one.words) for one in found.oddities] == [(cell, True)], found.oddities


def test_a_rise_that_is_printed_so_is_taken_no_higher_than_before() -> None:
    found = read_chart(ODD.format(c4="41,000", a5="25"), "us", as_printed=["C4"])
    assert found.oddities == ()
    assert found.rated_kg[2][1] == pytest.approx(40000 * POUND_KG), "not the 41,000 of the cell"
    beyond = read_chart(ODD.format(c4="30,000", a5="35"), "us", as_printed=["C5"])
    assert [one.cell for one in beyond.oddities] == ["C5"], "no maker rates a load beyond the boom"


@pytest.mark.parametrize(
    "text",
    ["", "words only", "8 50,000\n12 45,000", "Radius 20 30\n8 50,000", "Radius 30 20\n8 50,000 40,000", "\t\t\n\t"],
)
def test_what_is_no_chart_is_a_sentence(text: str) -> None:
    assert read_chart(text, "us").oddities


def test_spaces_alone_do_not_show_a_hole() -> None:
    """Two loads under three booms, parted by spaces: nobody knows which boom has none."""
    assert "2 loads for 3 boom lengths" in str(
        read_chart("Radius 20 30 40\n8 50,000 - -\n12 45,000 40,000", "us").oddities[0]
    )


OWN = """
[unit]
tailboard = "12 ft"
deck_height = "4 ft 5 in"
carrier = "46,000 lb"
carrier_cg = "9 ft 10 in"
superstructure = "25,000 lb"
superstructure_cg = "5 ft 7 in"
boom_mass = "12,000 lb"
[unit.boom]
shortest = "22 ft"
longest = "48 ft"
lowest = "0 deg"
highest = "62 deg"
foot_pin_back = "4 ft"
foot_pin_height = "8 ft 6 in"
[unit.floats]
toward_tailboard = "9 ft"
toward_cab = "14 ft"
across = "11 ft"
"""
CHART = '''
[[charts]]
configuration = "{configuration}"
entered = "2026-11-30"
by = "A. Operator"
text = """
Radius\t22\t35\t{last}
10\t80,000\t76,000\t
20\t\t69,000\t66,000
40\t\t\t15,000
"""
'''
LIFT = """
title = "Invented"
story = "Invented."
[site]
section = [[30, 0], [-4.65, 0], [-5.3, -6], [-20, -6]]
edge_y = -4.65
[site.soil]
name = "crystalline bedrock"
[trailer]
from = "dry van 53 ft"
[trailer.cargo]
mass = "20,000 lb"
[trailer.start]
x = 0
y = "-26 ft"
[path]
belly_over_road = "5.9 ft"
tip_height = "34 ft"
[landing]
y = "18.2 ft"
"""
UNIT = """
[[units]]
name = "{name}"
from = "my rig"
slew_axis_x = "{x} ft"
{more}
[units.start]
boom_length = "41 ft"
elevation = 0.695
slew = -1.1
[[units.lines]]
pick = "{name}"
rope_out = "120 ft"
"""


def _lift(more: str = "") -> str:
    return LIFT + "".join(UNIT.format(name=name, x=x, more=more) for name, x in (("nose", -31), ("tail", 31)))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's folder of units, empty."""
    monkeypatch.setattr("simulator.scenario.kept_pieces.data_folder", lambda: tmp_path)
    (tmp_path / "units").mkdir()
    return tmp_path / "units"


def _write(folder: Path, *charts: str) -> None:
    (folder / "my rig.toml").write_text(OWN + "".join(charts), encoding="utf-8")


def test_a_scenario_names_a_unit_and_a_trailer_and_a_recording_holds_all(folder: Path) -> None:
    _write(folder, CHART.format(configuration="outriggers full", last=48))
    lift = parse_text(_lift(), "x")
    rating = lift.units[0].rating
    assert rating is not None and not rating.invented
    assert rating.entered == "as entered from the maker's chart, 2026-11-30 by A. Operator"
    assert rated_load_N(rating, 48 * FOOT_M, 20 * FOOT_M) == pytest.approx(66000 * POUND_KG * G)
    assert rated_load_N(rating, 48 * FOOT_M, 10 * FOOT_M) == pytest.approx(0.0, abs=0.0), "a hole is no load"
    assert lift.trailer.cargo.mass_kg == pytest.approx(20000 * POUND_KG), "the scenario's own wins"
    assert any("as entered from the maker's chart" in one for one in assumptions(lift))
    assert not any("rating table is invented" in one for one in assumptions(lift))
    (folder / "my rig.toml").unlink()
    assert parse_text(dump(lift), "recorded") == lift
    with pytest.raises(BrokenScenario, match=r"my rig.*no such name"):
        parse_text(_lift(), "x")


@pytest.mark.parametrize("last", [48, "47.99", "48' 0 1/4\"", "14.63 m"])
def test_a_boom_of_whole_feet_and_its_last_column_are_one_length(folder: Path, last: object) -> None:
    """0.3 inch of rounding either way; and the boom at its longest has the load of that column."""
    _write(folder, CHART.format(configuration="outriggers full", last=last).replace('"""', "'''"))
    lift = parse_text(_lift(), "x")
    rating, boom = lift.units[0].rating, lift.units[0].boom
    assert rating is not None
    assert rated_load_N(rating, boom.longest_m, 20 * FOOT_M) == pytest.approx(66000 * POUND_KG * G)
    _write(folder, CHART.format(configuration="outriggers full", last="47.9"))
    with pytest.raises(BrokenScenario, match="a column for the longest boom"):
        parse_text(_lift(), "x")


@pytest.mark.parametrize(
    ("charts", "more", "words"),
    [
        ((), "", "any configuration"),
        (("full", "half"), "", "a configuration that is not named (full or half)"),
        (("full", "half"), 'configuration = "short-jacked"', "short-jacked"),
        (("full",), 'floats = { across = "7 ft" }', "floats that are not where the unit's file has them"),
    ],
)
def test_a_configuration_without_a_chart_is_not_judged(
    folder: Path, charts: tuple[str, ...], more: str, words: str
) -> None:
    _write(folder, *(CHART.format(configuration=one, last=48) for one in charts))
    found = check_setup(parse_text(_lift(more), "x"), room=False)
    missing = [one for one in found.not_judged if one.code == "capacity"]
    assert len(missing) == 2 and all(words in one.missing for one in missing), missing
    named = parse_text(_lift('configuration = "full"'), "x") if charts else None
    assert named is None or named.units[0].rating is not None


def test_all_faults_of_a_file_at_once() -> None:
    text = OWN.replace("[unit.floats]", "[unit.floats]\nwide = 3") + CHART.format(configuration="full", last=48)
    text = text.replace('"A. Operator"', "7").replace("2026-11-30", "today") + "\n[other]\n"
    with pytest.raises(BrokenPiece) as broken:
        parse_piece("unit", text, "my rig")
    said = "\n".join(broken.value.faults)
    assert "other" in said and "by" in said and "entered" in said
    assert any("wide" in one for one in checked(parse_piece("unit", OWN + "wide = 3\n", "my rig")))
    twice = OWN + 2 * CHART.format(configuration="full", last=48)
    with pytest.raises(BrokenPiece, match="twice"):
        parse_piece("unit", twice, "my rig")


def test_a_chart_for_all_units_beside_named_ones_is_refused(folder: Path) -> None:
    _write(folder)
    with pytest.raises(BrokenScenario, match="a chart is of one unit"):
        parse_text(_lift() + "[each_unit.rating]\nboom_lengths = [1]\nradii = [1]\nrated = [[1]]\n", "x")


def test_what_ships_is_good_and_says_what_it_is() -> None:
    types = {"dry van", "tank", "flatbed", "container on chassis", "low bed", "straight truck", "bus", "tractor"}
    shipped = {name: find("trailer", name) for name in kept("trailer")}
    assert all(any(name.startswith(one) for name in shipped) for one in types)
    assert all(
        one.typical and "common practice, no source" in one.note and checked(one) == () for one in shipped.values()
    )
    unit = find("unit", "invented rotator")
    assert unit.invented and checked(unit) == ()


def test_the_commands(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, chart = tmp_path / "mine.toml", tmp_path / "chart.txt"
    file.write_text(OWN, encoding="utf-8")
    chart.write_text("Radius\t22\t48\n10\t80,000\t\n20\t\t66,000\n", encoding="utf-8")
    assert main(["units", "import", str(file), "--name", "my rig"]) == 0
    assert "no chart: capacity is not judged" in capsys.readouterr().out
    assert main(["units", "import", str(file), "--name", "my rig"]) == 2, "not over one that is there"
    words = ["units", "chart", "my rig", str(chart), "--configuration", "over the rear", "--by", "B. Rigger"]
    assert main([*words, "--date", "2026-11-30"]) == 0
    assert main(["units", "check", "my rig"]) == 0
    said = capsys.readouterr().out
    assert "over the rear: as entered from the maker's chart, 2026-11-30 by B. Rigger" in said
    assert "no load, so not allowed, in cells C2, B3" in said
    assert main(["units", "export", "my rig", str(tmp_path / "out.toml")]) == 0
    assert parse_piece("unit", (tmp_path / "out.toml").read_text(), "out").charts[0].chart.rated_kg[1][1] > 0.0
    chart.write_text("Radius\t22\t48\n10\t80,000\t\n20\t90,000\t66,000\n", encoding="utf-8")
    assert main([*words, "--date", "2026-11-30"]) == 2, "one chart for each configuration, and B3 rises"
    assert "cell B3" in capsys.readouterr().err
    assert main(["trailers", "list"]) == 0
    assert "dry van 53 ft" in capsys.readouterr().out


def test_a_chart_without_anything_is_empty_and_says_so() -> None:
    assert isinstance(read_chart("Radius 20\n", "us"), Chart)

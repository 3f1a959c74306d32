"""Documents that run: commands, keys, file samples and package lists in the documents are those of the program."""

import argparse
import json
import re
import shlex
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DOCUMENTS = ("README.md", "DEVELOPERS.md", "THIRD_PARTY.md")


def blocks(text: str, language: str) -> list[str]:
    """Fenced blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.DOTALL)


def rows(text: str) -> list[list[str]]:
    """Cells of all table rows."""
    lines = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def shell_lines(program: str) -> list[list[str]]:
    """Lines of the documents' shell blocks that start `program`, as arguments."""
    text = "".join(block for name in DOCUMENTS for block in blocks((ROOT / name).read_text(encoding="utf-8"), "sh"))
    words = [shlex.split(line, comments=True) for line in text.splitlines()]
    return [line[1:] for line in words if line and line[0].endswith(program)]


def subcommands(parser: argparse.ArgumentParser) -> set[str]:
    """Names of the parser's commands."""
    choices = [action.choices for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    return {name for names in choices for name in names}


@pytest.mark.parametrize("arguments", shell_lines("slopepick"), ids=" ".join)
def test_commands_in_the_documents_are_understood(arguments: list[str]) -> None:
    from simulator.__main__ import build_parser

    try:
        build_parser().parse_args(arguments)
    except SystemExit as end:
        assert end.code == 0


def test_every_command_is_in_the_readme() -> None:
    from simulator.__main__ import build_parser

    written = {arguments[0] for arguments in shell_lines("slopepick")}
    assert subcommands(build_parser()) == written


def test_commands_named_in_passing_exist() -> None:
    from simulator.__main__ import build_parser

    text = "".join((ROOT / name).read_text(encoding="utf-8") for name in DOCUMENTS)
    assert set(re.findall(r"`slopepick (\w+)", text)) <= subcommands(build_parser())


def test_scenarios_named_in_commands_are_shipped() -> None:
    from simulator.places import find_scenario

    takes_one = ("demo", "validate", "check", "rigging", "sweep", "rehearse", "picks", "spacing")
    named = {row[1] for row in shell_lines("slopepick") if row[0] in takes_one and row[1] != "FILE"}
    assert named
    assert all(find_scenario(name).is_file() for name in named)


@pytest.mark.parametrize("arguments", [*shell_lines("python"), *shell_lines("python3")], ids=" ".join)
def test_tools_in_the_documents_exist(arguments: list[str]) -> None:
    assert (ROOT / arguments[0]).is_file()


def test_keys_table_is_the_table_of_bindings() -> None:
    from simulator.window.hands.bindings import BINDINGS, Labels
    from simulator.words import say

    labels = Labels()
    bound = {
        (say(f"control.{row.word}").lower(), labels.of(row.left), labels.of(row.right)): row.lever for row in BINDINGS
    }
    written = {}
    for function, left, right, _ in (row for row in rows(README) if len(row) == 4):
        for name, left_key, right_key in zip(*(cell.split(" / ") for cell in (function, left, right)), strict=False):
            written[name, left_key, right_key] = function
    assert set(bound) <= set(written)
    pairs = {written[row] for row in bound}
    assert len(pairs) == len({row.lever for row in BINDINGS}), "each lever has one row"
    assert all(len({bound[row] for row in bound if written[row] == pair}) == 1 for pair in pairs)


def test_the_caution_is_the_one_on_screen() -> None:
    from simulator.words import say

    plain = " ".join(README.replace("> ", "").replace("**", "").split())
    assert say("program.caution") in plain


def test_the_sample_of_a_scenario_has_only_keys_and_values_that_are_allowed() -> None:
    """It is a part, so much is missing in it, but all that it says can be used."""
    from simulator.scenario.faults import NOTHING, BrokenScenario
    from simulator.scenario.reader import parse_text

    (sample,) = blocks(README, "toml")
    assert len(tomllib.loads(sample)) == 6
    with pytest.raises(BrokenScenario) as broken:
        parse_text(sample, "sample")
    assert [str(fault) for fault in broken.value.faults if fault.given != NOTHING] == []


def toml(value: object) -> str:
    """A value as TOML, tables inline."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {toml(part)}" for key, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value)


def laid_over(whole: dict[str, Any], part: dict[str, Any]) -> dict[str, Any]:
    """`whole` with what `part` says; of a list of tables, table by table."""
    both = {key: laid_over(whole[key], new) for key, new in part.items() if isinstance(new, dict) and key in whole}
    lists = {
        key: [laid_over(old, new) for old, new in zip(whole[key], said, strict=False)] + whole[key][len(said) :]
        for key, said in part.items()
        if isinstance(said, list) and isinstance(said[0], dict)
    }
    return {**whole, **part, **both, **lists}


def test_the_sample_of_a_scenario_completed_by_a_shipped_one_is_a_lift() -> None:
    from simulator.places import find_scenario
    from simulator.scenario.reader import parse_text

    (sample,) = blocks(README, "toml")
    said = tomllib.loads(sample)
    shipped = tomllib.loads(find_scenario("tank_on_side").read_text(encoding="utf-8"))
    lift = parse_text("\n".join(f"{key} = {toml(value)}" for key, value in laid_over(shipped, said).items()), "sample")
    assert lift.title == said["title"]
    assert lift.units[0].boom.shortest_m == pytest.approx(22 * 0.3048)
    assert lift.units[0].lines[0].rope_out_m == pytest.approx(137 * 0.3048)
    assert lift.trailer.hidden_cg_m == (0.4, 0.0, 0.0)


def test_pictures_are_there_and_small() -> None:
    pictures = re.findall(r"!\[(.+?)\]\((.+?)\)", README)
    assert {Path(path).suffix for _, path in pictures} == {".gif", ".png"}
    most = {".gif": 3_000_000, ".png": 400_000}
    assert all(words and (ROOT / path).stat().st_size < most[Path(path).suffix] for words, path in pictures)
    assert {path for _, path in pictures} == {
        path.relative_to(ROOT).as_posix() for path in (ROOT / "assets" / "pictures").iterdir()
    }


def test_the_moving_picture_moves_and_shows_a_whole_lift() -> None:
    from PIL import Image

    with Image.open(ROOT / "assets" / "pictures" / "lift.gif") as moving:
        lasts_ms = 0.0
        for frame in range(moving.n_frames):  # type: ignore[attr-defined]
            moving.seek(frame)
            lasts_ms += moving.info["duration"]
        assert moving.size == (960, 540)
    assert 10_000 <= lasts_ms <= 20_000


def test_words_of_the_screen_are_said_as_the_screen_says_them() -> None:
    from simulator.words import table

    minutes = README.split("## The first five minutes in the seat")[1].split("\n## ")[0]
    quoted = {" ".join(words.split()) for words in re.findall(r"\*\*(.+?)\*\*", minutes, re.DOTALL)}
    screen, titles = "\n".join(table().values()), scenario_titles()
    assert len(quoted) > 10
    assert {words for words in quoted if words not in screen and words not in titles} == set()


def scenario_titles() -> str:
    """Titles of the shipped lifts, as their cards show them."""
    from simulator.places import shipped_drills, shipped_scenarios

    files = (*shipped_scenarios(), *shipped_drills())
    return "\n".join(tomllib.loads(path.read_text(encoding="utf-8"))["title"] for path in files)


def test_keys_of_the_first_five_minutes_are_bound_as_they_are_said() -> None:
    from simulator.window.hands.bindings import BINDINGS, Labels
    from simulator.words import say

    labels = {say(f"control.{row.word}"): Labels().of(row.left) for row in BINDINGS}
    minutes = README.split("## The first five minutes in the seat")[1].split("\n## ")[0]
    assert f"**{say('control.telescope_down')}** {labels[say('control.telescope_down')]}" in minutes
    assert f"Hold {labels[say('control.hoist_up')]} (**{say('control.hoist_up')}**)" in minutes
    assert f"Slew toward the road ({labels[say('control.slew_up')]})" in minutes


def test_the_lifts_in_the_readme_are_shipped_with_these_stars_in_the_order_of_the_start_screen() -> None:
    from simulator.places import find_scenario
    from simulator.scenario.reader import load
    from simulator.window.shell.lifts_on_offer import shipped_lifts

    table = README.split("## The lifts that come along")[1].split("\n## ")[0]
    told = [(name.strip("`"), stars) for name, stars, _ in rows(table) if name.startswith("`")]
    lifts = {name: load(find_scenario(name)) for name, _ in told}
    assert len(told) > 5 and [str(lift.difficulty) for lift in lifts.values()] == [stars for _, stars in told]
    assert list(lifts.values()) == [lift for lift in shipped_lifts() if lift in lifts.values()]


def test_every_package_has_its_notice() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {re.split(r"[<>=;\[ ]", requirement, maxsplit=1)[0] for requirement in needed}
    noticed = (ROOT / "THIRD_PARTY.md").read_text(encoding="utf-8")
    assert names and all(re.search(rf"\b{re.escape(name)}\b", noticed) for name in names)


def test_fonts_are_shipped_with_license_and_notice() -> None:
    fonts = ROOT / "assets" / "fonts"
    holder = (fonts / "OFL.txt").read_text(encoding="utf-8").splitlines()[0]
    assert holder.startswith("Copyright")
    assert holder in (ROOT / "THIRD_PARTY.md").read_text(encoding="utf-8")
    assert len(list(fonts.glob("BarlowSemiCondensed_*.ttf"))) == 3


def test_the_house_in_the_developers_page_is_the_one_that_is_held() -> None:
    from tests.house import MAY_IMPORT, OPEN_ROOMS

    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert all(f"`{room}`" in text for room in OPEN_ROOMS)
    page = rows(text)
    written = {wing.strip("`"): set(re.findall(r"`(\w+)`", allowed)) for wing, _, allowed in page if "`" in wing}
    assert {wing: allowed for wing, allowed in written.items() if wing != "__main__"} == MAY_IMPORT


def test_the_picture_of_imports_is_that_of_the_sources() -> None:
    """Each line as high as it must be; import-linter holds that imports go down."""
    from tests.house import MAY_IMPORT

    (picture,) = blocks((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), "imports")
    lines = [set(line.split()) for line in reversed(picture.splitlines())]
    height = {wing: row for row, wings in enumerate(lines) for wing in wings}
    assert {
        wing: 1 + max((height[under] for under in under_it), default=-1) for wing, under_it in MAY_IMPORT.items()
    } == (height)
    said = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    (held,) = (one["layers"] for one in said["tool"]["importlinter"]["contracts"] if one["type"] == "layers")
    layers = [{name.removeprefix("simulator.") for name in line.split(" | ")} for line in held]
    assert [line - {"__init__"} for line in lines] == layers[:0:-1], "what import-linter holds is the picture"


def test_each_journey_goes_from_room_to_room_by_imports_and_passes_none_twice() -> None:
    (picture,) = blocks((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), "journeys")
    journeys = [journey.splitlines() for journey in picture.strip().split("\n\n")]
    assert [head for head, *_ in journeys] == [
        "A key to a pixel",
        "A scenario to a verdict",
        "A recording to a sentence",
        "A track to telemetry",
        "A drill file to a score",
    ]
    for head, *lines in journeys:
        rooms = [line.split()[0] for line in lines]
        assert len(set(rooms)) == len(rooms), head
        sources = {room: (ROOT / "simulator" / f"{room}.py").read_text(encoding="utf-8") for room in rooms}
        for one, other in pairwise(rooms):
            names = [f"simulator.{room.replace('/', '.')} " for room in (one, other)]
            assert names[1] in sources[one] or names[0] in sources[other], f"{head}: {one} and {other}"


def test_what_a_wing_may_import_is_what_some_room_of_it_imports() -> None:
    from tests.house import MAY_IMPORT, wing_of, wings_imported

    package, used = ROOT / "simulator", {wing: set[str]() for wing in (*MAY_IMPORT, "__main__")}
    for path in package.rglob("*.py"):
        where = path.relative_to(package).as_posix()
        used[wing_of(where)] |= wings_imported(where, path.read_text(encoding="utf-8"))
    assert {wing: allowed - used[wing] for wing, allowed in MAY_IMPORT.items() if allowed - used[wing]} == {}

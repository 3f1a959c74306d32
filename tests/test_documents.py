"""Documents that run: commands, keys, file samples and package lists in the documents are those of the program."""

import argparse
import re
import shlex
import tomllib
from pathlib import Path

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


@pytest.mark.parametrize("arguments", [*shell_lines("python"), *shell_lines("python3")], ids=" ".join)
def test_tools_in_the_documents_exist(arguments: list[str]) -> None:
    assert (ROOT / arguments[0]).is_file()


def test_keys_table_is_the_table_of_bindings() -> None:
    from simulator.window.bindings import BINDINGS, Labels
    from simulator.words import say

    labels = Labels()
    bound = {
        (say(f"control.{row.word}").lower(), labels.of(row.left), labels.of(row.right)): row.function
        for row in BINDINGS
    }
    written = {}
    for function, left, right, _ in (row for row in rows(README) if len(row) == 4):
        for name, left_key, right_key in zip(*(cell.split(" / ") for cell in (function, left, right)), strict=False):
            written[name, left_key, right_key] = function
    assert set(bound) <= set(written)
    pairs = {written[row] for row in bound}
    assert len(pairs) == 4, "each function has one row"
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
    assert len(tomllib.loads(sample)) == 5
    with pytest.raises(BrokenScenario) as broken:
        parse_text(sample, "sample")
    assert [str(fault) for fault in broken.value.faults if fault.given != NOTHING] == []


def test_every_package_has_its_notice() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {re.split(r"[<>=;\[ ]", requirement, maxsplit=1)[0] for requirement in needed}
    noticed = (ROOT / "THIRD_PARTY.md").read_text(encoding="utf-8")
    assert names and all(re.search(rf"\b{re.escape(name)}\b", noticed) for name in names)


def test_fonts_are_shipped_with_licence_and_notice() -> None:
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

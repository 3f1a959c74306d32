"""What reaches the terminal: letters and spaces, whoever wrote them."""

from __future__ import annotations

import json
from math import inf, nan

import pytest

from simulator.files.plain_text import cut_to, one_line, steers
from simulator.files.terminal import Parser, as_typed, complain, tell, tell_json

WILD = (
    "\x1b]52;c;cm0gLXJmIH4=\x07",  # puts a command into the clipboard
    "\x1b[2J\x1b[31m",
    "\x9b31m",
    "a\rb",
    "a\nb",
    "\u202egnol",
    "\u2028",
    "\x00",
    "\ud800",
    "\x7f",
)


@pytest.mark.parametrize("text", WILD, ids=ascii)
def test_a_line_is_one_line_of_letters(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    tell(f"title {text} end")
    complain(f"title {text} end")
    for said in capsys.readouterr():
        assert said.startswith("title ") and said.endswith(" end\n")
        assert said[:-1].isprintable()


def test_only_our_own_colors_pass(capsys: pytest.CaptureFixture[str]) -> None:
    tell("\x1b[31mSTOP\x1b[0m a\x1b]52;c;x\x07b\x1b[2Jc", color=True)
    assert capsys.readouterr().out == "\x1b[31mSTOP\x1b[0m a ]52;c;x b [2Jc\n"


def test_json_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    tell_json({"a": inf, "b": [nan, 1.5, {"c": -inf}], "d": (1, True, None), "text": "\x1b[2J"})
    said = capsys.readouterr().out

    def refuse(word: str) -> None:
        raise AssertionError(word)

    assert json.loads(said, parse_constant=refuse) == {
        "a": None,
        "b": [None, 1.5, {"c": None}],
        "d": [1, True, None],
        "text": "\x1b[2J",
    }
    assert "\x1b" not in said


def test_a_fault_of_the_command_line_is_plain(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        Parser(prog="x").parse_args(["\x1b]0;title\x07"])
    assert "\x1b" not in capsys.readouterr().err


def test_text_is_cut() -> None:
    assert cut_to("a" * 50_000, 10) == "aaaaaaa..."
    assert cut_to("short", 10) == "short"
    assert one_line("plain") == "plain"


def test_what_steers() -> None:
    assert not steers("two\nlines\tand\u00a0a space", lines=True)
    assert steers("two\nlines")
    assert all(steers(text, lines=True) for text in WILD if text not in ("a\rb", "a\nb"))


@pytest.mark.parametrize(
    ("system", "typed"), [("linux", "'C:\\my lifts\\a.toml'"), ("win32", '"C:\\my lifts\\a.toml"')]
)
def test_a_path_is_shown_as_the_systems_shell_takes_it(
    system: str, typed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("simulator.files.terminal.sys.platform", system)
    assert as_typed("C:\\my lifts\\a.toml") == typed
    assert as_typed("a.toml") == "a.toml"

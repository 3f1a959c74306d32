"""The one door to the terminal: whatever stands in a line, it is printed as text and steers nothing."""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections.abc import Callable
from itertools import cycle
from math import isfinite
from typing import Any, TextIO

from simulator.files.plain_text import one_line

_OWN_COLOR = re.compile(r"(\x1b\[[0-9;]{1,6}m)")


def tell(*lines: object, to: TextIO | None = None, color: bool = False) -> None:
    """Print lines, each made plain.

    Args:
        lines: one argument, one line of the terminal.
        to: where; standard output.
        color: the lines hold colors of ours, and no text that was not looked at before.
    """
    out = sys.stdout if to is None else to
    for line in lines:
        print(_colored(str(line)) if color else one_line(str(line)), file=out)


def complain(*lines: object) -> None:
    """The same on standard error."""
    tell(*lines, to=sys.stderr)


def as_typed(path: str) -> str:
    """A path as one word of a command line, for the shells that are usual on this system."""
    from shlex import quote
    from subprocess import list2cmdline

    return list2cmdline([path]) if sys.platform == "win32" else quote(path)


def show_progress(text: str) -> None:
    """Write over the present line of standard error, if somebody looks; empty text ends it."""
    if sys.stderr.isatty():
        print(f"\r{one_line(text)}" if text else "", end="" if text else "\n", file=sys.stderr, flush=True)


def tell_json(values: dict[str, Any]) -> None:
    """JSON that any reader takes: what is no finite number is null, what is no letter is escaped."""
    print(json.dumps(finite(values), indent=2, allow_nan=False))


def finite(value: Any) -> Any:
    """A tree of values with null for every number that JSON has no word for."""
    if isinstance(value, dict):
        return {key: finite(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [finite(one) for one in value]
    return None if isinstance(value, float) and not isfinite(value) else value


def ask(question: str) -> str:
    """What somebody types.

    Raises:
        EOFError: nobody is there.
    """
    return input(one_line(question))


class Parser(argparse.ArgumentParser):
    """A command line whose faults repeat what was typed, made plain."""

    later: Callable[[argparse.ArgumentParser], None] | None = None
    """Adds options that are only looked at when its command is the one that is given."""

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """With the options that were left for later."""
        if self.later is not None:
            add, self.later = self.later, None
            add(self)
        return super().parse_known_args(args, namespace)

    def _print_message(self, message: str, file: Any = None) -> None:
        if message:
            super()._print_message("\n".join(map(one_line, message.split("\n"))), file)


def _colored(line: str) -> str:
    """A line whose colors stay."""
    pieces = zip(_OWN_COLOR.split(line), cycle((False, True)), strict=False)
    return "".join(piece if is_ours else one_line(piece) for piece, is_ours in pieces)


def units_option(parser: argparse.ArgumentParser) -> None:
    """For a command that shows numbers or takes them: alike everywhere."""
    words = "units shown, and of plain numbers (m, t, deg, m/s; or ft, lb, deg, mph); left out: as in your settings"
    parser.add_argument("--units", choices=("metric", "us"), help=words)
    words = "which ton is meant by 26 tons: 2,000 lb, or 1,000 kg; left out: as in your settings"
    parser.add_argument("--tons", choices=("short", "metric"), help=words)


def force_option(parser: argparse.ArgumentParser) -> None:
    """For a command that writes files."""
    parser.add_argument("--force", action="store_true", help="write over files that are there")

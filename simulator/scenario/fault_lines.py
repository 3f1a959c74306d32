"""The line of a scenario file that a fault is about. Needed for a broken file only, so nobody else imports it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from typing import NamedTuple

from simulator.scenario.faults import Fault, shown_key

TOKEN = re.compile(
    r'''
    """(?:\\.|[^\\])*?"{3,5} | \'{3}.*?\'{3,5}   # texts of several lines; one may end in quotes of its own
    | "(?:\\.|[^"\\\n])*" | '[^'\n]*'
    | \#[^\n]*
    | [\[\]{},.=\n]
    | [^\s\[\]{},.=\#"']+
    ''',
    re.DOTALL | re.VERBOSE,
)
ITEM = re.compile(r" (?:row|number) (?=\d)")
LAST_STEP = re.compile(r"[. ][^. ]*$")


def with_lines(faults: Iterable[Fault], text: str, where: str) -> list[Fault]:
    """The faults of a file, each with the line it is about.

    Args:
        faults: as they were found.
        text: of the file; TOML.
        where: the file's name, which every place begins with.

    Returns:
        `tank.toml: line 7: [units.boom] longest` and so on: the line of the key, else of the nearest table above it
        that stands in the file. One about a table that would stand at the top, and does not, has no line.
    """
    lines = lines_of(text)
    return [_numbered(fault, fault.place.removeprefix(f"{where}: "), where, lines) for fault in faults]


def _numbered(fault: Fault, place: str, where: str, lines: dict[str, int]) -> Fault:
    name = dotted(place)
    while name not in lines and LAST_STEP.search(name):
        name = LAST_STEP.sub("", name)
    return fault if name not in lines else Fault(f"{where}: line {lines[name]}: {place}", fault.given, fault.allowed)


def dotted(place: str) -> str:
    """`[trailer.parts 3] outline row 2` is `trailer.parts 3.outline 2`."""
    return ITEM.sub(" ", place.replace("[", "").replace("] ", ".").replace("]", ""))


def lines_of(text: str) -> dict[str, int]:
    """The line of every key, table and item of a list, by dotted name.

    Args:
        text: TOML, without a fault.
    """
    walk = _Walk(_tokens(text))
    walk.all()
    return walk.lines


class _Token(NamedTuple):
    text: str
    line: int


def _tokens(text: str) -> list[_Token]:
    """Without comments; a line's end is a token too."""
    found, line = [], 1
    for match in TOKEN.finditer(text):
        if not match[0].startswith("#"):
            found.append(_Token(match[0], line))
        line += match[0].count("\n")
    return [*found, _Token("\n", line)]


class _Walk:
    """Goes through the tokens once; what is no key or list is passed over."""

    def __init__(self, tokens: list[_Token]) -> None:
        self._tokens, self._at = tokens, 0
        self._counts: dict[str, int] = {}
        """Tables so far of each array of tables."""
        self.lines: dict[str, int] = {}

    def all(self) -> None:
        """To the end."""
        table = ""
        while self._at < len(self._tokens):
            if self._next == "\n":
                self._take()
            elif self._next == "[":
                table = self._header()
            else:
                self._pair(table)

    @property
    def _next(self) -> str:
        return self._tokens[self._at].text

    def _take(self) -> _Token:
        self._at += 1
        return self._tokens[self._at - 1]

    def _header(self) -> str:
        """`[site.soil]` or `[[trailer.parts]]`; an own header tells more than a mention in another one."""
        line = self._take().line
        is_item = self._next == "["
        name = self._keys("", is_item=is_item)
        if is_item:
            self._counts[name] = self._counts.get(name, 0) + 1
            name += f" {self._counts[name]}"
        self.lines[name] = line
        while self._next != "\n":
            self._take()
        return name

    def _keys(self, above: str, *, is_item: bool = False) -> str:
        """Keys with dots between them; on the way an array of tables stands for its newest one."""
        if is_item:
            self._take()
        name = above
        while True:
            token = self._take()
            key = dotted(shown_key(_key(token.text)))
            name = f"{name}.{key}" if name else key
            self.lines.setdefault(name, token.line)
            if self._next != ".":
                return name
            self._take()
            name += f" {self._counts[name]}" if name in self._counts else ""

    def _pair(self, table: str) -> None:
        """`key = value`."""
        name = self._keys(table)
        self._take()
        self._value(name)

    def _value(self, name: str) -> None:
        opening = self._next
        if opening == "[":
            self._list(name)
        elif opening == "{":
            self._take()
            while self._next != "}":
                if self._next in (",", "\n"):
                    self._take()
                else:
                    self._pair(name)
            self._take()
        else:
            while self._next not in (",", "]", "}", "\n"):
                self._take()

    def _list(self, name: str) -> None:
        """Its items, counted from 1."""
        self._take()
        count = 0
        while self._next != "]":
            if self._next in (",", "\n"):
                self._take()
                continue
            count += 1
            self.lines[f"{name} {count}"] = self._tokens[self._at].line
            self._value(f"{name} {count}")
        self._take()


def _key(written: str) -> str:
    """A key without its quotes and escapes."""
    return next(iter(tomllib.loads(f"{written} = 0"))) if written[0] in "\"'" else written

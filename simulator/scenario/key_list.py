"""Every key of scenario files with meaning, unit, range, default and source, made from the description itself."""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from dataclasses import MISSING, is_dataclass
from functools import lru_cache
from math import inf
from typing import Any, Literal, NamedTuple, get_args, get_origin

from simulator.scenario.description import Description
from simulator.scenario.keys import apart, entries, extra
from simulator.scenario.measures import Measure, Names
from simulator.scenario.toml_writer import as_toml


class KeyRow(NamedTuple):
    """One key."""

    table: str
    """Such as `[units.boom]`; empty for the top of the file."""
    key: str
    meaning: str
    unit: str
    allowed: str
    """Range of a number, choices of a text."""
    default: str
    """Empty: the file has to give it."""
    source: str

    @property
    def path(self) -> str:
        """`units.boom.shortest`"""
        return f"{self.table.strip('[]')}.{self.key}".lstrip(".")


_SOURCES = re.compile(
    r"(?:[Cc]ommon practice, no source|[Oo]ur (?:own )?choice, no source|[^.;(]*from memory|"
    r"(?:29 CFR|IBC|ASCE|NIST|ISO|ASME|WMO|SAE|BS) ?[\w. ()/-]*[\w)])"
)
"""What a docstring names as where a number comes from."""
TO_GIVE = "of this lift: measured, from papers or from the maker"
CHOSEN = "the program's own"
NAMED = tuple(
    KeyRow(
        f"[{table}]",
        "from",
        f"A {kind} kept in a file of its own; what stands beside it wins.",
        "",
        f"a name of `slopepick {kind}s list`",
        "none",
        TO_GIVE,
    )
    for table, kind in (("units", "unit"), ("trailer", "trailer"))
)
"""Keys that are gone once the file is read."""


def key_rows() -> tuple[KeyRow, ...]:
    """Every key, table by table; `[each_unit]` takes those of `[[units]]`."""
    return (*_rows(Description, ""), *NAMED)


def _rows(table: type, name: str) -> Iterator[KeyRow]:
    inner: list[tuple[type, str]] = []
    for entry in entries(table):
        base, measure, _ = apart(entry.hint)
        member = apart(get_args(base)[0], measure) if get_origin(base) is tuple else None
        inside = member.base if member is not None else base
        if is_dataclass(inside) and isinstance(inside, type):
            inner.append((inside, f"{name}.{entry.key}".lstrip(".")))
        else:
            yield _row(table, name, entry.field, entry.key, entry.hint, entry.default)
    for inside, below in inner:
        yield from _rows(inside, below)


def _row(table: type, name: str, field: str, key: str, hint: Any, default: Any) -> KeyRow:
    base, measure, _ = apart(hint)
    measure = _measure(base, measure)
    words = " ".join(_docs(table).get(field, "").split())
    source = "; ".join(dict.fromkeys(found.strip() for found in _SOURCES.findall(words)))
    of_table = _SOURCES.findall(" ".join((table.__doc__ or "").split()))
    usual = "" if default is MISSING else "left out" if default is None else as_toml(default)
    if not source:
        source = TO_GIVE if default is MISSING or default is None else of_table[0] if of_table else CHOSEN
    return KeyRow(f"[{name}]" if name else "", key, words, _unit(measure), _allowed(hint, base, measure), usual, source)


def _measure(base: Any, measure: Measure | None) -> Measure | None:
    """The measure of a number or of the numbers in a list."""
    while measure is None and get_origin(base) is tuple:
        base, measure, _ = apart(get_args(base)[0], measure)
    return measure


def _unit(measure: Measure | None) -> str:
    return "" if measure is None or measure.unit == "1" else measure.unit


def _allowed(hint: Any, base: Any, measure: Measure | None) -> str:
    if extra(hint, Names) is not None:
        return "a reading's name (`slopepick readings`)"
    if get_origin(base) is Literal:
        return ", ".join(as_toml(choice) for choice in get_args(base))
    if get_origin(base) is tuple:
        inner = apart(get_args(base)[0]).base
        members = _allowed(get_args(base)[0], inner, measure)
        return f"a list{'' if get_args(base)[-1] is Ellipsis else f' of {len(get_args(base))}'}, each {members}"
    if base in (str, bool):
        return "a text" if base is str else "true, false"
    return _range(measure, whole=base is int)


def _range(measure: Measure | None, *, whole: bool) -> str:
    kind = "a whole number" if whole else "a number"
    if measure is None or (measure.low, measure.high) == (-inf, inf):
        return kind
    return f"{kind}, {measure.low:g} to {measure.high:g}"


@lru_cache(maxsize=64)
def _docs(table: type) -> dict[str, str]:
    """The docstring under each field, those of what it is made from too."""
    found: dict[str, str] = {}
    for one in reversed(table.__mro__):
        if is_dataclass(one):
            found |= _own_docs(one)
    return found


def _own_docs(table: Any) -> dict[str, str]:
    body = ast.parse(inspect.getsource(table)).body[0]
    assert isinstance(body, ast.ClassDef), "a dataclass is a class"
    found = {}
    for field, below in zip(body.body, body.body[1:], strict=False):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name) and isinstance(below, ast.Expr):
            found[field.target.id] = str(ast.literal_eval(below.value))
    return found


PAGE = """# Keys of scenario files

Made from the description by `python tools/keys.py`, and by `slopepick keys`. A plain number is SI; text may carry its
unit: "43 ft", "8 ft 6 in", "53,000 lb", "12 deg". `[each_unit]` takes the keys of `[[units]]` and gives them to all.
Where a default is empty, the file has to give the key. Defaults are not of your lift: look at each before you rely on
it.
"""


HEAD = ("| key | meaning | unit | allowed | default | source |", "| --- | --- | --- | --- | --- | --- |")


def page() -> str:
    """All of it as a page of the documents."""
    lines = [PAGE]
    for table in dict.fromkeys(row.table for row in key_rows()):
        lines += [f"\n## {table or 'Top of the file'}\n", *HEAD]
        for row in key_rows():
            if row.table == table:
                cells = (f"`{row.key}`", row.meaning, row.unit, row.allowed, row.default, row.source)
                lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(lines) + "\n"


def key_lines(words: str = "") -> list[str]:
    """Those keys that have all these words in their path or meaning, as lines of text."""
    wanted = words.lower().split()
    lines = []
    for row in key_rows():
        if not all(one in f"{row.path} {row.meaning}".lower() for one in wanted):
            continue
        default = f"default {row.default}" if row.default else "to be given"
        allowed = f"{row.allowed} {row.unit}".strip()
        lines += [f"{row.path}: {row.meaning}", f"    {allowed}; {default}; {row.source}"]
    return lines

"""The file of rigging hardware, read with every fault listed."""

from __future__ import annotations

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any, get_args

from simulator.scenario.faults import NOTHING, BrokenScenario, Fault, cut, listed, shown
from simulator.scenario.hardware import Hardware, Kind, Mark, Piece, Table
from simulator.scenario.measures import POUND_N

KEYS = {"name", "kind", "source", "mark", "marks", "size", "mm", "rated_lb"}


def load_hardware(path: Path) -> Hardware:
    """Every table of a hardware file.

    Raises:
        BrokenScenario: with everything that is wrong with it.
    """
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        what = getattr(error, "strerror", None) or str(error)
        raise BrokenScenario([Fault(path.name, cut(what), "a readable file of hardware, TOML")]) from error
    return parse_hardware(given, path.name)


def parse_hardware(given: dict[str, Any], where: str) -> Hardware:
    """Tables of a file that is already read as TOML.

    Raises:
        BrokenScenario: with everything that is wrong with it.
    """
    rows = given.get("table")
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise BrokenScenario([Fault(where, shown(rows) if rows else NOTHING, "tables [[table]], at least one")])
    faults: list[Fault] = []
    tables = [_table(row, f"{where}: [[table]] {number}", faults) for number, row in enumerate(rows, 1)]
    names = [table.name for table in tables if table is not None]
    for name in dict.fromkeys(name for name in names if names.count(name) > 1):
        faults.append(Fault(where, f"two tables named {cut(name)}", "a name of its own for each table"))
    if faults:
        raise BrokenScenario(faults)
    return Hardware(tuple(table for table in tables if table is not None))


def _table(row: dict[str, Any], where: str, faults: list[Fault]) -> Table | None:
    before = len(faults)
    kind, mark = row.get("kind"), row.get("mark")
    sizes, rated = row.get("size"), row.get("rated_lb")
    for key in row:
        if key not in KEYS:
            faults.append(Fault(f"{where} {cut(key)}", "a name that is not known", listed(sorted(KEYS))))
    for key in ("name", "source"):
        if not isinstance(row.get(key), str) or not row[key].strip():
            faults.append(Fault(f"{where} {key}", shown(row.get(key, NOTHING)), "text that is not blank"))
    for key, value, choices in (("kind", kind, get_args(Kind)), ("mark", mark, get_args(Mark))):
        if value not in choices:
            faults.append(Fault(f"{where} {key}", shown(value or NOTHING), listed(shown(one) for one in choices)))
    if not isinstance(sizes, list) or not sizes or not all(isinstance(size, str) for size in sizes):
        faults.append(Fault(f"{where} size", shown(sizes or NOTHING), "a list of texts, smallest size first"))
    elif not _rising(rated, len(sizes)):
        allowed = f"{len(sizes)} numbers in pounds, each larger than the one before"
        faults.append(Fault(f"{where} rated_lb", shown(rated or NOTHING), allowed))
    else:
        _lists(row, where, len(sizes), faults)
    if len(faults) > before:
        return None
    return Table(row["name"], row["kind"], row["source"], _pieces(row))


def _lists(row: dict[str, Any], where: str, count: int, faults: list[Fault]) -> None:
    """Lists that may be left out."""
    marks, mm = row.get("marks"), row.get("mm")
    if marks is not None and not (
        isinstance(marks, list) and len(marks) == count and all(one in get_args(Mark) for one in marks)
    ):
        faults.append(Fault(f"{where} marks", shown(marks), f"{count} of {listed(get_args(Mark))}"))
    if mm is not None and not _rising(mm, count):
        faults.append(Fault(f"{where} mm", shown(mm), f"{count} numbers, each larger than the one before"))


def _rising(values: Any, count: int) -> bool:
    if not isinstance(values, list) or len(values) != count:
        return False
    if not all(isinstance(one, int | float) and not isinstance(one, bool) and 0.0 < one < 1e9 for one in values):
        return False
    return all(a < b for a, b in pairwise(values))


def _pieces(row: dict[str, Any]) -> tuple[Piece, ...]:
    count = len(row["size"])
    marks = row.get("marks", [row["mark"]] * count)
    mm = row.get("mm", [None] * count)
    return tuple(
        Piece(row["name"], size, pounds * POUND_N, mark, None if wide is None else wide / 1000.0)
        for size, pounds, mark, wide in zip(row["size"], row["rated_lb"], marks, mm, strict=True)
    )

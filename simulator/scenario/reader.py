"""Scenario files: TOML to the frozen description, with every fault of the file listed at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

from simulator.scenario.checks import check
from simulator.scenario.description import END_NAMES, Description
from simulator.scenario.faults import NOTHING, BrokenScenario, Fault, cut, listed, one_line, shown
from simulator.scenario.soils import SOILS
from simulator.scenario.tables import FAILED, Layer, Notes, read_table
from simulator.scenario.unit import Unit

LARGEST_FILE_BYTES = 1_000_000
UNIT_FIELDS = {f"{end}_unit": end for end in END_NAMES}
"""Fields of the description that a file gives in `[units]`."""


def load(path: Path) -> Description:
    """The lift that a scenario file describes.

    Raises:
        BrokenScenario: the file cannot be read, or its content cannot be used.
    """
    return parse_text(_text(Path(path)), Path(path).name, has_lines=True)


def parse_text(text: str, where: str, *, has_lines: bool = False) -> Description:
    """The lift that the text of a scenario file describes.

    Args:
        text: TOML.
        where: its name for faults.
        has_lines: it is a file that somebody can open: each fault tells the line it is about.

    Raises:
        BrokenScenario: with everything that is wrong, in the order of the tables.
    """
    notes = Notes(one_line(where))
    top = _toml(text, notes.where)
    if not top:
        raise BrokenScenario([Fault(notes.where, "a file without any value", "a scenario")])
    top = _with_soil(notes, top)
    units = _read_units(notes, top)
    rest = Layer("", {key: value for key, value in top.items() if key != "units"})
    description = read_table(notes, Description, [rest], "", ready=units)
    check(notes)
    if notes.faults:
        faults = dict.fromkeys(notes.faults)
        raise BrokenScenario(_with_lines(faults, text, notes.where) if has_lines else faults)
    if not isinstance(description, Description):
        raise BrokenScenario([Fault(notes.where, "a scenario that could not be read", "a scenario")])
    return description


def validate(files: Sequence[str | Path], *, find: Callable[[str], Path] = Path) -> tuple[list[str], int]:
    """Read scenario files and say what is wrong with each.

    Args:
        files: paths, or names that `find` turns into paths.
        find: may raise `BrokenScenario` for a name it does not know.

    Returns:
        Lines to print, and the exit code: 0 when all are good, else 2.
    """
    lines, code = [], 0
    for file in files:
        name = one_line(str(file))
        try:
            description = load(file if isinstance(file, Path) else find(file))
        except BrokenScenario as broken:
            code = 2
            count = len(broken.faults)
            lines += [f"{name}: {count} fault{'s' if count > 1 else ''}", *(f"  {fault}" for fault in broken.faults)]
        else:
            lines.append(f"{name}: good, {one_line(description.title)}")
    return lines, code


def _text(path: Path) -> str:
    """Text of a file; everything that may be wrong with the file itself."""

    def broken(given: str, allowed: str) -> BrokenScenario:
        return BrokenScenario([Fault(one_line(path.name or str(path)), given, allowed)])

    try:
        if path.is_dir():
            raise broken("a folder", "a scenario file")
        if not path.exists():
            raise broken("no such file", "a scenario file that exists")
        if not path.is_file() or path.stat().st_size > LARGEST_FILE_BYTES:
            raise broken("no plain file of a sensible size", f"a file of at most {LARGEST_FILE_BYTES} bytes")
        raw = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        raise broken(
            f"a file that cannot be read ({cut(reason or str(error))})", "a file this user may read"
        ) from error
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise broken(f"bytes in line {line} that are not UTF-8 text", "text saved as UTF-8") from error


def _toml(text: str, where: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        lines = text.splitlines() or [""]
        found = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        number = min(int(found[1]), len(lines)) if found else len(lines)
        reason = re.sub(r"\s*\(at .*?\)$", "", str(error))
        given = shown(lines[number - 1].strip())
        raise BrokenScenario([Fault(f"{where}: line {number}", given, f"TOML ({cut(reason)})")]) from error


def _with_lines(faults: Iterable[Fault], text: str, where: str) -> list[Fault]:
    """A good file does without what finds lines."""
    from simulator.scenario.fault_lines import with_lines

    return with_lines(faults, text, where)


def _with_soil(notes: Notes, top: dict[str, Any]) -> dict[str, Any]:
    """A named soil brings its numbers along; one that nobody knows must bring both itself."""
    site = top.get("site")
    soil = site.get("soil") if isinstance(site, dict) else None
    if not isinstance(site, dict) or not isinstance(soil, dict) or not isinstance(soil.get("name"), str):
        return top
    known = SOILS.get(soil["name"], {})
    if not known and not {"allowable_bearing", "steepest_angle"} <= soil.keys():
        may = f"{listed(SOILS)}; any other name with allowable_bearing and steepest_angle beside it"
        notes.fault("[site.soil] name", shown(soil["name"]), may)
    return {**top, "site": {**site, "soil": {**known, **soil}}}


def _read_units(notes: Notes, top: dict[str, Any]) -> dict[str, Any]:
    """Both units, by field: what `[units]` gives both, completed or overridden by `[units.nose]`, `[units.tail]`."""
    shared = top.get("units", {})
    if not isinstance(shared, dict) or not shared:
        given = shown(shared) if shared else NOTHING
        notes.fault("units", given, "tables [units.nose] and [units.tail], and in [units] what they share")
        return dict.fromkeys(UNIT_FIELDS, FAILED)
    before = len(notes.faults)
    both = Layer("units", {key: value for key, value in shared.items() if key not in END_NAMES})
    result = {field: _read_unit(notes, both, shared.get(end, {}), end) for field, end in UNIT_FIELDS.items()}
    notes.faults[before:] = _missing_at_both(notes.faults[before:])
    return result


def _read_unit(notes: Notes, both: Layer, own: Any, end: str) -> Any:
    if not isinstance(own, dict):
        return notes.fault(f"[units] {end}", shown(own), f"a table [units.{end}]")
    return read_table(notes, Unit, [both, Layer(f"units.{end}", own)], f"units.{end}")


def _missing_at_both(faults: list[Fault]) -> list[Fault]:
    """What is missing at both ends is missing once, in what they share."""
    shared = {fault: _at_shared(fault) for fault in faults if fault.given == NOTHING}
    counts = list(shared.values())
    return [shared[fault] if counts.count(shared.get(fault, fault)) > 1 else fault for fault in faults]


def _at_shared(fault: Fault) -> Fault:
    def moved(words: str) -> str:
        return re.sub(r"\[units\.(nose|tail)([].])", r"[units\2", words, count=1)

    return Fault(moved(fault.place), fault.given, moved(fault.allowed))

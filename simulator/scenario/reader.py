"""Scenario files: TOML to the frozen description, with every fault of the file listed at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

from simulator.files.bounds import FAULTS, LIST_ITEMS, SCENARIO_BYTES
from simulator.files.reading import Unreadable, text_of
from simulator.scenario.checks import check
from simulator.scenario.description import Description
from simulator.scenario.faults import NOTHING, BrokenScenario, Fault, cut, listed, one_line, shown
from simulator.scenario.kept_pieces import names_pieces, with_kept
from simulator.scenario.older import is_older, newer, older_words, respelled, with_tank, with_told
from simulator.scenario.rig import MOST_LINES, NOSE, TAIL
from simulator.scenario.site import SOILS
from simulator.scenario.tables import FAILED, Layer, Notes, read_table
from simulator.scenario.toml_size import too_much
from simulator.scenario.unit import Hoist, Line, Unit

MOST_READ = 64
_READ: dict[str, Description] = {}
"""What good texts say, for all who ask again: a start screen reads every file whenever it opens. Not of those that
name a unit or a trailer kept in a file of its own, which may have changed."""


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
    if text in _READ:
        return _READ[text]
    notes = Notes(one_line(where))
    top = _toml(text, notes.where)
    if not top:
        raise BrokenScenario([Fault(notes.where, "a file without any value", "a scenario")])
    older, alone = is_older(top), not names_pieces(top)
    top = _with_soil(notes, with_told(with_kept(notes, with_tank(respelled(newer(notes, top) if older else top)))))
    units = _read_units(notes, top)
    rest = Layer("", {key: value for key, value in top.items() if key not in ("units", "each_unit")})
    description = read_table(notes, Description, [rest], "", ready={"units": units})
    check(notes)
    if notes.faults:
        faults = list(dict.fromkeys(notes.faults))
        raise BrokenScenario(placed(faults, text, notes.where) if has_lines else _worded(faults, is_older=older))
    if not isinstance(description, Description):
        raise BrokenScenario([Fault(notes.where, "a scenario that could not be read", "a scenario")])
    if alone:
        _remember(text, description)
    return description


def _remember(text: str, description: Description) -> None:
    """Keep what a text says, in the place of the longest kept where there are many."""
    while len(_READ) >= MOST_READ:
        del _READ[next(iter(_READ))]
    _READ[text] = description


def validate(
    files: Sequence[str | Path],
    *,
    find: Callable[[str], Path] = Path,
    read: Callable[[Path], Description] = load,
) -> tuple[list[str], int]:
    """Read scenario files and say what is wrong with each.

    Args:
        files: paths, or names that `find` turns into paths.
        find: may raise `BrokenScenario` for a name it does not know.
        read: reads one, and may look at more than its numbers.

    Returns:
        Lines to print, and the exit code: 0 when all are good, else 2.
    """
    lines, code = [], 0
    for file in files:
        name = one_line(str(file))
        try:
            description = read(file if isinstance(file, Path) else find(file))
        except BrokenScenario as broken:
            code = 2
            count = len(broken.faults)
            lines += [f"{name}: {count} fault{'s' if count > 1 else ''}", *(f"  {fault}" for fault in broken.faults)]
        else:
            lines.append(f"{name}: good, {one_line(description.title)}")
    return lines, code


def _text(path: Path) -> str:
    """Text of a file; everything that may be wrong with the file itself."""
    try:
        return text_of(path, SCENARIO_BYTES, "a scenario file")
    except Unreadable as error:
        raise BrokenScenario([Fault(one_line(path.name or str(path)), error.given, error.allowed)]) from error


def _toml(text: str, where: str) -> dict[str, Any]:
    if (over := too_much(text)) is not None:
        raise BrokenScenario([Fault(f"{where}: line {over.line}", over.given, over.allowed)])
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        lines = text.splitlines() or [""]
        found = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
        number = min(int(found[1]), len(lines)) if found else len(lines)
        reason = re.sub(r"\s*\(at .*?\)$", "", str(error))
        given = shown(lines[number - 1].strip())
        raise BrokenScenario([Fault(f"{where}: line {number}", given, f"TOML ({cut(reason)})")]) from error


def placed(faults: Sequence[Fault], text: str, where: str) -> list[Fault]:
    """Faults of a file in the words of its own form, each with the line it is about, as many as somebody would read.

    Args:
        faults: in today's form.
        text: of the file; TOML.
        where: the file's name, which every place begins with.
    """
    # A good file does without what finds lines.
    from simulator.scenario.fault_lines import with_lines

    told = with_lines(_worded(faults[:FAULTS], is_older=is_older(tomllib.loads(text))), text, where)
    more = len(faults) - FAULTS
    return [*told, Fault(where, f"{more} more faults", "none")] if more > 0 else told


def _worded(faults: Iterable[Fault], *, is_older: bool) -> list[Fault]:
    return [Fault(*map(older_words, fault)) if is_older else _as_written(fault) for fault in faults]


def _as_written(fault: Fault) -> Fault:
    """The table that is asked for, by the name that a file gives it: `[units.boom]`, not `[units 1.boom]`."""
    allowed = re.sub(r"a table \[[^\]]*\]", lambda table: re.sub(r" \d+(?=[.\]])", "", table[0]), fault.allowed)
    return Fault(fault.place, fault.given, allowed)


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


def _read_units(notes: Notes, top: dict[str, Any]) -> Any:
    """The units: what `[each_unit]` gives all, completed or overridden by each `[[units]]`."""
    listed_units, shared = top.get("units", []), top.get("each_unit", {})
    if not isinstance(listed_units, list) or not listed_units:
        given = shown(listed_units) if listed_units else NOTHING
        return notes.fault("units", given, "a table [[units]] for each unit, and in [each_unit] what they share")
    if not isinstance(shared, dict):
        return notes.fault("each_unit", shown(shared), "a table [each_unit]")
    if len(listed_units) > LIST_ITEMS:
        return notes.fault("units", shown(listed_units), f"a list of at most {LIST_ITEMS}")
    before = len(notes.faults)
    units = [_read_unit(notes, shared, own, number) for number, own in enumerate(listed_units, 1)]
    notes.faults[before:] = _missing_at_all(notes.faults[before:], len(units))
    return notes.keep("units", "[units]", FAILED if any(unit is FAILED for unit in units) else tuple(units))


def _read_unit(notes: Notes, shared: dict[str, Any], own: Any, number: int) -> Any:
    """One unit from what all share and what it has of its own; its lines' hoists are read with the lines."""
    table = f"units {number}"
    if not isinstance(own, dict):
        return notes.fault(f"[{table}]", shown(own), "a table [[units]]")
    hoists = [
        Layer(f"{name}.hoist", one["hoist"]) for name, one in (("each_unit", shared), (table, own)) if "hoist" in one
    ]
    lines = _read_lines(notes, own.get("lines", NOTHING), hoists, table)
    facing = {"tailboard_toward": NOSE} if own.get("name") == TAIL else {}
    rest = {key: value for key, value in {**facing, **own}.items() if key not in ("lines", "hoist")}
    every = {key: value for key, value in shared.items() if key != "hoist"}
    layers = [Layer("each_unit", every), Layer(table, rest)]
    return read_table(notes, Unit, layers, table, ready={"lines": lines})


def _read_lines(notes: Notes, lines: Any, hoists: list[Layer], unit: str) -> Any:
    """A unit's lines, each with what its unit and all units say of a hoist."""
    if not isinstance(lines, list) or not 1 <= len(lines) <= MOST_LINES:
        given = f"{len(lines)} lines" if isinstance(lines, list) else NOTHING if lines == NOTHING else shown(lines)
        return notes.fault(f"[{unit}] lines", given, "one or two tables [[units.lines]], each with pick and rope_out")
    read = [_read_line(notes, own, hoists, f"{unit}.lines {number}") for number, own in enumerate(lines, 1)]
    return FAILED if any(line is FAILED for line in read) else tuple(read)


def _read_line(notes: Notes, own: Any, hoists: list[Layer], table: str) -> Any:
    if not isinstance(own, dict):
        return notes.fault(f"[{table}]", shown(own), "a table [[units.lines]]")
    layers = [*hoists, *([Layer(f"{table}.hoist", own["hoist"])] if "hoist" in own else [])]
    wrong = [layer for layer in layers if not isinstance(layer.values, dict)]
    for layer in wrong:
        notes.fault(f"[{layer.table}]", shown(layer.values), "a table of a hoist's numbers")
    good = [layer for layer in layers if layer not in wrong]
    hoist = read_table(notes, Hoist, good or [Layer(f"{table}.hoist", {})], f"{table}.hoist")
    rest = {key: value for key, value in own.items() if key != "hoist"}
    return read_table(notes, Line, [Layer(table, rest)], table, ready={"hoist": FAILED if wrong else hoist})


def _missing_at_all(faults: list[Fault], units: int) -> list[Fault]:
    """What is missing at every unit is missing once, in what they share."""
    shared = {fault: _at_shared(fault) for fault in faults if fault.given == NOTHING}
    counts = list(shared.values())
    every = max(units, 2)
    return [shared[fault] if counts.count(shared.get(fault, fault)) >= every else fault for fault in faults]


def _at_shared(fault: Fault) -> Fault:
    def moved(words: str) -> str:
        return re.sub(r"\[units \d([].])", r"[each_unit\1", words, count=1)

    return Fault(moved(fault.place), fault.given, moved(fault.allowed))

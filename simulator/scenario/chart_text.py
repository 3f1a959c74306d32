"""A rating chart pasted as text from a spreadsheet: boom lengths across, radii down, loads in the cells, with holes.

A cell is named as in a spreadsheet, `C4`, with its radius and boom. Whatever is odd is named and not mended: a load
that rises with the radius, an order that falls, a radius beyond the boom. Where the maker's chart has it so, the cell
is named as `as_printed`; such a load is still taken no higher than the one at the radius before.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from simulator.scenario.asked_numbers import System
from simulator.scenario.faults import cut
from simulator.scenario.measures import KILOGRAMS_PER_POUND
from simulator.scenario.typed_numbers import in_si

MOST_ROWS, MOST_COLUMNS = 200, 60
LEAST_KG = 90.0
"""A rated load below it (200 lb) is a chart in thousands of pounds, or in tonnes, that does not say so."""
SAME_BOOM_M = 0.01
"""A boom and a column of the chart this near each other are one length, written in two roundings."""
HOLES = ("", "-", "--", "---", "—", "–", "x", "n/a", "na", "*", "0")
HOLES_WORDS = "nothing or - where the maker gives no load"
_LOAD_UNITS: tuple[tuple[str, float], ...] = (
    (r"(?:x\s*)?1[,.]?000\s*lbs?|klbs?|kips?", 1000.0 * KILOGRAMS_PER_POUND),
    (r"lbs?|pounds?|#", KILOGRAMS_PER_POUND),
    (r"kgs?", 1.0),
    (r"t|tonnes?|metric tons?", 1000.0),
)


class Oddity(NamedTuple):
    """Something about one cell that somebody has to look at."""

    cell: str
    """As in a spreadsheet; empty for the whole chart."""
    words: str
    may_be_printed: bool = False
    """It may stand so in the maker's chart, and somebody can say that it does."""

    def __str__(self) -> str:
        return f"cell {self.cell}: {self.words}" if self.cell else self.words


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart that was read; 0 kg where it has a hole."""

    boom_lengths_m: tuple[float, ...]
    radii_m: tuple[float, ...]
    rated_kg: tuple[tuple[float, ...], ...]
    holes: tuple[str, ...]
    """Cells without a load, inside the chart."""
    oddities: tuple[Oddity, ...]


class _Grid(NamedTuple):
    """Cells of the text, with the place of the header."""

    rows: list[tuple[int, list[str]]]
    """Row number of the pasted text, from 1, and its cells."""
    head: int
    """Place of the header in `rows`."""
    by_spaces: bool
    """Spaces alone part the cells: one that is empty can't be seen."""
    shift: int
    """1 where the header has no cell over the radii."""


def read_chart(text: str, system: System, *, as_printed: Sequence[str] = ()) -> Chart:
    """A pasted chart.

    Args:
        text: rows of cells, parted by tabs, semicolons, bars, commas or spaces.
        system: what plain numbers are where the text does not say it: feet and pounds, or meters and what it says.
        as_printed: cells that are odd and stand so in the maker's chart.

    Returns:
        The chart with what is odd about it; without oddities it can be used.
    """
    grid = _grid(text)
    if isinstance(grid, Oddity):
        return Chart((), (), (), (), (grid,))
    odd: list[Oddity] = []
    lengths = _lengths(grid, system, odd)
    radii, loads = _body(grid, len(lengths), _load_kg(text, grid, system, odd), system, odd)
    if not lengths or not radii:
        return Chart((), (), (), (), tuple(odd) or (Oddity("", "no loads under the boom lengths"),))
    names = [row for row, _ in grid.rows[grid.head + 1 :]][: len(radii)]
    odd += _orders(grid, lengths, radii, names)
    if not odd:
        odd += _loads_odd(lengths, radii, loads, names, system)
    left = tuple(one for one in odd if not (one.may_be_printed and one.cell in as_printed))
    return Chart(tuple(lengths), tuple(radii), _capped(loads), tuple(_holes(loads, names)), left)


def _grid(text: str) -> _Grid | Oddity:
    """The cells and where the header is."""
    lines = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(lines) > MOST_ROWS:
        return Oddity("", f"{len(lines)} rows, allowed: at most {MOST_ROWS}")
    rows, by_spaces = _cells(lines)
    for place, (_, cells) in enumerate(rows):
        numbers = [_is_number(cell) for cell in cells]
        below = next((len(_filled(one)) for _, one in rows[place + 1 :] if _is_number(one[0])), 0)
        if len(cells) > 1 and not numbers[0] and any(numbers[1:]) and _all_numbers(cells[1:]):
            return _checked(_Grid(rows, place, by_spaces, 0))
        if all(numbers) and below == len(cells) + 1:
            return _checked(_Grid(rows, place, by_spaces, 1))
    return Oddity("", "no row of boom lengths: a row such as Radius, 20, 26, 32 over the loads")


def _all_numbers(cells: list[str]) -> bool:
    return all(not cell or _is_number(cell) for cell in cells)


def _checked(grid: _Grid) -> _Grid | Oddity:
    """Rows that are loads; lines of words between and below are left out."""
    body = [row for row in grid.rows[grid.head + 1 :] if _is_number(row[1][0])]
    if len(grid.rows[grid.head][1]) > MOST_COLUMNS:
        return Oddity("", f"more than {MOST_COLUMNS} boom lengths")
    return _Grid([grid.rows[grid.head], *body], 0, grid.by_spaces, grid.shift)


def _cells(lines: list[tuple[int, str]]) -> tuple[list[tuple[int, list[str]]], bool]:
    """Each line in cells; spaces part cells only where nothing else does, which is told."""
    whole = "\n".join(line for _, line in lines)
    for mark in ("\t", ";", "|"):
        if mark in whole:
            return [(number, [one.strip() for one in _bare(line, mark).split(mark)]) for number, line in lines], False
    if '"' in whole or any(re.match(r"\s*[^\d,]*,\s*\d+(?:\.\d+)?\s*(?:ft|m|')?\s*,", line) for _, line in lines):
        split = [next(csv.reader([line], skipinitialspace=True)) for _, line in lines]
        stripped = ([cell.strip() for cell in cells] for cells in split)
        return [(number, cells) for (number, _), cells in zip(lines, stripped, strict=True)], False
    return [(number, _by_spaces(line)) for number, line in lines], True


def _bare(line: str, mark: str) -> str:
    return line.strip().strip("|") if mark == "|" else line


def _by_spaces(line: str) -> list[str]:
    """Cells parted by spaces; words before the first number are one cell."""
    found = re.match(r"\s*([^\d\-—–]*[A-Za-z)(/\\][^\d\-—–]*?)(?=\s[\d\-—–]|\s*$)", line)
    label, rest = (found[1].strip(), line[found.end() :]) if found else (None, line)
    return ([] if label is None else [label]) + rest.split()


def _filled(cells: list[str]) -> list[str]:
    while cells and not cells[-1]:
        cells = cells[:-1]
    return cells


_NUMERIC = re.compile(r"\(?\d[\d,]*(?:\.\d+)?\)?\s*\*?\s*(?:ft|feet|'|m|in|\"|lbs?|#|kgs?|t)?\.?", re.IGNORECASE)


def _is_number(cell: str) -> bool:
    if _NUMERIC.fullmatch(cell.strip()) is not None:
        return True
    try:
        return in_si(cell, "length").value > 0.0
    except ValueError:
        return False


def _lengths(grid: _Grid, system: System, odd: list[Oddity]) -> list[float]:
    row, cells = grid.rows[0]
    heads = _filled(cells if grid.shift else cells[1:])
    return [_length(head, _name(column, row), "a boom length", system, odd) for column, head in enumerate(heads, 1)]


def _length(cell: str, name: str, what: str, system: System, odd: list[Oddity]) -> float:
    try:
        value = in_si(cell, "length", plain="ft" if system == "us" else "m").value
    except ValueError:
        value = 0.0
    if not 0.1 <= value <= 100.0:
        example = "26 ft" if system == "us" else "8.5 m"
        odd.append(Oddity(name, f'given "{cut(cell)}", allowed: {what} such as {example}, up to 328 ft'))
    return value


def _load_kg(text: str, grid: _Grid, system: System, odd: list[Oddity]) -> float:
    """One of the loads' unit, by the words of the text, or the system's own."""
    words = " ".join(re.findall(r"[^\t;|\n]*[A-Za-z#][^\t;|\n]*", text))
    said = [one for pattern, one in _LOAD_UNITS if re.search(rf"(?<![A-Za-z])(?:{pattern})(?![A-Za-z])", words, re.I)]
    said = [said[0]] if said[:1] == [_LOAD_UNITS[0][1]] else said
    if len(said) > 1:
        odd.append(Oddity("", "the text names more than one unit of weight: name one, lb, 1000 lb, kg or t"))
    if not said and system == "metric":
        odd.append(Oddity("", "no unit of the loads: a word such as kg or t over the chart"))
    return said[0] if said else KILOGRAMS_PER_POUND


def _body(
    grid: _Grid, columns: int, one_kg: float, system: System, odd: list[Oddity]
) -> tuple[list[float], list[list[float]]]:
    radii, loads = [], []
    for row, cells in grid.rows[1:]:
        given = _filled(cells)
        radii.append(_length(given[0], _name(0, row), "a radius", system, odd))
        if len(given) > columns + 1 or (grid.by_spaces and len(given) != columns + 1):
            words = f"{len(given) - 1} loads for {columns} boom lengths, allowed: one for each, {HOLES_WORDS}"
            odd.append(Oddity(_name(0, row), words))
            given = given[: columns + 1]
        cells = given[1:] + [""] * (columns + 1 - len(given))
        loads.append([_load(cell, _name(column, row), one_kg, odd) for column, cell in enumerate(cells, 1)])
    return radii, loads


def _load(cell: str, name: str, one_kg: float, odd: list[Oddity]) -> float:
    """A load in kg; 0 for a hole."""
    plain = cell.strip().strip("*()").strip()
    if plain.lower() in HOLES:
        return 0.0
    try:
        found = in_si(plain, "mass", plain="kg")
        value = found.value * (one_kg if re.fullmatch(r"[\d,.]+", plain) else 1.0)
    except ValueError:
        value = -1.0
    if not LEAST_KG <= value <= 1e6:
        small = ": is the chart in thousands of pounds? Say 1000 lb over it" if 0.0 < value < LEAST_KG else ""
        odd.append(Oddity(name, f'given "{cut(cell)}", allowed: a load such as 53,000, or {HOLES_WORDS}{small}'))
    return max(value, 0.0)


def _orders(grid: _Grid, lengths: list[float], radii: list[float], names: list[int]) -> Iterator[Oddity]:
    """Boom lengths rise to the right, radii downward."""
    head = grid.rows[0][0]
    for column, (before, after) in enumerate(pairwise(lengths), 2):
        if after <= before:
            yield Oddity(_name(column, head), "a boom length that is not more than the one before it")
    for row, (before, after) in zip(names[1:], pairwise(radii), strict=False):
        if after <= before:
            yield Oddity(_name(0, row), "a radius that is not more than the one above it")


def _loads_odd(
    lengths: list[float], radii: list[float], loads: list[list[float]], names: list[int], system: System
) -> Iterator[Oddity]:
    """Loads beyond the boom; loads that rise with the radius; columns without any."""
    told = _told(system)
    for column, length in enumerate(lengths):
        before_kg, before_m = 0.0, 0.0
        for row, radius, line in zip(names, radii, loads, strict=True):
            kg, cell = line[column], _name(column + 1, row)
            if kg > 0.0 and radius > length:
                yield Oddity(cell, f"a load at a radius of {told(radius)}, beyond a boom of {told(length)}")
            if kg > before_kg > 0.0:
                words = f"a load at {told(radius)} that is more than at {told(before_m)}, boom {told(length)}"
                yield Oddity(cell, words, may_be_printed=True)
            before_kg, before_m = (kg, radius) if kg > 0.0 else (before_kg, before_m)
        if before_kg == 0.0:
            yield Oddity(_name(column + 1, names[0]), f"no load at all for a boom of {told(length)}")


def _told(system: System) -> Callable[[float], str]:
    def told(value_m: float) -> str:
        return f"{value_m / 0.3048:.4g} ft" if system == "us" else f"{value_m:.4g} m"

    return told


def _capped(loads: list[list[float]]) -> tuple[tuple[float, ...], ...]:
    """No load higher than at the radius before, holes aside: between two radii the larger one's load is taken."""
    least = [float("inf")] * len(loads[0])
    found = []
    for line in loads:
        least = [min(one, kg) if kg > 0.0 else one for one, kg in zip(least, line, strict=True)]
        found.append(tuple(one if kg > 0.0 else 0.0 for one, kg in zip(least, line, strict=True)))
    return tuple(found)


def _holes(loads: list[list[float]], names: list[int]) -> Iterator[str]:
    """Cells with no load."""
    for row, line in zip(names, loads, strict=True):
        yield from (_name(column, row) for column, kg in enumerate(line, 1) if kg == 0.0)


def _name(column: int, row: int) -> str:
    """A cell as a spreadsheet names it; column 0 is A."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return f"{letters}{row}"


def with_last_column(lengths_m: Sequence[float], longest_m: float) -> tuple[float, ...]:
    """Boom lengths of a chart for a boom of `longest_m`: the column that is the same length but for rounding is it."""
    return tuple(longest_m if abs(one - longest_m) <= SAME_BOOM_M else one for one in lengths_m)

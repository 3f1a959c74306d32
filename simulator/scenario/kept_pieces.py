"""Units and trailers kept as files of their own: found by name, checked, and put into a scenario that names them.

A scenario says `from = "NAME"` in a `[[units]]` or in `[trailer]`; whatever else stands there wins. What is read is the
whole of it, so a recording holds every number. A unit's charts are pasted text, one for each configuration; a scenario
names one as `configuration`. Where it names none and there are several, or where there is none of that name, the unit
has no rating table and its capacity is not judged.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal, NamedTuple

from simulator.files.bounds import SCENARIO_BYTES
from simulator.files.own_folders import data_folder
from simulator.files.reading import Unreadable, text_of
from simulator.scenario.asked_numbers import System
from simulator.scenario.chart_text import Chart, read_chart, with_last_column
from simulator.scenario.faults import cut, listed, shown
from simulator.scenario.tables import Layer, Notes, read_table
from simulator.scenario.toml_size import too_much
from simulator.scenario.trailer import Trailer, TrailerStart
from simulator.scenario.typed_numbers import parse_typed
from simulator.scenario.unit import Hoist, Line, Unit, UnitStart

PieceKind = Literal["unit", "trailer"]
KINDS: tuple[PieceKind, ...] = ("unit", "trailer")
KEYS: dict[PieceKind, tuple[str, ...]] = {
    "unit": ("name", "note", "invented", "unit", "charts"),
    "trailer": ("name", "note", "typical", "trailer"),
}
CHART_KEYS = ("configuration", "text", "entered", "by", "units", "as_printed")
MOST_CHARTS = 40
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _.,'()+-]{0,59}")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


class BrokenPiece(Exception):  # noqa: N818 - it says what it is
    """A file of a unit or trailer that cannot be used, with everything that is wrong with it."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(faults))


class NamedChart(NamedTuple):
    """A unit's chart for one configuration."""

    configuration: str
    chart: Chart
    entered: str
    """From the maker's chart, when and by whom."""


class Piece(NamedTuple):
    """A unit or a trailer as its file has it."""

    name: str
    kind: PieceKind
    table: dict[str, Any]
    """Keys of `[[units]]` or of `[trailer]`."""
    charts: tuple[NamedChart, ...]
    note: str
    invented: bool
    typical: bool
    path: Path | None


def own_folder(kind: PieceKind) -> Path:
    """Where the user's own are."""
    return data_folder() / f"{kind}s"


def shipped_folder(kind: PieceKind) -> Path:
    """Where those that come with the program are, in a checkout or in an installed wheel."""
    package = Path(__file__).resolve().parents[1]
    installed = package / "_data" / "assets"
    return (installed if installed.is_dir() else package.parent / "assets") / f"{kind}s"


def kept(kind: PieceKind) -> dict[str, Path]:
    """All there are, by name: the file's name without its ending; the user's own win."""
    found: dict[str, Path] = {}
    for folder in (shipped_folder(kind), own_folder(kind)):
        if folder.is_dir():
            found |= {path.stem: path for path in sorted(folder.glob("*.toml"))}
    return found


def find(kind: PieceKind, name: str) -> Piece:
    """One of them.

    Raises:
        BrokenPiece: there is none of that name, or it cannot be used.
    """
    files = kept(kind)
    if name not in files:
        have = listed(files) if files else f"none yet; slopepick {kind}s import FILE"
        raise BrokenPiece([f'{kind} "{cut(name)}": given no such name, allowed: {have}'])
    return read_piece(kind, files[name])


def read_piece(kind: PieceKind, path: Path) -> Piece:
    """A file.

    Raises:
        BrokenPiece: it cannot be read, or is none.
    """
    try:
        return parse_piece(kind, text_of(path, SCENARIO_BYTES, f"a {kind} file"), path.stem, path=path)
    except Unreadable as error:
        raise BrokenPiece([f"{path.name}: {error}"]) from error


def parse_piece(kind: PieceKind, text: str, name: str, *, path: Path | None = None) -> Piece:
    """The text of such a file.

    Raises:
        BrokenPiece: with everything that is wrong.
    """
    if (over := too_much(text)) is not None:
        raise BrokenPiece([f"{name}: line {over.line}: given {over.given}, allowed: {over.allowed}"])
    try:
        top = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise BrokenPiece([f"{name}: given text that is no TOML ({cut(str(error))}), allowed: TOML"]) from error
    faults = [
        f"{name}: {key}: given a key that is not known, allowed: {listed(KEYS[kind])}"
        for key in top
        if key not in KEYS[kind]
    ]
    if not _NAME.fullmatch(name):
        faults.append(f"{cut(name)}: given a name, allowed: up to 60 letters, digits, spaces and . , ' ( ) + -")
    table, charts = top.get(kind, {}), top.get("charts", [])
    if not isinstance(table, dict) or not table:
        faults.append(f"{name}: {kind}: given {shown(table)}, allowed: a table [{kind}]")
        table = {}
    refused = {"unit": ("lines", "start", "from", "rating"), "trailer": ("start", "from")}[kind]
    faults += [f"{name}: [{kind}] {key}: given, allowed: only in a scenario" for key in refused if key in table]
    read = _charts(name, charts, table, faults)
    for flag in ("invented", "typical"):
        if not isinstance(top.get(flag, False), bool):
            faults.append(f"{name}: {flag}: given {shown(top[flag])}, allowed: true or false")
    if faults:
        raise BrokenPiece(faults)
    note = top.get("note", "")
    return Piece(name, kind, table, tuple(read), str(note), bool(top.get("invented")), bool(top.get("typical")), path)


def _charts(name: str, charts: Any, table: dict[str, Any], faults: list[str]) -> list[NamedChart]:
    if not isinstance(charts, list) or len(charts) > MOST_CHARTS:
        faults.append(f"{name}: charts: given {shown(charts)}, allowed: up to {MOST_CHARTS} tables [[charts]]")
        return []
    found = [_chart(f"{name}: [charts {number}]", one, table, faults) for number, one in enumerate(charts, 1)]
    names = [one.configuration for one in found if one is not None]
    faults += [f'{name}: charts: given "{one}" twice, allowed: one chart for each configuration'
               for one in dict.fromkeys(names) if names.count(one) > 1]  # fmt: skip
    return [one for one in found if one is not None]


def _chart(where: str, own: Any, table: dict[str, Any], faults: list[str]) -> NamedChart | None:
    """One chart; None, with its faults noted, where it cannot be used."""
    before = len(faults)
    if not isinstance(own, dict):
        faults.append(f"{where}: given {shown(own)}, allowed: a table [[charts]]")
        return None
    faults += [
        f"{where} {key}: given a key that is not known, allowed: {listed(CHART_KEYS)}"
        for key in own
        if key not in CHART_KEYS
    ]
    for key, example in (("configuration", '"outriggers full"'), ("text", "the pasted chart"), ("by", '"A. Operator"')):
        if not isinstance(own.get(key), str) or not own[key].strip():
            faults.append(f"{where} {key}: given {shown(own.get(key, ''))}, allowed: a text such as {example}")
    entered = str(own.get("entered", ""))
    if not _DATE.fullmatch(entered):
        faults.append(f"{where} entered: given {shown(entered)}, allowed: the date it was entered, such as 2026-11-30")
    system: System = own.get("units", "us")
    if system not in ("us", "metric"):
        faults.append(f"{where} units: given {shown(system)}, allowed: us or metric")
    printed = own.get("as_printed", [])
    if not isinstance(printed, list) or not all(isinstance(one, str) for one in printed):
        faults.append(f'{where} as_printed: given {shown(printed)}, allowed: cells such as ["C4"]')
    if len(faults) > before:
        return None
    chart = read_chart(own["text"], system, as_printed=printed)
    faults += [f"{where} {own['configuration']}: {one}" + (_SAY_PRINTED.format(one.cell) if one.may_be_printed else "")
               for one in chart.oddities]  # fmt: skip
    longest = _longest_m(table)
    lengths = chart.boom_lengths_m if longest is None else with_last_column(chart.boom_lengths_m, longest)
    said = f"as entered from the maker's chart, {entered} by {cut(own['by'])}"
    return NamedChart(own["configuration"].strip(), _with_lengths(chart, lengths), said)


_SAY_PRINTED = '; correct it, or say that the maker\'s chart has it so: as_printed = ["{}"]'


def _with_lengths(chart: Chart, lengths_m: tuple[float, ...]) -> Chart:
    return Chart(lengths_m, chart.radii_m, chart.rated_kg, chart.holes, chart.oddities)


def _longest_m(table: dict[str, Any]) -> float | None:
    boom = table.get("boom")
    longest = boom.get("longest") if isinstance(boom, dict) else None
    try:
        return (
            parse_typed(longest, "m") if isinstance(longest, str) else float(longest) if longest is not None else None
        )
    except (TypeError, ValueError):
        return None


def checked(piece: Piece) -> tuple[str, ...]:
    """What the scenario's own rules say of it, each with its place; empty when it can be used in any scenario.

    A unit is put into a scenario of nothing else, so that what is missing or does not fit is found at once.
    """
    notes, faults = Notes(piece.name), list[str]()
    if piece.kind == "trailer":
        read_table(notes, Trailer, [Layer("trailer", piece.table)], "trailer", ready={"start": None})
        return tuple(str(fault) for fault in notes.faults)
    read_table(notes, Hoist, [Layer("unit.hoist", piece.table.get("hoist", {}))], "unit.hoist")
    for one in piece.charts or (None,):
        own = _read_unit(notes, piece, one)
        faults += _rules(own) if isinstance(own, Unit) else []
    return tuple(dict.fromkeys([*map(str, notes.faults), *faults]))


def _read_unit(notes: Notes, piece: Piece, chart: NamedChart | None) -> Any:
    """A unit alone, standing nowhere and without its lines."""
    rating = {} if chart is None else {"rating": _rating(chart, invented=piece.invented)}
    table = {key: value for key, value in piece.table.items() if key != "hoist"} | {"name": "own", **rating}
    layer = Layer("unit", {"slew_axis_x": 0.0, **table})
    return read_table(notes, Unit, [layer], "unit", ready={"lines": (), "start": UnitStart(1.0, 0.0, 0.0)})


def unit_of(piece: Piece) -> Unit:
    """A unit's numbers, without lines, start and chart.

    Raises:
        BrokenPiece: it cannot be used.
    """
    notes = Notes(piece.name)
    own = _read_unit(notes, piece, None)
    if not isinstance(own, Unit):
        raise BrokenPiece([str(fault) for fault in notes.faults])
    return own


def placed_unit(piece: Piece, configuration: str | None = None) -> Unit:
    """A unit with its chart and its first line, as a scenario that names it has it; where it stands is still to be
    said.

    Raises:
        BrokenPiece: it cannot be used.
    """
    notes = Notes(piece.name)
    chart, why = _chosen(piece, {} if configuration is None else {"configuration": configuration})
    own = _read_unit(notes, piece, chart)
    hoist = read_table(notes, Hoist, [Layer("unit.hoist", piece.table.get("hoist", {}))], "unit.hoist")
    if not isinstance(own, Unit) or not isinstance(hoist, Hoist):
        raise BrokenPiece([str(fault) for fault in notes.faults])
    return replace(
        own, lines=(Line("", 1.0, hoist),), configuration=chart.configuration if chart is not None else why or None
    )


def placed_trailer(piece: Piece) -> Trailer:
    """A trailer by name; where it lies is still to be said.

    Raises:
        BrokenPiece: it cannot be used.
    """
    notes = Notes(piece.name)
    start = TrailerStart(0.0, 0.0, 0.0, 0.0, 0.0)
    own = read_table(notes, Trailer, [Layer("trailer", piece.table)], "trailer", ready={"start": start})
    if not isinstance(own, Trailer):
        raise BrokenPiece([str(fault) for fault in notes.faults])
    return own


def _rules(own: Unit) -> list[str]:
    """What of one unit does not fit each other."""
    from simulator.scenario import checks_unit

    breaches = (
        *checks_unit.boom_travel(own.boom),
        *checks_unit.foot_pin(own.boom, own.cab_front_m),
        *checks_unit.superstructure(own.superstructure_cg_m, own.tail_swing_m),
        *checks_unit.stand(own.floats, own.carrier_cg_m),
        *checks_unit.rating(own.rating),
        *checks_unit.rating_covers(own.rating, own.boom),
    )
    return [f"{one.keys[0].replace('{unit}', 'unit')}: given {one.given}, allowed: {one.allowed}" for one in breaches]


def names_pieces(top: dict[str, Any]) -> bool:
    """Whether the content of a scenario names units or a trailer that are files of their own."""
    units = top.get("units")
    tables = [*(units if isinstance(units, list) else []), top.get("trailer")]
    return any(isinstance(one, dict) and "from" in one for one in tables)


def with_kept(notes: Notes, top: dict[str, Any]) -> dict[str, Any]:
    """The content of a scenario with its named units and trailer put in; faults are noted."""
    units, trailer = top.get("units"), top.get("trailer")
    found = dict(top)
    if isinstance(units, list) and any(isinstance(one, dict) and "from" in one for one in units):
        shared = top.get("each_unit")
        if isinstance(shared, dict) and "rating" in shared:
            notes.fault("[each_unit] rating", "a table", "none beside units that are named: a chart is of one unit")
        found["units"] = [_unit(notes, one, f"[units {place}]") for place, one in enumerate(units, 1)]
    if isinstance(trailer, dict) and "from" in trailer:
        piece = _found(notes, "trailer", trailer["from"], "[trailer] from")
        rest = {key: value for key, value in trailer.items() if key != "from"}
        found["trailer"] = rest if piece is None else merged(piece.table, rest)
    return found


def _unit(notes: Notes, own: Any, where: str) -> Any:
    if not isinstance(own, dict) or "from" not in own:
        return own
    piece = _found(notes, "unit", own["from"], f"{where} from")
    rest = {key: value for key, value in own.items() if key != "from"}
    if piece is None:
        return rest
    chart, why = _chosen(piece, rest)
    extra: dict[str, Any] = {"configuration": why}
    if chart is not None:
        extra = {"configuration": chart.configuration, "rating": _rating(chart, invented=piece.invented)}
    return merged({**piece.table, **extra}, rest)


def _found(notes: Notes, kind: PieceKind, name: Any, where: str) -> Piece | None:
    if not isinstance(name, str):
        notes.fault(where, shown(name), f"the name of a {kind}, such as {shown(next(iter(kept(kind)), 'my ' + kind))}")
        return None
    try:
        return find(kind, name)
    except BrokenPiece as broken:
        for fault in broken.faults[:20]:
            place, _, rest = fault.partition(": given ")
            given, _, allowed = rest.partition(", allowed: ")
            notes.fault(
                f"{where} {shown(name)}: {place}", given or "an odd cell", allowed or "a chart without oddities"
            )
        return None


def _chosen(piece: Piece, own: dict[str, Any]) -> tuple[NamedChart | None, str]:
    """The chart of the configuration that is named; with none named, the only one there is. Else why there is none."""
    configuration, floats = own.get("configuration"), own.get("floats")
    if configuration is not None:
        return next((one for one in piece.charts if one.configuration == configuration), None), str(configuration)
    if isinstance(floats, dict) and floats:
        return None, "floats that are not where the unit's file has them, no configuration named"
    if len(piece.charts) == 1:
        return piece.charts[0], ""
    charts = listed(one.configuration for one in piece.charts) if piece.charts else ""
    return None, f"a configuration that is not named ({charts})" if charts else "any configuration"


def _rating(found: NamedChart, *, invented: bool) -> dict[str, Any]:
    chart = found.chart
    return {
        "boom_lengths": list(chart.boom_lengths_m),
        "radii": list(chart.radii_m),
        "rated": [list(row) for row in chart.rated_kg],
        "invented": invented,
        "entered": found.entered,
    }


def merged(under: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    """Both tables, those inside them too; `over` wins, and a list is taken whole."""
    found = {**under, **over}
    for key in under.keys() & over.keys():
        if isinstance(under[key], dict) and isinstance(over[key], dict):
            found[key] = merged(under[key], over[key])
    return found

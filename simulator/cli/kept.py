"""`units` and `trailers`: what is kept in files of their own, listed, checked, imported, exported; a chart put in."""

from __future__ import annotations

import argparse
import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.cli.exit_codes import BAD_INPUT, OK
from simulator.files.terminal import complain, force_option, tell, tell_json
from simulator.files.writing import SCENARIO, Output, look_at, write_whole

if TYPE_CHECKING:
    from simulator.scenario.kept_pieces import Piece, PieceKind

KEPT: dict[str, PieceKind] = {"units": "unit", "trailers": "trailer"}
WORDS = {"units": "your own units, with their charts", "trailers": "trailers, your own and typical ones"}


def add_kept_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Both commands' options."""
    for command, kind in KEPT.items():
        about = commands.add_parser(command, help=WORDS[command])
        what = about.add_subparsers(dest="what", metavar="WHAT", required=True)
        listed = what.add_parser("list", help="every one by name, and what stands behind it")
        listed.add_argument("--json", action="store_true", help="the same as JSON")
        check = what.add_parser("check", help="every fault and every oddity of charts, by cell")
        check.add_argument("names", nargs="+", metavar="NAME", help="a name from the list, or a file")
        importing = what.add_parser("import", help="look at a file and keep it among your own")
        importing.add_argument("file", type=Path, metavar="FILE.toml")
        importing.add_argument("--name", metavar="NAME", help="what it is called; left out: as the file")
        force_option(importing)
        export = what.add_parser("export", help="write one out as a file")
        export.add_argument("name", metavar="NAME")
        export.add_argument("out", type=Path, metavar="OUT.toml")
        force_option(export)
        if kind == "unit":
            _chart_options(what)


def _chart_options(what: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    chart = what.add_parser("chart", help="put a chart that was pasted as text into one of your units")
    chart.add_argument("name", metavar="NAME")
    chart.add_argument("file", type=Path, metavar="CHART.txt", help="boom lengths across, radii down")
    words = "what it is the chart of: outriggers full, half, short-jacked, a sector, a counterweight"
    chart.add_argument("--configuration", required=True, metavar="TEXT", help=words)
    chart.add_argument("--by", required=True, metavar="WHO", help="who entered it")
    chart.add_argument("--date", metavar="2026-11-30", help="when; left out: today")
    chart.add_argument("--in", dest="system", choices=("us", "metric"), default="us", help="its units; us: ft and lb")
    chart.add_argument(
        "--as-printed", action="append", default=[], metavar="CELL", help="odd, and so in the maker's chart"
    )


def run_kept_command(given: argparse.Namespace) -> int:
    """Run one; whatever is wrong with a file is said in sentences."""
    from simulator.scenario.kept_pieces import BrokenPiece

    kind = KEPT[given.command]
    try:
        return _COMMANDS[given.what](given, kind)
    except BrokenPiece as broken:
        complain(*broken.faults)
        return BAD_INPUT


def _list(given: argparse.Namespace, kind: PieceKind) -> int:
    from simulator.scenario.kept_pieces import BrokenPiece, kept, own_folder, read_piece

    rows = []
    for name, path in kept(kind).items():
        try:
            rows.append((name, _about(read_piece(kind, path))))
        except BrokenPiece as broken:
            rows.append((name, f"cannot be used: {broken.faults[0]}"))
    if given.json:
        tell_json(
            {"folder": str(own_folder(kind)), f"{kind}s": [{"name": name, "about": about} for name, about in rows]}
        )
        return OK
    tell(*(f"{name}: {about}" for name, about in rows), f"your own are kept in {own_folder(kind)}")
    tell(f'a scenario names one: from = "{rows[0][0] if rows else "NAME"}"')
    return OK


def _about(piece: Piece) -> str:
    """What stands behind its numbers."""
    marks = [piece.note] if piece.note else []
    marks += ["INVENTED"] if piece.invented else []
    marks += ["typical: common practice, no source"] if piece.typical and "common practice" not in piece.note else []
    for one in piece.charts:
        holes = f"; {len(one.chart.holes)} cells without a load" if one.chart.holes else ""
        marks.append(f"chart {one.configuration}: {one.entered}{holes}")
    if piece.kind == "unit" and not piece.charts:
        marks.append("no chart: capacity is not judged")
    return "; ".join(marks) or "as entered"


def _named(kind: PieceKind, name: str) -> Piece:
    from simulator.scenario.kept_pieces import find, read_piece

    path = Path(name)
    return read_piece(kind, path) if path.suffix == ".toml" and path.exists() else find(kind, name)


def _check(given: argparse.Namespace, kind: PieceKind) -> int:
    from simulator.scenario.kept_pieces import BrokenPiece, checked

    code = OK
    for name in given.names:
        try:
            piece = _named(kind, name)
            faults = checked(piece)
        except BrokenPiece as broken:
            faults = broken.faults
        if faults:
            code = BAD_INPUT
            complain(f"{name}: {len(faults)} fault{'s' if len(faults) > 1 else ''}", *(f"  {one}" for one in faults))
            continue
        tell(f"{name}: good. {_about(piece)}")
        for one in piece.charts:
            if one.chart.holes:
                tell(f"  {one.configuration}: no load, so not allowed, in cells {', '.join(one.chart.holes)}")
    return code


def _import(given: argparse.Namespace, kind: PieceKind) -> int:
    from simulator.files.bounds import SCENARIO_BYTES
    from simulator.files.reading import Unreadable, text_of
    from simulator.scenario.kept_pieces import BrokenPiece, checked, own_folder, parse_piece

    try:
        text = text_of(given.file, SCENARIO_BYTES, f"a {kind} file")
    except Unreadable as error:
        complain(f"{given.file}: {error}")
        return BAD_INPUT
    piece = parse_piece(kind, text, given.name or given.file.stem)
    if faults := checked(piece):
        raise BrokenPiece(list(faults))
    _keep(given, own_folder(kind) / f"{piece.name}.toml", text)
    tell(f"{piece.name}: {_about(piece)}")
    return OK


def _keep(given: argparse.Namespace, path: Path, text: str) -> None:
    look_at([Output(path, SCENARIO)], force=given.force)
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode("utf-8"))
    tell(f"kept: {path}")


def _export(given: argparse.Namespace, kind: PieceKind) -> int:
    from simulator.files.bounds import SCENARIO_BYTES
    from simulator.files.reading import text_of
    from simulator.scenario.kept_pieces import find

    path = find(kind, given.name).path
    assert path is not None, "what is found by name is a file"
    look_at([Output(given.out, SCENARIO)], force=given.force)
    write_whole(given.out, text_of(path, SCENARIO_BYTES, f"a {kind} file").encode("utf-8"))
    tell(f"written: {given.out}")
    return OK


def _chart(given: argparse.Namespace, kind: PieceKind) -> int:
    """The unit's file with the chart behind it, if it can be used."""
    from simulator.files.bounds import SCENARIO_BYTES
    from simulator.files.reading import Unreadable, text_of
    from simulator.scenario.kept_pieces import find, own_folder, parse_piece

    piece = find(kind, given.name)
    assert piece.path is not None, "what is found by name is a file"
    try:
        chart = text_of(given.file, SCENARIO_BYTES, "a chart as text")
        before = text_of(piece.path, SCENARIO_BYTES, "a unit file")
    except Unreadable as error:
        complain(f"{given.file}: {error}")
        return BAD_INPUT
    text = before.rstrip() + "\n\n" + _chart_table(given, chart)
    found = parse_piece(kind, text, piece.name)
    path = own_folder(kind) / f"{piece.name}.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode("utf-8"))
    tell(f"kept: {path}", f"{found.name}: {_about(found)}")
    return OK


def _chart_table(given: argparse.Namespace, chart: str) -> str:
    """A chart as a table of the unit's file, its text as it was pasted."""
    rows = {
        "configuration": given.configuration,
        "entered": given.date or f"{date.today():%Y-%m-%d}",
        "by": given.by,
        "units": given.system,
    }
    lines = [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in rows.items()]
    printed = [f"as_printed = {json.dumps(given.as_printed)}"] if given.as_printed else []
    pasted = chart.replace("\r\n", "\n").replace("\\", "\\\\").replace('"""', '\\"\\"\\"').rstrip("\n")
    return "\n".join(["[[charts]]", *lines, *printed, f'text = """\n{pasted}\n"""', ""])


_COMMANDS = {"list": _list, "check": _check, "import": _import, "export": _export, "chart": _chart}

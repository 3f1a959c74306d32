"""The pages of a debrief: what happened, charts, views. Everything that needs matplotlib is reached from here."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from matplotlib import rc_context
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from simulator.recording.recorded import minutes
from simulator.report.debrief import Debrief
from simulator.report.debrief_strips import draw_strips, strips, top_of
from simulator.report.debrief_views import draw_column, draw_three, spans_of
from simulator.report.event_words import account_lines
from simulator.report.sheet import (
    MARGIN_MM,
    MM_PER_INCH,
    POINTS_PER_INCH,
    Column,
    Sheet,
    height_mm,
    lines_of,
)
from simulator.report.worst_values import WorstRow

GAP_MM = 6.0
RUN_SIZE = 8.0
HAND_LABELS_MM = 17.0
"""Room left of the charts for their names."""
FINDINGS = (
    Column("no.", 0.0, 8.0),
    Column("time", 8.0, 14.0),
    Column("level", 22.0, 15.0),
    Column("who and what", 37.0, 66.0),
    Column("why, as far as moves tell", 106.0, 76.0),
)
SETTINGS: dict[Any, Any] = {"pdf.fonttype": 42, "font.family": "DejaVu Sans", "hatch.linewidth": 0.35}


def save_pages(
    path: Path,
    told: Debrief,
    other: Debrief | None,
    *,
    caution: str,
    invented: str,
    paper: str,
    progress: Callable[[float], object],
) -> None:
    """Write the PDF; see `debrief.write_pdf`."""
    with rc_context(SETTINGS):
        sheets = sheets_of(told, other, caution=caution, invented=invented, paper=paper)
        # No date in it: the same lift gives the same page.
        with PdfPages(path, metadata={"CreationDate": None, "Title": f"Debrief: {told.recording.head.title}"}) as pages:
            for number, sheet in enumerate(sheets, 1):
                pages.savefig(sheet.figure)
                progress(number / len(sheets))


def sheets_of(told: Debrief, other: Debrief | None, *, caution: str, invented: str, paper: str) -> list[Sheet]:
    """All pages, drawn."""
    runs = (told,) if other is None else (told, other)
    sheets = _telling(runs, paper)
    if all(told.worst for told in runs):
        sheets += [_charts(runs, paper), _views(runs, paper)]
    for number, sheet in enumerate(sheets, 1):
        sheet.foot(caution, invented, number, len(sheets))
    return sheets


def _telling(runs: tuple[Debrief, ...], paper: str) -> list[Sheet]:
    """What happened, in words; as many sheets as it takes."""
    sheets = [Sheet(paper)]
    sheet = sheets[0]
    sheet.write("Debrief" if len(runs) == 1 else "Debrief: two runs side by side", size=9.0, grey=True, gap_mm=0.5)
    for letter, told in zip("AB", runs, strict=False):
        _write_heading(sheet, told, f"Run {letter}: " if len(runs) == 2 else "")
    if len(runs) == 2 and runs[0].recording.head.title != runs[1].recording.head.title:
        sheet.write("These are two different lifts: compare with care.", bold=True)
    _write_worst(sheet, runs)
    for letter, told in zip("AB", runs, strict=False):
        sheet = _write_findings(sheets, told, f"Run {letter}: " if len(runs) == 2 else "")
    for letter, told in zip("AB", runs, strict=False):
        sheet = _write_course(sheets, told, f"Run {letter}: " if len(runs) == 2 else "")
    return sheets


def _write_heading(sheet: Sheet, told: Debrief, run: str) -> None:
    head = told.recording.head
    sheet.write(f"{run}{head.title}", size=14.0 if not run else 11.0, bold=True, gap_mm=0.5)
    said = [*told.seats, head.stamp, told.recording.name]
    if head.parent is not None:
        said.append(f"goes on from {head.parent.name} at {minutes(head.parent.step / head.steps_per_s)}")
    sheet.write("; ".join(one for one in said if one), size=7.5, grey=True)
    sheet.write(told.heading, size=9.5, bold=True, gap_mm=0.5)
    sheet.write(told.first_fault, size=9.5, gap_mm=1.5)
    for note in told.recording.notes:
        sheet.write(f"Note: {note}.", size=7.5)
    sheet.rule(heavy=True)


def _write_findings(sheets: list[Sheet], told: Debrief, run: str) -> Sheet:
    sheet = _fresh(sheets, 30.0, sheets[-1])
    sheet.write(f"{run}what went wrong", size=10.0, bold=True)
    if not told.findings:
        sheet.write("No reading passed a limit, and nothing was met.")
        return sheet
    titles = tuple(column.title for column in FINDINGS)
    sheet.row(FINDINGS, titles, bold=True)
    for one in told.findings:
        cells = (str(one.number), minutes(one.time_s), one.level, f"{one.who}: {one.what}", one.why)
        if one.level == "incident":
            cells = (*cells[:3], one.what, one.why)
        needed = max(len(lines_of(cell, column.width_mm, 7.5)) for column, cell in zip(FINDINGS, cells, strict=True))
        sheet = _fresh(sheets, needed * height_mm(7.5) + 2.0, sheet)
        sheet.row(FINDINGS, cells, bold=one.level == "incident")
    sheet.rule()
    return sheet


def _write_worst(sheet: Sheet, runs: tuple[Debrief, ...]) -> None:
    """Worst values by seat with their times; runs side by side."""
    label_mm = 46.0
    each_mm = (sheet.inside_mm - label_mm) / (2 * len(runs))
    columns = [Column("", 0.0, label_mm - 2.0)]
    titles = ["worst values"]
    for letter, told in zip("AB", runs, strict=False):
        for seat in told.seats:
            columns.append(Column("", label_mm + (len(columns) - 1) * each_mm, each_mm - 2.0))
            titles.append(f"{letter}: {seat}" if len(runs) == 2 else seat)
    sheet.row(tuple(columns), tuple(titles), bold=True)
    tables = [{row.label: row for row in told.worst} for told in runs]
    for label in dict.fromkeys(row.label for told in runs for row in told.worst):
        cells = [cell for table in tables for cell in _pair_of_cells(table.get(label))]
        sheet.row(tuple(columns), (label, *cells))
    sheet.rule()


def _pair_of_cells(row: WorstRow | None) -> tuple[str, str]:
    """The load's own value stands in the first of a run's two columns."""
    if row is None:
        return "", ""
    return (row.cells[0], row.cells[1]) if len(row.cells) == 2 else (row.cells[0], "")


def _write_course(sheets: list[Sheet], told: Debrief, run: str) -> Sheet:
    if not told.course:
        return sheets[-1]
    said = "; ".join(f"{minutes(time_s)} {words}" for time_s, words in told.course)
    lines = told.recording.ending.lines if told.recording.ending else ()
    needed = len(lines_of(said, sheets[-1].inside_mm, 7.5)) * height_mm(7.5) + 10.0 + 4.0 * len(lines)
    sheet = _fresh(sheets, needed, sheets[-1])
    sheet.write(f"{run}course of the lift", size=10.0, bold=True)
    sheet.write(said, size=7.5)
    for line in account_lines(lines, told.amounts):
        sheet.write(line, size=7.5, gap_mm=0.3)
    return sheet


def _fresh(sheets: list[Sheet], needed_mm: float, sheet: Sheet) -> Sheet:
    """The sheet, or a new one if there is too little room."""
    if sheet.left_mm >= needed_mm:
        return sheet
    sheets.append(Sheet("a4" if sheet.height_mm > 280.0 else "letter"))
    return sheets[-1]


def _charts(runs: tuple[Debrief, ...], paper: str) -> Sheet:
    sheet = Sheet(paper)
    sheet.write("Readings, limits and hands on one time axis", size=10.0, bold=True, gap_mm=0.5)
    sheet.write(
        "Light band: past the caution limit; hatched: past the stop limit. Numbers: findings (black: stop or incident; "
        "white: caution). Hands: black is the first word of a label, grey the second; the higher, the faster.",
        size=6.5,
        grey=True,
    )
    longest_s = max(1.0, *(told.recording.length_s for told in runs))
    tops = {strip.title: max(top_of(told, strip) for told in runs) for strip in strips(runs[0])}

    def draw(told: Debrief, x_mm: float, width_mm: float, first: bool) -> None:
        draw_strips(sheet, told, x_mm, width_mm, longest_s=longest_s, tops=tops, named=first)

    _in_columns(sheet, runs, draw, HAND_LABELS_MM)
    return sheet


def _views(runs: tuple[Debrief, ...], paper: str) -> Sheet:
    sheet = Sheet(paper)
    sheet.write("Path of load and boom tips", size=10.0, bold=True, gap_mm=0.5)
    sheet.write(
        "Thick line: the load, its crosses carry the time. Black with dots: nose unit's tip; grey dashes with squares: "
        "tail unit's tip. Thin straight lines: both lines from tip to hook at the numbered "
        "findings. Boxes: the units, and the trailer's outline at start (dashed) and end.",
        size=6.5,
        grey=True,
    )

    spans = spans_of(*runs)

    def draw(told: Debrief, x_mm: float, width_mm: float, _: bool) -> None:
        if len(runs) == 1:
            draw_three(sheet, told, x_mm, width_mm)
        else:
            draw_column(sheet, told, x_mm, width_mm, spans)

    _in_columns(sheet, runs, draw, 8.0)
    return sheet


def _run_name(told: Debrief) -> str:
    """Who drove it, else when, else its file."""
    head = told.recording.head
    return " and ".join(name for name in head.pair if name) or head.stamp or told.recording.name


def _cut(text: str, width_mm: float, size: float) -> str:
    """As much of a text as one line of bold type holds, with dots where it was cut."""
    bold, room = FontProperties(family="DejaVu Sans", weight="bold"), width_mm / MM_PER_INCH * POINTS_PER_INCH

    def fits(words: str) -> bool:
        return float(TextPath((0.0, 0.0), words, size=size, prop=bold).get_extents().width) <= room

    if fits(text):
        return text
    return next(cut for n in range(len(text), 0, -1) if fits(cut := f"{text[:n].rstrip()}...") or n == 1)


def _in_columns(
    sheet: Sheet, runs: tuple[Debrief, ...], draw: Callable[[Debrief, float, float, bool], None], labels_mm: float
) -> None:
    """One run over the whole width, or two beside each other."""
    left_mm = MARGIN_MM + labels_mm
    width_mm = (sheet.inside_mm - labels_mm - GAP_MM * (len(runs) - 1)) / len(runs)
    if len(runs) == 2:
        for i, told in enumerate(runs):
            words = _cut(f"Run {'AB'[i]}: {_run_name(told)}", width_mm, RUN_SIZE)
            sheet.put(words, left_mm + i * (width_mm + GAP_MM), sheet.y_mm, size=RUN_SIZE, bold=True)
        sheet.y_mm += 4.5
    for i, told in enumerate(runs):
        draw(told, left_mm + i * (width_mm + GAP_MM), width_mm, i == 0)

"""The first pages of a debrief, in words: how it ended, worst values, what went wrong and why, the lift's course."""

from __future__ import annotations

from simulator.files.plain_text import cut_to
from simulator.recording.recorded import minutes
from simulator.report.lift.debrief import Debrief
from simulator.report.lift.event_words import account_lines
from simulator.report.lift.worst_values import WorstRow
from simulator.report.sheet import Column, Sheet, height_mm, lines_of

FINDINGS = (
    Column("no.", 0.0, 8.0),
    Column("time", 8.0, 14.0),
    Column("level", 22.0, 15.0),
    Column("who and what", 37.0, 66.0),
    Column("why, as far as moves tell", 106.0, 76.0),
)
MOST_STOPS, STOP_LETTERS = 400, 200
"""What happened on the way, on paper: so much of it, and of each."""


def telling(runs: tuple[Debrief, ...], paper: str) -> list[Sheet]:
    """What happened, in words; as many sheets as it takes."""
    sheets = [Sheet(paper)]
    sheet = sheets[0]
    sheet.write("Debrief" if len(runs) == 1 else "Debrief: two runs side by side", size=9.0, gray=True, gap_mm=0.5)
    named = [(f"Run {letter}: " if len(runs) == 2 else "", told) for letter, told in zip("AB", runs, strict=False)]
    for run, told in named:
        _write_heading(sheet, told, run)
    if len(runs) == 2 and runs[0].recording.head.title != runs[1].recording.head.title:
        sheet.write("These are two different lifts: compare with care.", bold=True)
    _write_worst(sheet, runs)
    for run, told in named:
        _write_findings(sheets, told, run)
    for run, told in named:
        _write_course(sheets, told, run)
    return sheets


def _write_heading(sheet: Sheet, told: Debrief, run: str) -> None:
    head = told.recording.head
    sheet.write(f"{run}{told.title}", size=14.0 if not run else 11.0, bold=True, gap_mm=0.5)
    said = [*told.seats, head.stamp, told.recording.name]
    if head.parent is not None:
        said.append(f"goes on from {head.parent.name} at {minutes(head.parent.step / head.steps_per_s)}")
    sheet.write("; ".join(one for one in said if one), size=7.5, gray=True)
    sheet.write(told.heading, size=9.5, bold=True, gap_mm=0.5)
    sheet.write(told.first_fault, size=9.5, gap_mm=1.5)
    if told.next_time:
        sheet.write(told.next_time, size=9.5, gap_mm=1.5)
    for note in told.recording.notes:
        sheet.write(f"Note: {note}.", size=7.5)
    sheet.rule(heavy=True)


def _write_findings(sheets: list[Sheet], told: Debrief, run: str) -> None:
    sheet = fresh(sheets, 30.0)
    sheet.write(f"{run}what went wrong", size=10.0, bold=True)
    if not told.findings:
        sheet.write("No reading passed a limit, and nothing was met.")
        return
    titles = tuple(column.title for column in FINDINGS)
    sheet.row(FINDINGS, titles, bold=True)
    for one in told.printed:
        cells = (str(one.number), minutes(one.time_s), one.level, f"{one.who}: {one.what}", one.why)
        if one.level == "incident":
            cells = (*cells[:3], one.what, one.why)
        needed = max(len(lines_of(cell, column.width_mm, 7.5)) for column, cell in zip(FINDINGS, cells, strict=True))
        sheet = fresh(sheets, needed * height_mm(7.5) + 2.0)
        sheet.row(FINDINGS, cells, bold=one.level == "incident")
    if len(told.findings) > len(told.printed):
        left = len(told.findings) - len(told.printed)
        sheet.write(f"{left} findings less grave or later are not printed; a debrief without a page tells all.")
    sheet.rule()


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
        cells = [cell for told, table in zip(runs, tables, strict=True) for cell in _cells(told, table.get(label))]
        sheet.row(tuple(columns), (label, *cells))
    sheet.rule()


def _cells(told: Debrief, row: WorstRow | None) -> list[str]:
    """A cell a seat; the load's own value stands in the first of them."""
    found = [] if row is None else list(row.cells)
    return found + [""] * (len(told.seats) - len(found))


def _write_course(sheets: list[Sheet], told: Debrief, run: str) -> None:
    if not told.course:
        return
    said = "; ".join(f"{minutes(time_s)} {cut_to(words, STOP_LETTERS)}" for time_s, words in told.course[:MOST_STOPS])
    if len(told.course) > MOST_STOPS:
        said += f"; and {len(told.course) - MOST_STOPS} more"
    account = told.recording.ending.account if told.recording.ending else ()
    fresh(sheets, 10.0 + 2.0 * height_mm(7.5)).write(f"{run}course of the lift", size=10.0, bold=True)
    for line in lines_of(said, sheets[-1].inside_mm, 7.5):
        fresh(sheets, height_mm(7.5)).write(line, size=7.5, gap_mm=0.0)
    for line in account_lines(account, told.amounts):
        fresh(sheets, 2.0 * height_mm(7.5)).write(line, size=7.5, gap_mm=0.3)


def fresh(sheets: list[Sheet], needed_mm: float) -> Sheet:
    """The last sheet, or a new one if there is too little room."""
    if sheets[-1].left_mm < needed_mm:
        sheets.append(Sheet(sheets[-1].paper))
    return sheets[-1]

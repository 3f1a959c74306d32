"""The page of many rehearsals: how often each limit was kept, times, used parts of limits, the worst draws."""

from __future__ import annotations

from io import BytesIO
from math import isfinite
from pathlib import Path

import numpy as np
from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.ticker import MaxNLocator

from simulator.files.writing import REHEARSALS, write_whole
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.tally import spread
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief_pages import SETTINGS
from simulator.report.lift.debrief_telling import fresh
from simulator.report.plan.setup_lines import DECIDES
from simulator.report.rehearsal.rehearsed import Rehearsal
from simulator.report.rehearsal.rehearsed_lines import (
    assumed,
    counts,
    draw_words,
    file_name,
    headline,
    heads_of,
    limit_cells,
    limit_name,
)
from simulator.report.sheet import MARGIN_MM, Column, Sheet, height_mm, lines_of
from simulator.words import say

WIDTHS_MM = (56.0, 16.0, 19.0, 19.0, 15.0, 18.0, 18.0, 18.0)
SMALL = 7.0
TIMES_MM, TIMES_GAP_MM = 34.0, 13.0
LIMIT_MM = 4.2
NAMES_MM = 52.0
MOST_USED = 1.25
"""So much of a limit is drawn; what is past it is an arrow at the edge."""
MOST_BARS = 24
TITLE_MM = 8.0


def write_page(found: Rehearsal, path: Path, amounts: Amounts, *, paper: str = "a4") -> None:
    """Write the page as a PDF; the same rehearsals give the same bytes.

    Args:
        found: what is told.
        path: the file to write.
        amounts: how numbers are written.
        paper: `a4` or `letter`.
    """
    with rc_context(SETTINGS):
        title = say("rehearsal.title", lift=found.lift.title)
        signed = {"CreationDate": None, "Title": title, "Creator": REHEARSALS.mark.decode()}
        whole = BytesIO()
        with PdfPages(whole, metadata=signed) as pages:
            for sheet in sheets_of(found, amounts, paper):
                pages.savefig(sheet.figure)
        write_whole(path, whole.getvalue())


def sheets_of(found: Rehearsal, amounts: Amounts, paper: str) -> list[Sheet]:
    """All sheets, drawn."""
    first = Sheet(paper)
    first.write(say("rehearsal.title", lift=found.lift.title), size=13.0, bold=True, gap_mm=0.5)
    for line in headline(found):
        first.write(line, size=9.5, bold=True, gap_mm=0.5)
    first.rule(heavy=True)
    for line in counts(found, amounts):
        first.write(line, size=7.5, gap_mm=0.3)
    first.y_mm += 2.0
    _kept(first, found, amounts)
    sheets = [first]
    _times(fresh(sheets, TIMES_MM + TIMES_GAP_MM + TITLE_MM), found)
    _used(fresh(sheets, LIMIT_MM * len(found.tally.limits) + 2.0 * TITLE_MM), found)
    worst = [f"{file_name(row)}: {draw_words(found, row, amounts)}" for row in found.tally.worst]
    _in_words(sheets, say("rehearsal.page_worst"), worst)
    _in_words(sheets, "", [*assumed(found, amounts), say("rehearsal.interval"), DECIDES])
    for number, sheet in enumerate(sheets, 1):
        sheet.foot(say("program.caution"), say("program.invented"), number, len(sheets))
    return sheets


def _kept(sheet: Sheet, found: Rehearsal, amounts: Amounts) -> None:
    """The table of limits."""
    lefts = [sum(WIDTHS_MM[:place]) for place in range(len(WIDTHS_MM))]
    columns = tuple(Column("", left, width) for left, width in zip(lefts, WIDTHS_MM, strict=True))
    sheet.write(say("rehearsal.page_kept"), size=10.0, bold=True)
    sheet.row(columns, heads_of(), size=SMALL, bold=True)
    for one in found.tally.limits:
        sheet.row(columns, limit_cells(one, amounts), size=SMALL, bold=one.kept.draws < one.kept.of)
    sheet.write(say("rehearsal.one_in_20_is"), size=SMALL, gray=True)


def _times(sheet: Sheet, found: Rehearsal) -> None:
    """A histogram of the times of those that ended as they should."""
    sheet.write(say("rehearsal.page_times"), size=10.0, bold=True)
    axes = sheet.axes(MARGIN_MM + 10.0, sheet.y_mm, sheet.inside_mm - 12.0, TIMES_MM)
    times = [row.time_s / 60.0 for row in found.rows if row.is_good]
    if times:
        bars = max(1, min(MOST_BARS, round(len(times) ** 0.5 * 2.0)))
        axes.hist(times, bins=bars, color="0.75", edgecolor="black", linewidth=0.5)
    axes.set_xlabel(say("rehearsal.page_minutes"), fontsize=SMALL)
    axes.set_ylabel(say("rehearsal.page_count"), fontsize=SMALL)
    axes.yaxis.set_major_locator(MaxNLocator(5, integer=True))
    _plain(axes)
    sheet.y_mm += TIMES_MM + TIMES_GAP_MM


def _used(sheet: Sheet, found: Rehearsal) -> None:
    """A row a limit: what nine of ten draws used of it, the median, the worst."""
    sheet.write(say("rehearsal.page_used"), size=10.0, bold=True, gap_mm=0.5)
    sheet.write(say("rehearsal.page_used_how"), size=SMALL, gray=True)
    shown = [(place, one) for place, one in enumerate(found.tally.limits) if one.kept.of]
    tall_mm = LIMIT_MM * max(1, len(shown))
    axes = sheet.axes(MARGIN_MM + NAMES_MM, sheet.y_mm, sheet.inside_mm - NAMES_MM - 2.0, tall_mm)
    limits = limits_of(found.lift)
    for y, (place, _) in enumerate(shown):
        values = [row.values[place] for row in found.rows if row.values]
        # What a limit of nothing left leaves is infinite; it stands at the edge.
        used = [min(MOST_USED, limits[place].used(value)) for value in values if isfinite(value)]
        _strip(axes, y, used)
    axes.axvline(1.0, color="black", linewidth=1.6)
    axes.set_yticks(range(len(shown)), [limit_name(one) for _, one in shown], fontsize=SMALL, parse_math=False)
    axes.set_ylim(max(1, len(shown)) - 0.5, -0.5)
    axes.set_xlim(0.0, MOST_USED)
    ticks = np.arange(0.0, MOST_USED, 0.25)
    axes.set_xticks(ticks, [f"{100.0 * tick:.0f} %" for tick in ticks])
    _plain(axes)
    sheet.y_mm += tall_mm + 8.0


def _strip(axes: Axes, y: int, used: list[float]) -> None:
    """What one limit was used."""
    of = spread(used)
    axes.plot([of.p5, of.p95], [y, y], color="0.45", linewidth=2.6, solid_capstyle="butt")
    axes.plot([of.median], [y], marker="|", color="black", markersize=6.0)
    marker = ">" if of.most >= MOST_USED else "o"
    axes.plot([of.most], [y], marker=marker, color="black", markersize=3.2, clip_on=False)


def _plain(axes: Axes) -> None:
    axes.tick_params(labelsize=SMALL, length=2.0, width=0.4)
    for name, spine in axes.spines.items():
        spine.set_visible(name in ("left", "bottom"))
        spine.set_linewidth(0.4)


def _in_words(sheets: list[Sheet], title: str, lines: list[str]) -> None:
    """Paragraphs, on as many sheets as they take."""
    for place, line in enumerate(lines):
        needed = len(lines_of(line, sheets[-1].inside_mm, SMALL)) * height_mm(SMALL)
        sheet = fresh(sheets, needed + (TITLE_MM if place == 0 else 1.0))
        if place == 0 and title:
            sheet.write(title, size=10.0, bold=True)
        sheet.write(line.strip(), size=SMALL, gap_mm=0.4)
    sheets[-1].y_mm += 3.0

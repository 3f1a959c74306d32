"""The pages of a debrief: what happened, then charts, then views; all that needs matplotlib is reached from here."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

from matplotlib import rc_context
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path

from simulator.files.writing import PAGE, write_whole
from simulator.report.lift.debrief import Debrief
from simulator.report.lift.debrief_strips import draw_strips, strips, top_of
from simulator.report.lift.debrief_telling import telling
from simulator.report.lift.debrief_views import draw_column, draw_three, spans_of
from simulator.report.sheet import AS_TEXT, MARGIN_MM, MM_PER_INCH, POINTS_PER_INCH, Sheet

GAP_MM = 6.0
RUN_SIZE = 8.0
HAND_LABELS_MM = 17.0
"""Room left of the charts for their names."""
SETTINGS: dict[Any, Any] = {
    **AS_TEXT,
    "pdf.fonttype": 42,
    "font.family": "DejaVu Sans",
    "hatch.linewidth": 0.35,
}


def write_pdf(
    told: Debrief,
    path: Path,
    *,
    caution: str,
    invented: str,
    other: Debrief | None = None,
    paper: str = "a4",
    progress: Callable[[float], object] = float,
) -> None:
    """The printable page: findings and worst values, charts on one time axis, path of load and tips.

    Args:
        told: the lift.
        path: a PDF file.
        caution: the program's caution, on every page.
        invented: the note that the data is invented.
        other: a second lift, laid beside the first.
        paper: `a4` or `letter`.
        progress: told which part is done, 0 to 1.
    """
    with rc_context(SETTINGS):
        sheets = sheets_of(told, other, caution=caution, invented=invented, paper=paper)
        # No date in it: the same lift gives the same page.
        signed = {"CreationDate": None, "Title": f"Debrief: {told.title}", "Creator": PAGE.mark.decode()}
        whole = BytesIO()
        with PdfPages(whole, metadata=signed) as pages:
            for number, sheet in enumerate(sheets, 1):
                pages.savefig(sheet.figure)
                progress(number / len(sheets))
        write_whole(path, whole.getvalue())


def sheets_of(told: Debrief, other: Debrief | None, *, caution: str, invented: str, paper: str) -> list[Sheet]:
    """All pages, drawn; charts and views where anything was saved.

    Args:
        told: the lift.
        other: a second one, laid beside it.
        caution: the program's caution, on every page.
        invented: the note that the data is invented.
        paper: of `PAPERS_MM`.
    """
    runs = (told,) if other is None else (told, other)
    sheets = telling(runs, paper)
    if all(told.worst for told in runs):
        sheets += [_charts(runs, paper), _views(runs, paper)]
    for number, sheet in enumerate(sheets, 1):
        sheet.foot(caution, invented, number, len(sheets))
    return sheets


def _charts(runs: tuple[Debrief, ...], paper: str) -> Sheet:
    sheet = Sheet(paper)
    sheet.write("Readings, limits and hands on one time axis", size=10.0, bold=True, gap_mm=0.5)
    sheet.write(
        "Light band: past the caution limit; hatched: past the stop limit. Numbers: findings (black: stop or incident; "
        "white: caution). Hands: black is the first word of a label, gray the second; the higher, the faster.",
        size=6.5,
        gray=True,
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
        "Thick line: the load, its crosses carry the time. Black with dots: the first unit's tip; gray dashes with "
        "squares: the second unit's. Thin straight lines: from tip to hook at the numbered findings. Boxes: the units, "
        "and the trailer's outline at start (dashed) and end.",
        size=6.5,
        gray=True,
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
    bold, room = (
        FontProperties(family="DejaVu Sans", weight="bold", size=size),
        width_mm / MM_PER_INCH * POINTS_PER_INCH,
    )

    def is_too_wide(words: str) -> bool:
        return bool(text_to_path.get_text_width_height_descent(words, bold, False)[0] > room)

    if not is_too_wide(text):
        return text
    most = bisect_left(range(2, len(text)), True, key=lambda letters: is_too_wide(f"{text[:letters]}..."))
    return f"{text[: most + 1].rstrip()}..."


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

"""A plan sheet to print: verdict, two views, stations, what governs, rigging, cautions, names; a turn on a page 2."""

from __future__ import annotations

from io import BytesIO
from math import degrees
from pathlib import Path
from typing import Any

from simulator.files.writing import SHEET, write_whole
from simulator.plan.findings import ORDER, Verdict
from simulator.plan.judged_station import StationCheck
from simulator.plan.rigging_list import EndRigging
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import station_name, unit_names, worth_showing
from simulator.report.plan.sheet_columns import LEFT, RIGHT, left_column, right_column, text
from simulator.report.plan.sheet_turn import draw_turn
from simulator.report.plan.sheet_views import INK, PALE, RED, draw_plan, draw_side
from simulator.report.plan.sheet_weighing import draw_weighing
from simulator.report.sheet import AS_TEXT

WIDTH_IN, HEIGHT_IN = 8.27, 11.69
"""A4; prints on letter paper at 94 %."""
VERDICTS: dict[Verdict, str] = {
    "limit passed": "A LIMIT IS PASSED",
    "not judged": "NOT JUDGED",
    "no limit passed": "No stated limit is passed*",
}
"""None of them is in green: the sheet permits nothing."""
MOST_ROWS = 8
FIRST_SIGNER, LAST_SIGNERS = "Lift director (qualified person)", ("Rigger", "Signal person")


def write_sheet(
    check: SetupCheck,
    path: Path,
    amounts: Amounts,
    caution: str,
    *,
    rigging: tuple[EndRigging, ...] | None = None,
) -> None:
    """Write the sheet as a PDF (or what else the file's ending says).

    Args:
        check: the set-up, judged.
        path: the file to write.
        amounts: how numbers are written.
        caution: the program's caution, printed at the foot.
        rigging: the rigging list, if there is one.
    """
    from matplotlib import rc_context

    with rc_context(AS_TEXT):
        first = _page()
        _draw(first, check, amounts, caution, rigging)
        picture = BytesIO()
        ending = path.suffix.lower().removeprefix(".")
        if ending == "pdf" and check.turn is not None:
            second = _page()
            draw_turn(second, check, amounts, caution)
            _save_pages(picture, (first, second))
        else:
            first.savefig(picture, format=ending, metadata=_metadata(ending))
    write_whole(path, picture.getvalue())


def _page() -> Any:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH_IN, HEIGHT_IN))
    FigureCanvasAgg(figure)
    return figure


def _save_pages(picture: BytesIO, pages: tuple[Any, ...]) -> None:
    """A PDF of several pages."""
    from matplotlib.backends.backend_pdf import PdfPages

    with PdfPages(picture, metadata=_metadata("pdf")) as pdf:
        for page in pages:
            pdf.savefig(page)


def _draw(
    figure: Any,
    check: SetupCheck,
    amounts: Amounts,
    caution: str,
    rigging: tuple[EndRigging, ...] | None,
) -> None:
    _head(figure, check, amounts)
    side, plan = figure.add_axes((LEFT, 0.665, 0.445, 0.235)), figure.add_axes((0.505, 0.665, 0.445, 0.235))
    draw_side(side, check, amounts)
    draw_plan(plan, check, amounts)
    _stations(figure, check, amounts)
    draw_weighing(figure, check, amounts)
    lists = rigging or ()
    left_column(figure, check, amounts, lists[0] if lists else None)
    right_column(figure, check, amounts, lists[-1] if len(lists) > 1 else None)
    _signatures(figure, check)
    _foot(figure, check, caution)


def _metadata(ending: str) -> dict[str, Any]:
    """No date in the file: the same set-up gives the same sheet. Its mark tells that it may be renewed."""
    mark = SHEET.mark.decode()
    by_ending: dict[str, dict[str, Any]] = {
        "pdf": {"CreationDate": None, "Title": "Plan sheet", "Creator": mark},
        "png": {"Software": mark},
        "svg": {"Date": None, "Title": "Plan sheet", "Creator": mark},
    }
    return by_ending[ending]


def _head(figure: Any, check: SetupCheck, amounts: Amounts) -> None:
    text(figure, LEFT, 0.978, "Plan sheet", 8.0, weight="bold")
    text(figure, LEFT, 0.964, amounts.told(check.description.title), 14.0, weight="bold")
    text(figure, LEFT, 0.941, "Invented demo data. " if check.description.invented else "", 7.0)
    ink = INK if check.verdict == "no limit passed" else RED
    box = {"boxstyle": "square,pad=0.45", "facecolor": "white", "edgecolor": ink, "linewidth": 1.6}
    text(figure, RIGHT, 0.966, VERDICTS[check.verdict], 10.0, weight="bold", color=ink, ha="right", bbox=box)
    text(figure, LEFT, 0.917, "Side view from the ravine (on the bed: dashed)", 8.0, weight="bold")
    words = f"Plan (on the bed and landed: dashed); most on each float, {amounts.load_unit}"
    text(figure, 0.505, 0.917, words, 8.0, weight="bold")


COLUMNS = (
    "",
    "unit",
    "boom",
    "elev.",
    "slew",
    "reach",
    "load",
    "cap.",
    "floats TR / TV / CR / CV",
    "least",
    "grnd",
    "head",
    "rope",
)
PLACES = (0.0, 0.155)
"""Left edges of the first two columns; then right edges of all."""
ENDS = (0.0, 0.155, 0.26, 0.325, 0.395, 0.46, 0.52, 0.575, 0.745, 0.79, 0.835, 0.89, 0.945)


def _stations(figure: Any, check: SetupCheck, amounts: Amounts) -> None:
    top, step = 0.654, 0.0098
    unit = amounts.length_unit
    units = (
        "",
        "",
        unit,
        "deg",
        "deg",
        unit,
        amounts.load_unit,
        "%",
        amounts.load_unit,
        "%",
        "%",
        unit,
        f"left {unit}",
    )
    for names, y in ((COLUMNS, top), (units, top - step)):
        _cells(figure, names, y, weight="bold")
    y = top - 2.1 * step
    for one in _rows(check):
        for end in range(len(one.units)):
            _cells(figure, _row(one, end, unit_names(check)[end], amounts), y)
            y -= step
        _rule(figure, y + 0.0008)
        y -= 0.15 * step
    words = "T tailboard end, C cab end; R road side, V ravine side. least: lightest float, of its resting load. "
    text(figure, LEFT, y - 0.001, words + "grnd: ground bearing used.", 6.2)


def _rule(figure: Any, y: float) -> None:
    from matplotlib.lines import Line2D

    figure.add_artist(Line2D([LEFT, RIGHT], [y, y], color=PALE, linewidth=0.6))


def _rows(check: SetupCheck) -> list[StationCheck]:
    """As many as fit: the worst always, then evenly over the rest."""
    shown = list(worth_showing(check))
    if len(shown) <= MOST_ROWS:
        return shown
    keep = {0, 1, len(shown) - 2, len(shown) - 1}
    keep |= {i for i, one in enumerate(shown) if one.station.phase == "over the tailboards"}
    ranked = sorted(range(len(shown)), key=lambda i: -max(ORDER[r.level] for r in shown[i].readings))
    for i in ranked:
        if len(keep) >= MOST_ROWS:
            break
        keep.add(i)
    return [shown[i] for i in sorted(keep)]


def _cells(figure: Any, cells: tuple[str, ...], y: float, **more: Any) -> None:
    for i, cell in enumerate(cells):
        left = i < 2
        x = LEFT + 0.9 * (PLACES[i] if left else ENDS[i]) / 0.945
        text(figure, x, y, cell, 7.3, ha="left" if left else "right", **more)


def _row(one: StationCheck, end: int, unit: str, amounts: Amounts) -> tuple[str, ...]:
    stand = one.units[end]
    length, elevation, slew = stand.pose
    return (
        station_name(one.station.name, amounts) if end == 0 else "",
        unit,
        f"{amounts.length(length):.1f}",
        f"{degrees(elevation):.1f}",
        f"{degrees(slew):.1f}",
        f"{amounts.length(stand.reach_m):.1f}",
        f"{amounts.load(stand.pull.load_N):.1f}",
        f"{100.0 * stand.capacity.used:.0f}",
        " / ".join(f"{amounts.load(reaction):.1f}" for reaction in stand.floats.reactions_N),
        f"{100.0 * stand.floats.lightest_share:.0f}",
        f"{100.0 * stand.floats.bearing_used:.0f}",
        f"{amounts.length(min(line.head_room_m for line in stand.lines)):.2f}",
        f"{amounts.length(min(line.rope_left_m for line in stand.lines)):.1f}",
    )


def _signatures(figure: Any, check: SetupCheck) -> None:
    from matplotlib.lines import Line2D

    operators = [f"{name.capitalize()} unit operator" for name in unit_names(check)]
    signers = (FIRST_SIGNER, *operators, *LAST_SIGNERS)
    y = 0.088
    text(
        figure,
        LEFT,
        y,
        "Decided by (name, signature, date and time). Nothing is lifted on this sheet alone.",
        6.5,
        weight="bold",
    )
    width = (RIGHT - LEFT) / len(signers)
    for i, who in enumerate(signers):
        x = LEFT + i * width
        figure.add_artist(Line2D([x, x + width - 0.012], [0.046, 0.046], color=INK, linewidth=0.7))
        text(figure, x, 0.044, who, 7.0)


def _foot(figure: Any, check: SetupCheck, caution: str) -> None:
    from matplotlib.lines import Line2D

    figure.add_artist(Line2D([LEFT, RIGHT], [0.03, 0.03], color=PALE, linewidth=0.8))
    text(figure, LEFT, 0.026, caution, 6.8)

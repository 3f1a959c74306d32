"""The plan sheet's second page, where the load is turned over in the air: every 5 degrees of the turn."""

from __future__ import annotations

from typing import Any

from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.sheet_columns import LEFT, RIGHT, text
from simulator.report.plan.sheet_views import PALE
from simulator.report.plan.turn_lines import NOTES, turn_cells, turn_ends, turn_heads

TOP, STEP = 0.90, 0.0150
SIZE = 8.5
HANDS = (
    "Line 1 out and line 2 in, the same speed, every unit together. Anyone may call stop.",
    "Stop 5 degrees before it stands as it is set down, let it settle, then the rest slowly.",
    "Yaw tells that an end is ahead: stop that end until the other has come up.",
    "A line that goes slack: stop. Pay out no more; turn back, line 1 in and line 2 out.",
)
"""Common practice, no source."""


def draw_turn(figure: Any, check: SetupCheck, amounts: Amounts, caution: str) -> None:
    """The table, how far it goes, and how it is done.

    Args:
        figure: an empty page.
        check: with a turn.
        amounts: how numbers are written.
        caution: the program's caution, printed at the foot.
    """
    assert check.turn is not None
    text(figure, LEFT, 0.978, "Plan sheet, page 2: turning it over in the air", 8.0, weight="bold")
    text(figure, LEFT, 0.964, amounts.told(check.description.title), 14.0, weight="bold")
    text(figure, LEFT, 0.941, "Invented demo data. " if check.description.invented else "", 7.0)
    words = f"At rest every 5 degrees, by stated numbers; loads along each line, {amounts.load_unit}"
    text(figure, LEFT, 0.922, words, 8.0, weight="bold")
    y = TOP
    for row in turn_heads(check, amounts):
        _cells(figure, row, y, weight="bold")
        y -= STEP
    for one in check.turn.stations:
        _rule(figure, y + 0.0015)
        _cells(figure, turn_cells(one, check.description, check.load, amounts), y)
        y -= STEP
    for words in (*NOTES, *turn_ends(check.turn), "", *HANDS):
        text(figure, LEFT, y - 0.004, words, 7.5)
        y -= 0.9 * STEP
    text(figure, LEFT, 0.026, caution, 6.8)


def _cells(figure: Any, cells: tuple[str, ...], y: float, **more: Any) -> None:
    """A row: the first column at the left, the others by their right edges."""
    width = (RIGHT - LEFT) / len(cells)
    for i, cell in enumerate(cells):
        text(figure, LEFT + (i + 1) * width * 0.98, y, cell, SIZE, ha="right", **more)


def _rule(figure: Any, y: float) -> None:
    from matplotlib.lines import Line2D

    figure.add_artist(Line2D([LEFT, RIGHT], [y, y], color=PALE, linewidth=0.5))

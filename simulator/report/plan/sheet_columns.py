"""The plan sheet's two columns of text: what governs, what to change, cautions, rigging of either end."""

from __future__ import annotations

from math import degrees
from textwrap import wrap
from typing import Any

from simulator.plan.findings import ORDER, Finding
from simulator.plan.rigging_list import Chosen, EndRigging
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.exit_lines import exit_lines
from simulator.report.plan.setup_lines import missing_words, station_name, told
from simulator.report.plan.sheet_views import INK, RED, font
from simulator.scenario.hardware import MARK_WORDS

LEFT, MIDDLE, RIGHT = 0.05, 0.53, 0.95
TOP, BOTTOM = 0.385, 0.096
LINE = 0.0093
WIDEST_RIGGING = 84
"""Letters in a line of a column."""
MOST_TOLD = 6
"""Findings told in full; the sheet says how many more there are."""
CAUTIONS = (
    "Static and from stated numbers: no sway, no jerk, no sinking ground. Weigh it, probe it, test-lift it.",
    "Nobody under the load, between load and slope, or within reach of a line that may part.",
    "Anyone may call stop; every unit stops for a stop from anyone.",
    "First stop a hand's breadth off the bed: look at every float, line angle, sling and load figure before going on.",
)


def text(figure: Any, x: float, y: float, words: str, size: float = 7.0, **more: Any) -> None:
    """Words hanging from a place of the page."""
    bold = more.pop("weight", "") == "bold"
    figure.text(x, y, words, **{"fontproperties": font(size, bold=bold), "color": INK, "va": "top", **more})


def left_column(figure: Any, check: SetupCheck, amounts: Amounts, rigging: EndRigging | None) -> None:
    """The worst of each quantity, whichever unit it is at; then the nose end's rigging."""
    y = TOP
    text(figure, LEFT, y, "What governs", 8.0, weight="bold")
    text(figure, LEFT + 0.235, y, "worst", ha="right", weight="bold")
    text(figure, LEFT + 0.30, y, "stop at", ha="right", weight="bold")
    text(figure, LEFT + 0.31, y, "where", weight="bold")
    y -= 0.0125
    rows = _governs(check)
    room = int((y - BOTTOM) / LINE)
    for one in rows if len(rows) <= room else rows[: room - 1]:
        _row(figure, y, one, amounts)
        y -= LINE
    if len(rows) > room:
        text(figure, LEFT, y, f"and {len(rows) - room + 1} more, all farther from their limits: slopepick check")
        y -= LINE
    if rigging is not None:
        _rigging(figure, LEFT, y - 0.004, rigging, amounts)


def _governs(check: SetupCheck) -> list[Finding]:
    """The worst of each quantity, those past a limit first, then by what is left."""
    seen: dict[str, Finding] = {}
    for one in sorted(check.findings, key=lambda each: (-ORDER[each.level], each.reading.margin)):
        if not (one.reading.code in ("two-unit mark", "share") and one.level == "good"):
            seen.setdefault(one.reading.code, one)
    return list(seen.values())


def _row(figure: Any, y: float, one: Finding, amounts: Amounts) -> None:
    reading, ink = one.reading, RED if one.level == "stop" else INK
    mark = {"good": "", "caution": "CAUTION ", "stop": "STOP "}[one.level]
    limit = amounts.text(reading.caution if reading.code == "two-unit mark" else reading.stop, reading.kind)
    text(figure, LEFT, y, f"{mark}{reading.name}", color=ink)
    text(figure, LEFT + 0.235, y, amounts.text(reading.value, reading.kind), ha="right", color=ink)
    text(figure, LEFT + 0.30, y, limit, ha="right")
    text(figure, LEFT + 0.31, y, f"{reading.who.split()[0]}, {station_name(one.where, amounts)}")


def right_column(figure: Any, check: SetupCheck, amounts: Amounts, rigging: EndRigging | None) -> None:
    """What to change, cautions; then the tail end's rigging."""
    y = TOP
    text(figure, MIDDLE, y, "Cautions" if check.within_limits else "To change", 8.0, weight="bold")
    y -= 0.0125
    found = [one for one in check.findings if one.level != "good"]
    for one in found[:MOST_TOLD]:
        y = _paragraph(figure, y, f"{one.level.upper()}: {told(one, amounts)}", RED if one.level == "stop" else INK)
    if len(found) > MOST_TOLD:
        y = _paragraph(figure, y, f"And {len(found) - MOST_TOLD} more: see slopepick check.", RED)
    for missing in check.not_judged:
        y = _paragraph(figure, y, f"NOT JUDGED: {missing_words(missing)}", RED)
    for words in exit_lines(check, amounts):
        y = _paragraph(figure, y, words.strip(), INK)
    y = _paragraph(figure, y, f"* By these assumptions: {amounts.told('; '.join(check.assumptions))}.", INK)
    for words in CAUTIONS:
        y = _paragraph(figure, y, words, INK)
    if rigging is not None:
        _rigging(figure, MIDDLE, y - 0.004, rigging, amounts)


def _paragraph(figure: Any, y: float, words: str, ink: str) -> float:
    """Wrapped words; returns where the next ones begin."""
    for i, line in enumerate(wrap(words, 96)):
        text(figure, MIDDLE + (0.0 if i == 0 else 0.008), y, line, 6.6, color=ink)
        y -= LINE
    return y - 0.001


def _rigging(figure: Any, x: float, y: float, one: EndRigging, amounts: Amounts) -> None:
    """As many lines as there is room for; what is left out is said."""
    end = one.line.replace("_", " line ").capitalize()
    angle, each = f"{degrees(one.leg.angle_rad):.0f} deg from horizontal", amounts.text(one.leg.tension_N, "N")
    lines = [f"{amounts.text(one.hook_load_N, 'N')} at the hook; {one.legs} leg(s) at {angle}, {each} each"]
    lines += [f"REFUSED: {words}" for words in one.refused]
    lines += [f"edge protection: {edge}" for edge in one.edges]
    lines += [f"{piece.role}: {piece.held.piece.name}, {_used(piece)} ({piece.held.mark})" for piece in one.pieces]
    marks = sorted({piece.held.mark for piece in one.pieces})
    lines += wrap("; ".join(f"{mark}: {MARK_WORDS[mark]}" for mark in marks), WIDEST_RIGGING)
    room = int((y - 0.0125 - BOTTOM) / LINE)
    if room < 1:
        return
    if len(lines) > room:
        lines = [*lines[: room - 1], "the rest: slopepick rigging"]
    text(figure, x, y, f"{end} end rigging: smallest sizes that hold", 8.0, weight="bold")
    for i, words in enumerate(lines):
        text(figure, x, y - 0.0125 - i * LINE, words, 6.6)


def _used(piece: Chosen) -> str:
    if piece.held.holds:
        return f"{100.0 * piece.held.used:.0f} % used"
    return f"REFUSED, next that holds {piece.held.next_size.size if piece.held.next_size else 'none'}"

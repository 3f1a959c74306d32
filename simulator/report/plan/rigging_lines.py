"""The rigging list as lines of text and as plain values."""

from __future__ import annotations

from math import degrees
from typing import Any

from simulator.plan.rigging_list import MARGINS, Chosen, EndRigging, fails
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_json import finite
from simulator.report.plan.setup_lines import station_name
from simulator.scenario.hardware import MARK_WORDS

TAG = "The tag on a piece goes before any table; what has no readable tag, or is cut, bent or worn, is not used."
WRAPS = (
    "Two full wraps stay on each drum, for load and for boom rope (29 CFR 1926.1417(t)), or as many more as its maker "
    "asks for (wraps_to_stay); rope left does not count them."
)


def rigging_lines(ends: tuple[EndRigging, ...], amounts: Amounts) -> list[str]:
    """Both ends: what the legs do, the sizes that hold with their used share, edges, refusals."""
    lines: list[str] = []
    for one in ends:
        lines += [*_head(one, amounts), *(_row(piece, one, amounts) for piece in one.pieces), *_notes(one), ""]
    marks = sorted({piece.held.mark for one in ends for piece in one.pieces})
    lines.append("marks: " + "; ".join(f"{mark} {MARK_WORDS[mark]}" for mark in marks))
    sources = {piece.held.piece.table: piece.source for one in ends for piece in one.pieces}
    return [*lines, *(f"  {name}: {source}" for name, source in sources.items()), MARGINS, TAG, WRAPS]


def _head(one: EndRigging, amounts: Amounts) -> list[str]:
    end = one.line
    legs = "one leg" if one.legs == 1 else f"two legs {amounts.text(one.width_m, 'm')} apart"
    return [
        f"{end} end: {amounts.text(one.hook_load_N, 'N')} at the hook "
        f"(worst: {station_name(one.where, amounts)}), {legs}, "
        f"{amounts.text(one.height_m, 'm')} high",
        f"  each leg: {degrees(one.leg.angle_rad):.1f} deg from horizontal, {amounts.text(one.leg.length_m, 'm')} "
        f"long, {amounts.text(one.leg.tension_N, 'N')}; presses inward with {amounts.text(one.leg.level_N, 'N')}",
    ]


def _row(piece: Chosen, end: EndRigging, amounts: Amounts) -> str:
    held = piece.held
    word = "holds" if held.holds else "REFUSED" if fails(piece, end.pieces) else "does not hold"
    used = f"{100.0 * held.used:.0f} %" if finite(held.used) is not None else "none"
    needs = amounts.text(held.needed_N, "N")
    return f"  {piece.role:<44}{held.piece.name:<30}{needs:>9}{used:>7} used  {held.mark}  {word}"


def _notes(one: EndRigging) -> list[str]:
    edges = [f"  edge protection: {edge}" for edge in one.edges] or ["  edge protection: no leg bears on an edge"]
    missing = [f"  NOT JUDGED: {each.missing}; needs {each.needs}" for each in one.missing]
    return [*edges, *missing, *(f"  REFUSED: {text}" for text in one.refused)]


def rigging_json(ends: tuple[EndRigging, ...]) -> list[dict[str, Any]]:
    """Everything of the list, SI."""
    return [
        {
            "end": one.line,
            "hook_load_N": one.hook_load_N,
            "worst_at": one.where,
            "width_m": one.width_m,
            "height_m": one.height_m,
            "legs": one.legs,
            "leg_angle_rad": one.leg.angle_rad,
            "leg_tension_N": one.leg.tension_N,
            "pieces": [_piece(piece) for piece in one.pieces],
            "edge_protection": list(one.edges),
            "refused": list(one.refused),
            "not_judged": [each._asdict() for each in one.missing],
        }
        for one in ends
    ]


def _piece(piece: Chosen) -> dict[str, Any]:
    held = piece.held
    return {
        "role": piece.role,
        "piece": held.piece.name,
        "needed_N": held.needed_N,
        "allowed_N": held.allowed_N,
        "used": finite(held.used),
        "holds": held.holds,
        "next_size": held.next_size.name if held.next_size else None,
        "mark": held.mark,
        "source": piece.source,
    }
